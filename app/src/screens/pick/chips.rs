//! The four chips: pick, place, crop and variety, bin type.

use leptos::prelude::*;
use shared_types::units::Grams;

use super::state::{Open, State};
use crate::words;

#[component]
pub(super) fn Chips(state: State) -> impl IntoView {
    let farm = state.farm;
    let pick = Signal::derive(move || {
        let pick = state.chosen.with(|chosen| chosen.pick);
        farm.book.with(|book| {
            pick.map_or_else(|| "choose".to_owned(), |pick| book.pick_name(pick).to_owned())
        })
    });
    let place = Signal::derive(move || {
        let place = state.chosen.with(|chosen| chosen.place);
        farm.book.with(|book| {
            place.map_or_else(|| "choose".to_owned(), |place| book.place_name(place).to_owned())
        })
    });
    let crop = Signal::derive(move || {
        let variety = state.chosen.with(|chosen| chosen.variety);
        farm.book.with(|book| words::crop_line(book, &state.crop(), variety))
    });
    let bin = Signal::derive(move || bin_words(state));
    view! {
        <div class="chips">
            <Chip state sheet=Open::Pick label="pick" value=pick />
            <Chip state sheet=Open::Place label="place" value=place />
            <Chip state sheet=Open::Crop label="crop" value=crop />
            <Chip state sheet=Open::BinType label="bin" value=bin />
        </div>
    }
}

#[component]
fn Chip(state: State, sheet: Open, label: &'static str, value: Signal<String>) -> impl IntoView {
    let expanded = move || (state.open.get() == Some(sheet)).to_string();
    view! {
        <button class="chip" aria-expanded=expanded on:click=move |_| state.toggle(sheet)>
            <span class="label">{label}</span>
            <span class="value">{value}</span>
        </button>
    }
}

/// `Lug −0.7`: the kind of bin and what it takes off the scale's reading.
fn bin_words(state: State) -> String {
    let bin_type = state.chosen.with(|chosen| chosen.bin_type);
    let tare = state.tare();
    let name = state.farm.book.with(|book| {
        bin_type.map(|id| {
            let name = book.bin_types.get(&id).and_then(|kind| kind.name.get().cloned());
            name.unwrap_or_else(|| "unnamed bin".to_owned())
        })
    });
    match (name, tare) {
        (None, Grams::ZERO) => "no tare".to_owned(),
        (name, tare) => {
            let off = words::exact(tare, state.unit());
            format!("{} \u{2212}{off}", name.unwrap_or_else(|| "bin".to_owned()))
        }
    }
}
