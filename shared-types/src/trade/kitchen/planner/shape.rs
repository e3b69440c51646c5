//! The problem as a mixed-integer model.
//!
//! Columns, weights in kilograms:
//! - `x(slot, pool)` fruit of a pool in a batch; `y(slot)` the batch is made; `n(slot)` canner loads
//! - `z(lot, room)` the lot stands in that room, for lots with a choice
//! - `c(pool, day)` fruit of a pool used or lost by the end of a day
//! - `k(method)` kilograms of a method up to what is wanted
//!
//! First in, first out needs no more than `c`: with `r` ripe by the end of a day and `g` what must
//! be gone by then because it keeps no longer,
//! `g(t) <= c(t) <= r(t)` and `c(t) >= c(t-1) + used(t)`; what `c` has beyond the use is lost.

use super::desk::{Decided, Made};
use super::ledger::Ledger;
use super::model::{Model, Sense};
use super::table::{LEAST_PIN, NO_LIMIT, Table, has_fixed, loads_for};
use super::write::kg;

/// The model, and where each thing stands in it.
#[derive(Debug)]
pub(super) struct Shape {
    pub(super) model: Model,
    /// By slot: columns of its pools, in the slot's order.
    pub(super) x: Vec<Vec<usize>>,
    /// By slot: the batch is made.
    pub(super) y: Vec<Option<usize>>,
    /// By slot: canner loads.
    pub(super) n: Vec<Option<usize>>,
    /// By lot: its rooms, where it has a choice.
    pub(super) z: Vec<Vec<usize>>,
    /// By pool and day.
    c: Vec<Vec<usize>>,
    /// By method.
    k: Vec<Option<usize>>,
}

impl Shape {
    pub(super) fn new(table: &Table<'_>) -> Self {
        let none = || vec![None; table.slots.len()];
        let mut shape = Self {
            model: Model::default(),
            x: Vec::new(),
            y: none(),
            n: none(),
            z: Vec::new(),
            c: Vec::new(),
            k: Vec::new(),
        };
        shape.rooms(table);
        shape.fruit(table);
        for at in 0..table.slots.len() {
            shape.slot(table, at);
        }
        shape.use_of_pools(table);
        super::rows::limits(&mut shape, table);
        shape.wants(table);
        shape
    }

    /// Each lot in one room, and no room over full.
    fn rooms(&mut self, table: &Table<'_>) {
        let moving = table.problem.worth.moving_kg;
        for (at, (lot, now)) in table.problem.lots.iter().zip(table.rooms_now()).enumerate() {
            let mut all = Vec::new();
            if lot.rooms.len() > 1 {
                for room in 0..lot.rooms.len() {
                    let moved = now.is_some_and(|now| now != room);
                    let worth = if moved { -moving } else { 0.0 };
                    all.push(self.model.whole(format!("z_{at}_{room}"), worth, 1.0));
                }
                let terms = all.iter().map(|z| (*z, 1.0)).collect();
                self.model.row(format!("one_room_{at}"), terms, Sense::Exactly, 1.0);
            }
            self.z.push(all);
        }
        for (r, room) in table.problem.rooms.iter().enumerate() {
            let Some(mut holds) = room.holds_grams.map(|grams| grams.0) else { continue };
            let mut terms = Vec::new();
            for (lot, z) in table.problem.lots.iter().zip(&self.z) {
                let Some(at) = lot.rooms.iter().position(|one| one.room == room.id) else {
                    continue;
                };
                match z.get(at) {
                    Some(z) => terms.push((*z, kg(lot.most_grams().0))),
                    None => holds -= lot.most_grams().0,
                }
            }
            self.model.row(format!("room_{r}"), terms, Sense::AtMost, kg(holds));
        }
    }

