//! The search: a start from the relaxation, then parts set free and solved with the rest held.
//!
//! Branch and bound on the whole model gives a good bound and finds no plan of its own. So the
//! relaxation shows which batches are worth making; they are put in one by one as far as limits
//! allow; and then a few days, a method, or a group of lots at a time is set free and solved to
//! (nearly) the best while the rest is held, round and round until nothing improves or the nodes
//! are spent. What nodes are left go into the bound. Everything is counted in nodes and nothing in
//! seconds, and ties go by order, so that every device finds the same plan.

use std::collections::BTreeSet;

use super::desk::{Decided, Desk};
use super::fault::PlanError;
use super::mip::{self, Found, How, Whole};
use super::shape::Shape;
use super::simple;
use super::solve::{Effort, Progress};
use super::table::{Slot, Table};
use super::write::{ledgers, value};

/// Nodes one small part may cost. Few: what is not solved by then is worth another look later.
const PART_NODES: u64 = 100;
/// Nodes one large part may cost.
const LARGE_NODES: u64 = 250;
/// What setting up a part costs, in nodes: its first relaxation.
const SET_UP_NODES: u64 = 15;
/// A part is good enough this near its best.
const PART_GAP: f64 = 5e-4;
/// Less is rounding, not an improvement: a gram.
const IMPROVES: f64 = 1e-3;
/// Days set free together in small parts, and in large ones.
const WINDOWS: [usize; 2] = [3, 5];
/// Days decided together in the start that goes day by day, its nodes and how near its best.
const STEP: usize = 2;
const STEP_NODES: u64 = 40;
const STEP_GAP: f64 = 2e-3;
/// The share of the nodes kept for the bound.
const BOUND_SHARE: f64 = 0.15;
/// A node of the whole model takes about as long as so many of a part.
const WHOLE_NODE: u64 = 3;

/// The search while it runs.
pub(super) struct Search<'a> {
    pub(super) table: &'a Table<'a>,
    pub(super) shape: Shape,
    pub(super) best: Decided,
    pub(super) value: f64,
    pub(super) bound: f64,
    pub(super) nodes: u64,
}

/// A set of columns to set free.
type Part = Vec<usize>;

impl<'a> Search<'a> {
    /// Begins: the relaxation and the best of the starts.
    pub(super) fn begin(table: &'a Table<'a>) -> Result<Self, PlanError> {
        let shape = Shape::new(table);
        let free = vec![None; shape.model.columns.len()];
        let how = How { whole: Whole::None, nodes: 0, gap: 0.0, start: None };
        let relaxed = mip::solve(&shape.model, &free, how).map_err(PlanError::Solver)?;
        let relaxed = relaxed.and_then(|found| Some((found.values?, found.bound?)));
        let rooms = table.rooms_first()?;
        let first = simple::simple(table, rooms.clone());
        let Some((values, bound)) = relaxed else {
            // The simple rule tells in words which pin cannot be.
            let told = "its limits and pins contradict each other".to_owned();
            return Err(first.err().unwrap_or(PlanError::Solver(told)));
        };
        let relaxed_rooms = shape.rooms_of(table, &values).unwrap_or_else(|| rooms.clone());
        let starts = [
            first,
            guided(table, &shape, &values, rooms),
            guided(table, &shape, &values, relaxed_rooms.clone()),
            simple::simple(table, relaxed_rooms),
        ];
        let worth = |decided: &Decided| value(table, decided, &ledgers(table, decided));
        let mut best: Option<(f64, Decided)> = None;
        let mut told = None;
        for start in starts {
            match start {
                Ok(start) => {
                    let its = worth(&start);
                    if best.as_ref().is_none_or(|(best, _)| its > *best) {
                        best = Some((its, start));
                    }
                }
                // The first says it for lots where they stand.
                Err(error) => told = told.or(Some(error)),
            }
        }
        let Some(best) = best else {
            return Err(told.unwrap_or_else(|| PlanError::Solver("there is no start".to_owned())));
        };
        let (value, best) = best;
        Ok(Self { table, shape, best, value, bound, nodes: SET_UP_NODES })
    }

