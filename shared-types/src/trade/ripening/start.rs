//! Where the fruit of a lot start: a distribution over positions.

use libm::{erfc, log, sqrt};

use super::table::Model;
use crate::trade::crops::{Class, Stage};

/// The distribution of start positions in a lot.
#[derive(Clone, Copy, Debug, PartialEq)]
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

    /// Does the belief's lag bear on it, and its share that never ripens?
    pub(super) fn unsorted_green(self) -> bool {
        matches!(self, Self::Green { mature: false, .. })
    }

    /// Share of the fruit that will ripen whose start is at or beyond `x`, for each median lag.
    ///
    /// For green fruit a start position and a lag are the same thing told twice: with `d` days at
    /// 20 °C from position 0 to 1, lag `L` = d·(1 − x) for 0 ≤ x < 1 and d − x for x < 0.
    pub(super) fn shares_beyond<const N: usize>(
        self,
        x: f64,
        lag_medians: &[f64; N],
        lag_sd_log: f64,
    ) -> [f64; N] {
        match self {
            Self::Ripe => [1.0; N],
            Self::AsItIs => [0.0; N],
            Self::Even { from, to } => [((to - x) / (to - from)).clamp(0.0, 1.0); N],
            Self::Green { first_segment, mature } => {
                let lag = if x < 0.0 { first_segment - x } else { first_segment * (1.0 - x) };
                if lag <= 0.0 {
                    return [0.0; N];
                }
                let below = |median: f64| normal_below((log(lag) - log(median)) / lag_sd_log);
                if mature { [below(first_segment); N] } else { lag_medians.map(below) }
            }
        }
    }
}

/// Φ(z) = erfc(−z/√2)/2.
pub(super) fn normal_below(z: f64) -> f64 {
    0.5 * erfc(-z / sqrt(2.0))
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
        assert!((green.shares_beyond(-3.0, &[5.0], 0.6)[0] - 0.5).abs() < 1e-12);
        let mature = start("tomato", "green", Some(Stage::Green));
        assert!((mature.shares_beyond(0.0, &[5.0], 0.6)[0] - 0.5).abs() < 1e-12);
        assert!(
            green.shares_beyond(1.0, &[5.0], 0.6)[0].abs() < 1e-12,
            "none has broken colour yet"
        );
    }
}
