//! What a little more of a limit would save.
//!
//! A mixed-integer plan has no prices that can be read off. So each limit that is used up is raised
//! a little, the batches around it are set free, and the plan is solved again from where it is:
//! what is kept more is what the limit costs. It is a lower bound: a longer search may find more.

use super::desk::Desk;
use super::plan::{Binding, Limit, Plan};
use super::problem::Problem;
use super::search::Search;
use super::shape::Shape;
use super::table::{NO_LIMIT, Table};
use super::words::day_words;
use crate::trade::methods::Jar;
use crate::units::Grams;

/// Nodes for one question.
const NODES: u64 = 60;
/// Questions asked at most: the tightest limits of each kind.
const ASKED: usize = 8;
/// Days asked about for one kind of limit.
const DAYS_ASKED: usize = 3;
/// Less is not worth telling: half a kilogram.
const TOLD: Grams = Grams(500);
/// Two more hours.
const MORE_MINUTES: f64 = 120.0;
/// More room or kilograms a day: what fits a shelf, or a cubic foot more of freezer.
const MORE_GRAMS: i64 = 5_000;
/// More jars and lids: a dozen, as they are sold.
const DOZEN: u32 = 12;

/// A limit that is used up.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Tight {
    Day(Limit, usize),
    FreezerRoom,
    Jars(Jar),
    Lids,
}

/// The limits that bind in the plan found, with what more of each would save; the best first.
pub(super) fn binding(search: &Search<'_>, plan: &Plan) -> Vec<Binding> {
    let mut told: Vec<Binding> = tight(search)
        .into_iter()
        .take(ASKED)
        .filter_map(|tight| {
            let saves = saves(search, plan, tight)?;
            (saves >= TOLD).then(|| tell(search.table.problem, tight, saves))
        })
        .collect();
    told.sort_by_key(|told| (std::cmp::Reverse(told.saves_grams), told.limit, told.day));
    told
}

/// What is used up, of each kind the days with least left first.
fn tight(search: &Search<'_>) -> Vec<Tight> {
    let table = search.table;
    let desk = Desk::of(table, &search.best);
    let mut found = Vec::new();
    let days = |limit: Limit, left: &dyn Fn(usize) -> Option<f64>| {
        let mut days: Vec<(f64, usize)> =
            (0..table.days).filter_map(|day| Some((left(day)?, day))).collect();
        days.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        days.truncate(DAYS_ASKED);
        days.into_iter().map(move |(_, day)| Tight::Day(limit, day)).collect::<Vec<_>>()
    };
    // A quarter of an hour is too short for any batch.
    let minutes = |left: f64| (left < 15.0).then_some(left);
    found.extend(days(Limit::Hands, &|day| minutes(desk.left(day).hands)));
    found.extend(days(Limit::Canner, &|day| (desk.left(day).loads == 0).then_some(0.0)));
    let grams = |left: i64| (left < 500).then_some(left as f64);
    if desk.left_freezer_room() < 500 {
        found.push(Tight::FreezerRoom);
    } else {
        found.extend(days(Limit::Freezer, &|day| grams(desk.left(day).freezer)));
    }
    for (size, left) in desk.left_jars() {
        found.extend((*left < 1.0).then_some(Tight::Jars(*size)));
    }
    found.extend(desk.left_lids().filter(|left| *left < 1.0).map(|_| Tight::Lids));
    found.extend(days(Limit::Burners, &|day| minutes(desk.left(day).burners)));
    found.extend(days(Limit::Dryer, &|day| grams(desk.left(day).dryer)));
    found
}

/// More food kept with more of a limit.
fn saves(search: &Search<'_>, plan: &Plan, tight: Tight) -> Option<Grams> {
    let raised = raised(search.table.problem, tight);
    let table = Table::new(&raised).ok()?;
    let mut again = Search {
        shape: Shape::new(&table),
        table: &table,
        best: search.best.clone(),
        value: search.value,
        bound: f64::INFINITY,
        nodes: 0,
    };
    // The days around it, or all days of what uses it up.
    let part = match tight {
        Tight::Day(_, day) => again.batches(&|slot| slot.day.abs_diff(day) <= 1),
        Tight::FreezerRoom => {
            again.batches(&|slot| table.way(slot).kind == crate::trade::methods::Kind::Freeze)
        }
        Tight::Jars(size) => {
            again.batches(&|slot| table.way(slot).jar.is_some_and(|jar| jar.size == size))
        }
        Tight::Lids => again.batches(&|slot| table.way(slot).jar.is_some()),
    };
    again.improve(&part, NODES);
    let kept = super::write::write(&table, &again.best).kept_grams;
    Some(kept - plan.kept_grams)
}

fn raised(problem: &Problem, tight: Tight) -> Problem {
    let mut raised = problem.clone();
    let more = |grams: Option<Grams>| grams.map(|grams| Grams(grams.0 + MORE_GRAMS));
    match tight {
        Tight::Day(limit, day) => {
            let caps = super::table::caps(problem, day);
            let told = raised.by_day.entry(problem.day(day)).or_default();
            match limit {
                Limit::Canner => told.canner_loads = Some((caps.loads + 1).min(48)),
                Limit::Freezer => told.freezer_grams = more(Some(Grams(caps.freezer))),
                Limit::Dryer => told.dryer_grams = more(Some(Grams(caps.dryer))),
                Limit::Burners => {
                    let usual = caps.burners < NO_LIMIT as f64;
                    told.burner_minutes = usual.then_some(caps.burners + MORE_MINUTES);
                }
                _ => told.hands_minutes = Some((caps.hands + MORE_MINUTES).min(14_400.0)),
            }
        }
        Tight::FreezerRoom => raised.stock.freezer_grams = more(raised.stock.freezer_grams),
        Tight::Jars(size) => {
            raised.stock.jars.entry(size).and_modify(|jars| *jars += DOZEN);
        }
        Tight::Lids => raised.stock.lids = raised.stock.lids.map(|lids| lids + DOZEN),
    }
    raised
}

fn tell(problem: &Problem, tight: Tight, saves: Grams) -> Binding {
    let (limit, day) = match tight {
        Tight::Day(limit, day) => (limit, Some(problem.day(day))),
        Tight::FreezerRoom => (Limit::FreezerRoom, None),
        Tight::Jars(_) => (Limit::Jars, None),
        Tight::Lids => (Limit::Lids, None),
    };
    let on = day.map_or(String::new(), |day| format!(" on {}", day_words(day)));
    let more = match tight {
        Tight::Day(Limit::Canner, _) => format!("One more canner load{on}"),
        Tight::Day(Limit::Freezer, _) => format!("5 kg more into the freezer{on}"),
        Tight::Day(Limit::Dryer, _) => format!("5 kg more in the dryer{on}"),
        Tight::Day(Limit::Burners, _) => format!("One more burner for two hours{on}"),
        Tight::Day(..) => format!("Two more hours{on}"),
        Tight::FreezerRoom => "Room for 5 kg more in the freezer".to_owned(),
        Tight::Jars(size) => format!("Twelve more {} jars", size.words()),
        Tight::Lids => "Twelve more lids".to_owned(),
    };
    let text = format!("{more} would save {:.0} kg.", libm::floor(saves.kg() + 0.5).max(1.0));
    Binding { limit, day, text, saves_grams: saves }
}
