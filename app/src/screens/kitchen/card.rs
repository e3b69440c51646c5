//! A batch as a card to cook from: figures first, then the amounts, then the steps with their times.
//!
//! The screen stays awake while a card is open: nobody can wake a phone with wet hands.

use leptos::prelude::*;
use shared_types::outlook::kitchen::{Step, Work};
use shared_types::trade::kitchen::Batch;
use shared_types::trade::methods::card::System;
use shared_types::trade::provenance::{Said, cite};
use shared_types::units::Altitude;

use super::clock;
use super::recipe::{Figure, Recipe, amounts_in, recipe};
use super::steps::tick;
use crate::farm::use_farm;
use crate::parts::{Problem, Segmented};
use crate::shell::memory::{self, Span};
use crate::shell::wake_lock::Awake;

/// Under this name a phone remembers cups or metric.
const SYSTEM: &str = "lugbook.kitchen-system";

/// The whole card, without its heading.
#[component]
pub fn Card(
    /// The batch.
    work: Work,
    /// The holding's height.
    altitude: Altitude,
) -> impl IntoView {
    let awake = StoredValue::new_local(Some(Awake::hold()));
    on_cleanup(move || awake.set_value(None));
    let Recipe { figures, may_change, cautions, steps_source, jar } = recipe(&work.batch, altitude);
    let failed = RwSignal::new(None::<String>);
    let figure = |Figure { name, number, words, source }| {
        let source = (!source.is_empty()).then(|| view! { <span class="source">{source}</span> });
        view! {
            <div class="figure">
                <dt>{name}</dt>
                <dd>
                    <b>{number}</b>
                    {words}
                    {source}
                </dd>
            </div>
        }
    };
    let figures = (!figures.is_empty()).then(|| {
        view! { <dl class="figures">{figures.into_iter().map(figure).collect_view()}</dl> }
    });
    let may_change = (!may_change.is_empty()).then(|| {
        view! {
            <h3>"May be changed"</h3>
            {bullets(may_change)}
        }
    });
    let cautions = (!cautions.is_empty()).then(|| {
        view! {
            <details class="more" open=jar>
                <summary>"What to mind"</summary>
                {bullets(cautions)}
            </details>
        }
    });
    let steps = work.steps.into_iter().map(|step| view! { <Line step failed /> }).collect_view();
    view! {
        {figures}
        <Amounts batch=work.batch />
        <ol class="plan">{steps}</ol>
        <Problem text=failed />
        {may_change}
        {cautions}
        <div>
            <p class="source">{format!("Steps: {steps_source}. Minutes of work: common practice.")}</p>
            <p class="source">"Follow your extension service where it differs."</p>
        </div>
    }
}

/// Sentences, each with where it was read.
fn bullets(all: Vec<(String, String)>) -> impl IntoView {
    let line = |(text, source)| {
        view! {
            <li>
                {text} " " <span class="source">{source}</span>
            </li>
        }
    };
    view! { <ul class="bullets">{all.into_iter().map(line).collect_view()}</ul> }
}

/// What goes in, in cups or in metric. Nothing for a method without a recipe.
#[component]
fn Amounts(batch: Batch) -> impl IntoView {
    let system = RwSignal::new(memory::recall(Span::Lasting, SYSTEM).unwrap_or_default());
    Effect::new(move |before: Option<System>| {
        let now = system.get();
        if before.is_some_and(|before| before != now) {
            memory::remember(Span::Lasting, SYSTEM, &now);
        }
        now
    });
    let none = amounts_in(&batch, System::Cups).is_empty();
    let parts = move || {
        let line = |(amount, name, note): (String, String, String)| {
            let note = (!note.is_empty()).then(|| view! { <span class="sub">{note}</span> });
            view! {
                <li>
                    <b>{amount}</b> " " {name} " " {note}
                </li>
            }
        };
        amounts_in(&batch, system.get()).into_iter().map(line).collect_view()
    };
    let options = vec![(System::Cups, "Cups".to_owned()), (System::Metric, "Metric".to_owned())];
    (!none).then(|| {
        view! {
            <h3>"Goes in"</h3>
            <div class="no-print">
                <Segmented label="Measures" options chosen=system />
            </div>
            <ul class="bullets amounts">{parts}</ul>
        }
    })
}

/// A step with its time, its tick, and what to mind at it.
#[component]
fn Line(step: Step, failed: RwSignal<Option<String>>) -> impl IntoView {
    let farm = use_farm();
    let Step { task, text, hands, alone, minute, evening, note, done, cautions, .. } = step;
    let mut sub = clock::hands_and_alone(hands, alone);
    if evening {
        sub.insert(0, "the evening before".to_owned());
    }
    sub.extend((!note.is_empty()).then_some(note));
    let sub = sub.join(" \u{b7} ");
    let mind = |Said { text, source, .. }: Said| {
        view! {
            <p class="mind">
                {text} " " <span class="source">{cite(&source)}</span>
            </p>
        }
    };
    let cautions = cautions.into_iter().map(mind).collect_view();
    view! {
        <li class="plan-step" class:done-with=done>
            <time>{clock::time(minute)}</time>
            <div>
                <p class="text">{text.clone()}</p>
                <p class="sub">{sub}</p>
                {cautions}
            </div>
            {tick(farm, task, &text, done, failed)}
        </li>
    }
}
