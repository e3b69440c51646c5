//! Laws of learning.

use super::*;
use crate::trade::crops::Stage;
use crate::trade::ripening::{RoomClimate, RoundSeen};
use crate::units::{Day, Grams, MilliCelsius};

fn day(offset: i32) -> Day {
    Day::from_ymd(2026, 10, 9).expect("a day").plus(offset)
}

/// Ten kilograms at 20 °C, with the grams found ripe on days after picking.
fn observed(variety: &str, class: &str, rounds: &[(i32, i64)]) -> Observed {
    let room = RoomClimate::constant(MilliCelsius(20_000));
    let mut lot = LotInput::picked("tomato".into(), class.into(), Grams(10_000), day(0), room);
    lot.rounds = rounds
        .iter()
        .map(|(at, ripe)| RoundSeen {
            day: day(*at),
            ripe: Grams(*ripe),
            lost: Grams::ZERO,
            left: None,
        })
        .collect();
    Observed { variety: Some(variety.to_owned()), lot }
}

fn season() -> Vec<Observed> {
    vec![
        observed("paste", "colouring", &[(2, 900), (4, 1_500), (7, 2_500)]),
        observed("paste", "green", &[(10, 500), (14, 900)]),
        observed("cherry", "colouring", &[(2, 4_000), (4, 3_500)]),
        observed("slicer", "green", &[(12, 3_000)]),
    ]
}

#[test]
fn the_same_rounds_in_any_order_give_the_same_bits() {
    let told = |seen: &[Observed]| {
        serde_json::to_string(&learn(&Belief::default(), seen)).expect("writes")
    };
    let mut seen = season();
    let first = told(&seen);
    for turn in 0..seen.len() {
        seen.rotate_left(1);
        seen.swap(0, turn);
        seen.iter_mut().for_each(|one| one.lot.rounds.reverse());
        assert_eq!(told(&seen), first);
    }
}

#[test]
fn nothing_seen_is_the_prior() {
    let prior = Belief::default();
    let mut unseen = season();
    unseen.iter_mut().for_each(|one| one.lot.rounds.clear());
    for seen in [Vec::new(), unseen] {
        let learned = learn(&prior, &seen);
        assert_eq!(learned, Learned::nothing(&prior));
        assert_eq!(learned.belief(&"tomato".into(), Some("paste")), prior);
    }
}

#[test]
fn slow_fruit_is_learned_to_be_slow_and_told_so() {
    let learned = learn(&Belief::default(), &season());
    let of = |name| learned.of(&"tomato".into(), Some(name)).expect("was seen");
    assert!(of("paste").rate.after.median < 0.9, "{:?}", of("paste").rate);
    assert!(of("cherry").rate.after.median > 1.05, "{:?}", of("cherry").rate);
    let words = of("paste").words("Paste");
    assert!(words.contains("behind the book"), "{words}");
    assert!(words.ends_with("From 5 rounds of 2 lots."), "{words}");
    let rate = of("paste").rate;
    assert!(rate.after.p90 - rate.after.p10 < rate.before.p90 - rate.before.p10);
}

#[test]
fn a_variety_not_seen_learns_from_its_sisters() {
    let seen: Vec<_> = season().into_iter().take(2).collect();
    let learned = learn(&Belief::default(), &seen);
    let rate = |variety| learned.belief(&"tomato".into(), Some(variety)).rate.median;
    assert!(rate("paste") < rate("other") && rate("other") < 1.0);
    let pepper = learned.belief(&"pepper".into(), None);
    assert_eq!(pepper, Belief::default(), "another crop is another matter");
}

#[test]
fn what_does_not_ripen_teaches_nothing() {
    let mut seen = season();
    seen[0].lot.crop = "eggplant".into();
    seen[1].lot.class = "ripe".into();
    seen[2].lot.grams = Grams::ZERO;
    seen[3].lot.stage = Some(Stage::Red);
    assert_eq!(learn(&Belief::default(), &seen), Learned::nothing(&Belief::default()));
}
