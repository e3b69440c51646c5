//! What the kitchen can make of the lots that stand, and what was decided to be made.
//!
//! **Design.** [`problem()`] reads the planner's problem off the book; the plan somebody keeps goes
//! into the log by [`keep()`] as planned batches, so that every phone sees the same ones. From there
//! on nothing looks at the planner: [`works()`] writes the planned batches out as steps with clock
//! times, [`tasks()`] lists them with the seals to be looked at, and [`shopping()`] says what is
//! missing for them. Times of day are the holding's: a day and minutes after midnight, which whoever
//! knows the zone turns into moments.
//!
//! [`kitchen()`] is the simple plan, first ripe first, for where no planner runs.

mod keep;
mod problem;
mod shopping;
pub mod stock;
mod tasks;
#[cfg(test)]
mod tests;
mod work;

pub use keep::{Kept, keep};
pub use problem::{hands_minutes, household, jar, jar_word, lot_labels, problem, usual_jar};
pub use shopping::{Item, Measured, shopping};
pub use tasks::{Task, TaskKind, seals_task, tasks};
pub use work::{BEGINS, Step, Work, work, works};

use thiserror::Error;

use super::ripening::{StandingLot, ripe_by_day};
use super::{Outlook, Today, outlook};
use crate::book::Book;
use crate::trade::crops::{self, Group};
use crate::trade::kitchen::{Kitchen, KitchenLot, SimplePlan, simple_plan};
use crate::trade::methods::Jar;
use crate::units::Grams;

/// Days of ripening the simple plan looks at: today and the two after.
const DAYS: usize = 3;

/// Why there is no plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("how high is the holding? process times depend on it: set the altitude under House")]
pub struct NoAltitude;

/// The simple plan for the next three days.
///
/// # Errors
/// Without the holding's altitude no process time can be given, and so no plan.
pub fn kitchen(book: &Book, today: Today) -> Result<SimplePlan, NoAltitude> {
    let altitude = book.holding.altitude.get().copied().ok_or(NoAltitude)?;
    let Outlook { lots, .. } = outlook(book, today, 1);
    let lots = lots.iter().filter(|lot| will_not_wait(lot));
    let lots = lots.map(|lot| for_kitchen(book, lot, today)).collect();
    let minutes = book.holding.kitchen_minutes.get().copied();
    let usual = Kitchen {
        today: today.day,
        altitude,
        hours_per_day: 3.0,
        loads_per_day: 2,
        jar: Jar::default(),
        freezer_per_day: None,
        dryer_per_day: Grams::ZERO,
        fresh_per_day: Grams(2_000),
        lots,
    };
    let hours_per_day =
        minutes.map_or(usual.hours_per_day, |minutes| minutes.clamp(0, 24 * 60) as f64 / 60.0);
    Ok(simple_plan(&Kitchen { hours_per_day, ..usual }))
}

/// Roots, bulbs and squash keep for months where they stand; they are eaten from the store and
/// would only crowd out what spoils this week.
fn will_not_wait(lot: &StandingLot) -> bool {
    crops::crop(&lot.lot.crop)
        .is_some_and(|crop| matches!(crop.group, Group::VineFruit | Group::Leaf))
}

/// What a person calls a lot.
fn label(lot: &StandingLot) -> String {
    format!("{}, {}", lot.name, lot.place_name)
}

fn for_kitchen(book: &Book, lot: &StandingLot, today: Today) -> KitchenLot {
    let class = crops::class(&lot.lot.crop, &lot.lot.class);
    let ready = ripe_by_day(book, &lot.lot, &lot.belief, today, DAYS);
    let nothing_ripens = ready.iter().all(|grams| *grams == Grams::ZERO);
    // What is used as it is (a green pepper) is ready whole; of what ripens, the part that never
    // will can be used green now, and the rest is worth waiting for.
    let as_it_is = nothing_ripens && class.is_some_and(|class| class.ready);
    let waits = class.is_some_and(|class| class.ripens);
    KitchenLot {
        id: lot.lot.id.to_string(),
        label: label(lot),
        crop: lot.lot.crop.clone(),
        class: lot.lot.class.clone(),
        fitness: lot.fitness.clone(),
        ready: if as_it_is { vec![lot.left] } else { ready },
        waiting: if waits { lot.forecast.never.min(lot.left) } else { Grams::ZERO },
        celsius: (!lot.room_assumed).then(|| lot.room_temperature.celsius()),
    }
}
