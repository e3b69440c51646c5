//! Shares of a lot that are ripe by each day, at every point.

use super::band::Moment;
use super::normal::Normal;
use super::points::{PLACES, Points, RUNS, SIDE, STRATA, lag_of, loss_of};
use super::rate::MAX_SEGMENTS;
use super::reach::{Reach, sums_at};
use super::room::RoomDays;
use super::start::Start;

/// Where the lag and the share that never ripens do not matter, three runs stand for nine: one for
/// each place of the losses.
const FEW: usize = SIDE;

/// At a point that leaves less than this, every fruit of the lot is overdue.
const OVERDUE: f64 = 1e-9;

/// When no more than this of what ripens is still to come at any point, the rest is not reckoned.
const DONE: f64 = 1e-7;

/// Everything about a lot but its weight.
pub(super) struct Shape<'a> {
    pub(super) start: Start,
    pub(super) points: &'a Points,
    pub(super) room: &'a RoomDays,
    /// By stratum of rate.
    pub(super) reaches: &'a [Reach],
    /// Evening of picking, in the room's days.
    pub(super) picked: usize,
    /// Evening at which the grams were weighed.
    pub(super) weighed: usize,
    /// Was everything ripe taken out then?
    pub(super) sorted: bool,
}

impl Shape<'_> {
    /// Runs that differ.
    pub(super) fn runs(&self) -> usize {
        if self.start.unsorted_green() { RUNS } else { FEW }
    }

    /// The place of the losses in a run.
    fn loss(&self, run: usize) -> usize {
        if self.runs() == RUNS { loss_of(run) } else { run }
    }

    /// Share that ripens at all.
    fn ripens(&self, stratum: usize, run: usize) -> f64 {
        match self.start {
            Start::AsItIs => 0.0,
            _ if self.runs() == RUNS => 1.0 - self.points.nevers[stratum][run],
            _ => 1.0,
        }
    }

    fn beyond(&self, stratum: usize, x: f64, normal: Normal) -> [f64; SIDE] {
        let (lags, sd) = (&self.points.log_lags[stratum], self.points.lag_sd_log);
        if self.runs() == RUNS {
            self.start.shares_beyond(x, lags, sd, normal)
        } else {
            [self.start.shares_beyond(x, &[lags[1]], sd, normal)[0]; SIDE]
        }
    }

    /// Share of what was picked that is ripe, by run, from the shares by place of the lag.
    fn by_run(&self, stratum: usize, by_lag: [f64; SIDE], run: usize) -> f64 {
        if self.runs() == RUNS {
            self.ripens(stratum, run) * by_lag[lag_of(run)]
        } else {
            self.ripens(stratum, run) * by_lag[0]
        }
    }

    /// Share of what was picked that is ripe `t` evenings after the room's first, on average.
    pub(super) fn expected(&self, t: f64, before: &[f64]) -> f64 {
        let (normal, runs) = (Normal::new(), self.runs());
        let mut sum = 0.0;
        for stratum in 0..STRATA {
            let x = self.room.start(self.picked as f64, t, self.points.rates[stratum]);
            let by_lag = self.beyond(stratum, x, normal);
            for run in 0..runs {
                let share = self.by_run(stratum, by_lag, run);
                sum += since(share, before[stratum * runs + run]);
            }
        }
        sum / (STRATA * runs) as f64
    }
}

/// Given that none of it was ripe at the weighing: (F − F_w)/(1 − F_w).
fn since(share: f64, before: f64) -> f64 {
    let rest = 1.0 - before;
    if rest < OVERDUE { 1.0 } else { ((share - before) / rest).clamp(0.0, 1.0) }
}

/// A [`Shape`] worked out for the days of a forecast.
pub(super) struct Curve {
    /// Points: strata times runs.
    pub(super) points: usize,
    /// Days of the forecast.
    pub(super) days: usize,
    /// Days worked out: from then on nothing more ripens.
    pub(super) known: usize,
    /// By known day and point: share of the weighed lot ripe by then.
    ripe: Vec<f64>,
    /// By known day and point: the same as grams per gram weighed, each as heavy as when it turned.
    grams: Vec<f64>,
    /// By day and place of the losses: share of grams kept.
    kept: Vec<[f64; SIDE]>,
    /// By point: place of the losses.
    loss: Vec<usize>,
    /// By point: share that never ripens.
    never: Vec<f64>,
    /// By point: share that was ripe at the weighing.
    pub(super) before: Vec<f64>,
    /// By known day: expected share ripe by then.
    pub(super) expected: Vec<f64>,
}

