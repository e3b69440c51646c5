//! Which column is which.

use csv::StringRecord;

use crate::units::WeightUnit;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Column {
    Year,
    Crop,
    Variety,
    Place,
    Weight,
    Plants,
    Area,
    First,
    Last,
    Note,
}

/// The words a column may be called by, in lower case, without what stands in brackets.
const NAMES: [(Column, &[&str]); 10] = [
    (Column::Year, &["year", "season"]),
    (Column::Crop, &["crop", "what"]),
    (Column::Variety, &["variety", "cultivar", "sort"]),
    (Column::Place, &["place", "bed", "where"]),
    (
        Column::Weight,
        &["weight", "yield", "picked", "total", "kg", "kilograms", "lb", "pounds", "g", "grams"],
    ),
    (Column::Plants, &["plants", "plant count"]),
    (Column::Area, &["area", "m2", "m²", "square metres", "square meters"]),
    (Column::First, &["first", "first day", "first picked", "from"]),
    (Column::Last, &["last", "last day", "last picked", "until"]),
    (Column::Note, &["note", "notes", "remark", "remarks"]),
];

impl Column {
    pub(super) fn name(self) -> &'static str {
        let names = NAMES.iter().find(|(column, _)| *column == self).map(|(_, names)| names[0]);
        names.unwrap_or("value")
    }

    fn called(name: &str) -> Option<Self> {
        NAMES.iter().find(|(_, names)| names.contains(&name)).map(|(column, _)| *column)
    }
}

/// What the weights are in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum WeightColumn {
    Unit(WeightUnit),
    Grams,
}

/// The columns of a text.
#[derive(Debug)]
pub(super) struct Columns {
    at: Vec<(Column, usize)>,
    pub(super) weight: WeightColumn,
}

impl Columns {
    /// Reads the line of names; says which were passed over.
    pub(super) fn of(
        names: &StringRecord,
        unit: WeightUnit,
    ) -> Result<(Self, Vec<String>), String> {
        let mut columns = Self { at: Vec::new(), weight: WeightColumn::Unit(unit) };
        let mut passed_over = Vec::new();
        for (i, name) in names.iter().enumerate() {
            let whole = name.to_lowercase().replace(['_', '(', ')', '[', ']'], " ");
            let words: Vec<&str> = whole.split_whitespace().collect();
            let plain = words.join(" ");
            let stem = match words.split_last() {
                Some((last, rest)) if !rest.is_empty() && is_unit(last) => rest.join(" "),
                _ => plain.clone(),
            };
            match Column::called(&plain).or_else(|| Column::called(&stem)) {
                Some(column) if columns.at.iter().any(|(there, _)| *there == column) => {
                    return Err(format!("two columns are a {}: keep one", column.name()));
                }
                Some(column) => {
                    if column == Column::Weight {
                        columns.weight = weight_unit(&words).unwrap_or(columns.weight);
                    }
                    columns.at.push((column, i));
                }
                None if plain.is_empty() => {}
                None => passed_over.push(name.to_owned()),
            }
        }
        for needed in [Column::Year, Column::Crop, Column::Weight] {
            if !columns.at.iter().any(|(column, _)| *column == needed) {
                return Err(format!(
                    "the first line names no column `{}`: it must hold at least year, crop and kg",
                    needed.name()
                ));
            }
        }
        Ok((columns, passed_over))
    }

    /// What a line holds there; `None` when nothing.
    pub(super) fn find<'a>(&self, record: &'a StringRecord, column: Column) -> Option<&'a str> {
        let at = self.at.iter().find(|(there, _)| *there == column)?.1;
        record.get(at).map(str::trim).filter(|text| !text.is_empty())
    }
}

fn is_unit(word: &str) -> bool {
    weight_unit(&[word]).is_some() || ["m2", "m²"].contains(&word)
}

fn weight_unit(words: &[&str]) -> Option<WeightColumn> {
    match *words.last()? {
        "kg" | "kilograms" => Some(WeightColumn::Unit(WeightUnit::Kg)),
        "lb" | "lbs" | "pounds" => Some(WeightColumn::Unit(WeightUnit::Lb)),
        "g" | "grams" => Some(WeightColumn::Grams),
        _ => None,
    }
}

/// What stands between fields: the one that is most frequent in the line of names.
pub(super) fn delimiter(text: &str) -> u8 {
    let names = text.lines().next().unwrap_or_default();
    let count = |delimiter: u8| names.bytes().filter(|byte| *byte == delimiter).count();
    [b',', b';', b'\t'].into_iter().rev().max_by_key(|delimiter| count(*delimiter)).unwrap_or(b',')
}
