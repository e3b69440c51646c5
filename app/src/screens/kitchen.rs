//! Kitchen: what to do today and tomorrow, the fortnight's batches, and what became of them.
//!
//! The plan that was kept is what shows, on every phone alike. A new one is made on this phone, away
//! from what the person looks at, and shown by the same code before it is kept (`preview`). Beside
//! the plan stand the pantry, what to buy, and what the kitchen has and can do.

mod asides;
mod batch;
mod board;
mod calendar;
mod card;
mod clock;
mod form;
mod fortnight;
mod labels;
mod limits;
mod made;
mod pantry;
mod planning;
mod preview;
mod recipe;
mod seals;
mod shopping;
mod solver;
mod sources;
mod steps;

use leptos::prelude::*;
use leptos_router::hooks::use_query_map;
use shared_types::ids::BatchId;
use shared_types::outlook::Today;
use shared_types::outlook::kitchen::{shopping, works};
use shared_types::outlook::pantry::pantry;

use crate::farm::use_farm;
use crate::parts::{Screen, Segmented, Sheet, Show};
use crate::shell::clock::offset_minutes;
use crate::shell::js;
use crate::words;
use batch::BatchCard;
use board::board;
use calendar::Calendar;
use fortnight::Fortnight;
use labels::Labels;
use limits::Limits;
use made::MadeForm;
use pantry::PantryList;
use planning::Planning;
use seals::SealsForm;
use shopping::ShoppingList;
use steps::{Steps, day_tasks};

/// The parts of the screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Part {
    /// Today, tomorrow and the fortnight.
    #[default]
    Plan,
    /// What was made.
    Pantry,
    /// What is missing.
    Buy,
    /// What the kitchen has and can do.
    Stock,
}

/// What stands open in place of the lists.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Open {
    /// The lists.
    #[default]
    Nothing,
    /// One planned batch.
    Batch(BatchId),
    /// "Made it" of a planned batch.
    Made(BatchId),
    /// A batch nobody planned.
    New,
    /// The seals of a made batch.
    Seals(BatchId),
    /// Labels of a made batch.
    Labels(BatchId),
}

/// The Kitchen screen.
#[component]
pub fn Kitchen() -> impl IntoView {
    let farm = use_farm();
    let has_height =
        Memo::new(move |_| farm.book.with(|book| book.holding.altitude.get().is_some()));
    view! {
        <Screen
            title="Kitchen"
            sub=Signal::derive(move || words::day(farm.today.get()))
            class="flush"
        >
            <Show when=move || has_height.get() fallback=|| view! { <NoHeight /> }>
                <Parts />
            </Show>
        </Screen>
    }
}

/// No time can be given without the height, so no jar is offered.
#[component]
fn NoHeight() -> impl IntoView {
    view! {
        <section class="alone">
            <div class="note warn">
                <h2>"How high is the holding?"</h2>
                <p>
                    "Water boils cooler the higher you are, so the time for a jar depends on it. Until the altitude is set, nothing is planned here."
                </p>
                <div class="buttons">
                    <a class="button primary" href="/house">
                        "Set the altitude under House"
                    </a>
                </div>
            </div>
        </section>
    }
}

