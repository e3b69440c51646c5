//! One lot of a case.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::super::belief::Belief;
use super::super::climate::{Celsius, RoomClimate, Written};
use super::super::lot::{LotInput, RoundSeen};
use super::{Case, LotFault};
use crate::ids::{ClassId, CropId};
use crate::trade::crops::{self, Class, Crop, Stage};
use crate::units::{Day, Grams};

/// Heaviest lot: 100 t; above it somebody means grams.
const MAX_LOT_KG: f64 = 100_000.0;
/// Heaviest fruit, grams.
const MAX_FRUIT_GRAMS: f64 = 50_000.0;

/// One lot of a [`Case`].
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CaseLot {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) lot: Option<String>,
    crop: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) variety: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    class: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stage: Option<Stage>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stages: Option<BTreeMap<Stage, f64>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stage_grams: Option<BTreeMap<Stage, f64>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fruit_grams: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    kg: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    grams: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    picked: Option<Day>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    sorted: Option<Day>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    rounds: Vec<CaseRound>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    room: Option<RoomOrName>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    celsius: Option<Celsius>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    humidity: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) belief: Option<Belief>,
}

/// One round of a [`CaseLot`].
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CaseRound {
    day: Day,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    ripe_kg: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    ripe_grams: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lost_kg: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lost_grams: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    left_kg: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    left_grams: Option<f64>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(untagged, expecting = "room is the name of one of `rooms`, or {celsius, humidity}")]
enum RoomOrName {
    Name(String),
    Room(Box<RoomClimate>),
}

impl CaseRound {
    fn seen(&self) -> Result<RoundSeen, LotFault> {
        let fault = |what| LotFault::Round { day: self.day, what };
        let grams = |kg: Option<f64>, grams: Option<f64>| match (kg, grams) {
            (Some(_), Some(_)) => Err(fault("give each weight once, in kg or in grams")),
            (kg, grams) => match kg.map(|kg| kg * 1000.0).or(grams) {
                Some(grams) if !(0.0..=MAX_LOT_KG * 1000.0).contains(&grams) => {
                    Err(fault("its weights must be 0 or more"))
                }
                known => Ok(known.map(|grams| Grams(libm::round(grams) as i64))),
            },
        };
        Ok(RoundSeen {
            day: self.day,
            ripe: grams(self.ripe_kg, self.ripe_grams)?.unwrap_or_default(),
            lost: grams(self.lost_kg, self.lost_grams)?.unwrap_or_default(),
            left: grams(self.left_kg, self.left_grams)?,
        })
    }
}

impl CaseLot {
    /// As the forecast takes it.
    pub(super) fn input(&self, case: &Case) -> Result<LotInput, LotFault> {
        let id = CropId::from(self.crop.as_str());
        let crop = crops::crop(&id).ok_or_else(|| LotFault::Crop {
            crop: self.crop.clone(),
            allowed: crops::all().iter().map(|crop| crop.slug.to_string()).collect(),
        })?;
        let (stages, whole) = self.by_stage(crop)?;
        let class = self.class(crop, &stages)?;
        if let Some(stage) = self.stage
            && !class.stages.contains(&stage)
        {
            let allowed = class.stages.clone();
            return Err(LotFault::Stage { class: class.id.to_string(), stage, allowed });
        }
        let picked = self.picked.unwrap_or(case.today);
        let sorted = self.sorted.unwrap_or(picked);
        let rounds: Vec<RoundSeen> =
            self.rounds.iter().map(CaseRound::seen).collect::<Result<_, _>>()?;
        let days = rounds.iter().map(|round| round.day);
        if picked > sorted
            || sorted > case.today
            || days.clone().any(|day| day < sorted || day > case.today)
        {
            return Err(LotFault::Days);
        }
        if let Some(fault) = self.belief.and_then(|belief| belief.fault()) {
            return Err(LotFault::Belief(fault));
        }
        Ok(LotInput {
            lot: self.lot.clone(),
            crop: id,
            class: class.id.clone(),
            stage: self.stage,
            stages,
            grams: self.weight(whole)?,
            picked,
            sorted: self.sorted,
            rounds,
            room: self.room(case)?,
            belief: self.belief,
        })
    }

