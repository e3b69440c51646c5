//! Guesses in words, and the check of a new one.

use shared_types::book::guesses::Ranked;
use shared_types::units::{Grams, Reading, WeightError, WeightUnit};

use crate::csv::{Cell, document};
use crate::words;

/// How far off a guess is, in words.
pub fn off_by(off: Grams, unit: WeightUnit) -> String {
    match off.0 {
        0 => "to the gram".to_owned(),
        over if over > 0 => format!("{} over", words::weight(off, unit)),
        _ => format!("{} under", words::weight(-off, unit)),
    }
}

/// What is wrong with each field of a new guess; both empty when it can be kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problems {
    /// About the name.
    pub name: Option<String>,
    /// About the weight.
    pub weight: Option<String>,
}

/// A guess as it was typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Guess {
    /// Who guesses.
    pub name: String,
    /// How much.
    pub grams: Grams,
}

/// Reads what was typed into the two fields.
pub fn read(name: &str, weight: &str, unit: WeightUnit) -> Result<Guess, Problems> {
    let name = name.trim();
    let reading = Reading::parse(weight, unit);
    match (name.is_empty(), reading) {
        (false, Ok(reading)) => Ok(Guess { name: name.to_owned(), grams: reading.grams() }),
        (nameless, reading) => Err(Problems {
            name: nameless.then(|| "Whose guess is it? Type a name.".to_owned()),
            weight: reading.err().map(|error| problem(&error)),
        }),
    }
}

/// The same rules as for a bin, said of a guess.
fn problem(error: &WeightError) -> String {
    match error {
        WeightError::Empty => "Type what you think it will all weigh.".to_owned(),
        WeightError::Zero => "0 is no guess: type what you think it will all weigh.".to_owned(),
        WeightError::Negative => "Leave off the minus.".to_owned(),
        other => format!("{other}."),
    }
}

/// The ranked guesses as comma-separated text.
pub fn csv(ranked: &[Ranked], unit: WeightUnit) -> String {
    let symbol = unit.symbol();
    let header = ["name".to_owned(), format!("guess {symbol}"), format!("off by {symbol}")];
    let rows: Vec<_> = ranked
        .iter()
        .map(|guess| {
            let weight = |grams| Cell::weight(grams, unit);
            vec![Cell::text(guess.name.clone()), weight(guess.grams), weight(guess.off)]
        })
        .collect();
    document(&header, &rows)
}

#[cfg(test)]
mod tests {
    use super::*;

    const KG: WeightUnit = WeightUnit::Kg;

    #[test]
    fn a_guess_is_read_or_says_what_is_missing() {
        let guess = read(" Ida ", "84,5", KG).expect("a guess");
        assert_eq!(guess, Guess { name: "Ida".to_owned(), grams: Grams(84_500) });
        let both = read(" ", "", KG).expect_err("nothing was typed");
        assert!(both.name.is_some() && both.weight.is_some());
        for wrong in ["0", "-3", "lots", "9999"] {
            let problems = read("Ida", wrong, KG).expect_err(wrong);
            assert_eq!(problems.name, None);
            let words = problems.weight.expect("about the weight");
            assert!(!words.contains("bin") && words.ends_with(['.', ')']), "{words}");
        }
    }

    #[test]
    fn off_is_over_or_under() {
        assert_eq!(off_by(Grams(2200), KG), "2.2 kg over");
        assert_eq!(off_by(Grams(-2200), KG), "2.2 kg under");
        assert_eq!(off_by(Grams(0), KG), "to the gram");
    }

    #[test]
    fn guesses_leave_as_numbers() {
        let ranked = [Ranked { name: "=Ida".into(), grams: Grams(84_000), off: Grams(-2200) }];
        let text = csv(&ranked, KG);
        let line = text.lines().nth(1).expect("a line below the names");
        assert!(line.starts_with("'=Ida,84") && line.contains(",-2.2"), "{line}");
    }
}
