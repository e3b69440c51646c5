//! Curing, keep-by, eat-first and what waits, against their sources.

use shared_types::trade::ripening::{HumidityPermille, RoomClimate};
use shared_types::trade::stores::bounds::{
    Sanity, bushel, bushel_cubic_inches, per_plant, row_yield, tomato_lb_per_plant,
};
use shared_types::trade::stores::case::{Case, run};
use shared_types::trade::stores::{
    Asked, CureVerdict, FreezingClass, KeepBy, StoreLot, Way, eat_first, keep_by, kind, recheck,
    waits,
};
use shared_types::units::{Day, Grams, MilliCelsius};

fn day(month: u32, day: u32) -> Day {
    Day::from_ymd(2026, month, day).expect("a day")
}

fn room(celsius: f64) -> RoomClimate {
    RoomClimate::constant(MilliCelsius((celsius * 1000.0) as i32))
}

#[test]
fn curing_rows_are_the_sources() {
    for (crop, variety, verdict, days) in [
        // Alabama Extension (V): pumpkins 80 to 85 °F, 75 to 80 %, about 10 days; no benefit for
        // butternut and Hubbard; acorn is harmed ("Do not cure", Iowa State).
        ("pumpkin", None, CureVerdict::Yes, Some([10, 10])),
        ("winter-squash", Some("butternut"), CureVerdict::NoBenefit, None),
        ("winter-squash", Some("hubbard"), CureVerdict::NoBenefit, None),
        ("winter-squash", Some("acorn"), CureVerdict::Harmful, None),
        // OSU (V): drying and curing of onions 14 to 20 days; Saskatchewan (V): garlic 3 to 4 weeks,
        // roots a day or two; several (V): potatoes about two weeks.
        ("onion", None, CureVerdict::Yes, Some([14, 20])),
        ("garlic", None, CureVerdict::Yes, Some([21, 28])),
        ("potato", None, CureVerdict::Yes, Some([14, 14])),
        ("carrot", None, CureVerdict::Short, Some([1, 2])),
        ("cabbage", None, CureVerdict::No, None),
    ] {
        let cure = &kind(&crop.into(), variety).expect("a row").cure;
        assert_eq!((cure.verdict, cure.days), (verdict, days), "{crop} {variety:?}");
    }
    let pumpkin = &kind(&"pumpkin".into(), None).expect("a row").cure;
    let fahrenheit = pumpkin.celsius.expect("warm").map(|c| c * 1.8 + 32.0);
    assert!((fahrenheit[0] - 80.0).abs() < 0.1 && (fahrenheit[1] - 85.0).abs() < 0.1);
    assert_eq!(pumpkin.humidity, Some([75.0, 80.0]));
    assert_eq!(pumpkin.others.len(), 2, "Wisconsin and Knapp differ, and are shown");
}

#[test]
fn keep_by_rows_are_the_tables_and_conflicts_take_the_cautious_end() {
    for (crop, variety, life, conflict) in [
        ("winter-squash", None, [60, 180], false), // UCD (V): 2 to 6 months
        ("winter-squash", Some("acorn"), [30, 60], false), // 1 to 2 months (V)
        ("winter-squash", Some("butternut"), [60, 90], false), // 2 to 3 (V)
        ("winter-squash", Some("kabocha"), [90, 180], false), // 3 to 6 (V)
        ("pumpkin", None, [60, 90], true),         // 2 to 3 months; 12 to 26 weeks (V)
        ("onion", None, [180, 270], false),        // UCD (V): 6 to 9 months
        ("onion", Some("mild"), [15, 30], false),  // half to one month
        ("garlic", None, [180, 210], false),       // 6 to 7 months (V)
        ("potato", None, [150, 240], false),       // 5 to 8 months (V)
        ("carrot", None, [180, 210], true),        // 7 to 9 against 6 to 7 months (V)
        ("beet", None, [120, 180], false),         // 4 to 6 months (V)
        ("celeriac", None, [90, 120], true),       // 6 to 8 against 3 to 4 months (V)
        ("cabbage", None, [150, 180], false),      // late 5 to 6 months (V)
        ("cabbage", Some("early"), [21, 42], false), // 3 to 6 weeks (V)
        ("kale", None, [7, 14], true),             // 2 to 3 against 1 to 2 weeks (V)
        ("cucumber", None, [10, 14], false),       // 10 to 14 days (V)
    ] {
        let kind = kind(&crop.into(), variety).expect("a row");
        assert_eq!((kind.life(), kind.sources_conflict()), (life, conflict), "{crop} {variety:?}");
    }
    // Injury by one light freeze is another thing than the freezing point (Wang and Wallace).
    let class = |crop: &str| kind(&crop.into(), None).and_then(|kind| kind.freezing_class);
    assert_eq!(class("potato"), Some(FreezingClass::Most));
    assert_eq!(class("carrot"), Some(FreezingClass::Moderate));
    assert_eq!(class("parsnip"), Some(FreezingClass::Least));
}

