//! A method as its file under `data/methods` writes it. The build script reads this file too, so
//! that a file that does not fit is refused when the program is built.

use serde::{Deserialize, Serialize};

use super::{
    Base, ClassId, CropId, Ingredient, Mark, MethodId, PressureRow, ProcessRow, Said, Sourced,
    YieldRow,
};

/// What a method makes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// A shelf-stable jar.
    Jar,
    /// A pack for the freezer.
    Freeze,
    /// Dried.
    Dry,
    /// Eaten now.
    Fresh,
    /// For animals.
    Feed,
    /// For the soil.
    Compost,
}

/// Crop and classes a method takes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Takes {
    /// The crop.
    pub crop: CropId,
    /// Its classes.
    pub classes: Vec<ClassId>,
}

/// Where something was read.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct From {
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// A step of the work. Minutes are common practice, to be set by whoever does it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MethodStep {
    /// What to do.
    pub text: String,
    /// Hands-on minutes however much it is.
    #[serde(default)]
    pub setup_minutes: f64,
    /// Hands-on minutes for each kilogram.
    #[serde(default)]
    pub minutes_per_kg: f64,
    /// Minutes it goes on while somebody stays near and stirs or looks now and then.
    #[serde(default)]
    pub attended_minutes: f64,
    /// Minutes it goes on by itself.
    #[serde(default)]
    pub unattended_minutes: f64,
    /// Afterwards it stands for the method's `rest_hours`.
    #[serde(default)]
    pub rests: bool,
    /// Done the evening before, because the rest that follows is overnight.
    #[serde(default)]
    pub evening_before: bool,
    /// What to mind at this step.
    #[serde(default)]
    pub cautions: Vec<Said>,
}

/// Fresh weight per dried weight.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DryRatio {
    /// Least.
    pub least: f64,
    /// Most.
    pub most: f64,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What to know.
    pub note: String,
}

/// One method.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Method {
    /// Its key.
    pub id: MethodId,
    /// Its name.
    pub name: String,
    /// What it makes.
    pub kind: Kind,
    /// Among equals, the lower is offered first; this program's order.
    pub rank: u32,
    /// What it takes.
    pub takes: Vec<Takes>,
    /// Takes any crop and class.
    #[serde(default)]
    pub any: bool,
    /// Why it is only planned when the household has said that it wants it: it needs what the book
    /// does not know, such as whether a pepper is hot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by_name: Option<String>,
    /// Acid goes into every jar.
    #[serde(default)]
    pub acid: bool,
    /// Acid enough for a steam canner, where the time allows.
    #[serde(default)]
    pub steam: bool,
    /// Headspace, inches.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub headspace_inches: Option<Sourced<f64>>,
    /// Hours it must stand, in salt or the like.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rest_hours: Option<Sourced<f64>>,
    /// The most hours it may stand, where the source says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rest_most_hours: Option<Sourced<f64>>,
    /// Boiling-water times.
    #[serde(default)]
    pub process: Vec<ProcessRow>,
    /// Pressure times, each row an alternative.
    #[serde(default)]
    pub pressure: Vec<PressureRow>,
    /// Weight per jar.
    pub yields: Vec<YieldRow>,
    /// Fresh per dried weight.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_ratio: Option<DryRatio>,
    /// What the recipe's amounts are for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub base: Option<Base>,
    /// The recipe beyond the main crop.
    #[serde(default)]
    pub ingredients: Vec<Ingredient>,
    /// Where the minutes of the steps come from.
    pub times: From,
    /// Where the wording of the steps comes from.
    pub steps_from: From,
    /// The work, in order, up to the canner.
    pub steps: Vec<MethodStep>,
    /// What may be left out or changed without another recipe.
    #[serde(default)]
    pub may_change: Vec<Said>,
    /// Shown at the point of use.
    pub cautions: Vec<Said>,
}
