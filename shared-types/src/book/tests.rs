//! The fold's laws, on random logs.

use proptest::prelude::*;

use super::*;
use crate::entry::*;
use crate::hlc::Hlc;
use crate::units::{Grams, MilliCelsius, Millis, Reading};

fn device(n: u8) -> DeviceId {
    DeviceId::new(Millis(0), [n; 10])
}

fn kept(n: u8, class: &str, grams: i64, at: i64) -> BinKept {
    BinKept {
        bin: BinId::new(Millis(i64::from(n)), [n; 10]),
        pick: PickId::new(Millis(0), [1; 10]),
        place: PlaceId::new(Millis(0), [2; 10]),
        crop: "tomato".into(),
        class: class.into(),
        gross: Reading::from_grams(Grams(grams + 700)),
        tare: Grams(700),
        person: PersonId::new(Millis(0), [3; 10]),
        at: Millis(at),
        variety: None,
        stage: None,
        defect: None,
        bin_type: None,
        room: None,
        tag: None,
    }
}

fn corrected(n: u8) -> BinCorrected {
    let BinKept { bin, person, .. } = kept(n, "ripe", 1, 0);
    BinCorrected::nothing(bin, person)
}

fn entry(device_n: u8, device_seq: u64, wall: i64, fact: impl Into<Fact>) -> Entry {
    let id = EntryId { device: device(device_n), device_seq };
    Entry::new(id, Hlc(Millis(wall), 0), &fact.into()).expect("small")
}

fn fold<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> Book {
    let mut book = Book::default();
    for entry in entries {
        book.fold(entry);
    }
    book
}

#[test]
fn a_correction_counts_a_strike_takes_away_and_both_leave_history() {
    let mut book = Book::default();
    book.fold(&entry(1, 1, 10, kept(1, "ripe", 9_400, 10)));
    let heavier = BinCorrected {
        gross: Some(Reading::from_grams(Grams(11_000))),
        class: Some("green".into()),
        ..corrected(1)
    };
    assert_eq!(book.fold(&entry(1, 2, 11, heavier)), Outcome::Folded);
    let totals = book.totals(None, totals::By::Class, None);
    assert_eq!((totals.total, totals.rows[0].label.as_str()), (Grams(10_300), "green"));
    let struck = BinStruck { bin: corrected(1).bin, person: corrected(1).person, why: None };
    book.fold(&entry(1, 3, 12, struck));
    assert_eq!(book.totals(None, totals::By::Class, None).total, Grams::ZERO);
    let bin = book.bins.values().next().expect("stays in the book");
    assert_eq!((bin.corrections.len(), bin.struck.is_some()), (1, true));
}

#[test]
fn nonsense_is_set_aside_and_the_next_entry_folds() {
    let mut book = Book::default();
    let tare_above_gross = BinKept { tare: Grams(99_000), ..kept(1, "ripe", 1_000, 0) };
    assert!(matches!(
        book.fold(&entry(1, 1, 1, tare_above_gross)),
        Outcome::Ignored(Reason::Weight(_))
    ));
    let mut malformed = entry(1, 2, 2, kept(2, "ripe", 1_000, 0));
    malformed.payload =
        serde_json::value::RawValue::from_string("{\"bin\":7}".into()).expect("JSON");
    assert!(matches!(book.fold(&malformed), Outcome::Ignored(Reason::Malformed(_))));
    assert_eq!(book.fold(&entry(1, 3, 3, kept(3, "ripe", 1_000, 0))), Outcome::Folded);
    assert_eq!(book.set_aside.len(), 2);
    assert_eq!(book.counted().count(), 1);
}

#[test]
fn what_a_newer_program_wrote_waits_and_is_folded_after_the_update() {
    // A stand-in for "newer": a kind this program knows, in a version it does not, made known by
    // giving the waiting entry the version an updated program would read.
    let mut newer = entry(1, 1, 1, kept(1, "ripe", 5_000, 0));
    newer.kind_version += 1;
    let mut book = Book::default();
    assert_eq!(book.fold(&newer), Outcome::Deferred);
    assert_eq!(book.counted().count(), 0);
    book.deferred[0].kind_version -= 1;
    book.upgrade();
    assert_eq!(book, fold([&entry(1, 1, 1, kept(1, "ripe", 5_000, 0))]));
}

#[test]
fn a_cold_check_judges_what_is_picked_after_it_and_nothing_else() {
    let at = |hour: i64| hour * crate::units::HOUR_MS;
    let look = |n: u8, hour: i64, look: &str| ColdChecked {
        check: ColdCheckId::new(Millis(0), [n; 10]),
        place: kept(1, "ripe", 1, 0).place,
        at: Millis(at(hour)),
        look: look.to_owned(),
        vines: "dead".to_owned(),
        fruit: "sound".to_owned(),
        low: Some(MilliCelsius::from_celsius(-4)),
    };
    let mut log = vec![
        entry(1, 1, 1, kept(1, "ripe", 1_000, at(1))),
        entry(1, 2, 2, kept(2, "ripe", 2_000, at(3))),
        entry(1, 3, 3, look(1, 2, "frozen")),
    ];
    let conditions = |log: &[Entry]| {
        let lots = fold(log).lots();
        let mut of: Vec<_> =
            lots.all.values().map(|lot| (lot.came, lot.condition.clone())).collect();
        of.sort();
        of
    };
    let before = conditions(&log);
    assert_eq!(before[0], (Grams(1_000), lots::Condition::default()));
    assert!(before[1].1.unsettled, "picked while nobody had looked after thaw");
    log.push(entry(1, 4, 4, look(2, 5, "thawed")));
    let after = conditions(&log);
    assert_eq!(after[0].1, lots::Condition::default());
    assert_eq!(after[1].1.vines.as_deref(), Some("dead"));
}

