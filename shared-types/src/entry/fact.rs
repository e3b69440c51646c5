//! What an entry can say: closed inside the program, open at its edge.

use serde_json::value::RawValue;

use super::facts::*;

/// What reading an entry's payload came to.
#[derive(Clone, Debug, PartialEq, Eq)]
#[allow(clippy::large_enum_variant, reason = "one at a time is made, matched and gone")]
pub enum Decoded {
    /// A fact this program knows.
    Fact(Fact),
    /// A kind, or a version of one, that a newer program wrote.
    Newer,
    /// A known kind whose payload does not hold what it must.
    Malformed {
        /// What is wrong, for the diagnostics screen.
        reason: String,
    },
}

macro_rules! facts {
    ($($kind:literal $version:literal $name:ident),* $(,)?) => {
        /// One fact. The kinds, and the version each is written in:
        ///
        $(#[doc = concat!("- `", $kind, "` ", stringify!($version), ": [`", stringify!($name), "`]")])*
        #[derive(Clone, Debug, PartialEq, Eq)]
        pub enum Fact {
            $(#[doc = concat!("`", $kind, "`")] $name($name),)*
        }

        impl Fact {
            /// Every kind this program knows.
            pub const KINDS: &[&str] = &[$($kind,)*];

            /// The kind, as written in entries.
            pub const fn kind(&self) -> &'static str {
                match self { $(Self::$name(_) => $kind,)* }
            }

            /// The version this program writes the kind in.
            pub const fn version(&self) -> u16 {
                match self { $(Self::$name(_) => $version,)* }
            }

            /// The payload, as first and for ever written.
            pub fn encode(&self) -> Box<RawValue> {
                match self { $(Self::$name(fact) => raw(fact),)* }
            }

            /// Reads a payload of `kind` in `version`. Older versions of a kind are read for ever.
            pub fn decode(kind: &str, version: u16, payload: &str) -> Decoded {
                match kind {
                    $($kind if version <= $version => match serde_json::from_str(payload) {
                        Ok(fact) => Decoded::Fact(Self::$name(fact)),
                        Err(error) => Decoded::Malformed { reason: error.to_string() },
                    },)*
                    _ => Decoded::Newer,
                }
            }
        }

        $(impl From<$name> for Fact {
            fn from(fact: $name) -> Self {
                Self::$name(fact)
            }
        })*
    };
}

facts! {
    "holding-set" 1 HoldingSet,
    "person-set" 1 PersonSet,
    "place-set" 1 PlaceSet,
    "room-set" 1 RoomSet,
    "bin-type-set" 1 BinTypeSet,
    "variety-set" 1 VarietySet,
    "standing-set" 1 StandingSet,
    "pick-set" 1 PickSet,
    "bin-kept" 1 BinKept,
    "bin-corrected" 1 BinCorrected,
    "bin-struck" 1 BinStruck,
    "bins-apart" 1 BinsApart,
    "guess-made" 1 GuessMade,
    "cold-checked" 1 ColdChecked,
    "lot-moved" 1 LotMoved,
    "lot-used" 1 LotUsed,
    "kitchen-set" 1 KitchenSet,
    "hands-set" 1 HandsSet,
    "stock-set" 1 StockSet,
    "want-set" 1 WantSet,
    "plan-kept" 1 PlanKept,
    "batch-set" 1 BatchSet,
    "tick-set" 1 TickSet,
    "batch-made" 1 BatchMade,
    "batch-struck" 1 BatchStruck,
    "seals-checked" 1 SealsChecked,
    "jars-used" 1 JarsUsed,
    "row-confirmed" 1 RowConfirmed,
    "site-set" 1 SiteSet,
    "planting-set" 1 PlantingSet,
    "cover-set" 1 CoverSet,
    "evening-noted" 1 EveningNoted,
    "low-noted" 1 LowNoted,
    "cure-set" 1 CureSet,
    "bin-counted" 1 BinCounted,
    "season-recorded" 1 SeasonRecorded,
    "season-struck" 1 SeasonStruck,
    "round-made" 1 RoundMade,
    "round-struck" 1 RoundStruck,
    "readings-taken" 1 ReadingsTaken,
    "room-climate-set" 1 RoomClimateSet,
    "learning-reset" 1 LearningReset,
}

fn raw(fact: &impl serde::Serialize) -> Box<RawValue> {
    serde_json::value::to_raw_value(fact)
        .expect("facts hold only strings, integers and lists of them")
}
