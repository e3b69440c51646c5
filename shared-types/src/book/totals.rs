//! Totals by any one or two of crop, variety, class, place, picker, day and pick.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::Book;
use super::bin::net;
use crate::entry::BinKept;
use crate::ids::*;
use crate::units::{Day, Grams};

/// What totals can be split by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum By {
    /// Crop.
    Crop,
    /// Variety.
    Variety,
    /// Class.
    Class,
    /// Place.
    Place,
    /// Who picked.
    Picker,
    /// The pick's day.
    Day,
    /// The pick.
    Pick,
}

impl By {
    /// All of them, in the order screens offer them.
    pub const ALL: [Self; 7] =
        [Self::Crop, Self::Variety, Self::Class, Self::Place, Self::Picker, Self::Day, Self::Pick];

    /// The one of this word.
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|by| by.word() == word)
    }

    /// The word on the screen and in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Crop => "crop",
            Self::Variety => "variety",
            Self::Class => "class",
            Self::Place => "place",
            Self::Picker => "picker",
            Self::Day => "day",
            Self::Pick => "pick",
        }
    }
}

/// A table of totals.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Totals {
    /// What the rows are.
    pub by: By,
    /// What the columns are, if split twice.
    pub across: Option<By>,
    /// The columns, in order.
    pub columns: Vec<String>,
    /// The rows, heaviest first.
    pub rows: Vec<TotalRow>,
    /// Everything.
    pub total: Grams,
    /// How many bins.
    pub bins: usize,
}

/// One row of totals.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TotalRow {
    /// What it is, by name.
    pub label: String,
    /// By column, in the columns' order; empty when not split twice.
    pub cells: Vec<Grams>,
    /// The whole row.
    pub total: Grams,
    /// How many bins.
    pub bins: usize,
}

impl Book {
    /// Totals of the counted bins, of one pick or of all, split by `by` and by `across`. Nets are
    /// added as whole grams and rounded nowhere.
    pub fn totals(&self, pick: Option<PickId>, by: By, across: Option<By>) -> Totals {
        let mut rows: BTreeMap<String, (BTreeMap<String, Grams>, usize)> = BTreeMap::new();
        let mut columns: BTreeMap<String, ()> = BTreeMap::new();
        for (_, bin) in self.counted() {
            let Some(bin) = bin.now() else { continue };
            if pick.is_some_and(|pick| pick != bin.pick) {
                continue;
            }
            let column = across.map_or_else(String::new, |across| self.label(across, &bin));
            columns.entry(column.clone()).or_default();
            let (cells, bins) = rows.entry(self.label(by, &bin)).or_default();
            *cells.entry(column).or_default() += net(&bin);
            *bins += 1;
        }
        let columns: Vec<String> = columns.into_keys().collect();
        let mut rows: Vec<TotalRow> = rows
            .into_iter()
            .map(|(label, (cells, bins))| TotalRow {
                label,
                total: cells.values().copied().sum(),
                cells: across.map_or_else(Vec::new, |_| {
                    columns.iter().map(|c| cells.get(c).copied().unwrap_or_default()).collect()
                }),
                bins,
            })
            .collect();
        rows.sort_by(|a, b| b.total.cmp(&a.total).then_with(|| a.label.cmp(&b.label)));
        Totals {
            by,
            across,
            total: rows.iter().map(|row| row.total).sum(),
            bins: rows.iter().map(|row| row.bins).sum(),
            columns: if across.is_some() { columns } else { Vec::new() },
            rows,
        }
    }

    fn label(&self, by: By, bin: &BinKept) -> String {
        match by {
            By::Crop => bin.crop.to_string(),
            By::Variety => {
                bin.variety.map_or("no variety", |variety| self.variety_name(variety)).to_owned()
            }
            By::Class => bin.class.to_string(),
            By::Place => self.place_name(bin.place).to_owned(),
            By::Picker => self.person_name(bin.person).to_owned(),
            By::Day => self.pick_day(bin).to_string(),
            By::Pick => format!("{} {}", self.pick_day(bin), self.pick_name(bin.pick)),
        }
    }

    fn pick_day(&self, bin: &BinKept) -> Day {
        let day = self.picks.get(&bin.pick).and_then(|pick| pick.day.get().copied());
        day.unwrap_or_else(|| Day::at(bin.at, 0))
    }

    /// Net weight of one pick by class, for the running line and the class buttons.
    pub fn by_class(&self, pick: PickId, crop: Option<&CropId>) -> BTreeMap<ClassId, Grams> {
        let mut classes = BTreeMap::new();
        for (_, bin) in self.counted() {
            let Some(bin) = bin.now() else { continue };
            if bin.pick == pick && crop.is_none_or(|crop| *crop == bin.crop) {
                *classes.entry(bin.class.clone()).or_default() += net(&bin);
            }
        }
        classes
    }
}
