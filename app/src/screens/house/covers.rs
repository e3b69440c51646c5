//! What covers a place: a tunnel by its size, or a fleece that can be put on.

use leptos::prelude::*;
use shared_types::entry::CoverSet;
use shared_types::ids::PlaceId;
use shared_types::trade::cold;

use super::edit::{Keep, Line, Things};
use crate::farm::use_farm;
use crate::parts::Field;
use crate::parts::select::Select;
use crate::typed::{changed, metres, typed, whole};

#[component]
pub(super) fn Covers() -> impl IntoView {
    let farm = use_farm();
    let lines = Signal::derive(move || {
        farm.book.with(|book| {
            let line = |id: &PlaceId| {
                let cover = book.nights.covers.get(id).and_then(|cover| cover.cover.get());
                let name = cover.and_then(|cover| cold::cover(cover));
                Line {
                    id: id.0,
                    title: book.place_name(*id).to_owned(),
                    sub: name.map_or_else(|| "nothing to put on".to_owned(), |c| c.name.clone()),
                    order: book.place_name(*id).to_lowercase(),
                    retired: book.places.get(id).is_some_and(|p| p.retired.get() == Some(&true)),
                }
            };
            book.places.keys().map(line).collect()
        })
    });
    view! {
        <Things
            lines
            new=""
            empty="No places yet. Make them under Places first."
            form=|id, done| view! { <CoverForm id=id.map(PlaceId) done /> }.into_any()
        />
    }
}

#[component]
fn CoverForm(id: Option<PlaceId>, done: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let before = id
        .and_then(|id| farm.book.with_untracked(|book| book.nights.covers.get(&id).cloned()))
        .unwrap_or_default();
    let mm = |mm: Option<&i64>| RwSignal::new(mm.map(|mm| typed(*mm)).unwrap_or_default());
    let (length, width, height) =
        (mm(before.length_mm.get()), mm(before.width_mm.get()), mm(before.height_mm.get()));
    let layers = RwSignal::new(before.layers.get().map(i64::to_string).unwrap_or_default());
    let cover = RwSignal::new(before.cover.get().cloned());
    let make = Box::new(move || {
        let place = id.ok_or("Choose a place from the list.")?;
        let set = CoverSet {
            place,
            length_mm: changed(metres(&length.get_untracked())?, before.length_mm.get()),
            width_mm: changed(metres(&width.get_untracked())?, before.width_mm.get()),
            height_mm: changed(metres(&height.get_untracked())?, before.height_mm.get()),
            layers: changed(whole(&layers.get_untracked())?, before.layers.get()),
            cover: changed(cover.get_untracked(), before.cover.get()),
        };
        Ok(Some(set.into()))
    });
    let mut options: Vec<(Option<String>, String)> =
        cold::covers().iter().map(|cover| (Some(cover.id.clone()), cover.name.clone())).collect();
    options.insert(0, (Some("none".to_owned()), "nothing".to_owned()));
    view! {
        <Keep make done>
            <Select
                id="cover-kind"
                label="Cover"
                options=Signal::stored(options)
                chosen=cover
                on_choose=move |id| cover.set(id)
            />
            <Field label="Length, m" value=length hint="Of a tunnel, for the heat it would take." />
            <Field label="Width, m" value=width />
            <Field label="Height, m" value=height />
            <Field label="Layers of film" value=layers inputmode="numeric" />
        </Keep>
    }
}
