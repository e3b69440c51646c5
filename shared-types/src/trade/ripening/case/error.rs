//! What is wrong with a case, in words for the person who wrote it.

use thiserror::Error;

use super::super::MAX_DAYS;
use super::super::climate::ClimateError;
use super::MAX_LOTS;
use crate::trade::crops::Stage;

/// Why a case cannot be run, and what to write instead.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CaseError {
    /// Not JSON, or not in this shape.
    #[error("the case does not read: {0}")]
    NotACase(String),
    /// Days out of range.
    #[error("{0} days is out of range: ask for 1 to {MAX_DAYS}")]
    Days(usize),
    /// Too many lots.
    #[error("{0} lots are too many for one case: give at most {MAX_LOTS}")]
    Lots(usize),
    /// A belief that cannot be.
    #[error("the belief cannot be: {0}")]
    Belief(&'static str),
    /// A quantile out of range.
    #[error("{0} is not a quantile: give numbers between 0 and 1, such as 0.1, at most 99")]
    Quantile(f64),
    /// No lot of that name.
    #[error("no lot `{lot}` in the case: it must be one of {}", allowed.join(", "))]
    NoLot {
        /// What was asked for.
        lot: String,
        /// What may be.
        allowed: Vec<String>,
    },
    /// Something about one lot.
    #[error("lot {lot}: {fault}")]
    Lot {
        /// Its name, or its number from 1.
        lot: String,
        /// What.
        fault: LotFault,
    },
}

/// What is wrong with a lot of a case.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LotFault {
    /// Not in the crop table.
    #[error("no crop `{crop}`: it must be one of {}", allowed.join(", "))]
    Crop {
        /// What was written.
        crop: String,
        /// What may be.
        allowed: Vec<String>,
    },
    /// Not a class of the crop.
    #[error("{crop} has no class `{class}`: it must be one of {}", allowed.join(", "))]
    Class {
        /// The crop.
        crop: String,
        /// What was written.
        class: String,
        /// What may be.
        allowed: Vec<String>,
    },
    /// A stage outside the class.
    #[error("stage {} is not within class {class}: {}", stage.words(), stages_allowed(allowed))]
    Stage {
        /// The class.
        class: String,
        /// What was written.
        stage: Stage,
        /// What may be.
        allowed: Vec<Stage>,
    },
    /// Neither class nor stages.
    #[error(
        "say what it is: `class`, or `stages` with the fruit of each, such as {{\"breakers\": 12, \"pink\": 4}}"
    )]
    NoClass,
    /// Stages told twice.
    #[error("say its stages once: `stage`, `stages` by number of fruit, or `stage_grams`")]
    StagesTwice,
    /// The crop has no stages.
    #[error("{crop} is not sorted by colour stage here: give its `class`, one of {}", allowed.join(", "))]
    NoStages {
        /// The crop.
        crop: String,
        /// Its classes.
        allowed: Vec<String>,
    },
    /// A stage of nothing.
    #[error("{1} of stage {stage}: give 0 or more, and above 0 in all", stage = .0.words())]
    StageCount(Stage, f64),
    /// A fruit that is not one.
    #[error("fruit_grams {0}: give the grams of one fruit, above 0 and at most 50000")]
    Fruit(f64),
    /// A round whose weights cannot be.
    #[error("the round of {day}: {what}")]
    Round {
        /// Its day.
        day: crate::units::Day,
        /// What is wrong, and what to write.
        what: &'static str,
    },
    /// No weight, or two.
    #[error("give its weight once: `kg` or `grams`")]
    Weight,
    /// Not a weight.
    #[error("{0} kg is not a lot: give more than 0 and at most 100000")]
    Heavy(f64),
    /// Picked or sorted later than today, or sorted before it was picked.
    #[error("its days are out of order: picked, then sorted, then the rounds, then today")]
    Days,
    /// Nowhere to stand, or two places.
    #[error("say once where it stands: `celsius`, or `room`")]
    Room,
    /// Not one of the rooms.
    #[error("no room `{room}` in `rooms`: it must be one of {}", allowed.join(", "))]
    NoRoom {
        /// What was written.
        room: String,
        /// What may be.
        allowed: Vec<String>,
    },
    /// Not a climate.
    #[error(transparent)]
    Climate(#[from] ClimateError),
    /// A belief that cannot be.
    #[error("the belief cannot be: {0}")]
    Belief(&'static str),
}

fn stages_allowed(allowed: &[Stage]) -> String {
    if allowed.is_empty() {
        return "leave `stage` out".to_owned();
    }
    let words: Vec<_> = allowed.iter().map(|stage| stage.words()).collect();
    format!("it may be {}", words.join(", "))
}
