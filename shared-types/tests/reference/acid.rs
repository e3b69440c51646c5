//! Acid and headspace.

use shared_types::trade::methods::{Jar, Kind, RefusalKind, acid_for, all, method};
use shared_types::trade::provenance::Sourced;
use shared_types::units::Measure;

#[test]
fn acid_per_jar() {
    // Guide 3 (V): bottled lemon juice 1 Tbsp a pint, 2 a quart; citric acid 1/4 and 1/2 tsp;
    // vinegar 4 Tbsp a quart. The pint's 2 Tbsp of vinegar is D, so it is not offered.
    for id in ["tomatoes-crushed", "tomato-juice", "tomato-sauce-thin", "tomatoes-whole-water"] {
        let method = method(&id.into()).expect("a method");
        let told = |jar| -> Vec<(String, f64, Measure)> {
            let acid = acid_for(method, jar).expect("published").expect("needed");
            acid.choices.into_iter().map(|one| (one.what, one.amount, one.unit)).collect()
        };
        let (lemon, citric, vinegar) = (
            "bottled lemon juice".to_owned(),
            "citric acid".to_owned(),
            "vinegar of 5 %".to_owned(),
        );
        let (tablespoon, teaspoon) = (Measure::Tablespoon, Measure::Teaspoon);
        let pint = [(lemon.clone(), 1.0, tablespoon), (citric.clone(), 0.25, teaspoon)];
        assert_eq!(told(Jar::Pint), pint, "{id}");
        let quart = [(lemon, 2.0, tablespoon), (citric, 0.5, teaspoon), (vinegar, 4.0, tablespoon)];
        assert_eq!(told(Jar::Quart), quart, "{id}");
        assert_eq!(
            acid_for(method, Jar::HalfPint).expect_err("none published").kind,
            RefusalKind::NoPublishedAcid
        );
    }
}

#[test]
fn acid_in_words() {
    let juice = method(&"tomato-juice".into()).expect("a method");
    let text = acid_for(juice, Jar::Pint).expect("published").expect("needed").text;
    assert_eq!(
        text,
        "In each pint: 1 tablespoon (14.8 mL) bottled lemon juice, or 1/4 teaspoon (1.2 mL) citric acid."
    );
}

#[test]
fn every_tomato_jar_is_acidified() {
    // Guide 3 (V): acidification is required for whole, crushed, juiced tomatoes and sauces.
    for method in all().iter().filter(|method| method.kind == Kind::Jar) {
        let tomatoes = method.takes.iter().any(|takes| takes.crop.as_str() == "tomato");
        if tomatoes {
            let acid = acid_for(method, Jar::Pint).expect("published");
            assert!(acid.is_some(), "{}", method.id);
        }
    }
}

#[test]
fn headspaces() {
    // Guide 3 and 6 (V): 1/2 in, sauces 1/4; freezing raw tomatoes 1 in.
    for (id, inches) in [
        ("tomatoes-crushed", 0.5),
        ("tomato-juice", 0.5),
        ("tomato-sauce-thin", 0.25),
        ("tomato-sauce-thick", 0.25),
        ("tomatoes-whole-water", 0.5),
        ("green-tomato-relish", 0.5),
        ("mixed-green-relish", 0.5),
        ("peppers-pickled", 0.5),
        ("squash-cubes-pressure", 1.0),
        ("tomatoes-whole-raw", 0.5),
        ("tomato-ketchup", 0.125),
        ("chile-salsa", 0.5),
        ("salsa-paste-tomatoes", 0.5),
        ("salsa-tomato-and-paste", 0.5),
        ("salsa-green-tomatoes", 0.5),
        ("green-tomato-pie-filling", 0.5),
        ("hot-peppers-pickled", 0.5),
        ("pepper-onion-relish", 0.5),
        ("peppers-plain-pressure", 1.0),
        // Freezing: raw 1 in, stewed the stricter 1 1/2 of two, sauce 1/2, greens and purée 1/2.
        ("tomatoes-frozen-raw", 1.0),
        ("tomatoes-stewed-frozen", 1.5),
        ("tomato-sauce-frozen", 0.5),
        ("peppers-frozen-blanched", 0.5),
        ("kale-frozen", 0.5),
        ("squash-puree-frozen", 0.5),
    ] {
        let method = method(&id.into()).expect("a method");
        let found = method.headspace_inches.as_ref().expect("a headspace");
        assert!((found.value - inches).abs() < 1e-12 && found.mark.is_seen(), "{id}");
    }
}

#[test]
fn the_overnight_relish_stands_twelve_hours() {
    // Guide 6 (V): "cover hot water, stand 12 h".
    let relish = method(&"mixed-green-relish".into()).expect("a method");
    let rest = relish.rest_hours.as_ref().expect("rests");
    assert!((rest.value - 12.0).abs() < 1e-12);
    assert!(relish.steps[0].evening_before);
    let quick = method(&"green-tomato-relish".into()).expect("a method");
    assert!(quick.rest_hours.is_none(), "simmered, no rest");
    // "Scheduling rests: ... sweet green tomatoes 4-6 h; all others none."
    for method in all() {
        let rests = ["mixed-green-relish", "sweet-green-pickles"].contains(&method.id.as_str());
        assert_eq!(method.rest_hours.is_some(), rests, "{}", method.id);
    }
    let sweet = method(&"sweet-green-pickles".into()).expect("a method");
    let hours = |value: &Option<Sourced<f64>>| value.as_ref().expect("told").value;
    assert!((hours(&sweet.rest_hours) - 4.0).abs() < 1e-12);
    assert!((hours(&sweet.rest_most_hours) - 6.0).abs() < 1e-12);
}

