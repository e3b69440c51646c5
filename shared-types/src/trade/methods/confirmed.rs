//! Rows that an owner has read in a printed guide.
//!
//! A value from memory is shown and never used. Whoever has the guide on the table may read the row
//! there and say so; edition, page and day are kept and shown beside the value ever after. A row's
//! key holds its numbers, so that a confirmation never covers a number that was mended later.

use serde::{Deserialize, Serialize};

use super::canning::canning;
use super::{Mark, Method, MethodId, PressureRow, ProcessRow, Role, Unit};
use crate::units::Day;

/// One row, read in a printed guide by the owner.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Confirmed {
    /// The method.
    pub method: MethodId,
    /// The row's key, as [`RowToConfirm::row`] has it.
    pub row: String,
    /// The guide's edition, as its cover says.
    pub edition: String,
    /// The page.
    pub page: String,
    /// The day it was read.
    pub day: Day,
}

impl Confirmed {
    /// For a screen: `confirmed by you: 2015 edition, page 3-5, 2026-10-09`.
    pub fn words(&self) -> String {
        format!("confirmed by you: {}, page {}, {}", self.edition, self.page, self.day)
    }
}

/// A row that waits for somebody with a printed guide.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RowToConfirm {
    /// The method.
    pub method: MethodId,
    /// Its key.
    pub row: String,
    /// What to look for in the guide, in words with the remembered numbers.
    pub words: String,
    /// Id of the source it is remembered from.
    pub source: String,
}

/// The confirmation of a row, if there is one.
pub(super) fn find<'a>(
    confirmed: &'a [Confirmed],
    method: &Method,
    row: &str,
) -> Option<&'a Confirmed> {
    confirmed.iter().find(|one| one.method == method.id && one.row == row)
}

pub(super) fn process_key(row: &ProcessRow) -> String {
    let minutes: Vec<_> = row.minutes.iter().map(|cell| cell.value.to_string()).collect();
    format!("boiling-water/{}/{}", row.jar.words(), minutes.join("-"))
}

pub(super) fn pressure_key(row: &PressureRow) -> String {
    let psi = |psi: &Option<u32>| psi.map_or_else(|| "none".to_owned(), |psi| psi.to_string());
    let psi: Vec<_> = row.psi.iter().map(psi).collect();
    format!("{}/{}-min/{}-psi", row.gauge.bands(), row.minutes, psi.join("-"))
}

pub(super) fn headspace_key(inches: f64) -> String {
    format!("headspace/{inches}-inch")
}

pub(super) fn acid_key(what: &str, jar: super::Jar) -> String {
    format!("acid/{}/{what}", jar.words())
}

/// The recipe's amounts, where they carry its safety and one of them was only remembered.
pub(super) fn recipe_key(method: &Method) -> Option<String> {
    let carries = |role: Role| role.never_less() || role.never_more();
    let base = method.base.as_ref()?;
    let remembered = !base.mark.is_seen()
        || method.ingredients.iter().any(|part| carries(part.role) && !part.mark.is_seen());
    let amounts = method.ingredients.iter().map(|part| part.amount.to_string());
    let amounts: Vec<_> = std::iter::once(base.amount.to_string()).chain(amounts).collect();
    remembered.then(|| format!("recipe/{}", amounts.join("-")))
}

/// The rows of a method that must be confirmed before they are used, in the order of its file.
pub fn rows_to_confirm(method: &Method) -> Vec<RowToConfirm> {
    let mut rows = Vec::new();
    let mut add = |row: String, words: String, source: &str| {
        rows.push(RowToConfirm {
            method: method.id.clone(),
            row,
            words: format!("{}: {words}", method.name),
            source: source.to_owned(),
        });
    };
    if let Some(inches) = method.headspace_inches.as_ref().filter(|inches| unseen(inches.mark)) {
        let words = format!("headspace of {} inch", inches.value);
        add(headspace_key(inches.value), words, &inches.source);
    }
    for row in method.process.iter().filter(|row| row.minutes.iter().any(|m| unseen(m.mark))) {
        let minutes: Vec<_> = row.minutes.iter().map(|cell| cell.value.to_string()).collect();
        let words = format!(
            "{} pack, {} jars, boiling water, {} minutes from the lowest band of altitude to the highest",
            row.pack,
            row.jar.words(),
            minutes.join(", ")
        );
        add(process_key(row), words, row.minutes.last().map_or("", |cell| &cell.source));
    }
    for row in method.pressure.iter().filter(|row| unseen(row.mark)) {
        let psi: Vec<_> = row
            .psi
            .iter()
            .map(|psi| psi.map_or("none".to_owned(), |psi| psi.to_string()))
            .collect();
        let words = format!(
            "{} gauge, {} minutes at {} psi from the lowest band of altitude to the highest",
            row.gauge.bands(),
            row.minutes,
            psi.join(", ")
        );
        add(pressure_key(row), words, &row.source);
    }
    if let Some(key) = recipe_key(method) {
        add(key, recipe_words(method), method.base.as_ref().map_or("", |base| &base.source));
    }
    if method.acid {
        for row in canning().acid_per_jar.iter().filter(|row| unseen(row.mark)) {
            let words = format!(
                "{} {} of {} in each {}",
                row.amount,
                row.unit.word(),
                row.what,
                row.jar.words()
            );
            add(acid_key(&row.what, row.jar), words, &row.source);
        }
    }
    rows
}

fn unseen(mark: Mark) -> bool {
    !mark.is_seen()
}

fn recipe_words(method: &Method) -> String {
    let unit = |unit: Unit| match unit {
        Unit::Lb => "lb",
        Unit::Oz => "oz",
        Unit::Clove => "clove",
        Unit::Piece => "whole",
        Unit::Stick => "stick",
        Unit::Measure(measure) => measure.word(),
    };
    let base = method.base.iter().map(|b| format!("{} {} {}", b.amount, unit(b.unit), b.name));
    let parts =
        method.ingredients.iter().map(|p| format!("{} {} {}", p.amount, unit(p.unit), p.name));
    format!("the recipe: {}", base.chain(parts).collect::<Vec<_>>().join(", "))
}
