//! Files that are wrong on purpose: each is refused, and the line is the right one.

use serde_json::Value;

use super::*;
use crate::trade::crops;
use crate::trade::methods::{all, bands, method};
use crate::trade::provenance::sources;

fn known() -> Known {
    Known {
        crops: crops::all()
            .iter()
            .map(|crop| {
                let classes = crop.classes.iter().map(|class| class.id.to_string());
                (crop.slug.to_string(), classes.collect())
            })
            .collect(),
        sources: sources().keys().cloned().collect(),
        columns: ["four", "three", "dial", "weighted"]
            .into_iter()
            .map(|name| (name.to_owned(), bands(name).expect("such bands").columns()))
            .collect(),
    }
}

/// A good file with one value changed, written one value a line.
fn spoiled(id: &str, pointer: &str, value: Value) -> (Method, String) {
    let good = method(&id.into()).expect("a method");
    let mut json = serde_json::to_value(good).expect("writes");
    *json.pointer_mut(pointer).expect("such a value") = value;
    let text = serde_json::to_string_pretty(&json).expect("writes");
    (serde_json::from_str(&text).expect("still of the form"), text)
}

#[test]
fn the_files_as_they_stand_are_right() {
    for method in all() {
        assert_eq!(faults(method, &known()), [], "{}", method.id);
    }
}

#[test]
fn a_wrong_value_is_named_with_its_line() {
    let (juice, relish, squash) = ("tomato-juice", "green-tomato-relish", "squash-cubes-pressure");
    for (id, pointer, value, words) in [
        (juice, "/takes/0/crop", "tomatto".into(), "no crop `tomatto`"),
        (juice, "/takes/0/classes/0", "blue".into(), "no class `blue`"),
        (juice, "/process/0/minutes/2/source", "hearsay".into(), "no source `hearsay`"),
        (juice, "/process/0/minutes/2/value", 39.into(), "more minutes than the one below"),
        (juice, "/process/1/minutes/3/value", 500.into(), "minutes are 1 to 120"),
        (juice, "/process/1/minutes/3/mark", "assumption".into(), "never worked out"),
        (juice, "/process/0/bands", "three".into(), "3 bands, 4 minutes"),
        (juice, "/process/0/bands", "five".into(), "no bands `five`"),
        (juice, "/process/1/jar", "pint".into(), "a row already"),
        (juice, "/process/1/jar", "half_gallon".into(), "half-gallon"),
        (juice, "/acid", false.into(), "without acid never in boiling water"),
        (juice, "/cautions", Value::Array(Vec::new()), "a jar has cautions"),
        (juice, "/headspace_inches", Value::Null, "a jar has a headspace"),
        (squash, "/pressure/0/psi/3", 16.into(), "15 psi at most"),
        (squash, "/pressure/0/gauge", "weighted".into(), "2 bands, 4 pressures"),
        (squash, "/steam", true.into(), "no steam canner"),
        (relish, "/ingredients/0/amount", 0.into(), "above nothing"),
        (relish, "/ingredients/0/crop", "paprika".into(), "no crop `paprika`"),
        (relish, "/steps/0/evening_before", true.into(), "only where it `rests`"),
        (relish, "/steps/0/rests", true.into(), "one step `rests`"),
        (relish, "/kind", "freeze".into(), "only a jar has process times"),
        (relish, "/yields/0/lb", Value::Null, "either `lb` or `kg`"),
    ] {
        let (method, text) = spoiled(id, pointer, value);
        let found = faults(&method, &known());
        let fault = found.iter().find(|fault| fault.words.contains(words));
        let fault = fault.unwrap_or_else(|| panic!("{id} {pointer}: {found:?}"));
        let line = text.lines().nth(line_of(&text, &fault.at) - 1).expect("such a line");
        let key = fault.at.rsplit('/').find(|step| step.parse::<usize>().is_err());
        let key = key.expect("a key");
        let is_there = text.contains(&format!("\"{key}\""));
        let in_a_list = fault.at.ends_with(|last: char| last.is_ascii_digit());
        assert!(in_a_list || !is_there || line.contains(key), "{}: {line}", fault.at);
    }
}

#[test]
fn lines_are_counted_from_one() {
    let text = "{\n  \"a\": [\n    1,\n    {\"b\": 2}\n  ]\n}\n";
    for (pointer, line) in
        [("", 1), ("/a", 2), ("/a/0", 3), ("/a/1", 4), ("/a/1/b", 4), ("/a/1/c", 4), ("/z", 1)]
    {
        assert_eq!(line_of(text, pointer), line, "{pointer}");
    }
}
