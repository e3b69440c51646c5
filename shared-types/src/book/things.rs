//! The things of a holding, each a record of registers.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::field::Field;
use crate::entry::{
    BinTypeSet, HoldingSet, LearningReset, PersonSet, PickSet, PlaceSet, RoomClimateSet, RoomSet,
    VarietySet,
};
use crate::hlc::{Hlc, Stamp};
use crate::ids::{CropId, VarietyId};
use crate::units::{Altitude, Day, Grams, MilliCelsius, Millis, WeightUnit};

/// A record whose fields mirror the optional fields of one `…-set` fact.
macro_rules! record {
    ($(#[$doc:meta])* $name:ident from $set:ident { $($field:ident: $kind:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
        #[serde(default)]
        pub struct $name {
            $(
                #[doc = concat!("See [`", stringify!($set), "::", stringify!($field), "`].")]
                pub $field: Field<$kind>,
            )*
        }

        impl $name {
            /// Writes the fields that `set` names.
            pub(super) fn write(&mut self, set: $set, stamp: Stamp) {
                $(if let Some(value) = set.$field { self.$field.write(value, stamp); })*
            }

            /// When the fields that `set` names were last written, the latest of them.
            pub(super) fn written(&self, set: &$set) -> Option<Hlc> {
                [$(set.$field.as_ref().and_then(|_| self.$field.written()),)*]
                    .into_iter()
                    .flatten()
                    .max()
            }
        }
    };
}
pub(super) use record;

record! {
    /// The holding.
    Holding from HoldingSet {
        name: String,
        altitude: Altitude,
        weight_unit: WeightUnit,
        scale_division: Grams,
        kitchen_minutes: i64,
    }
}

record! {
    /// A place.
    Place from PlaceSet {
        name: String,
        covered: bool,
        watering: String,
        plants: i64,
        area_dm2: i64,
        retired: bool,
    }
}

record! {
    /// A room.
    Room from RoomSet { name: String, temperature: MilliCelsius, humidity: i64, retired: bool, }
}

record! {
    /// A kind of container.
    BinType from BinTypeSet { name: String, tare: Grams, full: Grams, retired: bool, }
}

record! {
    /// A variety.
    Variety from VarietySet { crop: CropId, name: String, retired: bool, }
}

record! {
    /// A pick.
    Pick from PickSet { day: Day, name: String, closed: bool, }
}

record! {
    /// What a room's temperature is reckoned by.
    RoomClimates from RoomClimateSet {
        follow: String,
        by_day: MilliCelsius,
        by_night: MilliCelsius,
    }
}

/// From when on rounds teach something of a crop. Later moments win, since what is forgotten stays
/// forgotten.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct LearningFrom {
    /// Of every variety.
    pub all: Option<Millis>,
    /// Of one.
    pub varieties: BTreeMap<VarietyId, Millis>,
}

impl LearningFrom {
    pub(super) fn reset(&mut self, fact: &LearningReset) {
        match fact.variety {
            Some(variety) => {
                let from = self.varieties.entry(variety).or_insert(fact.at);
                *from = (*from).max(fact.at);
            }
            None => self.all = self.all.max(Some(fact.at)),
        }
    }

    /// For a variety, or for lots without one.
    pub fn of(&self, variety: Option<VarietyId>) -> Option<Millis> {
        let own = variety.and_then(|variety| self.varieties.get(&variety).copied());
        self.all.max(own)
    }
}

/// A person.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Person {
    /// What they are called.
    pub name: Field<String>,
}

impl Person {
    pub(super) fn write(&mut self, set: PersonSet, stamp: Stamp) {
        self.name.write(set.name, stamp);
    }
}

impl Holding {
    /// The smallest step of the scale: 100 g unless the holding says otherwise.
    pub fn division(&self) -> Grams {
        self.scale_division.get().copied().unwrap_or(Grams(100))
    }

    /// What weights are shown in.
    pub fn unit(&self) -> WeightUnit {
        self.weight_unit.get().copied().unwrap_or_default()
    }
}
