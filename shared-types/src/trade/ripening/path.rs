//! The rate sum: where a fruit is after days of changing temperature, with the crossing of each
//! stage found exactly inside a step.

use super::rate::Rates;
use super::table::Model;
use crate::trade::crops::Stage;

/// A stretch at one temperature, until the next span begins; the last is endless.
#[derive(Clone, Debug)]
pub(super) struct Span {
    /// Days after the evening of picking.
    pub(super) from: f64,
    /// The temperature, °C.
    pub(super) celsius: f64,
    /// The rates at it.
    pub(super) rates: Rates,
}

/// The start position from which a fruit of rate multiplier `m` is ripe exactly `days` after
/// picking. Found backwards from ripe; every fruit that started at or beyond it is ripe by then.
pub(super) fn start_reaching(spans: &[Span], ripe: usize, m: f64, days: f64) -> f64 {
    let mut x = ripe as f64;
    let mut until = days.max(0.0);
    for span in spans.iter().rev().filter(|span| span.from < days) {
        x = back(x, &span.rates, m, until - span.from);
        until = span.from;
    }
    x
}

/// x − Σ m·k_s·Δt over `days` at one temperature, going back through the segments.
fn back(mut x: f64, rates: &Rates, m: f64, mut days: f64) -> f64 {
    while x > 0.0 {
        let segment = libm::ceil(x) - 1.0;
        let k = m * rates.segments[segment as usize];
        let need = (x - segment) / k;
        if need > days {
            return x - days * k;
        }
        days -= need;
        x = segment;
    }
    x - days * m * rates.lag
}

/// Days until a fruit that starts at `x` is ripe at a constant temperature, by the table.
pub fn days_to_ripe(model: &Model, x: f64, celsius: f64) -> f64 {
    let rates = model.rates(celsius);
    let mut days = (-x).max(0.0) / rates.lag;
    let start = x.max(0.0);
    for (segment, k) in rates.segments.iter().take(model.ripe()).enumerate() {
        let left = (segment as f64 + 1.0 - start).clamp(0.0, 1.0);
        days += left / k;
    }
    days
}

/// Days until the middle fruit of a stage is ripe at a constant temperature: for the table's own
/// stages and temperatures, the table's cell. `None` where the model does not know the stage.
pub fn middle_days(model: &Model, stage: Stage, celsius: f64) -> Option<f64> {
    let x = match stage {
        Stage::Red => model.ripe() as f64,
        Stage::Green if model.green => 0.0,
        _ => model.stages.iter().find(|at| at.stage == stage)?.position,
    };
    Some(days_to_ripe(model, x, celsius))
}

#[cfg(test)]
mod tests {
    use super::super::table::model;
    use super::*;

    fn span(model: &Model, from: f64, celsius: f64) -> Span {
        Span { from, celsius, rates: model.rates(celsius) }
    }

    #[test]
    fn backwards_undoes_forwards() {
        let tomato = model("tomato").expect("is in the table");
        let spans = [span(tomato, 0.0, 17.0)];
        for x in [-3.0, -0.5, 0.0, 0.4, 1.0, 2.7, 3.6, 4.0] {
            let days = days_to_ripe(tomato, x, 17.0);
            assert!((start_reaching(&spans, 4, 1.0, days) - x).abs() < 1e-9, "{x}");
        }
    }

    #[test]
    fn a_move_is_a_sum_of_rates() {
        // Pink at 12.5 °C for 5 of its 10 days is half way; the other half takes 2 of 4 at 20 °C.
        let tomato = model("tomato").expect("is in the table");
        let spans = [span(tomato, 0.0, 12.5), span(tomato, 5.0, 20.0)];
        assert!((start_reaching(&spans, 4, 1.0, 7.0) - 3.0).abs() < 1e-12);
        assert!((start_reaching(&spans, 4, 1.0, 5.0) - 3.5).abs() < 1e-12);
        assert!((start_reaching(&spans, 4, 2.0, 3.5) - 3.3).abs() < 1e-9);
    }

    #[test]
    fn nothing_is_riper_before_it_was_picked() {
        let tomato = model("tomato").expect("is in the table");
        assert!((start_reaching(&[span(tomato, 0.0, 20.0)], 4, 1.0, -2.0) - 4.0).abs() < 1e-12);
    }
}
