//! What goes into a recipe. The build script reads this file too.

use serde::{Deserialize, Serialize};

use super::{CropId, Mark, Measure};

/// The main crop of a recipe: what all its other amounts are for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Base {
    /// What it is, as the recipe asks for it.
    pub name: String,
    /// How much of it the recipe takes.
    pub amount: f64,
    /// Of what.
    pub unit: Unit,
    /// The same in kilograms; an estimate where the recipe measures in cups.
    pub kg: f64,
    /// Id of the source of the amount.
    pub source: String,
    /// How sure the amount is.
    pub mark: Mark,
    /// How sure the kilograms are: as the amount where it is a weight, an assumption where it is a
    /// measure. Only the amount is ever relied on for safety.
    pub kg_mark: Mark,
    /// What to know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// An ingredient of the recipe, for its [`Base`].
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ingredient {
    /// What.
    pub name: String,
    /// What it does in the jar, which says how it may be rounded.
    pub role: Role,
    /// How many.
    pub amount: f64,
    /// Of what.
    pub unit: Unit,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// The crop of the crop table it is, if it is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop: Option<CropId>,
    /// What to know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// What an ingredient does in the jar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// Vinegar or bottled juice: what makes the jar safe. Never less.
    Acid,
    /// Canning salt. Never less.
    Salt,
    /// Vegetables and fruit, which dilute the acid. Never more.
    Vegetable,
    /// Water, which dilutes it too. Never more.
    Water,
    /// Slows the heat on its way to the middle of the jar. Never more.
    Thickener,
    /// Sugar: for the taste, and no part of the safety.
    Sugar,
    /// Dry spices.
    Spice,
}

impl Role {
    /// More of it makes a jar safer, or at least no less safe.
    pub const fn never_less(self) -> bool {
        matches!(self, Self::Acid | Self::Salt)
    }

    /// More of it makes a jar less safe.
    pub const fn never_more(self) -> bool {
        matches!(self, Self::Vegetable | Self::Water | Self::Thickener)
    }
}

/// Unit of an ingredient.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// Avoirdupois pound.
    Lb,
    /// Avoirdupois ounce, 1/16 lb.
    Oz,
    /// A clove of garlic.
    Clove,
    /// One whole: a pepper.
    Piece,
    /// A stick of cinnamon.
    Stick,
    /// A kitchen measure.
    #[serde(untagged)]
    Measure(Measure),
}
