//! Dates and weights of a forecast as short as a row of a list allows.

use shared_types::trade::crops;
use shared_types::trade::ripening::LotForecast;
use shared_types::units::{Day, Grams, WeightUnit};

use crate::words;

/// The days, longest form, from Thursday 1970-01-01 on.
const WEEKDAYS: [&str; 7] =
    ["Thursday", "Friday", "Saturday", "Sunday", "Monday", "Tuesday", "Wednesday"];

/// The whole word of a day of the week: `Monday`.
pub fn weekday(day: Day) -> &'static str {
    WEEKDAYS[day.number().rem_euclid(7) as usize]
}

/// A day near `today` by its weekday, a later one by its date: `today`, `Tue`, `20 Oct`.
pub fn near(day: Day, today: Day) -> String {
    let long = words::day(day);
    let (weekday, date) = long.split_once(' ').unwrap_or((&long, &long));
    match day.since(today) {
        ..=0 => "today".to_owned(),
        1..=6 => weekday.to_owned(),
        _ => date.to_owned(),
    }
}

/// When a lot is ripe, for the right edge of its row.
pub fn window(lot: &LotForecast, today: Day) -> String {
    let class = crops::class(&lot.crop, &lot.class);
    if class.is_some_and(|class| class.ready) {
        return "ready".to_owned();
    }
    match (lot.from, lot.to) {
        (_, Some(to)) if to <= today => "ready".to_owned(),
        (Some(from), Some(to)) if near(from, today) == near(to, today) => near(to, today),
        (Some(from), Some(to)) => format!("{} – {}", near(from, today), near(to, today)),
        (Some(from), None) => format!("from {}", near(from, today)),
        (None, _) if class.is_some_and(|class| class.ripens) => "too cold to ripen".to_owned(),
        (None, _) if class.is_some_and(|class| !class.fit_to_weigh) => "sort by eye".to_owned(),
        (None, _) => "will not ripen".to_owned(),
    }
}

/// A weight as a forecast can honestly say it: from ten up without decimals. Without its unit.
pub fn about(grams: Grams, unit: WeightUnit) -> String {
    let fine = words::number(grams, unit);
    match fine.parse::<f64>() {
        Ok(value) if value >= 10.0 => format!("{value:.0}"),
        _ => fine,
    }
}

/// A share in words; nothing is said of less than a twentieth.
pub fn share(of: f64) -> Option<&'static str> {
    Some(match of {
        ..0.05 => return None,
        ..0.15 => "a tenth",
        ..0.225 => "a fifth",
        ..0.29 => "a quarter",
        ..0.37 => "a third",
        ..0.45 => "two fifths",
        ..0.55 => "half",
        ..0.72 => "two thirds",
        _ => "most",
    })
}

/// A sentence of the trade with its days, such as 2026-10-20, as people write them.
pub fn plain_days(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let (before, from) = rest.split_at(at);
        out.push_str(before);
        let digits = from.find(|c: char| !c.is_ascii_digit() && c != '-').unwrap_or(from.len());
        let (found, after) = from.split_at(digits);
        match found.parse::<Day>() {
            Ok(day) if found.len() == 10 => out.push_str(&words::day(day)),
            _ => out.push_str(found),
        }
        rest = after;
    }
    out + rest
}

#[cfg(test)]
mod tests {
    use super::*;
    use shared_types::trade::ripening::{Balance, Band};

    fn day(date: u32) -> Day {
        Day::from_ymd(2026, 10, date).expect("a day of October")
    }

    fn lot(class: &str, from: Option<Day>, to: Option<Day>) -> LotForecast {
        LotForecast {
            lot: None,
            crop: "tomato".into(),
            class: class.into(),
            from,
            to,
            ready_today: Band::default(),
            still_to_come: Band::default(),
            never: Grams::ZERO,
            today: Balance::default(),
            end: Balance::default(),
            warnings: Vec::new(),
            why: String::new(),
        }
    }

    #[test]
    fn a_window_is_as_short_as_it_can_be() {
        let today = day(10);
        for (class, from, to, words) in [
            ("ripe", Some(9), Some(9), "ready"),
            ("colouring", Some(9), Some(13), "today – Tue"),
            ("colouring", Some(12), Some(16), "Mon – Fri"),
            ("colouring", Some(14), Some(14), "Wed"),
            ("colouring", Some(8), Some(10), "ready"),
            ("green", Some(20), None, "from 20 Oct"),
            ("green", Some(16), Some(29), "Fri – 29 Oct"),
            ("green", None, None, "too cold to ripen"),
            ("hurt", None, None, "sort by eye"),
            ("no-such", None, None, "will not ripen"),
        ] {
            assert_eq!(window(&lot(class, from.map(day), to.map(day)), today), words);
        }
    }

    #[test]
    fn figures_claim_no_more_than_is_known() {
        assert_eq!(about(Grams(6_420), WeightUnit::Kg), "6.4");
        assert_eq!(about(Grams(46_600), WeightUnit::Kg), "47");
        assert_eq!(share(0.21), Some("a fifth"));
        assert_eq!(share(0.01), None);
        assert_eq!(share(1.0), Some("most"));
    }

    #[test]
    fn days_inside_a_sentence_are_written_out() {
        assert_eq!(
            plain_days("chilled by 2026-10-20; 14 days at 10 °C, 6-8 at 5"),
            "chilled by Tue 20 Oct; 14 days at 10 °C, 6-8 at 5"
        );
        assert_eq!(weekday(day(12)), "Monday");
    }
}
