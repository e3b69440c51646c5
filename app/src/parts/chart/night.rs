//! The fall of a night's temperature: as expected, and at the cold end, with freezing marked.

use leptos::prelude::*;

/// Width and height it is drawn in; the words keep their size on a phone of 390 px.
const SIZE: (f64, f64) = (362.0, 190.0);
/// Room for figures at the left and words below, px.
const LEFT: f64 = 40.0;
const BELOW: f64 = 26.0;
const MARGIN: f64 = 14.0;

/// One moment of the night, °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NightPoint {
    /// Hours after sunset.
    pub hours: f64,
    /// As expected.
    pub expected: f64,
    /// At the cold end.
    pub coldest: f64,
}

/// A night to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct NightCurve {
    /// In order of time.
    pub points: Vec<NightPoint>,
    /// Words under the axis, by hours after sunset.
    pub ticks: Vec<(f64, String)>,
    /// The answer in a sentence.
    pub words: String,
}

/// Where the lines run.
#[derive(Clone, Debug, PartialEq)]
struct Shape {
    band: String,
    line: String,
    ticks: Vec<(f64, &'static str, String)>,
    grid: Vec<(f64, String)>,
    freezing: Option<f64>,
}

fn shape(curve: &NightCurve) -> Option<Shape> {
    let (first, last) = (curve.points.first()?, curve.points.last()?);
    let coldest = curve.points.iter().map(|p| p.coldest.min(p.expected)).fold(0.0_f64, f64::min);
    let warmest = curve.points.iter().map(|p| p.expected).fold(0.0_f64, f64::max);
    let (bottom, top) = ((coldest - 0.5).floor(), (warmest + 0.5).ceil());
    let (width, height) = SIZE;
    let hours = (last.hours - first.hours).max(0.1);
    let x = |at: f64| LEFT + (width - LEFT - MARGIN) * (at - first.hours) / hours;
    let y = |celsius: f64| {
        MARGIN + (height - MARGIN - BELOW) * (top - celsius) / (top - bottom).max(1.0)
    };
    let path = |value: &dyn Fn(&NightPoint) -> f64| -> Vec<String> {
        curve.points.iter().map(|p| format!("{:.1} {:.1}", x(p.hours), y(value(p)))).collect()
    };
    let expected = path(&|p| p.expected);
    let mut outline = expected.clone();
    outline.extend(path(&|p| p.coldest).into_iter().rev());
    let step = if top - bottom > 12.0 { 4.0 } else { 2.0 };
    let lines = ((top - bottom) / step) as i32;
    let begin = (bottom / step).ceil() * step;
    let count = curve.ticks.len();
    Some(Shape {
        band: format!("M{}Z", outline.join("L")),
        line: format!("M{}", expected.join("L")),
        ticks: curve
            .ticks
            .iter()
            .enumerate()
            .map(|(i, (hours, words))| {
                let anchor = if i == 0 {
                    "start"
                } else if i + 1 == count {
                    "end"
                } else {
                    "middle"
                };
                (x(*hours), anchor, words.clone())
            })
            .collect(),
        grid: (0..=lines)
            .map(|n| begin + f64::from(n) * step)
            .filter(|celsius| *celsius <= top)
            .map(|celsius| (y(celsius), format!("{celsius:.0}°").replace('-', "\u{2212}")))
            .collect(),
        freezing: (bottom..=top).contains(&0.0).then(|| y(0.0)),
    })
}

/// The chart; its answer in words to who cannot see it.
#[component]
pub fn NightChart(
    /// The night.
    curve: NightCurve,
) -> impl IntoView {
    let right = SIZE.0 - MARGIN;
    shape(&curve).map(|shape| {
        let grid = shape.grid.into_iter().map(|(y, figure)| {
            view! {
                <line class="grid" x1=LEFT x2=right y1=y y2=y />
                <text x=LEFT - 8.0 y=y + 4.5 text-anchor="end">
                    {figure}
                </text>
            }
        });
        let ticks = shape.ticks.into_iter().map(|(x, anchor, words)| {
            view! {
                <text x=x y=SIZE.1 - 6.0 text-anchor=anchor>
                    {words}
                </text>
            }
        });
        let freezing = shape.freezing.map(|y| {
            view! { <line class="limit" x1=LEFT x2=right y1=y y2=y /> }
        });
        view! {
            <figure class="chart-frame">
                <svg
                    class="chart green"
                    viewBox=format!("0 0 {:.0} {:.0}", SIZE.0, SIZE.1)
                    role="img"
                    aria-labelledby="night-title night-words"
                >
                    <title id="night-title">"Temperature through the night"</title>
                    <desc id="night-words">{curve.words.clone()}</desc>
                    {grid.collect_view()}
                    <path class="band" d=shape.band />
                    <path class="line" d=shape.line />
                    {freezing}
                    {ticks.collect_view()}
                </svg>
                <figcaption class="sub">{curve.words}</figcaption>
            </figure>
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colder_is_lower_and_nothing_leaves_the_drawing() {
        let point = |hours, expected, coldest| NightPoint { hours, expected, coldest };
        let curve = NightCurve {
            points: vec![point(2.0, 4.0, 4.0), point(8.0, 0.0, -2.0), point(12.5, -2.0, -5.1)],
            ticks: vec![(2.0, "20:30".into()), (12.5, "7:00".into())],
            words: String::new(),
        };
        let shape = shape(&curve).expect("a night");
        let freezing = shape.freezing.expect("0° is on it");
        assert!((MARGIN..SIZE.1 - BELOW).contains(&freezing));
        let numbers: Vec<f64> = shape
            .band
            .split(['M', 'L', 'Z', ' '])
            .filter(|part| !part.is_empty())
            .map(|part| part.parse().expect("path data holds numbers"))
            .collect();
        assert_eq!(numbers.len(), 12);
        for pair in numbers.chunks(2) {
            assert!((LEFT..=SIZE.0 - MARGIN + 0.1).contains(&pair[0]), "{pair:?}");
            assert!((MARGIN..=SIZE.1 - BELOW).contains(&pair[1]), "{pair:?}");
        }
        assert!(numbers[3] > numbers[1], "it falls");
        assert!(shape.grid.iter().any(|(_, figure)| figure == "0°"));
        assert_eq!(shape.ticks.last().map(|tick| tick.1), Some("end"));
    }

    #[test]
    fn no_points_are_no_chart() {
        let curve = NightCurve { points: vec![], ticks: vec![], words: String::new() };
        assert_eq!(shape(&curve), None);
    }
}