fn keep(crop: &str, celsius: f64, cured: Option<bool>, chilled_before: f64) -> KeepBy {
    let (crop, room) = (crop.into(), room(celsius));
    let asked = Asked {
        crop: &crop,
        variety: None,
        picked: day(9, 20),
        room: &room,
        cured,
        chilled_before,
    };
    keep_by(&asked, day(10, 20)).expect("keeps")
}

#[test]
fn in_the_best_room_it_keeps_as_the_table_says_and_warmer_less() {
    let best = keep("winter-squash", 14.0, None, 0.0);
    assert_eq!((best.from, best.to), (day(9, 20).plus(60), day(9, 20).plus(180)));
    assert!((best.used - 0.5).abs() < 1e-9, "thirty of sixty days");
    // Respiration halves per 10 °C drop (NC State, V): ten degrees over, half as long (D).
    let warm = keep("winter-squash", 25.0, None, 0.0);
    assert_eq!((warm.from, warm.to), (day(9, 20).plus(30), day(9, 20).plus(90)));
    // Warmer is never longer.
    let froms: Vec<Day> =
        (0..=30).map(|celsius| keep("onion", f64::from(celsius), None, 0.0).from).collect();
    assert!(froms.is_sorted_by(|a, b| a >= b), "{froms:?}");
}

#[test]
fn the_chilling_clock_runs_below_ten_degrees_and_adds_up() {
    let cold = keep("winter-squash", 8.0, None, 1.5);
    let chill = cold.chill.expect("squash has a clock");
    assert!((chill.days - 31.5).abs() < 1e-9 && chill.running, "{chill:?}");
    assert!(cold.from < keep("winter-squash", 11.0, None, 0.0).from, "a chilled day counts double");
    assert!(cold.said.iter().any(|said| said.text.contains("Chilling adds up")));
    // A night in the field before counts as well; onions have no clock.
    assert!(
        keep("winter-squash", 11.0, None, 6.0).from < keep("winter-squash", 11.0, None, 0.0).from
    );
    assert!(keep("onion", 1.0, None, 0.0).chill.is_none());
}

#[test]
fn curing_and_humidity_move_the_short_end_only() {
    let (cured, not) = (keep("onion", 1.0, Some(true), 0.0), keep("onion", 1.0, Some(false), 0.0));
    assert_eq!(not.to, cured.to);
    assert_eq!(not.from, day(9, 20).plus(90));
    assert_eq!(cured.from, day(9, 20).plus(180));
    let crop = "onion".into();
    let mut damp = room(1.0);
    damp.humidity = Some(HumidityPermille(950));
    let asked = Asked {
        crop: &crop,
        variety: None,
        picked: day(9, 20),
        room: &damp,
        cured: None,
        chilled_before: 0.0,
    };
    let told = keep_by(&asked, day(10, 20)).expect("keeps");
    assert_eq!(told.from, day(9, 20).plus(135));
    assert!(told.said.iter().any(|said| said.text.contains("moist")), "{:?}", told.said);
    // A room below its freezing point is told with what freezing does.
    let frozen = keep("potato", -1.0, None, 0.0);
    assert!(frozen.said.iter().any(|said| said.text.contains("one light freeze")));
}

