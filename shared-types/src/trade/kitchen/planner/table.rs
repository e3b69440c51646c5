//! The problem sorted for planning: pools of fruit, groups that may share a batch, slots where a
//! batch may be, and what each day allows.

use std::collections::BTreeMap;

use super::check::check;
use super::fault::PlanError;
use super::problem::{Lot, Problem, Way};
use crate::ids::ClassId;
use crate::trade::crops;
use crate::trade::methods::{Jar, Kind};
use crate::units::Grams;

/// Fruit of one lot that is used in one way: what turns ready, or what waits.
#[derive(Debug)]
pub(super) struct Pool {
    /// The lot.
    pub(super) lot: usize,
    /// Unripe fruit used as it is.
    pub(super) waiting: bool,
    /// For each room of the lot; one entry for waiting fruit, which does not mind the room.
    by_room: Vec<Flow>,
}

/// Fruit of a pool in one room, in grams, by the end of each day.
#[derive(Clone, Debug)]
pub(super) struct Flow {
    /// Turned ready by then.
    pub(super) ready_by: Vec<i64>,
    /// Used or lost by then, because it keeps no longer.
    pub(super) gone_by: Vec<i64>,
}

impl Pool {
    /// In the room of that number.
    pub(super) fn flow(&self, room: usize) -> &Flow {
        &self.by_room[room.min(self.by_room.len() - 1)]
    }

    /// Rooms it may stand in, as far as they matter to it.
    pub(super) fn rooms(&self) -> usize {
        self.by_room.len()
    }

    /// Most there may be of it by the end of a day, in whichever room.
    pub(super) fn most_by(&self, day: usize) -> i64 {
        self.by_room.iter().map(|flow| flow.ready_by[day]).max().unwrap_or(0)
    }
}

/// A place for a batch: a method, a day, and the fruit that may share it.
#[derive(Debug)]
pub(super) struct Slot {
    /// The method.
    pub(super) way: usize,
    /// The group of pools.
    pub(super) group: usize,
    /// The day it is made.
    pub(super) day: usize,
    /// The day its fruit leaves the pools: the one before, for an overnight rest.
    pub(super) taken: usize,
    /// Pools it may take from.
    pub(super) pools: Vec<usize>,
    /// A pin: exactly so many grams, if a person said so.
    pub(super) pin: Option<Option<i64>>,
}

/// What a day allows, after what was begun has had its part.
#[derive(Clone, Debug)]
pub(super) struct Caps {
    pub(super) hands: f64,
    pub(super) burners: f64,
    pub(super) loads: u32,
    pub(super) dryer: i64,
    pub(super) freezer: i64,
}

/// Stands for no limit, in grams or minutes: more than everything there may be.
pub(super) const NO_LIMIT: i64 = 1_000_000_000;

/// Hands-on minutes of a day when nobody says: three hours.
const USUAL_HANDS: f64 = 180.0;
/// Canner loads of a day when nobody says.
const USUAL_LOADS: u32 = 2;
/// A pin that names no weight asks for at least so much.
pub(super) const LEAST_PIN: i64 = 100;

/// A problem sorted for planning.
#[derive(Debug)]
pub(super) struct Table<'a> {
    pub(super) problem: &'a Problem,
    pub(super) days: usize,
    pub(super) pools: Vec<Pool>,
    pub(super) slots: Vec<Slot>,
    pub(super) caps: Vec<Caps>,
    /// Room left in the freezer.
    pub(super) freezer_room: i64,
    /// Jars left, by size.
    pub(super) jars: BTreeMap<Jar, f64>,
    /// Lids left.
    pub(super) lids: Option<f64>,
    /// Fruit of each method in batches already begun, grams.
    pub(super) begun_of: Vec<i64>,
    /// Fruit of each method in batches already begun, by day, grams.
    pub(super) begun_on: Vec<Vec<i64>>,
}

