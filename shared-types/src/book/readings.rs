//! What thermometers said, room by room.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::entry::{ReadingsTaken, RoomReading};
use crate::ids::ReadingsId;
use crate::units::{Day, HOUR_MS, MilliCelsius, Millis};

/// A room's readings in order of time, at most one for a moment.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct RoomLog {
    at: BTreeMap<Millis, Seen>,
}

/// Degrees, humidity, and the readings it came with.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
struct Seen(MilliCelsius, Option<i64>, ReadingsId);

/// One day of a room, of what was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoomDay {
    /// The mean of its hours: each hour that was read counts once, however often it was read.
    pub mean: MilliCelsius,
    /// The lowest reading.
    pub low: MilliCelsius,
    /// The highest reading.
    pub high: MilliCelsius,
    /// The mean humidity of its hours, thousandths, where it was measured.
    pub humidity_permille: Option<i64>,
    /// How many of its hours were read.
    pub hours: usize,
}

impl RoomLog {
    /// Adds readings. Whatever the order they are heard in, of two of one moment the one with the
    /// later name stands.
    pub(super) fn add(&mut self, fact: &ReadingsTaken) {
        for RoomReading { at, millidegrees, humidity_permille } in &fact.taken {
            let seen = Seen(*millidegrees, *humidity_permille, fact.readings);
            match self.at.get(at) {
                // Within one entry the later line stands, as it was written last.
                Some(standing) if standing.2 > fact.readings => {}
                _ => {
                    self.at.insert(*at, seen);
                }
            }
        }
    }

    /// The readings, in order of time.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = RoomReading> {
        self.at.iter().map(|(at, seen)| seen.reading(*at))
    }

    /// The readings from a moment on.
    pub fn since(&self, from: Millis) -> impl DoubleEndedIterator<Item = RoomReading> {
        self.at.range(from..).map(|(at, seen)| seen.reading(*at))
    }

    /// The last reading.
    pub fn last(&self) -> Option<RoomReading> {
        self.iter().next_back()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.at.len()
    }

    /// Whether nothing was ever read.
    pub fn is_empty(&self) -> bool {
        self.at.is_empty()
    }

    /// The days that were read, from `from` on, for clocks `offset_minutes` ahead of UTC. Days
    /// without a reading are absent.
    pub fn days(&self, from: Day, offset_minutes: i32) -> BTreeMap<Day, RoomDay> {
        let midnight = from.start().plus(-i64::from(offset_minutes) * crate::units::MINUTE_MS);
        let mut hours: BTreeMap<Day, BTreeMap<i64, Hour>> = BTreeMap::new();
        for reading in self.since(midnight) {
            let hour = hours.entry(Day::at(reading.at, offset_minutes)).or_default();
            hour.entry(reading.at.0.div_euclid(HOUR_MS)).or_default().add(&reading);
        }
        hours.into_iter().map(|(day, hours)| (day, of_hours(hours.values()))).collect()
    }
}

impl Seen {
    fn reading(&self, at: Millis) -> RoomReading {
        RoomReading { at, millidegrees: self.0, humidity_permille: self.1 }
    }
}

/// What was read in one hour.
#[derive(Default)]
struct Hour {
    degrees: i64,
    readings: i64,
    range: Option<(MilliCelsius, MilliCelsius)>,
    humid: i64,
    humid_readings: i64,
}

impl Hour {
    fn add(&mut self, reading: &RoomReading) {
        let t = reading.millidegrees;
        self.degrees += i64::from(t.0);
        self.readings += 1;
        self.range = Some(self.range.map_or((t, t), |(low, high)| (low.min(t), high.max(t))));
        if let Some(humid) = reading.humidity_permille {
            self.humid += humid;
            self.humid_readings += 1;
        }
    }
}

fn of_hours<'a>(hours: impl ExactSizeIterator<Item = &'a Hour> + Clone) -> RoomDay {
    let count = hours.len();
    let mean = |of: &mut dyn Iterator<Item = i64>| {
        let (sum, n) = of.fold((0, 0), |(sum, n), value| (sum + value, n + 1));
        (n > 0).then(|| sum / n)
    };
    let degrees = mean(&mut hours.clone().map(|hour| hour.degrees / hour.readings));
    let humid = hours.clone().filter(|hour| hour.humid_readings > 0);
    let ranges = hours.filter_map(|hour| hour.range);
    let (low, high) = ranges
        .reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
        .expect("an hour is made of at least one reading");
    RoomDay {
        mean: MilliCelsius(degrees.and_then(|t| i32::try_from(t).ok()).unwrap_or(low.0)),
        low,
        high,
        humidity_permille: mean(&mut humid.map(|hour| hour.humid / hour.humid_readings)),
        hours: count,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::ids::RoomId;
    use crate::units::DAY_MS;

    fn taken(n: u8, taken: Vec<(i64, i32)>) -> ReadingsTaken {
        let reading = |(at, t)| RoomReading {
            at: Millis(at),
            millidegrees: MilliCelsius(t),
            humidity_permille: Some(i64::from(t) / 100),
        };
        ReadingsTaken {
            readings: ReadingsId::new(Millis(i64::from(n)), [n; 10]),
            room: RoomId::new(Millis(0), [1; 10]),
            source: "hand".into(),
            taken: taken.into_iter().map(reading).collect(),
        }
    }

    #[test]
    fn an_hour_read_often_weighs_no_more_and_a_day_unread_is_absent() {
        let mut log = RoomLog::default();
        let often: Vec<_> = (0..60).map(|minute| (minute * 60_000, 20_000)).collect();
        log.add(&taken(1, often));
        log.add(&taken(2, vec![(5 * HOUR_MS, 10_000), (2 * DAY_MS, 12_000)]));
        let days = log.days(Day::from_number(0), 0);
        let numbers: Vec<_> = days.keys().map(|day| day.number()).collect();
        assert_eq!(numbers, [0, 2]);
        let first = days[&Day::from_number(0)];
        assert_eq!((first.mean, first.hours), (MilliCelsius(15_000), 2));
        assert_eq!((first.low, first.high), (MilliCelsius(10_000), MilliCelsius(20_000)));
        assert_eq!(first.humidity_permille, Some(150));
        let east = log.days(Day::from_number(0), 60);
        assert_eq!(east[&Day::from_number(0)].hours, 2, "the same hours under another clock");
        assert_eq!(log.days(Day::from_number(1), 0).len(), 1);
    }

    proptest! {
        #[test]
        fn any_order_of_arrival_gives_the_same_log(
            (all, shuffled) in prop::collection::vec(
                prop::collection::vec((0i64..6, 0i32..5), 1..5), 1..6
            ).prop_flat_map(|all| {
                let all: Vec<_> = (1u8..).zip(all).map(|(n, t)| taken(n, t)).collect();
                (Just(all.clone()), Just(all).prop_shuffle())
            })
        ) {
            let log = |facts: &[ReadingsTaken]| {
                let mut log = RoomLog::default();
                facts.iter().for_each(|fact| log.add(fact));
                log
            };
            prop_assert_eq!(log(&all), log(&shuffled));
        }
    }
}
