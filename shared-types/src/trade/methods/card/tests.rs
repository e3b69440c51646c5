//! What a card keeps: the ratio of acid, the clock, and whole loads.

use proptest::prelude::*;

use super::*;
use crate::trade::methods::{all, method};

const KESTREL: Altitude = Altitude::from_metres(870);

fn ask(grams: i64, when: When) -> CardAsk<'static> {
    CardAsk {
        grams: Grams(grams),
        in_hand: &[],
        jar: None,
        altitude: KESTREL,
        canner: Canner::BoilingWater,
        jars_per_load: None,
        confirmed: &[],
        system: System::Cups,
        when,
    }
}

fn of(id: &str) -> &'static Method {
    method(&id.into()).expect("a method")
}

fn recipes() -> Vec<&'static Method> {
    all().iter().filter(|method| method.base.is_some()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10_000))]

    /// Measured out in spoons or in millilitres, at any scale: for every acid against everything
    /// that dilutes it or slows the heat, the ratio is at least the tested one.
    #[test]
    fn rounding_never_lowers_the_acid(
        at in 0..recipes().len(),
        factor in 0.02f64..40.0,
        metric in any::<bool>(),
    ) {
        let method = recipes()[at];
        let system = if metric { System::Metric } else { System::Cups };
        let parts = parts(method, factor, system);
        for safe in parts.iter().filter(|part| part.role.never_less()) {
            prop_assert!(safe.amount >= safe.exact * (1.0 - 1e-6), "{}: {}", method.id, safe.text);
            prop_assert!(safe.amount <= safe.exact * 1.5 + 0.2, "{}: {}", method.id, safe.text);
            for thin in parts.iter().filter(|part| part.role.never_more()) {
                prop_assert!(thin.amount <= thin.exact * (1.0 + 1e-6), "{}", thin.text);
                // Cross-multiplied, so that nothing measured as none divides.
                let (tested, told) = (safe.exact * thin.amount, safe.amount * thin.exact);
                prop_assert!(told >= tested * (1.0 - 1e-6), "{}: {} / {}", method.id, safe.text, thin.text);
            }
        }
    }

    /// A start and the end it leads to are the same card.
    #[test]
    fn done_by_is_start_at_read_backwards(at in 0..all().len(), grams in 500i64..40_000, begin in -600i32..1440) {
        let method = &all()[at];
        let from = |when| card(method, &ask(grams, when));
        if let Ok(forward) = from(When::StartAt(begin)) {
            prop_assert_eq!(forward.begins, begin);
            let back = from(When::DoneBy(forward.done)).expect("offered as well");
            prop_assert_eq!(&back, &forward);
            for pair in forward.steps.windows(2) {
                prop_assert!(pair[0].ends <= pair[1].begins, "{}", method.id);
            }
        }
    }
}

#[test]
fn the_recipe_as_printed_is_the_card_of_its_own_weight() {
    // Guide 6 (V): 10 lb green tomatoes with 1 qt vinegar, 1/2 cup salt, 4 cups sugar.
    let relish = of("green-tomato-relish");
    let card = card(relish, &ask(4536, When::DayBegins(510))).expect("offered");
    let told: Vec<_> =
        card.parts.iter().map(|part| format!("{} {}", part.text, part.name)).collect();
    assert_eq!(
        told,
        [
            "10 lb small hard green tomatoes",
            "1 lb 8 oz red bell pepper",
            "1 lb 8 oz green bell pepper",
            "2 lb onion",
            "1/2 cup + 1 Tbsp canning salt",
            "4 cups water",
            "4 cups sugar",
            "4 1/4 cups vinegar of 5 %",
            "1/4 cup + 1 Tbsp + 1 tsp yellow mustard",
            "2 Tbsp cornstarch",
        ]
    );
    // 4,536 g is 0.08 g more than 10 lb, and acid is rounded up whatever the crumb; of exactly
    // 10 lb it is the printed quart.
    let exact = parts(relish, 1.0, System::Cups);
    let vinegar = exact.iter().find(|part| part.role == Role::Acid).expect("vinegar");
    assert_eq!(vinegar.text, "4 cups");
    // 7 to 9 pints, in one load; sterile jars at 870 m boil 13 minutes.
    let jars = card.jars.expect("jars");
    assert_eq!((jars.jar, jars.count, jars.fewest, jars.loads), (Jar::Pint, 9, 7, 1));
    assert_eq!(card.offer.expect("an offer").sterile_jar_minutes, Some(13));
}