impl<'a> Table<'a> {
    /// Sorts a problem.
    ///
    /// # Errors
    /// What is wrong with it.
    pub(super) fn new(problem: &'a Problem) -> Result<Self, PlanError> {
        check(problem)?;
        let pools = pools(problem);
        let mut table = Self {
            problem,
            days: problem.days,
            slots: slots(problem, &pools),
            pools,
            caps: (0..problem.days).map(|day| caps(problem, day)).collect(),
            freezer_room: problem.stock.freezer_grams.map_or(NO_LIMIT, |grams| grams.0),
            jars: problem.stock.jars.iter().map(|(jar, n)| (*jar, f64::from(*n))).collect(),
            lids: problem.stock.lids.map(f64::from),
            begun_of: vec![0; problem.methods.len()],
            begun_on: vec![vec![0; problem.days]; problem.methods.len()],
        };
        table.take_begun();
        table.place_pins()?;
        Ok(table)
    }

    pub(super) fn way(&self, slot: &Slot) -> &'a Way {
        &self.problem.methods[slot.way]
    }

    pub(super) fn lot(&self, pool: &Pool) -> &'a Lot {
        &self.problem.lots[pool.lot]
    }

    /// The room each lot stands in now, if it says so.
    pub(super) fn rooms_now(&self) -> Vec<Option<usize>> {
        self.problem.lots.iter().map(standing_room).collect()
    }

    /// Rooms to begin with: each lot where it stands, or else in the first of its rooms that has
    /// place for it.
    pub(super) fn rooms_first(&self) -> Result<Vec<usize>, PlanError> {
        let mut left: BTreeMap<&str, i64> = BTreeMap::new();
        for room in &self.problem.rooms {
            left.extend(room.holds_grams.map(|grams| (room.id.as_str(), grams.0)));
        }
        let mut found = vec![0; self.problem.lots.len()];
        let mut order: Vec<usize> = (0..found.len()).collect();
        order.sort_by_key(|at| standing_room(&self.problem.lots[*at]).is_none());
        for at in order {
            let lot = &self.problem.lots[at];
            let holds = |room: &usize| {
                left.get(lot.rooms[*room].room.as_str())
                    .is_none_or(|left| *left >= lot.most_grams().0)
            };
            let room = standing_room(lot).into_iter().chain(0..lot.rooms.len()).find(holds);
            let room = room.ok_or(PlanError::RoomsFull)?;
            left.entry(&lot.rooms[room].room).and_modify(|left| *left -= lot.most_grams().0);
            found[at] = room;
        }
        Ok(found)
    }

    /// Whether the rooms hold the lots so.
    pub(super) fn rooms_hold(&self, rooms: &[usize]) -> bool {
        self.problem.rooms.iter().all(|room| {
            let here = self.problem.lots.iter().zip(rooms);
            let here = here.filter(|(lot, at)| lot.rooms[**at].room == room.id);
            let grams: i64 = here.map(|(lot, _)| lot.most_grams().0).sum();
            room.holds_grams.is_none_or(|holds| grams <= holds.0)
        })
    }

    /// What was begun is finished whatever the limits; the rest of the day has what is left.
    fn take_begun(&mut self) {
        for begun in &self.problem.begun {
            let Some(day) = self.problem.index(begun.day) else { continue };
            let found = self.problem.methods.iter().position(|way| way.id == begun.method);
            let Some(at) = found else { continue };
            let way = &self.problem.methods[at];
            let grams = begun.grams().0;
            let kg = grams as f64 / 1000.0;
            let loads = loads_for(way, grams);
            let caps = &mut self.caps[day];
            let minutes =
                |m: &super::problem::Minutes| m.a_batch + m.a_kg * kg + m.a_load * f64::from(loads);
            caps.hands = (caps.hands - minutes(&way.hands)).max(0.0);
            caps.burners = (caps.burners - minutes(&way.burners)).max(0.0);
            caps.loads = caps.loads.saturating_sub(loads);
            match way.kind {
                Kind::Dry => caps.dryer = (caps.dryer - grams).max(0),
                Kind::Freeze => {
                    caps.freezer = (caps.freezer - grams).max(0);
                    self.freezer_room = (self.freezer_room - grams).max(0);
                }
                _ => {}
            }
            if let Some(jar) = way.jar {
                let jars = grams as f64 / jar.grams;
                self.jars.entry(jar.size).and_modify(|left| *left = (*left - jars).max(0.0));
                self.lids = self.lids.map(|left| (left - jars).max(0.0));
            }
            self.begun_of[at] += grams;
            self.begun_on[at][day] += grams;
        }
    }

    /// A pin takes the slot of its method and day; of several groups, the one with most fruit by
    /// then.
    fn place_pins(&mut self) -> Result<(), PlanError> {
        for pin in &self.problem.pins {
            let day = self.problem.index(pin.day).unwrap_or(0);
            let named = |pool: usize| {
                let lot = &self.lot(&self.pools[pool]).id;
                pin.lots.is_empty() || pin.lots.contains(lot)
            };
            let there = |slot: &Slot| -> i64 {
                let pools = slot.pools.iter().filter(|pool| named(**pool));
                pools.map(|pool| self.pools[*pool].most_by(slot.taken)).sum()
            };
            let free = self.slots.iter().enumerate().filter(|(_, slot)| {
                slot.day == day && self.way(slot).id == pin.method && slot.pin.is_none()
            });
            let best = free
                .map(|(at, slot)| (there(slot), at))
                .filter(|(grams, _)| *grams > 0)
                .max_by_key(|(grams, at)| (*grams, std::cmp::Reverse(*at)));
            let Some((_, at)) = best else {
                let reason = if day == 0
                    && self
                        .problem
                        .methods
                        .iter()
                        .any(|way| way.id == pin.method && way.overnight())
                {
                    "it must be begun the evening before, which is over".to_owned()
                } else {
                    "no fruit that it takes, fit for it and not dropped, is ready by then"
                        .to_owned()
                };
                return Err(PlanError::Impossible { batch: pin_words(pin), reason });
            };
            let keep: Vec<usize> =
                self.slots[at].pools.iter().copied().filter(|pool| named(*pool)).collect();
            let slot = &mut self.slots[at];
            slot.pools = keep;
            slot.pin = Some(pin.grams.map(|grams| grams.0));
        }
        Ok(())
    }
}