    /// What is gone of each pool by the end of each day.
    fn fruit(&mut self, table: &Table<'_>) {
        for (at, pool) in table.pools.iter().enumerate() {
            let z = if pool.waiting { Vec::new() } else { self.z[pool.lot].clone() };
            let flows: Vec<_> = (0..pool.rooms()).map(|room| pool.flow(room)).collect();
            let mut columns = Vec::new();
            for day in 0..table.days {
                let gone = flows.iter().map(|flow| flow.gone_by[day]);
                let (least, most) = (gone.min().unwrap_or(0), pool.most_by(day));
                let waste = table.problem.worth.waste;
                let worth = if day + 1 == table.days { -waste } else { 0.0 };
                let c = self.model.real(format!("c_{at}_{day}"), worth, kg(least), kg(most));
                columns.push(c);
                if flows.len() > 1 {
                    let by = |pick: &dyn Fn(usize) -> i64| {
                        let z = z.iter().enumerate().map(|(room, z)| (*z, -kg(pick(room))));
                        std::iter::once((c, 1.0)).chain(z).collect::<Vec<_>>()
                    };
                    let ready = by(&|room| flows[room].ready_by[day]);
                    self.model.row(format!("ready_{at}_{day}"), ready, Sense::AtMost, 0.0);
                    let gone = by(&|room| flows[room].gone_by[day]);
                    self.model.row(format!("gone_{at}_{day}"), gone, Sense::AtLeast, 0.0);
                }
            }
            self.c.push(columns);
        }
    }

    /// A batch: its fruit, whether it is made, its loads.
    fn slot(&mut self, table: &Table<'_>, at: usize) {
        let slot = &table.slots[at];
        let way = table.way(slot);
        let worth = table.problem.worth;
        let each = way.beyond() + worth.waste - worth.waiting_a_day * slot.day as f64;
        let there: Vec<i64> =
            slot.pools.iter().map(|pool| table.at_hand_most(*pool, slot.taken)).collect();
        let most = table.most(slot).min(there.iter().sum());
        // A slot that cannot reach its least stays empty; a pin there was refused before.
        let dead = most < way.least_grams.0.max(1) && slot.pin.is_none();
        let x: Vec<usize> = slot
            .pools
            .iter()
            .zip(&there)
            .map(|(pool, there)| {
                let most = if dead { 0.0 } else { kg((*there).min(most)) };
                self.model.real(format!("x_{at}_{pool}"), each, 0.0, most)
            })
            .collect();
        let sum = |factor: f64| x.iter().map(|x| (*x, factor)).collect::<Vec<_>>();
        let with = |mut terms: Vec<(usize, f64)>, other: (usize, f64)| {
            terms.push(other);
            terms
        };
        if has_fixed(way) && !dead {
            let y = self.model.whole(format!("y_{at}"), 0.0, 1.0);
            let up = with(sum(1.0), (y, -kg(most)));
            self.model.row(format!("made_{at}"), up, Sense::AtMost, 0.0);
            if way.least_grams.0 > 0 {
                let least = with(sum(1.0), (y, -kg(way.least_grams.0)));
                self.model.row(format!("least_{at}"), least, Sense::AtLeast, 0.0);
            }
            self.y[at] = Some(y);
        }
        if let (Some(jar), false) = (way.jar, dead) {
            let loads = f64::from(loads_for(way, most).min(table.caps[slot.day].loads));
            let n = self.model.whole(format!("n_{at}"), 0.0, loads);
            let full = with(sum(1.0), (n, -jar.load_grams() / 1000.0));
            self.model.row(format!("loads_{at}"), full, Sense::AtMost, 0.0);
            if let Some(y) = self.y[at] {
                let some = vec![(n, 1.0), (y, -1.0)];
                self.model.row(format!("some_load_{at}"), some, Sense::AtLeast, 0.0);
            }
            self.n[at] = Some(n);
        }
        if let Some(asked) = slot.pin {
            match asked {
                Some(grams) => {
                    self.model.row(format!("pin_{at}"), sum(1.0), Sense::Exactly, kg(grams));
                }
                None => {
                    let least = kg(way.least_grams.0.max(LEAST_PIN));
                    self.model.row(format!("pin_{at}"), sum(1.0), Sense::AtLeast, least);
                }
            }
            if let Some(y) = self.y[at] {
                self.model.columns[y].least = 1.0;
            }
        }
        self.x.push(x);
    }

