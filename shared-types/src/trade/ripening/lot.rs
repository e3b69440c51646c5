//! A lot as it is asked about, and what is answered of it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::band::Band;
use super::belief::Belief;
use super::climate::RoomClimate;
use super::start::Start;
use super::table::{Model, model};
use super::warnings::Warning;
use crate::ids::{ClassId, CropId};
use crate::trade::crops::{self, Class, Crop, Stage};
use crate::units::{Day, Grams};

/// What one round found of a lot: everything ripe was taken out, what had rotted was thrown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoundSeen {
    /// The day of the round; reckoned by its evening.
    pub day: Day,
    /// Taken out ripe.
    #[serde(default)]
    pub ripe: Grams,
    /// Thrown out: rotten, soft, gnawed.
    #[serde(default)]
    pub lost: Grams,
    /// What stays, when it was weighed; otherwise it is reckoned from what was there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left: Option<Grams>,
}

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
    /// Its grams by stage, where it was counted by stage into one lot: only their shares count, and
    /// `stage` is not read.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub stages: BTreeMap<Stage, Grams>,
    /// Weight when picked; with `sorted`, weight that was left unripe on that day.
    pub grams: Grams,
    /// The day it was picked.
    pub picked: Day,
    /// Nothing ripe was among `grams` on this day: where the rounds before are not known, or
    /// unripe fruit was taken too. Rounds before it are passed over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sorted: Option<Day>,
    /// What the rounds found since it was picked (or `sorted`), in any order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rounds: Vec<RoundSeen>,
    /// Where it has stood since it was picked; a lot that moved has steps.
    pub room: RoomClimate,
    /// What is believed of its variety, when that differs from the rest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub belief: Option<Belief>,
}

impl LotInput {
    /// A lot as it was picked, without rounds.
    pub fn picked(
        crop: CropId,
        class: ClassId,
        grams: Grams,
        picked: Day,
        room: RoomClimate,
    ) -> Self {
        Self {
            lot: None,
            crop,
            class,
            stage: None,
            stages: BTreeMap::new(),
            grams,
            picked,
            sorted: None,
            rounds: Vec::new(),
            room,
            belief: None,
        }
    }

    /// Its crop, its class, its model, and where its fruit start; nothing where the tables do not
    /// know it.
    pub(super) fn known(&self) -> Option<(&'static Crop, &'static Class, &'static Model, Start)> {
        let crop = crops::crop(&self.crop)?;
        let class = crop.class(&self.class)?;
        let model = model(crop.model.as_deref()?)?;
        let start = Start::of_stages(Some(model), class, &self.stages)
            .unwrap_or_else(|| Start::of(Some(model), class, self.stage));
        Some((crop, class, model, start))
    }

    /// The day from which `grams` is told.
    pub(super) fn weighed(&self) -> Day {
        self.sorted.map_or(self.picked, |day| day.max(self.picked))
    }

    /// The rounds that count, in order.
    pub(super) fn seen(&self) -> Vec<RoundSeen> {
        let counts = |round: &RoundSeen| {
            round.day >= self.picked && self.sorted.is_none_or(|sorted| round.day > sorted)
        };
        let mut rounds: Vec<_> = self.rounds.iter().copied().filter(counts).collect();
        rounds.sort_unstable();
        rounds
    }
}

/// Where a lot's grams are expected to be on a day. The parts sum to `start`, to the gram.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Balance {
    /// What was weighed; after rounds, what the last one left.
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