/// A pin in words.
pub(super) fn pin_words(pin: &super::problem::Pin) -> String {
    let grams = pin.grams.map_or(String::new(), |grams| format!("{:.1} kg of ", grams.kg()));
    format!("the pinned batch, {grams}{} on {}", pin.method, pin.day)
}

/// Canner loads for so much fruit.
pub(super) fn loads_for(way: &Way, grams: i64) -> u32 {
    way.jar.map_or(0, |jar| {
        let loads = grams as f64 / jar.load_grams();
        // A thousandth of a load is a gram or two: rounding, not another load.
        libm::ceil(loads - 1e-3).max(0.0) as u32
    })
}

/// Whether a batch of it costs something however small it is.
pub(super) fn has_fixed(way: &Way) -> bool {
    let evening = way.evening.map_or(0.0, |minutes| minutes.a_batch);
    way.hands.a_batch > 0.0
        || evening > 0.0
        || way.burners.a_batch > 0.0
        || way.least_grams > Grams::ZERO
        || way.most_grams.is_some()
}

fn standing_room(lot: &Lot) -> Option<usize> {
    let now = lot.standing.as_ref()?;
    lot.rooms.iter().position(|room| room.room == *now)
}

/// The class of a lot's ready fruit.
pub(super) fn ready_class(lot: &Lot) -> ClassId {
    lot.ready_class.clone().unwrap_or_else(|| match crops::class(&lot.crop, &lot.class) {
        Some(class) if class.ripens => ClassId::from("ripe"),
        _ => lot.class.clone(),
    })
}