    /// What is used is gone.
    fn use_of_pools(&mut self, table: &Table<'_>) {
        let mut used: Vec<Vec<Vec<usize>>> = vec![vec![Vec::new(); table.days]; table.pools.len()];
        for (slot, x) in table.slots.iter().zip(&self.x) {
            for (pool, x) in slot.pools.iter().zip(x) {
                used[*pool][slot.taken].push(*x);
            }
        }
        for (pool, by_day) in used.into_iter().enumerate() {
            for (day, used) in by_day.into_iter().enumerate() {
                let mut terms = vec![(self.c[pool][day], 1.0)];
                terms.extend(day.checked_sub(1).map(|day| (self.c[pool][day], -1.0)));
                terms.extend(used.into_iter().map(|x| (x, -1.0)));
                self.model.row(format!("use_{pool}_{day}"), terms, Sense::AtLeast, 0.0);
            }
        }
    }

    /// What is wanted is worth more than what is beyond.
    fn wants(&mut self, table: &Table<'_>) {
        for (at, way) in table.problem.methods.iter().enumerate() {
            let begun = kg(table.begun_of[at]);
            self.model.constant += way.beyond() * begun;
            let more = way.weight - way.beyond();
            let k = way.wanted_grams.filter(|_| more > 0.0).map(|wanted| {
                let k = self.model.real(format!("k_{at}"), more, 0.0, kg(wanted.0));
                let mut terms = vec![(k, 1.0)];
                for (slot, x) in table.slots.iter().zip(&self.x) {
                    if slot.way == at {
                        terms.extend(x.iter().map(|x| (*x, -1.0)));
                    }
                }
                self.model.row(format!("wanted_{at}"), terms, Sense::AtMost, begun);
                k
            });
            self.k.push(k);
        }
    }

    /// The columns' values for what was decided.
    pub(super) fn values(&self, table: &Table<'_>, decided: &Decided) -> Vec<f64> {
        let mut values = vec![0.0; self.model.columns.len()];
        for (z, room) in self.z.iter().zip(&decided.rooms) {
            if let Some(z) = z.get(*room) {
                values[*z] = 1.0;
            }
        }
        let mut of_method: Vec<i64> = table.begun_of.clone();
        for made in &decided.made {
            let slot = &table.slots[made.slot];
            of_method[slot.way] += made.grams();
            for (pool, grams) in &made.parts {
                if let Some(at) = slot.pools.iter().position(|one| one == pool) {
                    values[self.x[made.slot][at]] = kg(*grams);
                }
            }
            if let Some(y) = self.y[made.slot] {
                values[y] = 1.0;
            }
            if let Some(n) = self.n[made.slot] {
                values[n] = f64::from(loads_for(table.way(slot), made.grams()).max(1));
            }
        }
        let ledgers = super::write::ledgers(table, decided);
        for ((pool, ledger), columns) in table.pools.iter().zip(&ledgers).zip(&self.c) {
            let gone = ledger.gone(pool.flow(decided.rooms[pool.lot]));
            for (column, gone) in columns.iter().zip(gone) {
                values[*column] = kg(gone);
            }
        }
        for ((k, grams), way) in self.k.iter().zip(&of_method).zip(&table.problem.methods) {
            if let (Some(k), Some(wanted)) = (k, way.wanted_grams) {
                values[*k] = kg(wanted.0.min(*grams));
            }
        }
        values
    }

