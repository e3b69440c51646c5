//! Names of things.
//!
//! Things people make (a pick, a bin, a place) get a UUIDv7 (RFC 9562 §5.7): its leading
//! milliseconds keep them in the order they were made. Time and randomness are arguments. What the
//! trade's tables name (a crop, a method) is a short word, the table's own key.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use uuid::{Builder, Uuid};

use crate::units::Millis;

macro_rules! thing {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub Uuid);

        impl $name {
            /// A new name: UUIDv7 of `now` and ten random bytes.
            pub fn new(now: Millis, random: [u8; 10]) -> Self {
                let millis = u64::try_from(now.0).unwrap_or(0);
                Self(Builder::from_unix_timestamp_millis(millis, &random).into_uuid())
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }

        impl FromStr for $name {
            type Err = uuid::Error;
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                text.parse().map(Self)
            }
        }
    )*};
}

thing! {
    /// A phone, tablet or laptop that writes entries.
    DeviceId,
    /// The identity of a server's log: another epoch is another log.
    EpochId,
    /// A helper, the grower, a neighbour.
    PersonId,
    /// One outing of picking.
    PickId,
    /// A bed, row or area.
    PlaceId,
    /// Where things stand after picking.
    RoomId,
    /// A kind of container with a known tare.
    BinTypeId,
    /// One container carried in and weighed.
    BinId,
    /// A variety of a crop.
    VarietyId,
    /// Bins of one crop, variety, class and origin that ripen as one.
    LotId,
    /// What was seen after a cold night.
    ColdCheckId,
    /// A guess at a pick's total.
    GuessId,
    /// Kilograms taken out of a lot, or jars out of the pantry.
    UseId,
    /// A kitchen plan that was kept.
    PlanId,
    /// One making of a method.
    BatchId,
    /// A look at the seals of a batch.
    SealCheckId,
    /// What stands at a place, from when to when.
    PlantingId,
    /// A note of one evening.
    NightId,
    /// A note of how low a night went.
    LowId,
    /// A record of an earlier season.
    RecordId,
    /// A re-sort of a lot or a look at a store.
    RoundId,
    /// Readings of a thermometer that were written down together.
    ReadingsId,
}

macro_rules! word {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub String);

        impl $name {
            /// The word as written in the tables.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl From<&str> for $name {
            fn from(word: &str) -> Self {
                Self(word.to_owned())
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }
    )*};
}

word! {
    /// A crop of the crop table, such as `tomato`.
    CropId,
    /// A class of a crop, such as `ripe`.
    ClassId,
    /// A tested method, such as `tomato-sauce-thin`.
    MethodId,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_sort_by_the_time_they_were_made() {
        let early = BinId::new(Millis(1_000), [255; 10]);
        let late = BinId::new(Millis(1_001), [0; 10]);
        assert!(early < late);
        assert_eq!(early.0.get_version_num(), 7);
        assert_eq!(early.to_string().parse::<BinId>().expect("reads"), early);
    }
}
