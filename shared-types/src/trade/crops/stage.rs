//! The six colour stages of the US standard for fresh tomatoes.

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A colour stage by share of surface, 7 CFR 51.1860 (wording seen in reproductions, V2):
///
/// ```text
/// 1 Green      completely green
/// 2 Breakers   a definite break in colour on not more than 10 %
/// 3 Turning    more than 10 %, not more than 30 %
/// 4 Pink       more than 30 %, not more than 60 %
/// 5 Light red  more than 60 %, provided not more than 90 % is red
/// 6 Red        more than 90 %
/// ```
///
/// The standard is of mature fruit, so `Green` here means mature green. Consumer standards use
/// "pink" for 50 to 75 %: keep the percent, not the word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// Completely green, mature.
    Green,
    /// Above 0 to 10 %.
    Breakers,
    /// Above 10 to 30 %.
    Turning,
    /// Above 30 to 60 %.
    Pink,
    /// Above 60 to 90 %.
    LightRed,
    /// Above 90 %.
    Red,
}

/// A share of surface that is not one.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error("{0} % of a surface is not possible: give 0 to 100")]
pub struct StageError(pub f64);

impl Stage {
    /// All, in order of ripening.
    pub const ALL: [Self; 6] =
        [Self::Green, Self::Breakers, Self::Turning, Self::Pink, Self::LightRed, Self::Red];

    /// Percent of surface coloured: more than the first, not more than the second. `Green` is
    /// exactly none.
    pub const fn bounds(self) -> (f64, f64) {
        match self {
            Self::Green => (0.0, 0.0),
            Self::Breakers => (0.0, 10.0),
            Self::Turning => (10.0, 30.0),
            Self::Pink => (30.0, 60.0),
            Self::LightRed => (60.0, 90.0),
            Self::Red => (90.0, 100.0),
        }
    }

    /// The stage of a fruit with `percent` of its surface coloured. An upper bound belongs to the
    /// lower stage: exactly 10 is breakers, 30 turning, 60 pink, 90 light red.
    pub fn of_percent(percent: f64) -> Result<Self, StageError> {
        if !(0.0..=100.0).contains(&percent) {
            return Err(StageError(percent));
        }
        let found = Self::ALL.into_iter().find(|stage| percent <= stage.bounds().1);
        Ok(found.unwrap_or(Self::Red))
    }

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Green => "green",
            Self::Breakers => "breakers",
            Self::Turning => "turning",
            Self::Pink => "pink",
            Self::LightRed => "light red",
            Self::Red => "red",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stages_are_written_in_snake_case() {
        assert_eq!(serde_json::to_string(&Stage::LightRed).expect("writes"), "\"light_red\"");
        assert_eq!(serde_json::from_str::<Stage>("\"breakers\"").expect("reads"), Stage::Breakers);
    }

    #[test]
    fn no_surface_has_less_than_nothing() {
        for wrong in [-0.1, 100.1, f64::NAN] {
            assert!(Stage::of_percent(wrong).is_err(), "{wrong}");
        }
    }
}
