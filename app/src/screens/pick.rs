//! Pick: a bin in three presses, with gloves on.
//!
//! Four chips that stay set, the classes of the crop, the weight by keypad or by a preset, and
//! Keep. Choosing opens a sheet in place of everything under the chips. Nothing on this screen
//! waits for a network, and what is typed leaves it only once it is on the phone's disk.

mod chips;
mod classes;
mod defect;
mod done;
pub mod form;
mod history;
mod keeping;
mod key;
mod keyboard;
mod keypad;
mod last;
mod new;
mod pairs;
mod sheets;
mod state;
mod weight;
mod whole;

use leptos::prelude::*;
use shared_types::units::Day;

use crate::farm::{Farm, use_farm};
use crate::parts::Screen;
use crate::shell::wake_lock::Awake;
use crate::words;
use chips::Chips;
use state::{Open, State};

/// The screen Pick.
#[component]
pub fn Pick() -> impl IntoView {
    let farm = use_farm();
    let state = State::new(farm);
    let awake = StoredValue::new_local(Some(Awake::hold()));
    on_cleanup(move || awake.set_value(None));
    keyboard::listen(state);
    let title = Signal::derive(move || {
        farm.book.with(|book| match state.chosen.get().pick {
            Some(pick) => book.pick_name(pick).to_owned(),
            None => "No pick open".to_owned(),
        })
    });
    let sub = Signal::derive(move || line(farm, state));
    view! {
        <Screen title sub class="pick">
            <Chips state />
            {move || match state.open.get() {
                None => view! { <Form state /> }.into_any(),
                Some(Open::Pick) => view! { <sheets::PickSheet state /> }.into_any(),
                Some(Open::Place) => view! { <sheets::PlaceSheet state /> }.into_any(),
                Some(Open::Crop) => view! { <sheets::CropSheet state /> }.into_any(),
                Some(Open::BinType) => view! { <sheets::BinTypeSheet state /> }.into_any(),
                Some(Open::Defect) => view! { <defect::DefectSheet state /> }.into_any(),
                Some(Open::Last) => view! { <last::LastSheet state /> }.into_any(),
            }}
        </Screen>
    }
}

#[component]
fn Form(state: State) -> impl IntoView {
    view! {
        <classes::Classes state />
        <weight::Weight state />
        <weight::Presets state />
        <keypad::Keypad state />
        <done::Done state />
    }
}

/// `Fri 9 Oct · 3 picking · 86.2 kg`
fn line(farm: Farm, state: State) -> String {
    let Some(pick) = state.chosen.with(|chosen| chosen.pick) else {
        return "Choose a pick, or open a new one.".to_owned();
    };
    let unit = farm.unit();
    farm.book.with(|book| {
        let mut people = std::collections::BTreeSet::new();
        let mut total = shared_types::units::Grams::ZERO;
        let mut bins = 0;
        for (_, bin) in book.counted() {
            if let Some(now) = bin.now()
                && now.pick == pick
            {
                people.insert(now.person);
                total += bin.net();
                bins += 1;
            }
        }
        let day: Option<Day> = book.picks.get(&pick).and_then(|pick| pick.day.get().copied());
        let day = day.map_or_else(|| "no day".to_owned(), words::day);
        match bins {
            0 => format!("{day} \u{b7} nothing in yet"),
            _ => {
                let so_far = words::weight(total, unit);
                format!("{day} \u{b7} {} picking \u{b7} {so_far}", people.len())
            }
        }
    })
}
