//! Three forecasts against a Monte Carlo that shares nothing with them but the published table and
//! the documented priors: `generate/ripening.py`, by numpy and scipy, fruit by fruit.

use serde::Deserialize;
use shared_types::trade::ripening::case::{Case, run};
use shared_types::units::Grams;

#[derive(Deserialize)]
struct Monte {
    seasons: u32,
    cases: Vec<MonteCase>,
}

#[derive(Deserialize)]
struct MonteCase {
    case: serde_json::Value,
    days: Vec<MonteDay>,
}

#[derive(Deserialize)]
struct MonteDay {
    /// Grams ripe by then, at 10, 50 and 90 %.
    by_then: [f64; 3],
    /// Standard error of each.
    error: [f64; 3],
}

/// What the forecast's own arithmetic may be off, as a share of the lots' weight: nine strata
/// stand for the rate, three places for each of the rest, and a share of fruit for a normal.
const QUADRATURE: f64 = 0.025;

#[test]
fn three_forecasts_agree_with_a_monte_carlo_within_its_sampling_error() {
    let monte: Monte = serde_json::from_str(include_str!("ripening.json")).expect("reads");
    assert!(monte.seasons >= 1000 && monte.cases.len() == 3);
    for (i, one) in monte.cases.iter().enumerate() {
        let case = Case::parse(&one.case.to_string()).expect("reads");
        let told = run(&case).expect("runs").forecast;
        let weight: Grams = told.lots.iter().map(|lot| lot.today.start).sum();
        let (mut worst, mut sum, mut count) = (0.0_f64, 0.0, 0.0);
        for (day, drawn) in told.days.iter().zip(&one.days) {
            let band = day.by_then;
            let quantiles = [band.p10, band.p50, band.p90];
            for ((ours, theirs), error) in quantiles.iter().zip(drawn.by_then).zip(drawn.error) {
                let off = (ours.0 as f64 - theirs).abs();
                let share = off / weight.0 as f64;
                (worst, sum, count) = (worst.max(share), sum + share, count + 1.0);
                assert!(
                    off <= 3.0 * error + QUADRATURE * weight.0 as f64,
                    "case {i}, {}: {ours:?} for {theirs} ± {error}",
                    day.day
                );
            }
        }
        println!(
            "case {i}: off by {:.2} % of the weight on average, {:.2} % at worst",
            100.0 * sum / count,
            100.0 * worst
        );
    }
}
