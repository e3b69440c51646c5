//! The documented example, and slips told in words.

use super::*;
use crate::units::{Day, Grams};

/// The example of the module's page.
pub(super) fn example() -> Problem {
    let page = include_str!("mod.rs");
    let page: String =
        page.lines().map(|line| format!("{}\n", line.trim_start_matches("//! "))).collect();
    let json = page.split("```").nth(1).expect("the page has an example");
    Problem::parse(json.trim_start_matches("json")).expect("the example reads")
}

fn quiet(problem: &Problem) -> Result<Plan, PlanError> {
    solve(problem, Effort::default(), &mut |_| ())
}

#[test]
fn the_page_s_example_is_planned() {
    let problem = example();
    let plan = quiet(&problem).expect("a plan");
    assert_eq!(plan.days.len(), 14);
    assert!(plan.kept_grams > Grams(10_000), "{plan:?}");
    let pinned: Vec<_> =
        plan.days.iter().flat_map(|day| &day.batches).filter(|b| b.pinned).collect();
    assert_eq!(pinned.len(), 1);
    assert_eq!(pinned[0].grams, Grams(6_000));
    assert_eq!(pinned[0].day, Day::from_ymd(2026, 10, 17).expect("a day"));
    assert!(pinned[0].why.starts_with("Pinned by you."), "{}", pinned[0].why);
    assert!(plan.days[2].batches.iter().all(|batch| batch.method.as_str() != "sauce"), "dropped");
}

#[test]
fn a_plan_reads_back() {
    let plan = quiet(&example()).expect("a plan");
    let json = serde_json::to_string(&plan).expect("writes");
    assert_eq!(serde_json::from_str::<Plan>(&json).expect("reads"), plan);
}

#[test]
fn a_field_nobody_knows_is_told() {
    let text = r#"{"today": "2026-10-12", "lots": [], "methods": [], "dayz": 3}"#;
    let told = Problem::parse(text).expect_err("refused").to_string();
    assert!(told.contains("unknown field `dayz`") && told.contains("line 1"), "{told}");
}

#[test]
fn a_slip_is_told_with_what_to_write_instead() {
    type Slip = fn(&mut Problem);
    let slips: [(Slip, &str); 8] = [
        (|p| p.days = 40, "ask for 1 to 28"),
        (|p| p.lots[0].rooms.clear(), "lot A stands nowhere"),
        (|p| p.lots.push(p.lots[0].clone()), "lot A is there twice"),
        (|p| p.lots[0].waiting_grams = Grams(-5), "waiting_grams cannot be -5"),
        (|p| p.methods[0].weight = f64::NAN, "weight cannot be NaN"),
        (
            |p| p.pins[0].method = "jam".into(),
            "there is no method jam; it must be one of sauce, frozen",
        ),
        (|p| p.pins[0].day = p.today.plus(14), "is not within the plan's days"),
        (|p| p.pins[0].grams = Some(Grams(600_000)), "cannot be made"),
    ];
    for (slip, words) in slips {
        let mut problem = example();
        slip(&mut problem);
        let told = quiet(&problem).expect_err("refused").to_string();
        assert!(told.contains(words), "{told}");
    }
}

#[test]
fn nothing_to_plan_is_an_empty_plan() {
    let problem = Problem::parse(r#"{"today": "2026-10-12", "lots": [], "methods": []}"#);
    let plan = quiet(&problem.expect("reads")).expect("a plan");
    assert!(plan.days.iter().all(|day| day.batches.is_empty()));
    assert_eq!((plan.kept_grams, plan.gap), (Grams::ZERO, None));
}
