//! The recipe card's arithmetic: amounts for what is in hand, and steps with clock times.
//!
//! # Design
//! A card is a method at a height, in a jar, for so much fruit. Everything scales alike, so the
//! ratio of vegetables to acid stays what was tested, and [`measured`] rounds only to the safe side.
//! Acid per jar and headspace never scale. Times are laid out from a start, or back from when it
//! must be done; minutes before the day's midnight are the day before.
//!
//! # Not yet true
//! Steps follow one another; jars that boil while the pot does are not yet counted as one. A clock
//! that is moved in the night of a rest moves the rest with it: minutes are minutes of the clock.

mod amount;
mod scale;
mod steps;
#[cfg(test)]
mod tests;

use serde::{Deserialize, Serialize};

use super::{
    Ask, Canner, Confirmed, Jar, Kind, LoadMinutes, Mark, Method, MethodId, Offer, Refusal, Role,
    Said, Unit, kg_per_jar, load_jars, load_minutes, loads, offer,
};
use crate::units::{Altitude, Grams};

pub use amount::{Measured, System, measured};
pub use scale::{InHand, Limit, in_hand_ml};
pub use steps::{CardStep, StepKind, When, work_steps};

/// What a card is asked for.
#[derive(Clone, Copy, Debug)]
pub struct CardAsk<'a> {
    /// Fruit of the main crop in hand.
    pub grams: Grams,
    /// Other ingredients in hand, as far as anybody has counted them.
    pub in_hand: &'a [InHand],
    /// The jar; the first that is offered of quart, pint and half-pint when left out.
    pub jar: Option<Jar>,
    /// Height above the sea.
    pub altitude: Altitude,
    /// What jars are processed in.
    pub canner: Canner,
    /// Jars that go into the canner at once; 7 quarts or 9 pints when left out.
    pub jars_per_load: Option<u32>,
    /// Rows the owner has confirmed.
    pub confirmed: &'a [Confirmed],
    /// In what amounts are written.
    pub system: System,
    /// When it is made.
    pub when: When,
}

/// A method written out for a batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Card {
    /// The method.
    pub method: MethodId,
    /// Its name.
    pub name: String,
    /// What it makes.
    pub kind: Kind,
    /// Fruit of the main crop that goes in.
    pub grams: Grams,
    /// What makes the jars safe; none for what is no jar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offer: Option<Offer>,
    /// Jars and loads; none for what is no jar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jars: Option<CardJars>,
    /// The recipe for this batch, the main crop first; empty where there is none beyond it.
    pub parts: Vec<CardPart>,
    /// What keeps the batch from being larger, where it is not the main crop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<Limit>,
    /// The work, in order, with clock times.
    pub steps: Vec<CardStep>,
    /// When the first step begins: minutes after the midnight of the batch's day.
    pub begins: i32,
    /// When the last jar is out, or the last step done.
    pub done: i32,
    /// Hands-on minutes in all: common practice, set your own.
    pub hands_on_minutes: u32,
    /// What to know: a step at night, an amount that could not be counted.
    pub notes: Vec<String>,
    /// What may be changed.
    pub may_change: Vec<Said>,
    /// What to mind all along.
    pub cautions: Vec<Said>,
    /// Where the wording of the steps comes from.
    pub steps_source: String,
    /// How sure that is.
    pub steps_mark: Mark,
}

/// The jars of a card.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct CardJars {
    /// The size.
    pub jar: Jar,
    /// To have ready.
    pub count: u32,
    /// By the published yield that asks for the most fruit.
    pub fewest: u32,
    /// By the one that asks for the least.
    pub most: u32,
    /// Canner loads.
    pub loads: u32,
    /// Jars that go in at once.
    pub jars_per_load: u32,
    /// What one load takes.
    pub load: LoadMinutes,
}

/// One ingredient of a card.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CardPart {
    /// What.
    pub name: String,
    /// What it does in the jar.
    pub role: Role,
    /// How much, as it is measured out.
    pub text: String,
    /// The same, in `unit`.
    pub amount: f64,
    /// The recipe's amount times the scale, before rounding, in `unit`.
    pub exact: f64,
    /// The recipe's unit.
    pub unit: Unit,
    /// What to know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// Jars tried when nobody names one, largest first.
const USUAL_JARS: [Jar; 3] = [Jar::Quart, Jar::Pint, Jar::HalfPint];