#[test]
fn recipes_as_printed() {
    // Guide 6 (V): 10 lb green tomatoes, 1.5 lb red and 1.5 lb green bell peppers, 2 lb onions,
    // 1/2 cup salt, 1 qt water, 4 cups sugar, 1 qt vinegar, 1/3 cup mustard, 2 Tbsp cornstarch.
    let amounts = |id: &str| -> Vec<f64> {
        let method = method(&id.into()).expect("a method");
        method.ingredients.iter().map(|part| part.amount).collect()
    };
    let relish = [1.5, 1.5, 2.0, 0.5, 1.0, 4.0, 1.0, 0.3333, 2.0];
    assert_eq!(amounts("green-tomato-relish"), relish);
    // 6 cups green tomato, 1.5 red and green pepper, 2.25 onion, 7.5 cabbage, 1/2 cup salt,
    // 4.5 cups vinegar, 3 cups brown sugar, 3 Tbsp spice.
    assert_eq!(amounts("mixed-green-relish"), [1.5, 1.5, 2.25, 7.5, 0.5, 4.5, 3.0, 3.0]);
    assert_eq!(amounts("peppers-pickled"), [3.5, 3.0, 3.0, 9.0, 4.5]);
    // Guide 3 (V): 3 c onion, 3/4 tsp cayenne, 3 c vinegar, 4 tsp cloves, 3 sticks cinnamon, 1.5 tsp
    // allspice, 3 Tbsp celery seed, 1.5 c sugar, 1/4 c salt to 24 lb.
    assert_eq!(amounts("tomato-ketchup"), [3.0, 0.75, 3.0, 4.0, 3.0, 1.5, 3.0, 1.5, 0.25]);
    // Salsa pages (V): 2 lb chile, 1 lb onion, 1 c vinegar, 3 tsp salt, 1/2 tsp pepper to 5 lb.
    assert_eq!(amounts("chile-salsa"), [2.0, 1.0, 1.0, 3.0, 0.5]);
    // 4 c chile, 5 c onion, 1/2 c jalapeño, 6 cloves, 2 c juice, 2 Tbsp salt, 1 Tbsp pepper to 7 qt.
    assert_eq!(amounts("salsa-paste-tomatoes"), [4.0, 5.0, 0.5, 6.0, 2.0, 2.0, 1.0]);
    // Guide 3 (V): 3 c onion, 6 jalapeños, 4 chiles, 4 cloves, 24 oz paste, 2 c juice, 1 Tbsp salt,
    // 1 Tbsp sugar, 1 tsp pepper to 3 qt.
    let salsa = [3.0, 6.0, 4.0, 4.0, 24.0, 2.0, 1.0, 1.0, 1.0];
    assert_eq!(amounts("salsa-tomato-and-paste"), salsa);
    // 1.5 c chile, 1/2 c jalapeño, 4 c onion, 6 cloves, 1 c juice, 1 Tbsp salt, 1 tsp pepper to 5 c.
    assert_eq!(amounts("salsa-green-tomatoes"), [1.5, 0.5, 4.0, 6.0, 1.0, 1.0, 1.0]);
    // MSU 01600846 (V): 3 qt apple, 2 lb raisins, 1/4 c peel, 2 c water, 2.5 c of each sugar, 1/2 c
    // vinegar, 1 c bottled lemon juice, 2 Tbsp cinnamon, 1 tsp nutmeg, 1 tsp cloves to 4 qt.
    let pie = [3.0, 2.0, 0.25, 2.0, 2.5, 2.5, 0.5, 1.0, 2.0, 1.0, 1.0];
    assert_eq!(amounts("green-tomato-pie-filling"), pie);
    // Guide 6 (V): 3 lb sweet, 5 c vinegar, 1 c water, 4 tsp salt, 2 Tbsp sugar, 2 cloves to 4 lb hot.
    assert_eq!(amounts("hot-peppers-pickled"), [3.0, 5.0, 1.0, 4.0, 2.0, 2.0]);
    // Guide 6 (V): 6 c onion, 1.5 c sugar, 6 c vinegar, 2 Tbsp salt to 6 c peppers.
    assert_eq!(amounts("pepper-onion-relish"), [6.0, 1.5, 6.0, 2.0]);
    for (id, amount) in [
        ("green-tomato-relish", 10.0),
        ("mixed-green-relish", 6.0),
        ("peppers-pickled", 7.0),
        ("tomato-ketchup", 24.0),
        ("chile-salsa", 5.0),
        ("salsa-paste-tomatoes", 7.0),
        ("salsa-tomato-and-paste", 3.0),
        ("salsa-green-tomatoes", 5.0),
        ("green-tomato-pie-filling", 4.0),
        ("hot-peppers-pickled", 4.0),
        ("pepper-onion-relish", 6.0),
    ] {
        let base = method(&id.into()).expect("a method").base.as_ref().expect("a recipe");
        assert!((base.amount - amount).abs() < 1e-12 && base.mark.is_seen(), "{id}");
    }
}
