//! A problem looked through before it is planned, so that a slip is told in words.

use std::collections::BTreeSet;

use super::fault::PlanError;
use super::problem::{DayLimits, Lot, Minutes, Problem, Way};
use crate::units::Grams;

/// Most days: four weeks. Nothing is known of ripening beyond, and the search grows with it.
pub const MAX_DAYS: usize = 28;
/// Most lots: five times a full tunnel's.
pub const MAX_LOTS: usize = 120;
/// Most methods: twice the book's.
pub const MAX_METHODS: usize = 60;
/// Most rooms for one lot.
pub const MAX_ROOMS: usize = 12;
/// Most pins, drops, or begun batches.
pub const MAX_WISHES: usize = 500;

/// Most minutes of anything on a day: ten people round the clock.
const MOST_MINUTES: f64 = 14_400.0;
/// Heaviest anything: 100 t; above it somebody means grams for kilograms.
const MOST_GRAMS: f64 = 100_000_000.0;
/// Most canner loads a day: one every half hour.
const MOST_LOADS: u32 = 48;
/// Most a kilogram may be worth: beyond it the rest would drown in the solver's tolerances.
const MOST_WORTH: f64 = 100.0;

/// Finds the first thing wrong with a problem.
pub(super) fn check(problem: &Problem) -> Result<(), PlanError> {
    if !(1..=MAX_DAYS).contains(&problem.days) {
        return Err(PlanError::Days { days: problem.days, most: MAX_DAYS });
    }
    let many = [
        ("lots", problem.lots.len(), MAX_LOTS),
        ("methods", problem.methods.len(), MAX_METHODS),
        ("rooms", problem.rooms.len(), MAX_LOTS * MAX_ROOMS),
        ("pins", problem.pins.len(), MAX_WISHES),
        ("drops", problem.drops.len(), MAX_WISHES),
        ("begun batches", problem.begun.len(), MAX_WISHES),
    ];
    for (what, many, most) in many {
        if many > most {
            return Err(PlanError::TooMany { what, many, most });
        }
    }
    unique("lot", problem.lots.iter().map(|lot| lot.id.as_str()))?;
    unique("method", problem.methods.iter().map(|way| way.id.as_str()))?;
    unique("room", problem.rooms.iter().map(|room| room.id.as_str()))?;
    problem.lots.iter().try_for_each(lot)?;
    problem.methods.iter().try_for_each(way)?;
    for room in &problem.rooms {
        grams(&format!("room {}", room.id), "holds_grams", room.holds_grams)?;
    }
    limits("a usual day", &problem.a_day)?;
    for (day, told) in &problem.by_day {
        limits(&day.to_string(), told)?;
    }
    grams("the stock", "freezer_grams", problem.stock.freezer_grams)?;
    let worth = problem.worth;
    number("worth", "waste", worth.waste, 0.0, MOST_WORTH)?;
    number("worth", "waiting_a_day", worth.waiting_a_day, 0.0, MOST_WORTH)?;
    number("worth", "moving_kg", worth.moving_kg, 0.0, MOST_WORTH)?;
    wishes(problem)
}

fn unique<'a>(what: &'static str, ids: impl Iterator<Item = &'a str>) -> Result<(), PlanError> {
    let mut seen = BTreeSet::new();
    for id in ids {
        if !seen.insert(id) {
            return Err(PlanError::Twice { what, id: id.to_owned() });
        }
    }
    Ok(())
}

fn number(
    of: &str,
    field: &'static str,
    value: f64,
    least: f64,
    most: f64,
) -> Result<(), PlanError> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err(PlanError::Number { of: of.to_owned(), field, value, least, most })
}

fn grams(
    of: &str,
    field: &'static str,
    all: impl IntoIterator<Item = Grams>,
) -> Result<(), PlanError> {
    all.into_iter().try_for_each(|grams| number(of, field, grams.0 as f64, 0.0, MOST_GRAMS))
}

