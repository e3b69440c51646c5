//! A plan written out from what was decided.

use std::collections::BTreeMap;

use super::desk::{Decided, Made, spent};
use super::ledger::Ledger;
use super::plan::{Batch, Jars, Plan, PlanDay, Standing, Waste};
use super::problem::{Part, Way};
use super::table::{Table, loads_for};
use super::{blame, words};
use crate::trade::methods::Kind;
use crate::units::Grams;

/// A day's minutes, exactly.
#[derive(Clone, Copy, Default)]
struct Load {
    hands: f64,
    evening: f64,
    burners: f64,
    loads: u32,
}

/// Writes a plan. Its bound is its own value until somebody knows better.
pub(super) fn write(table: &Table<'_>, decided: &Decided) -> Plan {
    let problem = table.problem;
    let mut loads = vec![Load::default(); table.days];
    let mut days: Vec<PlanDay> = (0..table.days)
        .map(|day| PlanDay {
            day: problem.day(day),
            batches: Vec::new(),
            hands_minutes: 0,
            evening_minutes: 0,
            burner_minutes: 0,
            canner_loads: 0,
        })
        .collect();
    for begun in &problem.begun {
        let way = problem.methods.iter().find(|way| way.id == begun.method);
        let (Some(way), Some(day)) = (way, problem.index(begun.day)) else { continue };
        let mut batch = batch(way, begun.from.clone(), problem.day(day));
        batch.begun = true;
        batch.evening_minutes = 0;
        batch.why = words::begun(&batch);
        add(&mut loads, way, day, begun.grams(), true);
        days[day].batches.push(batch);
    }
    let ledgers = ledgers(table, decided);
    let mut made: Vec<&Made> = decided.made.iter().collect();
    made.sort_by_key(|made| made.slot);
    for one in made {
        let slot = &table.slots[one.slot];
        let way = table.way(slot);
        let mut batch = batch(way, parts(table, one), problem.day(slot.day));
        batch.waiting = slot.pools.iter().any(|pool| table.pools[*pool].waiting);
        batch.pinned = slot.pin.is_some();
        batch.why = words::why(table, decided, &ledgers, one, &batch);
        add(&mut loads, way, slot.day, batch.grams, false);
        days[slot.day].batches.push(batch);
    }
    for (day, load) in days.iter_mut().zip(&loads) {
        day.hands_minutes = up(load.hands);
        day.evening_minutes = up(load.evening);
        day.burner_minutes = up(load.burners);
        day.canner_loads = load.loads;
    }
    let mut plan = Plan {
        rooms: rooms(table, decided),
        waste: waste(table, decided, &ledgers),
        standing: left(table, decided, &ledgers, false),
        waiting: left(table, decided, &ledgers, true),
        limits: Vec::new(),
        kept_grams: sum(&days, true),
        fed_grams: sum(&days, false),
        waste_grams: Grams::ZERO,
        days,
        objective: 0.0,
        bound: 0.0,
        gap: None,
        nodes: 0,
        note: String::new(),
    };
    plan.waste_grams = plan.waste.iter().map(|waste| waste.grams).sum();
    plan.objective = value(table, decided, &ledgers);
    plan.bound = plan.objective;
    plan
}

/// The use of every pool.
pub(super) fn ledgers(table: &Table<'_>, decided: &Decided) -> Vec<Ledger> {
    let mut ledgers = vec![Ledger::new(table.days); table.pools.len()];
    for made in &decided.made {
        let taken = table.slots[made.slot].taken;
        for (pool, grams) in &made.parts {
            ledgers[*pool].take(taken, *grams);
        }
    }
    ledgers
}

/// The value of a plan: kilograms by worth, less waste, waiting and moves. The module's page has
/// the formula.
pub(super) fn value(table: &Table<'_>, decided: &Decided, ledgers: &[Ledger]) -> f64 {
    let worth = table.problem.worth;
    let mut of_method = table.begun_of.clone();
    let mut waited = 0.0;
    for made in &decided.made {
        let slot = &table.slots[made.slot];
        of_method[slot.way] += made.grams();
        waited += kg(made.grams()) * slot.day as f64;
    }
    let mut value = -worth.waiting_a_day * waited;
    for (way, grams) in table.problem.methods.iter().zip(&of_method) {
        let wanted = way.wanted_grams.map_or(*grams, |wanted| wanted.0.min(*grams));
        value += way.weight * kg(wanted) + way.beyond() * kg(grams - wanted);
    }
    for (pool, ledger) in table.pools.iter().zip(ledgers) {
        let lost: i64 = ledger.lost(pool.flow(decided.rooms[pool.lot])).iter().sum();
        value -= worth.waste * kg(lost);
    }
    let now = table.rooms_now();
    let moved = |(lot, room): (usize, &usize)| now[lot].is_some_and(|now| now != *room);
    let moves = decided.rooms.iter().enumerate().filter(|one| moved(*one)).count();
    value - worth.moving_kg * moves as f64
}

