//! The greedy schedule.

use std::collections::BTreeMap;

use super::batch::{Jarred, whole_minutes, write};
use super::input::{Kitchen, KitchenLot};
use super::plan::{Batch, BatchFrom, LeftOver, NotForJars, PLAN_DAYS, PlanDay, SimplePlan};
use super::spoil::keeps_days;
use crate::ids::ClassId;
use crate::trade::crops;
use crate::trade::fitness::{Use, Uses};
use crate::trade::methods::{Jar, Kind, Method, kg_per_jar, load_jars, methods_for, process_time};
use crate::units::Grams;

/// Fewer jars are not worth a canner's heat; common practice.
const LEAST_JARS: u32 = 3;
/// Less than this is eaten, not frozen or dried; common practice.
const LEAST_PACK: Grams = Grams(500);
/// Jars tried after the household's own, largest first.
const OTHER_JARS: [Jar; 3] = [Jar::Quart, Jar::Pint, Jar::HalfPint];

const NOTE: &str = "The simple one: ripe and fit first, in order of how soon it spoils. It does \
    not look for the best plan. Hands-on minutes are common practice: set your own.";

/// Makes the simple plan.
pub fn simple_plan(kitchen: &Kitchen) -> SimplePlan {
    let mut desk = Desk::new(kitchen);
    for day in 0..PLAN_DAYS {
        desk.morning(day);
        for group in desk.groups() {
            desk.place_ready(day, &group);
        }
        for group in desk.groups() {
            desk.relish_green(day, &group);
        }
    }
    desk.close()
}

/// Lots that may go in one batch: one crop, one class of fruit, one fitness.
#[derive(Clone)]
struct Pool {
    uses: Uses,
    lots: Vec<usize>,
}

/// The plan while it is made.
struct Desk<'a> {
    kitchen: &'a Kitchen,
    /// Ready and not yet placed, by lot.
    ready: Vec<Grams>,
    /// The same as it stood the evening before.
    evening: Vec<Grams>,
    /// Not ready, and free to be used green, by lot.
    green: Vec<Grams>,
    /// Hands-on minutes left, by day.
    minutes: [f64; PLAN_DAYS],
    /// Canner loads left today.
    loads: u32,
    days: Vec<PlanDay>,
}

impl<'a> Desk<'a> {
    fn new(kitchen: &'a Kitchen) -> Self {
        let day_minutes = (kitchen.hours_per_day * 60.0).clamp(0.0, 24.0 * 60.0);
        let days = (0..PLAN_DAYS).map(|i| PlanDay {
            day: kitchen.today.plus(i as i32),
            batches: Vec::new(),
            hands_on_minutes: 0,
            loads: 0,
        });
        Self {
            kitchen,
            ready: vec![Grams::ZERO; kitchen.lots.len()],
            evening: vec![Grams::ZERO; kitchen.lots.len()],
            green: kitchen.lots.iter().map(free_green).collect(),
            minutes: [day_minutes; PLAN_DAYS],
            loads: 0,
            days: days.collect(),
        }
    }

    fn morning(&mut self, day: usize) {
        self.loads = self.kitchen.loads_per_day;
        self.evening.clone_from(&self.ready);
        for (pool, lot) in self.ready.iter_mut().zip(&self.kitchen.lots) {
            *pool += ready_on(lot, day);
        }
    }

    /// Lots that may share a batch, what spoils first at the front.
    fn groups(&self) -> Vec<Pool> {
        let mut by_fitness: BTreeMap<_, Vec<usize>> = BTreeMap::new();
        for (i, lot) in self.kitchen.lots.iter().enumerate() {
            let key = (&lot.crop, &lot.class, &lot.fitness.rule, lot.fitness.uses);
            by_fitness.entry(key).or_default().push(i);
        }
        let keeps = |i: &usize| keeps_days(&self.kitchen.lots[*i]);
        let mut pools: Vec<Pool> = by_fitness
            .into_iter()
            .map(|((_, _, _, uses), mut lots)| {
                lots.sort_by(|a, b| keeps(a).total_cmp(&keeps(b)));
                Pool { uses, lots }
            })
            .collect();
        pools.sort_by(|a, b| keeps(&a.lots[0]).total_cmp(&keeps(&b.lots[0])));
        pools
    }

