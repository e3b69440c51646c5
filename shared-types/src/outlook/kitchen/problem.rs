//! The planner's problem, from the book: lots by room, the kitchen's days, its stock, its wishes.

use std::collections::BTreeMap;

use super::super::ripening::{StandingLot, ripe_by_day};
use super::super::{Outlook, Today, confirmed, outlook};
use super::{NoAltitude, stock, will_not_wait};
use crate::book::Book;
use crate::book::kitchen::{Batch, is};
use crate::ids::{MethodId, RoomId};
use crate::trade::crops;
use crate::trade::kitchen::planner::{
    Begun, DEFAULT_DAYS, DayLimits, Drop, Household, Lot, LotRoom, MAX_LOTS, Part, Pin, Problem,
    Stock, Want, Way, Worth, ways,
};
use crate::trade::kitchen::{KitchenLot, keeps_days};
use crate::trade::methods::Jar;
use crate::units::{Day, Grams, MilliCelsius};

/// Minutes of work on a day nobody said anything about: three hours. Common practice.
const USUAL_MINUTES: i64 = 180;
/// Hours the stove may be on in a day, over which burners are counted. Common practice.
const STOVE_MINUTES: i64 = 10 * 60;
/// What a household eats fresh in a day when it does not say. Common practice.
const FRESH_A_DAY: Grams = Grams(2_000);
/// Rooms offered for a lot beside the one it stands in: what ripens is hurt by cold below about
/// 10 °C and spoils above 25 °C (`ripening`'s tables).
const ROOMS_FOR_FRUIT: std::ops::RangeInclusive<i32> = 10_000..=25_000;
/// Crumbs are left out: they would cost the search more than they feed.
const LEAST_LOT: Grams = Grams(200);

/// What the kitchen could make in the coming fortnight, and within which limits.
///
/// Lots are told by the forecast's middle, in each room that would do for them. Fruit of batches
/// already begun is taken out of its lots here, since the book takes it out only when they are
/// made.
///
/// # Errors
/// Without the holding's altitude no process time can be given, and so no plan.
pub fn problem(book: &Book, today: Today) -> Result<Problem, NoAltitude> {
    let household = household(book)?;
    let days = DEFAULT_DAYS;
    let Outlook { lots: standing, .. } = outlook(book, today, 1);
    let mut lots: Vec<Lot> = standing
        .iter()
        .filter(|lot| will_not_wait(lot))
        .map(|lot| for_planner(book, lot, today, days))
        .filter(|lot| lot.most_grams() >= LEAST_LOT)
        .collect();
    // The heaviest first, should there ever be more than can be planned at once.
    lots.sort_by_key(|lot| (std::cmp::Reverse(lot.most_grams()), lot.id.clone()));
    lots.truncate(MAX_LOTS);
    let mut problem = Problem {
        today: today.day,
        days,
        methods: methods(book, &household),
        lots,
        rooms: Vec::new(),
        a_day: DayLimits::default(),
        by_day: (0..days).map(|n| day_limits(book, today.day, n)).collect(),
        stock: in_hand(book),
        pins: Vec::new(),
        drops: drops(book, today.day),
        begun: Vec::new(),
        worth: Worth::default(),
    };
    for (_, batch) in book.planned() {
        wish(&mut problem, batch, today.day);
    }
    Ok(problem)
}

/// The household, as far as methods depend on it.
///
/// # Errors
/// Without the holding's altitude.
pub fn household(book: &Book) -> Result<Household, NoAltitude> {
    let limits = &book.kitchen.limits;
    let wants = book.kitchen.wants.iter().map(|(method, want)| {
        let want = Want {
            weight: want.weight.get().map(|percent| (*percent).clamp(0, 1_000) as f64 / 100.0),
            wanted_grams: want.most.get().copied().filter(|grams| grams.0 >= 0),
        };
        (method.clone(), want)
    });
    Ok(Household {
        altitude: book.holding.altitude.get().copied().ok_or(NoAltitude)?,
        jar: usual_jar(book),
        fresh_a_day: limits.fresh_per_day.get().copied().unwrap_or(FRESH_A_DAY).max(Grams::ZERO),
        wants: wants.collect(),
        confirmed: confirmed(book),
    })
}

/// The jar the household likes.
pub fn usual_jar(book: &Book) -> Jar {
    book.kitchen.limits.jar.get().and_then(|word| jar(word)).unwrap_or_default()
}

/// Reads a jar's word of the log.
pub fn jar(word: &str) -> Option<Jar> {
    super::super::fitness::word(word)
}

