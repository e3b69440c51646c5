//! Grams over all lots: mean and variance at every point, day by day.

use super::band::{Moment, grams, quantiles};
use super::curve::Curve;
use super::points::{POINTS, Points, RUNS, STRATA, loss_of};
use crate::units::Grams;

/// Lots that differ only in weight, taken together.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Weight {
    /// Their grams.
    pub(super) grams: f64,
    /// What a share's variance is multiplied with.
    pub(super) uneven: f64,
}

impl Weight {
    /// Of `grams` of fruit of so many grams each, `n` in all, of which any two turn alike with
    /// correlation `rho`: the variance of n fruit's grams is p·(1−p)·(grams²/n + ρ·grams²).
    pub(super) fn new(grams: f64, fruit: f64, rho: f64) -> Self {
        Self { grams, uneven: grams * fruit.min(grams) + rho * grams * grams }
    }

    pub(super) fn of(self, unit: Moment) -> Moment {
        Moment { mean: unit.mean * self.grams, variance: unit.variance * self.uneven }
    }
}

/// Moments at every point: lots with few runs apart, so that they are added once and not thrice.
struct Sums {
    few: [Moment; STRATA * 3],
    all: [Moment; POINTS],
}

impl Sums {
    fn new() -> Self {
        Self { few: [Moment::default(); STRATA * 3], all: [Moment::default(); POINTS] }
    }

    #[inline]
    fn add(&mut self, points: usize, weight: Weight, moment: impl Fn(usize) -> Moment) {
        let sums: &mut [Moment] = if points == POINTS { &mut self.all } else { &mut self.few };
        for (point, sum) in sums.iter_mut().enumerate() {
            let one = weight.of(moment(point));
            sum.mean += one.mean;
            sum.variance += one.variance;
        }
    }

    fn add_all(&mut self, other: &Self) {
        let pairs = self.few.iter_mut().zip(&other.few).chain(self.all.iter_mut().zip(&other.all));
        for (sum, one) in pairs {
            sum.mean += one.mean;
            sum.variance += one.variance;
        }
    }

    fn together(&self) -> [Moment; POINTS] {
        std::array::from_fn(|point| {
            let (stratum, run) = (point / RUNS, point % RUNS);
            let few = self.few[stratum * 3 + loss_of(run)];
            let all = self.all[point];
            Moment { mean: few.mean + all.mean, variance: few.variance + all.variance }
        })
    }
}

/// All lots, by day.
pub(super) struct Totals {
    /// Turn ripe on the day; on the first, all that have.
    ripe: Vec<Sums>,
    /// Have turned by it.
    by_then: Vec<Sums>,
    /// What counts from a day on, of lots in which nothing more ripens.
    from_then: Vec<Sums>,
    still: Sums,
    whole: f64,
}

impl Totals {
    pub(super) fn new(days: usize) -> Self {
        let sums = |n: usize| (0..n).map(|_| Sums::new()).collect();
        Self {
            ripe: sums(days),
            by_then: sums(days),
            from_then: sums(days + 1),
            still: Sums::new(),
            whole: 0.0,
        }
    }

    pub(super) fn add(&mut self, curve: &Curve, weight: Weight) {
        let points = curve.points;
        for i in 0..curve.known {
            self.ripe[i].add(points, weight, |point| curve.new_ripe(i, point));
            self.by_then[i].add(points, weight, |point| curve.ripe_by(i, point));
        }
        let last = curve.known - 1;
        if curve.known < curve.days {
            self.from_then[curve.known].add(points, weight, |point| curve.ripe_by(last, point));
        }
        self.still.add(points, weight, |point| curve.still_to_come(point));
        self.whole += weight.grams;
    }

    /// Quantiles by day: of what turns ripe on it, and of what has by then, which never falls.
    pub(super) fn by_day(&self, points: &Points, wanted: &[f64]) -> Vec<[Vec<Grams>; 2]> {
        let told = |sums: &Sums| -> Vec<Grams> {
            let found = quantiles(points, &sums.together(), self.whole, wanted);
            found.into_iter().map(grams).collect()
        };
        let mut done = Sums::new();
        let mut least = vec![Grams::ZERO; wanted.len()];
        let mut days = Vec::with_capacity(self.ripe.len());
        for (i, ripe) in self.ripe.iter().enumerate() {
            done.add_all(&self.from_then[i]);
            let mut sums = Sums::new();
            sums.add_all(&self.by_then[i]);
            sums.add_all(&done);
            let now = told(&sums);
            least.iter_mut().zip(now).for_each(|(least, now)| *least = now.max(*least));
            days.push([told(ripe), least.clone()]);
        }
        days
    }

    /// Quantiles of what will ripen after the first day.
    pub(super) fn still_to_come(&self, points: &Points) -> super::Band {
        super::band::band(points, &self.still.together(), self.whole)
    }
}
