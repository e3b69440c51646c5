//! What things are carried in.

use leptos::prelude::*;
use shared_types::entry::BinTypeSet;
use shared_types::ids::BinTypeId;

use super::edit::{Keep, Line, Things};
use crate::farm::use_farm;
use crate::parts::{Field, Toggle};
use crate::typed::{changed, changed_words, weight};
use crate::words;

#[component]
pub(super) fn BinTypes() -> impl IntoView {
    let farm = use_farm();
    let lines = Signal::derive(move || {
        let unit = farm.unit();
        farm.book.with(|book| {
            book.bin_types
                .iter()
                .map(|(id, kind)| {
                    let exact =
                        |weight| format!("{} {}", words::exact(weight, unit), unit.symbol());
                    let sub = [
                        kind.tare.get().map(|tare| format!("weighs {}", exact(*tare))),
                        kind.full.get().map(|full| format!("holds {}", exact(*full))),
                    ];
                    let name = kind.name.get().cloned();
                    let title = name.unwrap_or_else(|| "unnamed bin".to_owned());
                    Line {
                        id: id.0,
                        order: title.to_lowercase(),
                        title,
                        sub: sub.into_iter().flatten().collect::<Vec<_>>().join(" \u{b7} "),
                        retired: kind.retired.get() == Some(&true),
                    }
                })
                .collect()
        })
    });
    view! {
        <Things
            lines
            new="New kind of bin"
            empty="No kinds of bin yet. What the empty bin weighs is taken off the scale's reading."
            form=|id, done| view! { <BinTypeForm id=id.map(BinTypeId) done /> }.into_any()
        />
    }
}

#[component]
fn BinTypeForm(id: Option<BinTypeId>, done: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let unit = untrack(|| farm.unit());
    let before = id
        .and_then(|id| farm.book.with_untracked(|book| book.bin_types.get(&id).cloned()))
        .unwrap_or_default();
    let bin_type = id.unwrap_or_else(|| farm.fresh(BinTypeId::new));
    let exact = |weight: Option<&shared_types::units::Grams>| {
        RwSignal::new(weight.map(|weight| words::exact(*weight, unit)).unwrap_or_default())
    };
    let name = RwSignal::new(before.name.get().cloned().unwrap_or_default());
    let (tare, full) = (exact(before.tare.get()), exact(before.full.get()));
    let (tare_was, full_was) = (tare.get_untracked(), full.get_untracked());
    let retired = RwSignal::new(before.retired.get().copied().unwrap_or(false));
    let make = Box::new(move || {
        let name = changed_words(&name.get_untracked(), before.name.get());
        if name.is_none() && before.name.get().is_none() {
            return Err("Type a name first.".to_owned());
        }
        // A weight shown in pounds is not written back as another one when nobody touched it.
        let set_weight = |text: RwSignal<String>, was: &str, stands| {
            let text = text.get_untracked();
            if text == was { Ok(None) } else { weight(&text, unit).map(|now| changed(now, stands)) }
        };
        let set = BinTypeSet {
            bin_type,
            name,
            tare: set_weight(tare, &tare_was, before.tare.get())?,
            full: set_weight(full, &full_was, before.full.get())?,
            retired: changed(Some(retired.get_untracked()), before.retired.get())
                .filter(|now| *now || before.retired.get().is_some()),
        };
        let nothing = BinTypeSet { bin_type, name: None, tare: None, full: None, retired: None };
        Ok((set != nothing).then(|| set.into()))
    });
    view! {
        <Keep make done>
            <Field label="Name" value=name />
            <Field
                label=format!("Weighs empty and dry, {}", unit.symbol())
                value=tare
                inputmode="decimal"
            />
            <Field
                label=format!("Holds when full, {}", unit.symbol())
                value=full
                inputmode="decimal"
                hint="Without the bin itself. Makes Full, \u{be} and \u{bd} one press on Pick."
            />
            <Toggle label="Not used any more" on=retired />
        </Keep>
    }
}
