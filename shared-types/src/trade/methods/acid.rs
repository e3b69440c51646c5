//! Acid per jar.

use serde::{Deserialize, Serialize};

use super::canning::canning;
use super::confirmed::{Confirmed, acid_key, find};
use super::fraction::fraction;
use super::refusal::{Refusal, RefusalKind};
use super::{Jar, Mark, Measure, Method, Role};

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
    /// How sure.
    pub mark: Mark,
    /// The owner's confirmation, where the amount was not seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub confirmed: Option<Confirmed>,
}

/// The acid a method needs in a jar.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Acid {
    /// Any one of these; empty when the recipe's own vinegar or juice is the acid.
    pub choices: Vec<AcidChoice>,
    /// In words, for one jar.
    pub text: String,
}

/// The acid for one jar of a method: `Ok(None)` where none is asked for.
///
/// # Errors
/// [`RefusalKind::NoPublishedAcid`] where acid is needed and no amount was seen for that jar.
pub fn acid_for(method: &Method, jar: Jar) -> Result<Option<Acid>, Refusal> {
    acid_for_confirmed(method, jar, &[])
}

/// As [`acid_for`], with the amounts that the owner has confirmed.
///
/// # Errors
/// As [`acid_for`].
pub fn acid_for_confirmed(
    method: &Method,
    jar: Jar,
    confirmed: &[Confirmed],
) -> Result<Option<Acid>, Refusal> {
    if !method.acid {
        return Ok(recipe_acid(method));
    }
    let choices: Vec<AcidChoice> = canning()
        .acid_per_jar
        .iter()
        .filter(|row| row.jar == jar)
        .filter_map(|row| {
            let by = find(confirmed, method, &acid_key(&row.what, row.jar));
            let by = by.filter(|_| !row.mark.is_seen());
            (row.mark.is_seen() || by.is_some()).then(|| AcidChoice {
                what: row.what.clone(),
                amount: row.amount,
                unit: row.unit,
                source: row.source.clone(),
                mark: row.mark,
                confirmed: by.cloned(),
            })
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
            &canning().acid_needed.source,
        ));
    }
    let words: Vec<_> = choices.iter().map(AcidChoice::words).collect();
    let text = format!("In each {}: {}.", jar.words(), words.join(", or "));
    Ok(Some(Acid { choices, text }))
}

/// The acid that is part of the recipe.
fn recipe_acid(method: &Method) -> Option<Acid> {
    let names: Vec<&str> = method
        .ingredients
        .iter()
        .filter(|part| part.role == Role::Acid)
        .map(|part| part.name.as_str())
        .collect();
    (!names.is_empty()).then(|| Acid {
        choices: Vec::new(),
        text: format!("The recipe's {} is the acid: never less of it.", names.join(" and ")),
    })
}

impl AcidChoice {
    /// `1 tablespoon (14.8 mL) bottled lemon juice`.
    pub fn words(&self) -> String {
        let plural = if self.amount > 1.0 { "s" } else { "" };
        let ml = self.amount * self.unit.millilitres();
        format!("{} {}{plural} ({ml:.1} mL) {}", fraction(self.amount), self.unit.word(), self.what)
    }
}
