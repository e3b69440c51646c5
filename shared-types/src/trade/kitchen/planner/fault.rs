//! Why there is no plan.

use thiserror::Error;

use crate::units::Day;

/// Why there is no plan, and what to write instead.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PlanError {
    /// Not JSON, or not in this shape.
    #[error("the problem does not read: {0}")]
    NotAProblem(String),
    /// Days out of range.
    #[error("{days} days is out of range: ask for 1 to {most}")]
    Days {
        /// What was asked.
        days: usize,
        /// The most.
        most: usize,
    },
    /// Too much of something.
    #[error("{many} {what} are too many to plan at once: give at most {most}")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// How many were given.
        many: usize,
        /// How many may be.
        most: usize,
    },
    /// A number that cannot be.
    #[error("{of}: {field} cannot be {value}; it must be a number from {least} to {most}")]
    Number {
        /// Of what.
        of: String,
        /// Which number.
        field: &'static str,
        /// What was given.
        value: f64,
        /// Least that may be.
        least: f64,
        /// Most that may be.
        most: f64,
    },
    /// Two things under one name.
    #[error("{what} {id} is there twice: every {what} needs an id of its own")]
    Twice {
        /// Of what.
        what: &'static str,
        /// The name.
        id: String,
    },
    /// A name nothing goes by.
    #[error("{of}: there is no {what} {id}; it must be one of {}", allowed.join(", "))]
    Unknown {
        /// Who names it.
        of: String,
        /// What kind of thing.
        what: &'static str,
        /// The name.
        id: String,
        /// What may be.
        allowed: Vec<String>,
    },
    /// A lot without a room.
    #[error("lot {0} stands nowhere: give it at least one of `rooms`")]
    NoRoom(String),
    /// A lot whose rooms cannot hold it, with the others.
    #[error(
        "the rooms cannot hold the lots: give a room more `holds_grams`, or a lot another room"
    )]
    RoomsFull,
    /// A day outside the plan.
    #[error("{of}: {day} is not within the plan's days")]
    NotADay {
        /// Whose.
        of: String,
        /// The day.
        day: Day,
    },
    /// A batch that was pinned or begun and cannot be.
    #[error("{batch} cannot be made: {reason}. Change it, or drop it")]
    Impossible {
        /// Which batch.
        batch: String,
        /// Why not.
        reason: String,
    },
    /// Told by a planner that runs elsewhere, in its words.
    #[error("{0}")]
    Told(String),
    /// The solver gave up; it should not.
    #[error(
        "the plan could not be worked out ({0}); please send the problem to who keeps this program"
    )]
    Solver(String),
}
