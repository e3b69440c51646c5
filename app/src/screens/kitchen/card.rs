//! A batch as a card to cook from: figures first, then the steps with their times.

use leptos::prelude::*;
use shared_types::outlook::kitchen::{Step, Work};
use shared_types::units::Altitude;

use super::clock;
use super::recipe::{Figure, Recipe, recipe};
use super::steps::tick;
use crate::farm::use_farm;
use crate::parts::Problem;

/// The whole card, without its heading.
#[component]
pub fn Card(
    /// The batch.
    work: Work,
    /// The holding's height.
    altitude: Altitude,
) -> impl IntoView {
    let Recipe { figures, ingredients, cautions, sources, jar, .. } = recipe(&work.batch, altitude);
    let failed = RwSignal::new(None::<String>);
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
    let steps = work.steps.into_iter().map(|step| view! { <Line step failed /> }).collect_view();
    let sources = sources.into_iter().map(|source| view! { <p class="source">{source}</p> });
    view! {
        {figures}
        {ingredients}
        <ol class="plan">{steps}</ol>
        <Problem text=failed />
        {cautions}
        <div>
            {sources.collect_view()}
            <p class="source">"Follow your extension service where it differs."</p>
        </div>
    }
}

/// A step with its time and its tick.
#[component]
fn Line(step: Step, failed: RwSignal<Option<String>>) -> impl IntoView {
    let farm = use_farm();
    let Step { task, text, hands, alone, minute, evening, note, done, .. } = step;
    let mut sub = clock::hands_and_alone(hands, alone);
    if evening {
        sub.insert(0, "the evening before".to_owned());
    }
    sub.extend((!note.is_empty()).then_some(note));
    let sub = sub.join(" \u{b7} ");
    view! {
        <li class="plan-step" class:done-with=done>
            <time>{clock::time(minute)}</time>
            <div>
                <p class="text">{text.clone()}</p>
                <p class="sub">{sub}</p>
            </div>
            {tick(farm, task, &text, done, failed)}
        </li>
    }
}
