//! A chart of kilograms by day: a band for what is likely, a line through its middle, today marked.
//!
//! It says its answer in words to who cannot see it; the screen puts the figures beside it.

mod curves;
mod lanes;
mod log;
mod night;
mod scale;
mod shape;

use leptos::html;
use leptos::prelude::*;

pub use curves::{CurvePoint, TwoCurves};
pub use lanes::{Lane, LaneBar, Lanes};
pub use log::LogChart;
pub use night::{NightChart, NightCurve, NightPoint};
pub use shape::BandPoint;
use shape::{Shape, shape};

/// The width drawn for until the page has been measured: a phone of 390 px less its margins.
const PHONE_PX: f64 = 362.0;
/// No wider, or lines grow too flat to read.
const WIDEST_PX: f64 = 720.0;
/// No narrower, or words under the axis run into each other.
const NARROWEST_PX: f64 = 280.0;

/// The chart, drawn at its width on the page so that its words keep their size.
#[component]
pub fn BandChart(
    /// The days, from today.
    #[prop(into)]
    points: Signal<Vec<BandPoint>>,
    /// What it shows, in a few words.
    title: &'static str,
    /// Its answer in a sentence.
    #[prop(into)]
    words: Signal<String>,
    /// The unit, written over the axis.
    #[prop(into)]
    unit: Signal<&'static str>,
) -> impl IntoView {
    let frame = NodeRef::<html::Div>::new();
    let width = RwSignal::new(PHONE_PX);
    let measure = move || {
        if let Some(frame) = frame.get_untracked()
            && frame.client_width() > 0
        {
            let px = f64::from(frame.client_width()).clamp(NARROWEST_PX, WIDEST_PX);
            width.maybe_update(|width| std::mem::replace(width, px).total_cmp(&px).is_ne());
        }
    };
    frame.on_load(move |_| request_animation_frame(measure));
    let resized = window_event_listener(leptos::ev::resize, move |_| measure());
    on_cleanup(move || resized.remove());
    view! {
        <div class="chart-frame" node_ref=frame>
            {move || {
                let shape = points.with(|points| shape(points, width.get()));
                shape.map(|shape| draw(shape, title, words, unit))
            }}
        </div>
    }
}

fn draw(
    shape: Shape,
    title: &'static str,
    words: Signal<String>,
    unit: Signal<&'static str>,
) -> impl IntoView {
    let Shape { width, height, left, right, top, floor, grid, ticks, band, line, dot, above } =
        shape;
    let grid = grid
        .into_iter()
        .map(|line| {
            let y = line.y;
            view! {
                <line class="grid" x1=left x2=right y1=y y2=y />
                <text x=left - 8.0 y=y + 4.5 text-anchor="end">
                    {line.figure}
                </text>
            }
        })
        .collect_view();
    let ticks = ticks
        .into_iter()
        .map(|tick| {
            view! {
                <text x=tick.x y=floor + 20.0 text-anchor=tick.anchor>
                    {tick.text}
                </text>
            }
        })
        .collect_view();
    let above = above.map(|figure| {
        view! {
            <text x=left + 10.0 y=top - 11.0>
                {figure}
                " today, above the scale"
            </text>
        }
    });
    view! {
        <svg
            class="chart ripe"
            viewBox=format!("0 0 {width:.0} {height:.0}")
            role="img"
            aria-labelledby="chart-title chart-words"
        >
            <title id="chart-title">{title}</title>
            <desc id="chart-words">{words}</desc>
            {grid}
            <text x=left - 8.0 y=top - 11.0 text-anchor="end">
                {unit}
            </text>
            <line class="axis" x1=left x2=right y1=floor y2=floor />
            <path class="band" d=band />
            <line class="today" x1=dot.0 x2=dot.0 y1=top y2=floor />
            <path class="line" d=line />
            <circle class="dot" cx=dot.0 cy=dot.1 r=6 />
            {ticks}
            {above}
        </svg>
    }
}