    fn place_ready(&mut self, day: usize, pool: &Pool) {
        let lot = &self.kitchen.lots[pool.lots[0]];
        let class = ready_class(lot);
        while pool.uses.allows(Use::Jar)
            && let Some((method, jarred)) = self.best_jar(day, pool, lot, &class, false)
        {
            self.make(day, pool, method, Some(jarred), None, false);
        }
        let first = |kind| methods_for(&lot.crop, &class, kind).next();
        if pool.uses.allows(Use::Freeze)
            && let Some(method) = first(Kind::Freeze)
        {
            let room = self.room_left(day, Kind::Freeze, self.kitchen.freezer_per_day);
            self.pack(day, pool, method, room, LEAST_PACK);
        }
        if pool.uses.allows(Use::Dry)
            && let Some(method) = first(Kind::Dry)
        {
            let room = self.room_left(day, Kind::Dry, Some(self.kitchen.dryer_per_day));
            self.pack(day, pool, method, room, LEAST_PACK);
        }
        if pool.uses.allows(Use::Fresh)
            && let Some(method) = first(Kind::Fresh)
        {
            let room = self.room_left(day, Kind::Fresh, Some(self.kitchen.fresh_per_day));
            self.pack(day, pool, method, room, Grams(1));
        }
        let last_use = match pool.uses.best() {
            Some(Use::Feed) => first(Kind::Feed),
            None => first(Kind::Compost),
            _ => None,
        };
        if let Some(method) = last_use {
            self.pack(day, pool, method, Grams(i64::MAX), Grams(1));
        }
    }

    /// A load of relish from green fruit, with what is left of the day.
    fn relish_green(&mut self, day: usize, pool: &Pool) {
        let lot = &self.kitchen.lots[pool.lots[0]];
        if pool.uses.allows(Use::Jar)
            && let Some((method, jarred)) = self.best_jar(day, pool, lot, &lot.class, true)
        {
            self.make(day, pool, method, Some(jarred), None, true);
        }
    }

