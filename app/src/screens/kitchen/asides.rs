//! Lots told together: those a person calls alike, and those that share a fate.

use shared_types::units::{Grams, WeightUnit};

use crate::words;

/// Lots that share a fate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Aside {
    /// `11.3 kg Paste, bed 5`, joined.
    pub what: String,
    /// Why.
    pub reason: String,
    /// Where that was read; empty when it follows from the plan.
    pub source: String,
}

/// Why, and where that was read.
pub type Why<'a> = (&'a str, String);

/// Lots of one reason in one remark, those of one name added up.
pub fn asides<'a>(
    lots: impl Iterator<Item = (Why<'a>, (&'a str, Grams))>,
    unit: WeightUnit,
) -> Vec<Aside> {
    let mut all: Vec<(Why<'_>, Vec<_>)> = Vec::new();
    for (why, lot) in lots {
        match all.iter_mut().find(|(other, _)| *other == why) {
            Some((_, lots)) => lots.push(lot),
            None => all.push((why, vec![lot])),
        }
    }
    all.into_iter()
        .map(|((reason, source), lots)| Aside {
            what: by_label(lots.into_iter(), unit).join("; "),
            reason: reason.to_owned(),
            source,
        })
        .collect()
}

/// Less than this reads as 0.0: a crumb that is not worth a name beside others.
const CRUMB: Grams = Grams(50);

/// Weights of lots, those a person calls alike added up: `11.3 kg Paste, bed 5`.
pub fn by_label<'a>(lots: impl Iterator<Item = (&'a str, Grams)>, unit: WeightUnit) -> Vec<String> {
    let mut all: Vec<(&str, Grams)> = Vec::new();
    for (label, grams) in lots {
        match all.iter_mut().find(|(other, _)| *other == label) {
            Some((_, sum)) => *sum += grams,
            None => all.push((label, grams)),
        }
    }
    if all.iter().any(|(_, sum)| *sum >= CRUMB) {
        all.retain(|(_, sum)| *sum >= CRUMB);
    }
    all.into_iter().map(|(label, sum)| format!("{} {label}", words::weight(sum, unit))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const KG: WeightUnit = WeightUnit::Kg;

    #[test]
    fn lots_called_alike_are_one() {
        let lots =
            [("Paste, bed 5", Grams(1_300)), ("Salad", Grams(500)), ("Paste, bed 5", Grams(700))];
        assert_eq!(by_label(lots.into_iter(), KG), ["2.0 kg Paste, bed 5", "0.5 kg Salad"]);
        let crumbs = [("Paste, bed 5", Grams(1_300)), ("Salad", Grams(20))];
        assert_eq!(by_label(crumbs.into_iter(), KG), ["1.3 kg Paste, bed 5"]);
        assert_eq!(by_label(crumbs[1..].iter().copied(), KG), ["0.0 kg Salad"]);
    }
}
