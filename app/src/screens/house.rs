//! House: what the holding is made of, who may write, and how this phone stands. Lists first, one
//! screen deep.

mod bin_types;
mod covers;
mod devices;
pub(in crate::screens) mod edit;
mod holding;
mod people;
mod phone;
mod picks;
mod places;
mod plantings;
mod room_log;
mod rooms;
mod site;
mod standing;
mod varieties;

use leptos::prelude::*;
use leptos_router::components::A;
use leptos_router::hooks::use_params_map;
use shared_types::book::Book;

use crate::farm::use_farm;
use crate::parts::Screen;
use crate::screens::NotFound;
use crate::words;

/// A section: its part of the address, its name, and what it holds, in few words.
struct Section {
    path: &'static str,
    name: &'static str,
    sub: fn(&Book) -> String,
}

/// The sections, in the order of the list.
const SECTIONS: [Section; 13] = [
    Section { path: "picks", name: "Picks", sub: |book| words::count(book.picks.len(), "pick") },
    Section {
        path: "places",
        name: "Places",
        sub: |book| words::count(book.places.len(), "place"),
    },
    Section {
        path: "plantings",
        name: "What stands where",
        sub: |book| words::count(book.nights.plantings.len(), "planting"),
    },
    Section {
        path: "covers",
        name: "Tunnels and covers",
        sub: |book| words::count(book.nights.covers.len(), "place"),
    },
    Section {
        path: "site",
        name: "The site",
        sub: |book| match book.nights.site.latitude_udeg.get() {
            Some(_) => "latitude, longitude, the hill's shadow".to_owned(),
            None => "not said; sunset and frost depend on it".to_owned(),
        },
    },
    Section { path: "rooms", name: "Rooms", sub: |book| words::count(book.rooms.len(), "room") },
    Section {
        path: "standing",
        name: "Where things stand",
        sub: |_| "which class goes to which room".to_owned(),
    },
    Section {
        path: "varieties",
        name: "Varieties",
        sub: |book| words::count(book.varieties.len(), "variety"),
    },
    Section {
        path: "bins",
        name: "Bins",
        sub: |book| format!("{} of bin", words::count(book.bin_types.len(), "kind")),
    },
    Section {
        path: "people",
        name: "People",
        sub: |book| match book.people.len() {
            1 => "1 person".to_owned(),
            some => format!("{some} people"),
        },
    },
    Section {
        path: "holding",
        name: "The holding",
        sub: |book| {
            book.holding.name.get().cloned().unwrap_or_else(|| "name, height, scale".to_owned())
        },
    },
    Section {
        path: "devices",
        name: "Devices",
        sub: |_| "who may write; let another one in".to_owned(),
    },
    Section {
        path: "phone",
        name: "This phone",
        sub: |_| "what is sent, storage, light or dark, version".to_owned(),
    },
];

/// The list of sections.
#[component]
pub fn House() -> impl IntoView {
    let farm = use_farm();
    let rows = SECTIONS
        .iter()
        .map(|section| {
            let sub = move || farm.book.with(|book| (section.sub)(book));
            view! {
                <li>
                    <A href=format!("/house/{}", section.path) attr:class="row">
                        <div class="body">
                            <p class="title">{section.name}</p>
                            <p class="sub">{sub}</p>
                        </div>
                    </A>
                </li>
            }
        })
        .collect_view();
    let name = Signal::derive(move || {
        farm.book.with(|book| book.holding.name.get().cloned()).unwrap_or_default()
    });
    view! {
        <Screen title="House" sub=name>
            <ul class="list">{rows}</ul>
        </Screen>
    }
}

/// One section of the house.
#[component]
pub fn HouseSection() -> impl IntoView {
    let params = use_params_map();
    let path = Memo::new(move |_| params.with(|params| params.get("section").unwrap_or_default()));
    move || {
        let path = path.get();
        let Some(section) = SECTIONS.iter().find(|section| section.path == path) else {
            return view! { <NotFound /> }.into_any();
        };
        let inside = match section.path {
            "holding" => view! { <holding::HoldingForm /> }.into_any(),
            "people" => view! { <people::People /> }.into_any(),
            "places" => view! { <places::Places /> }.into_any(),
            "rooms" => view! { <rooms::Rooms /> }.into_any(),
            "standing" => view! { <standing::Standing /> }.into_any(),
            "bins" => view! { <bin_types::BinTypes /> }.into_any(),
            "varieties" => view! { <varieties::Varieties /> }.into_any(),
            "picks" => view! { <picks::Picks /> }.into_any(),
            "plantings" => view! { <plantings::Plantings /> }.into_any(),
            "covers" => view! { <covers::Covers /> }.into_any(),
            "site" => view! { <site::SiteForm /> }.into_any(),
            "devices" => view! { <devices::Devices /> }.into_any(),
            _ => view! { <phone::Phone /> }.into_any(),
        };
        view! {
            <Screen title=section.name>
                <p class="back">
                    <A href="/house">"All of House"</A>
                </p>
                {inside}
            </Screen>
        }
        .into_any()
    }
}
