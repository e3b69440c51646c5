//! The weight line and the presets.

use leptos::prelude::*;
use shared_types::units::Grams;

use super::form::Typed;
use super::state::{Line, Open, State};
use crate::words;

/// What is in the bin, large; what the scale shows and what the bin weighs, small.
#[component]
pub(super) fn Weight(state: State) -> impl IntoView {
    let net = move || match state.net() {
        Some(net) => two_decimals(&words::exact(net, state.unit()), net, state),
        None => "0.0".to_owned(),
    };
    let gross = move || {
        let unit = state.unit();
        state.typed.with(|typed| match (typed.filled, typed.text.as_str()) {
            (Some(net), _) => format!("{} with the bin", words::exact(net + state.tare(), unit)),
            (None, "") => "nothing typed".to_owned(),
            (None, text) => format!("{text} on the scale"),
        })
    };
    let tare = move || match state.tare() {
        Grams::ZERO => "no bin taken off".to_owned(),
        tare => format!("{} the {}", words::exact(tare, state.unit()), bin_name(state)),
    };
    view! {
        <div class="weight">
            <p class="net">
                <b>{net}</b>
                {move || format!("{} in the bin", state.unit().symbol())}
            </p>
            <p class="parts">{gross} <br /> {tare}</p>
        </div>
    }
}

/// A net weight of a converted tare has three odd decimals; one is enough to read then.
fn two_decimals(exact: &str, net: Grams, state: State) -> String {
    let decimals = exact.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    if decimals > 2 { words::number(net, state.unit()) } else { exact.to_owned() }
}

fn bin_name(state: State) -> String {
    let name = state
        .chosen
        .with(|chosen| chosen.bin_type)
        .and_then(|id| state.farm.book.with(|book| book.bin_types.get(&id)?.name.get().cloned()));
    name.map_or_else(|| "bin".to_owned(), |name| name.to_lowercase())
}

/// Full, three quarters, half; and the one optional press for a defect or stage.
#[component]
pub(super) fn Presets(state: State) -> impl IntoView {
    let parts = [("Full", 4), ("\u{be}", 3), ("\u{bd}", 2)];
    let buttons = parts
        .into_iter()
        .map(|(name, quarters)| view! { <Preset state name quarters /> })
        .collect_view();
    let named = move || state.typed.with(Typed::said);
    view! {
        <div class="presets">
            {buttons}
            <button
                aria-pressed=move || named().is_some().to_string()
                on:click=move |_| state.toggle(Open::Defect)
            >
                "Defect"
                <span>{move || named().unwrap_or_else(|| "or stage".to_owned())}</span>
            </button>
        </div>
    }
}

#[component]
fn Preset(state: State, name: &'static str, quarters: i64) -> impl IntoView {
    let net = Memo::new(move |_| {
        let full = state.farm.book.with(|book| state.chosen.with(|chosen| chosen.full(book)));
        full.map(|full| Grams(full.0 * quarters / 4))
    });
    let words =
        move || net.get().map_or("\u{2013}".to_owned(), |net| words::number(net, state.unit()));
    let pressed = move || {
        let filled = state.typed.with(|typed| typed.filled);
        (filled.is_some() && filled == net.get()).to_string()
    };
    let press = move |_| match net.get_untracked() {
        Some(net) => state.edit(|typed| typed.fill(net)),
        None => state.line.set(Line::Wrong(
            "What does a full one hold? Set it with the kind of bin, or type the weight."
                .to_owned(),
        )),
    };
    view! {
        <button aria-pressed=pressed on:click=press>
            {name}
            <span>{words}</span>
        </button>
    }
}
