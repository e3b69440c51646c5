//! Kilograms balance, whatever happened and in whatever order it was heard.

use proptest::prelude::*;

use super::*;
use crate::entry::*;
use crate::hlc::Hlc;
use crate::units::{HOUR_MS, Reading};

const HOUR: i64 = HOUR_MS;

fn named<T>(make: fn(Millis, [u8; 10]) -> T, n: u8) -> T {
    make(Millis(i64::from(n)), [n; 10])
}

fn kept(n: u8, place: u8, class: &str, grams: i64, at: i64) -> BinKept {
    BinKept {
        bin: named(BinId::new, n),
        pick: named(PickId::new, 1),
        place: named(PlaceId::new, place),
        crop: "tomato".into(),
        class: class.into(),
        gross: Reading::from_grams(Grams(grams)),
        tare: Grams::ZERO,
        person: person(),
        at: Millis(at),
        variety: None,
        stage: None,
        defect: None,
        bin_type: None,
        room: None,
        tag: None,
    }
}

fn person() -> PersonId {
    named(PersonId::new, 3)
}

fn round(n: u8, lot: LotId, at: i64) -> RoundMade {
    RoundMade::nothing(named(RoundId::new, n), lot, Millis(at), person())
}

fn used(n: u8, lot: LotId, grams: i64, at: i64) -> LotUsed {
    let taking = named(UseId::new, n);
    LotUsed { taking, lot, grams: Grams(grams), what: "jar".into(), at: Millis(at) }
}

fn thawed(n: u8, place: u8, vines: &str, at: i64) -> ColdChecked {
    ColdChecked {
        check: named(ColdCheckId::new, n),
        place: named(PlaceId::new, place),
        at: Millis(at),
        look: "thawed".into(),
        vines: vines.into(),
        fruit: "sound".into(),
        low: None,
    }
}

fn book(facts: impl IntoIterator<Item = Fact>) -> Book {
    let mut book = Book::default();
    for (n, fact) in (1..).zip(facts) {
        let id = EntryId { device: named(DeviceId::new, 1), device_seq: n };
        let entry = Entry::new(id, Hlc(Millis(n as i64), 0), &fact).expect("small");
        assert_eq!(book.fold(&entry), crate::book::Outcome::Folded, "{fact:?}");
    }
    book
}

fn only(lots: &Lots) -> &Lot {
    let mut picked = lots.all.values().filter(|lot| lot.is_picked());
    let only = picked.next().expect("a lot");
    assert!(picked.next().is_none());
    only
}

fn sorted_out(lots: &Lots, soft: bool) -> Vec<&Lot> {
    let of = |lot: &&Lot| lot.from_round.is_some_and(|from| from.soft == soft);
    lots.all.values().filter(of).collect()
}

/// Everything that must hold of any lots: nothing appears, nothing vanishes.
fn balances(book: &Book) -> Result<(), TestCaseError> {
    let lots = book.lots();
    let bins: Grams = book.counted().map(|(_, bin)| bin.net()).sum();
    let sum = |of: &dyn Fn(&Lot) -> Grams| lots.all.values().map(of).sum::<Grams>();
    let picked = sum(&|lot| if lot.is_picked() { lot.came } else { Grams::ZERO });
    prop_assert_eq!(picked, bins, "what was picked is in lots");
    for lot in lots.all.values() {
        let gone = lot.taken_in_all() + lot.shrink;
        let beyond = (gone - lot.came).max(Grams::ZERO);
        prop_assert_eq!(lot.came, lot.left() + gone - beyond);
        prop_assert!(lot.overdrawn() >= beyond);
        let shrink: Grams = lot.rounds.iter().map(|seen| seen.shrink).sum();
        prop_assert_eq!(shrink, lot.shrink);
        let thrown: Grams = lot.thrown.values().copied().sum();
        prop_assert!(thrown <= lot.taken.get(TAKEN_LOST).copied().unwrap_or_default());
    }
    let passed = sum(&|lot| {
        [TAKEN_RIPE, TAKEN_SOFT].iter().filter_map(|word| lot.taken.get(*word)).copied().sum()
    });
    let came_of_rounds = sum(&|lot| if lot.is_picked() { Grams::ZERO } else { lot.came });
    prop_assert_eq!(passed, came_of_rounds, "what a round takes out of one lot is in another");
    // Every taking and every round is somewhere, once.
    let said: Grams = book.takings.values().map(|taking| taking.fact.grams).sum();
    let jars = sum(&|lot| lot.taken.get("jar").copied().unwrap_or_default());
    let stray: Grams = lots
        .stray
        .iter()
        .map(|stray| if let Stray::Used(taking) = stray { taking.grams } else { Grams::ZERO })
        .sum();
    prop_assert_eq!(said, jars + stray);
    let seen: BTreeMap<RoundId, Grams> =
        lots.all.values().flat_map(|lot| &lot.rounds).fold(BTreeMap::new(), |mut seen, round| {
            *seen.entry(round.round).or_default() += round.ripe + round.lost + round.soft;
            seen
        });
    for (id, Signed { fact, .. }) in &book.rounds {
        let grams: Grams = [fact.ripe, fact.lost, fact.soft].into_iter().flatten().sum();
        let astray = lots.stray.iter().any(|s| matches!(s, Stray::Round(r) if r.round == *id));
        let found = seen.get(id).copied();
        let struck = book.rounds_struck.contains(id);
        prop_assert_eq!(found, (!struck && !astray).then_some(grams));
    }
    Ok(())
}

