//! Reading what people type into forms: numbers that may be left out. Pure.

use shared_types::units::{Grams, MilliCelsius, Reading, WeightError, WeightUnit};

/// A whole number, not below nothing; `None` when left out.
pub fn whole(text: &str) -> Result<Option<i64>, String> {
    match text.trim() {
        "" => Ok(None),
        text if text.len() <= 9 && text.bytes().all(|byte| byte.is_ascii_digit()) => {
            text.parse().map(Some).map_err(|_| not_whole(text))
        }
        text => Err(not_whole(text)),
    }
}

fn not_whole(text: &str) -> String {
    format!("`{text}` is not a whole number: type digits only.")
}

/// Thousandths of what was typed with a point or a comma; `None` when left out.
pub fn thousandths_of(text: &str) -> Result<Option<i64>, String> {
    let text = text.trim();
    let (sign, digits) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(digits) => (-1, digits),
        None => (1, text),
    };
    // The same digits a scale's reading takes, so that points and commas are read alike.
    match Reading::parse(digits, WeightUnit::Kg) {
        Ok(reading) => Ok(Some(sign * reading.thousandths)),
        Err(WeightError::Empty) if sign > 0 => Ok(None),
        Err(WeightError::Zero) => Ok(Some(0)),
        Err(WeightError::TooHeavy { .. }) => Err(format!("`{text}` is too large.")),
        Err(_) => Err(format!("`{text}` is not a number: type digits, with one point or comma.")),
    }
}

/// A temperature in degrees Celsius; `None` when left out.
pub fn celsius(text: &str) -> Result<Option<MilliCelsius>, String> {
    let Some(milli) = thousandths_of(text)? else { return Ok(None) };
    match i32::try_from(milli) {
        Ok(milli) if (-60_000..=60_000).contains(&milli) => Ok(Some(MilliCelsius(milli))),
        _ => Err(format!("{} ° is no weather and no room: type degrees Celsius.", text.trim())),
    }
}

/// Square metres, in square decimetres as stored; `None` when left out.
pub fn square_metres(text: &str) -> Result<Option<i64>, String> {
    Ok(thousandths_of(text)?.map(|thousandths| thousandths / 10))
}

/// A length in metres, in millimetres as stored; `None` when left out.
pub fn metres(text: &str) -> Result<Option<i64>, String> {
    thousandths_of(text)
}

/// Degrees of latitude or longitude, up to `most` either way, in millionths as stored; `None` when
/// left out.
pub fn degrees(text: &str, most: u32) -> Result<Option<i64>, String> {
    let text = text.trim().replace('\u{2212}', "-").replace(',', ".");
    if text.is_empty() {
        return Ok(None);
    }
    match text.trim_end_matches('°').parse::<f64>() {
        Ok(degrees) if degrees.abs() <= f64::from(most) => Ok(Some((degrees * 1e6).round() as i64)),
        Ok(_) => Err(format!("{text} lies beyond {most} degrees.")),
        Err(_) => Err(format!("`{text}` is not a number of degrees: write it like 46.8125.")),
    }
}

/// Millionths of a degree as they are typed: `46.8125`.
pub fn typed_degrees(udeg: i64) -> String {
    format!("{}", udeg as f64 / 1e6)
}

/// A weight that may be nothing (a sack weighs next to nothing) or left out (`None`).
pub fn weight(text: &str, unit: WeightUnit) -> Result<Option<Grams>, String> {
    match Reading::parse(text, unit) {
        Ok(reading) => Ok(Some(reading.grams())),
        Err(WeightError::Empty) => Ok(None),
        Err(WeightError::Zero) => Ok(Some(Grams::ZERO)),
        Err(error) => Err(crate::words::sentence(&error.to_string())),
    }
}

/// A weight as it is typed; empty when there is none.
pub fn exact_or_empty(grams: Option<Grams>, unit: WeightUnit) -> String {
    grams.map(|grams| crate::words::exact(grams, unit)).unwrap_or_default()
}

/// Thousandths as they are typed: `12.5`.
pub fn typed(thousandths: i64) -> String {
    let sign = if thousandths < 0 { "-" } else { "" };
    let part = format!("{:03}", thousandths.unsigned_abs() % 1000);
    let part = part.trim_end_matches('0');
    let point = if part.is_empty() { "" } else { "." };
    format!("{sign}{}{point}{part}", thousandths.unsigned_abs() / 1000)
}

/// `now` when it is not what stands there.
pub fn changed<T: PartialEq>(now: Option<T>, stands: Option<&T>) -> Option<T> {
    now.filter(|now| Some(now) != stands)
}

/// Words when something was typed that is not what stands there.
pub fn changed_words(text: &str, stands: Option<&String>) -> Option<String> {
    let text = text.trim();
    (!text.is_empty() && stands.map(String::as_str) != Some(text)).then(|| text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_as_people_type_them() {
        assert_eq!(whole(" 18 "), Ok(Some(18)));
        assert_eq!(whole(""), Ok(None));
        assert!(whole("eighteen").is_err());
        for (text, milli) in [("12,5", 12_500), ("-1.7", -1_700), ("\u{2212}3", -3_000), ("0", 0)] {
            assert_eq!(celsius(text), Ok(Some(MilliCelsius(milli))), "{text}");
            assert_eq!(celsius(&typed(i64::from(milli))), Ok(Some(MilliCelsius(milli))));
        }
        assert_eq!(celsius(""), Ok(None));
        assert!(celsius("451").is_err());
        assert!(celsius("-").is_err());
        assert_eq!(square_metres("12.5"), Ok(Some(1_250)));
    }

    #[test]
    fn only_what_differs_is_written() {
        assert_eq!(changed(Some(3), Some(&3)), None);
        assert_eq!(changed(Some(3), None), Some(3));
        assert_eq!(changed_words(" Bed 3 ", Some(&"Bed 3".to_owned())), None);
        assert_eq!(changed_words("", Some(&"Bed 3".to_owned())), None);
    }
}
