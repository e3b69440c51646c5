//! A room day by day: what a fruit of one model does in each, summed up so that any lot can be
//! read off it.
//!
//! ```text
//! C_s(t) = ∫ k_s(T(u)) du      per stage s, from the evening of the room's first day
//! ```
//!
//! A fruit of rate multiplier `m` passes segment `s` between `u` and `t` when
//! `m · (C_s(t) − C_s(u)) = 1`. Lots that share a room share the sums.

use super::climate::RoomClimate;
use super::loss::losses_per_day;
use super::rate::{MAX_SEGMENTS, on_ladder};
use super::table::{Model, tables};
use super::warnings::chill_limit_days;
use crate::units::Day;

/// Sums kept of a room: the lag, the segments, drying, rot, and how far green fruit is chilled.
const SUMS: usize = MAX_SEGMENTS + 4;
/// Which sum is the lag.
pub(super) const LAG: usize = 0;
const DRYING: usize = MAX_SEGMENTS + 1;
const ROT: usize = MAX_SEGMENTS + 2;
const CHILL: usize = MAX_SEGMENTS + 3;
/// The longest stretch kept day by day; a room is taken to stay as it was on the last.
const LONGEST: i32 = 1200;

/// Mean and ends of a day's temperature, °C.
#[derive(Clone, Copy, Debug)]
pub(super) struct DayCelsius {
    pub(super) mean: f64,
    pub(super) low: f64,
    pub(super) high: f64,
}

/// A room for one model.
#[derive(Clone, Debug)]
pub(super) struct RoomDays {
    pub(super) first: Day,
    pub(super) ripe: usize,
    /// By sum, by evening from the first on.
    sums: [Vec<f64>; SUMS],
    /// By day from the first on.
    celsius: Vec<DayCelsius>,
}

impl RoomDays {
    /// The room from the evening of `first` at least to that of `last`.
    pub(super) fn new(room: &RoomClimate, model: &Model, first: Day, last: Day) -> Self {
        let days = last.max(room.last_change()).since(first).clamp(1, LONGEST) as usize;
        let mut all = Self {
            first,
            ripe: model.ripe(),
            sums: std::array::from_fn(|_| {
                let mut sum = Vec::with_capacity(days + 1);
                sum.push(0.0);
                sum
            }),
            celsius: Vec::with_capacity(days + 1),
        };
        let ladder = model.ladder();
        let chill_below = tables().limits.chill_below_celsius.value;
        for i in 0..=days {
            let weather = room.weather(first.plus(i as i32));
            let (low, high) = weather.ends();
            all.celsius.push(DayCelsius { mean: weather.mean(), low, high });
            if i == 0 {
                continue;
            }
            let rates: [f64; SUMS] = weather.mean_of(|celsius, humidity| {
                let mut rates = [0.0; SUMS];
                rates[..=MAX_SEGMENTS].copy_from_slice(&on_ladder(ladder, celsius));
                [rates[DRYING], rates[ROT]] = losses_per_day(celsius, humidity);
                if celsius < chill_below {
                    rates[CHILL] = chill_limit_days(celsius).map_or(0.0, |days| 1.0 / days);
                }
                rates
            });
            for (sum, rate) in all.sums.iter_mut().zip(rates) {
                sum.push(sum[i - 1] + rate);
            }
        }
        all
    }

    /// Evenings after the first.
    pub(super) fn days(&self) -> usize {
        self.celsius.len() - 1
    }

    /// Days from the first evening to that of `day`.
    pub(super) fn index(&self, day: Day) -> i32 {
        day.since(self.first)
    }

    /// The temperature of a day, which after the last is that of the last.
    pub(super) fn celsius(&self, day: Day) -> DayCelsius {
        self.celsius[(self.index(day).max(0) as usize).min(self.days())]
    }

    pub(super) fn sum(&self, of: usize) -> &[f64] {
        &self.sums[of]
    }

    /// C(t), with the first and last day's rate before and after what is kept.
    pub(super) fn at(&self, of: usize, t: f64) -> f64 {
        let sum = &self.sums[of];
        let below = (t.max(0.0) as usize).min(sum.len() - 2);
        sum[below] + (t - below as f64) * (sum[below + 1] - sum[below])
    }

    /// The t at which C is `value`.
    fn when(&self, of: usize, value: f64) -> f64 {
        let sum = &self.sums[of];
        let below = sum.partition_point(|sum| *sum <= value).saturating_sub(1).min(sum.len() - 2);
        let rate = sum[below + 1] - sum[below];
        if rate > 0.0 { below as f64 + (value - sum[below]) / rate } else { below as f64 }
    }

