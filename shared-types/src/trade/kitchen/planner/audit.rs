//! A plan checked against its problem, by adding everything up again.
//!
//! It knows nothing of how plans are made: it reads the plan as anybody would, and is what tests,
//! benches and a doubtful reader hold a plan against.

use std::collections::BTreeMap;

use super::plan::{Batch, Plan};
use super::problem::{Lot, Problem, Way};
use crate::ids::ClassId;
use crate::trade::crops;
use crate::trade::methods::{Jar, Kind};
use crate::units::Grams;

/// Minutes, kilograms and jars are compared to a thousandth: weights are whole grams.
const SLACK: f64 = 1e-3;

/// What a plan does that its problem does not allow, in words; empty when nothing.
pub fn audit(problem: &Problem, plan: &Plan) -> Vec<String> {
    let mut audit = Audit { problem, plan, faults: Vec::new() };
    audit.batches();
    audit.days();
    audit.stock();
    audit.rooms();
    audit.fruit();
    audit.wishes();
    audit.faults
}

struct Audit<'a> {
    problem: &'a Problem,
    plan: &'a Plan,
    faults: Vec<String>,
}

impl<'a> Audit<'a> {
    fn fault(&mut self, holds: bool, words: impl FnOnce() -> String) {
        if !holds {
            self.faults.push(words());
        }
    }

    fn made(&self) -> impl Iterator<Item = &'a Batch> + use<'a> {
        self.plan.days.iter().flat_map(|day| &day.batches)
    }

