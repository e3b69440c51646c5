//! What the rounds in a book teach.
//!
//! A lot's history is cut where fruit was taken out without a round (nobody said what of it was
//! ripe), and where the grower said that learning begins anew. Each stretch between is evidence.

use super::Today;
use std::collections::BTreeMap;

use super::fitness::word;
use super::rooms::Rooms;
use crate::book::Book;
use crate::book::lots::{Lot, TAKEN_LOST};
use crate::ids::VarietyId;
use crate::trade::ripening::{Belief, Learned, LotInput, Observed, RoundSeen, learn};
use crate::units::{Day, Grams, Millis};

/// What all rounds of the book have taught, for clocks as they stand `today`. The same log gives
/// the same bits on every device.
pub fn learned(book: &Book, today: Today) -> Learned {
    let lots = book.lots();
    let with_rounds: Vec<&Lot> = lots.all.values().filter(|lot| !lot.rounds.is_empty()).collect();
    let prior = Belief::default();
    let Some(from) = with_rounds.iter().map(|lot| lot.day_at(today.offset_minutes)).min() else {
        return Learned::nothing(&prior);
    };
    let rooms = Rooms::of(book, from, today);
    let mut observed = Vec::new();
    for lot in with_rounds {
        let since = book.learning_from.get(&lot.crop).and_then(|from| from.of(lot.variety));
        let stretches = stretches(lot, today);
        let new = stretches.into_iter().map(|mut stretch| {
            stretch.forget(since);
            stretch
        });
        for stretch in new.filter(|stretch| !stretch.rounds.is_empty()) {
            let lot_input = stretch.input(lot, &rooms, &lot.moves, today);
            observed.push(Observed { variety: variety_key(lot.variety), lot: lot_input });
        }
    }
    learn(&prior, &observed)
}

/// What the trade calls a variety.
pub fn variety_key(variety: Option<VarietyId>) -> Option<String> {
    variety.map(|variety| variety.to_string())
}

/// A lot from one weighing on, with the rounds after it up to the next cut.
pub(super) struct Stretch {
    /// The day of the round that cut it off; `None` when it begins with the picking.
    sorted: Option<Day>,
    /// What there was then.
    grams: Grams,
    /// The rounds that followed.
    rounds: Vec<Found>,
}

/// A round, with what the book has there after it, weighed or not.
struct Found {
    at: Millis,
    left: Grams,
    seen: RoundSeen,
}

impl Stretch {
    /// Leaves out the rounds before `since`.
    fn forget(&mut self, since: Option<Millis>) {
        let Some(since) = since else { return };
        let old = self.rounds.iter().take_while(|found| found.at < since).count();
        if let Some(last) = self.rounds.drain(..old).next_back() {
            self.sorted = Some(last.seen.day);
            self.grams = last.left;
        }
    }

    pub(super) fn input(
        self,
        lot: &Lot,
        rooms: &Rooms,
        moves: &[(Millis, crate::ids::RoomId)],
        today: Today,
    ) -> LotInput {
        LotInput {
            lot: Some(lot.id.to_string()),
            crop: lot.crop.clone(),
            class: lot.class.clone(),
            stage: lot.stage.as_deref().and_then(word),
            grams: self.grams,
            picked: lot.day_at(today.offset_minutes),
            sorted: self.sorted,
            stages: BTreeMap::new(),
            rounds: self.rounds.into_iter().map(|found| found.seen).collect(),
            room: rooms.climate(lot, moves, today),
            belief: None,
        }
    }
}

/// A lot's history in stretches, the last of which is what stands now. There is always one.
pub(super) fn stretches(lot: &Lot, today: Today) -> Vec<Stretch> {
    let mut all = vec![Stretch { sorted: None, grams: lot.came, rounds: Vec::new() }];
    let mut before = None;
    for round in &lot.rounds {
        let day = Day::at(round.at, today.offset_minutes);
        let between = |at: Millis| before.is_none_or(|before| at > before) && at <= round.at;
        // Rot that was thrown without a round is found by this one; anything else that was taken
        // leaves open what of it was ripe.
        let thrown: Grams = lot
            .uses
            .iter()
            .filter(|u| between(u.at) && u.what == TAKEN_LOST)
            .map(|u| u.grams)
            .sum();
        let cut = lot.uses.iter().any(|used| between(used.at) && used.what != TAKEN_LOST);
        before = Some(round.at);
        if cut {
            all.push(Stretch { sorted: Some(day), grams: round.left, rounds: Vec::new() });
            continue;
        }
        let seen = RoundSeen {
            day,
            ripe: round.ripe,
            lost: round.lost + round.soft + thrown,
            left: round.weighed.then_some(round.left),
        };
        if let Some(stretch) = all.last_mut() {
            stretch.rounds.push(Found { at: round.at, left: round.left, seen });
        }
    }
    all
}
