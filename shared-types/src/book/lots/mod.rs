//! Lots: bins that ripen, are used and are moved as one.
//!
//! A lot is what came of one pick from one place: one crop, variety, class, stage and defect, put
//! in one room, picked in one condition of the vines. That is finer than what a person calls a lot
//! (screens put equal ones side by side), and it is why lots of different fitness can never merge.
//!
//! **Rounds.** What a round takes out ripe, or sets apart as softening, becomes a lot of its own,
//! with the pick, place, variety and condition of the lot it came from, so that its fitness is
//! kept. What was weighed as staying tells what dried away. For each lot, always and to the gram:
//!
//! ```text
//! came = left + taken + shrink − more taken than came
//! ```
//!
//! Nothing depends on the order in which entries arrive: what happened to a lot is put in order of
//! time, then of name.
//!
//! **Names.** A lot's id is derived from what it is, so that every phone names the same lot alike
//! without asking (`id`). A correction, or a cold check that comes late, therefore gives bins
//! another lot. What was said of the old one follows the bins (`names`); where they now lie in
//! several lots, it is shared out by weight. Only what finds no bins at all is a [`Stray`].

mod id;
mod names;
mod sorting;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::bin::net;
use super::{Book, Signed};
use crate::entry::{BinKept, ColdChecked, LotMoved, LotUsed, RoundMade};
use crate::ids::*;
use crate::units::{Day, Grams, Millis};
use names::Names;
use sorting::Sorting;

/// The word under which [`Lot::taken`] counts what rounds took out ripe: it is now another lot.
pub const TAKEN_RIPE: &str = "ripe";
/// The word under which [`Lot::taken`] counts what rounds set apart: it is now another lot.
pub const TAKEN_SOFT: &str = "soft";
/// The word for what was thrown away, whether a round or a taking says so.
pub const TAKEN_LOST: &str = "lost";

/// Bins that ripen as one, or what a round took out of such a lot.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lot {
    /// Its derived name.
    pub id: LotId,
    /// From which outing.
    pub pick: PickId,
    /// The day it was picked; the day of the round it came out of, by UTC, otherwise. See
    /// [`Lot::day_at`].
    pub day: Day,
    /// From where.
    pub place: PlaceId,
    /// The crop.
    pub crop: CropId,
    /// The variety, when known.
    pub variety: Option<VarietyId>,
    /// The class.
    pub class: ClassId,
    /// The stage, when someone looked.
    pub stage: Option<String>,
    /// The defect, if any.
    pub defect: Option<String>,
    /// The state of vines and fruit it was picked in.
    pub condition: Condition,
    /// Where it was put when it was picked or sorted out, when known.
    pub first_room: Option<RoomId>,
    /// Where it was carried since, in order of time.
    pub moves: Vec<(Millis, RoomId)>,
    /// How many bins came in; none when it came out of a round.
    pub bins: usize,
    /// What came in.
    pub came: Grams,
    /// What was taken out again, by what for: the words of takings, and [`TAKEN_RIPE`],
    /// [`TAKEN_SOFT`] and [`TAKEN_LOST`] for what rounds took.
    pub taken: BTreeMap<String, Grams>,
    /// The takings themselves, without what rounds took, in order of time.
    #[serde(default)]
    pub uses: Vec<UseSeen>,
    /// What dried away, as far as rounds weighed what stays. Below nothing when more was weighed
    /// than can be there: a slip of someone's, see [`Lot::overdrawn`].
    #[serde(default)]
    pub shrink: Grams,
    /// What rounds threw away, by defect; the empty word when nobody said why.
    #[serde(default)]
    pub thrown: BTreeMap<String, Grams>,
    /// The rounds that went through it, in order of time.
    #[serde(default)]
    pub rounds: Vec<RoundSeen>,
    /// The round it came out of, unless it came from picking.
    #[serde(default)]
    pub from_round: Option<FromRound>,
}

/// Where a lot that was sorted out came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FromRound {
    /// Which round.
    pub round: RoundId,
    /// Out of which lot.
    pub lot: LotId,
    /// When.
    pub at: Millis,
    /// Set apart because it softens; ripe otherwise.
    pub soft: bool,
}

