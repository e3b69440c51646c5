//! Where the fruit of a lot start: a distribution over positions.

use std::collections::BTreeMap;

use libm::log;

use super::normal::Normal;
use super::table::Model;
use crate::trade::crops::{Class, Stage};
use crate::units::Grams;

/// The distribution of start positions in a lot.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Start {
    /// Ripe when it was picked.
    Ripe,
    /// Will not ripen in a room, or is used as it is.
    AsItIs,
    /// Evenly between two positions.
    Even { from: f64, to: f64 },
    /// Green: breaks colour after a lag, right-skewed (lognormal), told in days at 20 °C.
    Green {
        /// Days at 20 °C from position 0 to the break of colour.
        first_segment: f64,
        /// Median lag when it is known: mature green by its stage. Otherwise from the belief,
        /// with a share that never ripens.
        mature: bool,
    },
    /// Sorted by stage into one lot.
    Stages {
        /// Days at 20 °C from position 0 to the break of colour.
        first_segment: f64,
        /// Share of each stage, in order, and the positions it spreads over.
        shares: [(f64, f64, f64); 6],
    },
}

impl Start {
    /// The start of a class, refined by a stage where one was noted.
    pub(super) fn of(model: Option<&Model>, class: &Class, stage: Option<Stage>) -> Self {
        let Some(model) = model else { return Self::AsItIs };
        if class.ready {
            return if class.fill >= 1.0 { Self::Ripe } else { Self::AsItIs };
        }
        if !class.ripens {
            return Self::AsItIs;
        }
        let first_segment = model.first_segment_at_20();
        match stage {
            Some(Stage::Red) => return Self::Ripe,
            Some(Stage::Green) if model.green => {
                return Self::Green { first_segment, mature: true };
            }
            _ => {}
        }
        if let Some(at) = model.stages.iter().find(|at| Some(at.stage) == stage) {
            let to = (at.position + at.half_width).min(model.ripe() as f64);
            return Self::Even { from: at.position - at.half_width, to };
        }
        if class.fill > 0.0 {
            Self::Even { from: model.colouring.from, to: model.colouring.to }
        } else {
            Self::Green { first_segment, mature: false }
        }
    }

    /// The start of a lot whose grams are known by stage. Stages the model does not know count as
    /// its class does; nothing of it weighing anything, so does the lot.
    pub(super) fn of_stages(
        model: Option<&Model>,
        class: &Class,
        stages: &BTreeMap<Stage, Grams>,
    ) -> Option<Self> {
        let model = model.filter(|model| model.green)?;
        let whole: f64 = stages.values().map(|grams| grams.0.max(0) as f64).sum();
        if whole <= 0.0 {
            return None;
        }
        let ripe = model.ripe() as f64;
        let shares = Stage::ALL.map(|stage| {
            let share = stages.get(&stage).map_or(0.0, |grams| grams.0.max(0) as f64 / whole);
            match Self::of(
                Some(model),
                &Class { ripens: true, ready: false, ..class.clone() },
                Some(stage),
            ) {
                Self::Even { from, to } => (share, from, to),
                Self::Ripe => (share, ripe, ripe),
                _ => (share, 0.0, 0.0),
            }
        });
        Some(Self::Stages { first_segment: model.first_segment_at_20(), shares })
    }

    /// Does the belief's lag bear on it, and its share that never ripens?
    pub(super) fn unsorted_green(&self) -> bool {
        matches!(self, Self::Green { mature: false, .. })
    }