    /// Another start: the rooms are chosen first, then the batches of a few days at a time, with
    /// the days before held and those after relaxed.
    fn day_by_day(&mut self) {
        let columns = self.shape.model.columns.len();
        let mut held = vec![None; columns];
        let rooms: Part = self.shape.z.iter().flatten().copied().collect();
        let days = (0..self.table.days).step_by(STEP);
        let days = days.map(|first| self.batches(&|s| (first..first + STEP).contains(&s.day)));
        let steps = std::iter::once(rooms).chain(days).collect::<Vec<_>>();
        let mut values = None;
        for step in steps.into_iter().filter(|step| !step.is_empty()) {
            let mut whole = vec![false; columns];
            for column in &step {
                whole[*column] = true;
            }
            let whole = Whole::Some(&whole);
            let how = How { whole, nodes: STEP_NODES, gap: STEP_GAP, start: None };
            self.nodes += SET_UP_NODES;
            // A step that finds nothing in its nodes leaves the other starts.
            let Ok(Some(found)) = mip::solve(&self.shape.model, &held, how) else { return };
            self.nodes += found.nodes * WHOLE_NODE;
            let Some(step_values) = found.values else { return };
            for column in step {
                held[column] = Some(step_values[column]);
            }
            self.shape.empty(&mut held);
            values = Some(step_values);
        }
        let found = Found { values, bound: None, nodes: 0 };
        self.take(&found);
    }

    /// Improves the plan, then the bound, until the nodes are spent.
    pub(super) fn run(&mut self, effort: Effort, progress: &mut dyn FnMut(Progress)) {
        let share = effort.nodes - (effort.nodes as f64 * BOUND_SHARE) as u64;
        let mut tell = |search: &Self| {
            progress(Progress {
                nodes: search.nodes.min(effort.nodes),
                of: effort.nodes,
                objective: search.value,
                bound: Some(search.bound),
            });
        };
        tell(self);
        if self.nodes < share {
            self.day_by_day();
            tell(self);
        }
        // A round of parts without any improvement ends the small ones, then the large ones.
        for (parts, nodes) in [(self.small(), PART_NODES), (self.large(), LARGE_NODES)] {
            let mut idle = 0;
            for part in parts.iter().cycle().take(parts.len() * 20) {
                if self.nodes >= share || idle >= parts.len() || self.is_done() {
                    break;
                }
                idle = if self.improve(part, nodes) { 0 } else { idle + 1 };
                tell(self);
            }
        }
        self.tighten(effort.nodes);
        tell(self);
    }

    fn is_done(&self) -> bool {
        self.bound - self.value <= IMPROVES
    }

    /// Solves with the part free and the rest held. Says whether the plan is better for it.
    pub(super) fn improve(&mut self, part: &Part, nodes: u64) -> bool {
        let now = self.shape.values(self.table, &self.best);
        let mut held = self.shape.held(&now);
        for column in part {
            held[*column] = None;
        }
        self.shape.empty(&mut held);
        let how = How { whole: Whole::All, nodes, gap: PART_GAP, start: Some(&now) };
        self.nodes += SET_UP_NODES;
        // A part the solver fails on is passed over: the plan stays as it was.
        let Ok(Some(found)) = mip::solve(&self.shape.model, &held, how) else { return false };
        self.nodes += found.nodes;
        self.take(&found)
    }

    fn take(&mut self, found: &Found) -> bool {
        let Some(values) = &found.values else { return false };
        let decided = self.shape.decided(self.table, values);
        let worth = value(self.table, &decided, &ledgers(self.table, &decided));
        let better = worth > self.value + IMPROVES;
        if better {
            self.value = worth;
            self.best = decided;
        }
        better
    }

    /// Branch and bound on the whole model, for the bound.
    fn tighten(&mut self, nodes: u64) {
        let Some(left) = nodes.checked_sub(self.nodes).filter(|left| *left > 0) else { return };
        if self.is_done() {
            return;
        }
        // What the search found stands; this is for the bound, and takes a better plan as it comes.
        let now = self.shape.values(self.table, &self.best);
        let free = vec![None; self.shape.model.columns.len()];
        let nodes = left.div_ceil(WHOLE_NODE);
        let how = How { whole: Whole::All, nodes, gap: 1e-5, start: Some(&now) };
        let Ok(Some(found)) = mip::solve(&self.shape.model, &free, how) else { return };
        self.nodes += found.nodes * WHOLE_NODE;
        self.take(&found);
        if let Some(bound) = found.bound {
            self.bound = self.bound.min(bound).max(self.value);
        }
    }

