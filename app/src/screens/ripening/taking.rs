//! Taking kilograms out of a lot: what for, and the check of what was typed.

use shared_types::trade::fitness::Use;
use shared_types::units::{Grams, Reading, WeightError, WeightUnit};

use crate::words;

/// What fruit is taken out for: the word in the log, and what the screen says.
pub const PURPOSES: [(&str, &str); 7] = [
    ("jar", "jars"),
    ("freeze", "the freezer"),
    ("dry", "drying"),
    ("fresh", "eating fresh"),
    ("feed", "feed"),
    ("compost", "compost"),
    ("lost", "lost: rotten or gone"),
];

/// What became of kilograms, after their figure: `taken out for the freezer`, `lost`.
pub fn taken_words(what: &str) -> String {
    match PURPOSES.iter().find(|(key, _)| *key == what) {
        Some((key, _)) if *key == "lost" => "taken out as lost".to_owned(),
        Some((_, words)) => format!("taken out for {words}"),
        None => "taken out".to_owned(),
    }
}

/// The purpose to offer first: the best use the lot is fit for.
pub fn best_purpose(uses: &[Use]) -> &'static str {
    uses.first().map_or("compost", |best| best.word())
}

/// Whether a purpose is one the lot is not fit for. It can be recorded all the same, because the
/// log says what happened; the screen says what is wrong with it.
pub fn unfit(what: &str, uses: &[Use]) -> bool {
    Use::ALL.iter().any(|one| one.word() == what && !uses.contains(one))
}

/// Reads what was typed, against what is left.
///
/// Within a gram of all it is all: a weight shown in pounds and typed back must not leave a gram.
pub fn read(typed: &str, left: Grams, unit: WeightUnit) -> Result<Grams, String> {
    let grams = Reading::parse(typed, unit).map_err(|error| problem(&error))?.grams();
    if (grams - left).0.abs() <= 1 {
        return Ok(left);
    }
    if grams > left {
        return Err(format!(
            "Only {} {} is left of this lot: take that or less. If there is more, a bin is missing on Pick.",
            words::exact(left, unit),
            unit.symbol()
        ));
    }
    Ok(grams)
}

/// The same rules as for a bin, said of a taking.
fn problem(error: &WeightError) -> String {
    match error {
        WeightError::Empty => "Type how much is taken out.".to_owned(),
        WeightError::Zero => "0 is nothing: type how much is taken out.".to_owned(),
        WeightError::Negative => "Leave off the minus.".to_owned(),
        other => format!("{other}."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KG: WeightUnit = WeightUnit::Kg;
    const LB: WeightUnit = WeightUnit::Lb;

    #[test]
    fn no_more_is_taken_than_is_left() {
        let left = Grams(22_000);
        assert_eq!(read("3,5", left, KG), Ok(Grams(3_500)));
        assert_eq!(read("22", left, KG), Ok(left));
        let words = read("22.5", left, KG).expect_err("is more than is left");
        assert!(words.contains("Only 22.0 kg"), "{words}");
        for wrong in ["", "0", "-1", "some"] {
            let words = read(wrong, left, KG).expect_err(wrong);
            assert!(!words.contains("bin"), "{words}");
        }
    }

    #[test]
    fn all_of_it_in_pounds_leaves_nothing() {
        for grams in (21_000..22_000).map(Grams) {
            assert_eq!(read(&words::exact(grams, LB), grams, LB), Ok(grams));
        }
    }

    #[test]
    fn every_use_is_a_purpose_and_an_unfit_one_is_told() {
        for one in Use::ALL {
            assert!(PURPOSES.iter().any(|(key, _)| *key == one.word()), "{one:?}");
        }
        assert!(unfit("jar", &[Use::Freeze, Use::Fresh]));
        assert!(!unfit("freeze", &[Use::Freeze]));
        assert!(!unfit("compost", &[]) && !unfit("lost", &[]));
        assert_eq!(best_purpose(&[Use::Freeze, Use::Fresh]), "freeze");
        assert_eq!(best_purpose(&[]), "compost");
        assert_eq!(taken_words("freeze"), "taken out for the freezer");
        assert_eq!(taken_words("lost"), "taken out as lost");
    }
}
