//! What happened to lots after they came in: moves, rounds and takings, put in order.

use std::collections::{BTreeMap, BTreeSet};

use uuid::Uuid;

use super::names::Names;
use super::{
    FromRound, Lot, Lots, RoundSeen, Stray, TAKEN_LOST, TAKEN_RIPE, TAKEN_SOFT, UseSeen, id,
};
use crate::book::Book;
use crate::entry::RoundMade;
use crate::ids::{ClassId, CropId, LotId};
use crate::trade::crops;
use crate::units::{Day, Grams, Millis};

/// The work of putting everything that was said of lots where it belongs.
pub(super) struct Sorting<'a> {
    book: &'a Book,
    lots: BTreeMap<LotId, Lot>,
    names: Names,
    /// What was taken out of each lot, and the rounds through it.
    steps: BTreeMap<LotId, Vec<Step>>,
    moves_found: BTreeSet<LotId>,
    stray: Vec<Stray>,
}

/// One thing that took something out of a lot.
struct Step {
    at: Millis,
    name: Uuid,
    what: What,
}

enum What {
    Used(String, Grams),
    Round(RoundMade),
}

impl<'a> Sorting<'a> {
    pub(super) fn new(book: &'a Book, picked: BTreeMap<LotId, Lot>, names: Names) -> Self {
        let mut sorting = Self {
            book,
            lots: picked,
            names,
            steps: BTreeMap::new(),
            moves_found: BTreeSet::new(),
            stray: Vec::new(),
        };
        for lot in sorting.lots.keys().copied().collect::<Vec<_>>() {
            sorting.carry(lot);
        }
        sorting
    }

    /// Rounds first, since they make lots; then what was taken, from those too; then, lot by lot,
    /// everything in order of time.
    pub(super) fn run(mut self) -> Lots {
        self.rounds();
        self.takings();
        let book = self.book;
        for (lot, moves) in &book.moves {
            if !self.moves_found.contains(lot) {
                self.stray.extend(moves.iter().map(|moved| Stray::Moved(moved.fact.clone())));
            }
        }
        for (id, mut steps) in std::mem::take(&mut self.steps) {
            let lot = self.lots.get_mut(&id).expect("steps are kept only of lots that are there");
            steps.sort_by_key(|step| (step.at, step.name));
            steps.into_iter().for_each(|step| apply(lot, step.at, step.what));
        }
        self.stray.sort_by_key(Stray::at);
        Lots { all: self.lots, stray: self.stray }
    }

    /// Where what was called `lot` is now, with weights to share by.
    fn find(&self, lot: LotId) -> Vec<(LotId, Grams)> {
        match self.lots.get(&lot) {
            Some(there) => vec![(lot, there.came)],
            None => self.names.now(lot),
        }
    }

    /// Carries a lot where its fruit was carried, under whatever name.
    fn carry(&mut self, id: LotId) {
        let mut moves = Vec::new();
        for name in std::iter::once(id).chain(self.names.once(id)) {
            if let Some(of_name) = self.book.moves.get(&name) {
                self.moves_found.insert(name);
                moves.extend(of_name.iter().map(|m| (m.fact.at, m.stamp, m.fact.room)));
            }
        }
        moves.sort_unstable_by_key(|(at, stamp, _)| (*at, *stamp));
        if let Some(lot) = self.lots.get_mut(&id) {
            lot.moves = moves.into_iter().map(|(at, _, room)| (at, room)).collect();
        }
    }

    /// A round can go through a lot that another round makes, whatever their clocks say: those
    /// whose lot is not there yet are tried again as long as any other was found.
    fn rounds(&mut self) {
        let book = self.book;
        let made = book.rounds.values().map(|signed| &signed.fact);
        let mut waiting: Vec<&RoundMade> =
            made.filter(|round| !book.rounds_struck.contains(&round.round)).collect();
        waiting.sort_by_key(|round| (round.at, round.round));
        loop {
            let before = waiting.len();
            waiting.retain(|round| !self.round(round));
            if waiting.len() == before {
                break;
            }
        }
        self.stray.extend(waiting.into_iter().map(|round| Stray::Round(round.clone())));
    }

