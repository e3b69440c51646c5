//! Kitchen: what to make in the next three days, and each batch as a card to cook from.
//!
//! The plan is the simple one, first ripe first, and the screen says so. It is made anew whenever
//! the book changes; nothing of it is kept but the ticks, on this phone alone.

mod asides;
mod card;
mod clock;
mod days;
mod page;
mod recipe;
mod sources;
mod ticks;

use leptos::prelude::*;
use shared_types::outlook::{Today, kitchen};
use shared_types::units::{Day, Grams, MINUTE_MS};

use crate::farm::use_farm;
use crate::parts::select::Select;
use crate::parts::{Empty, Screen};
use crate::shell::clock::offset_minutes;
use crate::shell::js;
use crate::words;
use card::Card;
use days::{Asides, Days};
use page::{Page, page};
use recipe::Recipe;
use ticks::Ticks;

/// Days whose cards a phone shows without being asked: today and tomorrow.
const SHOWN_ON_A_PHONE: usize = 2;

/// The Kitchen screen.
#[component]
pub fn Kitchen() -> impl IntoView {
    let farm = use_farm();
    let plan = Memo::new(move |_| {
        let day = farm.today.get();
        let offset_minutes = offset_minutes(farm.now());
        farm.book.with(|book| {
            let altitude = book.holding.altitude.get().copied()?;
            let plan = kitchen(book, Today { day, offset_minutes }).ok()?;
            Some(page(&plan, altitude, day, book.holding.unit()))
        })
    });
    // Only looked at while there is a plan.
    let shown = Memo::new(move |_| plan.get().unwrap_or_default());
    view! {
        <Screen
            title="Kitchen"
            sub=Signal::derive(move || words::day(farm.today.get()))
            class="flush"
        >
            <Show when=move || plan.with(Option::is_some) fallback=|| view! { <NoHeight /> }>
                <Plan shown />
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
fn Plan(shown: Memo<Page>) -> impl IntoView {
    let wanted = RwSignal::new(None::<String>);
    let chosen = Memo::new(move |_| {
        shown
            .with(|page| {
                let there = |key: &String| page.recipes.iter().any(|recipe| recipe.key == *key);
                let wanted = wanted.get().filter(there);
                wanted.or_else(|| page.recipes.first().map(|first| first.key.clone()))
            })
            .unwrap_or_default()
    });
    let on_choose = Callback::new(move |key: String| {
        wanted.set(Some(key.clone()));
        // After the card has appeared.
        request_animation_frame(move || focus(&format!("title-{key}")));
    });
    let any = move || shown.with(|page| !page.recipes.is_empty());
    view! {
        <div class="split">
            <section aria-label="To cook from">
                <Show when=any fallback=|| view! { <NothingRipe /> }>
                    <Recipes shown chosen on_choose />
                </Show>
            </section>
            <section class="section" aria-label="The three days">
                <header>
                    <h2>{move || shown.with(|page| page.headline.clone())}</h2>
                    <span class="sub">"simple first-ripe-first schedule"</span>
                </header>
                <p class="source">{move || shown.with(|page| page.note.clone())}</p>
                <Days shown chosen on_choose />
                <Asides shown />
            </section>
        </div>
    }
}

#[component]
fn NothingRipe() -> impl IntoView {
    let farm = use_farm();
    let any = Memo::new(move |_| {
        farm.book.with(|book| book.lots().all.values().any(|lot| lot.left() > Grams::ZERO))
    });
    view! {
        <Show
            when=move || any.get()
            fallback=|| {
                view! {
                    <Empty text="The pile is empty: there is nothing to cook. Bins kept on Pick are planned for from the day they are ripe." />
                }
            }
        >
            <p class="empty">
                "Nothing to cook in the next three days. " <a href="/ripening">"Ripening"</a>
                " says when there will be."
            </p>
        </Show>
    }
}

/// The cards. On a phone those of today and tomorrow below each other, the chosen one open; on a
/// wide screen the chosen one alone; on paper all.
#[component]
fn Recipes(shown: Memo<Page>, chosen: Memo<String>, on_choose: Callback<String>) -> impl IntoView {
    let farm = use_farm();
    let ticks = RwSignal::new(Ticks::of(farm.today.get_untracked()));
    Effect::new(move |before: Option<Day>| {
        let day = farm.today.get();
        if before.is_some_and(|before| before != day) {
            ticks.set(Ticks::of(day));
        }
        day
    });
    let set_start = RwSignal::new(None::<u32>);
    let begin_today = move || {
        let now = farm.now();
        let offset = i64::from(offset_minutes(now)) * MINUTE_MS;
        let today = farm.today.get_untracked();
        let minutes = now.plus(offset).since(today.start()) / MINUTE_MS;
        clock::begin_today(u32::try_from(minutes).unwrap_or(0))
    };
    let start = move |day: usize| {
        Signal::derive(move || match set_start.get() {
            Some(minutes) => minutes,
            None if day == 0 => begin_today(),
            None => clock::USUAL_START,
        })
    };
    let item = move |recipe: Recipe| {
        let (key, day) = (recipe.key.clone(), recipe.day);
        let name = shown.with_untracked(|page| page.days.get(day).map(|day| day.words.clone()));
        let is_open = Memo::new(move |_| chosen.with(|chosen| *chosen == key));
        let later = day >= SHOWN_ON_A_PHONE;
        view! {
            <article class="recipe" class:later=later class:chosen=is_open>
                <Card
                    recipe
                    day=name.unwrap_or_default()
                    start=start(day)
                    ticks
                    open=is_open
                    on_open=on_choose
                />
            </article>
        }
    };
    let recipes = Memo::new(move |_| shown.with(|page| page.recipes.clone()));
    view! {
        <div class="begin no-print">
            <Select
                id="begin"
                label="Begin at"
                options=clock::beginnings()
                chosen=start(0)
                on_choose=move |minutes| set_start.set(Some(minutes))
            />
            <p class="sub">"Steps follow one after the other. Ticks stay on this phone."</p>
        </div>
        {move || recipes.get().into_iter().map(item).collect_view()}
        <p class="sub no-print">
            "Made? Take it out of its lot on " <a href="/ripening">"Ripening"</a> "."
        </p>
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