fn pools(problem: &Problem) -> Vec<Pool> {
    let mut pools = Vec::new();
    for (at, lot) in problem.lots.iter().enumerate() {
        let ready: Vec<Flow> = lot
            .rooms
            .iter()
            .map(|room| {
                let each = |day: usize| room.ready_grams.get(day).map_or(0, |grams| grams.0);
                flow(problem.days, each, Some(room.keeps_days))
            })
            .collect();
        if ready.iter().any(|flow| flow.ready_by[problem.days - 1] > 0) {
            pools.push(Pool { lot: at, waiting: false, by_room: ready });
        }
        if lot.waiting_grams > Grams::ZERO {
            let each = |day: usize| if day == 0 { lot.waiting_grams.0 } else { 0 };
            let by_room = vec![flow(problem.days, each, lot.waiting_keeps_days)];
            pools.push(Pool { lot: at, waiting: true, by_room });
        }
    }
    pools
}

fn flow(days: usize, each: impl Fn(usize) -> i64, keeps: Option<u32>) -> Flow {
    let mut sum = 0;
    let ready_by: Vec<i64> = (0..days)
        .map(|day| {
            sum += each(day);
            sum
        })
        .collect();
    let keeps = keeps.map_or(usize::MAX, |days| days as usize);
    let gone_by =
        (0..days).map(|day| day.checked_sub(keeps).map_or(0, |then| ready_by[then])).collect();
    Flow { ready_by, gone_by }
}

fn slots(problem: &Problem, pools: &[Pool]) -> Vec<Slot> {
    let mut groups: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for (at, pool) in pools.iter().enumerate() {
        let lot = &problem.lots[pool.lot];
        let class = if pool.waiting { lot.class.clone() } else { ready_class(lot) };
        groups
            .entry((lot.crop.clone(), class, lot.uses, &lot.fitness, pool.waiting))
            .or_default()
            .push(at);
    }
    let mut slots = Vec::new();
    for (group, ((crop, class, uses, _, _), members)) in groups.iter().enumerate() {
        for (at, way) in problem.methods.iter().enumerate() {
            let fit = way.kind.needs().is_none_or(|needed| uses.allows(needed));
            if !fit || !way.takes(crop, class) {
                continue;
            }
            for day in usize::from(way.overnight())..problem.days {
                let taken = day - usize::from(way.overnight());
                let allowed = |pool: &usize| {
                    let lot = &problem.lots[pools[*pool].lot].id;
                    pools[*pool].most_by(taken) > 0 && !dropped(problem, way, day, lot)
                };
                let members: Vec<usize> = members.iter().copied().filter(allowed).collect();
                if !members.is_empty() {
                    slots.push(Slot { way: at, group, day, taken, pools: members, pin: None });
                }
            }
        }
    }
    slots
}

fn dropped(problem: &Problem, way: &Way, day: usize, lot: &str) -> bool {
    problem.drops.iter().any(|drop| {
        let said = drop.method.is_some() || drop.day.is_some() || drop.lot.is_some();
        said && drop.method.as_ref().is_none_or(|id| *id == way.id)
            && drop.day.is_none_or(|on| on == problem.day(day))
            && drop.lot.as_ref().is_none_or(|id| id == lot)
    })
}

pub(super) fn caps(problem: &Problem, day: usize) -> Caps {
    let usual = &problem.a_day;
    let told = problem.by_day.get(&problem.day(day)).copied().unwrap_or_default();
    let grams = |told: Option<Grams>, usual: Option<Grams>, none: i64| {
        told.or(usual).map_or(none, |grams| grams.0)
    };
    Caps {
        hands: told.hands_minutes.or(usual.hands_minutes).unwrap_or(USUAL_HANDS),
        burners: told.burner_minutes.or(usual.burner_minutes).unwrap_or(NO_LIMIT as f64),
        loads: told.canner_loads.or(usual.canner_loads).unwrap_or(USUAL_LOADS),
        dryer: grams(told.dryer_grams, usual.dryer_grams, 0),
        freezer: grams(told.freezer_grams, usual.freezer_grams, NO_LIMIT),
    }
}
