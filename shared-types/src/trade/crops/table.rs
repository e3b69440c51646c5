//! The crop table as it is read from `crops.json`.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::Stage;
use crate::ids::{ClassId, CropId};
use crate::trade::provenance::{Mark, Sourced, embedded};

/// One crop.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Crop {
    /// Its key.
    pub slug: CropId,
    /// Its plain name.
    pub name: String,
    /// Which rules of fitness hold for it.
    pub group: Group,
    /// Mass of one fruit in grams: an estimate, used only for how uneven a small lot turns.
    pub fruit_grams: Sourced<f64>,
    /// Whether it ripens in a room.
    pub off_vine: OffVine,
    /// Its classes, in the order they stand on the Pick screen.
    pub classes: Vec<Class>,
    /// Source of the classes.
    pub classes_source: String,
    /// How sure.
    pub classes_mark: Mark,
    /// Id of the ripening model, for the classes that ripen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub model: Option<String>,
}

/// What part of a plant is eaten, as far as frost and jars are concerned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Group {
    /// Tender fruit: its vine's death changes it.
    VineFruit,
    /// Hard-rinded fruit.
    Squash,
    /// Bulbs, roots and tubers, whose dead tops are normal.
    Root,
    /// Leaves and heads, which bear frost.
    Leaf,
}

/// Whether a crop ripens off the vine, in words, with where that was read.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OffVine {
    /// Yes, partly, no.
    pub ripens: Ripens,
    /// What to tell the grower.
    pub words: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// Does it ripen off the vine?
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ripens {
    /// Every mature fruit.
    Yes,
    /// Fruit already turning.
    Partly,
    /// None.
    No,
}

/// What a fruit can be used for at sorting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Class {
    /// Its key.
    pub id: ClassId,
    /// Its plain name.
    pub name: String,
    /// How ripe, 0 to 1, for drawing.
    pub fill: f64,
    /// Ripens in a room, by the crop's model.
    pub ripens: bool,
    /// Can be used today as it is.
    pub ready: bool,
    /// Counts as sound yield; `false` is weighed but kept apart in the totals.
    pub fit_to_weigh: bool,
    /// How to tell it, in a few words.
    pub words: String,
    /// Stages that lie within it; empty where the crop has none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stages: Vec<Stage>,
}

impl Crop {
    /// The class of that key.
    pub fn class(&self, id: &ClassId) -> Option<&Class> {
        self.classes.iter().find(|class| class.id == *id)
    }

    /// Does any of its classes ripen in a room?
    pub fn ripens(&self) -> bool {
        self.model.is_some()
    }
}

static CROPS: LazyLock<Vec<Crop>> =
    LazyLock::new(|| embedded("crops.json", include_str!("../../../data/crops.json")));

/// All crops, in the order they stand on screens.
pub fn all() -> &'static [Crop] {
    &CROPS
}

/// The crop of that key.
pub fn crop(id: &CropId) -> Option<&'static Crop> {
    CROPS.iter().find(|crop| crop.slug == *id)
}

/// The class of a crop, when both exist.
pub fn class(crop_id: &CropId, class_id: &ClassId) -> Option<&'static Class> {
    crop(crop_id).and_then(|crop| crop.class(class_id))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::trade::provenance::source;

    #[test]
    fn every_crop_is_whole() {
        let slugs: BTreeSet<_> = all().iter().map(|crop| &crop.slug).collect();
        assert_eq!(slugs.len(), all().len(), "a slug stands twice");
        for crop in all() {
            let classes: BTreeSet<_> = crop.classes.iter().map(|class| &class.id).collect();
            assert_eq!(classes.len(), crop.classes.len(), "{}", crop.slug);
            for id in [&crop.fruit_grams.source, &crop.off_vine.source, &crop.classes_source] {
                assert!(source(id).is_some(), "{}: no source {id}", crop.slug);
            }
            let ripening = crop.classes.iter().any(|class| class.ripens);
            assert_eq!(ripening, crop.ripens(), "{}", crop.slug);
            assert_eq!(crop.off_vine.ripens == Ripens::No, !ripening, "{}", crop.slug);
            for class in &crop.classes {
                assert!((0.0..=1.0).contains(&class.fill), "{} {}", crop.slug, class.id);
                assert!(!(class.ripens && class.ready), "{} {}", crop.slug, class.id);
            }
        }
    }

    #[test]
    fn tomatoes_are_sorted_in_four() {
        let tomato = crop(&"tomato".into()).expect("is in the table");
        let ids: Vec<_> = tomato.classes.iter().map(|class| class.id.as_str()).collect();
        assert_eq!(ids, ["ripe", "colouring", "green", "hurt"]);
        assert!(class(&"tomato".into(), &"blue".into()).is_none());
    }
}
