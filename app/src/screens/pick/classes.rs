//! The classes of the crop, with what each came to so far.

use leptos::prelude::*;
use shared_types::ids::ClassId;
use shared_types::trade::crops;

use super::state::State;
use crate::parts::{class_mark, class_tone};
use crate::words;

#[component]
pub(super) fn Classes(state: State) -> impl IntoView {
    let crop = Memo::new(move |_| state.crop());
    let totals = Memo::new(move |_| {
        let pick = state.chosen.with(|chosen| chosen.pick);
        state.farm.book.with(|book| {
            pick.map(|pick| book.by_class(pick, Some(&crop.get()))).unwrap_or_default()
        })
    });
    let buttons = move || {
        let crop_id = crop.get();
        let Some(crop) = crops::crop(&crop_id) else { return Vec::new() };
        let button = |class: &crops::Class| {
            let id = class.id.clone();
            let (for_total, for_press, for_pressed) = (id.clone(), id.clone(), id.clone());
            let total = move || {
                let total = totals.with(|totals| totals.get(&for_total).copied());
                words::number(total.unwrap_or_default(), state.unit())
            };
            let pressed = move || {
                state.typed.with(|typed| typed.class.as_ref() == Some(&for_pressed)).to_string()
            };
            view! {
                <button
                    class=format!("class {}", class_tone(&crop_id, &id))
                    aria-pressed=pressed
                    on:click=move |_| press(state, &for_press)
                >
                    {class_mark(&crop_id, &id)}
                    <span class="name">{class.name.clone()}</span>
                    <span class="total">{total}</span>
                </button>
            }
        };
        crop.classes.iter().map(button).collect()
    };
    let layout = move || if is_three(&crop.get()) { "classes of-3" } else { "classes" };
    view! {
        <div class=layout role="group" aria-label="Class">
            {buttons}
        </div>
    }
}

fn is_three(crop: &shared_types::ids::CropId) -> bool {
    crops::crop(crop).is_some_and(|crop| crop.classes.len() == 3)
}

/// Chooses a class; a second press takes it back. A stage of another class goes.
fn press(state: State, class: &ClassId) {
    state.edit(|typed| {
        let is_same = typed.class.as_ref() == Some(class);
        typed.class = (!is_same).then(|| class.clone());
        typed.stage = None;
    });
}