    /// The rooms of the relaxation, each lot in the one it stands in most; `None` when a room would
    /// not hold them.
    pub(super) fn rooms_of(&self, table: &Table<'_>, values: &[f64]) -> Option<Vec<usize>> {
        let most = |z: &Vec<usize>| {
            let rooms = (0..z.len()).rev();
            rooms.max_by(|a, b| values[z[*a]].total_cmp(&values[z[*b]])).unwrap_or(0)
        };
        let rooms: Vec<usize> = self.z.iter().map(most).collect();
        table.rooms_hold(&rooms).then_some(rooms)
    }

    /// Whole columns held at their values, all others free.
    pub(super) fn held(&self, values: &[f64]) -> Vec<Option<f64>> {
        let columns = self.model.columns.iter().zip(values);
        columns.map(|(column, value)| column.whole.then_some(*value)).collect()
    }

    /// Holds the fruit of batches that are held as not made, so that the part is small.
    pub(super) fn empty(&self, held: &mut [Option<f64>]) {
        for ((x, y), n) in self.x.iter().zip(&self.y).zip(&self.n) {
            let none = |column: &Option<usize>| column.is_some_and(|at| held[at] == Some(0.0));
            if none(y) || none(n) {
                for x in x {
                    held[*x] = Some(0.0);
                }
            }
        }
    }

    /// What was decided, read from the columns: whole grams, rounded down.
    pub(super) fn decided(&self, table: &Table<'_>, values: &[f64]) -> Decided {
        let rooms: Vec<usize> =
            self.z.iter().map(|z| z.iter().position(|z| values[*z] > 0.5).unwrap_or(0)).collect();
        let down = |kg: f64| libm::floor(kg * 1000.0 + 1e-3).max(0.0) as i64;
        let mut ledgers = vec![Ledger::new(table.days); table.pools.len()];
        let mut made = Vec::new();
        let mut missing = Vec::new();
        for (at, (slot, x)) in table.slots.iter().zip(&self.x).enumerate() {
            let whole: f64 = x.iter().map(|x| values[*x]).sum();
            let parts: Vec<(usize, i64)> =
                slot.pools.iter().copied().zip(x.iter().map(|x| down(values[*x]))).collect();
            let sum: i64 = parts.iter().map(|(_, grams)| grams).sum();
            if sum == 0 {
                continue;
            }
            for (pool, grams) in &parts {
                ledgers[*pool].take(slot.taken, *grams);
            }
            missing.push(down(whole) - sum);
            made.push(Made { slot: at, parts });
        }
        // The grams that rounding took from a batch go back into it where a pool has them.
        for (made, mut missing) in made.iter_mut().zip(missing) {
            let taken = table.slots[made.slot].taken;
            for (pool, grams) in &mut made.parts {
                if missing > 0 && *grams > 0 {
                    let flow = table.pools[*pool].flow(rooms[table.pools[*pool].lot]);
                    let more = ledgers[*pool].room(flow, taken).clamp(0, missing);
                    ledgers[*pool].take(taken, more);
                    *grams += more;
                    missing -= more;
                }
            }
            made.parts.retain(|(_, grams)| *grams > 0);
        }
        Decided { rooms, made }
    }
}

impl Table<'_> {
    /// Most of a pool that can be there on a day: ready by then and not lost before.
    pub(super) fn at_hand_most(&self, pool: usize, day: usize) -> i64 {
        let pool = &self.pools[pool];
        let before = |room: usize| day.checked_sub(1).map_or(0, |day| pool.flow(room).gone_by[day]);
        let there = (0..pool.rooms()).map(|room| pool.flow(room).ready_by[day] - before(room));
        there.max().unwrap_or(0)
    }

    /// The most grams one batch in a slot may hold on an empty day.
    fn most(&self, slot: &super::table::Slot) -> i64 {
        let rooms = vec![0; self.problem.lots.len()];
        let desk = super::desk::Desk::new(self, rooms);
        desk.most(slot, self.caps[slot.day].loads).min(NO_LIMIT)
    }
}
