//! Planned batches written out as steps with clock times.

use crate::book::Book;
use crate::book::kitchen::{Batch as Planned, is, step_task};
use crate::entry::LotPart;
use crate::ids::BatchId;
use crate::outlook::confirmed;
use crate::outlook::pantry::lot_label;
use crate::trade::kitchen::planner;
use crate::trade::kitchen::{Batch, BatchFrom, write_batch};
use crate::trade::methods::{Jar, Kind, canner_minutes, kg_per_jar, method};
use crate::trade::provenance::Said;
use crate::units::{Day, Grams};

use super::problem::{jar, usual_jar};

/// When a day in the kitchen begins unless somebody says otherwise: half past eight.
pub const BEGINS: u32 = 8 * 60 + 30;
/// Minutes of a day.
const DAY: u32 = 24 * 60;

/// A planned batch with its work.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Which batch.
    pub id: BatchId,
    /// It written out: jars, time, acid, ingredients, cautions.
    pub batch: Batch,
    /// The day it is made.
    pub day: Day,
    /// Minutes after midnight of that day at which it begins.
    pub begins: u32,
    /// Minutes after midnight of that day at which it is done; may run past midnight.
    pub ends: u32,
    /// Its steps, in order; those of the evening before first.
    pub steps: Vec<Step>,
    /// Why it stands where it does.
    pub why: String,
    /// It stays when the plan is made anew.
    pub pinned: bool,
    /// Work on it has begun: someone said so, or ticked a step off.
    pub begun: bool,
    /// The lots no longer hold what it asks for.
    pub short: bool,
}

/// A step of a batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// The key under which it is ticked off.
    pub task: String,
    /// What to do.
    pub text: String,
    /// Hands-on minutes.
    pub hands: u32,
    /// Minutes it goes on by itself.
    pub alone: u32,
    /// The day.
    pub day: Day,
    /// Minutes after midnight.
    pub minute: u32,
    /// It is done the evening before.
    pub evening: bool,
    /// Whether somebody stays near.
    pub note: String,
    /// What to mind at this step.
    pub cautions: Vec<Said>,
    /// Ticked off.
    pub done: bool,
}

/// All planned batches, by day and hour. Those that can no longer be made as planned (a method
/// gone from the tables, a jar without a time at this height) are left out.
pub fn works(book: &Book) -> Vec<Work> {
    book.planned().into_iter().filter_map(|(id, batch)| work(book, id, batch)).collect()
}

/// One planned batch written out.
pub fn work(book: &Book, id: BatchId, planned: &Planned) -> Option<Work> {
    let registers = &planned.planned;
    let method = method(registers.method.get()?)?;
    let day = *registers.day.get()?;
    let parts = registers.lots.get().cloned().unwrap_or_default();
    let grams: Grams = parts.iter().map(|part| part.grams).sum();
    let size = registers.jar.get().and_then(|word| jar(word)).unwrap_or_else(|| usual_jar(book));
    let told = registers.jars.get().and_then(|jars| u32::try_from(*jars).ok());
    let count = told.unwrap_or_else(|| jars_for(method, size, grams)).max(1);
    let altitude = book.holding.altitude.get().copied()?;
    let lots = book.lots();
    let from = |part: &LotPart| BatchFrom {
        lot: part.lot.to_string(),
        label: lots.all.get(&part.lot).map_or_else(String::new, |lot| lot_label(book, lot)),
        grams: part.grams,
    };
    let batch = write_batch(
        method,
        parts.iter().map(from).collect(),
        (size, count),
        altitude,
        &confirmed(book),
    );
    let batch = batch.ok()?;
    let begins = registers.start_minute.get().copied().unwrap_or(i64::from(BEGINS));
    let begins = u32::try_from(begins.clamp(0, i64::from(DAY) - 1)).unwrap_or(BEGINS);
    let (steps, ends) = steps(book, id, &batch, day, begins);
    let any_ticked = steps.iter().any(|step| step.done);
    let short =
        parts.iter().any(|part| lots.all.get(&part.lot).is_none_or(|lot| lot.left() < part.grams));
    Some(Work {
        id,
        day,
        begins,
        ends,
        steps,
        why: registers.why.get().cloned().unwrap_or_default(),
        pinned: is(&registers.pinned),
        begun: is(&registers.begun) || any_ticked,
        short,
        batch,
    })
}

/// Jars so much fruit fills by the published yield.
fn jars_for(method: &crate::trade::methods::Method, size: Jar, grams: Grams) -> u32 {
    kg_per_jar(method, size).map_or(0, |per| libm::floor(grams.kg() / per.plan + 0.01) as u32)
}

/// The batch's steps at their times of day; those of the evening before so early that the rest is
/// over when the day's work begins.
fn steps(book: &Book, id: BatchId, batch: &Batch, day: Day, begins: u32) -> (Vec<Step>, u32) {
    let begins = begins as i32;
    let mut steps = Vec::with_capacity(batch.steps.len());
    for (n, step) in batch.steps.iter().enumerate() {
        let task = step_task(id, n);
        let at = begins + step.begins;
        steps.push(Step {
            done: book.kitchen.is_done(&task),
            task,
            text: step.text.clone(),
            hands: step.hands_on_minutes,
            alone: step.attended_minutes + step.unattended_minutes,
            day: day.plus(at.div_euclid(DAY as i32)),
            minute: at.rem_euclid(DAY as i32) as u32,
            evening: step.evening_before,
            note: if step.attended_minutes > 0 { "stay near".to_owned() } else { String::new() },
            cautions: step.cautions.clone(),
        });
    }
    let ends = batch.steps.last().map_or(begins, |step| begins + step.ends);
    (steps, u32::try_from(ends).unwrap_or(0))
}

/// Minutes a batch of a plan holds the kitchen, canner loads included: for laying the day's batches
/// one after another.
pub(super) fn minutes_of(batch: &planner::Batch) -> u32 {
    let alone: f64 = method(&batch.method).map_or(0.0, |method| {
        method
            .steps
            .iter()
            .filter(|step| !step.evening_before)
            .map(|step| step.attended_minutes + step.unattended_minutes)
            .sum()
    });
    // Without the height the time in the canner is not known here: an hour a load will do for
    // laying out a day.
    let loads = batch.jars.map_or(0, |jars| jars.loads);
    let canner = if batch.kind == Kind::Jar { loads * canner_minutes(45).1 } else { 0 };
    batch.hands_minutes + libm::ceil(alone) as u32 + canner
}