/// A taking out of one lot.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct UseSeen {
    /// When.
    pub at: Millis,
    /// What for.
    pub what: String,
    /// How much of it.
    pub grams: Grams,
}

/// What a round found in one lot.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RoundSeen {
    /// Which round.
    pub round: RoundId,
    /// When.
    pub at: Millis,
    /// Who looked.
    pub person: PersonId,
    /// What the book had there just before.
    pub before: Grams,
    /// Taken out ripe.
    pub ripe: Grams,
    /// Thrown away.
    pub lost: Grams,
    /// Set apart.
    pub soft: Grams,
    /// What stays: as weighed, or else as reckoned.
    pub left: Grams,
    /// Whether it was weighed.
    pub weighed: bool,
    /// What dried away since the last weighing; below nothing for a slip.
    pub shrink: Grams,
    /// Why it was thrown.
    pub defect: Option<String>,
    /// Whole fruit found sound.
    pub sound_count: Option<i64>,
    /// Whole fruit found softening.
    pub soft_count: Option<i64>,
    /// Whole fruit thrown.
    pub lost_count: Option<i64>,
}

impl Lot {
    /// Where it stands, when known.
    pub fn room(&self) -> Option<RoomId> {
        self.moves.last().map(|(_, room)| *room).or(self.first_room)
    }

    /// Where it stood at a moment, when known.
    pub fn room_at(&self, at: Millis) -> Option<RoomId> {
        let before = self.moves.iter().rev().find(|(moved, _)| *moved <= at);
        before.map(|(_, room)| *room).or(self.first_room)
    }

    /// The day it was picked or sorted out, for clocks `offset_minutes` ahead of UTC.
    pub fn day_at(&self, offset_minutes: i32) -> Day {
        self.from_round.map_or(self.day, |from| Day::at(from.at, offset_minutes))
    }

    /// Whether it came in from picking. Only such lots add up to what was picked: the others are
    /// parts of them.
    pub fn is_picked(&self) -> bool {
        self.from_round.is_none()
    }

    /// What is left of it. Never less than nothing; see [`Lot::overdrawn`].
    pub fn left(&self) -> Grams {
        self.balance().max(Grams::ZERO)
    }

    /// What was taken beyond what came in, or weighed beyond what can be there: a slip of
    /// someone's, to be shown.
    pub fn overdrawn(&self) -> Grams {
        (-self.balance()).max(Grams::ZERO) + (-self.shrink).max(Grams::ZERO)
    }

    /// Everything that was taken out, also by rounds.
    pub fn taken_in_all(&self) -> Grams {
        self.taken.values().copied().sum()
    }

    /// What the book has there, less than nothing when too much was taken.
    fn balance(&self) -> Grams {
        self.came - self.taken_in_all() - self.shrink
    }
}

/// The state of vines and fruit at a place when a bin was picked there, as the cold checks tell.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Condition {
    /// `alive`, `hurt` or `dead`; `None` when no cold night was checked there.
    pub vines: Option<String>,
    /// `sound` or `frozen`.
    pub fruit: Option<String>,
    /// A first look was taken while frozen, and the second, after thaw, is still to come.
    pub unsettled: bool,
}

/// Something said of a lot that never was, or whose bins were all struck.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stray {
    /// Kilograms taken out.
    Used(LotUsed),
    /// Carried to another room.
    Moved(LotMoved),
    /// A round.
    Round(RoundMade),
}

impl Stray {
    /// When it was said to have happened.
    pub const fn at(&self) -> Millis {
        match self {
            Self::Used(fact) => fact.at,
            Self::Moved(fact) => fact.at,
            Self::Round(fact) => fact.at,
        }
    }
}

/// All lots of a book.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lots {
    /// The lots by id.
    pub all: BTreeMap<LotId, Lot>,
    /// What was said of lots that cannot be found, in order of time.
    pub stray: Vec<Stray>,
}

