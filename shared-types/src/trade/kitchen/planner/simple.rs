//! First ripe, first used: the simple rule a better plan is measured against, and where the search
//! may start.
//!
//! Each day, the fruit that is lost first goes first, in the method that takes most of it: a canner
//! load where it is fit for a jar, then the freezer, the dryer, the table, the animals. The rule of
//! the three days' [`simple_plan`](super::super::simple_plan), over a longer problem.

use super::desk::{Decided, Desk};
use super::fault::PlanError;
use super::table::{LEAST_PIN, Slot, Table, pin_words};
use crate::trade::methods::Kind;

/// Best use first.
const KINDS: [Kind; 6] =
    [Kind::Jar, Kind::Freeze, Kind::Dry, Kind::Fresh, Kind::Feed, Kind::Compost];

/// The plan of the simple rule, with lots where they stand.
///
/// # Errors
/// A pinned batch that cannot be made.
pub(super) fn simple(table: &Table<'_>, rooms: Vec<usize>) -> Result<Decided, PlanError> {
    let mut desk = Desk::new(table, rooms);
    pins(&mut desk)?;
    rest(&mut desk);
    Ok(desk.decided())
}

/// The simple rule with what is left on a desk.
pub(super) fn rest(desk: &mut Desk<'_>) {
    let table = desk.table;
    for day in 0..table.days {
        for group in groups(desk, day) {
            for kind in KINDS {
                while let Some(at) = best(desk, day, group, kind) {
                    let slot = &table.slots[at];
                    let most = desk.most(slot, 1);
                    let least = table.way(slot).least_grams.0;
                    if desk.fill(at, most, least) == 0 || kind != Kind::Jar {
                        break;
                    }
                }
            }
        }
    }
}

/// Pinned batches come first, in order of their days.
pub(super) fn pins(desk: &mut Desk<'_>) -> Result<(), PlanError> {
    let table = desk.table;
    let mut pinned: Vec<(usize, usize)> = (0..table.slots.len())
        .filter(|at| table.slots[*at].pin.is_some())
        .map(|at| (table.slots[at].day, at))
        .collect();
    pinned.sort_unstable();
    for (_, at) in pinned {
        let slot = &table.slots[at];
        let way = table.way(slot);
        let asked = slot.pin.flatten();
        let least = asked.unwrap_or(way.least_grams.0.max(LEAST_PIN));
        let most = desk.most(slot, u32::MAX >> 8).min(asked.unwrap_or(least));
        if desk.fill(at, most, least) == 0 {
            let there: i64 = desk.fruit(slot).iter().map(|(_, grams)| grams).sum();
            let pin =
                table.problem.pins.iter().find(|pin| {
                    pin.method == way.id && table.problem.index(pin.day) == Some(slot.day)
                });
            return Err(PlanError::Impossible {
                batch: pin.map_or_else(|| way.name().to_owned(), pin_words),
                reason: if there < least {
                    format!("{:.1} kg for it are there, it needs {:.1} kg", kg(there), kg(least))
                } else {
                    format!(
                        "the day's limits leave room for {:.1} kg of {:.1} kg",
                        kg(most),
                        kg(least)
                    )
                },
            });
        }
    }
    Ok(())
}

fn kg(grams: i64) -> f64 {
    grams as f64 / 1000.0
}

/// The groups with fruit on a day, what is lost first first.
fn groups(desk: &Desk<'_>, day: usize) -> Vec<usize> {
    let table = desk.table;
    let mut soonest = std::collections::BTreeMap::new();
    for slot in table.slots.iter().filter(|slot| slot.day == day) {
        for at in &slot.pools {
            let pool = &table.pools[*at];
            let flow = pool.flow(desk.rooms[pool.lot]);
            let (there, lost) = desk.ledgers[*at].at_hand(flow, day);
            if there > 0 {
                let lost = lost.unwrap_or(usize::MAX);
                let known = soonest.entry(slot.group).or_insert(lost);
                *known = (*known).min(lost);
            }
        }
    }
    let mut order: Vec<(usize, usize)> = soonest.into_iter().map(|(g, lost)| (lost, g)).collect();
    order.sort_unstable();
    order.into_iter().map(|(_, group)| group).collect()
}

/// The slot of a kind that takes most of a group's fruit today; of equals the weightier method,
/// then the first.
fn best(desk: &Desk<'_>, day: usize, group: usize, kind: Kind) -> Option<usize> {
    let table = desk.table;
    let free =
        |slot: &Slot, at: usize| desk.made.iter().all(|made| made.slot != at) && slot.pin.is_none();
    let mut best: Option<(i64, f64, usize)> = None;
    for (at, slot) in table.slots.iter().enumerate() {
        let way = table.way(slot);
        if slot.day != day || slot.group != group || way.kind != kind || !free(slot, at) {
            continue;
        }
        let there: i64 = desk.fruit(slot).iter().map(|(_, grams)| grams).sum();
        let grams = desk.most(slot, 1).min(there);
        if grams < way.least_grams.0.max(1) {
            continue;
        }
        let better = best
            .is_none_or(|(most, weight, _)| grams > most || (grams == most && way.weight > weight));
        if better {
            best = Some((grams, way.weight, at));
        }
    }
    best.map(|(_, _, at)| at)
}
