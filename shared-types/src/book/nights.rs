//! The site, what stands where, and cold nights: evenings noted and how low it then went.
//!
//! Evenings and lows are facts that add; a person who mends a slip notes the same evening again, and
//! the later note stands. [`Nights::evenings`] and [`Nights::lows`] keep them all, and
//! [`Nights::evening`] and [`Nights::low`] say which stands.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::things::record;
use super::{Field, Signed};
use crate::entry::{CoverSet, EveningNoted, LowNoted, PlantingSet, SiteSet};
use crate::hlc::{Hlc, Stamp};
use crate::ids::*;
use crate::units::Day;

record! {
    /// Where the holding lies.
    Site from SiteSet {
        latitude_udeg: i64,
        longitude_udeg: i64,
        zone: String,
        shadow_morning_minutes: i64,
        shadow_evening_minutes: i64,
    }
}

record! {
    /// What stands at a place, from when to when.
    Planting from PlantingSet {
        place: PlaceId,
        crop: CropId,
        variety: VarietyId,
        plants: i64,
        area_dm2: i64,
        from: Day,
        cleared: Day,
    }
}

record! {
    /// What covers a place.
    Cover from CoverSet {
        length_mm: i64,
        width_mm: i64,
        height_mm: i64,
        layers: i64,
        cover: String,
    }
}

/// Everything the log says of the site, of plantings and of nights.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Nights {
    /// Where the holding lies.
    pub site: Site,
    /// What stands or stood where.
    pub plantings: BTreeMap<PlantingId, Planting>,
    /// What covers places.
    pub covers: BTreeMap<PlaceId, Cover>,
    /// Every note of an evening.
    pub evenings: BTreeMap<NightId, Signed<EveningNoted>>,
    /// Every note of how low a night went.
    pub lows: BTreeMap<LowId, Signed<LowNoted>>,
}

impl Nights {
    /// The plantings that stand on `day`: planted by then, or on an unknown day, and not cleared.
    pub fn standing(&self, day: Day) -> impl Iterator<Item = (PlantingId, &Planting)> {
        let stands = move |planting: &Planting| {
            planting.from.get().is_none_or(|from| *from <= day)
                && planting.cleared.get().is_none_or(|cleared| *cleared > day)
        };
        let all = self.plantings.iter().map(|(id, planting)| (*id, planting));
        all.filter(move |(_, planting)| stands(planting))
    }

    /// The note of an evening that stands: that of the place or, where there is none, of the whole
    /// holding.
    pub fn evening(&self, day: Day, place: Option<PlaceId>) -> Option<&EveningNoted> {
        let of = |place| {
            let notes = self.evenings.values().filter(|note| note.fact.day == day);
            notes.filter(|note| note.fact.place == place).max_by_key(|note| note.stamp)
        };
        place.and_then(|place| of(Some(place))).or_else(|| of(None)).map(|note| &note.fact)
    }

    /// The note that stands of how low the night after `day` went at exactly `place`.
    pub fn low(&self, day: Day, place: Option<PlaceId>) -> Option<&LowNoted> {
        let notes = self.lows.values().filter(|note| note.fact.day == day);
        let of_place = notes.filter(|note| note.fact.place == place);
        of_place.max_by_key(|note| note.stamp).map(|note| &note.fact)
    }

    pub(super) fn evening_written(&self, day: Day, place: Option<PlaceId>) -> Option<Hlc> {
        let notes = self.evenings.values().filter(|note| note.fact.day == day);
        notes.filter(|note| note.fact.place == place).map(|note| note.stamp.hlc).max()
    }

    pub(super) fn low_written(&self, day: Day, place: Option<PlaceId>) -> Option<Hlc> {
        let notes = self.lows.values().filter(|note| note.fact.day == day);
        notes.filter(|note| note.fact.place == place).map(|note| note.stamp.hlc).max()
    }
}
