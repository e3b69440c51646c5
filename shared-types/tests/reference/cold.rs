//! Freezing points, hardiness, covers, heat, and evenings worked out, against their sources.

use shared_types::trade::cold::{
    Closable, Evening, How, Level, LoggedNight, Moisture, Site, Sky, Stands, Thing, Tunnel,
    at_risk, category, chores, cover, covered, dew_point_words, freezing_point, freezing_points,
    growing, hardiness, heater, height, picked, tonight,
};
use shared_types::trade::provenance::source;
use shared_types::units::Day;

use super::fit::ten_nights;

#[test]
fn freezing_points_are_the_tables() {
    // Warmest first: the alarm's. AH-66 lineage (K), ASHRAE transcription (A), Cantwell 2001 (U),
    // USDA MRR-423; M where from memory. Conflicts carry both.
    for (crop, known) in [
        ("tomato", &[-0.5, -0.6, -0.8][..]),
        ("pepper", &[-0.7]),
        ("eggplant", &[-0.8]),
        ("pumpkin", &[-0.8]),
        ("winter-squash", &[-0.8]),
        ("summer-squash", &[-0.5]),
        ("cucumber", &[-0.5]),
        ("bean", &[-0.7]),
        ("watermelon", &[-0.4]),
        ("apple", &[-1.1, -1.5]),
        ("carrot", &[-1.4]),
        ("beet", &[-0.4, -0.9, -1.1]),
        ("cabbage", &[-0.9]),
        ("kale", &[-0.5]),
        ("onion", &[-0.8, -0.9]),
        ("garlic", &[-0.8, -2.0]),
        ("potato", &[-0.6]),
        ("parsnip", &[-0.9]),
    ] {
        let told: Vec<f64> = freezing_points(&crop.into()).iter().map(|row| row.celsius).collect();
        assert_eq!(told.len(), known.len(), "{crop}");
        assert!(told.iter().zip(known).all(|(a, b)| (a - b).abs() < 1e-9), "{crop}: {told:?}");
        let alarm = freezing_point(&crop.into()).expect("a row");
        assert!((alarm.celsius - known[0]).abs() < 1e-9, "{crop}");
        // "most vegetables from −1.5 to −0.5 °C" (Canadian appendix, V), with the reference's edges.
        assert!(told.iter().all(|celsius| (-2.0..=-0.2).contains(celsius)), "{crop}");
        assert!(freezing_points(&crop.into()).iter().all(|row| source(&row.source).is_some()));
    }
}

#[test]
fn hardiness_rows_are_the_lists() {
    // MSU 2014 after Purdue HO-203 (V); K-State (V); PMC10202904 table 2 (V).
    let classes = |crop: &str| -> Vec<String> {
        let mut all: Vec<_> = hardiness(&crop.into()).iter().map(|row| row.id.clone()).collect();
        all.sort();
        all
    };
    assert_eq!(classes("pepper"), ["msu-tender"]);
    assert_eq!(classes("tomato"), ["msu-tender", "pmc-chill"]);
    assert_eq!(classes("kale"), ["ksu-hardy", "msu-hardy", "pmc-hard"]);
    assert_eq!(classes("cabbage"), ["ksu-hardy", "msu-half-hardy", "pmc-hard"]);
    assert_eq!(classes("onion"), ["msu-hardy", "pmc-hard"]);
    // Conflicts: collards hardy (MSU) and half-hardy (K-State); potato hardy (MSU) and 0 to −2 °C.
    assert_eq!(classes("collards"), ["ksu-half-hardy", "msu-hardy"]);
    assert_eq!(classes("potato"), ["ksu-half-hardy", "msu-hardy", "pmc-tender"]);
    // The cautious one gives the alarm, the others are told beside it.
    let first = |crop: &str| growing(&crop.into())[0].celsius;
    assert!(first("potato").abs() < 1e-9, "foliage is tender");
    assert!((first("collards") + 2.22).abs() < 1e-9);
    assert!((first("kale") + 4.0).abs() < 1e-9, "leaves freeze at −0.5 °C and thaw unharmed");
    assert!(first("tomato").abs() < 1e-9, "chilling from +5 °C is no alarm for one night");
    assert!(growing(&"tomato".into()).iter().any(|row| row.chilling));
    assert!(growing(&"gravel".into()).is_empty());
    // Picked squash: freezing first, chilling below 10 °C beside it (UC Davis, V).
    let squash = picked(&"winter-squash".into());
    assert!((squash[0].celsius + 0.8).abs() < 1e-9 && !squash[0].chilling);
    assert!(squash.iter().any(|row| row.chilling && (row.celsius - 10.0).abs() < 1e-9));
}

