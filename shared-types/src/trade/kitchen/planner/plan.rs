//! The plan, as it stands in JSON.

use serde::{Deserialize, Serialize};

use super::problem::Part;
use crate::ids::MethodId;
use crate::trade::methods::{Jar, Kind};
use crate::units::{Day, Grams};

/// What to make on the coming days. See the module's page for its JSON.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// The days, today first.
    pub days: Vec<PlanDay>,
    /// Where each lot stands.
    pub rooms: Vec<Standing>,
    /// What is lost, by lot and day, with the limit to blame.
    pub waste: Vec<Waste>,
    /// What was ready on the last day and still keeps, by lot.
    pub standing: Vec<Part>,
    /// Unripe fruit nobody used, by lot.
    pub waiting: Vec<Part>,
    /// Limits that bind, with what a little more of each would save; the best first.
    pub limits: Vec<Binding>,
    /// Fruit that became food: jars, packs, dried, eaten fresh.
    pub kept_grams: Grams,
    /// Fruit for animals or for the soil.
    pub fed_grams: Grams,
    /// Fruit lost.
    pub waste_grams: Grams,
    /// The value of the plan: kilograms by their worth.
    pub objective: f64,
    /// No plan for this problem is worth more than this.
    pub bound: f64,
    /// How far the plan may be from the best, at most: (bound - objective) / |objective|; absent
    /// when the plan is worth nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gap: Option<f64>,
    /// Search nodes spent: the same on every device.
    pub nodes: u64,
    /// What kind of plan this is and how good, for a person.
    pub note: String,
}

/// One day of the plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PlanDay {
    /// The day.
    pub day: Day,
    /// What is made.
    pub batches: Vec<Batch>,
    /// Hands-on minutes, with what the next day's batches ask for this evening.
    pub hands_minutes: u32,
    /// Those of them that are for the next day's batches.
    pub evening_minutes: u32,
    /// Minutes of burners.
    pub burner_minutes: u32,
    /// Canner loads.
    pub canner_loads: u32,
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
    /// The day it is made.
    pub day: Day,
    /// The evening it is begun, when it must rest overnight.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub evening_before: Option<Day>,
    /// From which lots; the grams sum to `grams`.
    pub from: Vec<Part>,
    /// Fruit that goes in.
    pub grams: Grams,
    /// Jars, for a jar method.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jars: Option<Jars>,
    /// Hands-on minutes on the day.
    pub hands_minutes: u32,
    /// Hands-on minutes the evening before.
    pub evening_minutes: u32,
    /// It takes unripe fruit, used as it is; never together with ripe fruit of its lots.
    #[serde(default)]
    pub waiting: bool,
    /// A person pinned it.
    #[serde(default)]
    pub pinned: bool,
    /// It was already begun.
    #[serde(default)]
    pub begun: bool,
    /// Why, in a sentence.
    pub why: String,
}

/// Jars of a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Jars {
    /// The size.
    pub size: Jar,
    /// Full ones.
    pub full: u32,
    /// Fruit beyond the full ones: a last jar that is not full goes in the fridge.
    pub part_grams: Grams,
    /// Canner loads.
    pub loads: u32,
}

/// Where a lot stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Standing {
    /// The lot.
    pub lot: String,
    /// What a person calls it.
    pub label: String,
    /// The room.
    pub room: String,
    /// It stands elsewhere now.
    pub moves: bool,
}

/// What is lost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Waste {
    /// The lot.
    pub lot: String,
    /// What a person calls it.
    pub label: String,
    /// The day it is lost, at its end.
    pub day: Day,
    /// How much.
    pub grams: Grams,
    /// The limit to blame, in words.
    pub reason: String,
}

/// A kind of limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// Hands-on minutes of a day.
    Hands,
    /// Burners of a day.
    Burners,
    /// Canner loads of a day.
    Canner,
    /// The dryer on a day.
    Dryer,
    /// What the freezer takes in a day.
    Freezer,
    /// Room in the freezer.
    FreezerRoom,
    /// Jars in hand.
    Jars,
    /// Lids in hand.
    Lids,
    /// What a method takes in a day.
    MethodDay,
    /// No method takes it.
    NoMethod,
}

/// A limit that binds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Binding {
    /// The limit.
    pub limit: Limit,
    /// Its day, for a limit of one day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<Day>,
    /// What more of it would save, in words.
    pub text: String,
    /// More food kept, in grams, with that much more of it.
    pub saves_grams: Grams,
}
