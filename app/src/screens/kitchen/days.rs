//! The three days side by side, and what finds no place in them.

use leptos::prelude::*;

use super::asides::Aside;
use super::page::{Card, Column, Page};

/// Columns of batches. Pressing one opens its card.
#[component]
pub fn Days(shown: Memo<Page>, chosen: Memo<String>, on_choose: Callback<String>) -> impl IntoView {
    let batch = move |card: Card| {
        let Card { key, name, sub, tone } = card;
        let own = key.clone();
        let current = move || chosen.with(|chosen| *chosen == own).then_some("true");
        view! {
            <button
                class=format!("card {tone}")
                aria-current=current
                on:click=move |_| on_choose.run(key.clone())
            >
                <b>{name}</b>
                <span class="sub">{sub}</span>
            </button>
        }
    };
    let column = move |column: Column| {
        let Column { name, words, work, cards } = column;
        let empty = cards.is_empty().then(|| view! { <p class="sub">"nothing to make"</p> });
        view! {
            <section class="column" aria-label=words>
                <header>
                    <h3>{name}</h3>
                    <span class="sub">{work}</span>
                </header>
                {cards.into_iter().map(batch).collect_view()}
                {empty}
            </section>
        }
    };
    view! {
        <div class="columns of-3">
            {move || shown.with(|page| page.days.clone()).into_iter().map(column).collect_view()}
        </div>
    }
}

/// What must not go in a jar, and what is left over, each with its reason.
#[component]
pub fn Asides(shown: Memo<Page>) -> impl IntoView {
    let note = |title: &'static str, class: &'static str, asides: Vec<Aside>| {
        let lines = asides
            .into_iter()
            .map(|Aside { what, reason, source }| {
                let source = (!source.is_empty()).then(|| view! { <p class="source">{source}</p> });
                view! {
                    <p>
                        <strong>{what}": "</strong>
                        {reason}
                    </p>
                    {source}
                }
            })
            .collect_view();
        view! {
            <div class=class>
                <h3>{title}</h3>
                {lines}
            </div>
        }
    };
    let not_for_jars = move || {
        let asides = shown.with(|page| page.not_for_jars.clone());
        (!asides.is_empty()).then(|| note("Not for jars", "note warn", asides))
    };
    let left_over = move || {
        let asides = shown.with(|page| page.left_over.clone());
        (!asides.is_empty()).then(|| note("Left over", "note plain", asides))
    };
    view! {
        <div class="notes">{not_for_jars} {left_over}</div>
    }
}