#[component]
fn Parts() -> impl IntoView {
    let farm = use_farm();
    let planning = Planning::new(farm);
    let part = RwSignal::new(Part::Plan);
    let open = RwSignal::new(Open::Nothing);
    scanned(part, open);
    let today = move || {
        let day = farm.today.get();
        Today { day, offset_minutes: offset_minutes(farm.now()) }
    };
    let shelves = Memo::new(move |_| farm.book.with(|book| pantry(book, today(), farm.now())));
    let items = Memo::new(move |_| shopping(&planning.book()));
    let parts = vec![
        (Part::Plan, "Plan".to_owned()),
        (Part::Pantry, "Pantry".to_owned()),
        (Part::Buy, "To buy".to_owned()),
        (Part::Stock, "Stock".to_owned()),
    ];
    Effect::new(move |before: Option<Part>| {
        let now = part.get();
        if before.is_some_and(|before| before != now) {
            open.set(Open::Nothing);
        }
        now
    });
    let close = Callback::new(move |()| open.set(Open::Nothing));
    let to_pantry = Callback::new(move |()| {
        part.set(Part::Pantry);
        open.set(Open::Nothing);
    });
    let on_seals = Callback::new(move |id| open.set(Open::Seals(id)));
    let on_labels = Callback::new(move |id| open.set(Open::Labels(id)));
    let on_new = Callback::new(move |()| open.set(Open::New));
    let shelf_of = move |id: BatchId| {
        shelves.with_untracked(|all| all.iter().find(|shelf| shelf.batch == id).cloned())
    };
    let sheet = move || match open.get() {
        Open::Nothing | Open::Batch(_) => None,
        Open::Made(id) => {
            let book = farm.book.get_untracked();
            let work = works(&book).into_iter().find(|work| work.id == id);
            let title = work.as_ref().map_or("Made", |_| "Made it");
            Some(
                view! {
                    <Sheet title on_close=move || close.run(())>
                        <MadeForm work done=to_pantry />
                    </Sheet>
                }
                .into_any(),
            )
        }
        Open::New => Some(
            view! {
                <Sheet title="A batch nobody planned" on_close=move || close.run(())>
                    <MadeForm work=None done=to_pantry />
                </Sheet>
            }
            .into_any(),
        ),
        Open::Seals(id) => shelf_of(id).map(|shelf| {
            let title = format!("Seals of {}", shelf.name);
            view! {
                <Sheet title on_close=move || close.run(())>
                    <SealsForm shelf done=close />
                </Sheet>
            }
            .into_any()
        }),
        Open::Labels(id) => shelf_of(id).map(|shelf| {
            view! {
                <section class="alone labels-page">
                    <Labels shelf on_close=close />
                </section>
            }
            .into_any()
        }),
    };
    let body = move || match part.get() {
        Part::Plan => view! { <PlanPart planning open on_seals items /> }.into_any(),
        Part::Pantry => view! {
            <section class="alone">
                <PantryList shelves on_seals on_labels on_new />
            </section>
        }
        .into_any(),
        Part::Buy => view! {
            <section class="alone">
                <ShoppingList items />
            </section>
        }
        .into_any(),
        Part::Stock => view! {
            <section class="alone">
                <Limits />
                <Calendar />
            </section>
        }
        .into_any(),
    };
    view! {
        <div class="kitchen-parts no-print">
            <Segmented label="Part of the kitchen" options=parts chosen=part />
        </div>
        {move || match sheet() {
            Some(sheet) => view! { <div class="alone">{sheet}</div> }.into_any(),
            None => body().into_any(),
        }}
    }
}

/// A label was scanned: its batch is shown in the pantry.
fn scanned(part: RwSignal<Part>, open: RwSignal<Open>) {
    let query = use_query_map();
    let batch = query.with_untracked(|query| query.get("batch"));
    let Some(id) = batch.and_then(|text| text.parse::<BatchId>().ok()) else { return };
    part.set(Part::Pantry);
    open.set(Open::Nothing);
    // After the list has appeared.
    request_animation_frame(move || {
        request_animation_frame(move || show(&format!("shelf-{id}")));
    });
}

/// Scrolls to an element.
fn show(id: &str) {
    let found = js::window().document().and_then(|document| document.get_element_by_id(id));
    if let Some(element) = found {
        element.scroll_into_view();
    }
}

/// Today and tomorrow at the left, or the chosen batch; the fortnight at the right.
#[component]
fn PlanPart(
    planning: Planning,
    open: RwSignal<Open>,
    on_seals: Callback<BatchId>,
    items: Memo<Vec<shared_types::outlook::kitchen::Item>>,
) -> impl IntoView {
    let farm = use_farm();
    let today = move || {
        let day = farm.today.get();
        Today { day, offset_minutes: offset_minutes(farm.now()) }
    };
    let shown = Memo::new(move |_| board(&planning.book(), today(), farm.unit()));
    let days = Memo::new(move |_| day_tasks(&planning.book(), today(), farm.now()));
    let chosen = Memo::new(move |_| match open.get() {
        Open::Batch(id) => works(&planning.book()).into_iter().find(|work| work.id == id),
        _ => None,
    });
    let on_batch = Callback::new(move |id: BatchId| {
        open.set(Open::Batch(id));
        // After the card has appeared.
        request_animation_frame(move || focus(&format!("title-{id}")));
    });
    let close = Callback::new(move |()| open.set(Open::Nothing));
    let on_made = Callback::new(move |id| open.set(Open::Made(id)));
    // Pinned, moved or dropped: the rest is planned around it.
    let on_changed = Callback::new(move |()| {});
    let left = move || match chosen.get() {
        Some(work) => {
            let kept = !planning.is_draft();
            view! { <BatchCard work kept on_close=close on_made on_changed /> }.into_any()
        }
        None => view! { <Steps days on_batch on_seals /> }.into_any(),
    };
    view! {
        <div class="split">
            <section aria-label="To do">{left}</section>
            <Fortnight planning shown chosen on_batch items />
        </div>
    }
}

/// Moves the focus, and the page with it, to an element.
fn focus(id: &str) {
    use wasm_bindgen::JsCast as _;
    let found = js::window().document().and_then(|document| document.get_element_by_id(id));
    if let Some(element) = found.and_then(|found| found.dyn_into::<web_sys::HtmlElement>().ok()) {
        let focused = element.focus();
        debug_assert!(focused.is_ok(), "a heading with a tabindex");
    }
}
