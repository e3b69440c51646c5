//! Earlier seasons out of a plain spreadsheet: what would come in, and what is wrong line by line.
//!
//! # Context
//! Growers keep last year's yields in a spreadsheet or a notebook. A season book with one year in it
//! compares nothing; typing ten years in by hand on a phone is not done.
//!
//! # Design
//! Comma-, semicolon- or tab-separated text with a line of names first, in any order and by any of
//! the words in `columns`. Needed are the year, the crop and a weight; everything else may be
//! left out. Nothing is guessed: a day such as `3/4/2024`, which is two days in two countries, is
//! refused with what to write instead. [`read`] only reads; the person looks at it, and each good
//! line then becomes one [`SeasonRecorded`].
//!
//! # Not yet true
//! A line is one record, whether or not the same one was brought in before; [`read`] is told what
//! is there and says which lines look like it.

mod columns;
mod values;

use csv::{ReaderBuilder, StringRecord, Trim};
use serde::Serialize;

use crate::entry::SeasonRecorded;
use crate::ids::{CropId, RecordId};
use crate::units::{Day, Grams, WeightUnit};

use columns::{Column, Columns};

/// Lines that are read at once: a lifetime of seasons.
pub const MAX_LINES: usize = 2_000;

/// One line that would come in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PastLine {
    /// Its place in the text, from 1.
    pub line: u64,
    /// The year.
    pub year: i64,
    /// The crop.
    pub crop: CropId,
    /// The variety, in words.
    pub variety: Option<String>,
    /// The place, in words.
    pub place: Option<String>,
    /// How much.
    pub grams: Grams,
    /// How many plants.
    pub plants: Option<i64>,
    /// The surface in square decimetres.
    pub area_dm2: Option<i64>,
    /// First day of picking.
    pub first: Option<Day>,
    /// Last day of picking.
    pub last: Option<Day>,
    /// A remark.
    pub note: Option<String>,
    /// The same year, crop, variety, place and weight are in the book already.
    pub known: bool,
}

/// Something wrong with a line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PastProblem {
    /// Its place in the text, from 1.
    pub line: u64,
    /// What is wrong, and what to write instead.
    pub words: String,
}

/// What a text would bring in.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Past {
    /// Good lines.
    pub lines: Vec<PastLine>,
    /// The others.
    pub problems: Vec<PastProblem>,
    /// Columns that are not known and were passed over.
    pub passed_over: Vec<String>,
}

impl PastLine {
    /// The line as a fact under a new name.
    pub fn record(&self, record: RecordId) -> SeasonRecorded {
        SeasonRecorded {
            record,
            year: self.year,
            crop: self.crop.clone(),
            grams: self.grams,
            variety: self.variety.clone(),
            place: self.place.clone(),
            plants: self.plants,
            area_dm2: self.area_dm2,
            first: self.first,
            last: self.last,
            note: self.note.clone(),
        }
    }

    fn is(&self, record: &SeasonRecorded) -> bool {
        let same = |a: &Option<String>, b: &Option<String>| {
            let lower = |words: &Option<String>| words.as_ref().map(|words| words.to_lowercase());
            lower(a) == lower(b)
        };
        (self.year, &self.crop, self.grams) == (record.year, &record.crop, record.grams)
            && same(&self.variety, &record.variety)
            && same(&self.place, &record.place)
    }
}

/// Reads a text. Weights without a unit in their column's name are in `unit`; `there` is what the
/// book has already; `newest` is the latest year that may be recorded.
pub fn read<'a>(
    text: &str,
    unit: WeightUnit,
    newest: i64,
    there: &(impl Iterator<Item = &'a SeasonRecorded> + Clone),
) -> Past {
    let text = text.trim_start_matches('\u{feff}');
    let mut reader = ReaderBuilder::new()
        .delimiter(columns::delimiter(text))
        .flexible(true)
        .trim(Trim::All)
        .from_reader(text.as_bytes());
    let mut past = Past::default();
    let columns = match reader.headers().map(|names| Columns::of(names, unit)) {
        Ok(Ok((columns, passed_over))) => {
            past.passed_over = passed_over;
            columns
        }
        Ok(Err(words)) => {
            past.problems.push(PastProblem { line: 1, words });
            return past;
        }
        Err(error) => {
            past.problems.push(PastProblem { line: 1, words: error.to_string() });
            return past;
        }
    };
    for record in reader.records() {
        if past.lines.len() + past.problems.len() >= MAX_LINES {
            let words = format!("only the first {MAX_LINES} lines were read: split the file");
            past.problems.push(PastProblem { line: 0, words });
            break;
        }
        match record {
            Err(error) => {
                let line = line_of(text, error.position());
                past.problems.push(PastProblem { line, words: error.to_string() });
            }
            Ok(record) if record.iter().all(str::is_empty) => {}
            Ok(record) => match line(&record, &columns, newest) {
                Ok(good) => {
                    let known = there.clone().any(|there| good.is(there));
                    let line = line_of(text, record.position());
                    past.lines.push(PastLine { line, known, ..good });
                }
                Err(words) => {
                    let line = line_of(text, record.position());
                    past.problems.push(PastProblem { line, words });
                }
            },
        }
    }
    past
}

/// The line a record begins on, from 1. The reader counts lines before the breaks it passes over.
fn line_of(text: &str, position: Option<&csv::Position>) -> u64 {
    let begin = position.and_then(|position| usize::try_from(position.byte()).ok()).unwrap_or(0);
    let rest = text.get(begin..).unwrap_or_default();
    let begin = text.len() - rest.trim_start_matches(['\r', '\n']).len();
    1 + text.as_bytes()[..begin].iter().filter(|byte| **byte == b'\n').count() as u64
}

/// Reads one record; its place in the text is for the caller to add.
fn line(record: &StringRecord, columns: &Columns, newest: i64) -> Result<PastLine, String> {
    let words = |column| columns.find(record, column).map(str::to_owned);
    let need = |column: Column| {
        columns.find(record, column).ok_or_else(|| format!("the {} is missing", column.name()))
    };
    let year = values::year(need(Column::Year)?, newest)?;
    let crop = values::crop(need(Column::Crop)?)?;
    let grams = values::weight(need(Column::Weight)?, columns.weight)?;
    let first = columns.find(record, Column::First).map(values::day).transpose()?;
    let last = columns.find(record, Column::Last).map(values::day).transpose()?;
    if first.zip(last).is_some_and(|(first, last)| last < first) {
        return Err("the last day lies before the first".to_owned());
    }
    let other = [first, last].into_iter().flatten().find(|day| i64::from(day.year()) != year);
    if let Some(day) = other {
        return Err(format!("{day} is not in the year {year}"));
    }
    Ok(PastLine {
        line: 0,
        year,
        crop,
        variety: words(Column::Variety),
        place: words(Column::Place),
        grams,
        plants: columns.find(record, Column::Plants).map(values::plants).transpose()?,
        area_dm2: columns.find(record, Column::Area).map(values::area).transpose()?,
        first,
        last,
        note: words(Column::Note),
        known: false,
    })
}

#[cfg(test)]
mod tests;
