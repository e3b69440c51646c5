//! A bin and its history.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use crate::entry::{BinCorrected, BinKept, BinStruck};
use crate::hlc::{Hlc, Stamp};
use crate::units::Grams;

/// A fact with the stamp of the entry that stated it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Signed<T> {
    /// When and by which device.
    pub stamp: Stamp,
    /// What was stated.
    pub fact: T,
}

/// Everything ever said of one bin. A correction or strike may be known before the bin itself,
/// when a restored server is refilled out of order; such a bin does not count until it is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Bin {
    /// As first kept.
    pub kept: Option<Signed<BinKept>>,
    /// Corrections, in stamp order.
    pub corrections: Vec<Signed<BinCorrected>>,
    /// Struck out.
    pub struck: Option<Signed<BinStruck>>,
}

impl Bin {
    /// Whether it enters totals.
    pub fn counts(&self) -> bool {
        self.kept.is_some() && self.struck.is_none()
    }

    /// The bin as it stands, corrections applied; `None` until it is kept.
    pub fn now(&self) -> Option<Cow<'_, BinKept>> {
        let kept = self.kept.as_ref()?;
        let mut now = Cow::Borrowed(&kept.fact);
        for correction in self.corrections.iter().filter(|c| c.stamp > kept.stamp) {
            apply(now.to_mut(), &correction.fact);
        }
        Some(now)
    }

    /// What is in it: gross less tare. A bin corrected to less than its tare holds nothing.
    pub fn net(&self) -> Grams {
        self.now().map_or(Grams::ZERO, |bin| net(&bin))
    }

    /// When it was last written to.
    pub fn written(&self) -> Option<Hlc> {
        let kept = self.kept.as_ref().map(|k| k.stamp.hlc);
        let corrected = self.corrections.last().map(|c| c.stamp.hlc);
        kept.max(corrected).max(self.struck.as_ref().map(|s| s.stamp.hlc))
    }

    /// Adds a correction in its place in stamp order; the same entry twice changes nothing.
    pub(super) fn correct(&mut self, fact: BinCorrected, stamp: Stamp) {
        if let Err(place) = self.corrections.binary_search_by_key(&stamp, |c| c.stamp) {
            self.corrections.insert(place, Signed { stamp, fact });
        }
    }

    /// Strikes it. Of two strikes the earlier stays.
    pub(super) fn strike(&mut self, fact: BinStruck, stamp: Stamp) {
        if self.struck.as_ref().is_none_or(|struck| stamp < struck.stamp) {
            self.struck = Some(Signed { stamp, fact });
        }
    }
}

/// What is in a bin as it stands.
pub(super) fn net(bin: &BinKept) -> Grams {
    (bin.gross.grams() - bin.tare).max(Grams::ZERO)
}

pub(super) fn apply(bin: &mut BinKept, correction: &BinCorrected) {
    let BinCorrected {
        bin: _,
        person: _,
        place,
        crop,
        class,
        variety,
        gross,
        tare,
        stage,
        defect,
        room,
    } = correction;
    set(&mut bin.place, place);
    set(&mut bin.crop, crop);
    set(&mut bin.class, class);
    set(&mut bin.gross, gross);
    set(&mut bin.tare, tare);
    set_or_clear(&mut bin.stage, stage);
    set_or_clear(&mut bin.defect, defect);
    if variety.is_some() {
        bin.variety = *variety;
    }
    if room.is_some() {
        bin.room = *room;
    }
}

fn set<T: Clone>(field: &mut T, value: &Option<T>) {
    if let Some(value) = value {
        field.clone_from(value);
    }
}

/// A word that an empty correction takes away.
fn set_or_clear(field: &mut Option<String>, value: &Option<String>) {
    if let Some(value) = value {
        *field = (!value.is_empty()).then(|| value.clone());
    }
}
