//! A small pile, and what is said of it.

use super::*;
use crate::book::Book;
use crate::entry::*;
use crate::hlc::Hlc;
use crate::ids::*;
use crate::trade::fitness::Use;
use crate::units::{Altitude, DAY_MS, Grams, MilliCelsius, Reading};

const NOW: Millis = Millis(20_000 * DAY_MS + DAY_MS / 2);
const WARM: u8 = 20;
const COOL: u8 = 14;

fn room(degrees: u8) -> RoomId {
    RoomId::new(Millis(0), [degrees; 10])
}

fn place() -> PlaceId {
    PlaceId::new(Millis(0), [2; 10])
}

/// A pile of paste tomatoes picked `days` ago and put in the warm room, and more facts on top.
struct Pile {
    book: Book,
    written: u64,
}

impl Pile {
    fn new() -> Self {
        let mut pile = Self { book: Book::default(), written: 0 };
        for degrees in [WARM, COOL] {
            let temperature = Some(MilliCelsius::from_celsius(i32::from(degrees)));
            let room = room(degrees);
            pile.say(RoomSet { room, name: None, temperature, humidity: None, retired: None });
        }
        pile
    }

    fn say(&mut self, fact: impl Into<Fact>) {
        self.written += 1;
        let id = EntryId { device: DeviceId::new(Millis(0), [1; 10]), device_seq: self.written };
        let hlc = Hlc(Millis(self.written as i64), 0);
        assert_eq!(
            self.book.fold(&Entry::new(id, hlc, &fact.into()).expect("small")),
            crate::book::Outcome::Folded
        );
    }

    fn pick(&mut self, crop: &str, class: &str, grams: i64, days: i64) {
        let n = self.written as u8;
        self.say(BinKept {
            bin: BinId::new(Millis(0), [n; 10]),
            pick: PickId::new(Millis(0), [days as u8; 10]),
            place: place(),
            crop: crop.into(),
            class: class.into(),
            gross: Reading::from_grams(Grams(grams)),
            tare: Grams::ZERO,
            person: PersonId::new(Millis(0), [3; 10]),
            at: NOW.plus(-days * DAY_MS),
            variety: None,
            stage: None,
            defect: None,
            bin_type: None,
            room: Some(room(WARM)),
            tag: None,
        });
    }

    fn take(&mut self, grams: i64) {
        let lot = *self.book.lots().all.keys().next().expect("a lot");
        self.say(LotUsed {
            taking: UseId::new(Millis(0), [self.written as u8; 10]),
            lot,
            grams: Grams(grams),
            what: "jar".to_owned(),
            at: NOW,
        });
    }

    fn outlook(&self) -> Outlook {
        outlook(&self.book, Today::at(NOW, 0), 14)
    }
}

#[test]
fn what_was_taken_is_not_ready_any_more_and_the_rest_still_comes() {
    let mut pile = Pile::new();
    pile.pick("tomato", "colouring", 20_000, 4);
    let before = pile.outlook();
    assert!(before.ready_today.p50 > Grams(3_000), "{:?}", before.ready_today);
    pile.take(2_000);
    let after = pile.outlook();
    assert_eq!(after.ready_today.p50, before.ready_today.p50 - Grams(2_000));
    assert_eq!(after.days[0].ripe, after.ready_today);
    assert_eq!(after.days[5].ripe, before.days[5].ripe, "later days are as they were");
    assert_eq!(after.lots[0].left, Grams(18_000));
}

#[test]
fn taking_more_than_had_ripened_leaves_less_to_ripen() {
    let mut pile = Pile::new();
    pile.pick("tomato", "green", 20_000, 0);
    let before = pile.outlook();
    pile.take(15_000);
    let after = pile.outlook();
    assert!(after.still_to_come.p50.0 * 3 < before.still_to_come.p50.0, "{after:?}");
    assert!(after.still_to_come.p90 <= Grams(5_000), "no more comes than is left");
}

#[test]
fn a_cooler_room_is_later_and_asking_changes_nothing() {
    let mut pile = Pile::new();
    pile.pick("tomato", "colouring", 20_000, 0);
    let lot = *pile.book.lots().all.keys().next().expect("a lot");
    let moved = move_lot(&pile.book, lot, room(COOL), Today::at(NOW, 0), 30).expect("there");
    assert!(moved.after.to > moved.before.to, "{moved:?}");
    assert_eq!(moved.before, pile.outlook().lots[0].forecast);
    pile.say(LotMoved { lot, room: room(COOL), at: NOW });
    assert_eq!(pile.outlook().lots[0].forecast.to, moved.after.to);
    assert!(
        move_lot(&pile.book, LotId::new(NOW, [0; 10]), room(COOL), Today::at(NOW, 0), 30).is_none()
    );
}

#[test]
fn what_does_not_ripen_or_keeps_for_months_is_listed_and_not_counted() {
    let mut pile = Pile::new();
    pile.pick("onion", "sound", 12_000, 3);
    pile.pick("winter-squash", "ripe", 30_000, 3);
    let outlook = pile.outlook();
    assert_eq!(outlook.lots.len(), 2);
    assert!(outlook.lots.iter().all(|lot| !lot.ripens));
    assert_eq!((outlook.never, outlook.ready_today.p90), (Grams::ZERO, Grams::ZERO));
}

