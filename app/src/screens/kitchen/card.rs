//! A batch as a card to cook from: figures first, then the steps with their times.

use leptos::prelude::*;

use super::clock;
use super::recipe::{Recipe, Step};
use super::ticks::Ticks;

/// The whole card.
pub fn card(
    recipe: Recipe,
    day: String,
    start: Signal<u32>,
    ticks: RwSignal<Ticks>,
) -> impl IntoView {
    let Recipe {
        key, title, tags, figures, ingredients, steps, cautions, sources, done, jar, ..
    } = recipe;
    let done_by = move || format!("done by {}", clock::time(start.get() + done));
    let tags = tags.into_iter().map(|tag| view! { <span>{tag}</span> }).collect_view();
    let figures = (!figures.is_empty()).then(|| {
        let figure = |f: super::recipe::Figure| {
            view! {
                <div class="figure">
                    <dt>{f.name}</dt>
                    <dd>
                        <b>{f.number}</b>
                        {f.words}
                    </dd>
                </div>
            }
        };
        view! { <dl class="figures">{figures.into_iter().map(figure).collect_view()}</dl> }
    });
    let ingredients = (!ingredients.is_empty()).then(|| {
        let parts = ingredients.into_iter().map(|part| view! { <li>{part}</li> }).collect_view();
        view! {
            <h3>"Goes in"</h3>
            <ul class="bullets">{parts}</ul>
        }
    });
    let steps = steps.into_iter().map(|step| line(step, start, ticks)).collect_view();
    let cautions = (!cautions.is_empty()).then(|| {
        let caution = |(text, source)| {
            view! {
                <li>
                    {text} <span class="source">{source}</span>
                </li>
            }
        };
        view! {
            <details class="more" open=jar>
                <summary>"Mind"</summary>
                <ul class="bullets">{cautions.into_iter().map(caution).collect_view()}</ul>
            </details>
        }
    });
    let sources = sources.into_iter().map(|source| view! { <p class="source">{source}</p> });
    view! {
        <header>
            <p class="sub">{day}</p>
            <h2 id=format!("title-{key}") tabindex="-1">
                {title}
            </h2>
            <p class="tags">{tags} <span>{done_by}</span></p>
        </header>
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