pub(super) fn kg(grams: i64) -> f64 {
    grams as f64 / 1000.0
}

/// Minutes are rounded up: a plan must not promise more than a day holds. A thousandth is rounding.
fn up(minutes: f64) -> u32 {
    libm::ceil((minutes - 1e-3).max(0.0)) as u32
}

fn add(loads: &mut [Load], way: &Way, day: usize, grams: Grams, begun: bool) {
    let n = loads_for(way, grams.0);
    loads[day].hands += spent(&way.hands, grams.kg(), n);
    loads[day].burners += spent(&way.burners, grams.kg(), n);
    loads[day].loads += n;
    if let (Some(evening), Some(before), false) = (&way.evening, day.checked_sub(1), begun) {
        let minutes = spent(evening, grams.kg(), 0);
        loads[before].hands += minutes;
        loads[before].evening += minutes;
    }
}

fn batch(way: &Way, from: Vec<Part>, day: crate::units::Day) -> Batch {
    let grams: Grams = from.iter().map(|part| part.grams).sum();
    let loads = loads_for(way, grams.0);
    Batch {
        method: way.id.clone(),
        name: way.name().to_owned(),
        kind: way.kind,
        day,
        evening_before: way.overnight().then(|| day.plus(-1)),
        from,
        grams,
        jars: way.jar.map(|jar| {
            let full = libm::floor(grams.0 as f64 / jar.grams + 1e-3);
            let part = libm::floor(grams.0 as f64 - full * jar.grams + 0.5).max(0.0);
            Jars { size: jar.size, full: full as u32, part_grams: Grams(part as i64), loads }
        }),
        hands_minutes: up(spent(&way.hands, grams.kg(), loads)),
        evening_minutes: up(way.evening.map_or(0.0, |evening| spent(&evening, grams.kg(), 0))),
        waiting: false,
        pinned: false,
        begun: false,
        why: String::new(),
    }
}

/// Parts by lot: a lot's ready and waiting fruit never share a batch, but a table could change.
fn parts(table: &Table<'_>, made: &Made) -> Vec<Part> {
    let mut by_lot: BTreeMap<usize, Grams> = BTreeMap::new();
    for (pool, grams) in &made.parts {
        *by_lot.entry(table.pools[*pool].lot).or_default() += Grams(*grams);
    }
    let part =
        |(lot, grams): (usize, Grams)| Part { lot: table.problem.lots[lot].id.clone(), grams };
    by_lot.into_iter().map(part).collect()
}

fn rooms(table: &Table<'_>, decided: &Decided) -> Vec<Standing> {
    let lots = table.problem.lots.iter().zip(&decided.rooms);
    lots.map(|(lot, room)| {
        let room = lot.rooms[*room].room.clone();
        let moves = lot.standing.as_ref().is_some_and(|now| *now != room);
        Standing { lot: lot.id.clone(), label: lot.name().to_owned(), room, moves }
    })
    .collect()
}

fn waste(table: &Table<'_>, decided: &Decided, ledgers: &[Ledger]) -> Vec<Waste> {
    let mut all = Vec::new();
    for (at, (pool, ledger)) in table.pools.iter().zip(ledgers).enumerate() {
        let lot = table.lot(pool);
        for (day, grams) in ledger.lost(pool.flow(decided.rooms[pool.lot])).into_iter().enumerate()
        {
            if grams > 0 {
                all.push(Waste {
                    lot: lot.id.clone(),
                    label: lot.name().to_owned(),
                    day: table.problem.day(day),
                    grams: Grams(grams),
                    reason: blame::reason(table, decided, at, day),
                });
            }
        }
    }
    all.sort_by(|a, b| (a.day, &a.lot).cmp(&(b.day, &b.lot)));
    all
}

fn left(table: &Table<'_>, decided: &Decided, ledgers: &[Ledger], waiting: bool) -> Vec<Part> {
    let pools = table.pools.iter().zip(ledgers).filter(|(pool, _)| pool.waiting == waiting);
    pools
        .map(|(pool, ledger)| Part {
            lot: table.lot(pool).id.clone(),
            grams: Grams(ledger.left(pool.flow(decided.rooms[pool.lot]))),
        })
        .filter(|part| part.grams > Grams::ZERO)
        .collect()
}

fn sum(days: &[PlanDay], food: bool) -> Grams {
    let batches = days.iter().flat_map(|day| &day.batches);
    let is_food = |kind: Kind| !matches!(kind, Kind::Feed | Kind::Compost);
    batches.filter(|batch| is_food(batch.kind) == food).map(|batch| batch.grams).sum()
}
