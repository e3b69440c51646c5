//! What the fortnight shows, made from the book: days with their batches, what is kept, what is lost.

use std::collections::BTreeMap;

use shared_types::book::Book;
use shared_types::ids::BatchId;
use shared_types::outlook::kitchen::{Work, hands_minutes, works};
use shared_types::outlook::{Today, outlook};
use shared_types::trade::crops::{self, Group};
use shared_types::trade::fitness::Use;
use shared_types::trade::provenance::cite;
use shared_types::units::{Day, Grams, WeightUnit};

use super::asides::{Aside, asides};
use super::clock::span;
use super::recipe::{amounts, tone};
use crate::words;

/// Days across: a fortnight, in two rows of a week on a wide screen.
pub const DAYS: i32 = 14;

/// The board.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Board {
    /// `The fortnight keeps 41 of 46 kg`.
    pub headline: String,
    /// `within 1.2 % of the best possible`.
    pub how_good: String,
    /// What the plan says besides: waste, and the limits to blame.
    pub said: Vec<String>,
    /// The days.
    pub columns: Vec<Column>,
    /// What must not go in a jar, by reason.
    pub not_for_jars: Vec<Aside>,
    /// There is a plan.
    pub planned: bool,
    /// Bins were kept or changed since the plan was: it may no longer be the best.
    pub moved_on: bool,
}

/// One day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// `Sat 10`.
    pub name: String,
    /// `today`, `tomorrow`, or the day in full.
    pub words: String,
    /// Work and how much of it the day has: `2 h 10 of 4 h`.
    pub hands: String,
    /// More work than the day has.
    pub over: bool,
    /// Its batches, and what the next day's ask for this evening.
    pub cards: Vec<Line>,
}

/// One batch in a day's column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// The batch.
    pub id: BatchId,
    /// Its name.
    pub name: String,
    /// How much.
    pub sub: String,
    /// Its colour.
    pub tone: &'static str,
    /// Pinned, begun: in words.
    pub state: &'static str,
}

/// The board of a book.
pub fn board(book: &Book, today: Today, unit: WeightUnit) -> Board {
    let works = works(book);
    let first = works.iter().map(|work| work.day).min().map_or(today.day, |day| day.min(today.day));
    // Batches that should have been made stand in today's column, not in one nobody looks at.
    let shown = |day: Day| day.max(today.day.min(first.plus(DAYS)));
    let mut by_day: BTreeMap<Day, Vec<Line>> = BTreeMap::new();
    let mut minutes: BTreeMap<Day, u32> = BTreeMap::new();
    for work in &works {
        by_day.entry(shown(work.day)).or_default().push(line(work, unit));
        let evening: u32 = work.steps.iter().filter(|s| s.evening).map(|s| s.hands).sum();
        let all: u32 = work.steps.iter().map(|step| step.hands).sum();
        *minutes.entry(shown(work.day)).or_default() += all - evening;
        let eve = work.day.plus(-1);
        if evening > 0 && eve >= today.day {
            *minutes.entry(eve).or_default() += evening;
            by_day.entry(eve).or_default().push(Line {
                name: format!("This evening, for {}", lower_first(&work.batch.name)),
                sub: span(evening),
                state: "",
                ..line(work, unit)
            });
        }
    }
    let columns = (0..DAYS).map(|n| {
        let day = today.day.plus(n);
        let work = minutes.get(&day).copied().unwrap_or(0);
        let has = u32::try_from(hands_minutes(book, day)).unwrap_or(0);
        column(day, today.day, (work, has), by_day.remove(&day).unwrap_or_default())
    });
    let plan = book.kitchen.plan.get();
    Board {
        headline: match plan {
            Some(plan) if plan.of > Grams::ZERO => format!(
                "The fortnight keeps {} of {}",
                words::number(plan.keeps, unit),
                words::weight(plan.of, unit)
            ),
            Some(_) => "Nothing to make yet".to_owned(),
            None => "No plan is kept yet".to_owned(),
        },
        how_good: plan.map_or_else(String::new, |plan| gap_words(plan.gap)),
        said: plan.map_or_else(Vec::new, |plan| plan.said.clone()),
        columns: columns.collect(),
        not_for_jars: not_for_jars(book, today, unit),
        planned: plan.is_some(),
        moved_on: moved_on(book),
    }
}

/// How near the best the plan is, as proved.
pub fn gap_words(gap: i64) -> String {
    match gap {
        i64::MIN..=0 => "the best possible".to_owned(),
        gap if gap >= 10_000 => String::new(),
        gap => format!("within {}.{} % of the best possible", gap / 100, gap % 100 / 10),
    }
}