#[test]
fn categories_have_no_holes() {
    // Light 29 to 32, moderate 25 to 28, severe ≤ 24 °F (V): 28.5 and 24.5 °F, in
    // the holes between, belong to the colder.
    let name =
        |fahrenheit: f64| category((fahrenheit - 32.0) * 5.0 / 9.0).map(|row| row.name.as_str());
    for (fahrenheit, known) in [
        (20.0, Some("severe freeze")),
        (24.5, Some("severe freeze")),
        (25.01, Some("moderate freeze")),
        (28.5, Some("moderate freeze")),
        (29.01, Some("light freeze")),
        (32.0, Some("light freeze")),
        (34.0, Some("frost")),
        (38.0, None),
    ] {
        assert_eq!(name(fahrenheit), known, "{fahrenheit} °F");
    }
    // Victoria: possible below 6 °C, probable below 0 °C; SSEC: 40 and 45 °F (V).
    let says = |celsius: f64| dew_point_words(celsius).expect("a row").words.as_str();
    assert!(says(-1.0).contains("probable"));
    assert!(says(4.0).contains("to be expected"));
    assert!(says(5.0).contains("possible"));
    assert!(says(9.0).contains("probably no frost"));
}

#[test]
fn heights_and_covers_are_cautious_ranges() {
    // Ground 2 to 4 °F below four feet, clear and calm (WAFB, V).
    let ground = height(Some(1_219), 0);
    assert!((ground.least + 4.0 / 1.8).abs() < 1e-9 && (ground.most + 2.0 / 1.8).abs() < 1e-9);
    let half = height(Some(1_219), 610);
    assert!((half.least - ground.least / 2.0).abs() < 0.01, "{half:?}");
    let above = height(Some(300), 1_500);
    assert!(above.least.abs() < 1e-12 && above.most.abs() < 1e-12, "no credit upwards");
    assert!(height(None, 300).why.contains("not noted"));

    // Light fabric 2 to 4 °F, plastic 1 to 5 °C, a tunnel 0 to 2 °F at night.
    let credit = |ids: &[&str]| {
        let layers: Vec<_> = ids.iter().map(|id| cover(id).expect("a cover")).collect();
        let told = covered(&layers);
        (told.least, told.most)
    };
    let close = |told: (f64, f64), known: (f64, f64)| {
        assert!((told.0 - known.0).abs() < 1e-9 && (told.1 - known.1).abs() < 1e-9, "{told:?}");
    };
    close(credit(&[]), (0.0, 0.0));
    close(credit(&["light-fabric"]), (2.0 / 1.8, 4.0 / 1.8));
    close(credit(&["plastic"]), (1.0, 5.0));
    close(credit(&["tunnel"]), (0.0, 2.0 / 1.8));
    // Layers do not simply add: the best cautious end, and no more than 5 °C.
    close(credit(&["tunnel", "light-fabric"]), (2.0 / 1.8, 6.0 / 1.8));
    close(credit(&["tunnel", "heavy-fabric", "plastic"]), (4.0 / 1.8, 5.0));
}

#[test]
fn heat_is_u_a_dt() {
    // A half-cylinder of 20 by 96 ft: A = ½·π·20·96 + ¼·π·20² = 3015.9 + 314.2 = 3330 ft² = 309.4 m².
    let tunnel = Tunnel { length_m: 96.0 * 0.3048, width_m: 20.0 * 0.3048, height_m: None };
    assert!((tunnel.skin_m2() / 0.092_903_04 - 3_330.088).abs() < 0.01, "{}", tunnel.skin_m2());
    // Single film, U 1.1 to 1.2 (M), 20 °F: 73,262 to 79,922 BTU/h; leaks of 10 to 25 % on top.
    let told = heater(&tunnel, "single", 0.0, -20.0 / 1.8).expect("a tunnel");
    assert!((told.btu_h[0] - 73_262.0 * 1.10).abs() < 15.0, "{:?}", told.btu_h);
    assert!((told.btu_h[1] - 79_922.0 * 1.25).abs() < 15.0, "{:?}", told.btu_h);
    assert!((told.kw[0] * 3_412.0 - told.btu_h[0]).abs() < 10.0, "1 kW is 3,412 BTU/h");
    // Two layers save about 35 % (Bartok 2013, V).
    let double = heater(&tunnel, "double", 0.0, -20.0 / 1.8).expect("a tunnel");
    let saved = 1.0 - (double.kw[0] + double.kw[1]) / (told.kw[0] + told.kw[1]);
    assert!((0.33..=0.40).contains(&saved), "{saved}");
    let words: String = told.cautions.iter().map(|said| said.text.as_str()).collect();
    for word in ["carbon monoxide", "ethylene", "extension", "licensed"] {
        assert!(words.contains(word), "{word}");
    }
    // Nothing to do when it is warmer outside; nonsense is told.
    assert!(heater(&tunnel, "single", 2.0, 5.0).expect("a tunnel").kw[1].abs() < 1e-12);
    assert!(heater(&tunnel, "paper", 2.0, 0.0).is_err());
    assert!(heater(&Tunnel { width_m: 0.0, ..tunnel }, "single", 2.0, 0.0).is_err());
    assert!(heater(&tunnel, "single", 2.0, f64::NAN).is_err());
}

