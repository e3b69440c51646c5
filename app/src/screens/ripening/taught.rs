//! What the rounds have taught: in words, as a curve before and after, and how to forget it.

use leptos::prelude::*;
use shared_types::book::Book;
use shared_types::entry::LearningReset;
use shared_types::ids::{CropId, VarietyId};
use shared_types::trade::ripening::{
    Belief, Change, Learned, LearnedVariety, LotInput, RoomClimate, before_after,
};
use shared_types::units::{Day, Grams, MilliCelsius};

use crate::farm::use_farm;
use crate::parts::Problem;
use crate::parts::chart::{CurvePoint, TwoCurves};
use crate::words;

/// The pile the curve is drawn of, so that varieties can be set side by side: 10 kg at 20 °C.
const SHOWN: Grams = Grams(10_000);
/// Days of the curve: unsorted green fruit takes two to three weeks at 20 °C.
const SHOWN_DAYS: usize = 28;

/// What was learned of one variety.
#[derive(Clone, Debug, PartialEq)]
pub struct Taught {
    /// The crop.
    pub crop: CropId,
    /// The variety, unless of lots without one.
    pub variety: Option<VarietyId>,
    /// Its name.
    pub name: String,
    /// What was learned, in sentences.
    pub words: String,
    /// Each parameter: what it is, by the book, by your rounds.
    pub figures: Vec<[String; 3]>,
    /// Share of the class drawn that is ripe by each day, percent, by the book and by rounds.
    pub curve: Vec<CurvePoint>,
    /// What the curve is of.
    pub of: String,
}

/// All that was learned, by name.
pub fn taught(book: &Book, learned: &Learned, today: Day) -> Vec<Taught> {
    let mut all: Vec<_> =
        learned.varieties.iter().map(|one| of_one(book, &learned.prior, one, today)).collect();
    all.sort_by(|a, b| (&a.name, &a.crop).cmp(&(&b.name, &b.crop)));
    all
}

fn of_one(book: &Book, prior: &Belief, one: &LearnedVariety, today: Day) -> Taught {
    let variety = one.variety.as_deref().and_then(|id| id.parse().ok());
    let name = words::crop_line(book, &one.crop, variety);
    let class = if one.lag_days.is_some() { "green" } else { "colouring" };
    let room = RoomClimate::constant(MilliCelsius::from_celsius(20));
    let lot = LotInput::picked(one.crop.clone(), class.into(), SHOWN, today, room);
    let days = before_after(&[lot], prior, &one.belief, today, SHOWN_DAYS);
    let percent = |grams: Grams| 100.0 * grams.0 as f64 / SHOWN.0 as f64;
    let point = |(n, day): (usize, &shared_types::trade::ripening::BeforeAfter)| CurvePoint {
        tick: if n % 7 == 0 { format!("{n} d") } else { String::new() },
        before: percent(day.before.p50),
        after: percent(day.after.p50),
    };
    Taught {
        crop: one.crop.clone(),
        variety,
        words: one.words(&name),
        name,
        figures: figures(one),
        curve: days.iter().enumerate().map(point).collect(),
        of: format!("{class}, unsorted, at 20°"),
    }
}

fn figures(one: &LearnedVariety) -> Vec<[String; 3]> {
    let row = |what: &str, change: Change, show: &dyn Fn(f64) -> String| {
        let said = |spread: shared_types::trade::ripening::Spread80| {
            format!("{} ({} to {})", show(spread.median), show(spread.p10), show(spread.p90))
        };
        [what.to_owned(), said(change.before), said(change.after)]
    };
    let times = |x: f64| format!("{x:.2}");
    let days = |x: f64| format!("{x:.0}");
    let share = |x: f64| format!("{:.0}", 100.0 * x);
    let mut rows = vec![row("speed, 1 is the book", one.rate, &times)];
    rows.extend(one.lag_days.map(|lag| row("days until green breaks", lag, &days)));
    rows.extend(one.never.map(|never| row("green that never ripens, %", never, &share)));
    rows.push(row("drying and rot, 1 is the book", one.loss, &times));
    rows
}

/// The section.
#[component]
pub fn TaughtList(all: Memo<Vec<Taught>>) -> impl IntoView {
    let one = move |one: Taught| view! { <OneTaught one /> };
    view! {
        <details class="more">
            <summary>
                {move || all.with(|all| format!("What your rounds taught, {}", words::count(all.len(), "variety")))}
            </summary>
            {move || all.get().into_iter().map(one).collect_view()}
        </details>
    }
}

#[component]
fn OneTaught(one: Taught) -> impl IntoView {
    let farm = use_farm();
    let failed = RwSignal::new(None::<String>);
    let (crop, variety) = (one.crop.clone(), one.variety);
    let forget = move |_| {
        let (at, person) = (farm.now(), farm.person());
        let fact = LearningReset { crop: crop.clone(), at, person, variety };
        farm.keep_then(fact, move |result| failed.set(result.err()));
    };
    let rows = one
        .figures
        .iter()
        .map(|[what, before, after]| {
            view! {
                <tr>
                    <th scope="row">{what.clone()}</th>
                    <td class="n">{before.clone()}</td>
                    <td class="n">{after.clone()}</td>
                </tr>
            }
        })
        .collect_view();
    let name = one.name.clone();
    view! {
        <section class="section" aria-label=format!("What was learned of {name}")>
            <h3>{name.clone()}</h3>
            <p>{one.words}</p>
            <TwoCurves points=one.curve title=format!("Ripe of {}, %, {}", name, one.of) />
            <div class="scroll" tabindex="0" role="region" aria-label=format!("Figures of {name}")>
                <table class="table">
                    <caption>"Middle, and where it lies eight times in ten"</caption>
                    <thead>
                        <tr>
                            <th scope="col">"what"</th>
                            <th scope="col" class="n">"by the book"</th>
                            <th scope="col" class="n">"by your rounds"</th>
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
            <Problem text=failed />
            <div class="buttons">
                <button
                    class="button"
                    aria-label=format!("Forget what was learned of {name}")
                    on:click=forget
                >
                    "Forget this"
                </button>
            </div>
            <p class="source">
                "Forgetting keeps the rounds and their kilograms; the forecast goes by the book again until the next round."
            </p>
        </section>
    }
}
