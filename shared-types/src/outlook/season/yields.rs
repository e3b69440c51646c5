//! What each variety and bed gave: in all, per plant, per square metre, and when.

use std::collections::BTreeMap;

use serde::Serialize;

use super::names::{crop_and_variety, crop_name};
use crate::book::Book;
use crate::book::nights::Planting;
use crate::ids::{ClassId, CropId, PlaceId, VarietyId};
use crate::outlook::Today;
use crate::trade::crops;
use crate::units::{Day, Grams};

/// What one variety gave, in all or at one place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct YieldRow {
    /// The crop.
    pub crop: CropId,
    /// The variety, when known.
    pub variety: Option<VarietyId>,
    /// Both in words.
    pub name: String,
    /// Where, when split by place.
    pub place: Option<PlaceId>,
    /// Where, in words.
    pub place_name: Option<String>,
    /// How it is watered there.
    pub watering: Option<String>,
    /// Everything picked.
    pub picked: Grams,
    /// Of it sound: classes that count as yield.
    pub sound: Grams,
    /// In how many bins.
    pub bins: usize,
    /// Plants, when every place of it says how many.
    pub plants: Option<i64>,
    /// Square decimetres, when every place of it says how many.
    pub area_dm2: Option<i64>,
    /// Picked per plant.
    pub per_plant: Option<Grams>,
    /// Picked per square metre.
    pub per_m2: Option<Grams>,
    /// First day of picking.
    pub first: Day,
    /// Last day of picking.
    pub last: Day,
}

/// The classes of one crop.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CropClasses {
    /// The crop.
    pub crop: CropId,
    /// In words.
    pub name: String,
    /// Everything of it.
    pub total: Grams,
    /// By class, in the crop's own order.
    pub shares: Vec<ClassShare>,
}

/// One class of a crop.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ClassShare {
    /// The class.
    pub class: ClassId,
    /// In words.
    pub name: String,
    /// How much.
    pub grams: Grams,
    /// Thousandths of the crop.
    pub permille: i64,
}

/// A bin as the season book looks at it.
pub(super) struct SeasonBin {
    pub(super) day: Day,
    pub(super) place: PlaceId,
    pub(super) crop: CropId,
    pub(super) variety: Option<VarietyId>,
    pub(super) class: ClassId,
    pub(super) defect: Option<String>,
    pub(super) net: Grams,
    pub(super) fruits: Option<i64>,
}

pub(super) fn bins(book: &Book, today: Today) -> Vec<SeasonBin> {
    let of = |(id, bin): (_, &crate::book::Bin)| {
        let now = bin.now()?;
        let day = book.picks.get(&now.pick).and_then(|pick| pick.day.get().copied());
        Some(SeasonBin {
            day: day.unwrap_or_else(|| Day::at(now.at, today.offset_minutes)),
            place: now.place,
            crop: now.crop.clone(),
            variety: now.variety,
            class: now.class.clone(),
            defect: now.defect.clone(),
            net: bin.net(),
            fruits: book.stores.counts.get(&id).and_then(|count| count.fruits.get().copied()),
        })
    };
    book.counted().filter_map(of).collect()
}

type Key = (Option<PlaceId>, CropId, Option<VarietyId>);

pub(super) fn by_variety(book: &Book, bins: &[&SeasonBin], year: i32) -> Vec<YieldRow> {
    let mut rows = rows(book, bins, year, |bin| (None, bin.crop.clone(), bin.variety));
    rows.sort_by(|a, b| b.picked.cmp(&a.picked).then_with(|| a.name.cmp(&b.name)));
    rows
}

pub(super) fn by_place(book: &Book, bins: &[&SeasonBin], year: i32) -> Vec<YieldRow> {
    let key = |bin: &SeasonBin| (Some(bin.place), bin.crop.clone(), bin.variety);
    let mut rows = rows(book, bins, year, key);
    rows.sort_by(|a, b| (&a.place_name, &a.name).cmp(&(&b.place_name, &b.name)));
    rows
}

fn rows(
    book: &Book,
    bins: &[&SeasonBin],
    year: i32,
    key: impl Fn(&SeasonBin) -> Key,
) -> Vec<YieldRow> {
    let mut groups: BTreeMap<Key, Vec<&SeasonBin>> = BTreeMap::new();
    for bin in bins {
        groups.entry(key(bin)).or_default().push(bin);
    }
    groups.into_iter().map(|(key, of)| row(book, bins, year, key, &of)).collect()
}

