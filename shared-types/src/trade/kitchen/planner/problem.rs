//! What is to be planned, as it stands in JSON. The module's page tells it field by field.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::fault::PlanError;
use crate::ids::{ClassId, CropId, MethodId};
use crate::trade::fitness::Uses;
use crate::trade::methods::{Jar, Kind, Takes};
use crate::units::{Day, Grams};

/// Days planned when nobody says.
pub const DEFAULT_DAYS: usize = 14;

/// A household's kitchen for the coming days. See the module's page for its JSON.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Problem {
    /// The plan's first day.
    pub today: Day,
    /// How many days, today included.
    #[serde(default = "default_days")]
    pub days: usize,
    /// What there is and when it is ready.
    pub lots: Vec<Lot>,
    /// What may be made.
    pub methods: Vec<Way>,
    /// Rooms that hold only so much; a room that is not listed holds anything.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rooms: Vec<Room>,
    /// What a usual day allows.
    #[serde(default)]
    pub a_day: DayLimits,
    /// What is different on some days.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub by_day: BTreeMap<Day, DayLimits>,
    /// What there is in all.
    #[serde(default)]
    pub stock: Stock,
    /// Batches that must be made.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pins: Vec<Pin>,
    /// What must not be made.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub drops: Vec<Drop>,
    /// Batches already begun: their fruit has left its lot, their work is still to come.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub begun: Vec<Begun>,
    /// What a kilogram is worth.
    #[serde(default)]
    pub worth: Worth,
}

fn default_days() -> usize {
    DEFAULT_DAYS
}

/// A lot for the planner.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lot {
    /// What the caller calls it.
    pub id: String,
    /// What a person calls it; the id when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// Its crop.
    pub crop: CropId,
    /// Its class as sorted: what its waiting fruit is.
    pub class: ClassId,
    /// What its ready fruit is; when left out, `ripe` for a class that ripens, else `class`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ready_class: Option<ClassId>,
    /// What it may be used for.
    pub uses: Uses,
    /// Its rule of fitness. Lots of different fitness never share a batch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fitness: Option<String>,
    /// The rooms it may stand in, at least one. It stands in one of them all the time.
    pub rooms: Vec<LotRoom>,
    /// The room it stands in now. Moving it costs [`Worth::moving_kg`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standing: Option<String>,
    /// Unripe fruit that may be used as it is, and that no room's `ready_grams` counts on.
    #[serde(default)]
    pub waiting_grams: Grams,
    /// Days the waiting fruit keeps; when left out, to the end of the plan and beyond.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub waiting_keeps_days: Option<u32>,
}

impl Lot {
    /// What a person calls it.
    pub fn name(&self) -> &str {
        self.label.as_deref().unwrap_or(&self.id)
    }

    /// All of it that the plan could use, at most: in the room where most turns ready.
    pub fn most_grams(&self) -> Grams {
        let ready = |room: &LotRoom| room.ready_grams.iter().copied().sum::<Grams>();
        self.rooms.iter().map(ready).max().unwrap_or_default() + self.waiting_grams
    }
}

/// A lot in one of the rooms it may stand in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LotRoom {
    /// The room.
    pub room: String,
    /// Grams that turn ready on each day from today on (50 %); the first, all that is ready today.
    #[serde(default)]
    pub ready_grams: Vec<Grams>,
    /// Days after the one it turned ready on which it can still be used; then it is lost.
    pub keeps_days: u32,
}

/// A room that holds only so much.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Room {
    /// What the lots call it.
    pub id: String,
    /// What a person calls it; the id when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// How much it holds, counting each lot with all its fruit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holds_grams: Option<Grams>,
}

/// Work that costs so much for a batch and so much for a kilogram.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Minutes {
    /// However much it is.
    #[serde(default)]
    pub a_batch: f64,
    /// For each kilogram of fruit.
    #[serde(default)]
    pub a_kg: f64,
    /// For each canner load.
    #[serde(default)]
    pub a_load: f64,
}

/// A method as the planner sees it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Way {
    /// Its key.
    pub id: MethodId,
    /// What a person calls it; the key when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// What it makes, and so what its fruit must be fit for.
    pub kind: Kind,
    /// What it takes.
    #[serde(default)]
    pub takes: Vec<Takes>,
    /// Takes any crop and class.
    #[serde(default)]
    pub any: bool,
    /// Least fruit for one batch.
    #[serde(default)]
    pub least_grams: Grams,
    /// Most fruit for one batch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most_grams: Option<Grams>,
    /// Most fruit on one day, all batches of it together.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most_a_day_grams: Option<Grams>,
    /// Hands on, on the day.
    #[serde(default)]
    pub hands: Minutes,
    /// Hands on, the evening before, for a method that must rest overnight. The fruit is taken
    /// that evening.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub evening: Option<Minutes>,
    /// Burners on, on the day: minutes of one burner.
    #[serde(default)]
    pub burners: Minutes,
    /// Its jar, for a method that fills jars.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jar: Option<JarUse>,
    /// What a kilogram of it is worth to the household.
    #[serde(default = "one")]
    pub weight: f64,
    /// How much fruit of it the household wants over all the days.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_grams: Option<Grams>,
    /// What a kilogram beyond the wanted ones is worth; a fifth of `weight` when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weight_beyond: Option<f64>,
}

