//! Where the numbers of a card were read.

use shared_types::trade::methods::{Confirmed, From};
use shared_types::trade::provenance::{Mark, cite};

/// A source with how sure the reading is; the owner's own reading where there is one.
pub fn cited(source: &str, mark: Mark, confirmed: Option<&Confirmed>) -> String {
    match confirmed {
        Some(confirmed) => confirmed.words(),
        None => format!("{} ({})", cite(source), mark.words()),
    }
}

/// The same for the wording of steps.
pub fn from(from: &From) -> String {
    cited(&from.source, from.mark, None)
}

#[cfg(test)]
mod tests {
    use super::*;
    use shared_types::units::Day;

    #[test]
    fn an_owners_own_reading_comes_before_the_memory() {
        let source = "usda-guide-3";
        assert!(cited(source, Mark::M, None).contains("from memory"));
        let confirmed = Confirmed {
            method: "tomatoes-crushed".into(),
            row: "boiling-water/pint/35-40-45-50".to_owned(),
            edition: "2015".to_owned(),
            page: "3-7".to_owned(),
            day: Day::from_ymd(2026, 10, 9).expect("a day"),
        };
        let words = cited(source, Mark::M, Some(&confirmed));
        assert_eq!(words, "confirmed by you: 2015, page 3-7, 2026-10-09");
    }
}
