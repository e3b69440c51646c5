//! Two curves over the same days: before, dashed, and after.

use leptos::prelude::*;

/// One day.
#[derive(Clone, Debug, PartialEq)]
pub struct CurvePoint {
    /// Word under the axis; empty for none.
    pub tick: String,
    /// The first curve, percent.
    pub before: f64,
    /// The second, percent.
    pub after: f64,
}

const WIDTH: f64 = 362.0;
const HEIGHT: f64 = 180.0;
const LEFT: f64 = 34.0;
const RIGHT: f64 = 348.0;
const TOP: f64 = 14.0;
const FLOOR: f64 = 152.0;

fn x(n: usize, of: usize) -> f64 {
    LEFT + (RIGHT - LEFT) * n as f64 / (of.max(2) - 1) as f64
}

fn y(percent: f64) -> f64 {
    FLOOR - (FLOOR - TOP) * percent.clamp(0.0, 100.0) / 100.0
}

fn path(points: &[CurvePoint], value: impl Fn(&CurvePoint) -> f64) -> String {
    let at = |(n, point): (usize, &CurvePoint)| {
        format!("{:.1} {:.1}", x(n, points.len()), y(value(point)))
    };
    format!("M{}", points.iter().enumerate().map(at).collect::<Vec<_>>().join("L"))
}

/// The curves with a line of words that says which is which, and where each passes the half.
#[allow(clippy::needless_pass_by_value, reason = "a component owns its properties")]
#[component]
pub fn TwoCurves(
    /// The days.
    points: Vec<CurvePoint>,
    /// What it shows.
    title: String,
) -> impl IntoView {
    let half = |value: &dyn Fn(&CurvePoint) -> f64| {
        let day = points.iter().position(|point| value(point) >= 50.0);
        day.map_or_else(|| "later than shown".to_owned(), |day| format!("after {day} days"))
    };
    let words = format!(
        "Half is ripe {} by the book (dashed), {} by your rounds.",
        half(&|point| point.before),
        half(&|point| point.after)
    );
    let ticks = points
        .iter()
        .enumerate()
        .filter(|(_, point)| !point.tick.is_empty())
        .map(|(n, point)| {
            view! {
                <text x=x(n, points.len()) y=FLOOR + 20.0 text-anchor="middle">
                    {point.tick.clone()}
                </text>
            }
        })
        .collect_view();
    let grid = [0, 50, 100]
        .map(|percent| {
            let y = y(f64::from(percent));
            view! {
                <line class="grid" x1=LEFT x2=RIGHT y1=y y2=y />
                <text x=LEFT - 6.0 y=y + 4.5 text-anchor="end">
                    {percent}
                </text>
            }
        })
        .collect_view();
    view! {
        <div class="chart-frame">
            <svg
                class="chart ripe"
                viewBox=format!("0 0 {WIDTH:.0} {HEIGHT:.0}")
                role="img"
                aria-label=format!("{title}. {words}")
            >
                {grid}
                <line class="axis" x1=LEFT x2=RIGHT y1=FLOOR y2=FLOOR />
                <path class="limit" fill="none" d=path(&points, |point| point.before) />
                <path class="line" d=path(&points, |point| point.after) />
                {ticks}
            </svg>
            <p class="sub">{title}". "{words}</p>
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn curves_rise_from_the_floor_and_stay_inside() {
        let points: Vec<_> = (0..5)
            .map(|n| CurvePoint {
                tick: String::new(),
                before: f64::from(n) * 25.0,
                after: f64::from(n) * 40.0,
            })
            .collect();
        assert_eq!(
            path(&points, |p| p.before),
            "M34.0 152.0L112.5 117.5L191.0 83.0L269.5 48.5L348.0 14.0"
        );
        assert!(path(&points, |p| p.after).ends_with("348.0 14.0"), "held at all of it");
    }
}
