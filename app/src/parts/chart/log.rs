//! A thermometer's readings by time. Where nothing was read, nothing is drawn.

use leptos::prelude::*;
use shared_types::entry::RoomReading;
use shared_types::units::{DAY_MS, HOUR_MS, Millis};

use super::scale;

/// Readings further apart are not joined: a gap is shown and not invented.
const JOINED_MS: i64 = 4 * HOUR_MS;

const WIDTH: f64 = 362.0;
const HEIGHT: f64 = 170.0;
const LEFT: f64 = 34.0;
const RIGHT: f64 = 348.0;
const TOP: f64 = 16.0;
const FLOOR: f64 = 142.0;

/// Where everything stands.
#[derive(Debug, PartialEq)]
struct Drawn {
    lines: Vec<String>,
    dots: Vec<(f64, f64)>,
    grid: Vec<(f64, String)>,
}

fn draw(readings: &[RoomReading], from: Millis, to: Millis) -> Drawn {
    let degrees = |reading: &RoomReading| reading.millidegrees.celsius();
    let low = readings.iter().map(degrees).fold(f64::INFINITY, f64::min);
    let high = readings.iter().map(degrees).fold(f64::NEG_INFINITY, f64::max);
    let step = scale::step((high - low).max(2.0));
    let base = (low / step).floor() * step;
    let lines = ((high - base) / step).ceil().max(1.0);
    let y = |t: f64| FLOOR - (FLOOR - TOP) * (t - base) / (lines * step);
    let x =
        |at: Millis| LEFT + (RIGHT - LEFT) * at.since(from) as f64 / (to.since(from).max(1)) as f64;
    let mut runs: Vec<Vec<&RoomReading>> = Vec::new();
    for reading in readings {
        match runs.last_mut() {
            Some(run) if run.last().is_some_and(|l| reading.at.since(l.at) <= JOINED_MS) => {
                run.push(reading);
            }
            _ => runs.push(vec![reading]),
        }
    }
    let point = |r: &&RoomReading| format!("{:.1} {:.1}", x(r.at), y(degrees(r)));
    let long = runs.iter().filter(|run| run.len() > 1);
    let alone = runs.iter().filter(|run| run.len() == 1);
    Drawn {
        lines: long
            .map(|run| format!("M{}", run.iter().map(point).collect::<Vec<_>>().join("L")))
            .collect(),
        dots: alone.map(|run| (x(run[0].at), y(degrees(run[0])))).collect(),
        grid: (0..=lines as i32)
            .map(|n| base + f64::from(n) * step)
            .map(|t| (y(t), format!("{t:.0}°")))
            .collect(),
    }
}

/// The last days.
#[component]
pub fn LogChart(
    /// The readings, in order of time.
    #[prop(into)]
    readings: Signal<Vec<RoomReading>>,
    /// How many days are drawn.
    days: i64,
    /// The end of the drawing.
    #[prop(into)]
    now: Signal<Millis>,
) -> impl IntoView {
    let picture = move || {
        let to = now.get();
        let Drawn { lines, dots, grid } =
            readings.with(|all| draw(all, to.plus(-days * DAY_MS), to));
        let words = readings.with(|all| {
            let of = |pick: fn(i32, i32) -> i32| all.iter().map(|r| r.millidegrees.0).reduce(pick);
            match (of(i32::min), of(i32::max)) {
                (Some(low), Some(high)) => format!(
                    "{} readings in {days} days, from {:.1} to {:.1} °C. Gaps are times without a reading.",
                    all.len(),
                    f64::from(low) / 1_000.0,
                    f64::from(high) / 1_000.0
                ),
                _ => String::new(),
            }
        });
        let grid = grid
            .into_iter()
            .map(|(y, figure)| {
                view! {
                    <line class="grid" x1=LEFT x2=RIGHT y1=y y2=y />
                    <text x=LEFT - 6.0 y=y + 4.5 text-anchor="end">
                        {figure}
                    </text>
                }
            })
            .collect_view();
        let lines = lines.into_iter().map(|d| view! { <path class="line" d=d /> }).collect_view();
        let dots = dots
            .into_iter()
            .map(|(x, y)| view! { <circle class="dot" cx=x cy=y r=3 /> })
            .collect_view();
        view! {
            <svg
                class="chart"
                viewBox=format!("0 0 {WIDTH:.0} {HEIGHT:.0}")
                role="img"
                aria-label=words.clone()
            >
                {grid}
                {lines}
                {dots}
                <text x=LEFT y=FLOOR + 20.0>
                    {format!("{days} days ago")}
                </text>
                <text x=RIGHT y=FLOOR + 20.0 text-anchor="end">
                    "now"
                </text>
            </svg>
            <p class="sub">{words}</p>
        }
    };
    view! { <div class="chart-frame">{picture}</div> }
}

#[cfg(test)]
mod tests {
    use super::*;
    use shared_types::units::MilliCelsius;

    #[test]
    fn a_gap_is_a_gap_and_a_lonely_reading_a_dot() {
        let at = |hour: i64, t: i32| RoomReading {
            at: Millis(hour * HOUR_MS),
            millidegrees: MilliCelsius(t),
            humidity_permille: None,
        };
        let readings =
            [at(0, 14_000), at(3, 15_000), at(12, 13_000), at(20, 16_000), at(22, 16_500)];
        let drawn = draw(&readings, Millis(0), Millis(24 * HOUR_MS));
        assert_eq!((drawn.lines.len(), drawn.dots.len()), (2, 1));
        assert!(drawn.dots[0].0 > LEFT && drawn.dots[0].0 < RIGHT);
        assert!(drawn.grid.iter().all(|(y, _)| (TOP - 0.1..=FLOOR + 0.1).contains(y)));
    }
}