#[test]
fn lots_balance_to_the_gram() {
    let mut log =
        vec![entry(1, 1, 1, kept(1, "ripe", 4_000, 0)), entry(1, 2, 2, kept(2, "ripe", 3_500, 0))];
    let lot = *fold(&log).lots().all.keys().next().expect("one lot");
    let taking = |n: u8, grams: i64, what: &str| LotUsed {
        taking: UseId::new(Millis(0), [n; 10]),
        lot,
        grams: Grams(grams),
        what: what.to_owned(),
        at: Millis(5),
    };
    log.push(entry(1, 3, 3, taking(1, 2_000, "jar")));
    log.push(entry(2, 1, 3, taking(2, 500, "lost")));
    let lots = fold(&log).lots();
    let lot = lots.all.values().next().expect("one lot");
    assert_eq!((lot.came, lot.left()), (Grams(7_500), Grams(5_000)));
    assert_eq!(lot.taken.values().copied().sum::<Grams>() + lot.left(), lot.came);
}

#[test]
fn two_phones_logging_one_bin_are_noticed_until_settled() {
    let mut log = vec![
        entry(1, 1, 1, kept(1, "ripe", 9_400, 0)),
        entry(2, 1, 2, kept(2, "ripe", 9_500, 119_000)),
        entry(2, 2, 3, kept(3, "ripe", 9_700, 119_000)),
        entry(1, 2, 4, kept(4, "ripe", 9_400, 1_000)),
        entry(2, 3, 5, kept(5, "green", 9_400, 1_000)),
    ];
    let bin = |n| corrected(n).bin;
    let pairs = fold(&log).pairs();
    let first = pairs::Pair { first: bin(1), second: bin(2) };
    let second = pairs::Pair { first: bin(4), second: bin(2) };
    assert_eq!(pairs, [first, second], "one division apart, other device, within two minutes");
    log.push(entry(1, 3, 6, BinsApart { one: bin(2), other: bin(1) }));
    assert_eq!(fold(&log).pairs(), [second]);
}

#[test]
fn guesses_are_ranked_by_how_close_they_are() {
    let guess = |n: u8, name: &str, grams: i64| GuessMade {
        guess: GuessId::new(Millis(0), [n; 10]),
        pick: kept(1, "ripe", 1, 0).pick,
        name: name.to_owned(),
        grams: Grams(grams),
    };
    let book = fold(&[
        entry(1, 1, 1, kept(1, "ripe", 10_000, 0)),
        entry(1, 2, 2, guess(1, "Ana", 15_000)),
        entry(1, 3, 3, guess(2, "Ben", 9_000)),
        entry(1, 4, 4, guess(3, "ana ", 11_500)),
    ]);
    let ranked = book.guesses(kept(1, "ripe", 1, 0).pick);
    let names: Vec<_> = ranked.iter().map(|r| (r.name.as_str(), r.off.0)).collect();
    assert_eq!(names, [("Ben", -1_000), ("ana ", 1_500)]);
}

/// A log of distinct names: what honest phones can write.
fn log() -> impl Strategy<Value = Vec<Entry>> {
    let step = (0u8..3, 0u8..6, 1i64..2_000, 0usize..4);
    prop::collection::vec(step, 1..40).prop_map(|steps| {
        let mut seqs = [0u64; 3];
        let mut kept_bins = BTreeSet::new();
        let mut log = Vec::new();
        for (wall, (device_n, n, grams, what)) in (1i64..).zip(steps) {
            let fact: Fact = match what {
                0 if kept_bins.insert(n) => kept(n, "ripe", grams, wall).into(),
                1 => BinStruck { bin: corrected(n).bin, person: corrected(n).person, why: None }
                    .into(),
                2 => RoomSet {
                    room: RoomId::new(Millis(0), [n; 10]),
                    name: None,
                    temperature: Some(MilliCelsius(i32::try_from(grams).expect("small"))),
                    humidity: None,
                    retired: None,
                }
                .into(),
                _ => BinCorrected {
                    gross: Some(Reading::from_grams(Grams(700 + grams))),
                    ..corrected(n)
                }
                .into(),
            };
            let seq = &mut seqs[usize::from(device_n)];
            *seq += 1;
            log.push(entry(device_n, *seq, wall, fact));
        }
        log
    })
}

proptest! {
    /// Arrival order does not matter to facts of distinct names.
    #[test]
    fn any_order_folds_to_the_same_book((log, shuffled) in log().prop_flat_map(|log| {
        let shuffled = Just(log.clone()).prop_shuffle();
        (Just(log), shuffled)
    })) {
        prop_assert_eq!(fold(&log), fold(&shuffled));
    }

    /// snapshot + tail = full fold, wherever the cut.
    #[test]
    fn a_snapshot_and_the_rest_is_the_whole(log in log(), cut in 0usize..40) {
        let cut = cut.min(log.len());
        let stored = serde_json::to_string(&fold(&log[..cut])).expect("writes");
        let mut book: Book = serde_json::from_str(&stored).expect("reads");
        for entry in &log[cut..] {
            book.fold(entry);
        }
        prop_assert_eq!(book, fold(&log));
    }

    /// Every total is the sum of its parts and of the bins.
    #[test]
    fn totals_add_up(log in log()) {
        let book = fold(&log);
        let bins: Grams = book.counted().map(|(_, bin)| bin.net()).sum();
        let lots: Grams = book.lots().all.values().map(|lot| lot.came).sum();
        for by in totals::By::ALL {
            let totals = book.totals(None, by, Some(totals::By::Class));
            let cells: Grams = totals.rows.iter().flat_map(|row| row.cells.iter().copied()).sum();
            prop_assert_eq!((totals.total, cells, lots), (bins, bins, bins));
        }
    }
}
