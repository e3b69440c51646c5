//! Keep, the line that says what became of it, and the way back.

use leptos::prelude::*;

use super::pairs::pairs_of;
use super::state::{Line, Open, State};
use crate::words;

#[component]
pub(super) fn Done(state: State) -> impl IntoView {
    let label = move || keep_label(state);
    let is_ready = Memo::new(move |_| state.draft().check().is_ok());
    let line = move || {
        let (class, text) = match state.line.get() {
            Line::Nothing => ("kept", idle_words(state)),
            Line::Kept { words, fresh: true, .. } => ("kept fresh", words),
            Line::Kept { words, .. } => ("kept", words),
            Line::Done(words) => ("kept", words),
            Line::Wrong(words) => ("kept error", words),
        };
        view! { <p class=class>{text}</p> }
    };
    let undone = Memo::new(move |_| match state.line.get() {
        Line::Kept { bin, .. } => Some(bin),
        _ => None,
    });
    let pairs = Memo::new(move |_| !pairs_of(state).is_empty());
    view! {
        <div class="done">
            <button
                class="keep"
                aria-disabled=move || (!is_ready.get()).to_string()
                on:click=move |_| state.keep()
            >
                {label}
            </button>
            <div class="said" role="status">
                {line}
            </div>
            <button
                class="button quiet last"
                data-ask=move || pairs.get().then_some("true")
                on:click=move |_| state.toggle(Open::Last)
            >
                {move || if pairs.get() { "Same bin?" } else { "Last five" }}
            </button>
            {move || match (state.changing.with(Option::is_some), undone.get()) {
                (true, _) => {
                    view! {
                        <button class="button quiet undo" on:click=move |_| state.stop_changing()>
                            "Cancel"
                        </button>
                    }
                        .into_any()
                }
                (false, Some(bin)) => {
                    view! {
                        <button
                            class="button quiet undo"
                            on:click=move |_| state.strike(bin, None)
                        >
                            "Undo"
                        </button>
                    }
                        .into_any()
                }
                (false, None) => ().into_any(),
            }}
        </div>
    }
}

/// `Keep colouring, 9.4 kg`, as far as it is known.
fn keep_label(state: State) -> String {
    let verb = if state.changing.with(Option::is_some) { "Keep change" } else { "Keep" };
    if state.busy.get() {
        return "Keeping".to_owned();
    }
    let crop = state.crop();
    let class = state.typed.with(|typed| typed.class.clone());
    let class = class.map(|class| words::class_name(&crop, &class).to_lowercase());
    let net = state.net().map(|net| words::weight(net, state.unit()));
    match (class, net) {
        (Some(class), Some(net)) => format!("{verb} {class}, {net}"),
        (Some(class), None) => format!("{verb} {class}"),
        (None, Some(net)) => format!("{verb} {net}"),
        (None, None) => verb.to_owned(),
    }
}

/// What the line says before anything was kept: the bin being changed, or how to begin.
fn idle_words(state: State) -> String {
    match state.changing.get() {
        Some(changing) => {
            let bin = changing.before;
            format!("changing {} of {}", state.what(&bin), state.farm.time(bin.at))
        }
        None => "class, weight, keep".to_owned(),
    }
}