#[test]
fn a_round_makes_lots_and_what_is_missing_has_dried_away() {
    let pile = [kept(1, 1, "colouring", 10_000, 0).into()];
    let lot = only(&book(pile.clone()).lots()).id;
    let window = named(RoomId::new, 9);
    let sort = RoundMade {
        ripe: Some(Grams(4_000)),
        lost: Some(Grams(500)),
        soft: Some(Grams(300)),
        left: Some(Grams(5_000)),
        ripe_room: Some(window),
        defect: Some("disease".into()),
        ..round(1, lot, 5)
    };
    let book = book(pile.into_iter().chain([sort.into()]));
    balances(&book).expect("balances");
    let lots = book.lots();
    let from = only(&lots);
    assert_eq!((from.left(), from.shrink), (Grams(5_000), Grams(200)));
    assert_eq!(from.thrown, BTreeMap::from([("disease".to_owned(), Grams(500))]));
    assert_eq!(from.rounds[0].before, Grams(10_000));
    let ripe = sorted_out(&lots, false)[0];
    assert_eq!((ripe.came, ripe.class.as_str()), (Grams(4_000), "ripe"));
    assert_eq!((ripe.room(), &ripe.condition), (Some(window), &from.condition));
    let soft = sorted_out(&lots, true)[0];
    assert_eq!((soft.came, soft.defect.as_deref()), (Grams(300), Some("soft")));
}

#[test]
fn more_weighed_than_can_be_there_is_a_slip_and_shown() {
    let pile = [kept(1, 1, "green", 10_000, 0).into()];
    let lot = only(&book(pile.clone()).lots()).id;
    let weighed = RoundMade { left: Some(Grams(12_500)), ..round(1, lot, 5) };
    let lots = book(pile.into_iter().chain([weighed.into()])).lots();
    let lot = only(&lots);
    assert_eq!((lot.left(), lot.shrink), (Grams(12_500), Grams(-2_500)));
    assert_eq!(lot.overdrawn(), Grams(2_500));
}

#[test]
fn a_round_through_what_a_round_took_out_works_even_when_its_clock_was_behind() {
    let pile = [kept(1, 1, "green", 10_000, 0).into()];
    let lot = only(&book(pile.clone()).lots()).id;
    let first = RoundMade { ripe: Some(Grams(4_000)), ..round(1, lot, 50) };
    let ripe = id::of_round(first.round, TAKEN_RIPE, None);
    let second = RoundMade { lost: Some(Grams(1_000)), ..round(2, ripe, 5) };
    let lots = book(pile.into_iter().chain([second.into(), first.into()])).lots();
    assert_eq!(lots.stray, []);
    assert_eq!(lots.all[&ripe].left(), Grams(3_000));
    assert_eq!(only(&lots).left(), Grams(6_000));
}

