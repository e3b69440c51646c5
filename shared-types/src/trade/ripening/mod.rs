//! Ripening: of what stands in which room, how many kilograms will be ripe on which day.
//!
//! # Context
//! After a clear-out the pile is alive. Ripe fruit keeps days, colouring fruit turns within a
//! week or so, green fruit takes weeks or never. A kitchen plans by kilograms per day, so a single
//! date per lot is no use; nor is a range that is narrower than what is known.
//!
//! # Design
//! **Position.** A fruit has a position `x` along the rows of its model's table: 0 mature green,
//! 1 breakers, 2 turning, 3 pink, 4 fully red. The days spent between two rows at temperature `T`
//! are the difference of the rows' published days to red, so the table comes back exactly:
//!
//! ```text
//! d_s(T) = D_s(T) − D_{s+1}(T)        days in segment s at constant T
//! k_s(T) = 1 / d_s(T)                 rate, segments per day
//! x(t)   = x_0 + Σ k_s(T_i) · Δt_i    rate sum (Tijskens and Verdenius 2000), not degree-days
//! ```
//!
//! Between columns ln k is linear in T. Below the table (12.5 °C) k falls by Arrhenius with
//! Ea = 189 kJ/mol (Pai and Sastry 1990: about half at 10 °C, a ninth at 5 °C); above it (25 °C) k
//! is held. Both are outside the table and carry a warning.
//!
//! **Class.** A class is a distribution over `x` (`start`). The spread between fruit is in where
//! they start, not in how fast they go (Hertog 2002). `colouring` is even from the first break of
//! colour to the end of light red. `green` is a mixture: a share that never ripens, and fruit that
//! breaks colour after a right-skewed lag. `green` with the stage `green` stated means *mature*
//! green, as in the standard, and follows the table's first row.
//!
//! **Rooms.** A temperature is set, set from day to day, swings between day and night, or is read
//! off a thermometer at any spacing ([`RoomClimate`]). Where it is not the same all day, rates are
//! summed by the hour. A reading speaks for six hours to either side and readings within twelve
//! hours are joined by a straight line; longer stretches are gaps ([`RoomClimate::gaps`]), bridged
//! by the setting, and a lot's `why` says so. A room is worked out once for all lots in it (`room`,
//! `reach`): C_s(t) = ∫ k_s dt by evening, off which any lot is read.
//!
//! **Not knowing.** A multiplier on rate, the median lag, the share that never ripens and losses are
//! uncertain: [`Belief`]. They are laid on 81 fixed points of equal weight (`points`); at each, the
//! grams of a lot vary as p(1−p)(1/n + ρ) for n fruit of correlation ρ. Quantiles are those of the
//! mixture (`band`). No sampling: the same lots give the same grams on every device.
//!
//! **Rounds.** A round takes out all that is ripe, so what stays is known to have been unripe that
//! day: shares go on as (F − F_r)/(1 − F_r). What rounds found teaches the variety, exactly and in
//! any order: [`learn`]. Rounds of one's own lot are among them.
//!
//! **Mass.** Weight falls by drying (vapour pressure deficit) and rot (`loss`); kilograms
//! forecast are kilograms on the scale that day.
//!
//! **Days.** Fruit is taken as it stood in the evening of the day it was picked; the step from one
//! evening to the next runs at the later day's temperature. "Ripe on a day" is ripe by its evening.
//!
//! # What it was checked against
//! Every cell of the stage table; green to ripe in about two weeks at 18 to 21 °C; a field run of
//! mature green to light pink 80 to 90 % ripe in about 10 days at 20 °C and 8 at 25 °C; peppers in
//! 4.7 to 5.2 days at 20 °C; colouring at 20 °C, middle half within 2 to 7 days (common practice);
//! weight loss as published. A simulated truth, fruit by fruit, of which the 80 % interval holds 75
//! to 85 % before and after learning, and of which three rounds at least halve the error when it is
//! off the prior; a Monte Carlo in another language. See `tests/reference/ripening*`, which print
//! their figures.
//!
//! # Not yet true
//! - A lot's own luck is not learned from its rounds, only its variety's ways ([`learn`]).
//! - All lots share one draw of what is not known, also lots of varieties that were learned apart:
//!   a slow year is slow for every lot. That is the cautious side for totals.
//! - Losses are one rate for a crop's life; ripe fruit left standing rots faster.
//! - Fruit mass does not fall with drying in the count of fruit; ethylene from other fruit and the
//!   chill a green fruit took on the vine are left out.

mod answer;
mod band;
mod belief;
pub mod case;
mod climate;
mod curve;
mod explain;
mod forecast;
mod learn;
mod loss;
mod lot;
mod normal;
mod path;
mod piles;
mod points;
mod rate;
mod reach;
mod room;
mod standing;
mod start;
mod table;
mod totals;
mod warnings;
mod why;
mod window;

#[cfg(test)]
mod laws;

pub use band::Band;
pub use belief::{Belief, Spread, Strand};
pub use climate::{
    ClimateError, Gap, HumidityPermille, REACH_MINUTES, RoomClimate, RoomReading, Setting,
};
pub use explain::explain;
pub use forecast::{DayForecast, Forecast, QuantileDay, at_quantiles, forecast};
pub use learn::{
    BeforeAfter, Change, Learned, LearnedVariety, Observed, Spread80, before_after, learn,
};
pub use loss::{drying_per_day, rot_per_day};
pub use lot::{Balance, LotForecast, LotInput, RoundSeen};
pub use path::{days_to_ripe, middle_days};
pub use table::{
    Cell, Evidence, Model, Prior, PriorRow, Range, Row, StageAt, evidence, model, models, prior,
};
pub use warnings::{Warning, WarningKind, chill_limit_days};

/// The most days a forecast runs.
pub const MAX_DAYS: usize = 366;
