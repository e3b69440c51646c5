//! Offers and refusals: canners, confirmations, and the end of a table.

use shared_types::trade::methods::{
    Ask, Canner, Confirmed, Jar, Kind, Method, Offer, Refusal, RefusalKind, all, method, named,
    offer, rows_to_confirm, told,
};
use shared_types::units::{Altitude, Day};

fn ask(jar: Jar, feet: i64, canner: Canner) -> Ask<'static> {
    Ask { jar, altitude: Altitude::from_feet(feet), canner, confirmed: &[] }
}

fn of(id: &str) -> &'static Method {
    method(&id.into()).expect("a method")
}

fn kind(answer: Result<Offer, Refusal>) -> RefusalKind {
    let refusal = answer.expect_err("refuses");
    assert!(!refusal.reason.is_empty() && !refusal.source.is_empty(), "{refusal:?}");
    refusal.kind
}

#[test]
fn pressure_tables_by_band_and_gauge() {
    // Guide 3 to 5 (V): minutes at psi for 0-2000/2001-4000/4001-6000/6001-8000 ft on a dial, and
    // 0-1000/above on a weight. Rows of a table are alternatives for pints and quarts (C5).
    let dial =
        [(0, 0), (2000, 0), (2001, 1), (4000, 1), (4001, 2), (6000, 2), (6001, 3), (8000, 3)];
    let weighted = [(0, 0), (1000, 0), (1001, 1), (9000, 1)];
    let (low, high, firm) = ([6, 7, 8, 9], [11, 12, 13, 14], [10, 15]);
    for (id, jar, minutes, psi_dial, psi_weighted) in [
        ("tomato-juice", Jar::Pint, 20, low, [5, 10]),
        ("tomato-sauce-thin", Jar::Quart, 20, low, [5, 10]),
        ("tomatoes-whole-water", Jar::Quart, 15, low, [5, 10]),
        ("tomatoes-whole-raw", Jar::Pint, 40, low, [5, 10]),
        ("squash-cubes-pressure", Jar::Pint, 55, high, firm),
        ("squash-cubes-pressure", Jar::Quart, 90, high, firm),
        ("peppers-plain-pressure", Jar::HalfPint, 35, high, firm),
        ("peppers-plain-pressure", Jar::Pint, 35, high, firm),
        // Guide 1 (V): half-pints take the pint's time.
        ("squash-cubes-pressure", Jar::HalfPint, 55, high, firm),
    ] {
        for (feet, band) in dial {
            let told = offer(of(id), ask(jar, feet, Canner::Dial)).expect("offered");
            assert_eq!((told.minutes, told.psi), (minutes, Some(psi_dial[band])), "{id} {feet} ft");
        }
        for (feet, band) in weighted {
            let told = offer(of(id), ask(jar, feet, Canner::Weighted)).expect("offered");
            let psi = Some(psi_weighted[band]);
            assert_eq!((told.minutes, told.psi), (minutes, psi), "{id} {feet} ft");
        }
        // D: 8,000 ft is 2438.4 m; a tenth of a millimetre above it is above the table.
        let above = Altitude::from_tenths_mm(24_384_001);
        let asked = Ask { altitude: above, ..ask(jar, 0, Canner::Dial) };
        assert_eq!(kind(offer(of(id), asked)), RefusalKind::AboveTable, "{id}");
    }
    let juice = offer(of("tomato-juice"), ask(Jar::Quart, 0, Canner::Weighted)).expect("offered");
    let others: Vec<_> = juice.alternatives.iter().map(|one| (one.minutes, one.psi)).collect();
    assert_eq!(others, [(15, 10), (10, 15)]);
    let quarts = offer(of("peppers-plain-pressure"), ask(Jar::Quart, 0, Canner::Dial));
    assert_eq!(kind(quarts), RefusalKind::NoPublishedTime);
    let relish = offer(of("green-tomato-relish"), ask(Jar::Pint, 0, Canner::Dial));
    assert_eq!(kind(relish), RefusalKind::NoPublishedPressure);
}

