//! Methods: tested ways of preserving, and the refusal of any other.
//!
//! # Context
//! A jar that was processed too briefly for its size, its height above the sea or its acidity can
//! kill. The figures are published; copies of them are not all right. A tool that plans jars must
//! show where each figure was read, and stop where none was.
//!
//! # Design
//! One file per method under `data/methods`, every value with source and mark. The build script
//! reads them with the form of `file` and the rules of `check`, and refuses a wrong one with file
//! and line; a new method is a new file and nothing else.
//!
//! Times stand in bands of altitude as printed: a height above a band's top belongs to the next
//! band, so 1,000 ft (304.8 m) is in the first and anything above it in the second. [`offer`] gives
//! everything that makes a jar safe in a canner at a height, or a [`Refusal`] with its reason and
//! source: no published time for that jar, a value from memory, too long for a steam canner, above
//! the end of the table. [`process_time`], [`pressure_offered`], [`acid_for`], [`kg_per_jar`] and
//! [`sterile_jar_minutes`] are its parts.
//!
//! What is only remembered is shown by [`rows_to_confirm`] and used by nobody, until an owner has
//! read the row in a printed guide: a [`Confirmed`] then goes into [`Ask`].
//! A method with `by_name` is planned only when the household has said that it wants it.
//!
//! Freezing, drying, fresh use, feed and compost are methods too, so that every kilogram has
//! somewhere to go. At the point of use the cautions of the method are shown, and the local
//! extension service's word comes before this program's.
//!
//! # Not yet true
//! Hands-on minutes are common practice; no agency publishes them. Weights of chopped cups are this
//! program's estimates. Nobody has yet held these tables against the agency's own print; they were
//! read in reprints, and crushed tomatoes are offered up to 1,000 ft only for that reason.

mod acid;
mod canning;
pub mod card;
#[cfg(test)]
mod check;
mod confirmed;
mod conflict;
mod file;
mod fraction;
mod jar;
mod load;
mod offer;
mod pressure;
mod process;
mod recipe;
mod refusal;
mod rows;
mod table;
mod told;
mod yields;

// What the build script's copies of `file`, `jar`, `recipe` and `rows` take from where they stand.
use crate::ids::{ClassId, CropId, MethodId};
use crate::trade::provenance::{Mark, Said, Sourced};
use crate::units::{LITRES_PER_QUART, Measure};

pub use acid::{Acid, AcidChoice, acid_for, acid_for_confirmed};
pub use canning::{
    Bands, LoadRow, after_every_jar, at_filling, bands, best_months, canner_loads, cooling_hours,
    load_jars, reprocess_within_hours, stale_months,
};
pub use card::{Card, CardAsk, card};
pub use confirmed::{Confirmed, RowToConfirm, rows_to_confirm};
pub use conflict::{Claim, Conflict, conflicts, conflicts_of};
pub use file::{DryRatio, From, Kind, Method, MethodStep, Takes};
pub use fraction::fraction;
pub use jar::Jar;
pub use load::{LoadMinutes, load_minutes, loads};
pub use offer::{Ask, Offer, headspace_words, offer};
pub use pressure::{PressureTime, pressure_offered, pressure_times};
pub use process::{
    ProcessTime, canner_minutes, process_time, process_time_confirmed, sterile_jar_minutes,
};
pub use recipe::{Base, Ingredient, Role, Unit};
pub use refusal::{Refusal, RefusalKind};
pub use rows::{Basis, Canner, Gauge, PressureRow, ProcessRow, YieldRow};
pub use table::{all, method, methods_for};
pub use told::{Instead, NameError, Told, named, told};
pub use yields::{KgPerJar, kg_per_jar};
