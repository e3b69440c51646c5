//! What went wrong where: shares by watering and by place, with what can be said of the difference.
//!
//! Fruits are the unit: counted where someone counted, else estimated from the weight. They are not
//! independent (one plant, one bed), so clusters are handed over and
//! [`share`] widens the interval for them.

use std::collections::BTreeMap;

use serde::Serialize;

use super::names::crop_name;
use super::yields::SeasonBin;
use crate::book::Book;
use crate::ids::{CropId, PlaceId};
use crate::trade::crops;
use crate::trade::shares::{Basis, Compared, Share, Tally, fruits_of, share, standing_out};
use crate::units::Grams;

/// One defect of one crop, compared between groups.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DefectTable {
    /// The crop.
    pub crop: CropId,
    /// In words.
    pub crop_name: String,
    /// The defect, as the log has it.
    pub defect: String,
    /// `watering` or `place`.
    pub by: &'static str,
    /// The groups, largest share first.
    pub groups: Vec<DefectGroup>,
    /// Pairs of groups that differ; empty when there is not enough to say so of any.
    pub differ: Vec<Compared>,
    /// The finding in a sentence.
    pub words: String,
}

/// One group of a comparison.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DefectGroup {
    /// Weight with the defect.
    pub hurt: Grams,
    /// Everything of that crop there.
    pub all: Grams,
    /// The share of fruits, with its interval.
    pub share: Share,
}

pub(super) fn tables(book: &Book, bins: &[&SeasonBin]) -> Vec<DefectTable> {
    let mut defects: Vec<(&CropId, &str)> = Vec::new();
    for bin in bins {
        defects.extend(bin.defect.as_deref().map(|defect| (&bin.crop, defect)));
    }
    defects.sort_unstable();
    defects.dedup();
    let watering = |bin: &SeasonBin| {
        let of = book.places.get(&bin.place).and_then(|place| place.watering.get().cloned());
        of.map_or_else(|| "watering not said".to_owned(), |by| format!("watered by {by}"))
    };
    let place = |bin: &SeasonBin| book.place_name(bin.place).to_owned();
    let mut tables = Vec::new();
    for (crop, defect) in defects {
        for (by, name) in
            [("watering", &watering as &dyn Fn(&SeasonBin) -> String), ("place", &place)]
        {
            tables.push(table(book, bins, crop, defect, (by, name)));
        }
    }
    tables
}

#[derive(Default)]
struct Group {
    hurt: Grams,
    all: Grams,
    hurt_fruits: f64,
    fruits: f64,
    counted: bool,
    bins: u32,
    places: Vec<PlaceId>,
}

fn table(
    book: &Book,
    bins: &[&SeasonBin],
    crop: &CropId,
    defect: &str,
    (by, name): (&'static str, &dyn Fn(&SeasonBin) -> String),
) -> DefectTable {
    let one = crops::crop(crop).map_or(100.0, |crop| crop.fruit_grams.value);
    let mut groups: BTreeMap<String, Group> = BTreeMap::new();
    for bin in bins.iter().filter(|bin| bin.crop == *crop) {
        let first = Group { counted: true, ..Group::default() };
        let group = groups.entry(name(bin)).or_insert(first);
        let fruits = bin.fruits.map_or_else(|| fruits_of(bin.net, one), |fruits| fruits as f64);
        group.counted &= bin.fruits.is_some();
        group.all += bin.net;
        group.fruits += fruits;
        group.bins += 1;
        group.places.push(bin.place);
        if bin.defect.as_deref() == Some(defect) {
            group.hurt += bin.net;
            group.hurt_fruits += fruits;
        }
    }
    let mut groups: Vec<DefectGroup> =
        groups.into_iter().filter_map(|(label, group)| told(book, label, group)).collect();
    groups.sort_by(|a, b| {
        b.share.share.total_cmp(&a.share.share).then_with(|| a.share.label.cmp(&b.share.label))
    });
    let shares: Vec<Share> = groups.iter().map(|group| group.share.clone()).collect();
    let differ = standing_out(&shares);
    let words = match (differ.first(), groups.len()) {
        (Some(first), _) => first.words.clone(),
        (None, 0 | 1) => "only one to look at: nothing to compare".to_owned(),
        (None, _) => "not enough to say: what was seen fits no difference at all".to_owned(),
    };
    DefectTable {
        crop: crop.clone(),
        crop_name: crop_name(crop),
        defect: defect.to_owned(),
        by,
        groups,
        differ,
        words,
    }
}

fn told(book: &Book, label: String, mut group: Group) -> Option<DefectGroup> {
    group.places.sort_unstable();
    group.places.dedup();
    // Plants where every place says how many, else bins.
    let plants = group.places.iter().map(|place| book.places.get(place)?.plants.get().copied());
    let plants = plants.sum::<Option<i64>>().and_then(|plants| u32::try_from(plants).ok());
    let share = share(&Tally {
        label,
        with_defect: group.hurt_fruits,
        fruits: group.fruits,
        clusters: plants.unwrap_or(group.bins).max(1),
        basis: if group.counted { Basis::Counted } else { Basis::FromWeight },
    })?;
    Some(DefectGroup { hurt: group.hurt, all: group.all, share })
}