#[test]
fn acid_is_asked_for_under_pressure_too() {
    // Guide 3 (V): "Acidification is still required for the pressure canning options".
    for canner in [Canner::BoilingWater, Canner::Steam, Canner::Dial, Canner::Weighted] {
        let told = offer(of("tomato-juice"), ask(Jar::Quart, 500, canner)).expect("offered");
        assert!(told.acid.expect("acid").text.contains("2 tablespoons (29.6 mL) bottled lemon"));
        let half = offer(of("tomato-juice"), ask(Jar::HalfPint, 500, canner));
        assert_eq!(kind(half), RefusalKind::NoPublishedAcid);
    }
}

#[test]
fn steam_is_for_acid_food_and_45_minutes() {
    // NCHFP 2015 (V): acid food, boiling-water time, 45 minutes or less with the height counted;
    // tested with half-pints, pints and quarts.
    let steam = |id, jar, feet| offer(of(id), ask(jar, feet, Canner::Steam));
    assert_eq!(steam("tomatoes-whole-water", Jar::Quart, 1000).expect("45 minutes").minutes, 45);
    assert_eq!(
        kind(steam("tomatoes-whole-water", Jar::Quart, 1001)),
        RefusalKind::NotInSteam,
        "50 minutes"
    );
    assert_eq!(kind(steam("tomatoes-whole-raw", Jar::Pint, 0)), RefusalKind::NotInSteam);
    assert_eq!(kind(steam("squash-cubes-pressure", Jar::Pint, 0)), RefusalKind::PressureOnly);
    assert!(steam("green-tomato-relish", Jar::Pint, 6001).is_ok());
}

#[test]
fn an_owners_reading_confirms_one_row_and_no_other() {
    let crushed = of("tomatoes-crushed");
    let waiting = rows_to_confirm(crushed);
    let pint = waiting.iter().find(|row| row.row.contains("water/pint")).expect("a row");
    assert!(pint.words.contains("35, 40, 45, 50 minutes"), "{}", pint.words);
    let confirmed = [Confirmed {
        method: crushed.id.clone(),
        row: pint.row.clone(),
        edition: "2015".to_owned(),
        page: "3-7".to_owned(),
        day: Day::from_ymd(2026, 10, 9).expect("a day"),
    }];
    let with = |jar, method| {
        let asked = ask(jar, 2855, Canner::BoilingWater);
        offer(method, Ask { confirmed: &confirmed, ..asked })
    };
    let told = with(Jar::Pint, crushed).expect("confirmed");
    assert_eq!(told.minutes, 40);
    let by = told.confirmed.expect("by the owner").words();
    assert_eq!(by, "confirmed by you: 2015, page 3-7, 2026-10-09");
    assert_eq!(kind(with(Jar::Quart, crushed)), RefusalKind::Unconfirmed, "another row");
    assert_eq!(kind(with(Jar::Pint, of("salsa-green-chile"))), RefusalKind::Unconfirmed);
    // What was seen stays seen, and says so.
    assert!(with(Jar::Pint, of("tomato-juice")).expect("seen").confirmed.is_none());
    // Other numbers are another row.
    let mended =
        Confirmed { row: "boiling-water/pint/35-40-45-55".to_owned(), ..confirmed[0].clone() };
    let asked = ask(Jar::Pint, 2855, Canner::BoilingWater);
    let answer = offer(crushed, Ask { confirmed: &[mended], ..asked });
    assert_eq!(kind(answer), RefusalKind::Unconfirmed);
}

