//! The simple plan.

use serde::{Deserialize, Serialize};

use crate::ids::MethodId;
use crate::trade::methods::card::CardStep;
use crate::trade::methods::{Jar, Kind, ProcessTime};
use crate::trade::provenance::{Mark, Said};
use crate::units::{Day, Grams};

/// Days the plan covers.
pub const PLAN_DAYS: usize = 3;

/// What to make on the next days.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SimplePlan {
    /// Today and the two days after.
    pub days: Vec<PlanDay>,
    /// Lots that must not go in a jar, with why.
    pub not_for_jars: Vec<NotForJars>,
    /// What was ready and found no place, by lot.
    pub left_over: Vec<LeftOver>,
    /// What kind of plan this is, for the screen.
    pub note: String,
}

/// One day's work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PlanDay {
    /// The day.
    pub day: Day,
    /// In the order to do them.
    pub batches: Vec<Batch>,
    /// Hands-on minutes, with what the next day's batches ask for this evening.
    pub hands_on_minutes: u32,
    /// Canner loads.
    pub loads: u32,
}

/// One making of a method.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Batch {
    /// The method.
    pub method: MethodId,
    /// Its name.
    pub name: String,
    /// What it makes.
    pub kind: Kind,
    /// From which lots; the grams sum to `grams`.
    pub from: Vec<BatchFrom>,
    /// Fruit that goes in.
    pub grams: Grams,
    /// Jars, for a jar method.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jars: Option<JarCount>,
    /// Canner loads.
    pub loads: u32,
    /// Process time with its band, for a jar method.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub process: Option<ProcessTime>,
    /// Acid for one jar, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub acid: Option<String>,
    /// Headspace in words, inches and millimetres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub headspace: Option<String>,
    /// Minutes to boil empty jars, when they must be sterile.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sterile_jar_minutes: Option<u32>,
    /// The recipe beyond the fruit, scaled to this batch.
    pub ingredients: Vec<String>,
    /// The work in order, up to the last jar out; minutes from the begin of the day's work.
    pub steps: Vec<CardStep>,
    /// Hands-on minutes on the day.
    pub hands_on_minutes: u32,
    /// Hands-on minutes the evening before.
    pub evening_minutes: u32,
    /// Shown at the point of use.
    pub cautions: Vec<Said>,
    /// Id of the source of the time, or else of the steps.
    pub source: String,
    /// How sure that is.
    pub mark: Mark,
    /// What to do the evening before, when a rest is needed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub evening_before: Option<String>,
}

/// Part of a lot.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BatchFrom {
    /// What the caller calls the lot.
    pub lot: String,
    /// What a person calls it.
    pub label: String,
    /// How much of it.
    pub grams: Grams,
}

/// Jars to have ready. Published yields differ, so the count may come out between the two.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct JarCount {
    /// The size.
    pub jar: Jar,
    /// Planned.
    pub count: u32,
    /// By the published yield that asks for the most fruit.
    pub fewest: u32,
    /// By the one that asks for the least.
    pub most: u32,
}

/// A lot that must not go in a jar.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NotForJars {
    /// What the caller calls the lot.
    pub lot: String,
    /// What a person calls it.
    pub label: String,
    /// How much of it there is: ready within the plan, and waiting.
    pub grams: Grams,
    /// Why.
    pub reason: String,
    /// Id of the source.
    pub source: String,
}

/// What is ready and has no place in the plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct LeftOver {
    /// What the caller calls the lot.
    pub lot: String,
    /// What a person calls it.
    pub label: String,
    /// How much.
    pub grams: Grams,
    /// Which limit is to blame, and what would help.
    pub reason: String,
}
