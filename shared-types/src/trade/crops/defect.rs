//! What is wrong with a fruit that is thrown out or set apart.

use serde::{Deserialize, Serialize};

/// The defect of a cull. Written in snake case: `blossom_end_rot`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Defect {
    /// Glassy or water-soaked after thaw.
    Frost,
    /// Sunken dark patch at the blossom end, from uneven watering.
    BlossomEndRot,
    /// Eaten at by slugs, mice, birds.
    Gnawed,
    /// Cracked skin.
    Split,
    /// A pale, papery patch on the sunny side.
    Sunscald,
    /// Blight, mould, any spreading rot.
    Disease,
    /// Over-ripe.
    Soft,
    /// Anything else.
    Other,
}

impl Defect {
    /// All, in the order they stand on screens.
    pub const ALL: [Self; 8] = [
        Self::Frost,
        Self::BlossomEndRot,
        Self::Gnawed,
        Self::Split,
        Self::Sunscald,
        Self::Disease,
        Self::Soft,
        Self::Other,
    ];

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Frost => "frost",
            Self::BlossomEndRot => "blossom-end rot",
            Self::Gnawed => "gnawed",
            Self::Split => "split",
            Self::Sunscald => "sunscald",
            Self::Disease => "disease",
            Self::Soft => "soft",
            Self::Other => "other",
        }
    }
}
