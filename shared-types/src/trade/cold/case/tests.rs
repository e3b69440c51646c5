use super::super::{How, Level};
use super::{Answer, Case, run};

fn told(text: &str) -> Result<Answer, String> {
    let case = Case::parse(text).map_err(|error| error.to_string())?;
    run(&case).map_err(|error| error.to_string())
}

/// The case of the module's page, with more in it.
fn with(more: &str) -> String {
    format!(
        r#"{{"day": "2026-10-09", "latitude": 46.7, "longitude": 9.9, "utc_offset_minutes": 120{more}}}"#
    )
}

#[test]
fn a_case_in_fahrenheit_and_feet_is_the_case_in_celsius_and_metres() {
    let metric = with(
        r#", "height_m": 304.8, "evening": 5, "dew_point": 0, "sensor_height_m": 1.524, "wind_m_s": 0.44704,
        "sky": "clear", "heater": {"length_m": 30.48, "width_m": 6.096, "inside": 5, "outside": -5}"#,
    );
    let imperial = with(
        r#", "height_ft": 1000, "unit": "F", "evening": 41, "dew_point": "0 °C", "sensor_height_ft": 5,
        "wind_mph": 1, "sky": "clear",
        "heater": {"length_ft": 100, "width_ft": 20, "inside": 41, "outside": "23 F"}"#,
    );
    let (metric, imperial) = (told(&metric).expect("runs"), told(&imperial).expect("runs"));
    assert_eq!(metric.tonight.best, imperial.tonight.best);
    assert_eq!(metric.heater, imperial.heater);
    assert_eq!(metric.tonight.sensor_height_mm, Some(1524));
}

#[test]
fn the_answer_has_clock_times_and_reads_back() {
    let answer = told(&with(
        r#", "evening": 5, "humidity": 60, "things": [
          {"id": "bed-3", "label": "Pepper, bed 3", "crop": "pepper", "at_hand": ["light-fabric"]},
          {"crop": "winter-squash", "stands": "porch"}, {"crop": "kale"}, {"crop": "onion", "stands": "indoors"}],
          "tunnels": [{"id": "t", "label": "the tunnel", "heater": true}]"#,
    ))
    .expect("runs");
    assert_eq!(answer.clock.sunset.as_deref(), Some("2026-10-09 18:45"));
    assert_eq!(answer.clock.read_at.as_deref(), Some("2026-10-09 20:45"));
    assert!(!answer.clock.offset_assumed);
    assert_eq!(answer.at_risk.len(), 4);
    assert_eq!(answer.at_risk[0].level, Level::Expected);
    assert_eq!(answer.at_risk[3].thing.crop.as_str(), "onion");
    let keys: Vec<&str> = answer.chores.iter().map(|chore| chore.chore.key.as_str()).collect();
    for key in [
        "cold/2026-10-09/close/t",
        "cold/2026-10-09/cover/bed-3",
        "cold/2026-10-09/carry-in/2",
        "cold/2026-10-09/heat/t",
        "cold/2026-10-09/open/t",
        "cold/2026-10-09/look-frozen/all",
        "cold/2026-10-09/look-thawed/all",
    ] {
        assert!(keys.contains(&key), "{key} in {keys:?}");
    }
    assert!(answer.chores.is_sorted_by_key(|chore| chore.chore.at));
    let text = serde_json::to_string(&answer).expect("writes");
    let again: Answer = serde_json::from_str(&text).expect("reads");
    assert_eq!((again.tonight.best, again.clock), (answer.tonight.best, answer.clock));
    assert_eq!((again.at_risk.len(), again.chores), (answer.at_risk.len(), answer.chores));
}

