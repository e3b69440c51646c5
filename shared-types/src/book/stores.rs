//! What keeps (curing, counts of large fruits) and what earlier seasons gave.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::things::record;
use super::{Field, Signed};
use crate::entry::{BinCounted, CureSet, SeasonRecorded};
use crate::hlc::{Hlc, Stamp};
use crate::ids::*;
use crate::units::{Day, Grams};

record! {
    /// A lot's curing.
    Cure from CureSet { cured: bool, from: Day, until: Day, room: RoomId, }
}

record! {
    /// The fruits of a bin.
    Count from BinCounted { fruits: i64, guess: Grams, name: String, }
}

/// Everything the log says of stores, beside the lots themselves.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Stores {
    /// Curing, by lot.
    pub cures: BTreeMap<LotId, Cure>,
    /// Fruits counted, by bin.
    pub counts: BTreeMap<BinId, Count>,
    /// Records of earlier seasons, struck ones too.
    pub records: BTreeMap<RecordId, Signed<SeasonRecorded>>,
    /// Records taken out again.
    pub struck: BTreeSet<RecordId>,
}

impl Stores {
    /// The records of earlier seasons that count.
    pub fn past(&self) -> impl Iterator<Item = &SeasonRecorded> {
        let counts = |(id, _): &(&RecordId, _)| !self.struck.contains(*id);
        self.records.iter().filter(counts).map(|(_, record)| &record.fact)
    }
}
