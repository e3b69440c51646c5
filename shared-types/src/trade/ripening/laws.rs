//! Laws every forecast keeps, tried on generated lots.

use std::collections::BTreeMap;

use proptest::prelude::*;

use super::*;
use crate::trade::crops::Stage;
use crate::units::{Day, Grams, MilliCelsius};

const START: i32 = 20_370;

fn day(offset: i32) -> Day {
    Day::from_number(START + offset)
}

fn lot(class: &str, stage: Option<Stage>, grams: i64, celsius: f64) -> LotInput {
    LotInput {
        lot: None,
        crop: "tomato".into(),
        class: class.into(),
        stage,
        grams: Grams(grams),
        picked: day(0),
        sorted: None,
        stages: BTreeMap::new(),
        rounds: Vec::new(),
        room: RoomClimate::constant(MilliCelsius((celsius * 1000.0) as i32)),
        belief: None,
    }
}

fn any_lot() -> impl Strategy<Value = LotInput> {
    let class = prop_oneof![
        Just(("colouring", None)),
        Just(("green", None)),
        Just(("green", Some(Stage::Green))),
        Just(("colouring", Some(Stage::Pink))),
        Just(("ripe", None)),
        Just(("hurt", None)),
    ];
    let steps = prop::collection::vec((0..30i32, -2_000..34_000i32), 1..5);
    (class, 1i64..500_000, 0..20i32, steps, prop::option::of(0..20i32)).prop_map(
        |((class, stage), grams, before, steps, sorted)| {
            let mut steps: Vec<_> =
                steps.into_iter().map(|(d, t)| (day(d), MilliCelsius(t))).collect();
            steps.sort_unstable();
            steps.dedup_by_key(|step| step.0);
            let mut lot = lot(class, stage, grams, 20.0);
            lot.picked = day(-before);
            lot.sorted = sorted.map(|after| lot.picked.plus(after.min(before)));
            lot.room = RoomClimate::steps(steps).expect("has a step");
            lot
        },
    )
}

