//! What ripening is timed with: the same work natively and as wasm in a browser.

use shared_types::trade::ripening::{
    Belief, LotInput, Observed, RoomClimate, RoomReading, RoundSeen, forecast, learn,
};
use shared_types::units::{Day, Grams, MilliCelsius};

/// Lots of a forecast.
pub const LOTS: i32 = 1000;
/// Days of a forecast.
pub const DAYS: usize = 60;

/// How lots stand.
#[derive(Clone, Copy, Debug)]
pub enum Rooms {
    /// All in four rooms at a set temperature.
    Four,
    /// Each in a room of its own with twenty temperatures, one from each day on.
    OwnSteps,
    /// All in four rooms with a thermometer read every hour for forty days.
    FourLogged,
}

fn today() -> Day {
    Day::from_number(20_380)
}

/// A thousand lots, half of them green, picked over ten days.
pub fn lots(rooms: Rooms) -> Vec<LotInput> {
    (0..LOTS)
        .map(|i| {
            let class = if i % 2 == 0 { "green" } else { "colouring" };
            let picked = today().plus(-(i % 10));
            let mut lot = LotInput::picked(
                "tomato".into(),
                class.into(),
                Grams(i64::from(5_000 + 37 * i)),
                picked,
                room(rooms, i, picked),
            );
            lot.lot = Some(i.to_string());
            lot
        })
        .collect()
}

/// Between 12 and 24 °C.
fn celsius(seed: i32) -> MilliCelsius {
    MilliCelsius(12_000 + seed.wrapping_mul(7_919).rem_euclid(12_000))
}

fn room(rooms: Rooms, i: i32, picked: Day) -> RoomClimate {
    match rooms {
        Rooms::Four => RoomClimate::constant(celsius(i % 4 * 131)),
        Rooms::OwnSteps => {
            let steps = (0..20).map(|step| (picked.plus(3 * step), celsius(i * 20 + step)));
            RoomClimate::steps(steps.collect()).expect("has steps")
        }
        Rooms::FourLogged => {
            let read = |hour: i32| RoomReading {
                day: today().plus(hour / 24 - 10),
                minute: (hour % 24 * 60) as u16,
                celsius: celsius(i % 4 * 1000 + hour),
                humidity: None,
            };
            RoomClimate::constant(MilliCelsius(18_000))
                .with_readings((0..40 * 24).map(read).collect())
        }
    }
}

/// Forecasts; answers the grams still to come, so that nothing is left out as unused.
pub fn run(lots: &[LotInput]) -> i64 {
    forecast(lots, &Belief::default(), today(), DAYS).still_to_come.p50.0
}

/// A season's rounds: `rounds` in all, three to a lot, of four varieties.
pub fn season(rounds: usize) -> Vec<Observed> {
    let lot = |i: usize| {
        let class = if i.is_multiple_of(2) { "green" } else { "colouring" };
        let room = RoomClimate::constant(celsius(i as i32));
        let picked = today().plus(-30);
        let mut lot = LotInput::picked("tomato".into(), class.into(), Grams(20_000), picked, room);
        let seen = |round: i32| RoundSeen {
            day: picked.plus(4 + 5 * round),
            ripe: Grams(2_500 + 100 * i64::from(round)),
            lost: Grams(300),
            left: None,
        };
        lot.rounds = (0..3).map(seen).collect();
        Observed { variety: Some(format!("variety {}", i % 4)), lot }
    };
    (0..rounds.div_ceil(3)).map(lot).collect()
}

/// Learns; answers the first variety's rate in millionths.
pub fn run_learning(season: &[Observed]) -> i64 {
    let learned = learn(&Belief::default(), season);
    learned.varieties.first().map_or(0, |one| (1e6 * one.rate.after.median) as i64)
}
