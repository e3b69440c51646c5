//! A method told to a program or at a terminal: its safe values for one jar at one height, or the
//! refusal. The command line and the server give the same.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::card::{CardPart, System, parts};
use super::confirmed::{RowToConfirm, rows_to_confirm};
use super::conflict::{Conflict, conflicts_of};
use super::{
    Ask, Canner, Confirmed, DryRatio, Jar, KgPerJar, Kind, LoadMinutes, Method, MethodId, Offer,
    Refusal, Said, Sourced, after_every_jar, all, kg_per_jar, load_jars, load_minutes, offer,
};
use crate::trade::provenance::cite;
use crate::units::Altitude;

/// What is told of a method. Every source it names is cited in `sources`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Told {
    /// Its key.
    pub method: MethodId,
    /// Its name.
    pub name: String,
    /// What it makes.
    pub kind: Kind,
    /// The jar that was asked about; none for what is no jar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jar: Option<Jar>,
    /// Height above the sea, metres.
    pub altitude_m: f64,
    /// The same in feet.
    pub altitude_ft: f64,
    /// The canner that was asked about; none for what is no jar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub canner: Option<Canner>,
    /// What makes the jar safe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offer: Option<Offer>,
    /// Why there is nothing to offer. Exactly one of `offer` and `refusal` for a jar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refusal: Option<Refusal>,
    /// Jars and canners that are offered at this height, when this one is not.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub instead: Vec<Instead>,
    /// Jars that go into a canner at once.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jars_per_load: Option<u32>,
    /// What one load takes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load_minutes: Option<LoadMinutes>,
    /// Kilograms of fruit for one jar, as a range.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kg_per_jar: Option<KgPerJar>,
    /// Headspace, inches, of a pack that is no jar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub headspace_inches: Option<Sourced<f64>>,
    /// Fresh per dried weight.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_ratio: Option<DryRatio>,
    /// Hours it stands, at the least.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rest_hours: Option<Sourced<f64>>,
    /// The recipe as printed, the main crop first.
    pub recipe: Vec<CardPart>,
    /// The work, in order.
    pub steps: Vec<String>,
    /// What may be changed.
    pub may_change: Vec<Said>,
    /// What to mind.
    pub cautions: Vec<Said>,
    /// Where published guidance contradicts itself about it.
    pub conflicts: Vec<Conflict>,
    /// Rows that are only remembered, for somebody with a printed guide.
    pub to_confirm: Vec<RowToConfirm>,
    /// Citations by id.
    pub sources: BTreeMap<String, String>,
}

/// A jar and canner that are offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Instead {
    /// The jar.
    pub jar: Jar,
    /// The canner.
    pub canner: Canner,
}

/// Why a question about a method cannot be answered, with what to do.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum NameError {
    /// Nothing is called so.
    #[error("no method is called `{name}`; there are: {all}")]
    Unknown {
        /// What was typed.
        name: String,
        /// All there are.
        all: String,
    },
    /// Several fit.
    #[error("`{name}` may be {all}: say which")]
    Several {
        /// What was typed.
        name: String,
        /// Those that fit.
        all: String,
    },
}

/// The method somebody means: its key, its name, or a part of one that fits no other. Capitals,
/// spaces and dashes do not matter.
///
/// # Errors
/// [`NameError`] with the names that there are.
pub fn named(name: &str) -> Result<&'static Method, NameError> {
    let plain = |text: &str| {
        let words = text.to_lowercase();
        words
            .split(|c: char| !c.is_alphanumeric())
            .filter(|w| !w.is_empty())
            .collect::<Vec<_>>()
            .join("-")
    };
    let wanted = plain(name);
    let whole = |m: &&Method| m.id.as_str() == wanted || plain(&m.name) == wanted;
    if let Some(found) = all().iter().find(whole) {
        return Ok(found);
    }
    let part = |m: &&Method| m.id.as_str().contains(&wanted) || plain(&m.name).contains(&wanted);
    let found: Vec<_> = all().iter().filter(|m| !wanted.is_empty() && part(m)).collect();
    let list = |all: &mut dyn Iterator<Item = &Method>| {
        all.map(|method| method.id.to_string()).collect::<Vec<_>>().join(", ")
    };
    match found[..] {
        [one] => Ok(one),
        [] => Err(NameError::Unknown { name: name.to_owned(), all: list(&mut all().iter()) }),
        _ => Err(NameError::Several { name: name.to_owned(), all: list(&mut found.into_iter()) }),
    }
}

