//! The fortnight side by side, what it keeps, what it loses, and what is missing for it.

use leptos::prelude::*;
use shared_types::ids::BatchId;
use shared_types::outlook::kitchen::{Item, Work};

use super::asides::Aside;
use super::board::{Board, Column, Line};
use super::planning::{PlanButtons, Planning};
use super::shopping::summary;
use crate::farm::use_farm;
use crate::parts::Show;

/// The right-hand side of the plan.
#[component]
pub fn Fortnight(
    planning: Planning,
    shown: Memo<Board>,
    /// The batch that stands open.
    chosen: Memo<Option<Work>>,
    on_batch: Callback<BatchId>,
    items: Memo<Vec<Item>>,
) -> impl IntoView {
    let farm = use_farm();
    let any_lots = move || farm.book.with(|book| !book.bins.is_empty());
    let planned = Signal::derive(move || shown.with(|board| board.planned));
    let state = move || {
        if planning.is_draft() { "not kept yet".to_owned() } else { String::new() }
    };
    let good = move || {
        let how_good = shown.with(|board| board.how_good.clone());
        match (how_good.is_empty(), state()) {
            (true, state) => state,
            (false, state) if state.is_empty() => how_good,
            (false, state) => format!("{how_good} \u{b7} {state}"),
        }
    };
    let said = move || {
        let lines = shown.with(|board| board.said.clone());
        (!lines.is_empty()).then(|| {
            let lines = lines.into_iter().map(|line| view! { <p>{line}</p> }).collect_view();
            view! { <div class="note">{lines}</div> }
        })
    };
    let moved_on = move || planned.get() && !planning.is_draft() && shown.with(|b| b.moved_on);
    view! {
        <section class="section" aria-label="The fortnight">
            <header>
                <h2>{move || shown.with(|board| board.headline.clone())}</h2>
                <span class="sub">{good}</span>
            </header>
            <Show when=moved_on>
                <p class="sub" role="status">
                    "The pile has changed since this plan was kept. Pinned and begun batches stay where they are."
                </p>
            </Show>
            <PlanButtons planning planned />
            <Show when=move || !planned.get() && any_lots()>
                <p class="empty">
                    "A plan looks at every lot, every room and every limit of the coming fortnight, on this phone, without a network."
                </p>
            </Show>
            <div class="columns">
                {move || {
                    shown
                        .with(|board| board.columns.clone())
                        .into_iter()
                        .map(|column| day(column, chosen, on_batch))
                        .collect_view()
                }}
            </div>
            {said}
            <Notes shown items />
        </section>
    }
}

fn day(column: Column, chosen: Memo<Option<Work>>, on_batch: Callback<BatchId>) -> impl IntoView {
    let Column { name, words, hands, over, cards } = column;
    let batch = move |line: Line| {
        let Line { id, name, sub, tone, state } = line;
        let current = move || {
            let this = chosen.with(|work| work.as_ref().is_some_and(|work| work.id == id));
            this.then_some("true")
        };
        view! {
            <button
                class=format!("card {tone}")
                aria-current=current
                on:click=move |_| on_batch.run(id)
            >
                <b>{name}</b>
                <span class="sub">{sub}</span>
                {(!state.is_empty()).then(|| view! { <span class="sub state">{state}</span> })}
            </button>
        }
    };
    let empty = cards.is_empty();
    view! {
        <section class="column" class:empty-day=empty aria-label=words>
            <header>
                <h3>{name}</h3>
                <span class="sub" class:over=over>
                    {hands}
                </span>
            </header>
            {cards.into_iter().map(batch).collect_view()}
        </section>
    }
}

/// What to buy, and what must not go in a jar.
#[component]
fn Notes(shown: Memo<Board>, items: Memo<Vec<Item>>) -> impl IntoView {
    let buy = move || {
        let words = items.with(|items| summary(items));
        (!words.is_empty()).then(|| {
            view! {
                <div class="note plain">
                    <h3>"To buy"</h3>
                    <p>{words}</p>
                </div>
            }
        })
    };
    let not_for_jars = move || {
        let asides = shown.with(|board| board.not_for_jars.clone());
        (!asides.is_empty()).then(|| {
            let lines = asides
                .into_iter()
                .map(|Aside { what, reason, source }| {
                    view! {
                        <p>
                            <strong>{what}": "</strong>
                            {reason}
                        </p>
                        <p class="source">{source}</p>
                    }
                })
                .collect_view();
            view! {
                <div class="note warn">
                    <h3>"Not for jars"</h3>
                    {lines}
                </div>
            }
        })
    };
    view! { <div class="notes">{buy} {not_for_jars}</div> }
}