    /// The offered jar method that uses most of the pool today, within hours and loads.
    fn best_jar(
        &self,
        day: usize,
        pool: &Pool,
        lot: &KitchenLot,
        class: &ClassId,
        green: bool,
    ) -> Option<(&'static Method, Jarred)> {
        let mut best: Option<(u32, u32, &'static Method, Jarred)> = None;
        for method in methods_for(&lot.crop, class, Kind::Jar) {
            let Some(jarred) = self.fill(day, pool, method, green) else { continue };
            let kg = jarred_grams(method, &jarred).kg();
            // Relishes take turns; else the most whole kilograms, then the method's rank.
            let made = if green { self.times_made(method) } else { 0 };
            let saved = libm::round(kg) as u32;
            let better = best.as_ref().is_none_or(|(was_made, was_saved, ..)| {
                made < *was_made || (made == *was_made && saved > *was_saved)
            });
            if better {
                best = Some((made, saved, method, jarred));
            }
        }
        best.map(|(_, _, method, jarred)| (method, jarred))
    }

    fn times_made(&self, method: &Method) -> u32 {
        let batches = self.days.iter().flat_map(|day| &day.batches);
        batches.filter(|batch| batch.method == method.id).count() as u32
    }

    /// How many jars of a method the pool, the hours and one canner load allow.
    fn fill(&self, day: usize, pool: &Pool, method: &Method, green: bool) -> Option<Jarred> {
        let overnight = method.steps.iter().any(|step| step.evening_before);
        if self.loads == 0 || (overnight && day == 0) {
            return None;
        }
        let mine = self.kitchen.jar;
        let jars = std::iter::once(mine).chain(OTHER_JARS.into_iter().filter(|jar| *jar != mine));
        let altitude = self.kitchen.altitude;
        let (jar, process) =
            jars.filter_map(|jar| Some((jar, process_time(method, jar, altitude).ok()?))).next()?;
        let per_jar = kg_per_jar(method, jar)?.plan;
        let at_hand: Grams = pool.lots.iter().map(|i| self.at_hand(*i, green, overnight)).sum();
        let by_fruit = libm::floor(at_hand.kg() / per_jar + 1e-9) as u32;
        let mut count = by_fruit.min(load_jars(jar));
        while count >= LEAST_JARS {
            let jarred = Jarred { jar, count, process: process.clone(), altitude };
            let grams = jarred_grams(method, &jarred);
            if grams <= at_hand && self.hours_allow(day, method, grams) {
                return Some(jarred);
            }
            count -= 1;
        }
        None
    }

    fn at_hand(&self, lot: usize, green: bool, overnight: bool) -> Grams {
        match (green, overnight) {
            (true, _) => self.green[lot],
            (false, true) => self.evening[lot].min(self.ready[lot]),
            (false, false) => self.ready[lot],
        }
    }

    fn hours_allow(&self, day: usize, method: &Method, grams: Grams) -> bool {
        let (minutes, evening) = method.hands_on_minutes(grams.kg());
        let before = day.checked_sub(1).map_or(0.0, |day| self.minutes[day]);
        f64::from(whole_minutes(minutes)) <= self.minutes[day]
            && f64::from(whole_minutes(evening)) <= before
    }

    fn room_left(&self, day: usize, kind: Kind, a_day: Option<Grams>) -> Grams {
        let Some(a_day) = a_day else { return Grams(i64::MAX) };
        let batches = self.days[day].batches.iter().filter(|batch| batch.kind == kind);
        (a_day - batches.map(|batch| batch.grams).sum()).max(Grams::ZERO)
    }

    /// As much of the pool as room and hours allow, by a method without jars.
    fn pack(&mut self, day: usize, pool: &Pool, method: &Method, room: Grams, least: Grams) {
        let all: Grams = pool.lots.iter().map(|i| self.ready[*i]).sum();
        let mut grams = all.min(room);
        let (setup, _) = method.hands_on_minutes(0.0);
        let per_kg = method.hands_on_minutes(1.0).0 - setup;
        if per_kg > 0.0 {
            let kg = ((self.minutes[day] - setup - 1.0) / per_kg).max(0.0);
            grams = grams.min(Grams(libm::floor(kg * 1000.0) as i64));
        }
        if grams >= least && self.hours_allow(day, method, grams) {
            self.make(day, pool, method, None, Some(grams), false);
        }
    }

    fn make(
        &mut self,
        day: usize,
        pool: &Pool,
        method: &Method,
        jarred: Option<Jarred>,
        grams: Option<Grams>,
        green: bool,
    ) {
        let overnight = method.steps.iter().any(|step| step.evening_before);
        let mut wanted =
            grams.or_else(|| jarred.as_ref().map(|j| jarred_grams(method, j))).unwrap_or_default();
        let mut from = Vec::new();
        for &i in &pool.lots {
            let part = self.at_hand(i, green, overnight).min(wanted);
            if part <= Grams::ZERO {
                continue;
            }
            wanted = wanted - part;
            if green {
                self.green[i] = self.green[i] - part;
            } else {
                self.ready[i] = self.ready[i] - part;
                self.evening[i] = self.evening[i].min(self.ready[i]);
            }
            let lot = &self.kitchen.lots[i];
            from.push(BatchFrom { lot: lot.id.clone(), label: lot.label.clone(), grams: part });
        }
        let batch = write(method, from, jarred);
        self.spend(day, &batch);
        self.days[day].batches.push(batch);
    }

    fn spend(&mut self, day: usize, batch: &Batch) {
        self.minutes[day] -= f64::from(batch.hands_on_minutes);
        self.days[day].hands_on_minutes += batch.hands_on_minutes;
        if let Some(before) = day.checked_sub(1) {
            self.minutes[before] -= f64::from(batch.evening_minutes);
            self.days[before].hands_on_minutes += batch.evening_minutes;
        }
        self.loads -= batch.loads.min(self.loads);
        self.days[day].loads += batch.loads;
    }

    fn close(self) -> SimplePlan {
        let lots = &self.kitchen.lots;
        let left_over = lots
            .iter()
            .zip(&self.ready)
            .filter(|(_, grams)| **grams > Grams::ZERO)
            .map(|(lot, grams)| LeftOver {
                lot: lot.id.clone(),
                label: lot.label.clone(),
                grams: *grams,
                reason: self.blame(lot).to_owned(),
            })
            .collect();
        let not_for_jars = lots
            .iter()
            .filter(|lot| !lot.fitness.uses.allows(Use::Jar))
            .map(|lot| NotForJars {
                lot: lot.id.clone(),
                label: lot.label.clone(),
                grams: (0..PLAN_DAYS).map(|day| ready_on(lot, day)).sum::<Grams>()
                    + free_green(lot),
                reason: lot.fitness.reason.clone(),
                source: lot.fitness.source.clone(),
            })
            .filter(|told| told.grams > Grams::ZERO)
            .collect();
        SimplePlan { days: self.days, not_for_jars, left_over, note: NOTE.to_owned() }
    }

    fn blame(&self, lot: &KitchenLot) -> &'static str {
        let last = PLAN_DAYS - 1;
        let uses = lot.fitness.uses;
        if self.minutes[last] < 60.0 {
            "No hours left for it within three days: another pair of hands would save it."
        } else if uses.allows(Use::Jar) && self.loads == 0 {
            "No canner load left for it: another load a day would take it."
        } else if uses.allows(Use::Freeze) && self.kitchen.freezer_per_day.is_some() {
            "The freezer takes no more in a day: start earlier, or share it out."
        } else {
            "Nothing here takes so little, or so much, of it: eat it, share it out, or feed it."
        }
    }
}

fn jarred_grams(method: &Method, jarred: &Jarred) -> Grams {
    let per_jar = kg_per_jar(method, jarred.jar).map_or(0.0, |per| per.plan);
    Grams(libm::floor(f64::from(jarred.count) * per_jar * 1000.0 + 1e-6) as i64)
}

fn ready_on(lot: &KitchenLot, day: usize) -> Grams {
    lot.ready.get(day).copied().unwrap_or_default().max(Grams::ZERO)
}

/// Green fruit that nothing in the plan counts on turning ripe.
fn free_green(lot: &KitchenLot) -> Grams {
    let turning: Grams = lot.ready.iter().skip(1).map(|grams| (*grams).max(Grams::ZERO)).sum();
    (lot.waiting - turning).max(Grams::ZERO)
}

/// What a lot's ready fruit is to a recipe: ripe, once it has ripened in the room.
fn ready_class(lot: &KitchenLot) -> ClassId {
    match crops::class(&lot.crop, &lot.class) {
        Some(class) if class.ripens => ClassId::from("ripe"),
        _ => lot.class.clone(),
    }
}
