//! Kitchen: the simple plan for the next three days.
//!
//! # Context
//! Each day there is so much ripe fruit and so many hands, canner loads and jars. Some relishes
//! must stand overnight in salt. A grower wants to know, this evening, what to make tomorrow.
//!
//! # Design
//! A plain greedy schedule, and it says so: ripe and fit first, in order of how soon it spoils.
//! Each day, each group of lots of one crop, class and fitness (different fitness never merges)
//! fills whole jars by the offered method that uses most of it, within hours and canner loads; what
//! is left is frozen while hours last, dried where there is a dryer, eaten fresh up to what the
//! household eats; the rest waits for the next day. Green fruit may become relish with hours and a
//! load left over, a load a day. Everything ready is in a batch or listed as left over, never more
//! than was there, and never in a jar it is not fit for.
//!
//! # Not yet true
//! The simple plan does not look for the best plan over the days, knows no burners, jars in hand or
//! wants, and plans no pressure canning; the [`planner`] does, but for the last.

mod batch;
mod input;
mod one;
mod plan;
pub mod planner;
mod schedule;
mod spoil;

pub use input::{Kitchen, KitchenLot};
pub use one::write_batch;
pub use plan::{Batch, BatchFrom, JarCount, LeftOver, NotForJars, PLAN_DAYS, PlanDay, SimplePlan};
pub use schedule::simple_plan;
pub use spoil::keeps_days;

#[cfg(test)]
mod laws;
