//! A plan into the log: one fact that says which plan stands, one for each of its batches.

use std::collections::BTreeMap;

use super::problem::jar_word;
use super::work::{BEGINS, minutes_of};
use crate::book::Book;
use crate::book::kitchen::is;
use crate::entry::{BatchSet, Fact, LotPart, PlanKept};
use crate::ids::{BatchId, LotId, PersonId, PlanId};
use crate::trade::kitchen::planner::{Batch, Part, Plan};
use crate::units::{Day, Millis};

/// Batches begin on whole five minutes: nobody cooks closer by the clock.
const ROUND: u32 = 5;
/// Sentences kept with a plan: more than that nobody reads, and an entry has an end.
const MOST_SAID: usize = 12;

/// Who keeps a plan, and when.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kept {
    /// The plan's new name.
    pub plan: PlanId,
    /// Who.
    pub person: PersonId,
    /// When.
    pub at: Millis,
}

/// The facts that keep `plan`, its batches first, so that it stands only when all of it is there.
///
/// A pinned or begun batch keeps its name, and so its ticks; the others get new ones from `name`.
/// Each day's batches follow one another from [`BEGINS`] on.
pub fn keep(book: &Book, plan: &Plan, kept: Kept, mut name: impl FnMut() -> BatchId) -> Vec<Fact> {
    let mut held = held(book, plan.days.first().map(|day| day.day));
    let mut facts: Vec<Fact> = Vec::new();
    for day in &plan.days {
        let mut begins = BEGINS;
        for batch in &day.batches {
            let known = held.get_mut(&(batch.method.as_str(), batch.day)).and_then(Vec::pop);
            let set = set(batch, known.unwrap_or_else(&mut name), kept.plan, begins);
            begins = (begins + minutes_of(batch)).next_multiple_of(ROUND);
            facts.push(set.into());
        }
    }
    facts.push(said(plan, kept).into());
    facts
}

/// The batches that keep their names, by method and day.
fn held(book: &Book, today: Option<Day>) -> BTreeMap<(&str, Day), Vec<BatchId>> {
    let mut held: BTreeMap<_, Vec<BatchId>> = BTreeMap::new();
    for (id, batch) in book.planned() {
        let planned = &batch.planned;
        let (Some(method), Some(day)) = (planned.method.get(), planned.day.get()) else { continue };
        if is(&planned.pinned) || is(&planned.begun) {
            let day = today.map_or(*day, |today| (*day).max(today));
            held.entry((method.as_str(), day)).or_default().push(id);
        }
    }
    held
}

fn set(batch: &Batch, id: BatchId, plan: PlanId, begins: u32) -> BatchSet {
    let part =
        |part: &Part| Some(LotPart { lot: part.lot.parse::<LotId>().ok()?, grams: part.grams });
    BatchSet {
        batch: id,
        plan: Some(plan),
        method: Some(batch.method.clone()),
        day: Some(batch.day),
        start_minute: Some(i64::from(begins)),
        jar: batch.jars.map(|jars| jar_word(jars.size)),
        jars: batch.jars.map(|jars| i64::from(jars.full)),
        lots: Some(batch.from.iter().filter_map(part).collect()),
        why: Some(batch.why.clone()),
        pinned: None,
        dropped: None,
        begun: None,
    }
}

fn said(plan: &Plan, kept: Kept) -> PlanKept {
    let mut said: Vec<String> = Vec::new();
    for waste in &plan.waste {
        said.push(format!(
            "{:.1} kg of {} will be lost on {}. {}",
            waste.grams.kg(),
            waste.label,
            waste.day.date().format("%A"),
            waste.reason
        ));
    }
    said.extend(plan.limits.iter().map(|limit| limit.text.clone()));
    said.truncate(MOST_SAID);
    let first = plan.days.first().map(|day| day.day);
    PlanKept {
        plan: kept.plan,
        at: kept.at,
        person: kept.person,
        day: first.unwrap_or_else(|| Day::at(kept.at, 0)),
        days: i64::try_from(plan.days.len()).unwrap_or(0),
        keeps: plan.kept_grams,
        of: plan.kept_grams + plan.fed_grams + plan.waste_grams,
        gap: plan.gap.map_or(0, |gap| libm::ceil(gap.clamp(0.0, 1.0) * 10_000.0) as i64),
        said,
    }
}