fn column(day: Day, today: Day, (work, has): (u32, u32), cards: Vec<Line>) -> Column {
    let long = words::day(day);
    let name = long.rsplit_once(' ').map_or(long.as_str(), |(short, _month)| short);
    Column {
        name: name.to_owned(),
        words: words::day_or_today(day, today),
        hands: if work > 0 { format!("{} of {}", span(work), span(has)) } else { span(has) },
        over: work > has,
        cards,
    }
}

fn line(work: &Work, unit: WeightUnit) -> Line {
    Line {
        id: work.id,
        name: work.batch.name.clone(),
        sub: amounts(&work.batch, unit),
        tone: tone(&work.batch),
        state: match (work.begun, work.pinned) {
            (true, _) => "begun",
            (false, true) => "pinned",
            _ => "",
        },
    }
}

/// Whether a bin was kept or changed after the plan was.
fn moved_on(book: &Book) -> bool {
    let Some(planned) = book.kitchen.plan.written() else { return false };
    book.bins.values().any(|bin| bin.written().is_some_and(|at| at > planned))
}

/// What stands and must not go in a jar, with why. Roots and squash keep where they stand.
fn not_for_jars(book: &Book, today: Today, unit: WeightUnit) -> Vec<Aside> {
    let lots = outlook(book, today, 1).lots;
    let unfit = lots.iter().filter(|lot| {
        let group = crops::crop(&lot.lot.crop).map(|crop| crop.group);
        !lot.fitness.uses.allows(Use::Jar) && group == Some(Group::VineFruit)
    });
    let told: Vec<_> = unfit
        .map(|lot| {
            let label = format!("{}, {}", lot.name, lot.place_name);
            (lot.fitness.reason.clone(), cite(&lot.fitness.source), label, lot.left)
        })
        .collect();
    asides(
        told.iter().map(|(why, source, label, left)| {
            ((why.as_str(), source.clone()), (label.as_str(), *left))
        }),
        unit,
    )
}

fn lower_first(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map(char::to_lowercase).into_iter().flatten().chain(letters).collect()
}

#[cfg(test)]
mod tests {
    use super::super::preview::preview;
    use super::*;
    use crate::screens::sample::{Writer, named, tomorrow, writer};
    use shared_types::ids::{BatchId, PersonId, PlanId};
    use shared_types::outlook::kitchen::{Kept, keep, problem};
    use shared_types::trade::kitchen::planner::first_ripe_first;

    const KG: WeightUnit = WeightUnit::Kg;

    fn planned() -> Writer {
        let mut w = writer();
        w.bin(1, 3, "ripe", 14_000);
        w.bin(2, 5, "ripe", 11_300);
        w.bin(3, 3, "green", 30_000);
        let problem = problem(&w.book, tomorrow()).expect("the altitude is set");
        let plan = first_ripe_first(&problem).expect("a plan");
        let kept = Kept {
            plan: named(PlanId::new, 1),
            person: named(PersonId::new, 1),
            at: tomorrow().start(),
        };
        let mut n = 0;
        let facts = keep(&w.book, &plan, kept, || {
            n += 1;
            named(BatchId::new, n)
        });
        w.book = preview(&w.book, &facts, kept.at);
        w
    }

    #[test]
    fn the_fortnight_stands_in_columns_with_the_hands_it_takes() {
        let w = planned();
        let board = board(&w.book, tomorrow(), KG);
        assert_eq!(board.columns.len(), 14);
        assert_eq!(
            (board.columns[0].name.as_str(), board.columns[0].words.as_str()),
            ("Sat 10", "today")
        );
        assert!(board.columns.iter().any(|column| !column.cards.is_empty()));
        assert!(board.headline.starts_with("The fortnight keeps"), "{}", board.headline);
        assert!(board.planned && !board.moved_on);
    }

    #[test]
    fn fruit_of_dead_vines_is_named() {
        let board = board(&planned().book, tomorrow(), KG);
        let named = board.not_for_jars.iter().find(|aside| aside.what.contains("bed 5"));
        assert!(named.expect("bed 5").reason.contains("dead"));
    }

    #[test]
    fn how_good_a_plan_is_in_words() {
        assert_eq!(gap_words(0), "the best possible");
        assert_eq!(gap_words(120), "within 1.2 % of the best possible");
        assert_eq!(gap_words(10_000), "");
    }

    #[test]
    fn without_a_plan_the_board_says_so() {
        let board = board(&writer().book, tomorrow(), KG);
        assert_eq!(board.headline, "No plan is kept yet");
        assert!(board.columns.iter().all(|column| column.cards.is_empty()));
    }
}