    /// Share of the fruit that will ripen whose start is at or beyond `x`, for each ln of a median
    /// lag.
    ///
    /// For green fruit a start position and a lag are the same thing told twice: with `d` days at
    /// 20 °C from position 0 to 1, lag `L` = d·(1 − x) for 0 ≤ x < 1 and d − x for x < 0.
    pub(super) fn shares_beyond<const N: usize>(
        &self,
        x: f64,
        log_lags: &[f64; N],
        lag_sd_log: f64,
        normal: Normal,
    ) -> [f64; N] {
        let lag_beyond = |first_segment: f64| {
            let lag = if x < 0.0 { first_segment - x } else { first_segment * (1.0 - x) };
            (lag > 0.0).then(|| log(lag))
        };
        match self {
            Self::Ripe => [1.0; N],
            Self::AsItIs => [0.0; N],
            Self::Even { from, to } => [even(*from, *to, x); N],
            Self::Green { first_segment, mature } => match lag_beyond(*first_segment) {
                None => [0.0; N],
                Some(lag) if *mature => [normal.below((lag - log(*first_segment)) / lag_sd_log); N],
                Some(lag) => log_lags.map(|median| normal.below((lag - median) / lag_sd_log)),
            },
            Self::Stages { first_segment, shares } => {
                let mut sum = 0.0;
                for (stage, (share, from, to)) in shares.iter().enumerate() {
                    if *share <= 0.0 {
                        continue;
                    }
                    sum += share
                        * if stage == 0 {
                            lag_beyond(*first_segment).map_or(0.0, |lag| {
                                normal.below((lag - log(*first_segment)) / lag_sd_log)
                            })
                        } else {
                            even(*from, *to, x)
                        };
                }
                [sum.min(1.0); N]
            }
        }
    }
}

/// Share at or beyond `x` of what lies evenly between two positions, or all at one.
fn even(from: f64, to: f64, x: f64) -> f64 {
    if to > from { ((to - x) / (to - from)).clamp(0.0, 1.0) } else { f64::from(x <= to) }
}

#[cfg(test)]
mod tests {
    use super::super::table::model;
    use super::*;
    use crate::trade::crops;

    fn start(crop: &str, class: &str, stage: Option<Stage>) -> Start {
        let crop = crops::crop(&crop.into()).expect("a crop");
        let class = crop.class(&class.into()).expect("a class");
        Start::of(crop.model.as_deref().and_then(model), class, stage)
    }

    #[test]
    fn classes_start_where_the_trade_sorts_them() {
        assert_eq!(start("tomato", "ripe", None), Start::Ripe);
        assert_eq!(start("tomato", "hurt", None), Start::AsItIs);
        assert_eq!(start("tomato", "colouring", None), Start::Even { from: 1.0, to: 4.0 });
        assert!(start("tomato", "green", None).unsorted_green());
        assert!(!start("tomato", "green", Some(Stage::Green)).unsorted_green());
        assert_eq!(start("pepper", "green", None), Start::AsItIs);
        assert_eq!(start("eggplant", "sound", None), Start::AsItIs);
        assert_eq!(start("tomato", "colouring", Some(Stage::Red)), Start::Ripe);
    }

    #[test]
    fn the_middle_green_fruit_breaks_after_the_median_lag() {
        let green = start("tomato", "green", None);
        // Median 5 days at 20 °C: 2 of them in the first segment, 3 before it.
        let beyond = |start: &Start, x| start.shares_beyond(x, &[log(5.0)], 0.6, Normal::new())[0];
        assert!((beyond(&green, -3.0) - 0.5).abs() < 1e-12);
        let mature = start("tomato", "green", Some(Stage::Green));
        assert!((beyond(&mature, 0.0) - 0.5).abs() < 1e-12);
        assert!(beyond(&green, 1.0).abs() < 1e-12, "none has broken colour yet");
    }

    #[test]
    fn a_lot_by_stage_is_its_stages() {
        let class = crops::class(&"tomato".into(), &"colouring".into()).expect("a class");
        let grams = |stages: &[(Stage, i64)]| {
            let stages = stages.iter().map(|(stage, grams)| (*stage, Grams(*grams))).collect();
            Start::of_stages(model("tomato"), class, &stages)
        };
        let beyond = |start: &Start, x| start.shares_beyond(x, &[log(5.0)], 0.6, Normal::new())[0];
        let both = grams(&[(Stage::Breakers, 1), (Stage::Pink, 3)]).expect("weighs something");
        let (breakers, pink) = (
            start("tomato", "colouring", Some(Stage::Breakers)),
            start("tomato", "colouring", Some(Stage::Pink)),
        );
        for x in [0.0, 0.7, 1.2, 2.8, 3.1, 4.0] {
            let sum = 0.25 * beyond(&breakers, x) + 0.75 * beyond(&pink, x);
            assert!((beyond(&both, x) - sum).abs() < 1e-12, "{x}");
        }
        assert_eq!(grams(&[]), None);
    }
}
