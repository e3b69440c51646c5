//! Forecasts asked for as JSON.

use shared_types::trade::ripening::case::{Answer, Case, explain_lot, run};
use shared_types::units::{Day, Grams};

fn told(text: &str) -> Result<Answer, String> {
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
    let answer = told(WHOLE).expect("runs");
    let forecast = &answer.forecast;
    assert_eq!(forecast.days.len(), 10);
    assert_eq!(forecast.days[0].day, Day::from_ymd(2026, 10, 12).expect("a day"));
    assert_eq!(forecast.lots[0].lot.as_deref(), Some("A"));
    assert!(forecast.lots[0].ready_today.p50 > Grams(3_000), "three days in the warm");
    assert_eq!(forecast.lots[3].ready_today.p50, Grams(1_000));
    assert_eq!((answer.quantile_days.len(), &answer.learned), (0, &None));
    let text = serde_json::to_string(&answer).expect("writes");
    let again: Answer = serde_json::from_str(&text).expect("reads");
    assert_eq!(again, answer);
}

const ROUNDS: &str = r#"{
  "today": "2026-10-20", "days": 8, "quantiles": [0.1, 0.25, 0.5, 0.9],
  "rooms": {"porch": {"min": 8, "max": 16, "readings": [{"at": "2026-10-18T18:00", "celsius": 11.4}]}},
  "lots": [
    {"lot": "A", "crop": "tomato", "variety": "paste", "class": "colouring", "kg": 25,
     "picked": "2026-10-09", "celsius": 18,
     "rounds": [{"day": "2026-10-13", "ripe_kg": 1.2, "lost_kg": 0.3},
                {"day": "2026-10-17", "ripe_grams": 2000, "lost_grams": 200, "left_kg": 20.9}]},
    {"lot": "B", "crop": "tomato", "stages": {"breakers": 12, "pink": 4}, "room": "porch"},
    {"lot": "C", "crop": "tomato", "variety": "paste", "class": "green", "kg": 10, "celsius": 18}
  ]
}"#;

#[test]
fn rounds_teach_and_quantiles_are_the_bands() {
    let answer = told(ROUNDS).expect("runs");
    let learned = answer.learned.expect("there were rounds");
    assert!(learned.varieties[0].rate.after.median < 0.85, "{:?}", learned.varieties[0].rate);
    let taught_nothing = told(&ROUNDS.replace(r#""days": 8"#, r#""days": 8, "learn": false"#));
    let untaught = taught_nothing.expect("runs");
    assert_eq!(untaught.learned, None);
    assert!(answer.forecast.lots[2].to > untaught.forecast.lots[2].to, "a slow variety is slow");
    for (day, quantiles) in answer.forecast.days.iter().zip(&answer.quantile_days) {
        assert_eq!(day.day, quantiles.day);
        let band = [day.by_then.p10, day.by_then.p50, day.by_then.p90];
        assert_eq!(band, [quantiles.by_then[0], quantiles.by_then[2], quantiles.by_then[3]]);
        assert!(quantiles.by_then.is_sorted());
    }
    // Left 20.9 kg on the 17th; 16 fruit of 110 g.
    assert_eq!(answer.forecast.lots[0].today.start, Grams(20_900));
    assert_eq!(answer.forecast.lots[1].today.start, Grams(1_760));
}

#[test]
fn a_lot_is_explained_in_words() {
    let case = Case::parse(ROUNDS).expect("reads");
    let words = explain_lot(&case, "A").expect("is a lot");
    for word in
        ["Ready today", "Still to come", "How sure", "Learned: paste runs", "behind the book"]
    {
        assert!(words.contains(word), "{word}: {words}");
    }
    let words = explain_lot(&case, "B").expect("is a lot");
    assert!(words.contains("breakers, pink") && words.contains("silent"), "{words}");
    let error = explain_lot(&case, "D").expect_err("is none").to_string();
    assert!(error.contains("one of A, B, C"), "{error}");
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
        (lot(r#"{"crop": "tomato", "kg": 1, "celsius": 20}"#), "`class`, or `stages`"),
        (lot(r#"{"crop": "tomato", "stages": {"breaker": 3}, "celsius": 20}"#), "unknown variant `breaker`"),
        (lot(r#"{"crop": "tomato", "stages": {"pink": -3}, "celsius": 20}"#), "-3 of stage pink"),
        (lot(r#"{"crop": "tomato", "stages": {"pink": 3}, "stage": "pink", "celsius": 20}"#), "stages once"),
        (lot(r#"{"crop": "pepper", "stages": {"pink": 3}, "celsius": 20}"#), "give its `class`"),
        (lot(r#"{"crop": "tomato", "class": "green", "kg": 1, "celsius": 20, "rounds": [{"day": "2026-10-13", "ripe_kg": 1}]}"#), "out of order"),
        (lot(r#"{"crop": "tomato", "class": "green", "kg": 1, "celsius": 20, "rounds": [{"day": "2026-10-12", "ripe_kg": -1}]}"#), "0 or more"),
        (lot(r#"{"crop": "tomato", "class": "green", "kg": 1, "celsius": 20, "rounds": [{"day": "2026-10-12", "ripe_kg": 1, "ripe_grams": 1}]}"#), "once"),
        (r#"{"today": "2026-10-12", "quantiles": [50], "lots": []}"#.to_owned(), "between 0 and 1"),
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
    let forecast = told(r#"{"today": "2026-10-12", "lots": []}"#).expect("runs").forecast;
    assert_eq!(forecast.days.len(), 14);
    assert_eq!(forecast.still_to_come.p90, Grams::ZERO);
}
