//! The season book: what each plant and bed gave, what went wrong where, and how years compare.
//!
//! A season is a calendar year, by the day of the pick. Everything is read off the book; years before
//! the book began come from records that people typed or imported
//! ([`SeasonRecorded`](crate::entry::SeasonRecorded)). Where a year has bins of a crop, its records of
//! that crop are left out of the comparison, so that nothing counts twice.
//!
//! Not yet: a season that runs over the new year (southern hemisphere) is split in two.

mod defects;
mod frost;
mod names;
mod waste;
mod years;
mod yields;

use std::collections::BTreeMap;

use serde::Serialize;

use super::Today;
use crate::book::Book;
use crate::book::guesses::Ranked;
use crate::book::totals::By;
use crate::ids::PickId;
use crate::units::{Day, Grams};

pub use defects::{DefectGroup, DefectTable};
pub use frost::Frosts;
pub use names::crop_and_variety;
pub use waste::{Waste, WasteLine};
pub use years::{YearCell, YearRow};
pub use yields::{ClassShare, CropClasses, YieldRow};

/// One year, from the log.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Season {
    /// The year.
    pub year: i32,
    /// Everything that was picked.
    pub picked: Grams,
    /// In how many bins.
    pub bins: usize,
    /// The first day of picking.
    pub first: Option<Day>,
    /// The last.
    pub last: Option<Day>,
    /// By crop and variety, heaviest first.
    pub varieties: Vec<YieldRow>,
    /// By place, crop and variety, in the order of the places' names.
    pub places: Vec<YieldRow>,
    /// Shares of the classes, by crop.
    pub classes: Vec<CropClasses>,
    /// What went wrong, by watering and by place.
    pub defects: Vec<DefectTable>,
    /// What was thrown away.
    pub waste: Waste,
    /// Guesses against the scale, by pick.
    pub guesses: Vec<PickGuesses>,
    /// This year beside the others, by crop and variety.
    pub years: Vec<YearRow>,
    /// Records left out because the year has bins of that crop.
    pub records_left_out: usize,
    /// The first frosts of the season.
    pub frosts: Frosts,
    /// Years there is anything of, latest first.
    pub known_years: Vec<i32>,
}

/// The guesses at one pick.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PickGuesses {
    /// Which pick.
    pub pick: PickId,
    /// What it is called.
    pub name: String,
    /// The day of it.
    pub day: Option<Day>,
    /// What the scale said.
    pub total: Grams,
    /// Closest first.
    pub ranked: Vec<Ranked>,
}

/// The season of a year. `today` only tells which clock days are told by.
pub fn season(book: &Book, year: i32, today: Today) -> Season {
    let bins = yields::bins(book, today);
    let of_year: Vec<_> = bins.iter().filter(|bin| bin.day.year() == year).collect();
    let days = || of_year.iter().map(|bin| bin.day);
    let (years, records_left_out) = years::years(book, &bins);
    Season {
        year,
        picked: of_year.iter().map(|bin| bin.net).sum(),
        bins: of_year.len(),
        first: days().min(),
        last: days().max(),
        varieties: yields::by_variety(book, &of_year, year),
        places: yields::by_place(book, &of_year, year),
        classes: yields::classes(&of_year),
        defects: defects::tables(book, &of_year),
        waste: waste::waste(book, year),
        guesses: guesses(book, year),
        known_years: years::known(book, &bins),
        years,
        records_left_out,
        frosts: frost::frosts(book, year, today),
    }
}

fn guesses(book: &Book, year: i32) -> Vec<PickGuesses> {
    let mut by_day = BTreeMap::new();
    for (pick, of) in &book.picks {
        let day = of.day.get().copied();
        if day.is_none_or(|day| day.year() != year) {
            continue;
        }
        let ranked = book.guesses(*pick);
        if !ranked.is_empty() {
            let total = book.totals(Some(*pick), By::Crop, None).total;
            let name = book.pick_name(*pick).to_owned();
            by_day.insert((day, *pick), PickGuesses { pick: *pick, name, day, total, ranked });
        }
    }
    by_day.into_values().collect()
}