/// Writes a method out as a card.
///
/// # Errors
/// A [`Refusal`] where the jar is not offered: see [`offer`].
pub fn card(method: &Method, ask: &CardAsk<'_>) -> Result<Card, Refusal> {
    let offer = if method.kind == Kind::Jar { Some(offered(method, ask)?) } else { None };
    let scaled =
        method.base.as_ref().map(|base| scale::scale(method, base, ask.grams, ask.in_hand));
    let kg = match (&scaled, &method.base) {
        (Some(scaled), Some(base)) => scaled.factor * base.kg,
        _ => ask.grams.kg().max(0.0),
    };
    let jars = offer.as_ref().map(|offer| jars(method, offer, kg, ask.jars_per_load));
    let jarred = offer.as_ref().zip(jars).map(|(offer, jars)| (offer, jars.load, jars.loads));
    let steps::Timed { steps, done } = steps::timed(method, kg, jarred, ask.when);
    let factor = scaled.as_ref().map_or(0.0, |scaled| scaled.factor);
    let mut notes = scaled.as_ref().map_or_else(Vec::new, |scaled| scaled.notes.clone());
    if let Some(step) = steps.iter().find(|step| step.at_night()) {
        let minute = step.begins.rem_euclid(24 * 60);
        notes.push(format!(
            "A step would begin at {}:{:02} in the night: choose another time.",
            minute / 60,
            minute % 60
        ));
    }
    Ok(Card {
        method: method.id.clone(),
        name: method.name.clone(),
        kind: method.kind,
        grams: Grams(libm::floor(kg * 1000.0 + 1e-6) as i64),
        offer,
        jars,
        parts: parts(method, factor, ask.system),
        limit: scaled.and_then(|scaled| scaled.limit),
        begins: steps.first().map_or(done, |step| step.begins),
        done,
        hands_on_minutes: steps.iter().map(|step| step.hands_on_minutes).sum(),
        steps,
        notes,
        may_change: method.may_change.clone(),
        cautions: method.cautions.clone(),
        steps_source: method.steps_from.source.clone(),
        steps_mark: method.steps_from.mark,
    })
}

fn offered(method: &Method, ask: &CardAsk<'_>) -> Result<Offer, Refusal> {
    let of = |jar| {
        let CardAsk { altitude, canner, confirmed, .. } = *ask;
        offer(method, Ask { jar, altitude, canner, confirmed })
    };
    if let Some(jar) = ask.jar {
        return of(jar);
    }
    let [first, others @ ..] = USUAL_JARS;
    others.into_iter().fold(of(first), |found, jar| {
        found.or_else(|refusal| {
            // The first refusal stands when no other jar is offered either.
            of(jar).map_err(|_| refusal)
        })
    })
}

fn jars(method: &Method, offer: &Offer, kg: f64, jars_per_load: Option<u32>) -> CardJars {
    let jar = offer.jar;
    let per_jar = kg_per_jar(method, jar);
    let of = |per: f64| libm::floor(kg / per + 0.01) as u32;
    let (count, fewest, most) =
        per_jar.map_or((0, 0, 0), |per| (of(per.plan), of(per.most), of(per.least)));
    let jars_per_load = jars_per_load.unwrap_or_else(|| load_jars(jar)).max(1);
    CardJars {
        jar,
        count,
        fewest: fewest.min(count),
        most: most.max(count),
        loads: loads(count, jars_per_load),
        jars_per_load,
        load: load_minutes(offer.canner, offer.minutes),
    }
}

/// The recipe times `factor`, the main crop first.
pub fn parts(method: &Method, factor: f64, system: System) -> Vec<CardPart> {
    let Some(base) = &method.base else { return Vec::new() };
    let part = |amount: f64, unit: Unit, role: Role| {
        let exact = amount * factor;
        (exact, measured(exact, unit, role, system))
    };
    let (exact, told) = part(base.amount, base.unit, Role::Vegetable);
    let main = CardPart {
        name: base.name.clone(),
        role: Role::Vegetable,
        text: told.text,
        amount: told.amount,
        exact,
        unit: base.unit,
        note: base.note.clone(),
        source: base.source.clone(),
        mark: base.mark,
    };
    let others = method.ingredients.iter().map(|one| {
        let (exact, told) = part(one.amount, one.unit, one.role);
        CardPart {
            name: one.name.clone(),
            role: one.role,
            text: told.text,
            amount: told.amount,
            exact,
            unit: one.unit,
            note: one.note.clone(),
            source: one.source.clone(),
            mark: one.mark,
        }
    });
    std::iter::once(main).chain(others).collect()
}
