//! A lane for each room: when what stands there turns ripe.

use leptos::prelude::*;

/// One room.
#[derive(Clone, Debug, PartialEq)]
pub struct Lane {
    /// Its name, and what stands in it.
    pub name: String,
    /// Each lot's days: from and to, counted from today, and the colour's class.
    pub bars: Vec<LaneBar>,
}

/// One lot in its lane.
#[derive(Clone, Debug, PartialEq)]
pub struct LaneBar {
    /// First day, from today.
    pub from: f64,
    /// Last day, from today.
    pub to: f64,
    /// The colour's class.
    pub tone: &'static str,
    /// How much of it, 0 to 1 of the heaviest: how thick the bar is.
    pub weight: f64,
}

const LEFT: f64 = 34.0;
const RIGHT_MARGIN: f64 = 14.0;
const LANE: f64 = 44.0;
const BAR: f64 = 14.0;

/// The lanes under the chart, on the chart's own days.
#[component]
pub fn Lanes(
    /// The rooms, warmest first.
    #[prop(into)]
    lanes: Signal<Vec<Lane>>,
    /// How many days the chart above shows.
    days: usize,
) -> impl IntoView {
    let width = 362.0;
    let last = (days.max(2) - 1) as f64;
    let x = move |day: f64| LEFT + (width - RIGHT_MARGIN - LEFT) * day.clamp(0.0, last) / last;
    let draw = move |all: Vec<Lane>| {
        let height = LANE * all.len() as f64;
        let rows = all
            .into_iter()
            .enumerate()
            .map(|(n, lane)| {
                let top = LANE * n as f64;
                let bars = lane
                    .bars
                    .into_iter()
                    .map(|bar| {
                        let thick = (BAR * bar.weight).max(4.0);
                        let (from, to) = (x(bar.from), x(bar.to).max(x(bar.from) + 6.0));
                        view! {
                            <g class=bar.tone>
                                <rect
                                    class="column-bar"
                                    x=from
                                    width=to - from
                                    y=top + 28.0 - thick / 2.0
                                    height=thick
                                    rx=thick / 2.0
                                />
                            </g>
                        }
                    })
                    .collect_view();
                view! {
                    <text x=LEFT y=top + 14.0>
                        {lane.name}
                    </text>
                    <line class="grid" x1=LEFT x2=width - RIGHT_MARGIN y1=top + 28.0 y2=top + 28.0 />
                    {bars}
                }
            })
            .collect_view();
        // The list of lots says the same in words.
        view! {
            <svg class="chart" viewBox=format!("0 0 {width:.0} {height:.0}") aria-hidden="true">
                {rows}
            </svg>
        }
    };
    view! { <div class="chart-frame">{move || draw(lanes.get())}</div> }
}
