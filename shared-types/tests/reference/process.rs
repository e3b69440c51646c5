//! Process times, at both sides of every band edge, in feet and in metres.

use shared_types::trade::methods::{
    Gauge, Jar, RefusalKind, canner_minutes, load_jars, method, pressure_times, process_time,
    sterile_jar_minutes,
};
use shared_types::units::Altitude;

fn minutes(id: &str, jar: Jar, at: Altitude) -> Result<u32, RefusalKind> {
    let method = method(&id.into()).expect("a method");
    process_time(method, jar, at).map(|time| time.minutes).map_err(|refusal| refusal.kind)
}

#[test]
fn four_band_times() {
    // AIB 539 Guide 3 tables (V): juice and plain sauces 35/40/45/50 in pints, 40/45/50/55 in
    // quarts; whole or halved in water 40/45/50/55 and 45/50/55/60.
    let heights = [0, 1001, 3001, 6001].map(Altitude::from_feet);
    for (id, jar, row) in [
        ("tomato-juice", Jar::Pint, [35, 40, 45, 50]),
        ("tomato-juice", Jar::Quart, [40, 45, 50, 55]),
        ("tomato-sauce-thin", Jar::Pint, [35, 40, 45, 50]),
        ("tomato-sauce-thin", Jar::Quart, [40, 45, 50, 55]),
        ("tomato-sauce-thick", Jar::Pint, [35, 40, 45, 50]),
        ("tomato-sauce-thick", Jar::Quart, [40, 45, 50, 55]),
        ("tomatoes-whole-water", Jar::Pint, [40, 45, 50, 55]),
        ("tomatoes-whole-water", Jar::Quart, [45, 50, 55, 60]),
        // National Center's table in a copy (V): raw, no liquid, 85/90/95/100 in both sizes.
        ("tomatoes-whole-raw", Jar::Pint, [85, 90, 95, 100]),
        ("tomatoes-whole-raw", Jar::Quart, [85, 90, 95, 100]),
    ] {
        for (at, want) in heights.into_iter().zip(row) {
            assert_eq!(minutes(id, jar, at), Ok(want), "{id} {jar:?} {:.0} ft", at.feet());
        }
    }
}

#[test]
fn three_band_times() {
    // AIB 539 Guide 6 tables (V): these relishes and pickled bell peppers 5/10/15, hot peppers
    // 10/15/20. Guide 3 (V): ketchup and salsas 15/20/25. MSU 01600846 (V): pie filling 15/20/25,
    // quarts. Both sides of every edge, in feet and in metres (D: 304.8 m, 1828.8 m).
    let tenth = |metres_tenths: i64| Altitude::from_tenths_mm(metres_tenths * 1000);
    let heights = [
        (Altitude::from_feet(0), 0),
        (Altitude::from_feet(1000), 0),
        (tenth(3048), 0),
        (tenth(3049), 1),
        (Altitude::from_feet(1001), 1),
        (Altitude::from_metres(870), 1),
        (Altitude::from_feet(6000), 1),
        (tenth(18_288), 1),
        (tenth(18_289), 2),
        (Altitude::from_feet(6001), 2),
    ];
    let (half_pint, pint, quart) = (Jar::HalfPint, Jar::Pint, Jar::Quart);
    for (id, jar, row) in [
        ("green-tomato-relish", pint, [5, 10, 15]),
        ("mixed-green-relish", half_pint, [5, 10, 15]),
        ("mixed-green-relish", pint, [5, 10, 15]),
        ("peppers-pickled", half_pint, [5, 10, 15]),
        ("peppers-pickled", pint, [5, 10, 15]),
        ("pepper-onion-relish", half_pint, [5, 10, 15]),
        ("pepper-onion-relish", pint, [5, 10, 15]),
        ("hot-peppers-pickled", half_pint, [10, 15, 20]),
        ("hot-peppers-pickled", pint, [10, 15, 20]),
        ("tomato-ketchup", pint, [15, 20, 25]),
        ("chile-salsa", pint, [15, 20, 25]),
        ("salsa-paste-tomatoes", pint, [15, 20, 25]),
        ("salsa-tomato-and-paste", pint, [15, 20, 25]),
        ("salsa-green-tomatoes", pint, [15, 20, 25]),
        ("green-tomato-pie-filling", quart, [15, 20, 25]),
    ] {
        for (at, band) in heights {
            let want = row[band];
            assert_eq!(minutes(id, jar, at), Ok(want), "{id} {jar:?} {:.1} m", at.metres());
        }
    }
}

