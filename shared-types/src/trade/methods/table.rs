//! A method as it is read from its file.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::Jar;
use super::pressure::PressureRow;
use super::process::ProcessRow;
use super::yields::YieldRow;
use crate::ids::{ClassId, CropId, MethodId};
use crate::trade::fitness::Use;
use crate::trade::provenance::{Mark, Said, Sourced, embedded};
use crate::units::Measure;

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

impl Kind {
    /// The use a lot must be fit for; compost asks for none.
    pub const fn needs(self) -> Option<Use> {
        match self {
            Self::Jar => Some(Use::Jar),
            Self::Freeze => Some(Use::Freeze),
            Self::Dry => Some(Use::Dry),
            Self::Fresh => Some(Use::Fresh),
            Self::Feed => Some(Use::Feed),
            Self::Compost => None,
        }
    }
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

/// What the recipe's amounts are for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Base {
    /// Kilograms of the main crop.
    pub kg: f64,
    /// The same as the recipe says it.
    pub words: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// An ingredient of the recipe, for its [`Base`].
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ingredient {
    /// What.
    pub name: String,
    /// How many.
    pub amount: f64,
    /// Of what: a measure, or `lb` or `clove`.
    pub unit: Unit,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What to know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// Unit of an ingredient.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// Avoirdupois pound.
    Lb,
    /// A clove of garlic.
    Clove,
    /// A kitchen measure.
    #[serde(untagged)]
    Measure(Measure),
}

/// A step of the work. Minutes are common practice, to be set by whoever does it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
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
    /// Minutes it goes on by itself.
    #[serde(default)]
    pub unattended_minutes: f64,
    /// Done the evening before, because a rest follows.
    #[serde(default)]
    pub evening_before: bool,
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
    /// Acid goes into every jar.
    #[serde(default)]
    pub acid: bool,
    /// Acid enough for a steam canner, where the time allows.
    #[serde(default)]
    pub steam: bool,
    /// Headspace, inches.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub headspace_inches: Option<Sourced<f64>>,
    /// Hours it must stand in salt before the day's work.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rest_hours: Option<Sourced<f64>>,
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
    /// Shown at the point of use.
    pub cautions: Vec<Said>,
}

impl Method {
    /// Does it take this crop and class?
    pub fn takes(&self, crop: &CropId, class: &ClassId) -> bool {
        self.any
            || self.takes.iter().any(|takes| takes.crop == *crop && takes.classes.contains(class))
    }

    /// Hands-on minutes for so many kilograms: on the day, and the evening before.
    pub fn hands_on_minutes(&self, kg: f64) -> (f64, f64) {
        let sum = |evening: bool| {
            self.steps
                .iter()
                .filter(|step| step.evening_before == evening)
                .map(|step| step.setup_minutes + step.minutes_per_kg * kg)
                .sum()
        };
        (sum(false), sum(true))
    }

    /// Jar sizes its boiling-water times are printed for.
    pub fn jars(&self) -> impl Iterator<Item = Jar> {
        self.process.iter().map(|row| row.jar)
    }
}

macro_rules! files {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_str!(concat!("../../../data/methods/", $name, ".json")))),*]
    };
}

static METHODS: LazyLock<Vec<Method>> = LazyLock::new(|| {
    files![
        "tomatoes-crushed",
        "tomatoes-whole-water",
        "tomato-sauce-thin",
        "tomato-sauce-thick",
        "tomato-juice",
        "green-tomato-relish",
        "mixed-green-relish",
        "peppers-pickled",
        "squash-cubes-pressure",
        "tomatoes-frozen-raw",
        "green-tomatoes-frozen",
        "peppers-frozen-raw",
        "kale-frozen",
        "squash-puree-frozen",
        "tomatoes-dried",
        "peppers-dried",
        "fresh",
        "feed",
        "compost",
    ]
    .into_iter()
    .map(|(name, text)| embedded(name, text))
    .collect()
});

/// All methods, jars first.
pub fn all() -> &'static [Method] {
    &METHODS
}

/// The method of that key.
pub fn method(id: &MethodId) -> Option<&'static Method> {
    METHODS.iter().find(|method| method.id == *id)
}

/// The methods of a kind that take this crop and class, best first.
pub fn methods_for(
    crop: &CropId,
    class: &ClassId,
    kind: Kind,
) -> impl Iterator<Item = &'static Method> {
    let mut found: Vec<_> =
        METHODS.iter().filter(|method| method.kind == kind && method.takes(crop, class)).collect();
    found.sort_by_key(|method| (method.any, method.rank));
    found.into_iter()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::trade::crops;
    use crate::trade::provenance::source;

    #[test]
    fn every_method_takes_known_crops_and_names_known_sources() {
        let ids: BTreeSet<_> = all().iter().map(|method| &method.id).collect();
        assert_eq!(ids.len(), all().len());
        for method in all() {
            for takes in &method.takes {
                for class in &takes.classes {
                    assert!(crops::class(&takes.crop, class).is_some(), "{} {class}", method.id);
                }
            }
            let mut named = vec![&method.times.source, &method.steps_from.source];
            named.extend(method.headspace_inches.iter().map(|h| &h.source));
            named.extend(method.process.iter().flat_map(|row| &row.minutes).map(|m| &m.source));
            named.extend(method.pressure.iter().map(|row| &row.source));
            named.extend(method.yields.iter().map(|row| &row.source));
            named.extend(method.ingredients.iter().map(|part| &part.source));
            named.extend(method.cautions.iter().map(|said| &said.source));
            for id in named {
                assert!(source(id).is_some(), "{}: no source {id}", method.id);
            }
        }
    }

    #[test]
    fn a_file_is_named_as_its_method() {
        for id in ["tomato-sauce-thin", "mixed-green-relish", "feed"] {
            assert_eq!(method(&id.into()).expect("a method").id, MethodId::from(id));
        }
    }

    #[test]
    fn every_class_of_every_crop_has_somewhere_to_go() {
        for crop in crops::all() {
            for class in &crop.classes {
                for kind in [Kind::Fresh, Kind::Feed, Kind::Compost] {
                    assert!(methods_for(&crop.slug, &class.id, kind).next().is_some());
                }
            }
        }
    }

    #[test]
    fn a_jar_method_says_its_headspace_and_how_it_is_made_safe() {
        for method in all().iter().filter(|method| method.kind == Kind::Jar) {
            assert!(method.headspace_inches.is_some(), "{}", method.id);
            assert!(!method.cautions.is_empty(), "{}", method.id);
            assert!(!method.yields.is_empty(), "{}", method.id);
            assert!(!(method.process.is_empty() && method.pressure.is_empty()), "{}", method.id);
        }
    }
}
