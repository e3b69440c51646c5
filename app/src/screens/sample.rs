//! A small book for the tests of screens: two beds, three rooms, one clear-out.

use shared_types::book::Book;
use shared_types::entry::{
    BinKept, ColdChecked, Entry, EntryId, Fact, HoldingSet, LotUsed, PersonSet, PickSet, PlaceSet,
    RoomSet, StandingSet, VarietySet,
};
use shared_types::hlc::Hlc;
use shared_types::ids::*;
use shared_types::outlook::Today;
use shared_types::units::{Altitude, Day, Grams, MilliCelsius, Millis, Reading};

/// A name told apart from others of its kind by a number.
pub fn named<T>(make: fn(Millis, [u8; 10]) -> T, n: u8) -> T {
    make(Millis(i64::from(n)), [n; 10])
}

/// The day of the clear-out.
pub fn day() -> Day {
    Day::from_ymd(2026, 10, 9).expect("a day of October")
}

/// The day after it.
pub fn tomorrow() -> Today {
    Today { day: day().plus(1), offset_minutes: 0 }
}

/// A book being written by one device.
pub struct Writer {
    /// As it stands.
    pub book: Book,
    written: u64,
}

impl Writer {
    /// Folds one more fact.
    pub fn write(&mut self, fact: impl Into<Fact>) {
        self.written += 1;
        let id = EntryId { device: named(DeviceId::new, 1), device_seq: self.written };
        let wall = Millis(day().start().0 + self.written as i64);
        let entry = Entry::new(id, Hlc(wall, 0), &fact.into()).expect("is small");
        self.book.fold(&entry);
    }

    /// Keeps a bin of tomatoes of the one variety, picked at noon plus `n` minutes.
    pub fn bin(&mut self, n: u8, place: u8, class: &str, grams: i64) {
        self.write(BinKept {
            bin: named(BinId::new, n),
            pick: named(PickId::new, 1),
            place: named(PlaceId::new, place),
            crop: "tomato".into(),
            class: class.into(),
            gross: Reading::from_grams(Grams(grams + 700)),
            tare: Grams(700),
            person: named(PersonId::new, 1 + n % 2),
            at: day().start().plus((12 * 60 + i64::from(n)) * 60_000),
            variety: Some(named(VarietyId::new, 1)),
            stage: None,
            defect: None,
            bin_type: None,
            room: None,
            tag: None,
        });
    }

    /// Takes something out of the only lot of a class.
    pub fn take(&mut self, n: u8, class: &str, grams: i64) {
        let lots = self.book.lots();
        let lot = lots.all.values().find(|lot| lot.class.as_str() == class).expect("such a lot");
        let fact = LotUsed {
            taking: named(UseId::new, n),
            lot: lot.id,
            grams: Grams(grams),
            what: "fresh".into(),
            at: day().plus(1).start(),
        };
        self.write(fact);
    }
}

/// Bed 3 with living vines, bed 5 with dead ones; ripe and colouring in the kitchen window at
/// 20 °C, green in the back room at 14 °C.
pub fn writer() -> Writer {
    let mut w = Writer { book: Book::default(), written: 0 };
    let altitude = Some(Altitude::from_metres(870));
    let name = Some("Kestrel Terrace".to_owned());
    w.write(HoldingSet { name, altitude, ..HoldingSet::default() });
    for (n, name) in [(1, "Ida"), (2, "Tom")] {
        w.write(PersonSet { person: named(PersonId::new, n), name: name.into() });
    }
    for (n, name) in [(3, "bed 3"), (5, "bed 5")] {
        w.write(PlaceSet {
            place: named(PlaceId::new, n),
            name: Some(name.into()),
            covered: None,
            watering: None,
            plants: None,
            area_dm2: None,
            retired: None,
        });
    }
    for (n, name, celsius) in
        [(1, "kitchen window", 20), (2, "back room", 14), (3, "cold porch", 4)]
    {
        w.write(RoomSet {
            room: named(RoomId::new, n),
            name: Some(name.into()),
            temperature: Some(MilliCelsius::from_celsius(celsius)),
            humidity: None,
            retired: None,
        });
    }
    for (class, n) in [("ripe", 1), ("colouring", 1), ("green", 2)] {
        let room = named(RoomId::new, n);
        w.write(StandingSet { crop: "tomato".into(), class: class.into(), room });
    }
    w.write(VarietySet {
        variety: named(VarietyId::new, 1),
        crop: Some("tomato".into()),
        name: Some("Paste".into()),
        retired: None,
    });
    w.write(PickSet {
        pick: named(PickId::new, 1),
        day: Some(day()),
        name: Some("clear-out".into()),
        closed: None,
    });
    w.write(ColdChecked {
        check: named(ColdCheckId::new, 1),
        place: named(PlaceId::new, 5),
        at: day().start(),
        look: "thawed".into(),
        vines: "dead".into(),
        fruit: "sound".into(),
        low: None,
    });
    w
}
