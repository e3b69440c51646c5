use super::*;
use crate::book::Book;
use crate::entry::*;
use crate::hlc::Hlc;
use crate::ids::*;
use crate::trade::cold::{FEWEST_NIGHTS, How, Level, Stands};
use crate::units::{Altitude, MINUTE_MS, MilliCelsius};

/// A Friday in October at a made-up spot; clocks two hours ahead of UTC.
const TODAY: &str = "2026-10-09";

fn today() -> Today {
    Today { day: TODAY.parse().expect("a day"), offset_minutes: 120 }
}

struct Log {
    book: Book,
    written: u64,
}

impl Log {
    fn write(&mut self, fact: impl Into<Fact>) {
        self.written += 1;
        let device = DeviceId::new(Millis(0), [1; 10]);
        let id = EntryId { device, device_seq: self.written };
        let hlc = Hlc(Millis(self.written as i64), 0);
        let entry = Entry::new(id, hlc, &fact.into()).expect("small");
        assert_eq!(self.book.fold(&entry), crate::book::Outcome::Folded);
    }

    fn evening(&mut self, n: u8, day: Day, celsius: f64, dew: f64) {
        let site = site(&self.book).expect("is set");
        let night = cold::night(&site, day, 120).expect("a night");
        self.write(EveningNoted {
            night: NightId::new(Millis(0), [n; 10]),
            day,
            at: night.sunset.plus(2 * HOUR_MS),
            temperature: MilliCelsius((celsius * 1000.0).round() as i32),
            person: person(),
            place: None,
            dew_point: Some(MilliCelsius((dew * 1000.0).round() as i32)),
            humidity_permille: None,
            official_low: None,
            sky: Some("clear".into()),
            wind: Some("calm".into()),
            sensor_height_mm: Some(1_500),
        });
    }

    fn low(&mut self, n: u8, day: Day, celsius: f64) {
        self.write(LowNoted {
            low: LowId::new(Millis(0), [n; 10]),
            day,
            temperature: MilliCelsius((celsius * 1000.0).round() as i32),
            person: person(),
            place: None,
        });
    }
}

fn person() -> PersonId {
    PersonId::new(Millis(0), [2; 10])
}

fn place() -> PlaceId {
    PlaceId::new(Millis(0), [3; 10])
}

fn farm() -> Log {
    let mut log = Log { book: Book::default(), written: 0 };
    log.write(HoldingSet { altitude: Some(Altitude::from_metres(870)), ..HoldingSet::default() });
    log.write(SiteSet {
        latitude_udeg: Some(46_500_000),
        longitude_udeg: Some(11_300_000),
        ..SiteSet::default()
    });
    log.write(PlaceSet {
        place: place(),
        name: Some("Bed 3".into()),
        covered: Some(true),
        watering: None,
        plants: None,
        area_dm2: None,
        retired: None,
    });
    log.write(PlantingSet {
        planting: PlantingId::new(Millis(0), [4; 10]),
        place: Some(place()),
        crop: Some("tomato".into()),
        variety: None,
        plants: Some(18),
        area_dm2: None,
        from: Day::from_ymd(2026, 5, 28),
        cleared: None,
    });
    log
}

/// The published ten nights (FAO, see the reference tests of the fit): T0, Td0, Tn.
const NIGHTS: [(f64, f64, f64); 10] = [
    (3.2, -4.2, -3.1),
    (0.8, -8.8, -5.0),
    (0.2, -6.5, -6.3),
    (2.6, -6.2, -5.4),
    (4.4, -6.1, -4.0),
    (5.2, 2.6, -2.5),
    (2.7, -0.7, -4.8),
    (1.2, -1.7, -5.0),
    (4.5, -1.2, -4.4),
    (5.6, 0.1, -3.3),
];

fn with_nights(count: usize) -> Log {
    let mut log = farm();
    for (n, (t0, td, tn)) in (1u8..).zip(NIGHTS.into_iter().take(count)) {
        let day = today().day.plus(-i32::from(n));
        log.evening(n, day, t0, td);
        log.low(n, day, tn);
    }
    log
}

fn at(hour: i64) -> Millis {
    today().start().plus(hour * HOUR_MS)
}

#[test]
fn without_a_site_it_says_what_to_set() {
    let words = tonight(&Book::default(), today(), at(18)).expect_err("no site").to_string();
    assert!(words.contains("set the site"), "{words}");
}

#[test]
fn until_the_evening_is_noted_it_says_when_to_read() {
    let told = tonight(&farm().book, today(), at(15)).expect("a site");
    assert_eq!((told.sensors.len(), told.chores.len()), (0, 0));
    let read = told.read_at.expect("a sunset").since(today().start());
    assert!((20 * 60..22 * 60).contains(&(read / MINUTE_MS)), "{read}");
}

#[test]
fn ten_nights_of_ones_own_give_a_fit_and_fewer_a_rule_named_as_one() {
    for (count, fitted) in [(FEWEST_NIGHTS, true), (FEWEST_NIGHTS - 1, false)] {
        let mut log = with_nights(count);
        log.evening(99, today().day, 3.0, -4.0);
        let told = tonight(&log.book, today(), at(21)).expect("a site");
        let night = told.sensors[0].night.as_ref().expect("a night");
        assert_eq!(night.best.how == How::Fitted, fitted, "{:?}", night.best);
        assert_eq!(night.best.fall_back, !fitted);
        assert_eq!(told.logged, count);
        assert_eq!(told.risks[0].level, Level::Expected, "tomatoes under one film");
        assert!(told.chores.iter().any(|told| told.chore.text.contains("Close the tunnel")));
        let times: Vec<_> = told.chores.iter().map(|told| told.chore.at).collect();
        assert!(times.is_sorted(), "{times:?}");
    }
}

#[test]
fn a_tick_from_any_phone_counts_and_the_morning_asks_for_the_low() {
    let mut log = with_nights(10);
    log.evening(99, today().day, 3.0, -4.0);
    let key = tonight(&log.book, today(), at(21)).expect("a site").chores[0].chore.key.clone();
    let open = chores(&log.book, today(), at(21)).len();
    log.write(TickSet { task: key, done: true, person: person() });
    assert!(tonight(&log.book, today(), at(21)).expect("a site").chores[0].done);
    assert_eq!(chores(&log.book, today(), at(21)).len(), open - 1);
    // At three in the morning it is still that night; after sunrise its low is asked for.
    let next = Today { day: today().day.plus(1), ..today() };
    let night = tonight(&log.book, next, at(27)).expect("a site");
    assert_eq!((night.day, night.ask_low.len()), (today().day, 0));
    let morning = tonight(&log.book, next, at(33)).expect("a site");
    assert_eq!(morning.day, next.day);
    assert_eq!(morning.ask_low.iter().map(|ask| ask.day).collect::<Vec<_>>(), [today().day]);
}

#[test]
fn a_room_is_known_by_its_name() {
    assert_eq!(shelter("South porch"), Stands::Porch);
    assert_eq!(shelter("Tool shed"), Stands::Shed);
    assert_eq!(shelter("Back room"), Stands::Indoors);
}
