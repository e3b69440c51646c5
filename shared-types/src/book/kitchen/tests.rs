//! Batches take from lots and give back when struck; a plan stands whole.

use crate::book::Book;
use crate::entry::*;
use crate::hlc::Hlc;
use crate::ids::*;
use crate::units::{Day, Grams, Millis, Reading};

fn entry(device: u8, seq: u64, wall: i64, fact: impl Into<Fact>) -> Entry {
    let id = EntryId { device: DeviceId::new(Millis(0), [device; 10]), device_seq: seq };
    Entry::new(id, Hlc(Millis(wall), 0), &fact.into()).expect("small")
}

fn fold<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> Book {
    let mut book = Book::default();
    for entry in entries {
        book.fold(entry);
    }
    book
}

fn person() -> PersonId {
    PersonId::new(Millis(0), [3; 10])
}

fn bin() -> BinKept {
    BinKept {
        bin: BinId::new(Millis(0), [1; 10]),
        pick: PickId::new(Millis(0), [1; 10]),
        place: PlaceId::new(Millis(0), [2; 10]),
        crop: "tomato".into(),
        class: "ripe".into(),
        gross: Reading::from_grams(Grams(10_700)),
        tare: Grams(700),
        person: person(),
        at: Millis(5),
        variety: None,
        stage: None,
        defect: None,
        bin_type: None,
        room: None,
        tag: None,
    }
}

fn batch(n: u8) -> BatchId {
    BatchId::new(Millis(0), [n; 10])
}

fn made(lot: LotId) -> BatchMade {
    BatchMade {
        batch: batch(1),
        at: Millis(20),
        person: person(),
        method: "tomato-sauce-thin".into(),
        what: "jar".into(),
        used: vec![LotPart { lot, grams: Grams(4_000) }, LotPart { lot, grams: Grams(3_500) }],
        out: vec![JarsOut { jar: "quart".into(), count: 3 }],
        place: None,
        note: None,
    }
}

#[test]
fn a_batch_takes_from_its_lots_and_gives_back_when_struck_in_any_order() {
    let kept = entry(1, 1, 1, bin());
    let lot = *fold([&kept]).lots().all.keys().next().expect("a lot");
    let make = entry(1, 2, 2, made(lot));
    let strike = entry(2, 1, 3, BatchStruck { batch: batch(1), person: person(), why: None });
    let left = |book: &Book| book.lots().all[&lot].left();

    let book = fold([&kept, &make]);
    assert_eq!(left(&book), Grams(2_500));
    assert_eq!(book.lots().all[&lot].taken["jar"], Grams(7_500));
    assert_eq!(book.made().len(), 1);

    let struck = fold([&kept, &make, &strike]);
    assert_eq!(left(&struck), Grams(10_000));
    assert!(struck.made().is_empty());
    assert_eq!(struck, fold([&strike, &kept, &make]));
}

#[test]
fn a_second_record_of_one_batch_is_set_aside_and_takes_nothing() {
    let kept = entry(1, 1, 1, bin());
    let lot = *fold([&kept]).lots().all.keys().next().expect("a lot");
    let book = fold([&kept, &entry(1, 2, 2, made(lot)), &entry(2, 1, 3, made(lot))]);
    assert_eq!(book.set_aside.len(), 1);
    assert_eq!(book.lots().all[&lot].left(), Grams(2_500));
    let nothing = BatchMade { out: vec![JarsOut { jar: "quart".into(), count: 0 }], ..made(lot) };
    assert_eq!(fold([&entry(1, 1, 1, nothing)]).set_aside.len(), 1);
}

fn nothing(batch: BatchId) -> BatchSet {
    BatchSet {
        batch,
        plan: None,
        method: None,
        day: None,
        start_minute: None,
        jar: None,
        jars: None,
        lots: None,
        why: None,
        pinned: None,
        dropped: None,
        begun: None,
    }
}

#[test]
fn of_two_plans_the_later_stands_whole_beside_what_is_pinned_or_begun() {
    let plan = |n: u8| PlanId::new(Millis(0), [n; 10]);
    let day = Day::from_ymd(2026, 10, 10).expect("a day");
    let kept = |n: u8| PlanKept {
        plan: plan(n),
        at: Millis(0),
        person: person(),
        day,
        days: 14,
        keeps: Grams(1),
        of: Grams(1),
        gap: 0,
        said: Vec::new(),
    };
    let of = |n: u8, plan_n: u8| BatchSet {
        plan: Some(plan(plan_n)),
        method: Some("tomato-juice".into()),
        day: Some(day),
        ..nothing(batch(n))
    };
    let log = [
        entry(1, 1, 1, of(1, 1)),
        entry(1, 2, 2, of(2, 1)),
        entry(1, 3, 3, kept(1)),
        entry(2, 1, 4, BatchSet { pinned: Some(true), ..nothing(batch(2)) }),
        entry(2, 2, 5, of(3, 2)),
        entry(2, 3, 6, of(4, 2)),
        entry(2, 4, 7, BatchSet { dropped: Some(true), ..nothing(batch(4)) }),
        entry(2, 5, 8, kept(2)),
    ];
    let ids = |book: &Book| book.planned().iter().map(|(id, _)| *id).collect::<Vec<_>>();
    assert_eq!(ids(&fold(&log[..3])), [batch(1), batch(2)]);
    assert_eq!(ids(&fold(&log)), [batch(2), batch(3)]);
    assert_eq!(fold(&log), fold(log.iter().rev()));
}

#[test]
fn the_kitchen_survives_a_snapshot() {
    let day = Day::from_ymd(2026, 10, 10).expect("a day");
    let tick = TickSet { task: super::step_task(batch(1), 2), done: true, person: person() };
    let book = fold([
        &entry(1, 1, 1, HandsSet { day, minutes: 90 }),
        &entry(1, 2, 2, StockSet { item: "lid".into(), have: Some(9) }),
        &entry(1, 3, 3, tick.clone()),
    ]);
    let text = serde_json::to_string(&book).expect("writes");
    assert_eq!(serde_json::from_str::<Book>(&text).expect("reads"), book);
    assert!(book.kitchen.is_done(&tick.task));
    assert_eq!(serde_json::from_str::<Book>("{}").expect("an older book"), Book::default());
}
