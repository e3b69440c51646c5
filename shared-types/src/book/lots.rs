//! Lots: bins that ripen, are used and are moved as one.
//!
//! A lot is what came of one pick from one place: one crop, variety, class, stage and defect, put
//! in one room, picked in one condition of the vines. That is finer than what a person calls a lot
//! (screens put equal ones side by side), and it is why lots of different fitness can never merge.
//!
//! A lot's id is derived from those, so that every phone names the same lot alike without asking:
//! the first 16 bytes of a SHA-256 over them, marked as UUIDv8 (RFC 9562 §5.8).

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use uuid::Builder;

use super::bin::net;
use super::{Book, Signed};
use crate::entry::{BinKept, ColdChecked, LotUsed};
use crate::ids::*;
use crate::units::{Day, Grams, Millis};

/// Bins that ripen as one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lot {
    /// Its derived name.
    pub id: LotId,
    /// From which outing.
    pub pick: PickId,
    /// The day it was picked.
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
    /// Where it was put when it was picked, when known.
    pub first_room: Option<RoomId>,
    /// Where it was carried since, in order of time.
    pub moves: Vec<(Millis, RoomId)>,
    /// How many bins came in.
    pub bins: usize,
    /// What came in.
    pub came: Grams,
    /// What was taken out again, by what for.
    pub taken: BTreeMap<String, Grams>,
}

impl Lot {
    /// Where it stands, when known.
    pub fn room(&self) -> Option<RoomId> {
        self.moves.last().map(|(_, room)| *room).or(self.first_room)
    }

    /// What is left of it. Never less than nothing; see [`Lot::overdrawn`].
    pub fn left(&self) -> Grams {
        (self.came - self.taken_in_all()).max(Grams::ZERO)
    }

    /// What was taken beyond what came in: a slip of someone's, to be shown.
    pub fn overdrawn(&self) -> Grams {
        (self.taken_in_all() - self.came).max(Grams::ZERO)
    }

    fn taken_in_all(&self) -> Grams {
        self.taken.values().copied().sum()
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

/// All lots of a book.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lots {
    /// The lots by id.
    pub all: BTreeMap<LotId, Lot>,
    /// Takings whose lot is no longer: a correction moved its bins to another.
    pub stray: Vec<LotUsed>,
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
        let mut lots = Lots::default();
        for (_, bin) in self.counted() {
            let Some(bin) = bin.now() else { continue };
            let condition = looks
                .get(&bin.place)
                .map_or_else(Condition::default, |looks| condition_at(looks, bin.at));
            let id = lot_id(&bin, &condition);
            let lot = lots.all.entry(id).or_insert_with(|| self.empty_lot(id, &bin, condition));
            lot.bins += 1;
            lot.came += net(&bin);
        }
        for Signed { fact, .. } in self.takings.values() {
            match lots.all.get_mut(&fact.lot) {
                Some(lot) => *lot.taken.entry(fact.what.clone()).or_default() += fact.grams,
                None => lots.stray.push(fact.clone()),
            }
        }
        lots
    }

    fn empty_lot(&self, id: LotId, bin: &BinKept, condition: Condition) -> Lot {
        let day = self.picks.get(&bin.pick).and_then(|pick| pick.day.get().copied());
        let moves = self.moves.get(&id).map_or_else(Vec::new, |moves| {
            moves.iter().map(|moved| (moved.fact.at, moved.fact.room)).collect()
        });
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
            moves,
            bins: 0,
            came: Grams::ZERO,
            taken: BTreeMap::new(),
        }
    }

    /// The room in which a class of a crop is put.
    pub fn stands(&self, crop: &CropId, class: &ClassId) -> Option<RoomId> {
        self.standing.get(crop)?.get(class)?.get().copied()
    }

    fn looks_by_place(&self) -> BTreeMap<PlaceId, Vec<&ColdChecked>> {
        let mut looks: BTreeMap<PlaceId, Vec<&ColdChecked>> = BTreeMap::new();
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

/// A look after thaw counts for what is picked from then on. A look while still frozen settles
/// nothing: what is picked after it waits for the next look after thaw, which then judges it too.
fn condition_at(looks: &[&ColdChecked], at: Millis) -> Condition {
    let Some(last) = looks.iter().rposition(|look| look.at <= at) else {
        return Condition::default();
    };
    match looks[last..].iter().find(|look| look.look == "thawed") {
        Some(look) => Condition {
            vines: Some(look.vines.clone()),
            fruit: Some(look.fruit.clone()),
            unsettled: false,
        },
        None => Condition { vines: None, fruit: None, unsettled: true },
    }
}

fn lot_id(bin: &BinKept, condition: &Condition) -> LotId {
    let mut sha = Sha256::new();
    let mut word = |text: Option<&str>| {
        // Length first, so that no two lists of words run together to the same bytes.
        let text = text.unwrap_or("");
        sha.update(u32::try_from(text.len()).unwrap_or(u32::MAX).to_be_bytes());
        sha.update(text.as_bytes());
    };
    word(Some(bin.crop.as_str()));
    word(Some(bin.class.as_str()));
    word(bin.stage.as_deref());
    word(bin.defect.as_deref());
    word(condition.vines.as_deref());
    word(condition.fruit.as_deref());
    word(condition.unsettled.then_some("unsettled"));
    sha.update(bin.pick.0);
    sha.update(bin.place.0);
    sha.update(bin.variety.map_or([0; 16], |id| id.0.into_bytes()));
    sha.update(bin.room.map_or([0; 16], |id| id.0.into_bytes()));
    let mut bytes = [0; 16];
    bytes.copy_from_slice(&sha.finalize()[..16]);
    LotId(Builder::from_custom_bytes(bytes).into_uuid())
}
