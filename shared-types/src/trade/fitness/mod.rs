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
//! [`decide`] tells the whole decision: every rule that was tried and which condition of it did not
//! hold. [`caution_for`] is what a person is told who records an unfit batch all the same.
//!
//! # Not yet true
//! A lot does not yet say how it ripened ([`Ripened`]), which changes the reason and no use: fruit
//! ripened indoors may be canned with acid, and one leaflet doubts it. Nothing sets a temperature
//! at which living vines' fruit becomes unfit: no source does.

mod caution;
mod decision;
mod met;
mod table;
mod uses;

pub use caution::{caution_for, label_caution_for};
pub use decision::{Condition, Decision, Tried, decide};
pub use table::{Asked, Fitness, Fruit, Ripened, Rule, Vines, fitness, rules};
pub use uses::{Use, Uses};
