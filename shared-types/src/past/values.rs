//! Reading one field, or saying what to write instead.

use super::columns::WeightColumn;
use crate::ids::CropId;
use crate::trade::crops;
use crate::units::{Day, Grams, KG_PER_LB, WeightUnit};

/// The first year that is taken for one; below it someone typed something else.
const OLDEST: i64 = 1900;

/// More than this of one variety in one year is a slip of unit, grams: 100 tonnes.
const MOST_GRAMS: f64 = 1e8;

pub(super) fn year(text: &str, newest: i64) -> Result<i64, String> {
    match text.parse() {
        Ok(year) if (OLDEST..=newest).contains(&year) => Ok(year),
        Ok(year) => Err(format!("the year {year} is not between {OLDEST} and {newest}")),
        Err(_) => Err(format!("`{text}` is not a year: write it like 2024")),
    }
}

/// A crop by its key, its name, or its name in the plural.
pub(super) fn crop(text: &str) -> Result<CropId, String> {
    let plain = |words: &str| words.to_lowercase().replace([' ', '_'], "-");
    let said = plain(text);
    let forms = [said.as_str(), said.trim_end_matches('s'), said.trim_end_matches("es")];
    let found = crops::all().iter().find(|crop| {
        forms.iter().any(|form| *form == crop.slug.as_str() || *form == plain(&crop.name))
    });
    found.map(|crop| crop.slug.clone()).ok_or_else(|| {
        let names: Vec<&str> = crops::all().iter().map(|crop| crop.name.as_str()).collect();
        format!("`{text}` is no crop of this book: write one of {}", names.join(", "))
    })
}

pub(super) fn weight(text: &str, column: WeightColumn) -> Result<Grams, String> {
    let lower = text.to_lowercase();
    let (digits, column) = match lower.trim_end_matches('.') {
        text if text.ends_with("kg") => {
            (&text[..text.len() - 2], WeightColumn::Unit(WeightUnit::Kg))
        }
        text if text.ends_with("lb") => {
            (&text[..text.len() - 2], WeightColumn::Unit(WeightUnit::Lb))
        }
        text => (text, column),
    };
    let per = match column {
        WeightColumn::Unit(WeightUnit::Kg) => 1_000.0,
        WeightColumn::Unit(WeightUnit::Lb) => 1_000.0 * KG_PER_LB,
        WeightColumn::Grams => 1.0,
    };
    let grams = number(digits.trim(), text)? * per;
    if !(0.0..=MOST_GRAMS).contains(&grams) {
        return Err(format!("a weight of {text} cannot be: check it and its unit"));
    }
    Ok(Grams(libm::round(grams) as i64))
}

pub(super) fn plants(text: &str) -> Result<i64, String> {
    match text.parse() {
        Ok(plants) if (1..=1_000_000).contains(&plants) => Ok(plants),
        _ => Err(format!("`{text}` is no number of plants: write digits only, or leave it empty")),
    }
}

/// Square metres, as square decimetres.
pub(super) fn area(text: &str) -> Result<i64, String> {
    let metres = number(text, text)?;
    if !(0.01..=1e6).contains(&metres) {
        return Err(format!("an area of {text} m² cannot be: write square metres"));
    }
    Ok(libm::round(metres * 100.0) as i64)
}

/// `2024-08-12` or `12.8.2024`.
pub(super) fn day(text: &str) -> Result<Day, String> {
    let parts: Vec<&str> = text.trim_end_matches('.').split('.').map(str::trim).collect();
    let dotted = match parts.as_slice() {
        [day, month, year] => match (year.parse(), month.parse(), day.parse()) {
            (Ok(year), Ok(month), Ok(day)) => Day::from_ymd(year, month, day),
            _ => None,
        },
        _ => None,
    };
    dotted.or_else(|| text.parse().ok()).ok_or_else(|| {
        let why = if text.contains('/') { ": day and month could be either way round" } else { "" };
        format!("`{text}` is not a day{why}; write it like 2024-08-12")
    })
}

/// Digits with one point or comma. Both in one number, or a comma before three digits and nothing
/// more, could be thousands: refused.
fn number(digits: &str, text: &str) -> Result<f64, String> {
    let separators = digits.chars().filter(|c| [',', '.'].contains(c)).count();
    let thousands = digits.split_once(',').is_some_and(|(_, after)| after.len() == 3);
    if separators > 1 || thousands {
        return Err(format!("`{text}` could be read two ways: write it without thousands marks"));
    }
    let plain = digits.replace(',', ".");
    let is_plain = plain.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    match plain.parse::<f64>() {
        Ok(number) if is_plain && number.is_finite() => Ok(number),
        _ => Err(format!("`{text}` is not a number")),
    }
}
