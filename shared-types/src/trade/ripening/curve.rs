//! Shares of a lot that are ripe by each day, at every point of the grid.

use super::belief::Belief;
use super::grid::{POINTS, RATE_Z, SIDE};
use super::loss::lost_log;
use super::lot::LotInput;
use super::path::{Span, start_reaching};
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
    at_weighing: [f64; POINTS],
}

impl<'a> Frame<'a> {
    pub(super) fn new(lot: &'a LotInput, model: &Model, start: Start, belief: Belief) -> Self {
        let weighed = lot.sorted.map_or(0, |day| day.since(lot.picked).max(0));
        let mut frame = Self {
            start,
            belief,
            picked: lot.picked,
            weighed: f64::from(weighed),
            ripe: model.ripe(),
            spans: lot.room.spans(model, lot.picked),
            lot,
            at_weighing: [0.0; POINTS],
        };
        if lot.sorted.is_some() {
            frame.at_weighing = frame.since_picking(frame.weighed);
        }
        frame
    }

    /// Share of the picked lot that is ripe `days` after picking.
    fn since_picking(&self, days: f64) -> [f64; POINTS] {
        let mut all = [0.0; POINTS];
        for rate in 0..RATE_Z.len() {
            let x = start_reaching(&self.spans, self.ripe, self.belief.rate_at(rate), days);
            for lag in 0..SIDE {
                let share =
                    self.start.share_beyond(x, self.belief.lag_at(lag), self.belief.lag_fruit_sd_log);
                for waste in 0..SIDE {
                    all[(rate * SIDE + lag) * SIDE + waste] = self.ripens_at(waste) * share;
                }
            }
        }
        all
    }

    fn ripens_at(&self, waste: usize) -> f64 {
        match self.start {
            Start::AsItIs => 0.0,
            _ if self.start.unsorted_green() => 1.0 - self.belief.never_at(waste),
            _ => 1.0,
        }
    }

    /// Share of the weighed lot that is ripe `days` after picking: given that none of it was at
    /// the weighing, (F − F_w)/(1 − F_w).
    pub(super) fn share_ripe(&self, days: f64) -> [f64; POINTS] {
        let mut all = self.since_picking(days);
        if self.lot.sorted.is_some() {
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
            let picked = 1.0 - self.ripens_at(i % SIDE);
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
    /// By day, by waste: share of grams kept.
    pub(super) kept: Vec<[f64; SIDE]>,
    /// By point: share that never ripens.
    pub(super) never: [f64; POINTS],
    /// Dates by which 10 and 90 % of what will ripen have.
    pub(super) window: (Option<Day>, Option<Day>),
}

impl Curve {
    pub(super) fn new(frame: &Frame<'_>, today: Day, days: usize) -> Self {
        let elapsed: Vec<f64> = (0..days)
            .map(|i| f64::from(today.since(frame.picked)) + i as f64)
            .collect();
        Self {
            ripe: elapsed.iter().map(|days| frame.share_ripe(*days)).collect(),
            kept: elapsed.iter().map(|days| frame.share_kept(*days)).collect(),
            never: frame.share_never(),
            window: window::dates(frame),
        }
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