    /// Notes a round for each lot it went through and makes the lots of what it took out. False
    /// when its lot cannot be found.
    fn round(&mut self, round: &RoundMade) -> bool {
        let of = self.find(round.lot);
        let parts = parts(round, &of);
        for word in [TAKEN_RIPE, TAKEN_SOFT] {
            let grams = |part: &RoundMade| if word == TAKEN_SOFT { part.soft } else { part.ripe };
            let some = |(lot, part): &(LotId, RoundMade)| {
                Some((*lot, grams(part).filter(|grams| *grams > Grams::ZERO)?))
            };
            let pieces: Vec<(LotId, Grams)> = parts.iter().filter_map(some).collect();
            self.sort_out(round, word, &pieces, of.len() == 1);
        }
        for (lot, part) in parts {
            let step = Step { at: round.at, name: round.round.0, what: What::Round(part) };
            self.steps.entry(lot).or_default().push(step);
        }
        !of.is_empty()
    }

    /// Makes the lots of what `round` took out, and says what they may have been called when the
    /// round's lot was taken for another, for one or for several.
    fn sort_out(&mut self, round: &RoundMade, word: &str, of: &[(LotId, Grams)], one: bool) {
        let made: Vec<(LotId, LotId, Grams)> = of
            .iter()
            .map(|(from, grams)| {
                (*from, id::of_round(round.round, word, (!one).then_some(*from)), *grams)
            })
            .collect();
        for (from, id, grams) in &made {
            let lot = self.piece(round, word, *from, *id, *grams);
            self.lots.insert(*id, lot);
        }
        if self.names.is_known() && !made.is_empty() {
            let whole = (None, id::of_round(round.round, word, None));
            let kin = self.names.kin(round.lot).into_iter();
            let parts = kin.map(|of| (Some(of), id::of_round(round.round, word, Some(of))));
            for (of, name) in std::iter::once(whole).chain(parts) {
                self.call(of, name, &made);
            }
        }
        for (_, id, _) in &made {
            self.carry(*id);
        }
    }

    /// Says what was once called `name`, as being the part that came of `of`: the lots made of it,
    /// or all of them when it was the whole or its part is not told apart any more.
    fn call(&mut self, of: Option<LotId>, name: LotId, made: &[(LotId, LotId, Grams)]) {
        let is = |from: LotId| of.is_some_and(|of| self.names.is_ever(of, from));
        let some: Vec<_> = made.iter().filter(|(from, _, _)| is(*from)).copied().collect();
        for (_, id, grams) in if some.is_empty() { made } else { &some } {
            if !self.lots.contains_key(&name) {
                self.names.add(name, *id, *grams);
            }
        }
        for (_, id, _) in made {
            self.names.ever(name, *id);
        }
    }

    /// What a round took out of `from`, as a lot.
    fn piece(&self, round: &RoundMade, word: &str, from: LotId, id: LotId, grams: Grams) -> Lot {
        let parent = &self.lots[&from];
        let soft = word == TAKEN_SOFT;
        let class = class_of(&parent.crop, &parent.class);
        let room = parent.room_at(round.at);
        let usual = || self.book.stands(&parent.crop, &class);
        Lot {
            id,
            day: Day::at(round.at, 0),
            stage: None,
            defect: if soft { softened(parent.defect.clone()) } else { parent.defect.clone() },
            first_room: if soft { room } else { round.ripe_room.or_else(usual).or(room) },
            class,
            moves: Vec::new(),
            bins: 0,
            came: grams,
            taken: BTreeMap::new(),
            uses: Vec::new(),
            shrink: Grams::ZERO,
            thrown: BTreeMap::new(),
            rounds: Vec::new(),
            from_round: Some(FromRound { round: round.round, lot: from, at: round.at, soft }),
            ..parent.clone()
        }
    }

    fn takings(&mut self) {
        let book = self.book;
        for taking in book.takings.values().map(|signed| &signed.fact) {
            let of = self.find(taking.lot);
            if of.is_empty() {
                self.stray.push(Stray::Used(taking.clone()));
            }
            for ((lot, _), grams) in of.iter().zip(share(taking.grams, &of)) {
                let what = What::Used(taking.what.clone(), grams);
                let step = Step { at: taking.at, name: taking.taking.0, what };
                self.steps.entry(*lot).or_default().push(step);
            }
        }
    }
}