impl Lots {
    /// The lots that still hold something, latest picked first, then by crop and class.
    pub fn standing(&self) -> Vec<&Lot> {
        let mut lots: Vec<_> = self.all.values().filter(|lot| lot.left() > Grams::ZERO).collect();
        lots.sort_by_key(|lot| {
            (std::cmp::Reverse(lot.day), lot.crop.clone(), lot.class.clone(), lot.place, lot.id)
        });
        lots
    }
}

impl Book {
    /// Reads the lots off the book.
    pub fn lots(&self) -> Lots {
        let looks = self.looks_by_place();
        let lots = Sorting::new(self, self.picked(&looks), Names::default()).run();
        if lots.stray.is_empty() {
            return lots;
        }
        // Looking where bins have been costs a hash for each thing they may have been called; most
        // books never need it.
        let picked = self.picked(&looks);
        let names = Names::of(self, &looks, &picked);
        Sorting::new(self, picked, names).run()
    }

    /// The lots as they came in.
    fn picked(&self, looks: &Looks<'_>) -> BTreeMap<LotId, Lot> {
        let mut picked = BTreeMap::new();
        for (_, bin) in self.counted() {
            let Some(bin) = bin.now() else { continue };
            let condition = looks
                .get(&bin.place)
                .map_or_else(Condition::default, |looks| condition_at(looks, bin.at));
            let id = id::of_bin(&bin, &condition);
            let lot = picked.entry(id).or_insert_with(|| self.empty_lot(id, &bin, condition));
            lot.bins += 1;
            lot.came += net(&bin);
        }
        picked
    }

    fn empty_lot(&self, id: LotId, bin: &BinKept, condition: Condition) -> Lot {
        let day = self.picks.get(&bin.pick).and_then(|pick| pick.day.get().copied());
        Lot {
            id,
            pick: bin.pick,
            day: day.unwrap_or_else(|| Day::at(bin.at, 0)),
            place: bin.place,
            crop: bin.crop.clone(),
            variety: bin.variety,
            class: bin.class.clone(),
            stage: bin.stage.clone(),
            defect: bin.defect.clone(),
            condition,
            first_room: bin.room.or_else(|| self.stands(&bin.crop, &bin.class)),
            moves: Vec::new(),
            bins: 0,
            came: Grams::ZERO,
            taken: BTreeMap::new(),
            uses: Vec::new(),
            shrink: Grams::ZERO,
            thrown: BTreeMap::new(),
            rounds: Vec::new(),
            from_round: None,
        }
    }

    /// The room in which a class of a crop is put.
    pub fn stands(&self, crop: &CropId, class: &ClassId) -> Option<RoomId> {
        self.standing.get(crop)?.get(class)?.get().copied()
    }

    fn looks_by_place(&self) -> Looks<'_> {
        let mut looks: Looks<'_> = BTreeMap::new();
        for Signed { fact, .. } in self.cold_checks.values() {
            looks.entry(fact.place).or_default().push(fact);
        }
        for of_place in looks.values_mut() {
            of_place.sort_by_key(|look| (look.at, look.check));
        }
        looks
    }

    /// The condition at a place for something picked there at `at`.
    pub fn condition(&self, place: PlaceId, at: Millis) -> Condition {
        self.looks_by_place()
            .get(&place)
            .map_or_else(Condition::default, |looks| condition_at(looks, at))
    }
}

/// The cold checks of each place, in order of time.
type Looks<'a> = BTreeMap<PlaceId, Vec<&'a ColdChecked>>;

/// A look after thaw counts for what is picked from then on. A look while still frozen settles
/// nothing: what is picked after it waits for the next look after thaw, which then judges it too.
fn condition_at(looks: &[&ColdChecked], at: Millis) -> Condition {
    let Some(last) = looks.iter().rposition(|look| look.at <= at) else {
        return Condition::default();
    };
    match looks[last..].iter().find(|look| look.look == "thawed") {
        Some(look) => Condition::seen(look),
        None => Condition { vines: None, fruit: None, unsettled: true },
    }
}

impl Condition {
    /// As one look after thaw tells it.
    fn seen(look: &ColdChecked) -> Self {
        Self { vines: Some(look.vines.clone()), fruit: Some(look.fruit.clone()), unsettled: false }
    }
}
