//! The whole decision: which rules were tried, and why each held or did not.

use serde::{Deserialize, Serialize};

use super::met::{Met, fruit_words, vines_words};
use super::table::{Asked, Fitness, fitness, rules};

/// How an answer of fitness came about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Decision {
    /// The question.
    pub asked: Asked,
    /// How unknown vines and fruit were taken, in words; empty when nothing was unknown.
    pub taken: String,
    /// The rules in the order they were tried; the last is the one that decided.
    pub tried: Vec<Tried>,
    /// The answer.
    pub fitness: Fitness,
}

/// One rule as it was tried.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tried {
    /// Its key.
    pub rule: String,
    /// Did it decide?
    pub decides: bool,
    /// Its conditions; a rule decides when all of them hold.
    pub conditions: Vec<Condition>,
}

/// One condition of a rule.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Condition {
    /// What it looks at, such as `vines at picking`.
    pub what: String,
    /// Any of these would do.
    pub wanted: Vec<String>,
    /// What was found.
    pub found: String,
    /// Does it hold?
    pub holds: bool,
}

impl Tried {
    /// In a sentence: `dead-vines: no, vines at picking is alive, not dead`.
    pub fn words(&self) -> String {
        match self.conditions.iter().find(|condition| !condition.holds) {
            Some(c) => {
                let wanted = c.wanted.join(" or ");
                format!("{}: no, {} is {}, not {wanted}", self.rule, c.what, c.found)
            }
            None => {
                let held: Vec<_> =
                    self.conditions.iter().map(|c| format!("{} is {}", c.what, c.found)).collect();
                let held =
                    if held.is_empty() { "nothing else did".into() } else { held.join(", ") };
                format!("{}: yes, {held}", self.rule)
            }
        }
    }
}

/// The answer of [`fitness`], with every rule that was tried on the way to it.
pub fn decide(asked: &Asked) -> Decision {
    let met = Met::of(asked);
    let mut tried = Vec::new();
    for rule in rules() {
        let decides = met.matches(rule);
        let conditions = met.conditions(rule);
        tried.push(Tried { rule: rule.id.clone(), decides, conditions });
        if decides {
            break;
        }
    }
    let mut taken = Vec::new();
    if met.vines != asked.vines {
        taken.push(format!("the vines are taken as {}", vines_words(&met.vines)));
    }
    if met.fruit != asked.fruit {
        taken.push(format!("the fruit is taken as {}", fruit_words(&met.fruit)));
    }
    let taken = if taken.is_empty() {
        String::new()
    } else {
        format!("No killing cold has been seen at its place: {}.", taken.join(" and "))
    };
    Decision { asked: asked.clone(), taken, tried, fitness: fitness(asked) }
}
