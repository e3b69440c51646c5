//! What is left of everything while batches are put in one by one.

use std::collections::BTreeMap;

use super::ledger::Ledger;
use super::plan::Limit;
use super::problem::Minutes;
use super::table::{Caps, Slot, Table, loads_for};
use crate::trade::methods::{Jar, Kind};

/// Rounding of minutes: a ten-millionth.
const SLACK: f64 = 1e-7;

/// A batch decided on: its slot and the grams from each pool.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Made {
    pub(super) slot: usize,
    pub(super) parts: Vec<(usize, i64)>,
}

impl Made {
    pub(super) fn grams(&self) -> i64 {
        self.parts.iter().map(|(_, grams)| grams).sum()
    }
}

/// What was decided: the room of each lot and the batches.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Decided {
    pub(super) rooms: Vec<usize>,
    pub(super) made: Vec<Made>,
}

/// What is left of everything.
#[derive(Clone, Debug)]
pub(super) struct Desk<'a> {
    pub(super) table: &'a Table<'a>,
    pub(super) rooms: Vec<usize>,
    pub(super) ledgers: Vec<Ledger>,
    hands: Vec<f64>,
    burners: Vec<f64>,
    loads: Vec<u32>,
    dryer: Vec<i64>,
    freezer: Vec<i64>,
    freezer_room: i64,
    jars: BTreeMap<Jar, f64>,
    lids: Option<f64>,
    /// By method and day, where there is such a limit.
    of_method: Vec<Vec<i64>>,
    pub(super) made: Vec<Made>,
}

impl<'a> Desk<'a> {
    pub(super) fn new(table: &'a Table<'a>, rooms: Vec<usize>) -> Self {
        let of_method = table.problem.methods.iter().zip(&table.begun_on).map(|(way, begun)| {
            let most = way.most_a_day_grams.map_or(super::table::NO_LIMIT, |grams| grams.0);
            begun.iter().map(|begun| (most - begun).max(0)).collect()
        });
        Self {
            rooms,
            ledgers: vec![Ledger::new(table.days); table.pools.len()],
            hands: table.caps.iter().map(|caps| caps.hands).collect(),
            burners: table.caps.iter().map(|caps| caps.burners).collect(),
            loads: table.caps.iter().map(|caps| caps.loads).collect(),
            dryer: table.caps.iter().map(|caps| caps.dryer).collect(),
            freezer: table.caps.iter().map(|caps| caps.freezer).collect(),
            freezer_room: table.freezer_room,
            jars: table.jars.clone(),
            lids: table.lids,
            of_method: of_method.collect(),
            made: Vec::new(),
            table,
        }
    }

    /// Fruit of the pools of a slot that may still go in, by pool, what is lost first first.
    pub(super) fn fruit(&self, slot: &Slot) -> Vec<(usize, i64)> {
        let mut there: Vec<(usize, usize, i64)> = slot
            .pools
            .iter()
            .map(|at| {
                let pool = &self.table.pools[*at];
                let flow = pool.flow(self.rooms[pool.lot]);
                let ledger = &self.ledgers[*at];
                let lost = ledger.at_hand(flow, slot.taken).1.unwrap_or(usize::MAX);
                (lost, *at, ledger.room(flow, slot.taken))
            })
            .filter(|(_, _, grams)| *grams > 0)
            .collect();
        there.sort_unstable();
        there.into_iter().map(|(_, at, grams)| (at, grams)).collect()
    }

    /// The most grams a new batch in a slot may hold, by everything but the fruit, in at most so
    /// many canner loads.
    pub(super) fn most(&self, slot: &Slot, loads: u32) -> i64 {
        let way = self.table.way(slot);
        let mut most = way.most_grams.map_or(i64::MAX, |grams| grams.0);
        most = most.min(self.of_method[slot.way][slot.day]);
        if let Some(jar) = way.jar {
            let by_jars = self.jars.get(&jar.size).copied().into_iter().chain(self.lids);
            let jars = by_jars.fold(f64::INFINITY, f64::min);
            most = most.min(whole(jars * jar.grams));
        }
        match way.kind {
            Kind::Dry => most = most.min(self.dryer[slot.day]),
            Kind::Freeze => most = most.min(self.freezer[slot.day]).min(self.freezer_room),
            _ => {}
        }
        // More loads hold more, and leave less time for each kilogram.
        let loads = loads.min(self.loads[slot.day]);
        let counts = if way.jar.is_some() { 1..=loads } else { 0..=0 };
        let by_work = |loads: u32| {
            let full = way.jar.map_or(i64::MAX, |jar| whole(f64::from(loads) * jar.load_grams()));
            full.min(within(&way.hands, self.hands[slot.day], loads)).min(within(
                &way.burners,
                self.burners[slot.day],
                loads,
            ))
        };
        most = most.min(counts.map(by_work).max().unwrap_or(0));
        if let Some(evening) = &way.evening {
            most = most.min(within(evening, self.hands[slot.taken], 0));
        }
        most.max(0)
    }

