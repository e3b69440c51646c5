//! Where things stand after picking.

use leptos::prelude::*;
use shared_types::entry::RoomSet;
use shared_types::ids::RoomId;

use super::edit::{Keep, Line, Things};
use super::room_log::RoomLog;
use crate::farm::use_farm;
use crate::parts::{Field, Toggle};
use crate::typed::{celsius, changed, changed_words, typed, whole};
use crate::words;

#[component]
pub(super) fn Rooms() -> impl IntoView {
    let farm = use_farm();
    let lines = Signal::derive(move || {
        farm.book.with(|book| {
            book.rooms
                .iter()
                .map(|(id, room)| {
                    let sub = [
                        room.temperature.get().map(|t| format!("{}C", words::celsius(*t))),
                        room.humidity.get().map(|percent| format!("{percent} % humid")),
                    ];
                    Line {
                        id: id.0,
                        title: book.room_name(*id).to_owned(),
                        order: book.room_name(*id).to_lowercase(),
                        sub: sub.into_iter().flatten().collect::<Vec<_>>().join(" \u{b7} "),
                        retired: room.retired.get() == Some(&true),
                    }
                })
                .collect()
        })
    });
    view! {
        <Things
            lines
            new="New room"
            empty="No rooms yet. A shelf, a window, a cellar: ripening goes by its temperature."
            form=|id, done| view! { <RoomForm id=id.map(RoomId) done /> }.into_any()
        />
    }
}

#[component]
fn RoomForm(id: Option<RoomId>, done: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let before = id
        .and_then(|id| farm.book.with_untracked(|book| book.rooms.get(&id).cloned()))
        .unwrap_or_default();
    let room = id.unwrap_or_else(|| farm.fresh(RoomId::new));
    let name = RwSignal::new(before.name.get().cloned().unwrap_or_default());
    let temperature =
        RwSignal::new(before.temperature.get().map(|t| typed(i64::from(t.0))).unwrap_or_default());
    let humidity = RwSignal::new(before.humidity.get().map(i64::to_string).unwrap_or_default());
    let retired = RwSignal::new(before.retired.get().copied().unwrap_or(false));
    let make = Box::new(move || {
        let name = changed_words(&name.get_untracked(), before.name.get());
        if name.is_none() && before.name.get().is_none() {
            return Err("Type a name first.".to_owned());
        }
        let percent = whole(&humidity.get_untracked())?;
        if percent.is_some_and(|percent| percent > 100) {
            return Err("Air holds at most 100 % humidity.".to_owned());
        }
        let set = RoomSet {
            room,
            name,
            temperature: changed(celsius(&temperature.get_untracked())?, before.temperature.get()),
            humidity: changed(percent, before.humidity.get()),
            retired: changed(Some(retired.get_untracked()), before.retired.get())
                .filter(|now| *now || before.retired.get().is_some()),
        };
        let nothing =
            RoomSet { room, name: None, temperature: None, humidity: None, retired: None };
        Ok((set != nothing).then(|| set.into()))
    });
    view! {
        <Keep make done>
            <Field label="Name" value=name />
            <Field label="Usual temperature, °C" value=temperature inputmode="decimal" />
            <Field
                label="Humidity, %"
                value=humidity
                inputmode="numeric"
                hint="Can be left out. Dry rooms make fruit lose weight faster."
            />
            <Toggle label="Not used any more" on=retired />
        </Keep>
        {id.map(|room| view! { <RoomLog room /> })}
    }
}