fn evening(nights: Vec<LoggedNight>) -> Evening {
    Evening {
        day: Day::from_ymd(2026, 10, 9).expect("a day"),
        site: Site::from_degrees(46.7, 9.9).expect("on earth"),
        offset_minutes: 120,
        celsius: Some(4.5),
        moisture: Some(Moisture::DewPoint(-1.2)),
        read_at: None,
        sensor_height_mm: Some(1_500),
        sky: Some(Sky::Clear),
        wind_m_s: Some(0.5),
        official_low: None,
        nights,
    }
}

#[test]
fn ten_nights_make_a_fit_and_nine_a_rule_that_is_called_one() {
    let told = tonight(&evening(ten_nights())).expect("a night");
    assert_eq!(told.best.how, How::Fitted);
    // Night nine of the example: Tp −3.59.
    assert!((told.best.low + 3.59).abs() < 0.01, "{}", told.best.low);
    assert!(!told.best.fall_back && told.fit_refused.is_none());
    assert_eq!(told.category.as_ref().map(|row| row.name.as_str()), Some("moderate freeze"));
    assert!(told.trend.is_some() && told.hours_below.len() == 5);

    let told = tonight(&evening(ten_nights()[..9].to_vec())).expect("a night");
    assert_eq!(told.best.how, How::HalfWayRule);
    assert!(told.best.fall_back && told.best.how.words().contains("fall-back"));
    assert!(told.fit_refused.expect("says why").contains("1 more time"));
}

#[test]
fn the_fall_back_rules_hold_on_the_nights_they_come_from() {
    for (i, night) in ten_nights().iter().enumerate() {
        let one = Evening {
            celsius: Some(night.evening),
            moisture: night.dew_point.map(Moisture::DewPoint),
            ..evening(Vec::new())
        };
        for one in [one.clone(), Evening { moisture: None, ..one }] {
            let told = tonight(&one).expect("a night").best;
            let holds = told.from - 0.01 <= night.low && night.low <= told.to + 0.01;
            assert!(holds && told.fall_back, "night {}: {told:?}", i + 1);
        }
    }
}

#[test]
fn outside_its_scope_the_fit_is_refused() {
    for (change, word) in [
        (Evening { wind_m_s: Some(2.0), ..evening(ten_nights()) }, "wind of 2.0 m/s"),
        (Evening { sky: Some(Sky::PartCloud), ..evening(ten_nights()) }, "part cloud"),
        (Evening { sky: Some(Sky::Rain), ..evening(ten_nights()) }, "rain"),
    ] {
        let told = tonight(&change).expect("a night");
        assert!(told.best.fall_back, "{word}");
        assert!(told.fit_refused.expect("says why").contains(word), "{word}");
        // The official low knows of cloud and wind, and comes first then.
        let with = Evening { official_low: Some(3.0), ..change };
        assert_eq!(tonight(&with).expect("a night").best.how, How::Official);
    }
}

#[test]
fn the_official_low_is_shifted_by_own_nights() {
    let mut nights = ten_nights();
    for night in &mut nights {
        night.official_low = Some(night.low + 3.0);
    }
    let only = Evening {
        celsius: None,
        moisture: None,
        official_low: Some(1.0),
        ..evening(nights[..5].to_vec())
    };
    let told = tonight(&only).expect("a night");
    assert_eq!(told.best.how, How::OfficialHere);
    assert!((told.best.low + 2.0).abs() < 1e-9 && (told.best.to - told.best.from).abs() < 0.01);
    assert!(told.trend.is_none(), "without a reading no hour can be told");
    let few = Evening { nights: nights[..4].to_vec(), ..only };
    assert_eq!(tonight(&few).expect("a night").best.how, How::Official);
}