#[test]
fn an_odd_hour_is_told_and_the_dew_point_goes_on_alone() {
    let answer =
        told(&with(r#", "evening": 9, "dew_point": 2, "read_at": "17:00""#)).expect("runs");
    assert_eq!(answer.tonight.best.how, How::DewPointRule);
    assert!(answer.tonight.trend.is_none());
    let alone = told(&with(r#", "evening": 9, "read_at": "17:00""#)).expect_err("nothing to go by");
    assert!(alone.contains("two hours after sunset"), "{alone}");
    // Past midnight belongs to the same night.
    let late = told(&with(r#", "evening": 3, "dew_point": 2, "read_at": "01:30""#)).expect("runs");
    let hours = late.tonight.reading.and_then(|reading| reading.hours_after_sunset);
    assert!(hours.is_some_and(|hours| (hours - 6.73).abs() < 0.02), "{hours:?}");
}

#[test]
fn what_is_wrong_is_told_with_what_to_write() {
    for (more, word) in [
        ("", "nothing to go by"),
        (r#", "humidity": 60"#, "give both"),
        (r#", "evening": 5, "humidity": 0"#, "more than 0"),
        (r#", "evening": 5, "humidity": 101"#, "at most 100"),
        (r#", "evening": 5, "humidity": -3"#, "more than 0"),
        (r#", "evening": 5, "dew_point": 9"#, "above the air"),
        (r#", "evening": 5, "wet_bulb": 6"#, "does not fit"),
        (r#", "evening": 5, "humidity": 60, "dew_point": 1"#, "moisture once"),
        (r#", "evening": 68"#, "Fahrenheit"),
        (r#", "evening": "warm""#, "like \"41 F\""),
        (r#", "evening": 5, "wind_m_s": 1, "wind_mph": 2"#, "wind once"),
        (r#", "evening": 5, "wind_m_s": -1"#, "0 to 100"),
        (r#", "evening": 5, "sensor_height_m": 1, "sensor_height_ft": 2"#, "once"),
        (r#", "evening": 5, "sensor_height_m": -1"#, "above ground"),
        (r#", "evening": 5, "height_m": 87000"#, "garden's"),
        (r#", "evening": 5, "read_at": "quarter past""#, "clock time"),
        (r#", "evening": 5, "sky": "blue""#, "part_cloud"),
        (r#", "evening": 5, "colour": "red""#, "unknown field `colour`"),
        (
            r#", "evening": 5, "things": [{"crop": "kale", "stands": "attic"}]"#,
            "growing, open, porch",
        ),
        (r#", "evening": 5, "things": [{"crop": "kale", "covers": ["hat"]}]"#, "light-fabric"),
        (r#", "evening": 5, "heater": {"width_m": 3}"#, "length_m"),
        (
            r#", "evening": 5, "heater": {"length_m": 5, "width_m": 3, "skin": "paper"}"#,
            "polycarbonate",
        ),
        (r#", "evening": 5, "heater": {"length_m": 5000, "width_m": 3}"#, "0.5 to 500"),
        (r#", "evening": 5, "nights": [{"evening": 1}]"#, "missing field `low`"),
        (r#", "evening": 5, "nights": [{"evening": "x", "low": 1}]"#, "night 1"),
        (r#", "evening": 5, "hill_shadow": {"evening_minutes": 600}"#, "0 to 240"),
    ] {
        let error = told(&with(more)).expect_err(more);
        assert!(error.contains(word), "{more}: {error}");
    }
    let beyond = told(r#"{"day": "2026-10-09", "latitude": 95, "longitude": 0}"#);
    assert!(beyond.expect_err("refuses").contains("beyond a pole"));
}

#[test]
fn no_sunset_is_a_clear_answer_and_the_official_low_still_serves() {
    let polar = |more: &str| {
        told(&format!(
            r#"{{"day": "2026-06-21", "latitude": 69.6, "longitude": 18.9, "evening": 5, "humidity": 80{more}}}"#
        ))
    };
    let refused = polar("").expect_err("no night");
    assert!(refused.contains("does not set") && refused.contains("official low"), "{refused}");
    let answer = polar(r#", "official_low": 1, "things": [{"crop": "tomato"}]"#).expect("runs");
    assert_eq!(answer.tonight.best.how, How::Official);
    assert!(answer.tonight.night.is_none() && answer.tonight.hours_below.is_empty());
    assert!(answer.clock.sunset.is_none() && answer.clock.offset_assumed);
    assert!(answer.chores.iter().all(|chore| chore.clock.is_none()));
}
