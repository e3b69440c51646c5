//! Acid per jar.

use serde::{Deserialize, Serialize};

use super::Jar;
use super::canning::canning;
use super::process::{Refusal, RefusalKind};
use super::table::Method;
use crate::trade::provenance::Mark;
use crate::units::Measure;

/// One way to acidify a jar.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct AcidChoice {
    /// What.
    pub what: String,
    /// How many.
    pub amount: f64,
    /// Of which measure.
    pub unit: Measure,
    /// Id of the source.
    pub source: String,
    /// How sure; always seen.
    pub mark: Mark,
}

/// The acid a method needs in a jar.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Acid {
    /// Any one of these; empty when the recipe's own vinegar is the acid.
    pub choices: Vec<AcidChoice>,
    /// In words, for one jar.
    pub text: String,
}

/// The acid for one jar of a method: `Ok(None)` where none is asked for.
///
/// # Errors
/// [`RefusalKind::NoPublishedAcid`] where acid is needed and no amount was seen for that jar.
pub fn acid_for(method: &Method, jar: Jar) -> Result<Option<Acid>, Refusal> {
    if !method.acid {
        let recipe = method.ingredients.iter().any(|part| part.name.contains("vinegar"));
        return Ok(recipe.then(|| Acid {
            choices: Vec::new(),
            text: "The recipe's vinegar of 5 % is the acid: never less of it.".to_owned(),
        }));
    }
    let choices: Vec<AcidChoice> = canning()
        .acid_per_jar
        .iter()
        .filter(|row| row.jar == jar && row.mark.is_seen())
        .map(|row| AcidChoice {
            what: row.what.clone(),
            amount: row.amount,
            unit: row.unit,
            source: row.source.clone(),
            mark: row.mark,
        })
        .collect();
    if choices.is_empty() {
        return Err(Refusal::new(
            RefusalKind::NoPublishedAcid,
            format!(
                "No amount of acid is published for {} jars of {}: use pints or quarts.",
                jar.words(),
                method.name
            ),
        ));
    }
    let words: Vec<_> = choices.iter().map(AcidChoice::words).collect();
    let text = format!("In each {}: {}.", jar.words(), words.join(", or "));
    Ok(Some(Acid { choices, text }))
}

impl AcidChoice {
    fn words(&self) -> String {
        let plural = if self.amount > 1.0 { "s" } else { "" };
        let ml = self.amount * self.unit.millilitres();
        format!("{} {}{plural} ({ml:.1} mL) {}", fraction(self.amount), self.unit.word(), self.what)
    }
}

/// A spoon's count as a cook reads it.
fn fraction(amount: f64) -> String {
    match (amount * 4.0) as i64 {
        1 => "1/4".to_owned(),
        2 => "1/2".to_owned(),
        3 => "3/4".to_owned(),
        _ => format!("{amount}"),
    }
}
