//! Fitness: what a lot may be used for, and why.
//!
//! # Context
//! Tested jar processes assume a known acidity. Fruit from a vine that died of frost or disease,
//! and fruit that froze, has lost some of it, and added acid may not make it safe. A wrong jar can
//! kill, so the question is settled by published guidance before anything is planned.
//!
//! # Design
//! A table of rules, `fitness.json`; the first rule that matches wins and the last matches
//! everything, so every question has an answer. The rules key on the vines *at picking* and on the
//! fruit *after thaw*, not on dates. Where a killing cold has been seen and nobody has yet looked,
//! the jar is withheld until the cold check says.
//!
//! Published guidance names no exception for vinegar pickles from such fruit, though common
//! practice allows it: here there is none.
//!
//! # Not yet true
//! How a fruit was ripened does not change its uses (indoors ripened fruit may be canned with
//! acid; one leaflet doubts it and the reason says so). Nothing sets a temperature at which living
//! vines' fruit becomes unfit: no source does.

mod table;
mod uses;

pub use table::{Asked, Fitness, Fruit, Rule, Vines, fitness, rules};
pub use uses::{Use, Uses};
