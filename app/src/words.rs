//! Quantities, days and names as a person reads them. Pure: the same text on every device.

use shared_types::book::Book;
use shared_types::ids::{ClassId, CropId, VarietyId};
use shared_types::trade::crops::{self, Defect, Stage};
use shared_types::units::{Day, Grams, KG_PER_LB, MINUTE_MS, MilliCelsius, Millis, WeightUnit};

const WEEKDAYS: [&str; 7] = ["Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed"];
const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/// A weight with one decimal, rounded half up, without its unit: `9.4`.
pub fn number(weight: Grams, unit: WeightUnit) -> String {
    let thousandths = thousandths(weight, unit);
    let sign = if thousandths < 0 { "\u{2212}" } else { "" };
    let tenths = (thousandths.unsigned_abs() + 50) / 100;
    format!("{sign}{}.{}", tenths / 10, tenths % 10)
}

/// A weight with one decimal and its unit: `9.4 kg`.
pub fn weight(weight: Grams, unit: WeightUnit) -> String {
    format!("{} {}", number(weight, unit), unit.symbol())
}

/// A weight with as many decimals as it has, one to three: `9.4`, `0.705`.
pub fn exact(weight: Grams, unit: WeightUnit) -> String {
    let thousandths = thousandths(weight, unit);
    let sign = if thousandths < 0 { "\u{2212}" } else { "" };
    let part = format!("{:03}", thousandths.unsigned_abs() % 1000);
    let part = part.trim_end_matches('0');
    let part = if part.is_empty() { "0" } else { part };
    format!("{sign}{}.{part}", thousandths.unsigned_abs() / 1000)
}

/// Thousandths of the unit; pounds rounded to the nearest thousandth.
fn thousandths(weight: Grams, unit: WeightUnit) -> i64 {
    match unit {
        WeightUnit::Kg => weight.0,
        WeightUnit::Lb => (weight.0 as f64 / KG_PER_LB).round() as i64,
    }
}

/// A day: `Fri 9 Oct`.
pub fn day(day: Day) -> String {
    let weekday = WEEKDAYS[day.number().rem_euclid(7) as usize];
    let (month, date) = month_and_date(day);
    format!("{weekday} {date} {month}")
}

/// A day, with a word for today, yesterday and tomorrow, and the year when it is another.
pub fn day_or_today(of: Day, today: Day) -> String {
    match of.since(today) {
        0 => "today".to_owned(),
        -1 => "yesterday".to_owned(),
        1 => "tomorrow".to_owned(),
        _ if of.year() == today.year() => day(of),
        _ => format!("{} {}", day(of), of.year()),
    }
}

fn month_and_date(day: Day) -> (&'static str, String) {
    let written = day.to_string();
    let mut parts = written.rsplit('-');
    let date = parts.next().unwrap_or_default().trim_start_matches('0').to_owned();
    let month = parts.next().and_then(|m| m.parse::<usize>().ok()).unwrap_or(1);
    (MONTHS[(month.clamp(1, 12)) - 1], date)
}

/// A day with its year, without its weekday: `9 Oct 2026`.
pub fn day_and_year(day: Day) -> String {
    let (month, date) = month_and_date(day);
    format!("{date} {month} {}", day.year())
}

