//! How large a batch can be of what is in hand, and which ingredient limits it.

use serde::{Deserialize, Serialize};

use super::super::{Base, Measure, Method, Unit};
use super::amount::teaspoons;
use crate::units::Grams;

/// So much of an ingredient is in the house.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct InHand {
    /// As the recipe calls it.
    pub name: String,
    /// How many.
    pub amount: f64,
    /// Of what; a unit of the same sort as the recipe's.
    pub unit: Unit,
}

/// What keeps a batch from being larger.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Limit {
    /// The ingredient.
    pub what: String,
    /// In a sentence.
    pub words: String,
}

/// How many times the recipe a batch is.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Scale {
    /// 1 is the recipe as printed.
    pub(super) factor: f64,
    /// What limits it, where it is not the main crop alone.
    pub(super) limit: Option<Limit>,
    /// Remarks about what could not be counted.
    pub(super) notes: Vec<String>,
}

/// The largest batch of what is in hand: the main crop first, then whatever runs out before it.
pub(super) fn scale(method: &Method, base: &Base, grams: Grams, in_hand: &[InHand]) -> Scale {
    let by_crop = (grams.kg() / base.kg).max(0.0);
    let mut scale = Scale { factor: by_crop, limit: None, notes: Vec::new() };
    for have in in_hand {
        let printed = if have.name == base.name {
            Some((base.amount, base.unit))
        } else {
            let part = method.ingredients.iter().find(|part| part.name == have.name);
            part.map(|part| (part.amount, part.unit))
        };
        let Some((amount, unit)) = printed else {
            scale.notes.push(format!("`{}` is not in this recipe.", have.name));
            continue;
        };
        let Some(share) = share(have, amount, unit) else {
            let words = format!("{}: give it in the recipe's own sort of measure.", have.name);
            scale.notes.push(words);
            continue;
        };
        if share < scale.factor {
            scale.factor = share.max(0.0);
            scale.limit = Some(Limit { what: have.name.clone(), words: String::new() });
        }
    }
    if let Some(limit) = &mut scale.limit {
        let percent = libm::floor(100.0 * scale.factor / by_crop + 1e-9);
        limit.words = format!(
            "The {} limits this batch: it is enough for {percent} % of the {} in hand.",
            limit.what, base.name
        );
    }
    scale
}

/// How many times the printed amount is in hand; `None` when one is a weight and the other a
/// measure.
fn share(have: &InHand, amount: f64, unit: Unit) -> Option<f64> {
    let (have, printed) = match (have.unit, unit) {
        (Unit::Measure(a), Unit::Measure(b)) => (teaspoons(have.amount, a), teaspoons(amount, b)),
        (a, b) if a == b => (have.amount, amount),
        (Unit::Lb, Unit::Oz) => (have.amount * 16.0, amount),
        (Unit::Oz, Unit::Lb) => (have.amount / 16.0, amount),
        _ => return None,
    };
    Some(have / printed)
}

/// An amount in millilitres as it is in hand, such as a bottle of vinegar.
pub fn in_hand_ml(name: &str, ml: f64) -> InHand {
    let spoon = Measure::Teaspoon;
    InHand { name: name.to_owned(), amount: ml / spoon.millilitres(), unit: Unit::Measure(spoon) }
}