#[test]
fn the_south_has_its_own_autumn() {
    let south = Evening {
        day: Day::from_ymd(2026, 4, 30).expect("a day"),
        site: Site::from_degrees(-45.0, 168.7).expect("on earth"),
        offset_minutes: 720,
        ..evening(ten_nights())
    };
    let told = tonight(&south).expect("a night");
    assert!((told.best.low + 3.59).abs() < 0.01);
    let hours = told.night.expect("a night").hours();
    assert!((13.0..=15.0).contains(&hours), "a long autumn night: {hours}");
}

fn thing(crop: &str, stands: Stands, at_hand: &[&str]) -> Thing {
    Thing {
        id: crop.to_owned(),
        label: crop.to_owned(),
        crop: crop.into(),
        stands,
        covers: Vec::new(),
        at_hand: at_hand.iter().map(|id| (*id).to_owned()).collect(),
    }
}

#[test]
fn what_is_picked_is_at_risk_too_and_what_waits_is_left() {
    let told = tonight(&evening(ten_nights())).expect("a night");
    let growing = Stands::Growing { height_mm: None };
    let things = [
        thing("kale", growing, &[]),
        thing("parsnip", growing, &[]),
        thing("pepper", growing, &["light-fabric"]),
        thing("winter-squash", Stands::Porch, &[]),
        thing("onion", Stands::Tunnel, &[]),
        thing("potato", Stands::Shed, &[]),
        thing("tomato", Stands::Indoors, &[]),
    ];
    let risks = at_risk(&things, &told);
    let level = |crop: &str| {
        risks.iter().find(|risk| risk.thing.crop.as_str() == crop).expect("told").level
    };
    for crop in ["pepper", "winter-squash", "onion", "potato"] {
        assert_eq!(level(crop), Level::Expected, "{crop}");
    }
    assert_eq!(level("tomato"), Level::Safe);
    assert_eq!(risks.last().expect("seven").thing.crop.as_str(), "tomato");
    let closables = [Closable { id: "t".into(), label: "the tunnel".into(), heater: true }];
    let todo = chores(&told, &risks, &closables);
    let has = |key: &str| todo.iter().any(|chore| chore.key == format!("cold/2026-10-09/{key}"));
    for key in [
        "close/t",
        "cover/pepper",
        "carry-in/winter-squash",
        "carry-in/onion",
        "heat/t",
        "pick/kale",
    ] {
        assert!(has(key), "{key}");
    }
    // Kale waits for cold, but not below −5 °C; parsnips may freeze where they stand.
    for key in ["pick/parsnip", "carry-in/tomato"] {
        assert!(!has(key), "{key}");
    }
    let night = told.night.expect("a night");
    for chore in &todo {
        let at = chore.at.expect("a time");
        let morning =
            ["open", "look", "note"].iter().any(|word| chore.key.contains(&format!("/{word}")));
        assert_eq!(at >= night.sunrise, morning, "{}", chore.key);
    }
    let heat = todo.iter().find(|chore| chore.key.ends_with("heat/t")).expect("heat");
    assert!(heat.cautions.iter().any(|said| said.text.contains("carbon monoxide")));
}

#[test]
fn a_warm_night_has_no_chores() {
    let warm = Evening {
        celsius: Some(16.0),
        moisture: Some(Moisture::Humidity(90.0)),
        official_low: None,
        ..evening(Vec::new())
    };
    let told = tonight(&warm).expect("a night");
    let growing = Stands::Growing { height_mm: None };
    let risks = at_risk(&[thing("kale", growing, &[]), thing("pepper", growing, &[])], &told);
    assert!(risks.iter().all(|risk| risk.level == Level::Safe), "{risks:?}");
    assert!(chores(&told, &risks, &[]).is_empty());
    // Squash outside are chilled all the same: carry them in.
    let squash = at_risk(&[thing("winter-squash", Stands::Porch, &[])], &told);
    assert!(squash[0].chills && squash[0].level == Level::Safe, "{squash:?}");
    assert_eq!(chores(&told, &squash, &[]).len(), 1);
}