    fn way(&self, batch: &Batch) -> &'a Way {
        let found = self.problem.methods.iter().find(|way| way.id == batch.method);
        found.expect("a plan makes only what the problem has")
    }

    fn lot(&self, id: &str) -> Option<&'a Lot> {
        self.problem.lots.iter().find(|lot| lot.id == id)
    }

    /// Each batch by itself: sums, fitness, least and most, jars and loads.
    fn batches(&mut self) {
        for batch in self.made() {
            let way = self.way(batch);
            let what = format!("{} on {}", batch.method, batch.day);
            let sum: Grams = batch.from.iter().map(|part| part.grams).sum();
            self.fault(sum == batch.grams, || format!("{what}: parts sum to {sum:?}"));
            self.fault(
                batch.from.iter().all(|part| part.grams > Grams::ZERO || batch.begun),
                || format!("{what}: an empty part"),
            );
            if !batch.begun {
                let short = way.least_grams.0 - batch.grams.0;
                self.fault(short <= batch.from.len() as i64, || format!("{what}: under its least"));
                let most = way.most_grams.is_none_or(|most| batch.grams <= most);
                self.fault(most, || format!("{what}: over its most"));
                self.fit(way, batch, &what);
            }
            if let Some(jar) = way.jar {
                let told = batch.jars.map_or((0, 0), |jars| (jars.full, jars.loads));
                let jars = batch.grams.0 as f64 / jar.grams;
                self.fault(f64::from(told.0) <= jars + SLACK, || format!("{what}: jars from air"));
                let room = f64::from(told.1 * jar.a_load);
                self.fault(jars <= room + 0.02, || {
                    format!("{what}: more jars than its loads hold")
                });
            }
        }
    }

    /// Fit for it, taken by the method, and of one crop and fitness.
    fn fit(&mut self, way: &Way, batch: &Batch, what: &str) {
        let mut kinds = Vec::new();
        for part in &batch.from {
            let Some(lot) = self.lot(&part.lot) else {
                self.faults.push(format!("{what}: no lot {}", part.lot));
                continue;
            };
            let fit = way.kind.needs().is_none_or(|needed| lot.uses.allows(needed));
            self.fault(fit, || format!("{what}: {} is not fit for it", lot.id));
            let class = if batch.waiting { lot.class.clone() } else { ripened(lot) };
            let takes = way.takes(&lot.crop, &class);
            self.fault(takes, || format!("{what}: it does not take {}", lot.id));
            kinds.push((&lot.crop, lot.uses, &lot.fitness));
        }
        kinds.dedup();
        self.fault(kinds.len() <= 1, || format!("{what}: lots of different fitness merged"));
    }

    /// What each day spends against what it allows.
    fn days(&mut self) {
        for at in 0..self.problem.days {
            let day = self.problem.day(at);
            let usual = self.problem.a_day;
            let told = self.problem.by_day.get(&day).copied().unwrap_or_default();
            // What was begun is finished even where a day holds less.
            let spent = |begun: bool| {
                let mut sum = Spent::default();
                for batch in self.made().filter(|batch| !begun || batch.begun) {
                    sum.add(self.way(batch), batch, day);
                }
                sum
            };
            let (all, begun) = (spent(false), spent(true));
            let grams = |grams: Option<Grams>| grams.map(|grams| grams.0 as f64);
            let limits = [
                (
                    "hands",
                    told.hands_minutes.or(usual.hands_minutes).or(Some(180.0)),
                    all.hands,
                    begun.hands,
                ),
                (
                    "burners",
                    told.burner_minutes.or(usual.burner_minutes),
                    all.burners,
                    begun.burners,
                ),
                (
                    "canner",
                    told.canner_loads.or(usual.canner_loads).or(Some(2)).map(f64::from),
                    all.loads,
                    begun.loads,
                ),
                (
                    "dryer",
                    grams(told.dryer_grams.or(usual.dryer_grams).or(Some(Grams::ZERO))),
                    all.dried,
                    begun.dried,
                ),
                (
                    "freezer",
                    grams(told.freezer_grams.or(usual.freezer_grams)),
                    all.frozen,
                    begun.frozen,
                ),
            ];
            for (name, most, all, begun) in limits {
                let most = most.map_or(f64::INFINITY, |most| most.max(begun));
                self.fault(all <= most + SLACK, || format!("{name} on {day}: {all} of {most}"));
            }
            for way in &self.problem.methods {
                let of = self.made().filter(|b| b.method == way.id && b.day == day);
                let (begun, made): (Vec<_>, Vec<_>) = of.partition(|batch| batch.begun);
                let sum = |all: &[&Batch]| all.iter().map(|b| b.grams).sum::<Grams>();
                let most = way.most_a_day_grams.map(|most| most.max(sum(&begun)));
                let holds = most.is_none_or(|most| sum(&begun) + sum(&made) <= most);
                self.fault(holds, || format!("{} on {day}: more than a day's", way.id));
            }
        }
    }

    fn stock(&mut self) {
        let sum = |begun: bool| {
            let mut frozen = 0.0;
            let mut jars: BTreeMap<Jar, f64> = BTreeMap::new();
            for batch in self.made().filter(|batch| !begun || batch.begun) {
                let way = self.way(batch);
                if way.kind == Kind::Freeze {
                    frozen += batch.grams.0 as f64;
                }
                if let Some(jar) = way.jar {
                    *jars.entry(jar.size).or_default() += batch.grams.0 as f64 / jar.grams;
                }
            }
            (frozen, jars)
        };
        let ((frozen, jars), (frozen_begun, jars_begun)) = (sum(false), sum(true));
        let stock = &self.problem.stock;
        let holds =
            stock.freezer_grams.is_none_or(|most| frozen <= (most.0 as f64).max(frozen_begun));
        self.fault(holds, || format!("the freezer: {frozen} g"));
        for (size, most) in &stock.jars {
            let of = |jars: &BTreeMap<Jar, f64>| jars.get(size).copied().unwrap_or(0.0);
            let most = f64::from(*most).max(of(&jars_begun));
            self.fault(of(&jars) <= most + SLACK, || {
                format!("{size:?} jars: {} of {most}", of(&jars))
            });
        }
        if let Some(lids) = stock.lids {
            let most = f64::from(lids).max(jars_begun.values().sum());
            let all: f64 = jars.values().sum();
            self.fault(all <= most + SLACK, || format!("lids: {all} of {most}"));
        }
    }

    fn rooms(&mut self) {
        self.fault(self.plan.rooms.len() == self.problem.lots.len(), || {
            "a lot without room".into()
        });
        for standing in &self.plan.rooms {
            let may = self
                .lot(&standing.lot)
                .is_some_and(|lot| lot.rooms.iter().any(|room| room.room == standing.room));
            self.fault(may, || format!("{} may not stand in {}", standing.lot, standing.room));
        }
        for room in &self.problem.rooms {
            let here = self.plan.rooms.iter().filter(|standing| standing.room == room.id);
            let grams: Grams = here.filter_map(|s| self.lot(&s.lot)).map(Lot::most_grams).sum();
            let holds = room.holds_grams.is_none_or(|most| grams <= most);
            self.fault(holds, || format!("room {} holds {grams:?}", room.id));
        }
    }

    /// Nothing is used before it is ready or after it is lost, and every gram is somewhere.
    fn fruit(&mut self) {
        for lot in &self.problem.lots {
            let room = self.plan.rooms.iter().find(|standing| standing.lot == lot.id);
            let room = lot.rooms.iter().find(|r| room.is_some_and(|s| s.room == r.room));
            let Some(room) = room else { continue };
            let ready: Vec<i64> = (0..self.problem.days)
                .map(|d| room.ready_grams.get(d).map_or(0, |g| g.0))
                .collect();
            let turned: i64 = ready.iter().sum();
            let mut used = Grams::ZERO;
            let mut heap = ready;
            let mut waiting = lot.waiting_grams.0;
            for at in 0..self.problem.days {
                let day = self.problem.day(at);
                for batch in self.made().filter(|batch| !batch.begun) {
                    if batch.evening_before.unwrap_or(batch.day) != day {
                        continue;
                    }
                    for part in batch.from.iter().filter(|part| part.lot == lot.id) {
                        used += part.grams;
                        let mut left = part.grams.0;
                        if batch.waiting {
                            let keeps =
                                lot.waiting_keeps_days.map_or(usize::MAX, |days| days as usize);
                            let some = if at <= keeps { left.min(waiting) } else { 0 };
                            waiting -= some;
                            left -= some;
                        } else {
                            // The oldest first.
                            let oldest = at.saturating_sub(room.keeps_days as usize);
                            for heap in &mut heap[oldest..=at] {
                                let some = left.min(*heap);
                                *heap -= some;
                                left -= some;
                            }
                        }
                        self.fault(left == 0, || {
                            format!("{left} g of {} on {day} are not there", lot.id)
                        });
                    }
                }
            }
            let of = |parts: &[super::problem::Part]| -> Grams {
                parts.iter().filter(|part| part.lot == lot.id).map(|part| part.grams).sum()
            };
            let lost: Grams =
                self.plan.waste.iter().filter(|waste| waste.lot == lot.id).map(|w| w.grams).sum();
            let all = used + lost + of(&self.plan.standing) + of(&self.plan.waiting);
            let there = Grams(turned) + lot.waiting_grams;
            self.fault(all == there, || format!("{}: {all:?} of {there:?}", lot.id));
        }
        let kept = |batch: &&Batch| !matches!(batch.kind, Kind::Feed | Kind::Compost);
        let kept: Grams = self.made().filter(kept).map(|batch| batch.grams).sum();
        self.fault(kept == self.plan.kept_grams, || format!("kept {kept:?}"));
        self.fault(self.plan.bound >= self.plan.objective - 1e-6, || {
            "worth more than its bound".into()
        });
    }

    /// Pins are made, drops are not, and what was begun is there.
    fn wishes(&mut self) {
        for pin in &self.problem.pins {
            let found = self.made().any(|batch| {
                let lots = || batch.from.iter().all(|part| pin.lots.contains(&part.lot));
                let grams = pin.grams.is_none_or(|asked| {
                    (0..=batch.from.len() as i64).contains(&(asked.0 - batch.grams.0))
                });
                batch.pinned
                    && batch.method == pin.method
                    && batch.day == pin.day
                    && grams
                    && (pin.lots.is_empty() || lots())
            });
            self.fault(found, || format!("the pin of {} on {} is not kept", pin.method, pin.day));
        }
        for drop in &self.problem.drops {
            if drop.method.is_none() && drop.day.is_none() && drop.lot.is_none() {
                continue;
            }
            let made = self.made().find(|batch| {
                let lot = |id: &String| batch.from.iter().any(|part| part.lot == *id);
                !batch.begun
                    && drop.method.as_ref().is_none_or(|id| *id == batch.method)
                    && drop.day.is_none_or(|day| day == batch.day)
                    && drop.lot.as_ref().is_none_or(lot)
            });
            self.fault(made.is_none(), || format!("dropped and made: {drop:?}"));
        }
        for begun in &self.problem.begun {
            let found = self.made().any(|batch| {
                batch.begun
                    && batch.method == begun.method
                    && batch.day == begun.day
                    && batch.from == begun.from
            });
            self.fault(found, || format!("{} begun for {} is gone", begun.method, begun.day));
        }
    }
}

