//! Round steps for the axis of a chart.

/// Most lines of the grid above the floor: more crowd a phone.
const MOST_LINES: f64 = 4.0;
/// A chart of nothing still has a height.
const LEAST: f64 = 0.4;

/// The step between grid lines for a chart that must reach `most`: 1, 2, 3 or 5 times a power of
/// ten, so that at most four lines stand above the floor.
pub fn step(most: f64) -> f64 {
    let most = most.max(LEAST);
    let least = most / MOST_LINES;
    let power = 10_f64.powf(least.log10().floor());
    [1.0, 2.0, 3.0, 5.0, 10.0]
        .into_iter()
        .map(|times| times * power)
        .find(|step| *step * MOST_LINES >= most)
        .unwrap_or(10.0 * power)
}

/// A grid line's figure: no decimals it does not need.
pub fn figure(value: f64, step: f64) -> String {
    if step >= 1.0 || value < step / 2.0 { format!("{value:.0}") } else { format!("{value:.1}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_grid_reaches_the_most_with_few_lines() {
        for (most, wanted) in
            [(9.0, 3.0), (7.8, 2.0), (12.1, 5.0), (31.4, 10.0), (100.0, 30.0), (0.9, 0.3)]
        {
            let got = step(most);
            assert!((got - wanted).abs() < 1e-9, "{most}: {got}");
        }
        for tenths in 4..2000 {
            let most = f64::from(tenths) / 10.0;
            let lines = (most / step(most)).ceil();
            assert!((1.0..=MOST_LINES).contains(&lines), "{most}: {lines}");
        }
    }

    #[test]
    fn an_empty_chart_still_has_a_step() {
        assert!(step(0.0) > 0.0);
        assert_eq!(figure(0.3, 0.1), "0.3");
        assert_eq!(figure(0.0, 0.1), "0");
        assert_eq!(figure(9.0, 3.0), "9");
    }
}
