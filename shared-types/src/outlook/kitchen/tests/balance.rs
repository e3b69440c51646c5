//! Left + used + lost = picked, to the gram, whatever is done in whatever order.

use proptest::prelude::*;

use super::world::{NOW, World};
use crate::book::lots::Stray;
use crate::entry::*;
use crate::ids::*;
use crate::units::Grams;

/// What a person may do next; numbers choose among what there is.
#[derive(Clone, Debug)]
enum Act {
    Pick(u8, i64),
    Strike(usize),
    Use(usize, i64, bool),
    Move(usize, u8),
    Make(Vec<(usize, i64)>),
    Unmake(usize),
    Freeze,
}

fn act() -> impl Strategy<Value = Act> {
    let grams = 1i64..9_000;
    prop_oneof![
        4 => (0u8..3, grams.clone()).prop_map(|(class, grams)| Act::Pick(class, grams)),
        1 => any::<usize>().prop_map(Act::Strike),
        2 => (any::<usize>(), grams.clone(), any::<bool>()).prop_map(|(n, g, lost)| Act::Use(n, g, lost)),
        1 => (any::<usize>(), 1u8..3).prop_map(|(n, room)| Act::Move(n, room)),
        3 => prop::collection::vec((any::<usize>(), grams), 1..4).prop_map(Act::Make),
        1 => any::<usize>().prop_map(Act::Unmake),
        1 => Just(Act::Freeze),
    ]
}

fn play(world: &mut World, act: &Act) {
    let lots: Vec<LotId> = world.book.lots().all.keys().copied().collect();
    let lot = |n: usize| lots.get(n % lots.len().max(1)).copied();
    match act {
        Act::Pick(class, grams) => {
            let class = ["ripe", "colouring", "green"][usize::from(*class)];
            world.bin(1, class, *grams);
        }
        Act::Strike(n) => {
            let bins: Vec<BinId> = world.book.bins.keys().copied().collect();
            if let Some(bin) = bins.get(n % bins.len().max(1)) {
                let struck = BinStruck { bin: *bin, person: World::person(), why: None };
                world.write(struck);
            }
        }
        Act::Use(n, grams, lost) => {
            if let Some(lot) = lot(*n) {
                let taking = UseId::new(NOW, world.name());
                let what = if *lost { "lost" } else { "fresh" }.to_owned();
                world.write(LotUsed { taking, lot, grams: Grams(*grams), what, at: NOW });
            }
        }
        Act::Move(n, room) => {
            if let Some(lot) = lot(*n) {
                let room = RoomId::new(crate::units::Millis(0), [*room; 10]);
                world.write(LotMoved { lot, room, at: NOW });
            }
        }
        Act::Make(parts) => {
            let used: Vec<LotPart> = parts
                .iter()
                .filter_map(|(n, grams)| Some(LotPart { lot: lot(*n)?, grams: Grams(*grams) }))
                .collect();
            let batch = BatchId::new(NOW, world.name());
            world.write(BatchMade {
                batch,
                at: NOW,
                person: World::person(),
                method: "tomato-juice".into(),
                what: "jar".into(),
                used,
                out: vec![JarsOut { jar: "quart".into(), count: 1 }],
                place: None,
                note: None,
            });
        }
        Act::Unmake(n) => {
            let made: Vec<BatchId> = world.book.made().iter().map(|(id, _)| *id).collect();
            if let Some(batch) = made.get(n % made.len().max(1)) {
                let struck = BatchStruck { batch: *batch, person: World::person(), why: None };
                world.write(struck);
            }
        }
        Act::Freeze => {
            let check = ColdCheckId::new(NOW, world.name());
            world.write(ColdChecked {
                check,
                place: PlaceId::new(crate::units::Millis(0), [1; 10]),
                at: NOW.plus(-6_000),
                look: "thawed".into(),
                vines: "dead".into(),
                fruit: "sound".into(),
                low: None,
            });
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn every_gram_picked_is_left_used_or_lost(acts in prop::collection::vec(act(), 1..60)) {
        let mut world = World::new();
        for act in &acts {
            play(&mut world, act);
        }
        let book = &world.book;
        let lots = book.lots();
        let picked: i64 = book.counted().map(|(_, bin)| bin.net().0).sum();
        let came: i64 = lots.all.values().map(|lot| lot.came.0).sum();
        prop_assert_eq!(picked, came);
        // Each lot balances: what came is what is left and what was taken, less what was taken
        // beyond it by a slip.
        for lot in lots.all.values() {
            let taken: i64 = lot.taken.values().map(|grams| grams.0).sum();
            prop_assert_eq!(lot.came.0, lot.left().0 + taken - lot.overdrawn().0);
        }
        // And everything ever taken is in a lot or listed as stray: batches included, each once.
        let by_lots: i64 = lots.all.values().flat_map(|lot| lot.taken.values()).map(|g| g.0).sum();
        let astray = |stray: &Stray| if let Stray::Used(taken) = stray { taken.grams.0 } else { 0 };
        let stray: i64 = lots.stray.iter().map(astray).sum();
        let by_hand: i64 = acts_used(book);
        let by_batch: i64 =
            book.made().iter().flat_map(|(_, made)| &made.used).map(|part| part.grams.0).sum();
        prop_assert_eq!(by_lots + stray, by_hand + by_batch);
    }
}

/// What was taken by hand: takings that no batch made.
fn acts_used(book: &crate::book::Book) -> i64 {
    let by_hand = book.takings.values().filter(|taken| taken.fact.what != "jar");
    by_hand.map(|taken| taken.fact.grams.0).sum()
}
