//! What is to be done when: steps of planned batches, and seals to be looked at.

use super::work::{Work, works};
use crate::book::Book;
use crate::ids::BatchId;
use crate::outlook::Today;
use crate::outlook::pantry::{Seals, Shelf, pantry};
use crate::trade::methods::Kind;
use crate::units::{Day, HOUR_MS, MINUTE_MS, Millis};

/// Nobody gets up at night to press lids.
const MORNING: u32 = 7 * 60 + 30;
/// Nor presses them this late.
const NIGHT: u32 = 22 * 60;
/// Minutes it takes to press the lids of a batch, and wash and label the jars. Common practice.
const SEALS_MINUTES: u32 = 10;

/// What kind of thing is to be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TaskKind {
    /// A step of a batch.
    Step,
    /// The seals of a made batch.
    Seals,
    /// Jars that had not sealed.
    Unsealed,
    /// A chore from another part of the program.
    Chore,
}

/// One thing to be done, at a time of day at the holding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Task {
    /// Its key, under which it is ticked off.
    pub key: String,
    /// What kind.
    pub kind: TaskKind,
    /// What to do.
    pub text: String,
    /// Of what, how long, what to mind.
    pub detail: String,
    /// The day.
    pub day: Day,
    /// Minutes after midnight.
    pub minute: u32,
    /// How long it takes, minutes.
    pub minutes: u32,
    /// An alarm so many minutes before, where waiting would cost food or sleep.
    pub alarm: Option<u32>,
    /// Done.
    pub done: bool,
    /// Its batch.
    pub batch: Option<BatchId>,
}

/// The key of the look at a batch's seals.
pub fn seals_task(batch: BatchId) -> String {
    format!("batch/{batch}/seals")
}

/// Everything planned and everything due, in order of time, what is done included.
pub fn tasks(book: &Book, today: Today, now: Millis) -> Vec<Task> {
    let mut tasks: Vec<Task> = works(book).iter().flat_map(steps).collect();
    for shelf in pantry(book, today, now) {
        tasks.extend(seals(&shelf, today));
    }
    tasks.sort_by_key(|task| (task.day, task.minute, task.key.clone()));
    tasks
}

fn steps(work: &Work) -> impl Iterator<Item = Task> {
    let first = work.steps.first().map(|step| step.task.clone());
    let evening = work.steps.iter().find(|step| step.evening).map(|step| step.task.clone());
    work.steps.iter().map(move |step| {
        // An alarm for the first step alone; the rest follows from it. And for the evening before,
        // since a relish that was not salted cannot be made.
        let alarm = (Some(&step.task) == first.as_ref() || Some(&step.task) == evening.as_ref())
            .then_some(15);
        Task {
            key: step.task.clone(),
            kind: TaskKind::Step,
            text: step.text.clone(),
            detail: work.batch.name.clone(),
            day: step.day,
            minute: step.minute,
            minutes: step.hands + step.alone,
            alarm,
            done: step.done,
            batch: Some(work.id),
        }
    })
}

fn seals(shelf: &Shelf, today: Today) -> Option<Task> {
    if shelf.kind != Kind::Jar {
        return None;
    }
    let (kind, text, from, until) = match shelf.seals {
        Seals::Wait { from, until } | Seals::Due { from, until } | Seals::Late { from, until } => {
            let text = format!("Press the lids of {}: they must not give", shelf.name);
            (TaskKind::Seals, text, from, until)
        }
        Seals::Unsealed { count, until } => {
            let jars = if count == 1 { "jar" } else { "jars" };
            let text = format!("{count} {jars} of {} did not seal: deal with them", shelf.name);
            (TaskKind::Unsealed, text, until.plus(-2 * HOUR_MS), until)
        }
        Seals::NotNeeded | Seals::Checked => return None,
    };
    let (day, minute) = by_day(from, until, today);
    Some(Task {
        key: seals_task(shelf.batch),
        kind,
        text,
        detail: "Unsealed jars go back in the canner with new lids within 24 hours, or in the fridge or freezer".to_owned(),
        day,
        minute,
        minutes: SEALS_MINUTES,
        alarm: Some(0),
        done: false,
        batch: Some(shelf.batch),
    })
}

/// The first moment from `from` on at which people are up, unless that is past `until`.
fn by_day(from: Millis, until: Millis, today: Today) -> (Day, u32) {
    let local = |at: Millis| {
        let day = Day::at(at, today.offset_minutes);
        let at = at.plus(i64::from(today.offset_minutes) * MINUTE_MS);
        (day, u32::try_from(at.since(day.start()) / MINUTE_MS).unwrap_or(0))
    };
    let (day, minute) = local(from);
    let up = match minute {
        minute if minute < MORNING => (day, MORNING),
        minute if minute >= NIGHT => (day.plus(1), MORNING),
        minute => (day, minute),
    };
    up.min(local(until))
}