#[test]
fn band_edges_in_feet_and_metres() {
    // D: 1000 ft = 304.8 m, 3000 = 914.4, 6000 = 1828.8; above a top is the next band.
    let tenth = |metres_tenths: i64| Altitude::from_tenths_mm(metres_tenths * 1000);
    for (at, want) in [
        (Altitude::from_feet(1000), 40),
        (tenth(3048), 40),
        (tenth(3049), 45),
        (Altitude::from_tenths_mm(3_048_001), 45),
        (Altitude::from_feet(1001), 45),
        (tenth(9144), 45),
        (Altitude::from_feet(3000), 45),
        (tenth(9145), 50),
        (tenth(18_288), 50),
        (Altitude::from_feet(6000), 50),
        (tenth(18_289), 55),
        (Altitude::from_metres(870), 45),
        (Altitude::from_metres(-20), 40),
    ] {
        assert_eq!(minutes("tomato-juice", Jar::Quart, at), Ok(want), "{} m", at.metres());
    }
    for (at, want) in
        [(tenth(18_288), 10), (tenth(18_289), 15), (tenth(3048), 5), (tenth(3049), 10)]
    {
        assert_eq!(minutes("green-tomato-relish", Jar::Pint, at), Ok(want), "{} m", at.metres());
    }
}

#[test]
fn crushed_tomatoes_only_where_the_time_was_seen() {
    // 35 and 45 V at 0 to 1,000 ft; the altitude columns M, so unconfirmed and never planned.
    assert_eq!(minutes("tomatoes-crushed", Jar::Pint, Altitude::from_feet(500)), Ok(35));
    assert_eq!(minutes("tomatoes-crushed", Jar::Quart, Altitude::from_feet(1000)), Ok(45));
    for feet in [1001, 3000, 6001] {
        let found = minutes("tomatoes-crushed", Jar::Quart, Altitude::from_feet(feet));
        assert_eq!(found, Err(RefusalKind::Unconfirmed), "{feet} ft");
    }
}

#[test]
fn a_jar_without_a_published_time_is_refused() {
    // Penn State (V): a time "cannot be extended by any formula to a larger jar".
    let low = Altitude::from_metres(0);
    for (id, jar, want) in [
        ("tomato-juice", Jar::HalfGallon, RefusalKind::NoPublishedTime),
        ("green-tomato-relish", Jar::Quart, RefusalKind::NoPublishedTime),
        ("mixed-green-relish", Jar::Quart, RefusalKind::NoPublishedTime),
        // "Quart times for the salsas and ketchup: none published."
        ("tomato-ketchup", Jar::Quart, RefusalKind::NoPublishedTime),
        ("chile-salsa", Jar::Quart, RefusalKind::NoPublishedTime),
        ("salsa-paste-tomatoes", Jar::Quart, RefusalKind::NoPublishedTime),
        ("salsa-tomato-and-paste", Jar::Quart, RefusalKind::NoPublishedTime),
        ("salsa-green-tomatoes", Jar::Quart, RefusalKind::NoPublishedTime),
        ("green-tomato-pie-filling", Jar::Pint, RefusalKind::NoPublishedTime),
        // From memory only.
        ("salsa-green-chile", Jar::Pint, RefusalKind::Unconfirmed),
        ("sweet-green-pickles", Jar::Pint, RefusalKind::Unconfirmed),
        ("sweet-green-pickles", Jar::Quart, RefusalKind::Unconfirmed),
        ("peppers-plain-pressure", Jar::Pint, RefusalKind::PressureOnly),
        // The time would be the pint's, the quart's; but no amount of acid is published.
        ("tomato-juice", Jar::HalfPint, RefusalKind::NoPublishedAcid),
        ("tomato-juice", Jar::PintAndHalf, RefusalKind::NoPublishedAcid),
        ("squash-cubes-pressure", Jar::Quart, RefusalKind::PressureOnly),
        ("tomatoes-frozen-raw", Jar::Quart, RefusalKind::NotAJar),
        ("fresh", Jar::Pint, RefusalKind::NotAJar),
    ] {
        assert_eq!(minutes(id, jar, low), Err(want), "{id} {jar:?}");
    }
}

