//! What stands where, from when to when: who is at risk tonight, and yields per plant.

use leptos::prelude::*;
use shared_types::entry::PlantingSet;
use shared_types::ids::{CropId, PlaceId, PlantingId, VarietyId};
use shared_types::units::Day;

use super::edit::{Keep, Line, Things};
use super::varieties::crop_options;
use crate::farm::use_farm;
use crate::order;
use crate::parts::Field;
use crate::parts::select::Select;
use crate::typed::{changed, square_metres, typed, whole};
use crate::words;

#[component]
pub(super) fn Plantings() -> impl IntoView {
    let farm = use_farm();
    let lines = Signal::derive(move || {
        farm.book.with(|book| {
            let line = |(id, planting): (&PlantingId, &shared_types::book::nights::Planting)| {
                let place = planting.place.get().map_or("no place", |id| book.place_name(*id));
                let crop = planting.crop.get().map_or_else(
                    || "no crop".to_owned(),
                    |crop| words::crop_line(book, crop, planting.variety.get().copied()),
                );
                let plants = planting.plants.get().and_then(|n| usize::try_from(*n).ok());
                let sub = [
                    plants.map(|n| words::count(n, "plant")),
                    planting.from.get().map(|day| format!("from {day}")),
                    planting.cleared.get().map(|day| format!("cleared {day}")),
                ];
                Line {
                    id: id.0,
                    title: format!("{crop}, {place}"),
                    sub: sub.into_iter().flatten().collect::<Vec<_>>().join(" \u{b7} "),
                    order: format!("{place} {crop}").to_lowercase(),
                    retired: planting.cleared.get().is_some(),
                }
            };
            book.nights.plantings.iter().map(line).collect()
        })
    });
    view! {
        <Things
            lines
            new="New planting"
            empty="Nothing said yet. What stands where is what a cold night puts at risk."
            form=|id, done| view! { <PlantingForm id=id.map(PlantingId) done /> }.into_any()
        />
    }
}

#[component]
fn PlantingForm(id: Option<PlantingId>, done: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let before = id
        .and_then(|id| farm.book.with_untracked(|book| book.nights.plantings.get(&id).cloned()))
        .unwrap_or_default();
    let planting = id.unwrap_or_else(|| farm.fresh(PlantingId::new));
    let place = RwSignal::new(before.place.get().copied());
    let crop = RwSignal::new(before.crop.get().cloned());
    let variety = RwSignal::new(before.variety.get().copied());
    let plants = RwSignal::new(before.plants.get().map(i64::to_string).unwrap_or_default());
    let area = RwSignal::new(before.area_dm2.get().map(|dm2| typed(dm2 * 10)).unwrap_or_default());
    let day = |day: Option<&Day>| RwSignal::new(day.map(Day::to_string).unwrap_or_default());
    let (from, cleared) = (day(before.from.get()), day(before.cleared.get()));
    let make = Box::new(move || {
        let (chosen_place, chosen_crop) = (place.get_untracked(), crop.get_untracked());
        if chosen_place.is_none() || chosen_crop.is_none() {
            return Err("Choose where and what.".to_owned());
        }
        let day = |text: String| -> Result<Option<Day>, String> {
            match text.trim() {
                "" => Ok(None),
                text => text
                    .parse()
                    .map(Some)
                    .map_err(|_| format!("`{text}` is not a day like 2026-05-28.")),
            }
        };
        let set = PlantingSet {
            planting,
            place: changed(chosen_place, before.place.get()),
            crop: changed(chosen_crop, before.crop.get()),
            variety: changed(variety.get_untracked(), before.variety.get()),
            plants: changed(whole(&plants.get_untracked())?, before.plants.get()),
            area_dm2: changed(square_metres(&area.get_untracked())?, before.area_dm2.get()),
            from: changed(day(from.get_untracked())?, before.from.get()),
            cleared: changed(day(cleared.get_untracked())?, before.cleared.get()),
        };
        Ok(Some(set.into()))
    });
    let places = Signal::derive(move || {
        farm.book.with(|book| {
            let all = book.places.keys().map(|id| (Some(*id), book.place_name(*id).to_owned()));
            let mut all: Vec<(Option<PlaceId>, String)> =
                order::by_words(all, |(_, name)| name.to_lowercase());
            all.insert(0, (None, "choose".to_owned()));
            all
        })
    });
    let crops = Signal::derive(|| {
        let mut all: Vec<(Option<CropId>, String)> =
            crop_options().into_iter().map(|(slug, name)| (Some(slug), name)).collect();
        all.insert(0, (None, "choose".to_owned()));
        all
    });
    let varieties = Signal::derive(move || {
        let crop = crop.get();
        farm.book.with(|book| {
            let of = book.varieties.iter().filter(|(_, v)| v.crop.get() == crop.as_ref());
            let of = of.map(|(id, _)| (Some(*id), book.variety_name(*id).to_owned()));
            let mut all: Vec<(Option<VarietyId>, String)> =
                order::by_words(of, |(_, name)| name.to_lowercase());
            all.insert(0, (None, "not said".to_owned()));
            all
        })
    });
    view! {
        <Keep make done>
            <Select id="planting-place" label="Place" options=places chosen=place
                on_choose=move |id| place.set(id) />
            <Select id="planting-crop" label="Crop" options=crops chosen=crop
                on_choose=move |id| { crop.set(id); variety.set(None); } />
            <Select id="planting-variety" label="Variety" options=varieties chosen=variety
                on_choose=move |id| variety.set(id) />
            <Field label="Plants" value=plants inputmode="numeric" />
            <Field label="Area, m²" value=area hint="Can be left out." />
            <Field label="Planted on" value=from kind="date" />
            <Field label="Cleared on" value=cleared kind="date" hint="Empty while it stands." />
        </Keep>
    }
}
