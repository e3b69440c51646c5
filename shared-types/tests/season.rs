//! The season book and the stores of small invented books, by hand-made sums.

use shared_types::book::{Book, Outcome};
use shared_types::entry::*;
use shared_types::hlc::Hlc;
use shared_types::ids::*;
use shared_types::outlook::{Today, season, stores};
use shared_types::trade::stores::CureVerdict;
use shared_types::units::{DAY_MS, Day, Grams, MilliCelsius, Millis, Reading};

fn day(text: &str) -> Day {
    text.parse().expect("a day")
}

fn today() -> Today {
    Today { day: day("2026-10-20"), offset_minutes: 0 }
}

/// A name told apart from others of its kind by a number.
fn named<T>(make: fn(Millis, [u8; 10]) -> T, n: u8) -> T {
    make(Millis(0), [n; 10])
}

#[derive(Default)]
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
        assert_eq!(self.book.fold(&entry), Outcome::Folded);
    }

    fn place(&mut self, n: u8, name: &str, watering: &str) {
        self.write(PlaceSet {
            place: named(PlaceId::new, n),
            name: Some(name.into()),
            covered: None,
            watering: Some(watering.into()),
            plants: None,
            area_dm2: Some(500),
            retired: None,
        });
    }

    fn pick(&mut self, n: u8, on: &str) {
        let set = PickSet {
            pick: named(PickId::new, n),
            day: Some(day(on)),
            name: Some(format!("pick {n}")),
            closed: None,
        };
        self.write(set);
    }

    fn bin(
        &mut self,
        n: u8,
        (pick, place): (u8, u8),
        what: (&str, &str),
        grams: i64,
        defect: &str,
    ) {
        let on = self.book.picks[&named(PickId::new, pick)].day.get().copied().expect("is set");
        self.write(BinKept {
            bin: named(BinId::new, n),
            pick: named(PickId::new, pick),
            place: named(PlaceId::new, place),
            crop: what.0.into(),
            class: what.1.into(),
            gross: Reading::from_grams(Grams(grams + 700)),
            tare: Grams(700),
            person: named(PersonId::new, 1),
            at: on.start().plus(DAY_MS / 2 + i64::from(n)),
            variety: None,
            stage: None,
            defect: (!defect.is_empty()).then(|| defect.to_owned()),
            bin_type: None,
            room: Some(named(RoomId::new, 1)),
            tag: None,
        });
    }

    fn planting(&mut self, n: u8, place: u8, plants: i64, from: &str) {
        self.write(PlantingSet {
            planting: named(PlantingId::new, n),
            place: Some(named(PlaceId::new, place)),
            crop: Some("tomato".into()),
            variety: None,
            plants: Some(plants),
            area_dm2: None,
            from: Some(day(from)),
            cleared: None,
        });
    }

    fn record(&mut self, n: u8, year: i64, grams: i64, plants: Option<i64>) {
        self.write(SeasonRecorded {
            record: named(RecordId::new, n),
            year,
            crop: "tomato".into(),
            grams: Grams(grams),
            variety: None,
            place: None,
            plants,
            area_dm2: None,
            first: None,
            last: None,
            note: None,
        });
    }

    fn room(&mut self, celsius: i32) {
        self.write(RoomSet {
            room: named(RoomId::new, 1),
            name: Some("Cellar".into()),
            temperature: Some(MilliCelsius::from_celsius(celsius)),
            humidity: None,
            retired: None,
        });
    }
}

fn tomatoes() -> Log {
    let mut log = Log::default();
    log.room(14);
    log.place(1, "Bed 1", "drip");
    log.place(2, "Bed 5", "hand");
    log.planting(1, 1, 10, "2026-05-20");
    // The same bed a year before; nobody wrote that it was cleared.
    log.planting(2, 1, 99, "2025-05-20");
    log.planting(3, 2, 5, "2026-05-25");
    log.pick(1, "2026-08-30");
    log.pick(2, "2026-10-09");
    log.pick(3, "2025-09-30");
    log.bin(1, (1, 1), ("tomato", "ripe"), 12_000, "");
    log.bin(2, (2, 1), ("tomato", "green"), 8_000, "");
    log.bin(3, (2, 2), ("tomato", "ripe"), 6_000, "");
    log.bin(4, (2, 2), ("tomato", "hurt"), 4_000, "blossom_end_rot");
    log.bin(5, (3, 1), ("tomato", "ripe"), 9_900, "");
    log
}

