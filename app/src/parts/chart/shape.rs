//! Where the lines of a band chart run, in CSS px; nothing of the browser.

use super::scale;

/// One day of the chart.
#[derive(Clone, Debug, PartialEq)]
pub struct BandPoint {
    /// Word under the axis; empty for none.
    pub tick: String,
    /// The low end of the band.
    pub low: f64,
    /// The middle.
    pub middle: f64,
    /// The high end of the band.
    pub high: f64,
}

/// A line of the grid and its figure.
#[derive(Clone, Debug, PartialEq)]
pub struct GridLine {
    /// Height on the drawing.
    pub y: f64,
    /// What stands left of it.
    pub figure: String,
}

/// A word under the axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// Where its middle (or, at an end, its edge) stands.
    pub x: f64,
    /// `start`, `middle` or `end`, so that no word leaves the drawing.
    pub anchor: &'static str,
    /// The word.
    pub text: String,
}

/// A chart ready to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Width of the drawing.
    pub width: f64,
    /// Height of the drawing.
    pub height: f64,
    /// Left end of the plot.
    pub left: f64,
    /// Right end of the plot.
    pub right: f64,
    /// Top of the plot.
    pub top: f64,
    /// The floor, where the value is nothing.
    pub floor: f64,
    /// The grid above the floor, lowest first; the floor itself comes first.
    pub grid: Vec<GridLine>,
    /// Words under the axis.
    pub ticks: Vec<Tick>,
    /// Outline of the band, as path data.
    pub band: String,
    /// The middle line, as path data.
    pub line: String,
    /// The first point of the middle line.
    pub dot: (f64, f64),
    /// What the first point comes to, when it lies above the drawing.
    pub above: Option<String>,
}

/// Room left of the plot for figures of three digits, at 13 px text.
const LEFT: f64 = 34.0;
/// Room right of it, for half a word.
const RIGHT: f64 = 14.0;
/// Room above, for half a figure and the unit.
const TOP: f64 = 24.0;
/// Room below, for the words.
const BELOW: f64 = 28.0;

/// The first day holds all that stands ripe. Where that is more than this many times the most of any
/// later day, it would press the rest flat: it is marked at the top with its figure instead.
const MOST_ABOVE: f64 = 2.0;

/// Lays the points out evenly on a drawing `width` px wide. `None` for fewer than two points,
/// which make no line.
pub fn shape(points: &[BandPoint], width: f64) -> Option<Shape> {
    if points.len() < 2 {
        return None;
    }
    let height = (width * 0.66).clamp(220.0, 320.0);
    let (left, right, floor) = (LEFT, width - RIGHT, height - BELOW);
    let most_of = |points: &[BandPoint]| points.iter().map(|p| p.high).fold(0.0, f64::max);
    let later = most_of(&points[1..]);
    let above = points.len() > 2 && later > 0.0 && points[0].high > MOST_ABOVE * later;
    let most = if above { later } else { most_of(points) };
    let drawn = usize::from(above);
    let step = scale::step(most);
    let lines = (most / step).ceil().max(1.0);
    let x = |i: usize| left + (right - left) * i as f64 / (points.len() - 1) as f64;
    let y = |value: f64| floor - (floor - TOP) * (value / (lines * step));
    let path = |value: &dyn Fn(&BandPoint) -> f64| -> Vec<String> {
        let at = |(i, point)| format!("{:.1} {:.1}", x(i), y(value(point)));
        points.iter().enumerate().skip(drawn).map(at).collect()
    };
    let mut outline = path(&|point| point.high);
    outline.extend(path(&|point| point.low).into_iter().rev());
    let last = points.len() - 1;
    Some(Shape {
        width,
        height,
        left,
        right,
        top: TOP,
        floor,
        grid: (0..=lines as i32)
            .map(|n| f64::from(n) * step)
            .map(|value| GridLine { y: y(value), figure: scale::figure(value, step) })
            .collect(),
        ticks: points
            .iter()
            .enumerate()
            .filter(|(_, point)| !point.tick.is_empty())
            .map(|(i, point)| Tick {
                x: x(i),
                anchor: if i == last { "end" } else { "middle" },
                text: point.tick.clone(),
            })
            .collect(),
        band: format!("M{}Z", outline.join("L")),
        line: format!("M{}", path(&|point| point.middle).join("L")),
        dot: (x(0), if above { TOP } else { y(points[0].middle) }),
        above: above.then(|| figure_of(points[0].middle)),
    })
}

/// A figure standing alone: from ten up without decimals.
fn figure_of(value: f64) -> String {
    if value >= 10.0 { format!("{value:.0}") } else { format!("{value:.1}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(low: f64, middle: f64, high: f64) -> BandPoint {
        BandPoint { tick: "Mon".to_owned(), low, middle, high }
    }

    #[test]
    fn more_is_higher_and_nothing_leaves_the_drawing() {
        let points = [point(4.9, 6.4, 7.8), point(0.0, 0.0, 0.0), point(3.0, 6.0, 9.0)];
        let shape = shape(&points, 362.0).expect("three points make a chart");
        assert_eq!(
            shape.grid.iter().map(|line| line.figure.as_str()).collect::<Vec<_>>(),
            ["0", "3", "6", "9"]
        );
        assert!((shape.grid[0].y - shape.floor).abs() < 1e-9);
        assert!((shape.grid[3].y - shape.top).abs() < 1e-9);
        assert!(shape.dot.1 < shape.floor && shape.dot.1 > shape.top);
        assert!((shape.dot.0 - shape.left).abs() < 1e-9);
        assert_eq!(shape.ticks.last().map(|tick| tick.anchor), Some("end"));
        let numbers: Vec<f64> = shape
            .band
            .split(|c: char| c.is_ascii_alphabetic() || c == ' ')
            .filter(|part| !part.is_empty())
            .map(|part| part.parse().expect("path data holds numbers"))
            .collect();
        assert_eq!(numbers.len(), 12, "six corners");
        assert!(numbers.iter().all(|n| (0.0..=shape.width).contains(n)), "{numbers:?}");
    }

    #[test]
    fn a_pile_that_stands_ripe_does_not_press_the_days_flat() {
        let (pile, day) = (point(74.0, 80.0, 86.0), point(5.0, 8.0, 10.0));
        let cut = shape(&[pile, day.clone(), day.clone()], 362.0).expect("a chart");
        assert_eq!(cut.above.as_deref(), Some("80"));
        assert_eq!(cut.grid.last().map(|line| line.figure.as_str()), Some("12"));
        assert!((cut.dot.1 - cut.top).abs() < 1e-9);
        assert_eq!(cut.line.matches('L').count(), 1, "the line begins tomorrow");
        let whole = shape(&[point(5.0, 12.0, 19.0), day.clone(), day], 362.0).expect("a chart");
        assert_eq!(whole.above, None);
        assert_eq!(whole.line.matches('L').count(), 2);
    }

    #[test]
    fn nothing_to_come_is_a_flat_line_and_one_day_is_no_chart() {
        let flat = shape(&[point(0.0, 0.0, 0.0), point(0.0, 0.0, 0.0)], 362.0).expect("a chart");
        assert_eq!(flat.grid.len(), 2);
        assert!((flat.dot.1 - flat.floor).abs() < 1e-9);
        assert_eq!(shape(&[point(1.0, 2.0, 3.0)], 362.0), None);
    }
}