fn p50_date(lot: &LotInput, days: usize) -> Option<usize> {
    let told = forecast(std::slice::from_ref(lot), &Belief::default(), lot.picked, days);
    let half = told.still_to_come.p50.0 / 2;
    told.days.iter().position(|day| day.by_then.p50.0 >= half.max(1))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// start = ripe + waiting + never + lost, to the gram, and none of them below nothing.
    #[test]
    fn grams_are_kept(lots in prop::collection::vec(any_lot(), 1..5), days in 1usize..40) {
        let told = forecast(&lots, &Belief::default(), day(0), days);
        for (lot, one) in lots.iter().zip(&told.lots) {
            for balance in [one.today, one.end] {
                prop_assert_eq!(balance.start, lot.grams);
                let sum = balance.ripe + balance.waiting + balance.never + balance.lost;
                prop_assert_eq!(sum, balance.start);
                for part in [balance.ripe, balance.waiting, balance.never, balance.lost] {
                    prop_assert!(part >= Grams::ZERO, "{:?}", balance);
                }
            }
            prop_assert!(one.end.ripe + Grams(1) >= one.today.ripe);
        }
    }

    /// Bands are in order, within what there is, and what turned stays turned.
    #[test]
    fn bands_are_in_order(lots in prop::collection::vec(any_lot(), 1..5)) {
        let whole: Grams = lots.iter().map(|lot| lot.grams).sum();
        let told = forecast(&lots, &Belief::default(), day(0), 20);
        let mut before = Band::default();
        for one in &told.days {
            for band in [one.ripe, one.by_then] {
                prop_assert!(Grams::ZERO <= band.p10 && band.p10 <= band.p50);
                prop_assert!(band.p50 <= band.p90 && band.p90 <= whole);
            }
            let (now, was) = (one.by_then, before);
            prop_assert!(now.p10 >= was.p10 && now.p50 >= was.p50 && now.p90 >= was.p90);
            before = one.by_then;
        }
        prop_assert_eq!(told.days[0].ripe, told.ready_today);
    }

    /// Warmer is never later between 12.5 and 25 °C, for the middle and for the window.
    #[test]
    fn warmer_is_never_later(cool in 12.5f64..25.0, warmer in 0.0f64..12.5, green in any::<bool>()) {
        let warm = (cool + warmer).min(25.0);
        let class = if green { "green" } else { "colouring" };
        let dates = |celsius| {
            let lot = lot(class, None, 40_000, celsius);
            let told = forecast(&[lot], &Belief::default(), day(0), 1);
            (told.lots[0].from.expect("ripens"), told.lots[0].to.expect("ripens"))
        };
        let (cool, warm) = (dates(cool), dates(warm));
        prop_assert!(warm.0 <= cool.0 && warm.1 <= cool.1);
    }

    /// Riper is never later.
    #[test]
    fn riper_is_never_later(celsius in 12.5f64..25.0) {
        let stages = [Stage::Green, Stage::Breakers, Stage::Turning, Stage::Pink, Stage::LightRed];
        let mut last = usize::MAX;
        for stage in stages {
            let class = if stage == Stage::Green { "green" } else { "colouring" };
            let at = p50_date(&lot(class, Some(stage), 60_000, celsius), 60).expect("ripens");
            prop_assert!(at <= last, "{stage:?}: {at} after {last}");
            last = at;
        }
    }

    /// Splitting a lot changes no total.
    #[test]
    fn splitting_changes_no_total(one in any_lot(), share in 0.0f64..1.0) {
        let part = Grams((one.grams.0 as f64 * share) as i64);
        let halves = [
            LotInput { grams: part, ..one.clone() },
            LotInput { grams: one.grams - part, ..one.clone() },
        ];
        let whole = forecast(std::slice::from_ref(&one), &Belief::default(), day(0), 15);
        let split = forecast(&halves, &Belief::default(), day(0), 15);
        let close = |a: Band, b: Band| {
            [(a.p10, b.p10), (a.p50, b.p50), (a.p90, b.p90)].iter().all(|(a, b)| (a.0 - b.0).abs() <= 1)
        };
        for (a, b) in whole.days.iter().zip(&split.days) {
            prop_assert!(close(a.ripe, b.ripe) && close(a.by_then, b.by_then));
        }
        prop_assert!(close(whole.still_to_come, split.still_to_come));
    }

    /// Less is known of fewer fruit: the band of one lot is relatively wider when it is small.
    #[test]
    fn few_fruit_are_less_certain(celsius in 15.0f64..24.0) {
        let spread = |grams: i64| {
            let told = forecast(&[lot("colouring", None, grams, celsius)], &Belief::default(), day(0), 4);
            let band = told.days[2].by_then;
            (band.p90.0 - band.p10.0) as f64 / grams as f64
        };
        prop_assert!(spread(1_000) > spread(100_000));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// After a weighed round a lot is what was left of it, and the order of rounds does not matter.
    #[test]
    fn a_weighed_round_begins_the_lot_anew(one in any_lot(), at in 0..20i32, left in 1i64..400_000) {
        let mut one = LotInput { sorted: None, ..one };
        let today = one.picked.plus(25);
        let round = |after: i32, left: i64| RoundSeen {
            day: one.picked.plus(after),
            ripe: Grams(500),
            lost: Grams(20),
            left: Some(Grams(left)),
        };
        let rounds = vec![round(at, left), round(at / 2, left + 9_000)];
        let day = rounds[0].day.max(rounds[1].day);
        one.rounds = rounds;
        let told = forecast(std::slice::from_ref(&one), &Belief::default(), today, 12);
        one.rounds.reverse();
        prop_assert_eq!(&told, &forecast(std::slice::from_ref(&one), &Belief::default(), today, 12));
        if at > 1 {
            let anew = LotInput {
                sorted: Some(day),
                grams: Grams(left),
                rounds: Vec::new(),
                ..one.clone()
            };
            let anew = forecast(&[anew], &Belief::default(), today, 12);
            prop_assert_eq!(&told.days, &anew.days);
        }
        let balance = told.lots[0].end;
        prop_assert_eq!(balance.ripe + balance.waiting + balance.never + balance.lost, balance.start);
    }

    /// A thermometer that reads what the room is set to changes nothing but rounding.
    #[test]
    fn a_log_of_the_setting_is_the_setting(celsius in 8.0f64..30.0, every in 1..11i32) {
        let set = lot("green", None, 20_000, celsius);
        let read = |i: i32| RoomReading {
            day: day(i * every / 24),
            minute: (i * every % 24 * 60) as u16,
            celsius: MilliCelsius((celsius * 1000.0) as i32),
            humidity: None,
        };
        let room = set.room.clone().with_readings((0..600 / every).map(read).collect());
        let told = |room| {
            let one = LotInput { room, ..set.clone() };
            forecast(&[one], &Belief::default(), day(0), 20)
        };
        for (set, log) in told(set.room.clone()).days.into_iter().zip(told(room).days) {
            prop_assert!((set.by_then.p50.0 - log.by_then.p50.0).abs() <= 1);
            prop_assert!((set.by_then.p90.0 - log.by_then.p90.0).abs() <= 1);
        }
    }
}

#[test]
fn a_round_takes_out_what_was_ripe() {
    let mut one = lot("colouring", None, 10_000, 20.0);
    one.sorted = Some(day(3));
    let told = forecast(std::slice::from_ref(&one), &Belief::default(), day(3), 8);
    assert_eq!(told.ready_today, Band::default(), "what was ripe has been taken out");
    let fresh = forecast(&[lot("colouring", None, 10_000, 20.0)], &Belief::default(), day(3), 8);
    assert!(fresh.ready_today.p50 > Grams(2_000));
    assert_eq!(told.lots[0].today.waiting, Grams(10_000));
    assert!(told.days[7].by_then.p50 > Grams(8_500), "{:?}", told.days[7]);
}

#[test]
fn long_overdue_fruit_is_due_at_once() {
    let mut one = lot("colouring", Some(Stage::Pink), 5_000, 20.0);
    one.sorted = Some(day(30));
    let told = forecast(&[one], &Belief::default(), day(30), 2);
    assert!(told.days[1].by_then.p50 > Grams(4_500), "{:?}", told.days[1]);
}

#[test]
fn a_belief_of_its_own_moves_a_lot() {
    let slow = Belief { rate: Spread { median: 0.7, sd_log: 0.05 }, ..Belief::default() };
    let mut one = lot("colouring", None, 10_000, 20.0);
    let book = forecast(std::slice::from_ref(&one), &Belief::default(), day(0), 1).lots[0].to;
    one.belief = Some(slow);
    let learned = forecast(&[one], &Belief::default(), day(0), 1).lots[0].to;
    assert!(learned > book);
}

#[test]
fn rooms_that_spoil_fruit_are_told() {
    let kinds = |class: &str, celsius: f64, days: usize| {
        let told = forecast(&[lot(class, None, 10_000, celsius)], &Belief::default(), day(0), days);
        told.lots[0].warnings.iter().map(|warning| warning.kind).collect::<Vec<_>>()
    };
    assert!(kinds("green", 20.0, 30).is_empty());
    // 14 days at 10 °C: due on the 14th day after picking, not on the 13th.
    assert!(!kinds("green", 10.0, 14).contains(&WarningKind::Chilling));
    assert!(kinds("green", 10.0, 15).contains(&WarningKind::Chilling));
    assert!(kinds("green", 5.0, 7).contains(&WarningKind::Chilling));
    assert!(!kinds("green", 5.0, 6).contains(&WarningKind::Chilling));
    assert!(kinds("colouring", 31.0, 3).contains(&WarningKind::TooHot));
    assert_eq!(kinds("colouring", 27.0, 3), [WarningKind::OutsideTable]);
    assert_eq!(kinds("ripe", 20.0, 3), [WarningKind::KeepsBadly]);
    assert!(kinds("ripe", 11.0, 3).is_empty());
}

#[test]
fn crops_that_do_not_ripen_say_so() {
    for (crop, class) in [("eggplant", "sound"), ("cucumber", "small"), ("pepper", "green")] {
        let mut one = lot("ripe", None, 3_000, 20.0);
        (one.crop, one.class) = (crop.into(), class.into());
        let told = &forecast(&[one], &Belief::default(), day(0), 5).lots[0];
        assert_eq!(told.never, Grams(3_000), "{crop}");
        assert_eq!(told.warnings[0].kind, WarningKind::DoesNotRipen, "{crop}");
        assert!(!told.warnings[0].source.is_empty());
        assert_eq!((told.from, told.to), (None, None));
    }
}

#[test]
fn an_unknown_crop_is_told_not_guessed() {
    let mut one = lot("ripe", None, 3_000, 20.0);
    one.crop = "gourd".into();
    let told = forecast(&[one], &Belief::default(), day(0), 5);
    assert!(told.lots[0].why.contains("not in the crop table"));
    assert_eq!(told.ready_today, Band::default());
}