    /// Batches whose columns are set free.
    pub(super) fn batches(&self, wanted: &dyn Fn(&Slot) -> bool) -> Part {
        let whole = |at: usize| self.shape.y[at].into_iter().chain(self.shape.n[at]);
        let slots = self.table.slots.iter().enumerate();
        slots.filter(|(_, slot)| wanted(slot)).flat_map(|(at, _)| whole(at)).collect()
    }

    /// Small parts, in turn: groups with their rooms, windows of days, methods, all rooms.
    fn small(&self) -> Vec<Part> {
        let table = self.table;
        let mut parts = Vec::new();
        for group in 0..self.groups() {
            let mut part = self.batches(&|slot| slot.group == group);
            part.extend(self.rooms(&|slot| slot.group == group));
            parts.push(part);
        }
        parts.extend(self.windows(WINDOWS[0], false));
        for way in 0..table.problem.methods.len() {
            parts.push(self.batches(&|slot| slot.way == way));
        }
        parts.push(self.shape.z.iter().flatten().copied().collect());
        parts.retain(|part| !part.is_empty());
        parts
    }

    /// Large parts, in turn: longer windows with all rooms, two neighbouring groups, two methods.
    fn large(&self) -> Vec<Part> {
        let mut parts = self.windows(WINDOWS[1], true);
        let groups = self.groups();
        for first in 0..groups {
            let second = (first + 1) % groups;
            let both = |slot: &Slot| slot.group == first || slot.group == second;
            let mut part = self.batches(&both);
            part.extend(self.rooms(&both));
            parts.push(part);
        }
        let ways = self.table.problem.methods.len();
        for first in 0..ways {
            let second = (first + 1) % ways;
            parts.push(self.batches(&|slot| slot.way == first || slot.way == second));
        }
        parts.retain(|part| !part.is_empty());
        parts
    }

    fn groups(&self) -> usize {
        self.table.slots.iter().map(|slot| slot.group + 1).max().unwrap_or(0)
    }

    fn windows(&self, days: usize, rooms: bool) -> Vec<Part> {
        let firsts = (0..self.table.days).step_by(days - 1);
        let part = |first: usize| {
            let mut part = self.batches(&|slot| (first..first + days).contains(&slot.day));
            if rooms {
                part.extend(self.shape.z.iter().flatten());
            }
            part
        };
        firsts.map(part).collect()
    }

    /// Rooms of the lots in some slots.
    fn rooms(&self, wanted: &dyn Fn(&Slot) -> bool) -> Part {
        let table = self.table;
        let slots = table.slots.iter().filter(|slot| wanted(slot));
        let lots: BTreeSet<usize> =
            slots.flat_map(|slot| slot.pools.iter().map(|pool| table.pools[*pool].lot)).collect();
        lots.into_iter().flat_map(|lot| self.shape.z[lot].iter().copied()).collect()
    }
}

/// A start: the batches of the relaxation, fullest first, as far as the limits allow; then the
/// simple rule for what is left.
fn guided(
    table: &Table<'_>,
    shape: &Shape,
    values: &[f64],
    rooms: Vec<usize>,
) -> Result<Decided, PlanError> {
    let mut desk = Desk::new(table, rooms);
    simple::pins(&mut desk)?;
    let fruit = |at: usize| shape.x[at].iter().map(|x| values[*x]).sum::<f64>();
    let full = |at: usize| shape.y[at].map_or(1.0, |y| values[y]);
    let mut order: Vec<usize> = (0..table.slots.len())
        .filter(|at| table.slots[*at].pin.is_none() && fruit(*at) > 1e-3)
        .collect();
    order.sort_by(|a, b| {
        let key = |at: usize| (full(at), fruit(at));
        let ((full_a, fruit_a), (full_b, fruit_b)) = (key(*a), key(*b));
        full_b.total_cmp(&full_a).then(fruit_b.total_cmp(&fruit_a)).then(a.cmp(b))
    });
    for at in order {
        let slot = &table.slots[at];
        let way = table.way(slot);
        let loads = shape.n[at].map_or(1, |n| libm::ceil(values[n] - 1e-6).max(1.0) as u32);
        let asked = (fruit(at) * 1000.0) as i64;
        let most = desk.most(slot, loads).min(asked.max(way.least_grams.0));
        desk.fill(at, most, way.least_grams.0);
    }
    simple::rest(&mut desk);
    Ok(desk.decided())
}