#[test]
fn yields_are_sums_over_plants_and_area() {
    let told = season(&tomatoes().book, 2026, today());
    assert_eq!((told.picked, told.bins), (Grams(30_000), 4));
    assert_eq!((told.first, told.last), (Some(day("2026-08-30")), Some(day("2026-10-09"))));
    let [row] = told.varieties.as_slice() else { panic!("{:?}", told.varieties) };
    assert_eq!((row.plants, row.per_plant), (Some(15), Some(Grams(2_000))));
    assert_eq!((row.sound, row.area_dm2), (Grams(26_000), Some(1_000)));
    assert_eq!(row.per_m2, Some(Grams(3_000)));
    let beds: Vec<_> = told.places.iter().map(|row| (row.picked, row.per_plant)).collect();
    assert_eq!(beds, [(Grams(20_000), Some(Grams(2_000))), (Grams(10_000), Some(Grams(2_000)))]);
    let shares: Vec<_> = told.classes[0].shares.iter().map(|share| share.permille).collect();
    assert_eq!(shares, [600, 267, 133]);
}

#[test]
fn years_stand_side_by_side_and_a_record_of_a_weighed_year_does_not_count_twice() {
    let mut log = tomatoes();
    log.record(1, 2024, 20_000, Some(10));
    log.record(2, 2024, 10_000, Some(5));
    log.record(3, 2025, 55_000, None);
    log.record(4, 2023, 7_000, None);
    log.write(SeasonStruck { record: named(RecordId::new, 4), person: named(PersonId::new, 1) });
    let told = season(&log.book, 2026, today());
    assert_eq!(told.known_years, [2026, 2025, 2024]);
    assert_eq!(told.records_left_out, 1);
    let cells: Vec<_> = told.years[0]
        .years
        .iter()
        .map(|cell| (cell.year, cell.grams, cell.per_plant, cell.recorded))
        .collect();
    let per = |grams| Some(Grams(grams));
    assert_eq!(
        cells,
        [
            (2024, Grams(30_000), per(2_000), true),
            (2025, Grams(9_900), per(100), false),
            (2026, Grams(30_000), per(2_000), false),
        ]
    );
}

#[test]
fn two_fruits_are_not_a_finding_and_many_are() {
    let by_watering = |book: &Book| {
        let told = season(book, 2026, today());
        told.defects.into_iter().find(|table| table.by == "watering").expect("one defect")
    };
    let mut few = Log::default();
    few.place(1, "Bed 1", "drip");
    few.place(2, "Bed 5", "hand");
    few.pick(1, "2026-09-01");
    few.bin(1, (1, 1), ("tomato", "ripe"), 220, "");
    few.bin(2, (1, 2), ("tomato", "hurt"), 220, "blossom_end_rot");
    let table = by_watering(&few.book);
    assert!(table.differ.is_empty() && table.words.contains("not enough to say"), "{table:?}");

    let mut many = few;
    many.pick(2, "2026-09-02");
    for n in 0..30 {
        many.bin(10 + n, (2, 1), ("tomato", "ripe"), 5_000, "");
        many.bin(50 + n, (2, 2), ("tomato", "ripe"), 4_000, "");
        many.bin(100 + n, (2, 2), ("tomato", "hurt"), 3_000, "blossom_end_rot");
    }
    let table = by_watering(&many.book);
    assert_eq!(table.groups[0].share.label, "watered by hand");
    assert_eq!(table.differ.len(), 1, "{table:?}");
    assert_eq!(table.words, table.differ[0].words);
}

