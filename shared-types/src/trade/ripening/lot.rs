//! A lot as it is asked about, and what is answered of it.

use serde::{Deserialize, Serialize};

use super::belief::Belief;
use super::climate::RoomClimate;
use super::grid::Band;
use super::warnings::Warning;
use crate::ids::{ClassId, CropId};
use crate::trade::crops::Stage;
use crate::units::{Day, Grams};

/// One lot: fruit of one crop and class that stand in one room.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LotInput {
    /// What the caller calls it; comes back in the answer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lot: Option<String>,
    /// Its crop.
    pub crop: CropId,
    /// Its class.
    pub class: ClassId,
    /// Its colour stage, where one was noted. `green` means mature green.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stage: Option<Stage>,
    /// Weight when picked; with `sorted`, weight that was left unripe at that round.
    pub grams: Grams,
    /// The day it was picked.
    pub picked: Day,
    /// The last round: everything ripe was taken out that day, and `grams` were left.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sorted: Option<Day>,
    /// Where it has stood since it was picked; a lot that moved has steps.
    pub room: RoomClimate,
    /// What is believed of its variety, when that differs from the rest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub belief: Option<Belief>,
}

/// Where a lot's grams are expected to be on a day. The parts sum to `start`, to the gram.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Balance {
    /// What was weighed.
    pub start: Grams,
    /// Has ripened: what stands ripe today, plus what ripened on each later day as weighed then.
    pub ripe: Grams,
    /// Will ripen later.
    pub waiting: Grams,
    /// Will not ripen in a room.
    pub never: Grams,
    /// Dried away or rotted.
    pub lost: Grams,
}

/// What is forecast of one lot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LotForecast {
    /// What the caller calls it.
    pub lot: Option<String>,
    /// Its crop.
    pub crop: CropId,
    /// Its class.
    pub class: ClassId,
    /// The day by which a tenth of what will ripen has; `None` when nothing will, or not within
    /// a year.
    pub from: Option<Day>,
    /// The day by which nine tenths of what will ripen have.
    pub to: Option<Day>,
    /// Ripened since picking (or the last round) and standing ripe today.
    pub ready_today: Band,
    /// Will ripen yet, at today's weight.
    pub still_to_come: Band,
    /// Will not ripen in a room, at today's weight, as expected.
    pub never: Grams,
    /// Where the grams are expected to be today.
    pub today: Balance,
    /// Where they are expected to be on the forecast's last day.
    pub end: Balance,
    /// What to look out for in this room.
    pub warnings: Vec<Warning>,
    /// The answer's reason, in a sentence or two.
    pub why: String,
}