/// The time of day for a clock `offset_minutes` ahead of UTC: `14:02`.
pub fn time(at: Millis, offset_minutes: i32) -> String {
    let minutes = (at.0.div_euclid(MINUTE_MS) + i64::from(offset_minutes)).rem_euclid(24 * 60);
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

/// A temperature to the nearest tenth of a degree: `20°`, `12.5°`, `−1.7°`.
pub fn celsius(temperature: MilliCelsius) -> String {
    let tenths = (temperature.0 + 50).div_euclid(100);
    let sign = if tenths < 0 { "\u{2212}" } else { "" };
    match (tenths.unsigned_abs() / 10, tenths.unsigned_abs() % 10) {
        (degrees, 0) => format!("{sign}{degrees}°"),
        (degrees, tenth) => format!("{sign}{degrees}.{tenth}°"),
    }
}

/// A crop's name; the key itself when the table does not have it.
pub fn crop_name(crop: &CropId) -> String {
    crops::crop(crop).map_or_else(|| crop.to_string(), |crop| crop.name.clone())
}

/// A class's name; the key itself when the table does not have it.
pub fn class_name(crop: &CropId, class: &ClassId) -> String {
    crops::class(crop, class).map_or_else(|| class.to_string(), |class| class.name.clone())
}

/// Crop and variety in one: `Paste tomato`, or `Tomato` without a variety.
pub fn crop_line(book: &Book, crop: &CropId, variety: Option<VarietyId>) -> String {
    match variety {
        Some(variety) => {
            format!("{} {}", book.variety_name(variety), crop_name(crop).to_lowercase())
        }
        None => crop_name(crop),
    }
}

/// A stage's word; what is written when this program does not know it.
pub fn stage_words(stage: &str) -> String {
    known::<Stage>(stage).map_or_else(|| stage.to_owned(), |stage| stage.words().to_owned())
}

/// A defect's word; what is written when this program does not know it.
pub fn defect_words(defect: &str) -> String {
    known::<Defect>(defect).map_or_else(|| defect.to_owned(), |defect| defect.words().to_owned())
}

/// The word under which a stage or defect stands in entries.
pub fn key_of(word: &impl serde::Serialize) -> String {
    match serde_json::to_value(word) {
        Ok(serde_json::Value::String(key)) => key,
        _ => String::new(),
    }
}

fn known<T: serde::de::DeserializeOwned>(word: &str) -> Option<T> {
    serde_json::from_value(serde_json::Value::String(word.to_owned())).ok()
}

/// `1 bin`, `3 bins`, `2 entries`.
pub fn count(number: usize, one: &str) -> String {
    match one.strip_suffix('y') {
        _ if number == 1 => format!("1 {one}"),
        Some(stem) if !stem.ends_with(['a', 'e', 'o']) => format!("{number} {stem}ies"),
        _ => format!("{number} {one}s"),
    }
}

/// A phrase, as errors and refusals travel, as a sentence: `Ask the grower.`
pub fn sentence(phrase: &str) -> String {
    let mut letters = phrase.chars();
    let Some(first) = letters.next() else { return String::new() };
    let end = if phrase.ends_with(['.', '?', '!', ']']) { "" } else { "." };
    first.to_uppercase().chain(letters).chain(end.chars()).collect()
}

/// A length of time in the largest whole unit: `3 minutes`, `2 hours`.
pub fn span(ms: i64) -> String {
    let minutes = usize::try_from(ms.abs() / MINUTE_MS).unwrap_or(usize::MAX);
    match minutes {
        0 => "less than a minute".to_owned(),
        1..=119 => count(minutes, "minute"),
        120..=2879 => count(minutes / 60, "hour"),
        _ => count(minutes / 60 / 24, "day"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_are_rounded_once() {
        let cases =
            [(9_400, "9.4"), (8_250, "8.3"), (49, "0.0"), (50, "0.1"), (-1_250, "\u{2212}1.3")];
        for (grams, text) in cases {
            assert_eq!(number(Grams(grams), WeightUnit::Kg), text);
        }
        assert_eq!(weight(Grams(4_536), WeightUnit::Lb), "10.0 lb");
        for (grams, text) in [(9_400, "9.4"), (8_250, "8.25"), (705, "0.705"), (11_000, "11.0")] {
            assert_eq!(exact(Grams(grams), WeightUnit::Kg), text);
        }
    }

    #[test]
    fn days_read_as_people_write_them() {
        let friday = Day::from_ymd(2026, 10, 9).expect("a day");
        assert_eq!(day(friday), "Fri 9 Oct");
        assert_eq!(day_or_today(friday, friday), "today");
        assert_eq!(day_or_today(friday.plus(-1), friday), "yesterday");
        assert_eq!(day_or_today(friday.plus(365), friday), "Sat 9 Oct 2027");
        assert_eq!(day(Day::from_number(0)), "Thu 1 Jan");
    }

    #[test]
    fn times_follow_the_zone() {
        assert_eq!(time(Millis(14 * 3_600_000 + 2 * 60_000), 0), "14:02");
        assert_eq!(time(Millis(0), -90), "22:30");
    }

    #[test]
    fn a_phrase_becomes_a_sentence() {
        assert_eq!(sentence("ask the grower"), "Ask the grower.");
        assert_eq!(sentence("Keep it?"), "Keep it?");
        assert_eq!(sentence(""), "");
    }

    #[test]
    fn one_and_many() {
        assert_eq!(count(1, "entry"), "1 entry");
        assert_eq!(count(0, "entry"), "0 entries");
        assert_eq!(count(3, "day"), "3 days");
        assert_eq!(span(-3 * 24 * 3_600_000), "3 days");
    }

    #[test]
    fn temperatures_in_tenths() {
        for (milli, text) in
            [(20_000, "20°"), (12_500, "12.5°"), (-1_700, "\u{2212}1.7°"), (-49, "0°")]
        {
            assert_eq!(celsius(MilliCelsius(milli)), text);
        }
    }

    #[test]
    fn an_unknown_word_is_shown_as_written() {
        assert_eq!(stage_words("light_red"), "light red");
        assert_eq!(stage_words("blushing"), "blushing");
        assert_eq!(key_of(&Defect::BlossomEndRot), "blossom_end_rot");
    }
}