#[test]
fn all_rows_of_a_remembered_recipe_must_be_confirmed() {
    let sweet = of("sweet-green-pickles");
    let rows: Vec<Confirmed> = rows_to_confirm(sweet)
        .into_iter()
        .map(|row| Confirmed {
            method: row.method,
            row: row.row,
            edition: "2015".to_owned(),
            page: "6-20".to_owned(),
            day: Day::from_ymd(2026, 10, 9).expect("a day"),
        })
        .collect();
    // Headspace, pints, quarts, recipe.
    assert_eq!(rows.len(), 4);
    let with = |confirmed: &[Confirmed]| {
        offer(sweet, Ask { confirmed, ..ask(Jar::Pint, 0, Canner::BoilingWater) }).is_ok()
    };
    assert!(with(&rows));
    for without in 0..rows.len() {
        let mut some = rows.clone();
        let gone = some.remove(without);
        assert_eq!(with(&some), gone.row.contains("quart"), "{}", gone.row);
    }
}

#[test]
fn nothing_offered_for_a_shelf_is_from_memory() {
    let heights = [0, 1000, 1001, 2855, 3001, 6001, 8000, 10_000];
    let mut offered = 0;
    for method in all() {
        for jar in Jar::ALL {
            for canner in Canner::ALL {
                for feet in heights {
                    let Ok(told) = offer(method, ask(jar, feet, canner)) else { continue };
                    offered += 1;
                    assert!(method.kind == Kind::Jar && jar != Jar::HalfGallon, "{}", method.id);
                    assert!(told.mark.is_seen() && told.headspace_inches.mark.is_seen());
                    assert!(told.confirmed.is_none() && !told.cautions.is_empty());
                    for choice in told.acid.iter().flat_map(|acid| &acid.choices) {
                        assert!(choice.mark.is_seen(), "{} {}", method.id, choice.what);
                    }
                    for part in &method.ingredients {
                        let carries = part.role.never_less() || part.role.never_more();
                        assert!(part.mark.is_seen() || !carries, "{} {}", method.id, part.name);
                    }
                }
            }
        }
    }
    assert!(offered > 500, "{offered}");
}

#[test]
fn what_is_told_cites_every_source_and_either_offers_or_refuses() {
    for method in all() {
        for (jar, canner) in [(None, None), (Some(Jar::Quart), Some(Canner::Steam))] {
            for metres in [0, 870, 2500, 6000] {
                let told = told(method, jar, canner, Altitude::from_metres(metres), &[]);
                let answers =
                    usize::from(told.offer.is_some()) + usize::from(told.refusal.is_some());
                assert_eq!(answers, usize::from(method.kind == Kind::Jar), "{}", method.id);
                assert!(told.offer.is_none() || told.instead.is_empty());
                let text = serde_json::to_value(&told).expect("writes");
                assert_cited(&text, &told.sources.keys().cloned().collect::<Vec<_>>());
            }
        }
    }
}

fn assert_cited(value: &serde_json::Value, known: &[String]) {
    match value {
        serde_json::Value::Object(all) => {
            for (key, inner) in all {
                if let (true, Some(id)) = (key == "source", inner.as_str()) {
                    assert!(known.iter().any(|one| one == id), "{id} is not cited");
                }
                if key != "sources" {
                    assert_cited(inner, known);
                }
            }
        }
        serde_json::Value::Array(all) => all.iter().for_each(|inner| assert_cited(inner, known)),
        _ => {}
    }
}

#[test]
fn methods_are_found_by_what_people_type() {
    for (typed, id) in [
        ("tomato-juice", "tomato-juice"),
        ("Tomato Juice", "tomato-juice"),
        ("ketchup", "tomato-ketchup"),
        ("Pie filling", "green-tomato-pie-filling"),
        ("FEED", "feed"),
    ] {
        assert_eq!(named(typed).expect("found").id.as_str(), id);
    }
    let several = named("salsa").expect_err("several").to_string();
    assert!(several.contains("say which") && several.contains("chile-salsa"), "{several}");
    assert!(named("jam").expect_err("none").to_string().contains("there are: "));
    assert!(named(" ").is_err());
}