#[test]
fn waste_is_what_was_thrown_and_frost_is_the_first_that_killed() {
    let mut log = tomatoes();
    let lots = log.book.lots();
    let lot = |class: &str| {
        let of = |lot: &&shared_types::book::lots::Lot| {
            lot.class.as_str() == class && lot.day == day("2026-10-09")
        };
        lots.all.values().find(of).expect("such a lot").id
    };
    for (n, class, what, grams) in
        [(1, "hurt", "compost", 4_000), (2, "green", "lost", 500), (3, "ripe", "jar", 6_000)]
    {
        log.write(LotUsed {
            taking: named(UseId::new, n),
            lot: lot(class),
            grams: Grams(grams),
            what: what.into(),
            at: day("2026-10-15").start(),
        });
    }
    for (n, on, vines) in [(1, "2026-10-02", "hurt"), (2, "2026-10-05", "dead")] {
        log.write(ColdChecked {
            check: named(ColdCheckId::new, n),
            place: named(PlaceId::new, 2),
            at: day(on).start().plus(DAY_MS / 2),
            look: "thawed".into(),
            vines: vines.into(),
            fruit: "sound".into(),
            low: Some(MilliCelsius(-3_100)),
        });
    }
    let told = season(&log.book, 2026, today());
    assert_eq!((told.waste.total, told.waste.permille), (Grams(4_500), 150));
    assert_eq!(told.waste.by_room[0].name, "Cellar");
    assert_eq!(told.frosts.killing, Some(day("2026-10-05")));
    assert_eq!(told.frosts.killing_at, ["Bed 5"]);
    assert_eq!(told.frosts.killing_low, Some(MilliCelsius(-3_100)));
    assert_eq!(season(&log.book, 2025, today()).frosts.killing, None);
}

#[test]
fn what_softens_is_eaten_first_and_looked_at_soon() {
    let mut log = Log::default();
    log.room(13);
    log.place(1, "Squash bank", "hand");
    log.place(2, "Lower bank", "hand");
    log.pick(1, "2026-10-01");
    log.bin(1, (1, 1), ("winter-squash", "ripe"), 20_000, "");
    log.bin(2, (1, 2), ("winter-squash", "ripe"), 20_000, "");
    log.bin(3, (1, 1), ("onion", "sound"), 10_000, "");
    let lots = log.book.lots();
    let squash = |place: u8| {
        let of = |lot: &&shared_types::book::lots::Lot| {
            lot.crop.as_str() == "winter-squash" && lot.place == named(PlaceId::new, place)
        };
        lots.all.values().find(of).expect("such a lot").id
    };
    let onions = lots.all.values().find(|lot| lot.crop.as_str() == "onion").expect("onions").id;
    log.write(RoundMade {
        sound_count: Some(17),
        soft_count: Some(2),
        lost_count: Some(1),
        lost: Some(Grams(900)),
        ..RoundMade::nothing(
            named(RoundId::new, 1),
            squash(2),
            day("2026-10-18").start(),
            named(PersonId::new, 1),
        )
    });
    log.write(CureSet {
        lot: onions,
        cured: Some(false),
        from: Some(day("2026-10-02")),
        until: None,
        room: None,
    });
    let told = stores(&log.book, today());
    let names: Vec<_> = told.lots.iter().map(|row| row.place_name.as_str()).collect();
    assert_eq!((told.lots.len(), names[0]), (3, "Lower bank"));
    let first = &told.lots[0];
    assert_eq!((first.look_by, first.fruits), (day("2026-10-21"), Some(17)));
    let held = first.survival.as_ref().expect("fruits were counted");
    assert!((held.points[0].sound - 0.85).abs() < 1e-9, "3 of 20 were lost or soft");
    let onion = told.lots.iter().find(|row| row.lot.id == onions).expect("onions");
    assert_eq!((onion.cure.verdict, onion.cure.state), (CureVerdict::Yes, "curing"));
    assert!(onion.cure.until.is_some_and(|until| until > day("2026-10-02")));
    assert!(told.lots.iter().all(|row| row.ranked.keep_by.from <= row.ranked.keep_by.to));
}