impl Curve {
    /// The curve from evening `today` of the room on.
    pub(super) fn new(shape: &Shape<'_>, today: usize, days: usize) -> Self {
        let (normal, runs) = (Normal::new(), shape.runs());
        let points = STRATA * runs;
        let at_picked: [f64; MAX_SEGMENTS + 1] = sums_at(shape.room, shape.picked);
        let share_at = |stratum: usize, t: usize| {
            let x = if t <= shape.picked {
                shape.room.ripe as f64
            } else {
                shape.reaches[stratum].start(shape.room.ripe, &at_picked, t)
            };
            shape.beyond(stratum, x, normal)
        };
        let mut before = vec![0.0; points];
        let (mut ripens, mut never) = (vec![0.0; points], vec![0.0; points]);
        for stratum in 0..STRATA {
            let by_lag = if shape.sorted { share_at(stratum, shape.weighed) } else { [0.0; SIDE] };
            for run in 0..runs {
                let point = stratum * runs + run;
                ripens[point] = shape.ripens(stratum, run);
                before[point] = shape.by_run(stratum, by_lag, run);
                let rest = 1.0 - before[point];
                never[point] =
                    if rest < OVERDUE { 0.0 } else { ((1.0 - ripens[point]) / rest).min(1.0) };
            }
        }
        let loss: Vec<usize> = (0..points).map(|point| shape.loss(point % runs)).collect();
        let mut curve = Self {
            points,
            days,
            known: days,
            ripe: Vec::with_capacity(days * points),
            grams: Vec::with_capacity(days * points),
            kept: Vec::with_capacity(days),
            loss,
            never,
            before,
            expected: Vec::with_capacity(days),
        };
        let gone =
            |t: usize| shape.room.gone(t.max(shape.weighed)) - shape.room.gone(shape.weighed);
        for i in 0..days {
            let t = today + i;
            let gone = gone(t);
            curve.kept.push(shape.points.losses.map(|loss| libm::exp(-gone * loss)));
            if i >= curve.known {
                continue;
            }
            let nothing_yet = shape.sorted && t <= shape.weighed;
            let (mut sum, mut done) = (0.0, true);
            for stratum in 0..STRATA {
                let by_lag = if nothing_yet { [0.0; SIDE] } else { share_at(stratum, t) };
                for run in 0..runs {
                    let point = stratum * runs + run;
                    let share = if nothing_yet {
                        0.0
                    } else {
                        since(shape.by_run(stratum, by_lag, run), curve.before[point])
                    };
                    let (was, weighed) = match i.checked_sub(1) {
                        Some(i) => {
                            (curve.ripe[i * points + point], curve.grams[i * points + point])
                        }
                        None => (0.0, 0.0),
                    };
                    let share = share.max(was);
                    curve.ripe.push(share);
                    curve.grams.push(weighed + (share - was) * curve.kept[i][curve.loss[point]]);
                    sum += share;
                    done &= share >= (1.0 - curve.never[point]) * (1.0 - DONE);
                }
            }
            curve.expected.push(sum / points as f64);
            if done {
                curve.known = i + 1;
            }
        }
        curve
    }

    fn keep(&self, i: usize, point: usize) -> f64 {
        self.kept[i][self.loss[point]]
    }

    fn of(&self, values: &[f64], i: usize, point: usize) -> f64 {
        values[i.min(self.known - 1) * self.points + point]
    }

    /// Grams per gram that turn ripe on known day `i`; on the first, all that have until then.
    /// The variance is per gram and gram of one fruit: of n fruit, n·p·(1−p).
    #[inline]
    pub(super) fn new_ripe(&self, i: usize, point: usize) -> Moment {
        let now = self.ripe[i * self.points + point];
        let was = if i == 0 { 0.0 } else { self.ripe[(i - 1) * self.points + point] };
        uneven(now - was, self.keep(i, point))
    }

    /// Grams per gram that have turned ripe by known day `i`, each as weighed then.
    #[inline]
    pub(super) fn ripe_by(&self, i: usize, point: usize) -> Moment {
        let share = self.ripe[i * self.points + point];
        let mean = self.grams[i * self.points + point];
        Moment { mean, ..uneven(share, self.keep(i, point)) }
    }

    /// Grams per gram that will ripen after the first day.
    pub(super) fn still_to_come(&self, point: usize) -> Moment {
        let share = (1.0 - self.never[point] - self.ripe[point]).max(0.0);
        uneven(share, self.keep(0, point))
    }

    /// Expected grams per gram on day `i`: ripe, waiting, never.
    pub(super) fn parts(&self, i: usize) -> [f64; 3] {
        let mut parts = [0.0; 3];
        for point in 0..self.points {
            let (keep, never) = (self.keep(i, point), self.never[point]);
            parts[0] += self.of(&self.grams, i, point);
            parts[1] += (1.0 - never - self.of(&self.ripe, i, point)).max(0.0) * keep;
            parts[2] += never * keep;
        }
        parts.map(|part| part / self.points as f64)
    }

    /// Expected share that ripens at all.
    pub(super) fn whole(&self) -> f64 {
        1.0 - self.never.iter().sum::<f64>() / self.points as f64
    }
}

/// Mean and variance of a share `p` of which `kept` is left.
fn uneven(p: f64, kept: f64) -> Moment {
    Moment { mean: p * kept, variance: p * (1.0 - p) * kept * kept }
}

const _: () = assert!(PLACES.len() == SIDE && RUNS == SIDE * SIDE);