#[test]
fn what_was_said_of_a_lot_follows_its_bins_over_a_late_cold_check() {
    // Both were picked into one lot; the check, heard late, says that only the second was picked
    // after the frost.
    let pile = [kept(1, 1, "green", 9_000, 0), kept(2, 1, "green", 3_000, 4 * HOUR)];
    let before = book(pile.clone().map(Fact::from));
    let lot = only(&before.lots()).id;
    let room = named(RoomId::new, 9);
    let sort = RoundMade { ripe: Some(Grams(1_200)), ..round(1, lot, 5 * HOUR) };
    let ripe = id::of_round(sort.round, TAKEN_RIPE, None);
    let check = thawed(1, 1, "dead", -HOUR);
    let later = thawed(2, 1, "alive", 2 * HOUR);
    let facts = pile.map(Fact::from).into_iter().chain([
        LotMoved { lot, room, at: Millis(5 * HOUR) }.into(),
        sort.into(),
        used(1, ripe, 400, 6 * HOUR).into(),
        used(2, lot, 800, 6 * HOUR).into(),
        check.into(),
        later.into(),
    ]);
    let book = book(facts);
    balances(&book).expect("balances");
    let lots = book.lots();
    assert_eq!(lots.stray, []);
    let mut picked: Vec<_> = lots.all.values().filter(|lot| lot.is_picked()).collect();
    picked.sort_by_key(|lot| lot.came);
    let vines: Vec<_> = picked.iter().map(|lot| lot.condition.vines.as_deref()).collect();
    assert_eq!(vines, [Some("alive"), Some("dead")]);
    assert!(picked.iter().all(|lot| lot.room() == Some(room)));
    // A quarter of everything that was taken came of the quarter that stood there.
    let left: Vec<_> = picked.iter().map(|lot| lot.left()).collect();
    assert_eq!(left, [Grams(3_000 - 300 - 200), Grams(9_000 - 900 - 600)]);
    let mut ripe: Vec<_> = sorted_out(&lots, false);
    ripe.sort_by_key(|lot| lot.came);
    let ripe: Vec<_> =
        ripe.iter().map(|l| (l.left(), l.condition.vines.as_deref().unwrap_or(""))).collect();
    assert_eq!(ripe, [(Grams(200), "alive"), (Grams(600), "dead")]);
}

#[test]
fn what_was_said_of_a_lot_follows_its_bins_over_a_correction_and_a_struck_bin_leaves_it_astray() {
    let mut facts: Vec<Fact> = vec![kept(1, 1, "green", 9_000, 0).into()];
    let lot = only(&book(facts.clone()).lots()).id;
    facts.push(used(1, lot, 2_000, 5).into());
    let nothing = BinCorrected::nothing(named(BinId::new, 1), person());
    facts.push(BinCorrected { class: Some("colouring".into()), ..nothing }.into());
    let corrected = book(facts.clone()).lots();
    assert_eq!((corrected.stray.len(), only(&corrected).left()), (0, Grams(7_000)));
    let bin = named(BinId::new, 1);
    facts.push(BinStruck { bin, person: person(), why: None }.into());
    let struck = book(facts).lots();
    assert!(matches!(&struck.stray[..], [Stray::Used(taking)] if taking.lot == lot));
}

#[test]
fn a_round_can_be_taken_back() {
    let mut facts: Vec<Fact> = vec![kept(1, 1, "green", 9_000, 0).into()];
    let lot = only(&book(facts.clone()).lots()).id;
    facts.push(RoundMade { ripe: Some(Grams(9_000)), ..round(1, lot, 5) }.into());
    facts.push(RoundStruck { round: named(RoundId::new, 1), person: person() }.into());
    let lots = book(facts).lots();
    assert_eq!((lots.all.len(), only(&lots).left()), (1, Grams(9_000)));
    assert_eq!(only(&lots).rounds, []);
}

#[test]
fn what_softens_or_was_hurt_is_never_fitter_than_before() {
    for (class, defect, soft) in [
        ("green", None, "soft"),
        ("ripe", Some("sunscald"), "soft"),
        ("hurt", Some("disease"), "disease"),
        ("hurt", Some("withered"), "withered"),
    ] {
        let bin = BinKept { defect: defect.map(str::to_owned), ..kept(1, 1, class, 900, 0) };
        let lot = only(&book([bin.clone().into()]).lots()).id;
        let both = RoundMade { soft: Some(Grams(100)), ripe: Some(Grams(100)), ..round(1, lot, 5) };
        let lots = book([bin.into(), both.into()]).lots();
        assert_eq!(sorted_out(&lots, true)[0].defect.as_deref(), Some(soft), "{class}");
        let ripe = sorted_out(&lots, false)[0];
        assert_eq!(ripe.defect.as_deref(), defect);
        assert_eq!(ripe.class.as_str(), if class == "hurt" { "hurt" } else { "ripe" });
    }
}

/// One thing that someone does: `n` names it, `grams` is its size, `which` picks what it is done
/// to, `knows` how much of the log its phone had heard.
#[derive(Clone, Debug)]
struct Step {
    what: u8,
    n: u8,
    grams: i64,
    which: usize,
    knows: usize,
    hour: i64,
}

fn steps() -> impl Strategy<Value = Vec<Step>> {
    let step = (0u8..11, 0u8..6, 1i64..4_000, 0usize..40, 0usize..40, 0i64..12).prop_map(
        |(what, n, grams, which, knows, hour)| Step { what, n, grams, which, knows, hour },
    );
    prop::collection::vec(step, 1..36)
}

