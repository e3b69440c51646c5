//! What a round found, as it was typed: read, checked, and said back.

use shared_types::units::{Grams, Reading, WeightError, WeightUnit};

use crate::words;

/// A weighing of a pile may be off by so much before a person is asked to look again: the scale's
/// coarseness over several bins (assumption).
const SLACK: Grams = Grams(500);

/// What was typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Typed {
    /// Taken out ripe; empty for nothing.
    pub ripe: String,
    /// Thrown; empty for nothing.
    pub lost: String,
    /// Set apart; empty for nothing.
    pub soft: String,
    /// What stays; empty when nobody weighed it.
    pub left: String,
}

/// The same in grams.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Found {
    /// Taken out ripe.
    pub ripe: Option<Grams>,
    /// Thrown.
    pub lost: Option<Grams>,
    /// Set apart.
    pub soft: Option<Grams>,
    /// What stays, when it was weighed.
    pub left: Option<Grams>,
}

/// Reads what was typed against what the book has there.
pub fn read(typed: &Typed, there: Grams, unit: WeightUnit) -> Result<Found, String> {
    let part = |text: &str, what: &str| part(text, what, unit);
    let some = |grams: Option<Grams>| grams.filter(|grams| *grams > Grams::ZERO);
    let found = Found {
        ripe: some(part(&typed.ripe, "ripe")?),
        lost: some(part(&typed.lost, "thrown")?),
        soft: some(part(&typed.soft, "softening")?),
        left: part(&typed.left, "left")?,
    };
    let out: Grams = [found.ripe, found.lost, found.soft].into_iter().flatten().sum();
    let all = out + found.left.unwrap_or_default();
    if all > there + SLACK.max(Grams(there.0 / 20)) {
        return Err(format!(
            "That is {} {}, and this lot held {} {}. Look at the figures again; if they are right, \
             a bin is missing on Pick.",
            words::exact(all, unit),
            unit.symbol(),
            words::exact(there, unit),
            unit.symbol(),
        ));
    }
    Ok(found)
}

fn part(text: &str, what: &str, unit: WeightUnit) -> Result<Option<Grams>, String> {
    match Reading::parse(text, unit) {
        Ok(reading) => Ok(Some(reading.grams())),
        Err(WeightError::Empty) => Ok(None),
        Err(WeightError::Zero) => Ok(Some(Grams::ZERO)),
        Err(WeightError::Negative) => Err(format!("Leave off the minus of what is {what}.")),
        Err(other) => Err(format!("What is {what}: {other}.")),
    }
}

/// A round in a line: `2.3 kg ripe, 0.2 kg thrown`.
pub fn words_of(found: &Found, unit: WeightUnit) -> String {
    let parts = [
        (found.ripe, "ripe"),
        (found.lost, "thrown"),
        (found.soft, "softening"),
        (found.left, "left"),
    ];
    let said: Vec<String> = parts
        .into_iter()
        .filter_map(|(grams, what)| Some(format!("{} {what}", words::weight(grams?, unit))))
        .collect();
    if said.is_empty() { "all as it was".to_owned() } else { said.join(", ") }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KG: WeightUnit = WeightUnit::Kg;

    fn typed(ripe: &str, lost: &str, left: &str) -> Typed {
        Typed { ripe: ripe.into(), lost: lost.into(), left: left.into(), ..Typed::default() }
    }

    #[test]
    fn what_is_not_typed_is_nothing_and_unweighed_is_not_nothing() {
        let there = Grams(10_000);
        let found = read(&typed("2,3", "0.2", ""), there, KG).expect("reads");
        assert_eq!((found.ripe, found.left), (Some(Grams(2_300)), None));
        assert_eq!(words_of(&found, KG), "2.3 kg ripe, 0.2 kg thrown");
        let looked = read(&typed("", "", ""), there, KG).expect("a look is a round");
        assert_eq!(words_of(&looked, KG), "all as it was");
        let empty = read(&typed("9.8", "0", "0"), there, KG).expect("reads");
        assert_eq!((empty.lost, empty.left), (None, Some(Grams::ZERO)));
    }

    #[test]
    fn more_than_there_was_is_asked_about_unless_the_scale_can_have_done_it() {
        let there = Grams(10_000);
        assert!(read(&typed("3", "", "7.4"), there, KG).is_ok());
        for wrong in
            [typed("30", "", ""), typed("3", "", "8"), typed("-1", "", ""), typed("", "x", "")]
        {
            assert!(read(&wrong, there, KG).is_err(), "{wrong:?}");
        }
    }
}
