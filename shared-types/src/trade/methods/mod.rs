//! Methods: tested ways of preserving, and the refusal of any other.
//!
//! # Context
//! A jar that was processed too briefly for its size, its height above the sea or its acidity can
//! kill. The figures are published; copies of them are not all right. A tool that plans jars must
//! show where each figure was read, and stop where none was.
//!
//! # Design
//! One file per method under `data/methods`, every value with source and mark. Times stand in
//! bands of altitude as printed: a height above a band's top belongs to the next band, so 1,000 ft
//! (304.8 m) is in the first and anything above it in the second. [`process_time`] gives the
//! boiling-water minutes or a [`Refusal`] with its reason: no published time for that jar, a value
//! from memory, a height out of range. [`acid_for`], [`kg_per_jar`] and [`sterile_jar_minutes`]
//! answer likewise. Freezing, drying, fresh use, feed and compost are methods too, so that every
//! kilogram has somewhere to go.
//!
//! At the point of use the cautions of the method are shown, and the local extension service's
//! word comes before this program's.
//!
//! # Not yet true
//! An owner cannot yet confirm a memory value against a printed guide, so crushed tomatoes are
//! offered up to 1,000 ft only. Pressure canning is listed ([`pressure_times`]) but not planned.
//! Hands-on minutes are common practice; no agency publishes them.

mod acid;
mod canning;
mod jar;
mod pressure;
mod process;
mod table;
mod yields;

pub use acid::{Acid, AcidChoice, acid_for};
pub use canning::{Bands, LoadRow, after_every_jar, bands, canner_loads};
pub use jar::{Jar, load_jars};
pub use pressure::{Gauge, PressureRow, PressureTime, pressure_times};
pub use process::{
    Canner, ProcessRow, ProcessTime, Refusal, RefusalKind, canner_minutes, process_time,
    sterile_jar_minutes,
};
pub use table::{
    Base, DryRatio, From, Ingredient, Kind, Method, MethodStep, Takes, Unit, all, method,
    methods_for,
};
pub use yields::{Basis, KgPerJar, YieldRow, kg_per_jar};