#[test]
fn suspects_are_looked_at_on_day_two_to_four() {
    // Common practice: soft spots show after two or three days indoors.
    let suspect = recheck(day(10, 9));
    assert_eq!((suspect.from, suspect.to), (day(10, 11), day(10, 13)));
}

#[test]
fn the_order_is_softening_frosted_chilled_then_by_what_is_used_up() {
    let lot = |name: &str, crop: &str, celsius: f64| StoreLot {
        lot: name.to_owned(),
        crop: crop.into(),
        variety: None,
        picked: day(10, 1),
        room: room(celsius),
        cured: None,
        chilled_before: 0.0,
        frosted: None,
        softening: false,
    };
    let lots = [
        lot("onions", "onion", 1.0),
        lot("kale", "kale", 1.0),
        lot("chilled", "winter-squash", 8.0),
        StoreLot { frosted: Some(day(10, 9)), ..lot("frosted", "winter-squash", 13.0) },
        StoreLot { softening: true, ..lot("soft", "pumpkin", 12.0) },
    ];
    let told = eat_first(&lots, day(10, 12)).expect("ranks");
    let order: Vec<&str> = told.iter().map(|ranked| ranked.lot.as_str()).collect();
    assert_eq!(order, ["soft", "frosted", "chilled", "kale", "onions"]);
    assert!(told[1].reason.contains("look at it now"), "{}", told[1].reason);
    assert!(told.iter().all(|ranked| !ranked.reason.is_empty() && !ranked.source.is_empty()));
}

#[test]
fn crops_that_wait_are_the_sources() {
    // Clemson (Polomski) and K-State (V); kale within days after the first hard frost (practice).
    for (crop, way) in [
        ("kale", Way::Sweetens),
        ("parsnip", Way::MayFreeze),
        ("leek", Way::MayFreeze),
        ("carrot", Way::UntilSoilFreezes),
        ("tomato", Way::DoNotWait),
        ("winter-squash", Way::DoNotWait),
        ("onion", Way::DoNotWait),
    ] {
        assert_eq!(waits(&crop.into()).map(|waits| waits.way), Some(way), "{crop}");
    }
    assert_eq!(waits(&"gravel".into()), None);
}

