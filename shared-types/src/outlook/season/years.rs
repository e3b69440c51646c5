//! Year against year.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::names::{crop_and_variety, crop_name};
use super::yields::{SeasonBin, YieldRow, by_variety};
use crate::book::Book;
use crate::entry::SeasonRecorded;
use crate::ids::CropId;
use crate::units::{Day, Grams};

/// A crop and variety over the years.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct YearRow {
    /// In words.
    pub name: String,
    /// By year, earliest first; years without any are left out.
    pub years: Vec<YearCell>,
}

/// What one year gave.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct YearCell {
    /// The year.
    pub year: i32,
    /// How much.
    pub grams: Grams,
    /// Per plant, when the plants are known.
    pub per_plant: Option<Grams>,
    /// First day of picking.
    pub first: Option<Day>,
    /// Last day of picking.
    pub last: Option<Day>,
    /// From a record and not from bins.
    pub recorded: bool,
}

/// Every year of every crop and variety, and how many records were left out.
pub(super) fn years(book: &Book, bins: &[SeasonBin]) -> (Vec<YearRow>, usize) {
    let mut rows: BTreeMap<String, BTreeMap<i32, YearCell>> = BTreeMap::new();
    let weighed: BTreeSet<(i32, &CropId)> =
        bins.iter().map(|bin| (bin.day.year(), &bin.crop)).collect();
    for year in bins.iter().map(|bin| bin.day.year()).collect::<BTreeSet<_>>() {
        let of_year: Vec<_> = bins.iter().filter(|bin| bin.day.year() == year).collect();
        for row in by_variety(book, &of_year, year) {
            rows.entry(row.name.clone()).or_default().insert(year, weighed_cell(year, &row));
        }
    }
    let mut left_out = 0;
    for record in book.stores.past() {
        let Ok(year) = i32::try_from(record.year) else { continue };
        if weighed.contains(&(year, &record.crop)) {
            left_out += 1;
            continue;
        }
        let of_name = rows.entry(record_name(book, record)).or_default();
        let cell = of_name.entry(year).or_insert_with(|| YearCell {
            year,
            grams: Grams::ZERO,
            per_plant: None,
            first: None,
            last: None,
            recorded: true,
        });
        add(cell, record);
    }
    per_plant_of_records(book, &mut rows);
    let rows = rows
        .into_iter()
        .map(|(name, years)| YearRow { name, years: years.into_values().collect() });
    (rows.collect(), left_out)
}

fn weighed_cell(year: i32, row: &YieldRow) -> YearCell {
    YearCell {
        year,
        grams: row.picked,
        per_plant: row.per_plant,
        first: Some(row.first),
        last: Some(row.last),
        recorded: false,
    }
}

/// Several records of one variety (one for each bed) add up.
fn add(cell: &mut YearCell, record: &SeasonRecorded) {
    cell.grams += record.grams;
    cell.first = [cell.first, record.first].into_iter().flatten().min();
    cell.last = cell.last.max(record.last);
}

/// Per plant where every record of that name and year says its plants.
fn per_plant_of_records(book: &Book, rows: &mut BTreeMap<String, BTreeMap<i32, YearCell>>) {
    let mut plants: BTreeMap<(String, i32), Option<i64>> = BTreeMap::new();
    for record in book.stores.past() {
        let Ok(year) = i32::try_from(record.year) else { continue };
        let sum = plants.entry((record_name(book, record), year)).or_insert(Some(0));
        *sum = sum.zip(record.plants).map(|(sum, plants)| sum + plants);
    }
    for ((name, year), plants) in plants {
        let cell = rows.get_mut(&name).and_then(|years| years.get_mut(&year));
        if let (Some(cell), Some(plants)) = (cell, plants.filter(|plants| *plants > 0))
            && cell.recorded
        {
            cell.per_plant = Some(Grams((cell.grams.0 * 2 + plants) / (plants * 2)));
        }
    }
}

/// A record's crop and variety under the name that bins of it have, where there are any.
fn record_name(book: &Book, record: &SeasonRecorded) -> String {
    let Some(words) = record.variety.as_deref().map(str::trim).filter(|words| !words.is_empty())
    else {
        return crop_name(&record.crop);
    };
    let known = book.varieties.iter().find(|(id, variety)| {
        variety.crop.get() == Some(&record.crop)
            && book.variety_name(**id).to_lowercase() == words.to_lowercase()
    });
    match known {
        Some((id, _)) => crop_and_variety(book, &record.crop, Some(*id)),
        None => format!("{}, {words}", crop_name(&record.crop)),
    }
}

/// The years there is anything of, latest first.
pub(super) fn known(book: &Book, bins: &[SeasonBin]) -> Vec<i32> {
    let weighed = bins.iter().map(|bin| bin.day.year());
    let recorded = book.stores.past().filter_map(|record| i32::try_from(record.year).ok());
    weighed.chain(recorded).collect::<BTreeSet<_>>().into_iter().rev().collect()
}
