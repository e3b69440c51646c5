//! A batch as a card to cook from: figures first, then the steps with their times.

use leptos::prelude::*;

use super::clock;
use super::recipe::{Figure, Recipe, Step};
use super::ticks::Ticks;

/// The whole card. On a phone its work shows when it is `open`.
#[component]
pub fn Card(
    recipe: Recipe,
    /// The day, in words.
    day: String,
    /// Minutes after midnight when that day begins.
    #[prop(into)]
    start: Signal<u32>,
    ticks: RwSignal<Ticks>,
    open: Memo<bool>,
    on_open: Callback<String>,
) -> impl IntoView {
    let Recipe { key, title, tags, begun, done, .. } = recipe.clone();
    let from_to = move || {
        format!("{} to {}", clock::time(start.get() + begun), clock::time(start.get() + done))
    };
    let tags = tags.into_iter().map(|tag| view! { <span>{tag}</span> }).collect_view();
    let name = format!(" of {title}");
    let heading = format!("title-{key}");
    view! {
        <header>
            <p class="sub">{day}</p>
            <h2 id=heading tabindex="-1">
                {title}
            </h2>
            <p class="tags">{tags} <span>{from_to}</span></p>
        </header>
        <button
            class="button opener"
            hidden=move || open.get()
            on:click=move |_| on_open.run(key.clone())
        >
            "Show the steps"
            <span class="visually-hidden">{name}</span>
        </button>
        <div class="work">{work(recipe, start, ticks)}</div>
    }
}

fn work(recipe: Recipe, start: Signal<u32>, ticks: RwSignal<Ticks>) -> impl IntoView {
    let Recipe { figures, ingredients, steps, cautions, sources, jar, .. } = recipe;
    let figure = |Figure { name, number, words }| {
        view! {
            <div class="figure">
                <dt>{name}</dt>
                <dd>
                    <b>{number}</b>
                    {words}
                </dd>
            </div>
        }
    };
    let figures = (!figures.is_empty()).then(|| {
        view! { <dl class="figures">{figures.into_iter().map(figure).collect_view()}</dl> }
    });
    let ingredients = (!ingredients.is_empty()).then(|| {
        let parts = ingredients.into_iter().map(|part| view! { <li>{part}</li> }).collect_view();
        view! {
            <h3>"Goes in"</h3>
            <ul class="bullets">{parts}</ul>
        }
    });
    let caution = |(text, source)| {
        view! {
            <li>
                {text} " " <span class="source">{source}</span>
            </li>
        }
    };
    let cautions = (!cautions.is_empty()).then(|| {
        view! {
            <details class="more" open=jar>
                <summary>"What to mind"</summary>
                <ul class="bullets">{cautions.into_iter().map(caution).collect_view()}</ul>
            </details>
        }
    });
    let steps = steps.into_iter().map(|step| line(step, start, ticks)).collect_view();
    let sources = sources.into_iter().map(|source| view! { <p class="source">{source}</p> });
    view! {
        {figures}
        {ingredients}
        <ol class="plan">{steps}</ol>
        {cautions}
        <div>
            {sources.collect_view()}
            <p class="source">"Follow your extension service where it differs."</p>
        </div>
    }
}

/// A step with its time and its tick.
fn line(step: Step, start: Signal<u32>, ticks: RwSignal<Ticks>) -> impl IntoView {
    let Step { key, after, text, sub } = step;
    let (own, tick) = (key.clone(), key);
    let ticked = Memo::new(move |_| ticks.with(|ticks| ticks.has(&own)));
    let time = move || match after {
        Some(after) => clock::time(start.get() + after),
        None => "evening before".to_owned(),
    };
    let label = format!("done: {text}");
    let sub = (!sub.is_empty()).then(|| view! { <p class="sub">{sub}</p> });
    view! {
        <li class="plan-step" class:done-with=move || ticked.get()>
            <time>{time}</time>
            <div>
                <p class="text">{text}</p>
                {sub}
            </div>
            <label class="tick">
                <input
                    type="checkbox"
                    prop:checked=move || ticked.get()
                    on:change:target=move |event| {
                        let on = event.target().checked();
                        ticks.update(|ticks| ticks.set(&tick, on));
                    }
                />
                <span class="visually-hidden">{label}</span>
            </label>
        </li>
    }
}