    /// ∫ drying and ∫ rot between two evenings.
    pub(super) fn losses(&self, from: Day, to: Day) -> (f64, f64) {
        let (from, to) = (f64::from(self.index(from)), f64::from(self.index(to)));
        let between = |of| (self.at(of, to) - self.at(of, from)).max(0.0);
        (between(DRYING), between(ROT))
    }

    /// By evening: drying and rot so far.
    pub(super) fn gone(&self, i: usize) -> f64 {
        self.sums[DRYING][i] + self.sums[ROT][i]
    }

    /// How much of what green fruit bears of cold is used up between two evenings; 1 is harm.
    pub(super) fn chill(&self, from: Day, to: Day) -> f64 {
        let (from, to) = (f64::from(self.index(from)), f64::from(self.index(to)));
        self.at(CHILL, to) - self.at(CHILL, from)
    }

    /// Where a fruit of multiplier `m` stood at `picked` if it is ripe exactly at `t`, both days
    /// after the first evening; below 0 it has so many days at 20 °C to wait.
    ///
    /// Found backwards from ripe: every fruit that stood there or beyond is ripe by then.
    pub(super) fn start(&self, picked: f64, t: f64, m: f64) -> f64 {
        let mut until = t.max(picked);
        for segment in (0..self.ripe).rev() {
            let of = segment + 1;
            let exit = self.at(of, until);
            let passed = m * (exit - self.at(of, picked));
            if passed <= 1.0 {
                return segment as f64 + 1.0 - passed;
            }
            until = self.when(of, exit - 1.0 / m);
        }
        -m * (self.at(LAG, until) - self.at(LAG, picked))
    }
}

#[cfg(test)]
mod tests {
    use super::super::path::days_to_ripe;
    use super::super::table::model;
    use super::*;
    use crate::units::MilliCelsius;

    fn day(offset: i32) -> Day {
        Day::from_ymd(2026, 10, 9).expect("a day").plus(offset)
    }

    fn tomato(steps: &[(i32, i32)]) -> RoomDays {
        let steps = steps.iter().map(|(d, c)| (day(*d), MilliCelsius(c * 500))).collect();
        let room = RoomClimate::steps(steps).expect("has a step");
        RoomDays::new(&room, model("tomato").expect("is in the table"), day(0), day(40))
    }

    #[test]
    fn backwards_undoes_forwards() {
        let room = tomato(&[(0, 34)]);
        for x in [-3.0, -0.5, 0.0, 0.4, 1.0, 2.7, 3.6, 4.0] {
            let days = days_to_ripe(model("tomato").expect("is in the table"), x, 17.0);
            assert!((room.start(0.0, days, 1.0) - x).abs() < 1e-9, "{x}");
            assert!((room.start(5.0, days + 5.0, 1.0) - x).abs() < 1e-9, "{x}");
        }
    }

    #[test]
    fn a_move_is_a_sum_of_rates() {
        // Pink at 12.5 °C for 5 of its 10 days is half way; the other half takes 2 of 4 at 20 °C.
        let room = tomato(&[(0, 25), (6, 40)]);
        assert!((room.start(0.0, 7.0, 1.0) - 3.0).abs() < 1e-9);
        assert!((room.start(0.0, 5.0, 1.0) - 3.5).abs() < 1e-9);
        assert!((room.start(0.0, 3.5, 2.0) - 3.3).abs() < 1e-9);
    }

    #[test]
    fn nothing_is_riper_before_it_was_picked() {
        assert!((tomato(&[(0, 40)]).start(3.0, 1.0, 1.0) - 4.0).abs() < 1e-12);
    }

    #[test]
    fn a_swinging_room_is_a_sum_of_rates_and_not_of_degrees() {
        // 10 to 20 °C is slower than its mean: ripening nearly stops in the cold half.
        let model = model("tomato").expect("is in the table");
        let swing: RoomClimate = serde_json::from_str(r#"{"min": 5, "max": 20}"#).expect("reads");
        let swing = RoomDays::new(&swing, model, day(0), day(30));
        let mean =
            RoomDays::new(&RoomClimate::constant(MilliCelsius(12_500)), model, day(0), day(30));
        let pink = |room: &RoomDays| room.at(4, 1.0);
        assert!((pink(&mean) - 0.1).abs() < 1e-9);
        // By hand: the mean of k over 24 hours, cold ones by Arrhenius, from the table otherwise.
        let by_hand: f64 = (0..24)
            .map(|h| 12.5 + 7.5 * libm::cos(std::f64::consts::TAU * (h as f64 - 14.5) / 24.0))
            .map(|celsius| model.rates(celsius).segments[3] / 24.0)
            .sum();
        assert!((pink(&swing) / by_hand - 1.0).abs() < 1e-4);
        assert!(pink(&swing) > 1.05 * pink(&mean), "warm hours weigh more: {}", pink(&swing));
    }
}
