//! Intervals, Fisher's test, survival and dew points against scipy, statsmodels and psychrolib. The
//! table was made by `generate/chances.py`.

use serde::Deserialize;
use shared_types::trade::cold::{MAGNUS_A, MAGNUS_B_CELSIUS, Moisture, Site, dew_point};
use shared_types::trade::shares::{
    Basis, LEVEL, Share, Tally, Verdict, clopper_pearson, compare, fisher_exact, fruits_of, share,
    standing_out,
};
use shared_types::trade::stores::{Against, Look, SurvivalError, book_curve, survival};
use shared_types::units::{Altitude, Grams};

#[derive(Deserialize)]
struct Table {
    intervals: Vec<Interval>,
    fisher: Vec<Fisher>,
    survival: Vec<Curve>,
    dew_points: Vec<DewPoint>,
}

#[derive(Debug, Deserialize)]
struct Interval {
    k: f64,
    n: f64,
    from: f64,
    to: f64,
}

#[derive(Debug, Deserialize)]
struct Fisher {
    a: (u64, u64),
    b: (u64, u64),
    p: f64,
}

#[derive(Deserialize)]
struct Curve {
    count: u32,
    looks: Vec<Look>,
    points: Vec<Known>,
}

#[derive(Debug, Deserialize)]
struct Known {
    day: u32,
    sound: f64,
    /// None once nothing is left.
    error: Option<f64>,
    at_risk: f64,
}

#[derive(Debug, Deserialize)]
struct DewPoint {
    celsius: f64,
    humidity: f64,
    dew_point: f64,
}

fn table() -> Table {
    serde_json::from_str(include_str!("chances.json")).expect("reads")
}

#[test]
fn intervals_are_those_of_scipy() {
    for row in table().intervals {
        let (from, to) = clopper_pearson(row.k, row.n, LEVEL);
        assert!((from - row.from).abs() < 1e-6, "{row:?}: from {from}");
        assert!((to - row.to).abs() < 1e-6, "{row:?}: to {to}");
    }
}

#[test]
fn fishers_test_is_that_of_scipy() {
    for row in table().fisher {
        let p = fisher_exact(row.a, row.b);
        assert!((p - row.p).abs() < 1e-6, "{row:?}: {p}");
        assert!((fisher_exact(row.b, row.a) - p).abs() < 1e-9, "either way round: {row:?}");
    }
    assert!((fisher_exact((0, 0), (3, 9)) - 1.0).abs() < 1e-12, "an empty side says nothing");
}

#[test]
fn survival_is_that_of_statsmodels() {
    for curve in table().survival {
        let told = survival("winter-squash", curve.count, &curve.looks).expect("a curve");
        for known in &curve.points {
            let Some(point) = told.points.iter().find(|point| point.day == known.day) else {
                continue;
            };
            assert!((point.sound - known.sound).abs() < 1e-6, "{known:?} {point:?}");
            assert!(
                known.error.is_none_or(|error| (point.error - error).abs() < 1e-6),
                "{known:?} {point:?}"
            );
            assert!((f64::from(point.at_risk) - known.at_risk).abs() < 1e-9, "{known:?}");
            assert!(point.from <= point.sound && point.sound <= point.to, "{point:?}");
        }
    }
}

#[test]
fn the_books_curve_for_squash_is_the_trials() {
    // "90 %, 70 % and 50 % were marketable after 9, 15 and 20 weeks", eight cultivars at 10 to
    // 15 °C, OSU, quoted by UC Davis (V).
    let book = book_curve();
    for (weeks, sound) in [(0, 1.0), (9, 0.9), (15, 0.7), (20, 0.5)] {
        let told = book.sound(weeks * 7).expect("within the trial");
        assert!((told - sound).abs() < 1e-12, "{weeks} weeks: {told}");
    }
    assert_eq!(book.sound(20 * 7 + 1), None, "nothing is made up beyond the trial");

    // Two lost of four say nothing; forty of sixty at nine weeks do.
    let few =
        survival("winter-squash", 4, &[Look { day: 63, lost: 2, taken: 0 }]).expect("a curve");
    assert_eq!(few.against, Against::NotEnoughToSay);
    let many = survival("pumpkin", 60, &[Look { day: 63, lost: 40, taken: 0 }]).expect("a curve");
    assert_eq!(many.against, Against::Worse);
    let sound = survival("pumpkin", 90, &[Look { day: 105, lost: 0, taken: 0 }]).expect("a curve");
    assert_eq!(sound.against, Against::Better);
    let onions = survival("onion", 60, &[Look { day: 63, lost: 4, taken: 0 }]).expect("a curve");
    assert_eq!(onions.against, Against::NoBook);
}

#[test]
fn rounds_that_cannot_be_are_told() {
    let look = |day, lost, taken| Look { day, lost, taken };
    assert_eq!(survival("pumpkin", 0, &[]), Err(SurvivalError::Empty));
    let order = survival("pumpkin", 5, &[look(9, 1, 0), look(3, 1, 0)]);
    assert_eq!(order, Err(SurvivalError::Order(3)));
    let many = survival("pumpkin", 5, &[look(9, 3, 3)]);
    assert_eq!(many, Err(SurvivalError::TooMany { day: 9, count: 5 }));
    let wraps = survival("pumpkin", 5, &[look(9, u32::MAX, 1)]);
    assert_eq!(wraps, Err(SurvivalError::TooMany { day: 9, count: 5 }));
}

fn told(label: &str, with_defect: f64, fruits: f64, clusters: u32) -> Share {
    let label = label.to_owned();
    share(&Tally { label, with_defect, fruits, clusters, basis: Basis::Counted }).expect("a share")
}