    /// Puts a batch in, and takes what it needs.
    pub(super) fn put(&mut self, made: Made) {
        let slot = &self.table.slots[made.slot];
        let way = self.table.way(slot);
        let grams = made.grams();
        let (kg, loads) = (grams as f64 / 1000.0, loads_for(way, grams));
        self.hands[slot.day] -= spent(&way.hands, kg, loads);
        self.burners[slot.day] -= spent(&way.burners, kg, loads);
        if let Some(evening) = &way.evening {
            self.hands[slot.taken] -= spent(evening, kg, 0);
        }
        self.loads[slot.day] = self.loads[slot.day].saturating_sub(loads);
        match way.kind {
            Kind::Dry => self.dryer[slot.day] -= grams,
            Kind::Freeze => {
                self.freezer[slot.day] -= grams;
                self.freezer_room -= grams;
            }
            _ => {}
        }
        if let Some(jar) = way.jar {
            let jars = grams as f64 / jar.grams;
            self.jars.entry(jar.size).and_modify(|left| *left -= jars);
            self.lids = self.lids.map(|left| left - jars);
        }
        self.of_method[slot.way][slot.day] -= grams;
        for (pool, grams) in &made.parts {
            self.ledgers[*pool].take(slot.taken, *grams);
        }
        self.made.push(made);
    }

    /// Puts as much as may be of so many grams in a slot, what is lost first first. Nothing when
    /// that is less than `least`.
    pub(super) fn fill(&mut self, at: usize, most: i64, least: i64) -> i64 {
        let slot = &self.table.slots[at];
        let mut left = most;
        let mut parts = Vec::new();
        for (pool, grams) in self.fruit(slot) {
            let part = grams.min(left);
            if part > 0 {
                parts.push((pool, part));
                left -= part;
            }
        }
        let grams = most - left;
        if grams < least.max(1) {
            return 0;
        }
        parts.sort_unstable();
        self.put(Made { slot: at, parts });
        grams
    }

    /// What was decided.
    pub(super) fn decided(self) -> Decided {
        Decided { rooms: self.rooms, made: self.made }
    }
}

/// Minutes of a batch.
pub(super) fn spent(minutes: &Minutes, kg: f64, loads: u32) -> f64 {
    minutes.a_batch + minutes.a_kg * kg + minutes.a_load * f64::from(loads)
}

/// The most grams within so many minutes.
fn within(minutes: &Minutes, left: f64, loads: u32) -> i64 {
    let free = left - spent(minutes, 0.0, loads) + SLACK;
    if free < 0.0 {
        0
    } else if minutes.a_kg > 0.0 {
        whole(free / minutes.a_kg * 1000.0)
    } else {
        i64::MAX
    }
}

/// Whole grams, rounded down but for what is rounding itself.
fn whole(grams: f64) -> i64 {
    libm::floor((grams + 1e-6).min(9e15)) as i64
}

impl Desk<'_> {
    /// The limit that leaves least room for more in a slot, and how many grams it leaves.
    pub(super) fn tightest(&self, at: usize) -> (Limit, i64) {
        let slot = &self.table.slots[at];
        let way = self.table.way(slot);
        let is_made = self.made.iter().any(|made| made.slot == at);
        let minutes = |all: &Minutes, left: f64| {
            let fixed = if is_made { 0.0 } else { all.a_batch };
            let loads = u32::from(way.jar.is_some());
            within(&Minutes { a_batch: fixed, ..*all }, left, loads)
        };
        let mut told = vec![
            (Limit::Hands, minutes(&way.hands, self.hands[slot.day])),
            (Limit::Burners, minutes(&way.burners, self.burners[slot.day])),
            (Limit::MethodDay, self.of_method[slot.way][slot.day]),
        ];
        if let Some(evening) = &way.evening {
            told.push((Limit::Hands, minutes(evening, self.hands[slot.taken])));
        }
        if let Some(jar) = way.jar {
            told.push((Limit::Canner, whole(f64::from(self.loads[slot.day]) * jar.load_grams())));
            let jars = |left: f64| whole((left * jar.grams).max(0.0));
            told.extend(self.jars.get(&jar.size).map(|left| (Limit::Jars, jars(*left))));
            told.extend(self.lids.map(|left| (Limit::Lids, jars(left))));
        }
        match way.kind {
            Kind::Dry => told.push((Limit::Dryer, self.dryer[slot.day])),
            Kind::Freeze => {
                told.push((Limit::Freezer, self.freezer[slot.day]));
                told.push((Limit::FreezerRoom, self.freezer_room));
            }
            _ => {}
        }
        told.into_iter().min_by_key(|(_, grams)| *grams).unwrap_or((Limit::NoMethod, 0))
    }

    /// What is left of a day.
    pub(super) fn left(&self, day: usize) -> Caps {
        Caps {
            hands: self.hands[day],
            burners: self.burners[day],
            loads: self.loads[day],
            dryer: self.dryer[day],
            freezer: self.freezer[day],
        }
    }

    /// Grams the freezer still holds.
    pub(super) fn left_freezer_room(&self) -> i64 {
        self.freezer_room
    }

    /// Jars left, of the sizes that are counted.
    pub(super) fn left_jars(&self) -> &BTreeMap<Jar, f64> {
        &self.jars
    }

    /// Lids left, where they are counted.
    pub(super) fn left_lids(&self) -> Option<f64> {
        self.lids
    }

    /// A desk on which everything decided lies.
    pub(super) fn of<'a>(table: &'a Table<'a>, decided: &Decided) -> Desk<'a> {
        let mut desk = Desk::new(table, decided.rooms.clone());
        for made in &decided.made {
            desk.put(made.clone());
        }
        desk
    }
}