/// What a day spends.
#[derive(Default)]
struct Spent {
    hands: f64,
    burners: f64,
    loads: f64,
    dried: f64,
    frozen: f64,
}

impl Spent {
    fn add(&mut self, way: &Way, batch: &Batch, day: crate::units::Day) {
        let kg = batch.grams.0 as f64 / 1000.0;
        let loads = batch.jars.map_or(0.0, |jars| f64::from(jars.loads));
        if batch.evening_before == Some(day) && !batch.begun {
            self.hands += way.evening.map_or(0.0, |evening| evening.a_batch + evening.a_kg * kg);
        }
        if batch.day != day {
            return;
        }
        self.hands += way.hands.a_batch + way.hands.a_kg * kg + way.hands.a_load * loads;
        self.burners += way.burners.a_batch + way.burners.a_kg * kg + way.burners.a_load * loads;
        self.loads += loads;
        match way.kind {
            Kind::Dry => self.dried += batch.grams.0 as f64,
            Kind::Freeze => self.frozen += batch.grams.0 as f64,
            _ => {}
        }
    }
}

fn ripened(lot: &Lot) -> ClassId {
    let ripens = crops::class(&lot.crop, &lot.class).is_some_and(|class| class.ripens);
    let own = if ripens { ClassId::from("ripe") } else { lot.class.clone() };
    lot.ready_class.clone().unwrap_or(own)
}