#[test]
fn what_runs_out_first_limits_the_batch_and_is_named() {
    let relish = of("green-tomato-relish");
    let have = [
        in_hand_ml("vinegar of 5 %", 473.2),
        InHand { name: "onion".to_owned(), amount: 40.0, unit: Unit::Oz },
    ];
    let told = card(relish, &CardAsk { in_hand: &have, ..ask(9_100, When::StartAt(480)) });
    let told = told.expect("offered");
    let limit = told.limit.expect("a limit");
    assert_eq!(limit.what, "vinegar of 5 %");
    // Half a quart, where 9.1 kg, a little over 20 lb, would need two quarts and a little.
    assert!(limit.words.contains("24 %"), "{}", limit.words);
    assert!((told.grams.kg() - 2.268).abs() < 0.001, "{}", told.grams.kg());
    let strange = [
        InHand { name: "cabbage".to_owned(), amount: 1.0, unit: Unit::Lb },
        InHand {
            name: "onion".to_owned(),
            amount: 1.0,
            unit: Unit::Measure(super::super::Measure::Cup),
        },
    ];
    let told = card(relish, &CardAsk { in_hand: &strange, ..ask(9072, When::StartAt(480)) });
    let told = told.expect("offered");
    assert!(told.limit.is_none() && told.notes.len() >= 2, "{:?}", told.notes);
}

#[test]
fn an_overnight_rest_crosses_midnight() {
    // Guide 6 (V): "stand 12 h". The day's work begins at 8:30, so the salt goes in before 20:30.
    let relish = of("mixed-green-relish");
    let told = card(relish, &ask(2160, When::DayBegins(8 * 60 + 30))).expect("offered");
    let (chop, rest) = (&told.steps[0], &told.steps[1]);
    assert!(chop.evening_before && rest.kind == StepKind::Rest);
    assert_eq!(rest.ends - rest.begins, 12 * 60);
    assert_eq!((rest.day_and_minute(), chop.ends), ((-1, 20 * 60 + 30), rest.begins));
    assert_eq!(told.steps[2].begins, 8 * 60 + 30);
    assert!(told.begins < 0 && told.notes.is_empty(), "{:?}", told.notes);
    // Done by noon would have somebody chop at night, and the card says so.
    let early = card(relish, &ask(2160, When::DoneBy(6 * 60))).expect("offered");
    assert!(early.notes[0].contains("in the night"), "{:?}", early.notes);
}

#[test]
fn loads_follow_one_another_and_the_last_is_when_it_is_done() {
    // 30 kg of crushed tomatoes is more than one load of 9 pints at 14 lb; a small canner takes 4.
    let juice = of("tomato-juice");
    for (jars_per_load, loads) in [(None, 3), (Some(4), 5)] {
        let asked =
            CardAsk { jars_per_load, jar: Some(Jar::Quart), ..ask(30_000, When::DoneBy(18 * 60)) };
        let told = card(juice, &asked).expect("offered");
        let jars = told.jars.expect("jars");
        assert_eq!((jars.count, jars.loads), (20, loads));
        let done: Vec<_> = told.steps.iter().filter(|s| s.kind == StepKind::Load).collect();
        assert_eq!(done.len(), usize::try_from(loads).expect("few"));
        // 45 minutes at 870 m: 30 to heat up, 5 to wait.
        assert!(done.iter().all(|load| load.ends - load.begins == 80));
        assert_eq!((done.last().expect("a load").ends, told.done), (18 * 60, 18 * 60));
        let seals = told.steps.last().expect("a step");
        assert_eq!((seals.kind, seals.begins, seals.ends), (StepKind::CheckSeals, 1800, 2520));
    }
}

#[test]
fn pressure_loads_have_their_parts() {
    let squash = of("squash-cubes-pressure");
    let asked = CardAsk { canner: Canner::Weighted, ..ask(7_300, When::StartAt(540)) };
    let told = card(squash, &asked).expect("offered");
    let offer = told.offer.expect("an offer");
    // Guide 5 (V): quarts 90 minutes; weighted 15 psi above 1,000 ft.
    assert_eq!((offer.minutes, offer.psi), (90, Some(15)));
    let load = told.steps.iter().find(|step| step.kind == StepKind::Load).expect("a load");
    assert_eq!(load.ends - load.begins, 15 + 10 + 5 + 90 + 60);
    assert!(load.text.starts_with("Vent 10 minutes"), "{}", load.text);
    assert!(load.cautions.iter().any(|said| said.text.contains("by itself")));
    let boiling = card(squash, &ask(7_300, When::StartAt(540))).expect_err("low in acid");
    assert_eq!(boiling.kind, super::super::RefusalKind::PressureOnly);
}

#[test]
fn cautions_stand_at_the_step_they_belong_to() {
    for method in all().iter().filter(|method| method.kind == Kind::Jar) {
        for canner in [Canner::BoilingWater, Canner::Dial] {
            let asked = CardAsk { canner, ..ask(5_000, When::StartAt(540)) };
            let Ok(told) = card(method, &asked) else { continue };
            let at = |kind| told.steps.iter().filter(move |step| step.kind == kind);
            let acid = |step: &CardStep| step.cautions.iter().any(|s| s.text.contains("Acid goes"));
            assert_eq!(at(StepKind::Work).any(acid), method.acid, "{}", method.id);
            assert!(at(StepKind::Load).all(|step| !step.cautions.is_empty()), "{}", method.id);
            let last = at(StepKind::Work).next_back().expect("filling");
            assert!(last.cautions.iter().any(|said| said.text.contains("new lids")));
        }
    }
}