fn one() -> f64 {
    1.0
}

impl Way {
    /// What a person calls it.
    pub fn name(&self) -> &str {
        self.name.as_deref().unwrap_or(self.id.as_str())
    }

    /// What a kilogram beyond the wanted ones is worth; the same as any other where nobody said
    /// how much is wanted.
    pub fn beyond(&self) -> f64 {
        match self.wanted_grams {
            Some(_) => self.weight_beyond.unwrap_or(self.weight / 5.0),
            None => self.weight,
        }
    }

    /// Does it take this crop and class?
    pub fn takes(&self, crop: &CropId, class: &ClassId) -> bool {
        self.any
            || self.takes.iter().any(|takes| takes.crop == *crop && takes.classes.contains(class))
    }

    /// Must it be begun the evening before?
    pub fn overnight(&self) -> bool {
        self.evening.is_some()
    }
}

/// A jar of a method.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JarUse {
    /// The size.
    pub size: Jar,
    /// Fruit for one jar.
    pub grams: f64,
    /// Jars in one canner load.
    pub a_load: u32,
}

impl JarUse {
    /// Fruit for a full load.
    pub fn load_grams(&self) -> f64 {
        self.grams * f64::from(self.a_load)
    }
}

/// What one day allows. What is left out is as on a usual day; and on the usual day 180 minutes of
/// hands, two canner loads, no dryer, and no limit on burners or on what the freezer takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayLimits {
    /// Hands-on minutes, all hands together.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hands_minutes: Option<f64>,
    /// Minutes of burners: burners times the minutes the stove is on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub burner_minutes: Option<f64>,
    /// Canner loads.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub canner_loads: Option<u32>,
    /// What the dryer takes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dryer_grams: Option<Grams>,
    /// What the freezer can freeze in 24 h.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub freezer_grams: Option<Grams>,
}

/// What there is in all, for all the days. What is left out has no limit.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// Room in the freezer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub freezer_grams: Option<Grams>,
    /// Jars in hand by size; a size that is not listed has no limit.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub jars: BTreeMap<Jar, u32>,
    /// Lids in hand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lids: Option<u32>,
}

/// A batch that must be made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pin {
    /// The method.
    pub method: MethodId,
    /// The day it is made; a rest begins the evening before.
    pub day: Day,
    /// The fruit that goes in; left to the plan when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grams: Option<Grams>,
    /// From these lots and no others; from any that may share a batch when empty.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lots: Vec<String>,
}

/// What must not be made: everything that agrees with all that is said here.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Drop {
    /// Batches of this method.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<MethodId>,
    /// Batches of this day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<Day>,
    /// Fruit of this lot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lot: Option<String>,
}

/// A batch already begun, such as a relish that stands in its salt.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Begun {
    /// The method.
    pub method: MethodId,
    /// The day it is finished.
    pub day: Day,
    /// The fruit in it, by lot as the caller calls them. It is no longer in `ready_grams`.
    pub from: Vec<Part>,
}

impl Begun {
    /// The fruit in it.
    pub fn grams(&self) -> Grams {
        self.from.iter().map(|part| part.grams).sum()
    }
}

/// Part of a lot.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// The lot.
    pub lot: String,
    /// How much of it.
    pub grams: Grams,
}

/// What a kilogram is worth beside the methods' weights.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Worth {
    /// What a kilogram lost takes away.
    pub waste: f64,
    /// What each day of waiting takes away from a kilogram, so that early use is preferred among
    /// equals.
    pub waiting_a_day: f64,
    /// What moving one lot to another room takes away, in kilograms.
    pub moving_kg: f64,
}

impl Default for Worth {
    fn default() -> Self {
        Self { waste: 0.25, waiting_a_day: 0.001, moving_kg: 0.05 }
    }
}

impl Problem {
    /// Reads a problem.
    ///
    /// # Errors
    /// [`PlanError::NotAProblem`] with the line and what was expected.
    pub fn parse(text: &str) -> Result<Self, PlanError> {
        serde_json::from_str(text).map_err(|error| PlanError::NotAProblem(error.to_string()))
    }

    /// The day so many days after the first.
    pub fn day(&self, index: usize) -> Day {
        self.today.plus(i32::try_from(index).unwrap_or(i32::MAX))
    }

    /// Which day of the plan a day is.
    pub fn index(&self, day: Day) -> Option<usize> {
        usize::try_from(day.since(self.today)).ok().filter(|index| *index < self.days)
    }
}
