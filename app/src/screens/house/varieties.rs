//! What is grown.

use leptos::prelude::*;
use shared_types::entry::VarietySet;
use shared_types::ids::{CropId, VarietyId};
use shared_types::trade::crops;

use super::edit::{Keep, Line, Things};
use crate::farm::use_farm;
use crate::parts::select::Select;
use crate::parts::{Field, Toggle};
use crate::typed::{changed, changed_words};
use crate::words;

#[component]
pub(super) fn Varieties() -> impl IntoView {
    let farm = use_farm();
    let lines = Signal::derive(move || {
        farm.book.with(|book| {
            book.varieties
                .iter()
                .map(|(id, variety)| {
                    let title = book.variety_name(*id).to_owned();
                    let sub = variety.crop.get().map(words::crop_name).unwrap_or_default();
                    Line {
                        id: id.0,
                        order: format!("{sub} {}", title.to_lowercase()),
                        title,
                        sub,
                        retired: variety.retired.get() == Some(&true),
                    }
                })
                .collect()
        })
    });
    view! {
        <Things
            lines
            new="New variety"
            empty="No varieties yet. Without them a crop is picked as one."
            form=|id, done| view! { <VarietyForm id=id.map(VarietyId) done /> }.into_any()
        />
    }
}

/// The crops of the table, to choose from.
pub(super) fn crop_options() -> Vec<(CropId, String)> {
    crops::all().iter().map(|crop| (crop.slug.clone(), crop.name.clone())).collect()
}

#[component]
fn VarietyForm(id: Option<VarietyId>, done: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let before = id
        .and_then(|id| farm.book.with_untracked(|book| book.varieties.get(&id).cloned()))
        .unwrap_or_default();
    let variety = id.unwrap_or_else(|| farm.fresh(VarietyId::new));
    let name = RwSignal::new(before.name.get().cloned().unwrap_or_default());
    let first = crops::all().first().map(|crop| crop.slug.clone());
    let crop = RwSignal::new(before.crop.get().cloned().or(first));
    let retired = RwSignal::new(before.retired.get().copied().unwrap_or(false));
    let make = Box::new(move || {
        let name = changed_words(&name.get_untracked(), before.name.get());
        if name.is_none() && before.name.get().is_none() {
            return Err("Type a name first.".to_owned());
        }
        let set = VarietySet {
            variety,
            crop: changed(crop.get_untracked(), before.crop.get()),
            name,
            retired: changed(Some(retired.get_untracked()), before.retired.get())
                .filter(|now| *now || before.retired.get().is_some()),
        };
        let nothing = VarietySet { variety, crop: None, name: None, retired: None };
        Ok((set != nothing).then(|| set.into()))
    });
    let options: Vec<_> =
        crop_options().into_iter().map(|(slug, name)| (Some(slug), name)).collect();
    view! {
        <Keep make done>
            <Field label="Name" value=name />
            <Select
                id="variety-crop"
                label="Crop"
                options=Signal::stored(options)
                chosen=crop
                on_choose=move |slug| crop.set(slug)
            />
            <Toggle label="Not grown any more" on=retired />
        </Keep>
    }
}