#[test]
fn a_case_of_stores_answers_and_says_what_is_wrong() {
    let told = |text: &str| -> Result<_, String> {
        let case = Case::parse(text).map_err(|error| error.to_string())?;
        run(&case).map_err(|error| error.to_string())
    };
    let answer = told(
        r#"{"today": "2026-12-01", "rooms": {"cellar": {"celsius": 8, "humidity": 80}},
        "lots": [{"lot": "A", "crop": "winter-squash", "variety": "acorn", "picked": "2026-10-09", "room": "cellar"},
                 {"crop": "onion", "picked": "2026-09-20", "fahrenheit": 33.8, "humidity": 65, "cured": true}],
        "rounds": [{"crop": "winter-squash", "count": 40, "looks": [{"day": 63, "lost": 4}]}],
        "shares": [{"label": "drip", "with_defect": 1, "fruits": 220, "clusters": 24},
                   {"label": "by hand", "with_defect": 40, "fruits": 200, "clusters": 24}]}"#,
    )
    .expect("answers");
    assert_eq!(answer.eat_first[0].lot, "A");
    assert_eq!(answer.eat_first[1].keep_by.from, Day::from_ymd(2027, 3, 19).expect("a day"));
    assert_eq!((answer.rounds.len(), answer.shares.len(), answer.compared.len()), (1, 2, 1));
    let text = serde_json::to_string(&answer).expect("writes");
    assert_eq!(
        serde_json::from_str::<shared_types::trade::stores::case::Answer>(&text).expect("reads"),
        answer
    );

    let lot = |lot: &str| format!(r#"{{"today": "2026-12-01", "lots": [{lot}]}}"#);
    for (text, word) in [
        ("{}".to_owned(), "missing field `today`"),
        (
            lot(r#"{"crop": "gravel", "picked": "2026-10-09", "celsius": 8}"#),
            "must be one of winter-squash",
        ),
        (
            lot(r#"{"crop": "onion", "picked": "2026-12-09", "celsius": 8}"#),
            "cannot have been picked",
        ),
        (lot(r#"{"crop": "onion", "picked": "2026-10-09"}"#), "where it stands"),
        (lot(r#"{"crop": "onion", "picked": "2026-10-09", "celsius": 68}"#), "fahrenheit"),
        (
            lot(r#"{"crop": "onion", "picked": "2026-10-09", "celsius": 8, "humidity": 0}"#),
            "1 to 100",
        ),
        (lot(r#"{"crop": "onion", "picked": "2026-10-09", "room": "attic"}"#), "no room `attic`"),
        (
            lot(r#"{"crop": "onion", "picked": "2026-10-09", "celsius": 8, "chilled_days": -1}"#),
            "0 to 200",
        ),
        (
            lot(r#"{"crop": "onion", "picked": "2026-10-09", "celsius": 8, "colour": 1}"#),
            "unknown field",
        ),
        (
            r#"{"today": "2026-12-01", "shares": [{"label": "a", "with_defect": 3, "fruits": 2}]}"#
                .to_owned(),
            "share a",
        ),
        (
            r#"{"today": "2026-12-01", "rounds": [{"crop": "onion", "count": 0, "looks": []}]}"#
                .to_owned(),
            "how many came in",
        ),
    ] {
        let error = told(&text).expect_err(&text);
        assert!(error.contains(word), "{error}");
    }
}

#[test]
fn bushels_and_yields_are_bounds_and_not_weighings() {
    // Illinois Extension (V): 2,150.42 in³; tomatoes 50 to 60 lb, "53 pounds" in USDA's guide (V).
    assert!((bushel_cubic_inches() - 2_150.42).abs() < 1e-9);
    for (crop, least, most) in [
        ("tomato", 50.0, 60.0),
        ("apple", 42.0, 50.0),
        ("bean", 28.0, 30.0),
        ("cucumber", 48.0, 50.0),
    ] {
        let [from, to] = bushel(&crop.into()).expect("a row").lb;
        assert!((from - least).abs() < 1e-9 && (to - most).abs() < 1e-9, "{crop}");
    }
    // K-State MF315 (V), pounds per 100 feet of row.
    for (crop, lb) in [("beet", 150.0), ("pepper", 60.0), ("carrot", 100.0), ("cucumber", 120.0)] {
        let [from, _] = row_yield(&crop.into()).expect("a row").lb_per_100_ft;
        assert!((from - lb).abs() < 1e-9, "{crop}");
    }
    // UW trial (V): 10.8 lb in the field, 18.7 in tunnels: both ordinary; 30 asks, 60 doubts (M).
    let plants = |lb: f64| per_plant(&"tomato".into(), Grams((lb * 453.592_37 * 40.0) as i64), 40);
    for lb in tomato_lb_per_plant().value {
        assert_eq!(plants(lb), Sanity::Ordinary, "{lb} lb");
    }
    assert_eq!(plants(0.1), Sanity::Ordinary, "there is no floor");
    assert!(matches!(plants(31.0), Sanity::High { .. }));
    assert!(matches!(plants(61.0), Sanity::Unlikely { .. }));
    assert_eq!(per_plant(&"tomato".into(), Grams(1_000_000), 0), Sanity::Ordinary);
}