    /// Its grams by stage, and the grams they come to where that is known.
    fn by_stage(&self, crop: &Crop) -> Result<(BTreeMap<Stage, Grams>, Option<f64>), LotFault> {
        let fruit = self.fruit_grams.unwrap_or(crop.fruit_grams.value);
        if !(fruit > 0.0 && fruit <= MAX_FRUIT_GRAMS) {
            return Err(LotFault::Fruit(fruit));
        }
        let (counts, each) = match (&self.stages, &self.stage_grams, self.stage) {
            (None, None, _) => return Ok((BTreeMap::new(), None)),
            (Some(counts), None, None) => (counts, fruit),
            (None, Some(grams), None) => (grams, 1.0),
            _ => return Err(LotFault::StagesTwice),
        };
        let staged = crop.classes.iter().any(|class| !class.stages.is_empty());
        if !staged {
            let allowed = crop.classes.iter().map(|class| class.id.to_string()).collect();
            return Err(LotFault::NoStages { crop: self.crop.clone(), allowed });
        }
        let mut whole = 0.0;
        let mut stages = BTreeMap::new();
        for (stage, count) in counts {
            if !(0.0..=MAX_LOT_KG * 1000.0).contains(count) {
                return Err(LotFault::StageCount(*stage, *count));
            }
            whole += count * each;
            // Only shares count: milligrams keep those of a single small fruit.
            stages.insert(*stage, Grams(libm::round(count * each * 1000.0) as i64));
        }
        if whole <= 0.0 {
            return Err(LotFault::StageCount(Stage::Green, 0.0));
        }
        Ok((stages, Some(whole)))
    }

    /// The class as written, or that of the stage most of it is at.
    fn class<'a>(
        &self,
        crop: &'a Crop,
        stages: &BTreeMap<Stage, Grams>,
    ) -> Result<&'a Class, LotFault> {
        let Some(written) = &self.class else {
            let most = stages.iter().max_by_key(|(stage, grams)| (**grams, **stage));
            let stage = most.map(|(stage, _)| *stage).or(self.stage).ok_or(LotFault::NoClass)?;
            // Light red is sold ripe and waited for at home: here it is waited for.
            let of = |class: &&Class| class.stages.contains(&stage);
            let waiting = crop.classes.iter().find(|class| class.ripens && of(class));
            return waiting.or_else(|| crop.classes.iter().find(of)).ok_or(LotFault::NoClass);
        };
        let id = ClassId::from(written.as_str());
        crop.class(&id).ok_or_else(|| LotFault::Class {
            crop: self.crop.clone(),
            class: written.clone(),
            allowed: crop.classes.iter().map(|class| class.id.to_string()).collect(),
        })
    }

    fn weight(&self, of_stages: Option<f64>) -> Result<Grams, LotFault> {
        let kg = match (self.kg, self.grams, of_stages) {
            (Some(kg), None, _) => kg,
            (None, Some(grams), _) => grams / 1000.0,
            (None, None, Some(grams)) => grams / 1000.0,
            _ => return Err(LotFault::Weight),
        };
        if kg > 0.0 && kg <= MAX_LOT_KG {
            Ok(Grams(libm::round(kg * 1000.0) as i64))
        } else {
            Err(LotFault::Heavy(kg))
        }
    }

    fn room(&self, case: &Case) -> Result<RoomClimate, LotFault> {
        match (&self.room, &self.celsius) {
            (None, Some(celsius)) => {
                Ok(Written::inline(celsius.clone(), self.humidity).try_into()?)
            }
            (Some(_), _) if self.humidity.is_some() => Err(LotFault::Room),
            (Some(RoomOrName::Room(room)), None) => Ok(room.as_ref().clone()),
            (Some(RoomOrName::Name(name)), None) => {
                case.rooms.get(name).cloned().ok_or_else(|| LotFault::NoRoom {
                    room: name.clone(),
                    allowed: case.rooms.keys().cloned().collect(),
                })
            }
            _ => Err(LotFault::Room),
        }
    }
}