/// What honest phones can write, some of them having heard only the beginning of the log.
fn log(steps: &[Step]) -> Vec<Entry> {
    let mut log: Vec<Entry> = Vec::new();
    let mut bins = 0;
    for (seq, step) in (1u8..).zip(steps) {
        let heard = &log[log.len().saturating_sub(step.knows)..];
        let heard = if step.knows.is_multiple_of(2) { &log[..] } else { heard };
        let mut knows = Book::default();
        heard.iter().for_each(|entry| _ = knows.fold(entry));
        let lots: Vec<LotId> = knows.lots().all.keys().copied().collect();
        let lot = lots.get(step.which % lots.len().max(1)).copied();
        let at = step.hour * HOUR;
        let class = ["ripe", "colouring", "green"][step.which % 3];
        let grams = |of: usize| (step.which.is_multiple_of(of)).then_some(Grams(step.grams));
        let fact: Option<Fact> = match step.what {
            0 | 1 => {
                bins += 1;
                Some(kept(bins, step.n % 2, class, step.grams, at).into())
            }
            2 => lot.map(|lot| {
                LotMoved { lot, room: named(RoomId::new, step.n), at: Millis(at) }.into()
            }),
            3 | 4 => lot.map(|lot| {
                let made = RoundMade {
                    ripe: grams(1),
                    lost: grams(2),
                    soft: grams(3),
                    left: grams(5),
                    defect: grams(4).map(|_| "disease".to_owned()),
                    ..round(seq, lot, at)
                };
                made.into()
            }),
            5 | 6 => lot.map(|lot| used(seq, lot, step.grams, at).into()),
            7 => Some(
                BinStruck { bin: named(BinId::new, step.n + 1), person: person(), why: None }
                    .into(),
            ),
            8 => {
                let nothing = BinCorrected::nothing(named(BinId::new, step.n + 1), person());
                let gross = grams(2).map(Reading::from_grams);
                Some(BinCorrected { class: Some(class.into()), gross, ..nothing }.into())
            }
            9 => {
                let vines = ["dead", "alive", "hurt"][step.which % 3];
                let look = if step.which.is_multiple_of(5) { "frozen" } else { "thawed" };
                let check = thawed(seq, step.n % 2, vines, at);
                Some(ColdChecked { look: look.into(), ..check }.into())
            }
            _ => {
                let rounds: Vec<_> = knows.rounds.keys().copied().collect();
                let round = rounds.get(step.which % rounds.len().max(1)).copied();
                round.map(|round| RoundStruck { round, person: person() }.into())
            }
        };
        let Some(fact) = fact else { continue };
        let device_seq = log.len() as u64 + 1;
        let id = EntryId { device: named(DeviceId::new, 1), device_seq };
        let hlc = Hlc(Millis(i64::from(seq)), 0);
        log.push(Entry::new(id, hlc, &fact).expect("small"));
    }
    log
}

fn fold(log: &[Entry]) -> Book {
    let mut book = Book::default();
    log.iter().for_each(|entry| _ = book.fold(entry));
    book
}

proptest! {
    /// Kilograms always balance, to the gram.
    #[test]
    fn any_sequence_balances(steps in steps()) {
        balances(&fold(&log(&steps)))?;
    }

    /// Nothing depends on the order of arrival.
    #[test]
    fn any_order_of_arrival_gives_the_same_lots(
        (log, shuffled) in steps().prop_flat_map(|steps| {
            let log = log(&steps);
            (Just(log.clone()), Just(log).prop_shuffle())
        })
    ) {
        let (book, other) = (fold(&log), fold(&shuffled));
        balances(&other)?;
        prop_assert_eq!(book.lots(), other.lots());
    }

    /// What was said of a lot is astray only when all its bins were struck or its round was.
    #[test]
    fn nothing_is_astray_while_its_bins_stand(steps in steps()) {
        let steps: Vec<_> = steps.into_iter().filter(|s| s.what != 7 && s.what < 10).collect();
        prop_assert_eq!(fold(&log(&steps)).lots().stray, vec![]);
    }

    /// Shared out by weight, every gram goes to somebody.
    #[test]
    fn shares_add_up(grams in 0i64..3_000_000, weights in prop::collection::vec(0i64..9_000, 1..6)) {
        let of: Vec<_> = (0u8..).zip(weights)
            .map(|(n, weight)| (named(LotId::new, n), Grams(weight)))
            .collect();
        let shares = sorting::share(Grams(grams), &of);
        prop_assert_eq!(shares.iter().copied().sum::<Grams>(), Grams(grams));
        prop_assert!(shares.iter().all(|share| *share >= Grams::ZERO));
    }
}
