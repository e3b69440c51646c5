//! Acid and headspace.

use shared_types::trade::methods::{Jar, Kind, RefusalKind, acid_for, all, method};
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
        ("tomatoes-frozen-raw", 1.0),
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
}