/// Tells a method for a jar in a canner at a height. Without a jar, the first that is offered of
/// quart, pint and half-pint is told; without a canner, boiling water, or a dial gauge for what is
/// low in acid.
pub fn told(
    method: &Method,
    jar: Option<Jar>,
    canner: Option<Canner>,
    altitude: Altitude,
    confirmed: &[Confirmed],
) -> Told {
    let is_jar = method.kind == Kind::Jar;
    let low_acid = method.process.is_empty();
    let canner = canner.unwrap_or(if low_acid { Canner::Dial } else { Canner::BoilingWater });
    let ask = |jar, canner| offer(method, Ask { jar, altitude, canner, confirmed });
    let usual = [Jar::Quart, Jar::Pint, Jar::HalfPint];
    let first = || usual.into_iter().find(|jar| ask(*jar, canner).is_ok());
    let jar = jar.or_else(first).unwrap_or_default();
    let answer = is_jar.then(|| ask(jar, canner));
    let (offer, refusal) = match answer {
        Some(Ok(offer)) => (Some(offer), None),
        Some(Err(refusal)) => (None, Some(refusal)),
        None => (None, None),
    };
    let others =
        Jar::ALL.into_iter().flat_map(|jar| Canner::ALL.map(|canner| Instead { jar, canner }));
    let instead = others.filter(|_| refusal.is_some());
    let mut cautions = method.cautions.clone();
    if is_jar {
        cautions.extend(after_every_jar().iter().cloned());
    }
    let mut told = Told {
        method: method.id.clone(),
        name: method.name.clone(),
        kind: method.kind,
        jar: is_jar.then_some(jar),
        altitude_m: altitude.metres(),
        altitude_ft: altitude.feet(),
        canner: is_jar.then_some(canner),
        instead: instead.filter(|one| ask(one.jar, one.canner).is_ok()).collect(),
        jars_per_load: offer.as_ref().map(|_| load_jars(jar)),
        load_minutes: offer.as_ref().map(|offer| load_minutes(canner, offer.minutes)),
        kg_per_jar: kg_per_jar(method, jar),
        headspace_inches: method.headspace_inches.clone().filter(|_| !is_jar),
        dry_ratio: method.dry_ratio.clone(),
        rest_hours: method.rest_hours.clone(),
        recipe: parts(method, 1.0, System::Cups),
        steps: method.steps.iter().map(|step| step.text.clone()).collect(),
        may_change: method.may_change.clone(),
        cautions,
        conflicts: conflicts_of(&method.id).cloned().collect(),
        to_confirm: rows_to_confirm(method),
        sources: BTreeMap::new(),
        offer,
        refusal,
    };
    told.sources = cited(&told, method);
    told
}

/// Every source that is named in what is told.
fn cited(told: &Told, method: &Method) -> BTreeMap<String, String> {
    let mut ids = vec![&method.steps_from.source];
    if let Some(offer) = &told.offer {
        ids.extend([&offer.source, &offer.headspace_inches.source]);
        ids.extend(offer.acid.iter().flat_map(|acid| &acid.choices).map(|choice| &choice.source));
        ids.extend(offer.alternatives.iter().map(|other| &other.source));
        ids.extend(offer.cautions.iter().map(|said| &said.source));
    }
    ids.extend(told.refusal.iter().map(|refusal| &refusal.source));
    ids.extend(told.headspace_inches.iter().map(|inches| &inches.source));
    ids.extend(told.rest_hours.iter().map(|hours| &hours.source));
    ids.extend(told.dry_ratio.iter().map(|ratio| &ratio.source));
    ids.extend(told.recipe.iter().map(|part| &part.source));
    ids.extend(told.may_change.iter().chain(&told.cautions).map(|said| &said.source));
    ids.extend(told.conflicts.iter().flat_map(|one| &one.claims).map(|claim| &claim.source));
    ids.extend(told.to_confirm.iter().map(|row| &row.source));
    ids.into_iter().map(|id| (id.clone(), cite(id))).collect()
}
