//! Where things grow: beds, rows, areas.

use leptos::prelude::*;
use shared_types::entry::PlaceSet;
use shared_types::ids::PlaceId;

use super::edit::{Keep, Line, Things};
use crate::farm::use_farm;
use crate::parts::{Field, Segmented, Toggle};
use crate::typed::{changed, changed_words, square_metres, typed, whole};
use crate::words;

/// The ways of watering that are compared under Season.
const WATERINGS: [&str; 4] = ["drip", "hand", "sprinkler", "none"];

#[component]
pub(super) fn Places() -> impl IntoView {
    let farm = use_farm();
    let lines = Signal::derive(move || {
        farm.book.with(|book| {
            book.places
                .iter()
                .map(|(id, place)| {
                    let covered = place.covered.get().copied().unwrap_or(false);
                    let plants = place.plants.get().and_then(|n| usize::try_from(*n).ok());
                    let area = place.area_dm2.get().map(|dm2| format!("{} m²", typed(dm2 * 10)));
                    let sub = [
                        Some(if covered { "covered" } else { "open" }.to_owned()),
                        place.watering.get().map(|by| format!("watered by {by}")),
                        plants.map(|n| words::count(n, "plant")),
                        area,
                    ];
                    Line {
                        id: id.0,
                        title: book.place_name(*id).to_owned(),
                        order: book.place_name(*id).to_lowercase(),
                        sub: sub.into_iter().flatten().collect::<Vec<_>>().join(" \u{b7} "),
                        retired: place.retired.get() == Some(&true),
                    }
                })
                .collect()
        })
    });
    view! {
        <Things
            lines
            new="New place"
            empty="No places yet. A bed, a row, a tunnel: whatever you want yields for."
            form=|id, done| view! { <PlaceForm id=id.map(PlaceId) done /> }.into_any()
        />
    }
}

#[component]
fn PlaceForm(id: Option<PlaceId>, done: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let before = id
        .and_then(|id| farm.book.with_untracked(|book| book.places.get(&id).cloned()))
        .unwrap_or_default();
    let place = id.unwrap_or_else(|| farm.fresh(PlaceId::new));
    let text = |number: Option<&i64>| RwSignal::new(number.map(i64::to_string).unwrap_or_default());
    let name = RwSignal::new(before.name.get().cloned().unwrap_or_default());
    let covered = RwSignal::new(before.covered.get().copied().unwrap_or(false));
    let watering = RwSignal::new(before.watering.get().cloned().unwrap_or_default());
    let plants = text(before.plants.get());
    let area = RwSignal::new(before.area_dm2.get().map(|dm2| typed(dm2 * 10)).unwrap_or_default());
    let retired = RwSignal::new(before.retired.get().copied().unwrap_or(false));
    let make = Box::new(move || {
        let name = changed_words(&name.get_untracked(), before.name.get());
        if name.is_none() && before.name.get().is_none() {
            return Err("Type a name first.".to_owned());
        }
        let is_new = before.name.get().is_none();
        let flag = |now: bool, stands: Option<&bool>| {
            changed(Some(now), stands).filter(|now| *now || stands.is_some() || is_new)
        };
        let set = PlaceSet {
            place,
            name,
            covered: flag(covered.get_untracked(), before.covered.get()),
            watering: changed_words(&watering.get_untracked(), before.watering.get()),
            plants: changed(whole(&plants.get_untracked())?, before.plants.get()),
            area_dm2: changed(square_metres(&area.get_untracked())?, before.area_dm2.get()),
            retired: changed(Some(retired.get_untracked()), before.retired.get())
                .filter(|now| *now || before.retired.get().is_some()),
        };
        let nothing = PlaceSet {
            place,
            name: None,
            covered: None,
            watering: None,
            plants: None,
            area_dm2: None,
            retired: None,
        };
        Ok((set != nothing).then(|| set.into()))
    });
    let waterings = WATERINGS.iter().map(|by| ((*by).to_owned(), (*by).to_owned())).collect();
    view! {
        <Keep make done>
            <Field label="Name" value=name />
            <Toggle label="Under plastic or glass" on=covered />
            <div class="field">
                <p>"Watered by"</p>
                <Segmented label="Watered by" options=waterings chosen=watering />
            </div>
            <Field label="Plants" value=plants inputmode="numeric" />
            <Field label="Area, m²" value=area inputmode="decimal" />
            <Toggle label="Not used any more" on=retired />
        </Keep>
    }
}