#[test]
fn two_fruits_are_not_a_finding_and_many_plants_are() {
    // Common practice: blossom-end rot gathers where watering was uneven.
    let hand = told("by hand", 2.0, 2.0, 2);
    let drip = told("drip", 0.0, 2.0, 2);
    let compared = compare(&hand, &drip);
    assert_eq!(compared.verdict, Verdict::NotEnoughToSay);
    assert!(compared.words.starts_with("not enough to say"), "{}", compared.words);
    let hand = told("by hand", 60.0, 200.0, 24);
    let drip = told("drip", 4.0, 220.0, 24);
    let compared = compare(&drip, &hand);
    assert_eq!((compared.verdict, compared.more.as_str()), (Verdict::Differ, "by hand"));
    assert!(compared.p < 0.01, "{}", compared.p);
    assert_eq!(standing_out(&[drip, hand]).len(), 1);
}

#[test]
fn clusters_widen_an_interval_and_never_narrow_it() {
    let width = |share: &Share| share.to - share.from;
    let alone = told("each by itself", 30.0, 100.0, 100);
    let (from, to) = clopper_pearson(30.0, 100.0, LEVEL);
    assert!((alone.from - from).abs() < 1e-6 && (alone.to - to).abs() < 1e-6, "no clusters");
    let beds = told("ten beds", 30.0, 100.0, 10);
    // deff = 1 + 9 · 0.1 = 1.9 (Kish): 52.6 effective fruits.
    assert!((beds.effective - 100.0 / 1.9).abs() < 1e-5, "{}", beds.effective);
    assert!(width(&beds) > width(&alone));
    assert!(width(&told("one bed", 30.0, 100.0, 1)) > width(&beds));
    assert!((told("spread thin", 3.0, 10.0, 50).effective - 10.0).abs() < 1e-9);
}

#[test]
fn shares_that_cannot_be_are_none() {
    let tally = |with_defect: f64, fruits: f64| Tally {
        label: "bed".into(),
        with_defect,
        fruits,
        clusters: 1,
        basis: Basis::FromWeight,
    };
    for (with, all) in [(0.0, 0.0), (2.0, 1.0), (-1.0, 5.0), (f64::NAN, 5.0), (1.0, f64::INFINITY)]
    {
        assert_eq!(share(&tally(with, all)), None, "{with} of {all}");
    }
    let words = share(&tally(3.0, 40.0)).expect("a share").words;
    assert!(words.contains("estimated from weight"), "{words}");
    assert!((fruits_of(Grams(4_400), 110.0) - 40.0).abs() < 1e-12);
    assert!(fruits_of(Grams(4_400), 0.0).abs() < 1e-12);
}

#[test]
fn dew_points_agree_with_psychrolib_and_azmet() {
    // Magnus after Alduchov and Eskridge, as used by Lawrence 2005 (V): a = 17.625, b = 243.04 °C.
    assert!((MAGNUS_A - 17.625).abs() < 1e-12 && (MAGNUS_B_CELSIUS - 243.04).abs() < 1e-12);
    for row in table().dew_points {
        let told = dew_point(row.celsius, row.humidity).expect("air");
        // AZMET/FAO 56 (V): B = (ln(RH/100) + 17.27T/(237.3+T))/17.27; Td = 237.3B/(1−B).
        let b = ((row.humidity / 100.0).ln() + 17.27 * row.celsius / (237.3 + row.celsius)) / 17.27;
        let azmet = 237.3 * b / (1.0 - b);
        let within = if row.humidity >= 50.0 { 0.04 } else { 0.15 };
        assert!((told - azmet).abs() < within, "{row:?}: {told}, AZMET {azmet}");
        // Below 0 °C psychrolib gives the frost point, over ice.
        if row.dew_point > 0.0 {
            assert!((told - row.dew_point).abs() < 0.06, "{row:?}: {told}");
        } else {
            assert!(told < row.dew_point + 0.06, "a dew point lies below the frost point: {row:?}");
        }
    }
    assert!((dew_point(12.3, 100.0).expect("air") - 12.3).abs() < 1e-9, "saturated");
    for (humidity, word) in [
        (0.0, "more than 0"),
        (-5.0, "more than 0"),
        (f64::NAN, "more than 0"),
        (100.1, "at most 100"),
    ] {
        let error = dew_point(10.0, humidity).expect_err("refuses").to_string();
        assert!(error.contains(word), "{error}");
    }
    assert!(dew_point(300.0, 50.0).is_err(), "kelvin is no Celsius");
}

#[test]
fn a_wet_bulb_gives_the_dew_point_of_its_height() {
    // e = ew − 0.00066(1 + 0.00115W)(T − W)P (AZMET, V): 10 °C, wet 8 °C at 1013.25 hPa:
    // 10.72 − 1.35 = 9.37 hPa, Td 6.1 °C. Higher up the same bulb means moister air.
    let sea = Site::from_degrees(46.7, 9.9).expect("on earth");
    let low = Moisture::WetBulb(8.0).dew_point(10.0, &sea).expect("a wet bulb");
    assert!((low - 6.1).abs() < 0.1, "{low}");
    let hill = sea.at_height(Altitude::from_metres(2_000));
    let high = Moisture::WetBulb(8.0).dew_point(10.0, &hill).expect("a wet bulb");
    assert!(high > low && high < 8.0, "{high}");
    assert!(Moisture::WetBulb(11.0).dew_point(10.0, &sea).is_err());
    assert!(Moisture::WetBulb(-20.0).dew_point(10.0, &sea).is_err());
}
