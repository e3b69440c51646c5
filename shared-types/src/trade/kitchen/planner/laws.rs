//! Laws of every plan, on random problems, held by the [`audit`] that adds everything up again.

use proptest::prelude::*;
use serde_json::json;

use super::*;

/// Random kitchens by a seed: small, and full of odd things.
fn problem(seed: u64) -> Problem {
    let mut state = seed;
    let mut dice = move |least: i64, most: i64| {
        // Knuth's MMIX: any stream will do.
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        least + ((state >> 33) % (most - least + 1) as u64) as i64
    };
    let days = dice(1, 7);
    let lots: Vec<_> = (0..dice(0, 5))
        .map(|at| {
            let (crop, class) = [("tomato", "ripe"), ("tomato", "green"), ("tomato", "colouring"), ("pepper", "ripe")]
                [dice(0, 3) as usize];
            let uses = [vec!["jar", "freeze", "dry", "fresh", "feed"], vec!["freeze", "fresh"], vec!["feed"], vec![]]
                [dice(0, 3) as usize]
                .clone();
            let rooms: Vec<_> = (0..dice(1, 3))
                .map(|room| {
                    let ready: Vec<i64> = (0..dice(0, 8)).map(|_| dice(0, 1) * dice(0, 9_000)).collect();
                    json!({"room": format!("R{room}"), "ready_grams": ready, "keeps_days": dice(0, 4)})
                })
                .collect();
            let mut lot = json!({
                "id": format!("L{at}"), "crop": crop, "class": class, "uses": uses,
                "fitness": format!("F{}", dice(0, 1)), "rooms": rooms,
                "waiting_grams": dice(0, 1) * dice(0, 12_000),
            });
            if dice(0, 1) > 0 {
                lot["standing"] = "R0".into();
            }
            if dice(0, 2) == 0 {
                lot["waiting_keeps_days"] = dice(0, 5).into();
            }
            lot
        })
        .collect();
    let methods: Vec<_> = (0..dice(1, 6))
        .map(|at| {
            let kind =
                ["jar", "jar", "freeze", "dry", "fresh", "feed", "compost"][dice(0, 6) as usize];
            let class = ["ripe", "green"][dice(0, 1) as usize];
            let size = ["quart", "pint"][dice(0, 1) as usize];
            let mut method = json!({
                "id": format!("M{at}"), "kind": kind,
                "takes": [{"crop": "tomato", "classes": [class]}],
                "any": dice(0, 2) == 0, "least_grams": dice(0, 1) * dice(0, 4_000),
                "hands": {"a_batch": dice(0, 60), "a_kg": dice(0, 20), "a_load": dice(0, 5)},
                "burners": {"a_batch": dice(0, 60), "a_load": dice(0, 90)},
                "weight": dice(0, 20) as f64 / 10.0,
            });
            if kind == "jar" {
                method["jar"] =
                    json!({"size": size, "grams": dice(300, 1_500), "a_load": dice(1, 9)});
            }
            if dice(0, 3) == 0 {
                method["evening"] = json!({"a_batch": dice(0, 20), "a_kg": dice(0, 5)});
            }
            for (field, odds) in [("most_grams", 3), ("most_a_day_grams", 3), ("wanted_grams", 2)] {
                if dice(0, odds) == 0 {
                    method[field] = dice(1_000, 9_000).into();
                }
            }
            method
        })
        .collect();
    let drops: Vec<_> = (0..dice(0, 2))
        .map(|_| json!({"method": "M0", "day": format!("2026-10-{}", 12 + dice(0, 3))}))
        .collect();
    let begun: Vec<_> = (0..dice(0, 1)).map(|_| json!({"method": "M0", "day": "2026-10-12", "from": [{"lot": "old", "grams": dice(500, 3_000)}]})).collect();
    let value = json!({
        "today": "2026-10-12", "days": days, "lots": lots, "methods": methods, "drops": drops, "begun": begun,
        "rooms": [{"id": "R1", "holds_grams": dice(10, 60) * 1_000}],
        "a_day": {"hands_minutes": dice(0, 240), "burner_minutes": dice(0, 400), "canner_loads": dice(0, 3),
                  "dryer_grams": dice(0, 4_000), "freezer_grams": dice(0, 6_000)},
        "by_day": {"2026-10-14": {"hands_minutes": dice(0, 400)}},
        "stock": {"freezer_grams": dice(0, 20_000), "jars": {"quart": dice(0, 20)}, "lids": dice(0, 30)},
    });
    Problem::parse(&value.to_string()).expect("a generated problem reads")
}

fn plan(problem: &Problem, nodes: u64) -> Plan {
    solve(problem, Effort { nodes }, &mut |_| ()).expect("a plan")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    /// No limit is exceeded, no unfit fruit is in a jar, every gram is somewhere; and a batch that a
    /// person pins stays where it is when all is planned anew.
    #[test]
    fn a_plan_keeps_every_limit(seed in any::<u64>(), pick in any::<prop::sample::Index>()) {
        let mut problem = problem(seed);
        let first = plan(&problem, 150);
        prop_assert_eq!(audit(&problem, &first), Vec::<String>::new());
        let simple = first_ripe_first(&problem).expect("a plan");
        prop_assert_eq!(audit(&problem, &simple), Vec::<String>::new());
        prop_assert!(first.objective >= simple.objective - 1e-9);

        let batches: Vec<_> = first.days.iter().flat_map(|day| &day.batches).filter(|b| !b.begun).collect();
        if batches.is_empty() {
            return Ok(());
        }
        let batch = pick.get(&batches);
        problem.pins.push(Pin {
            method: batch.method.clone(),
            day: batch.day,
            grams: None,
            lots: batch.from.iter().map(|part| part.lot.clone()).collect(),
        });
        // It was possible; a pin may still lose its lot to the room that the simple rule starts in.
        match solve(&problem, Effort { nodes: 150 }, &mut |_| ()) {
            Ok(again) => prop_assert_eq!(audit(&problem, &again), Vec::<String>::new()),
            Err(PlanError::Impossible { .. }) => {}
            Err(error) => prop_assert!(false, "{}", error),
        }
    }
}

#[test]
fn the_same_problem_has_the_same_plan() {
    let text = |seed| serde_json::to_string(&plan(&problem(seed), 200)).expect("writes");
    for seed in 0..5 {
        assert_eq!(text(seed), text(seed));
    }
}

#[test]
fn more_nodes_are_never_worse() {
    for seed in 20..30 {
        let problem = problem(seed);
        assert!(plan(&problem, 400).objective >= plan(&problem, 30).objective - 1e-9, "{seed}");
    }
}
