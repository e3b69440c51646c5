//! Shares of a lot that are ripe by each day, at every point of the grid.

use super::belief::Belief;
use super::grid::{POINTS, RATE_Z, SIDE};
use super::loss::lost_log;
use super::lot::LotInput;
use super::path::{Span, start_reaching};
use super::standing::standing;
use super::start::Start;
use super::table::Model;
use super::window;
use crate::units::Day;

/// Everything about a lot but its weight.
pub(super) struct Frame<'a> {
    pub(super) start: Start,
    pub(super) belief: Belief,
    pub(super) picked: Day,
    /// Days from picking to the weighing the shares are shares of.
    weighed: f64,
    ripe: usize,
    spans: Vec<Span>,
    lot: &'a LotInput,
    sorted: bool,
    at_weighing: [f64; POINTS],
    /// Rate multipliers of the grid.
    rates: [f64; RATE_Z.len()],
    /// Median lags of the grid.
    lags: [f64; SIDE],
    /// Share that ripens at all, by waste.
    ripens: [f64; SIDE],
}

impl<'a> Frame<'a> {
    pub(super) fn new(lot: &'a LotInput, model: &Model, start: Start, belief: Belief) -> Self {
        let (day, sorted, _) = standing(lot, belief.loss.median);
        let (weighed, sorted) = (day.since(lot.picked), sorted && start != Start::Ripe);
        let mut frame = Self {
            start,
            belief,
            picked: lot.picked,
            weighed: f64::from(weighed),
            ripe: model.ripe(),
            spans: lot.room.spans(model, lot.picked),
            lot,
            sorted,
            at_weighing: [0.0; POINTS],
            rates: std::array::from_fn(|i| belief.rate_at(i)),
            lags: std::array::from_fn(|i| belief.lag_at(i)),
            ripens: std::array::from_fn(|i| match start {
                Start::AsItIs => 0.0,
                _ if start.unsorted_green() => 1.0 - belief.never_at(i),
                _ => 1.0,
            }),
        };
        if sorted {
            frame.at_weighing = frame.since_picking(frame.weighed);
        }
        frame
    }

    /// Share of the picked lot that is ripe `days` after picking.
    fn since_picking(&self, days: f64) -> [f64; POINTS] {
        let mut all = [0.0; POINTS];
        for (rate, m) in self.rates.iter().enumerate() {
            let x = start_reaching(&self.spans, self.ripe, *m, days);
            let shares = self.start.shares_beyond(x, &self.lags, self.belief.lag_fruit_sd_log);
            for (lag, share) in shares.into_iter().enumerate() {
                for (waste, ripens) in self.ripens.into_iter().enumerate() {
                    all[(rate * SIDE + lag) * SIDE + waste] = ripens * share;
                }
            }
        }
        all
    }

    /// Share of the weighed lot that is ripe `days` after picking: given that none of it was at
    /// the weighing, (F − F_w)/(1 − F_w).
    pub(super) fn share_ripe(&self, days: f64) -> [f64; POINTS] {
        let mut all = self.since_picking(days);
        if self.sorted {
            for (share, before) in all.iter_mut().zip(self.at_weighing) {
                let rest = 1.0 - before;
                *share = if days <= self.weighed {
                    0.0
                } else if rest < OVERDUE {
                    1.0
                } else {
                    ((*share - before) / rest).clamp(0.0, 1.0)
                };
            }
        }
        all
    }

    /// Share of the weighed lot that never ripens.
    pub(super) fn share_never(&self) -> [f64; POINTS] {
        let mut all = [0.0; POINTS];
        for (i, never) in all.iter_mut().enumerate() {
            let picked = 1.0 - self.ripens[i % SIDE];
            let rest = 1.0 - self.at_weighing[i];
            *never = if rest < OVERDUE { 0.0 } else { (picked / rest).min(1.0) };
        }
        all
    }

    /// Share of the weighed grams still on the scale `days` after picking, by waste.
    fn share_kept(&self, days: f64) -> [f64; SIDE] {
        let gone = lost_log(&self.spans, &self.lot.room, days.max(self.weighed))
            - lost_log(&self.spans, &self.lot.room, self.weighed);
        std::array::from_fn(|waste| libm::exp(-gone * self.belief.loss_at(waste)))
    }
}

/// At a grid point that leaves less than this, every fruit of the lot is overdue.
const OVERDUE: f64 = 1e-9;

/// A [`Frame`] worked out for the days of a forecast.
pub(super) struct Curve {
    /// By day, by point: share of the weighed lot ripe by then.
    pub(super) ripe: Vec<[f64; POINTS]>,
    /// By day, by point: the same as grams per gram weighed, each as heavy as when it turned.
    pub(super) grams: Vec<[f64; POINTS]>,
    /// By day, by waste: share of grams kept.
    kept: Vec<[f64; SIDE]>,
    /// By point: share that never ripens.
    pub(super) never: [f64; POINTS],
    /// Dates by which 10 and 90 % of what will ripen have.
    pub(super) window: (Option<Day>, Option<Day>),
}

impl Curve {
    pub(super) fn new(frame: &Frame<'_>, today: Day, days: usize) -> Self {
        let since = today.since(frame.picked);
        let never = frame.share_never();
        let mut ripe: Vec<[f64; POINTS]> = Vec::with_capacity(days);
        let mut kept = Vec::with_capacity(days);
        let mut grams: Vec<[f64; POINTS]> = Vec::with_capacity(days);
        for i in 0..days {
            let elapsed = f64::from(since) + i as f64;
            let shares = match ripe.last() {
                Some(last) if all_done(last, &never) => *last,
                _ => frame.share_ripe(elapsed),
            };
            let keeps = frame.share_kept(elapsed);
            grams.push(std::array::from_fn(|point| {
                let (before, weighed) = match i.checked_sub(1) {
                    Some(i) => (ripe[i][point], grams[i][point]),
                    None => (0.0, 0.0),
                };
                weighed + (shares[point] - before) * keeps[point % SIDE]
            }));
            ripe.push(shares);
            kept.push(keeps);
        }
        let window = window::dates(frame, since, &ripe);
        Self { ripe, grams, kept, never, window }
    }

    /// Share of the lot that turns ripe on day `i`; on the first, all that has until then.
    pub(super) fn new_share(&self, i: usize, point: usize) -> f64 {
        let before = if i == 0 { 0.0 } else { self.ripe[i - 1][point] };
        self.ripe[i][point] - before
    }

    /// Share of grams kept on day `i` at a point.
    pub(super) fn keep(&self, i: usize, point: usize) -> f64 {
        self.kept[i][point % SIDE]
    }
}

/// Has all that ripens done so, at every point?
fn all_done(ripe: &[f64; POINTS], never: &[f64; POINTS]) -> bool {
    ripe.iter().zip(never).all(|(ripe, never)| *ripe >= 1.0 - never)
}