/// A jar as the log writes it, such as `half_pint`.
pub fn jar_word(jar: Jar) -> String {
    match serde_json::to_value(jar) {
        Ok(serde_json::Value::String(word)) => word,
        _ => jar.words().to_owned(),
    }
}

/// Minutes of work on a day.
pub fn hands_minutes(book: &Book, day: Day) -> i64 {
    let told = book.kitchen.hands.get(&day).and_then(|field| field.get().copied());
    // 1970-01-01 was a Thursday, the fourth day of a week from Monday.
    let weekday = usize::try_from((day.number() + 3).rem_euclid(7)).unwrap_or(0);
    let usual = book.kitchen.limits.weekday_minutes.get().and_then(|week| week.get(weekday));
    let minutes = told.or(usual.copied()).or_else(|| book.holding.kitchen_minutes.get().copied());
    minutes.unwrap_or(USUAL_MINUTES).clamp(0, 24 * 60)
}

fn methods(book: &Book, household: &Household) -> Vec<Way> {
    let fits = book.kitchen.limits.jars_per_load.get().copied().filter(|jars| *jars > 0);
    let mut ways = ways(household);
    // Nobody wants it: not even as a last resort.
    ways.retain(|way| way.weight > 0.0);
    for jar in ways.iter_mut().filter_map(|way| way.jar.as_mut()) {
        if let Some(quarts) = fits {
            // A canner said in quarts takes nine pints where it takes seven quarts.
            let quarts = u32::try_from(quarts).unwrap_or(u32::MAX);
            let like_quarts = matches!(jar.size, Jar::Quart | Jar::PintAndHalf | Jar::HalfGallon);
            let fits = if like_quarts { quarts } else { quarts.saturating_mul(9) / 7 };
            jar.a_load = jar.a_load.min(fits.max(1));
        }
    }
    ways
}

fn day_limits(book: &Book, today: Day, n: usize) -> (Day, DayLimits) {
    let day = today.plus(i32::try_from(n).unwrap_or(i32::MAX));
    let limits = &book.kitchen.limits;
    let grams = |field: Option<&Grams>| field.copied().map(|grams| grams.max(Grams::ZERO));
    let limits = DayLimits {
        hands_minutes: Some(hands_minutes(book, day) as f64),
        burner_minutes: limits
            .burners
            .get()
            .map(|burners| ((*burners).clamp(0, 24) * STOVE_MINUTES) as f64),
        canner_loads: limits
            .loads_per_day
            .get()
            .map(|loads| u32::try_from((*loads).clamp(0, 48)).unwrap_or(0)),
        dryer_grams: grams(limits.dryer_per_day.get()),
        freezer_grams: grams(limits.freezer_per_day.get()),
    };
    (day, limits)
}

fn in_hand(book: &Book) -> Stock {
    let count = |item: &str| {
        stock::now(book, item).map(|have| u32::try_from(have.max(0)).unwrap_or(u32::MAX))
    };
    let jars = Jar::ALL.into_iter().filter_map(|jar| Some((jar, count(&stock::jar_item(jar))?)));
    Stock {
        freezer_grams: stock::freezer_free(book),
        jars: jars.collect(),
        lids: count(stock::LID),
    }
}

/// What people took out of the plan for days still to come.
fn drops(book: &Book, today: Day) -> Vec<Drop> {
    let dropped = book.kitchen.batches.values().filter(|batch| is(&batch.planned.dropped));
    let mut drops: Vec<(MethodId, Day)> = dropped
        .filter_map(|batch| {
            let planned = &batch.planned;
            Some((planned.method.get()?.clone(), *planned.day.get()?))
        })
        .filter(|(_, day)| *day >= today)
        .collect();
    drops.sort();
    drops.dedup();
    let drop = |(method, day)| Drop { method: Some(method), day: Some(day), lot: None };
    drops.into_iter().map(drop).collect()
}

/// A batch somebody pinned or began goes in as a wish of that kind; the others are planned anew.
fn wish(problem: &mut Problem, batch: &Batch, today: Day) {
    let planned = &batch.planned;
    let (Some(method), Some(day)) = (planned.method.get(), planned.day.get()) else { return };
    let Some(way) = problem.methods.iter().find(|way| way.id == *method) else { return };
    // What should have been made by now is still to be made today.
    let day = (*day).max(today);
    let parts = planned.lots.get().cloned().unwrap_or_default();
    let known = |lot: &str| problem.lots.iter().any(|known| known.id == lot);
    let parts: Vec<Part> = parts
        .into_iter()
        .map(|part| Part { lot: part.lot.to_string(), grams: part.grams })
        .filter(|part| part.grams > Grams::ZERO && known(&part.lot))
        .collect();
    if parts.is_empty() || problem.index(day).is_none() {
        return;
    }
    if is(&planned.begun) {
        let waits = takes_waiting(problem, way, &parts);
        for part in &parts {
            take_out(problem, part, waits);
        }
        problem.begun.push(Begun { method: method.clone(), day, from: parts });
    } else if is(&planned.pinned) && !(way.overnight() && day == today) {
        let grams = parts.iter().map(|part| part.grams).sum();
        let lots = parts.into_iter().map(|part| part.lot).collect();
        problem.pins.push(Pin { method: method.clone(), day, grams: Some(grams), lots });
    }
}