/// The class of what is sorted out: the first of its crop that can be used as it is. What was
/// sorted as hurt stays hurt, since it was put there for a reason the round did not undo.
fn class_of(crop: &CropId, class: &ClassId) -> ClassId {
    let Some(crop) = crops::crop(crop) else { return class.clone() };
    if crop.class(class).is_some_and(|class| !class.fit_to_weigh) {
        return class.clone();
    }
    crop.classes.iter().find(|class| class.ready).map_or_else(|| class.clone(), |c| c.id.clone())
}

/// The defect of what softens. `soft` bars a jar; what bars more than that stays as it was, and so
/// does a word this program does not know.
fn softened(defect: Option<String>) -> Option<String> {
    match defect.as_deref() {
        None | Some("frost" | "blossom_end_rot" | "split" | "sunscald") => Some("soft".to_owned()),
        Some(_) => defect,
    }
}

/// A round shared out among the lots it went through. Only one of them bears its counts.
fn parts(round: &RoundMade, of: &[(LotId, Grams)]) -> Vec<(LotId, RoundMade)> {
    let shares = [round.ripe, round.lost, round.soft, round.left]
        .map(|grams| grams.map(|grams| share(grams, of)));
    let part = |n: usize| {
        let [ripe, lost, soft, left] = [0, 1, 2, 3].map(|i| Some(shares[i].as_ref()?[n]));
        let first = |count: Option<i64>| count.filter(|_| n == 0);
        RoundMade {
            ripe,
            lost,
            soft,
            left,
            sound_count: first(round.sound_count),
            soft_count: first(round.soft_count),
            lost_count: first(round.lost_count),
            ..round.clone()
        }
    };
    of.iter().enumerate().map(|(n, (lot, _))| (*lot, part(n))).collect()
}

/// Whole grams in proportion to the weights, adding up to `grams`; all to the first when nothing
/// weighs anything.
pub(super) fn share(grams: Grams, of: &[(LotId, Grams)]) -> Vec<Grams> {
    let whole: i128 = of.iter().map(|(_, weight)| i128::from(weight.0)).sum();
    let mut upto = 0_i128;
    let mut given = Grams::ZERO;
    let mut shares = Vec::with_capacity(of.len());
    for (_, weight) in of {
        upto += i128::from(weight.0);
        let through = match whole {
            0 => grams,
            _ => Grams(i64::try_from(i128::from(grams.0) * upto / whole).unwrap_or(grams.0)),
        };
        shares.push(through - given);
        given = through;
    }
    shares
}

fn apply(lot: &mut Lot, at: Millis, what: What) {
    let take = |lot: &mut Lot, what: &str, grams: Grams| {
        if grams > Grams::ZERO {
            *lot.taken.entry(what.to_owned()).or_default() += grams;
        }
    };
    let round = match what {
        What::Used(what, grams) => {
            take(lot, &what, grams);
            return lot.uses.push(UseSeen { at, what, grams });
        }
        What::Round(round) => round,
    };
    let before = lot.left();
    let [ripe, lost, soft] = [round.ripe, round.lost, round.soft].map(Option::unwrap_or_default);
    take(lot, TAKEN_RIPE, ripe);
    take(lot, TAKEN_LOST, lost);
    take(lot, TAKEN_SOFT, soft);
    if lost > Grams::ZERO {
        *lot.thrown.entry(round.defect.clone().unwrap_or_default()).or_default() += lost;
    }
    let shrink = round.left.map_or(Grams::ZERO, |left| lot.balance() - left);
    lot.shrink += shrink;
    lot.rounds.push(RoundSeen {
        round: round.round,
        at: round.at,
        person: round.person,
        before,
        ripe,
        lost,
        soft,
        left: lot.left(),
        weighed: round.left.is_some(),
        shrink,
        defect: round.defect,
        sound_count: round.sound_count,
        soft_count: round.soft_count,
        lost_count: round.lost_count,
    });
}
