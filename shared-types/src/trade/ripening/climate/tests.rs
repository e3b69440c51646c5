//! Rooms as they are written, and their hours.

use super::*;

fn read(text: &str) -> Result<RoomClimate, serde_json::Error> {
    serde_json::from_str(text)
}

fn day(d: u32) -> Day {
    Day::from_ymd(2026, 10, d).expect("a day")
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

#[test]
fn a_room_is_written_simply() {
    let room = read(r#"{"celsius": 18.5}"#).expect("reads");
    assert_eq!(room, RoomClimate::constant(MilliCelsius(18_500)));
    assert!(close(room.humidity_percent(), 75.0));
    let text = r#"{"celsius":[{"day":"2026-10-14","celsius":20},{"day":"2026-10-09","celsius":12}],"humidity":80}"#;
    let room = read(text).expect("reads");
    for (d, celsius) in [(1, 12.0), (9, 12.0), (13, 12.0), (14, 20.0), (30, 20.0)] {
        assert!(close(room.celsius_on(day(d)), celsius), "{d}");
    }
    let swing = read(r#"{"min": 9, "max": 19}"#).expect("reads");
    assert_eq!(swing, read(r#"{"celsius": 14, "swing": 5}"#).expect("reads"));
    let log = read(
        r#"{"celsius": 12, "readings": [{"at": "2026-10-09T14:30", "celsius": 13.2, "humidity": 71}]}"#,
    )
    .expect("reads");
    for room in [room, swing, log] {
        let again = read(&serde_json::to_string(&room).expect("writes")).expect("reads");
        assert_eq!(again, room);
    }
}

#[test]
fn what_is_not_a_room_is_told() {
    for (text, word) in [
        (r#"{"celsius": 68}"#, "in Celsius"),
        (r#"{"celsius": []}"#, "needs a temperature"),
        (r#"{"humidity": 80}"#, "needs a temperature"),
        (r#"{"celsius": 20, "humidity": 0.6}"#, "1 to 100"),
        (r#"{"celsius": "warm"}"#, "a list of"),
        (r#"{"celsius": 20, "swing": 40}"#, "0 to 30"),
        (r#"{"min": 20, "max": 10}"#, "exchange"),
        (r#"{"celsius": 15, "min": 10, "max": 20}"#, "not both"),
        (r#"{"readings": [{"at": "yesterday", "celsius": 20}]}"#, "like 2026-10-09T14:30"),
        (r#"{"readings": [{"at": "2026-10-09T14:30Z", "celsius": 20}]}"#, "without a zone"),
        (
            r#"{"celsius":[{"day":"2026-10-09","celsius":1},{"day":"2026-10-09","celsius":2}]}"#,
            "two temperatures",
        ),
    ] {
        let error = read(text).expect_err(text).to_string();
        assert!(error.contains(word), "{error}");
    }
}

#[test]
fn a_swing_is_warmest_in_the_afternoon() {
    let room = read(r#"{"min": 9, "max": 19}"#).expect("reads");
    let Weather::Hours(hours) = room.weather(day(9)) else { panic!("it swings") };
    assert!(hours[14].0 > 18.9 && hours[15].0 > 18.9, "{hours:?}");
    assert!(hours[2].0 < 9.1 && hours[3].0 < 9.1, "{hours:?}");
    assert!(close(room.celsius_on(day(9)), 14.0));
}

#[test]
fn readings_go_before_the_setting_and_gaps_are_bridged_by_it() {
    let text = r#"{"celsius": 12, "readings": [
        {"at": "2026-10-09T00:00", "celsius": 20}, {"at": "2026-10-09T10:00", "celsius": 10},
        {"at": "2026-10-12T12:00", "celsius": 16, "humidity": 60}]}"#;
    let room = read(text).expect("reads");
    let Weather::Hours(hours) = room.weather(day(9)) else { panic!("it was read") };
    assert!(close(hours[4].0, 15.5), "a straight line between readings: {}", hours[4].0);
    assert!(close(hours[12].0, 10.0), "a lone end speaks for six hours: {}", hours[12].0);
    assert!(close(hours[20].0, 12.0), "then the setting: {}", hours[20].0);
    assert!(close(room.celsius_on(day(11)), 12.0));
    assert!(close(room.celsius_on(day(12)), 14.0), "half of the day: {}", room.celsius_on(day(12)));
    assert_eq!(
        room.gaps(day(9), day(12)),
        [Gap { from: day(9), to: day(12) }, Gap { from: day(12), to: day(12) }]
    );
    assert_eq!(RoomClimate::constant(MilliCelsius(12_000)).gaps(day(1), day(9)), []);
}

#[test]
fn a_carried_lot_has_stood_in_each_room_in_turn() {
    let cool = read(r#"{"celsius": 12, "humidity": 90, "readings": [{"at": "2026-10-09T12:00", "celsius": 11}, {"at": "2026-10-15T12:00", "celsius": 9}]}"#).expect("reads");
    let warm = read(r#"{"celsius": 20, "humidity": 50}"#).expect("reads");
    let lot = RoomClimate::carried(vec![(day(14), warm), (day(9), cool)]).expect("two parts");
    for (d, celsius, humidity) in [(8, 12.0, 90.0), (13, 12.0, 90.0), (14, 20.0, 50.0)] {
        assert!(close(lot.celsius_on(day(d)), celsius), "{d}");
        assert!(close(lot.humidity_on(day(d)), humidity), "{d}");
    }
    assert!(close(lot.celsius_on(day(15)), 20.0), "the cool room's readings stay there");
    assert!(lot.celsius_on(day(9)) < 12.0);
    assert_eq!(RoomClimate::carried(Vec::new()), None);
}