/// Whether a method takes the unripe fruit of these lots.
fn takes_waiting(problem: &Problem, way: &Way, parts: &[Part]) -> bool {
    let mut lots = problem.lots.iter().filter(|lot| parts.iter().any(|part| part.lot == lot.id));
    lots.any(|lot| lot.waiting_grams > Grams::ZERO && way.takes(&lot.crop, &lot.class))
}

/// Takes fruit of a batch already begun out of what its lot still offers.
fn take_out(problem: &mut Problem, part: &Part, waiting: bool) {
    let Some(lot) = problem.lots.iter_mut().find(|lot| lot.id == part.lot) else { return };
    let mut taken = part.grams;
    if waiting {
        let from_waiting = taken.min(lot.waiting_grams);
        lot.waiting_grams = lot.waiting_grams - from_waiting;
        taken = taken - from_waiting;
    }
    for room in &mut lot.rooms {
        let mut taken = taken;
        for ready in &mut room.ready_grams {
            let off = taken.min(*ready);
            *ready = *ready - off;
            taken = taken - off;
        }
    }
}

fn for_planner(book: &Book, lot: &StandingLot, today: Today, days: usize) -> Lot {
    let waits = crops::class(&lot.lot.crop, &lot.lot.class).is_some_and(|class| class.ripens);
    let here = lot.lot.room();
    let mut rooms = vec![in_room(book, lot, here, today, days)];
    for (id, room) in &book.rooms {
        let retired = room.retired.get().copied().unwrap_or(false);
        let fits = room.temperature.get().is_some_and(|at| ROOMS_FOR_FRUIT.contains(&at.0));
        if Some(*id) != here && !retired && fits {
            rooms.push(in_room(book, lot, Some(*id), today, days));
        }
    }
    rooms.truncate(crate::trade::kitchen::planner::MAX_ROOMS);
    Lot {
        id: lot.lot.id.to_string(),
        label: Some(super::label(lot)),
        crop: lot.lot.crop.clone(),
        class: lot.lot.class.clone(),
        ready_class: None,
        uses: lot.fitness.uses,
        fitness: Some(lot.fitness.rule.clone()),
        standing: Some(room_key(here)),
        rooms,
        waiting_grams: if waits { lot.forecast.never.min(lot.left) } else { Grams::ZERO },
        waiting_keeps_days: None,
    }
}

/// What the planner calls a room.
fn room_key(room: Option<RoomId>) -> String {
    room.map_or_else(|| "unknown".to_owned(), |room| room.to_string())
}

/// A lot in one room from today on.
fn in_room(
    book: &Book,
    lot: &StandingLot,
    room: Option<RoomId>,
    today: Today,
    days: usize,
) -> LotRoom {
    let class = crops::class(&lot.lot.crop, &lot.lot.class);
    let mut there = lot.lot.clone();
    if let Some(room) = room.filter(|room| Some(*room) != there.room()) {
        there.moves.push((today.start(), room));
    }
    let mut ready_grams = ripe_by_day(book, &there, &lot.belief, today, days);
    // What is used as it is (a green pepper, a leaf) is ready whole.
    let nothing_ripens = ready_grams.iter().all(|grams| *grams == Grams::ZERO);
    if nothing_ripens && class.is_some_and(|class| class.ready) {
        ready_grams = vec![lot.left];
    }
    let known = room.and_then(|room| book.rooms.get(&room)?.temperature.get().copied());
    let keeps = keeps_days(&KitchenLot {
        id: String::new(),
        label: String::new(),
        crop: lot.lot.crop.clone(),
        class: lot.lot.class.clone(),
        fitness: lot.fitness.clone(),
        ready: Vec::new(),
        waiting: Grams::ZERO,
        celsius: known.map(MilliCelsius::celsius),
    });
    LotRoom { room: room_key(room), ready_grams, keeps_days: keeps.clamp(0.0, 365.0) as u32 }
}

/// What lots are called, by the planner's id.
pub fn lot_labels(problem: &Problem) -> BTreeMap<&str, &str> {
    problem.lots.iter().map(|lot| (lot.id.as_str(), lot.name())).collect()
}
