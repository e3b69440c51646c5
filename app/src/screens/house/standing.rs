//! In which room a class of a crop is put after picking.

use leptos::prelude::*;
use shared_types::entry::StandingSet;
use shared_types::ids::{ClassId, CropId, RoomId};
use shared_types::trade::crops;

use super::varieties::crop_options;
use crate::farm::use_farm;
use crate::order;
use crate::parts::select::Select;
use crate::parts::{Empty, Problem, Show, class_mark};
use crate::words;

#[component]
pub(super) fn Standing() -> impl IntoView {
    let farm = use_farm();
    let first = crops::all().first().map_or_else(|| CropId::from(""), |crop| crop.slug.clone());
    let crop = RwSignal::new(first);
    let has_rooms = Memo::new(move |_| farm.book.with(|book| !book.rooms.is_empty()));
    let classes = move || {
        let slug = crop.get();
        let Some(of) = crops::crop(&slug) else { return Vec::new() };
        of.classes
            .iter()
            .map(|class| view! { <ClassRow crop=slug.clone() class=class.id.clone() /> })
            .collect()
    };
    view! {
        <Select
            id="standing-crop"
            label="Crop"
            options=Signal::stored(crop_options())
            chosen=crop
            on_choose=move |slug| crop.set(slug)
        />
        <Show
            when=move || has_rooms.get()
            fallback=|| view! { <Empty text="Add a room first, under Rooms." /> }
        >
            <ul class="list">{classes}</ul>
        </Show>
    }
}

/// One class with its room. The place of its choice is kept at once.
#[component]
fn ClassRow(crop: CropId, class: ClassId) -> impl IntoView {
    let farm = use_farm();
    let problem = RwSignal::new(None::<String>);
    let id = format!("standing-{crop}-{class}");
    let name = words::class_name(&crop, &class);
    let mark = class_mark(&crop, &class);
    let key = StoredValue::new((crop, class));
    let options = move || {
        farm.book.with(|book| {
            let stands = key.with_value(|(crop, class)| book.stands(crop, class));
            let rooms = book
                .rooms
                .iter()
                .filter(|(id, room)| room.retired.get() != Some(&true) || stands == Some(**id));
            let rooms = rooms.map(|(id, _)| (*id, book.room_name(*id).to_owned()));
            let rooms = order::by_words(rooms, |(_, name)| name.to_lowercase());
            let option = |(id, name): (RoomId, String)| {
                view! {
                    <option value=id.to_string() selected=stands == Some(id)>
                        {name}
                    </option>
                }
            };
            let none = stands.is_none().then(|| view! { <option value="">"not said"</option> });
            (none, rooms.into_iter().map(option).collect_view())
        })
    };
    let choose = move |event: leptos::ev::Event| {
        let Ok(room) = event_target_value(&event).parse::<RoomId>() else { return };
        let (crop, class) = key.get_value();
        farm.keep_then(StandingSet { crop, class, room }, move |kept| {
            problem.set(kept.err().map(|reason| format!("Not kept. {reason}")));
        });
    };
    view! {
        <li class="row">
            {mark}
            <div class="body field">
                <label for=id.clone()>{name}</label>
                <select id=id.clone() on:change=choose>
                    {options}
                </select>
                <Problem text=problem />
            </div>
        </li>
    }
}