fn row(
    book: &Book,
    all: &[&SeasonBin],
    year: i32,
    (place, crop, variety): Key,
    of: &[&SeasonBin],
) -> YieldRow {
    let picked: Grams = of.iter().map(|bin| bin.net).sum();
    let sound = of
        .iter()
        .filter(|bin| crops::class(&bin.crop, &bin.class).is_none_or(|class| class.fit_to_weigh));
    let mut stands: Vec<PlaceId> = of.iter().map(|bin| bin.place).collect();
    stands.sort();
    stands.dedup();
    let sum = |of: &dyn Fn(PlaceId) -> Option<i64>| -> Option<i64> {
        stands.iter().map(|place| of(*place)).sum::<Option<i64>>().filter(|sum| *sum > 0)
    };
    let plants = sum(&|place| plants_at(book, all, year, place, &crop, variety));
    let area_dm2 = sum(&|place| area_at(book, all, year, place, &crop, variety));
    let days = || of.iter().map(|bin| bin.day);
    let here = place.and_then(|place| book.places.get(&place));
    YieldRow {
        name: crop_and_variety(book, &crop, variety),
        place,
        place_name: place.map(|place| book.place_name(place).to_owned()),
        watering: here.and_then(|place| place.watering.get().cloned()),
        picked,
        sound: sound.map(|bin| bin.net).sum(),
        bins: of.len(),
        plants,
        area_dm2,
        per_plant: plants.map(|plants| rounded(picked.0, plants)),
        per_m2: area_dm2.map(|dm2| rounded(picked.0 * 100, dm2)),
        first: days().min().expect("a group holds at least one bin"),
        last: days().max().expect("a group holds at least one bin"),
        crop,
        variety,
    }
}

/// `grams / by`, rounded half up.
fn rounded(grams: i64, by: i64) -> Grams {
    Grams((grams * 2 + by) / (by * 2))
}

/// Plants of a variety at a place: what its plantings say or, where the place gave nothing else that
/// year, what the place says.
fn plants_at(
    book: &Book,
    all: &[&SeasonBin],
    year: i32,
    place: PlaceId,
    crop: &CropId,
    variety: Option<VarietyId>,
) -> Option<i64> {
    let of = |planting: &Planting| planting.plants.get().copied();
    planted(book, year, place, crop, variety, of).or_else(|| {
        let at = book.places.get(&place)?;
        at.plants.get().copied().filter(|_| alone(all, place, crop, variety))
    })
}

fn area_at(
    book: &Book,
    all: &[&SeasonBin],
    year: i32,
    place: PlaceId,
    crop: &CropId,
    variety: Option<VarietyId>,
) -> Option<i64> {
    let of = |planting: &Planting| planting.area_dm2.get().copied();
    planted(book, year, place, crop, variety, of).or_else(|| {
        let at = book.places.get(&place)?;
        at.area_dm2.get().copied().filter(|_| alone(all, place, crop, variety))
    })
}

fn alone(all: &[&SeasonBin], place: PlaceId, crop: &CropId, variety: Option<VarietyId>) -> bool {
    let there = all.iter().filter(|bin| bin.place == place);
    there.into_iter().all(|bin| bin.crop == *crop && bin.variety == variety)
}

/// The sum over the plantings of a variety at a place that stood in a year. Of plantings from several
/// years (nobody wrote that the old ones were cleared) only the latest count.
fn planted(
    book: &Book,
    year: i32,
    place: PlaceId,
    crop: &CropId,
    variety: Option<VarietyId>,
    of: impl Fn(&Planting) -> Option<i64>,
) -> Option<i64> {
    let stood: Vec<&Planting> = book
        .nights
        .plantings
        .values()
        .filter(|planting| {
            planting.place.get() == Some(&place)
                && planting.crop.get() == Some(crop)
                && planting.variety.get().copied() == variety
                && planting.from.get().is_none_or(|from| from.year() <= year)
                && planting.cleared.get().is_none_or(|cleared| cleared.year() >= year)
        })
        .collect();
    let began = |planting: &&Planting| planting.from.get().map(|from| from.year());
    let latest = stood.iter().map(began).max()?;
    stood.iter().filter(|planting| began(planting) == latest).map(|planting| of(planting)).sum()
}

pub(super) fn classes(bins: &[&SeasonBin]) -> Vec<CropClasses> {
    let mut by_crop: BTreeMap<&CropId, BTreeMap<&ClassId, Grams>> = BTreeMap::new();
    for bin in bins {
        *by_crop.entry(&bin.crop).or_default().entry(&bin.class).or_default() += bin.net;
    }
    let mut all: Vec<CropClasses> = by_crop
        .into_iter()
        .map(|(crop, classes)| {
            let total: Grams = classes.values().copied().sum();
            let place = |class: &ClassId| {
                let of = crops::crop(crop);
                of.and_then(|crop| crop.classes.iter().position(|of| of.id == *class))
                    .unwrap_or(usize::MAX)
            };
            let mut shares: Vec<ClassShare> = classes
                .into_iter()
                .map(|(class, grams)| ClassShare {
                    name: crops::class(crop, class)
                        .map_or_else(|| class.to_string(), |class| class.name.clone()),
                    class: class.clone(),
                    grams,
                    permille: if total.0 > 0 { rounded(grams.0 * 1000, total.0).0 } else { 0 },
                })
                .collect();
            shares.sort_by_key(|share| (place(&share.class), share.class.clone()));
            CropClasses { crop: crop.clone(), name: crop_name(crop), total, shares }
        })
        .collect();
    all.sort_by(|a, b| b.total.cmp(&a.total).then_with(|| a.name.cmp(&b.name)));
    all
}