#[test]
fn half_pints_take_the_pints_time() {
    // Guide 1 (V): "Process times for 1/2-pint and pint jars are the same".
    for metres in [0, 870, 2000] {
        let at = Altitude::from_metres(metres);
        let (half, whole) = (Jar::HalfPint, Jar::Pint);
        let id = "green-tomato-relish";
        assert_eq!(minutes(id, half, at), minutes(id, whole, at), "{metres} m");
    }
}

#[test]
fn absurd_heights_are_refused_with_the_reason() {
    let juice = method(&"tomato-juice".into()).expect("a method");
    for metres in [-501, 5001, 90_000] {
        let refusal = process_time(juice, Jar::Pint, Altitude::from_metres(metres));
        let refusal = refusal.expect_err("refuses");
        assert_eq!(refusal.kind, RefusalKind::Altitude, "{metres} m");
        assert!(refusal.reason.contains("check the holding's height"), "{}", refusal.reason);
    }
    assert_eq!(minutes("tomato-juice", Jar::Pint, Altitude::from_metres(5000)), Ok(50));
}

#[test]
fn a_steam_canner_within_45_minutes_only() {
    // NCHFP 2015 (V): "45 minutes or less, including any elevation modification".
    let juice = method(&"tomato-juice".into()).expect("a method");
    let steam = |feet| {
        process_time(juice, Jar::Quart, Altitude::from_feet(feet)).expect("offered").steam_canner
    };
    assert!(steam(0) && steam(3000));
    assert!(!steam(3001), "50 minutes are too long");
}

#[test]
fn sterile_jars_where_the_time_is_under_ten_minutes() {
    // MSU 01600946 (V): boil empty jars 10 minutes, one more for each 1,000 ft.
    let boil = |id: &str, feet| {
        let method = method(&id.into()).expect("a method");
        sterile_jar_minutes(method, Jar::Pint, Altitude::from_feet(feet))
    };
    assert_eq!(boil("green-tomato-relish", 0), Some(10));
    assert_eq!(boil("green-tomato-relish", 1000), Some(11));
    assert_eq!(boil("green-tomato-relish", 2855), Some(13), "each 1,000 ft begun");
    assert_eq!(boil("tomato-juice", 0), None);
}

#[test]
fn canner_loads_and_their_minutes() {
    // Guide 1 (V): 7 quarts or 8 to 9 pints; 20 to 30 minutes until the water boils; wait 5 (V).
    assert_eq!((load_jars(Jar::Quart), load_jars(Jar::Pint)), (7, 9));
    // D in the reference: 85 minutes of process are 110 to 120 in all.
    assert_eq!(canner_minutes(85), (110, 120));
}

#[test]
fn pressure_times_are_alternatives_by_gauge() {
    // Guide 3 (V): juice and sauces dial 20 at 6/7/8/9 or 15 at 11/12/13/14 psi; weighted 20 at
    // 5/10, 15 at 10/15, 10 at 15/not recommended. Dial tables end at 8,000 ft.
    let juice = method(&"tomato-juice".into()).expect("a method");
    let told = |feet, gauge| -> Vec<(u32, u32)> {
        pressure_times(juice, Jar::Quart, Altitude::from_feet(feet))
            .into_iter()
            .filter(|time| time.gauge == gauge)
            .map(|time| (time.minutes, time.psi))
            .collect()
    };
    for (feet, psi) in [(2000, 6), (2001, 7), (4001, 8), (6001, 9), (8000, 9)] {
        assert_eq!(told(feet, Gauge::Dial), [(20, psi), (15, psi + 5)], "{feet} ft");
    }
    assert!(told(8001, Gauge::Dial).is_empty());
    assert_eq!(told(1000, Gauge::Weighted), [(20, 5), (15, 10), (10, 15)]);
    assert_eq!(told(1001, Gauge::Weighted), [(20, 10), (15, 15)]);
    let crushed = method(&"tomatoes-crushed".into()).expect("a method");
    let seen = pressure_times(crushed, Jar::Pint, Altitude::from_feet(0));
    assert!(seen.iter().all(|time| time.gauge == Gauge::Dial), "weighted is M");
}
