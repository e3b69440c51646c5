//! The book: the log folded into what is true now.
//!
//! **Context.** Phones write entries without hearing of each other; the server puts them in one
//! order; every device folds that order and must arrive at the same book, so that two people look
//! at the same total.
//!
//! **Design.** [`Book::fold`] is total: an entry of an unknown kind is deferred, one that makes no
//! sense is set aside, both can be seen, neither stops the next. Three shapes carry everything:
//!
//! - a *register* ([`Field`]): the writing with the latest stamp wins, field by field;
//! - a *quantity*: facts that add (a bin, a taking, a guess), never an overwritten total;
//! - a *tombstone*: a strike is for ever.
//!
//! Registers win by stamp and not by order of arrival, quantities add, strikes stay: so for facts
//! of distinct names the fold does not depend on order at all. That is more than the exchange
//! needs, and what makes a restored server with re-offered entries harmless. (Two facts that claim
//! one name, which no honest phone writes, are settled in the log's order: the first stands.)
//!
//! What a person looks at (lots, totals, pairs) is not stored in the book but read off it, by
//! [`lots`], [`totals`] and [`pairs`].
//!
//! **Not yet.** Readings are kept one by one, for ever; a logger of many years makes a heavy book.

mod bin;
mod field;
mod fold;
pub mod guesses;
pub mod kitchen;
pub mod lots;
pub mod nights;
pub mod orphans;
pub mod pairs;
pub mod readings;
pub mod stores;
#[cfg(test)]
mod tests;
mod things;
pub mod totals;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::entry::{ColdChecked, Entry, EntryId, GuessMade, LotMoved, LotUsed, RoundMade};
use crate::ids::*;

pub use bin::{Bin, Signed};
pub use field::Field;
use fold::once;
pub use fold::{Outcome, Reason};
pub use things::{
    BinType, Holding, LearningFrom, Person, Pick, Place, Room, RoomClimates, Variety,
};

/// The version of the fold. Raised when the same log would fold to another book; a stored state of
/// another version is folded anew from the log, or brought up by [`Book::upgrade`].
pub const FOLD_VERSION: u32 = 2;

/// Everything the log says, folded.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Book {
    /// The holding itself.
    pub holding: Holding,
    /// Who picks.
    pub people: BTreeMap<PersonId, Person>,
    /// Where things grow.
    pub places: BTreeMap<PlaceId, Place>,
    /// Where things stand after picking.
    pub rooms: BTreeMap<RoomId, Room>,
    /// What they are carried in.
    pub bin_types: BTreeMap<BinTypeId, BinType>,
    /// What is grown.
    pub varieties: BTreeMap<VarietyId, Variety>,
    /// In which room a class of a crop is put.
    pub standing: BTreeMap<CropId, BTreeMap<ClassId, Field<RoomId>>>,
    /// The outings.
    pub picks: BTreeMap<PickId, Pick>,
    /// The bins, struck ones too. Shared, because two books (confirmed and shown) hold most of them
    /// alike.
    pub bins: BTreeMap<BinId, Arc<Bin>>,
    /// Pairs of bins that look alike and are two, the lesser id first.
    pub apart: BTreeSet<(BinId, BinId)>,
    /// Guesses at a pick's total.
    pub guesses: BTreeMap<GuessId, Signed<GuessMade>>,
    /// What was seen after cold nights.
    pub cold_checks: BTreeMap<ColdCheckId, Signed<ColdChecked>>,
    /// Where lots were carried, in order of time.
    pub moves: BTreeMap<LotId, Vec<Signed<LotMoved>>>,
    /// What was taken out of lots.
    pub takings: BTreeMap<UseId, Signed<LotUsed>>,
    /// The kitchen: limits, plan, batches, jars.
    pub kitchen: kitchen::Kitchen,
    /// The site, what stands where, and cold nights.
    pub nights: nights::Nights,
    /// What keeps, and earlier seasons.
    pub stores: stores::Stores,
    /// What rounds found, struck ones too.
    #[serde(default)]
    pub rounds: BTreeMap<RoundId, Signed<RoundMade>>,
    /// Rounds that were taken back; a strike may be known before its round.
    #[serde(default)]
    pub rounds_struck: BTreeSet<RoundId>,
    /// What thermometers said. Shared like the bins.
    #[serde(default)]
    pub readings: BTreeMap<RoomId, Arc<readings::RoomLog>>,
    /// What rooms' temperatures are reckoned by.
    #[serde(default)]
    pub climates: BTreeMap<RoomId, RoomClimates>,
    /// From when on rounds teach: of a crop (no variety), or of one variety of it.
    #[serde(default)]
    pub learning_from: BTreeMap<CropId, LearningFrom>,
    /// Entries of kinds this program does not know, to be folded after an update.
    pub deferred: Vec<Entry>,
    /// Entries that made no sense, for the diagnostics.
    pub set_aside: Vec<SetAside>,
}

/// An entry that was stored but could not be folded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetAside {
    /// Which.
    pub id: EntryId,
    /// Of what kind.
    pub kind: String,
    /// Why, in words.
    pub reason: String,
}

impl Book {
    /// Folds again what an older program had to defer. Called when a stored state of another
    /// [`FOLD_VERSION`] is taken over and the log before it is not at hand.
    pub fn upgrade(&mut self) {
        for entry in std::mem::take(&mut self.deferred) {
            self.fold(&entry);
        }
    }

    /// A person's name, for showing.
    pub fn person_name(&self, person: PersonId) -> &str {
        name_or(self.people.get(&person).and_then(|p| p.name.get()), "someone")
    }

    /// A place's name, for showing.
    pub fn place_name(&self, place: PlaceId) -> &str {
        name_or(self.places.get(&place).and_then(|p| p.name.get()), "unnamed place")
    }

    /// A room's name, for showing.
    pub fn room_name(&self, room: RoomId) -> &str {
        name_or(self.rooms.get(&room).and_then(|r| r.name.get()), "unnamed room")
    }

    /// A pick's name, for showing.
    pub fn pick_name(&self, pick: PickId) -> &str {
        name_or(self.picks.get(&pick).and_then(|p| p.name.get()), "unnamed pick")
    }

    /// A variety's name, for showing.
    pub fn variety_name(&self, variety: VarietyId) -> &str {
        name_or(self.varieties.get(&variety).and_then(|v| v.name.get()), "unnamed variety")
    }

    /// The bins that count: kept and not struck.
    pub fn counted(&self) -> impl Iterator<Item = (BinId, &Bin)> {
        self.bins.iter().filter(|(_, bin)| bin.counts()).map(|(id, bin)| (*id, bin.as_ref()))
    }

    /// The pick to offer first: the latest by day that is not closed, the newest of equals.
    pub fn open_pick(&self) -> Option<PickId> {
        self.picks
            .iter()
            .filter(|(_, pick)| !pick.closed.get().copied().unwrap_or(false))
            .max_by_key(|(id, pick)| (pick.day.get().copied(), **id))
            .map(|(id, _)| *id)
    }
}

fn name_or<'a>(name: Option<&'a String>, otherwise: &'a str) -> &'a str {
    name.map_or(otherwise, String::as_str)
}
