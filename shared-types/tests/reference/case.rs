//! Forecasts asked for as JSON.

use shared_types::trade::ripening::Forecast;
use shared_types::trade::ripening::case::{Case, run};
use shared_types::units::{Day, Grams};

fn told(text: &str) -> Result<Forecast, String> {
    let case = Case::parse(text).map_err(|error| error.to_string())?;
    run(&case).map_err(|error| error.to_string())
}

const WHOLE: &str = r#"{
  "today": "2026-10-12", "days": 10,
  "belief": {"rate": {"median": 1.0, "sd_log": 0.1}},
  "rooms": {"porch": {"celsius": 12, "humidity": 80}},
  "lots": [
    {"lot": "A", "crop": "tomato", "class": "colouring", "kg": 25, "picked": "2026-10-09", "celsius": 20.0},
    {"crop": "tomato", "class": "green", "stage": "green", "grams": 40000, "picked": "2026-10-09", "room": "porch"},
    {"crop": "pepper", "class": "colouring", "kg": 3.5, "sorted": "2026-10-12", "celsius":
      [{"day": "2026-10-09", "celsius": 12}, {"day": "2026-10-14", "celsius": 20}], "humidity": 60},
    {"crop": "tomato", "class": "ripe", "kg": 1, "room": {"celsius": 9}}
  ]
}"#;

#[test]
fn a_whole_case_runs_and_its_answer_reads_back() {
    let forecast = told(WHOLE).expect("runs");
    assert_eq!(forecast.days.len(), 10);
    assert_eq!(forecast.days[0].day, Day::from_ymd(2026, 10, 12).expect("a day"));
    assert_eq!(forecast.lots[0].lot.as_deref(), Some("A"));
    assert!(forecast.lots[0].ready_today.p50 > Grams(3_000), "three days in the warm");
    assert_eq!(forecast.lots[3].ready_today.p50, Grams(1_000));
    let text = serde_json::to_string(&forecast).expect("writes");
    let again: Forecast = serde_json::from_str(&text).expect("reads");
    assert_eq!(again, forecast);
}

#[test]
fn the_same_case_gives_the_same_bytes() {
    let text = |_| serde_json::to_string(&told(WHOLE).expect("runs")).expect("writes");
    assert_eq!(text(1), text(2));
}

#[test]
fn what_is_wrong_is_told_with_what_to_write() {
    let lot = |lot: &str| format!(r#"{{"today": "2026-10-12", "lots": [{lot}]}}"#);
    for (text, word) in [
        (lot(r#"{"crop": "gourd", "class": "ripe", "kg": 1, "celsius": 20}"#), "tomato, pepper, eggplant"),
        (lot(r#"{"crop": "tomato", "class": "red", "kg": 1, "celsius": 20}"#), "ripe, colouring, green, hurt"),
        (lot(r#"{"crop": "tomato", "class": "ripe", "stage": "pink", "kg": 1, "celsius": 20}"#), "it may be light red, red"),
        (lot(r#"{"crop": "pepper", "class": "ripe", "stage": "pink", "kg": 1, "celsius": 20}"#), "leave `stage` out"),
        (lot(r#"{"crop": "tomato", "class": "ripe", "celsius": 20}"#), "`kg` or `grams`"),
        (lot(r#"{"crop": "tomato", "class": "ripe", "kg": 1, "grams": 1000, "celsius": 20}"#), "weight once"),
        (lot(r#"{"crop": "tomato", "class": "ripe", "kg": -1, "celsius": 20}"#), "more than 0"),
        (lot(r#"{"crop": "tomato", "class": "ripe", "kg": 1}"#), "where it stands"),
        (lot(r#"{"crop": "tomato", "class": "ripe", "kg": 1, "room": "attic"}"#), "no room `attic`"),
        (lot(r#"{"crop": "tomato", "class": "ripe", "kg": 1, "celsius": 70}"#), "in Celsius"),
        (lot(r#"{"crop": "tomato", "class": "ripe", "kg": 1, "celsius": 20, "humidity": 120}"#), "1 to 100"),
        (lot(r#"{"crop": "tomato", "class": "ripe", "kg": 1, "celsius": 20, "picked": "2026-10-13"}"#), "out of order"),
        (lot(r#"{"crop": "tomato", "class": "ripe", "kg": 1, "celsius": 20, "colour": "red"}"#), "unknown field `colour`"),
        (lot(r#"{"lot": "B7", "crop": "tomato", "class": "ripe", "kg": 0, "celsius": 20}"#), "lot B7"),
        (r#"{"today": "12.10.", "lots": []}"#.to_owned(), "like 2026-10-09"),
        (r#"{"today": "2026-10-12", "days": 0, "lots": []}"#.to_owned(), "1 to 366"),
        (r#"{"today": "2026-10-12", "lots": [], "belief": {"rate": {"median": -1, "sd_log": 0}}}"#.to_owned(), "above 0"),
    ] {
        let error = told(&text).expect_err(&text);
        assert!(error.contains(word), "{error}");
    }
}

#[test]
fn no_lots_are_no_kilograms() {
    let forecast = told(r#"{"today": "2026-10-12", "lots": []}"#).expect("runs");
    assert_eq!(forecast.days.len(), 14);
    assert_eq!(forecast.still_to_come.p90, Grams::ZERO);
}
