//! The crops: how each is sorted, and whether it ripens in a room.
//!
//! # Context
//! At a clear-out every fruit goes to a bin by what can be done with it. The classes differ by
//! crop: a tomato is ripe, colouring, green or hurt; a carrot is sound, small or hurt. Some crops
//! finish ripening in a room; most do not, and a grower told so saves the space.
//!
//! # Design
//! One table, `crops.json`, read once. A crop names its own classes in the order they stand on the
//! Pick screen. [`Stage`] refines a class for tomatoes, by percent of surface, not by word: "pink"
//! means different things in different standards. [`Defect`] says what is wrong with a cull.
//!
//! # Not yet true
//! Fruit masses are estimates; nothing is learned from weighed counts. Whether a green pepper
//! colours depends on its maturity; the table says it is eaten green.

mod defect;
mod stage;
mod table;

pub use defect::Defect;
pub use stage::{Stage, StageError};
pub use table::{Class, Crop, Group, OffVine, Ripens, all, class, crop};