fn lot(lot: &Lot) -> Result<(), PlanError> {
    let of = format!("lot {}", lot.id);
    if lot.rooms.is_empty() {
        return Err(PlanError::NoRoom(lot.id.clone()));
    }
    if lot.rooms.len() > MAX_ROOMS {
        let many = lot.rooms.len();
        return Err(PlanError::TooMany { what: "rooms of one lot", many, most: MAX_ROOMS });
    }
    unique("room of a lot", lot.rooms.iter().map(|room| room.room.as_str()))?;
    for room in &lot.rooms {
        grams(&of, "ready_grams", room.ready_grams.iter().copied())?;
    }
    grams(&of, "all its ready_grams and waiting_grams", [lot.most_grams()])?;
    grams(&of, "waiting_grams", [lot.waiting_grams])
}

fn way(way: &Way) -> Result<(), PlanError> {
    let of = format!("method {}", way.id);
    grams(&of, "least_grams", [way.least_grams])?;
    grams(&of, "most_grams", way.most_grams)?;
    grams(&of, "most_a_day_grams", way.most_a_day_grams)?;
    grams(&of, "wanted_grams", way.wanted_grams)?;
    number(&of, "weight", way.weight, 0.0, MOST_WORTH)?;
    // More for what nobody wants than for what they want would have no best plan in one pass.
    number(&of, "weight_beyond", way.beyond(), 0.0, way.weight)?;
    for (field, minutes) in
        [("hands", Some(way.hands)), ("evening", way.evening), ("burners", Some(way.burners))]
    {
        let Minutes { a_batch, a_kg, a_load } = minutes.unwrap_or_default();
        for minutes in [a_batch, a_kg, a_load] {
            number(&of, field, minutes, 0.0, MOST_MINUTES)?;
        }
    }
    if let Some(jar) = way.jar {
        number(&of, "jar.grams", jar.grams, 50.0, 20_000.0)?;
        number(&of, "jar.a_load", jar.a_load.into(), 1.0, 100.0)?;
    }
    Ok(())
}

fn limits(of: &str, told: &DayLimits) -> Result<(), PlanError> {
    if let Some(minutes) = told.hands_minutes {
        number(of, "hands_minutes", minutes, 0.0, MOST_MINUTES)?;
    }
    if let Some(minutes) = told.burner_minutes {
        number(of, "burner_minutes", minutes, 0.0, MOST_MINUTES)?;
    }
    if let Some(loads) = told.canner_loads {
        number(of, "canner_loads", loads.into(), 0.0, MOST_LOADS.into())?;
    }
    grams(of, "dryer_grams", told.dryer_grams)?;
    grams(of, "freezer_grams", told.freezer_grams)
}

/// Pins, drops and begun batches name things there are, and days of the plan.
fn wishes(problem: &Problem) -> Result<(), PlanError> {
    let method = |of: &str, id: &str| {
        known(of, "method", id, problem.methods.iter().map(|way| way.id.as_str()))
    };
    let lot =
        |of: &str, id: &str| known(of, "lot", id, problem.lots.iter().map(|lot| lot.id.as_str()));
    for pin in &problem.pins {
        let of = format!("pin of {}", pin.method);
        method(&of, pin.method.as_str())?;
        pin.lots.iter().try_for_each(|id| lot(&of, id))?;
        if problem.index(pin.day).is_none() {
            return Err(PlanError::NotADay { of, day: pin.day });
        }
        grams(&of, "grams", pin.grams)?;
    }
    for drop in &problem.drops {
        drop.method.iter().try_for_each(|id| method("drop", id.as_str()))?;
        drop.lot.iter().try_for_each(|id| lot("drop", id))?;
        // A day that is over is dropped already.
    }
    for begun in &problem.begun {
        let of = format!("begun {}", begun.method);
        method(&of, begun.method.as_str())?;
        if problem.index(begun.day).is_none() {
            return Err(PlanError::NotADay { of, day: begun.day });
        }
        grams(&of, "grams", begun.from.iter().map(|part| part.grams))?;
    }
    Ok(())
}

fn known<'a>(
    of: &str,
    what: &'static str,
    id: &str,
    allowed: impl Iterator<Item = &'a str> + Clone,
) -> Result<(), PlanError> {
    if allowed.clone().any(|one| one == id) {
        return Ok(());
    }
    Err(PlanError::Unknown {
        of: of.to_owned(),
        what,
        id: id.to_owned(),
        allowed: allowed.map(str::to_owned).collect(),
    })
}