#[test]
fn without_an_altitude_there_is_no_plan_and_with_one_no_more_is_planned_than_is_there() {
    let mut pile = Pile::new();
    pile.pick("tomato", "ripe", 20_000, 0);
    assert_eq!(kitchen(&pile.book, Today::at(NOW, 0)), Err(NoAltitude));
    pile.say(HoldingSet { altitude: Some(Altitude::from_metres(870)), ..HoldingSet::default() });
    let plan = kitchen(&pile.book, Today::at(NOW, 0)).expect("a plan");
    let batches: Vec<_> = plan.days.iter().flat_map(|day| &day.batches).collect();
    assert!(!batches.is_empty());
    let planned: Grams = batches.iter().map(|batch| batch.grams).sum();
    assert!(planned <= Grams(20_000), "{planned:?}");
}

#[test]
fn after_a_killing_frost_nothing_is_planned_for_a_jar() {
    let mut pile = Pile::new();
    pile.say(HoldingSet { altitude: Some(Altitude::from_metres(870)), ..HoldingSet::default() });
    pile.say(ColdChecked {
        check: ColdCheckId::new(Millis(0), [4; 10]),
        place: place(),
        at: NOW.plus(-2 * DAY_MS),
        look: "thawed".to_owned(),
        vines: "withered".to_owned(),
        fruit: "sound".to_owned(),
        low: None,
    });
    pile.pick("tomato", "ripe", 20_000, 0);
    let outlook = pile.outlook();
    let fitness = &outlook.lots[0].fitness;
    assert!(
        !fitness.uses.allows(Use::Jar),
        "a word nobody knows is not read as alive: {fitness:?}"
    );
    let plan = kitchen(&pile.book, Today::at(NOW, 0)).expect("a plan");
    assert!(plan.days.iter().flat_map(|day| &day.batches).all(|batch| batch.jars.is_none()));
    assert_eq!(plan.not_for_jars.len(), 1);
}

impl Pile {
    /// A round of the only lot `ago` days ago.
    fn round(&mut self, ago: i64, ripe: i64, left: i64) {
        let lots = self.book.lots();
        let lot = lots.all.values().find(|lot| lot.is_picked()).expect("a lot").id;
        let round = RoundId::new(Millis(0), [self.written as u8; 10]);
        let nothing =
            RoundMade::nothing(round, lot, NOW.plus(-ago * DAY_MS), PersonId::new(NOW, [3; 10]));
        self.say(RoundMade { ripe: Some(Grams(ripe)), left: Some(Grams(left)), ..nothing });
    }
}

#[test]
fn rounds_teach_and_what_is_forgotten_is_as_before() {
    let mut pile = Pile::new();
    pile.pick("tomato", "colouring", 20_000, 6);
    let before = pile.outlook();
    // Half of it ought to be ripe after three days at 20 °C; it is a tenth, twice.
    pile.round(3, 1_000, 18_700);
    pile.round(1, 1_200, 17_200);
    let today = Today::at(NOW, 0);
    let told = learned(&pile.book, today);
    let of = told.of(&"tomato".into(), None).expect("was learned");
    assert!(of.rate.after.median < of.rate.before.median, "{of:?}");
    assert!(of.colouring_behind > 0.5, "{of:?}");
    assert_eq!((of.lots, of.rounds), (1, 2));
    let after = pile.outlook();
    let slow = after.lots.iter().find(|lot| lot.lot.is_picked()).expect("stands");
    assert!(slow.forecast.to > before.lots[0].forecast.to, "{:?}", slow.forecast);
    assert!(slow.left == Grams(17_200) && slow.belief.rate.median < 1.0);
    assert!(after.ready_today.p50 >= Grams(2_200), "what was taken out ripe stands ripe");
    // The same facts, folded anew from what was stored, give the same bits.
    let stored = serde_json::to_string(&pile.book).expect("writes");
    let again: Book = serde_json::from_str(&stored).expect("reads");
    assert_eq!(learned(&again, today), told);
    pile.say(LearningReset {
        crop: "tomato".into(),
        at: NOW,
        person: PersonId::new(NOW, [3; 10]),
        variety: None,
    });
    let forgotten = learned(&pile.book, today);
    assert_eq!(forgotten.of(&"tomato".into(), None), None);
    pile.round(0, 9_000, 8_000);
    let of = learned(&pile.book, today);
    assert_eq!(of.of(&"tomato".into(), None).map(|of| of.rounds), Some(1));
}

#[test]
fn a_room_is_as_warm_as_it_was_read_and_no_reading_is_invented() {
    let mut pile = Pile::new();
    pile.pick("tomato", "colouring", 20_000, 0);
    let set = pile.outlook().lots[0].forecast.to;
    let reading = |ago: i64, millidegrees: i32| RoomReading {
        at: NOW.plus(-ago * DAY_MS),
        millidegrees: MilliCelsius(millidegrees),
        humidity_permille: None,
    };
    let read = |n: u8, ago: i64| ReadingsTaken {
        readings: ReadingsId::new(NOW, [n; 10]),
        room: room(WARM),
        source: "hand".into(),
        taken: vec![reading(ago, 13_500)],
    };
    pile.say(read(1, 9));
    assert_eq!(pile.outlook().lots[0].forecast.to, set, "nine days ago says nothing of today");
    pile.say(read(2, 0));
    let cool = pile.outlook();
    assert_eq!(cool.lots[0].room_temperature, MilliCelsius(13_500));
    assert!(cool.lots[0].forecast.to > set);
    let follow = |word: &str| RoomClimateSet {
        room: room(WARM),
        follow: Some(word.to_owned()),
        by_day: Some(MilliCelsius(26_000)),
        by_night: Some(MilliCelsius(16_000)),
    };
    pile.say(follow("setting"));
    assert_eq!(pile.outlook().lots[0].forecast.to, set);
    pile.say(follow("swing"));
    assert_eq!(pile.outlook().lots[0].room_temperature, MilliCelsius(13_500), "as it was read");
}
