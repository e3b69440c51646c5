//! Moving a lot: each room with the dates before and after, and a button.

use leptos::prelude::*;
use shared_types::entry::LotMoved;
use shared_types::ids::{LotId, RoomId};
use shared_types::outlook::{Outlook, Today};

use super::lots::LotRow;
use super::moving::{Choice, choices};
use crate::farm::use_farm;
use crate::parts::{Empty, Problem};

/// The rooms a lot could go to.
#[component]
pub fn MoveTo(
    id: LotId,
    found: Memo<Option<LotRow>>,
    told: Memo<Outlook>,
    today: Memo<Today>,
    said: RwSignal<String>,
) -> impl IntoView {
    let farm = use_farm();
    let failed = RwSignal::new(None::<String>);
    let stands = Memo::new(move |_| found.with(|lot| lot.as_ref().and_then(|lot| lot.room)));
    let rooms = Memo::new(move |_| {
        farm.book.with(|book| {
            told.with(|told| {
                let lot = told.lots.iter().find(|lot| lot.lot.id == id);
                choices(book, lot, stands.get(), today.get())
            })
        })
    });
    let go = move |room: RoomId, title: String| {
        let fact = LotMoved { lot: id, room, at: farm.now() };
        farm.keep_then(fact, move |result| match result {
            Ok(_) => {
                failed.set(None);
                said.set(format!("Kept: moved to {title}."));
            }
            Err(words) => failed.set(Some(words)),
        });
    };
    let row = move |choice: Choice| {
        let Choice { room, title, before, after, cautions } = choice;
        let label = format!("Move here: {title}");
        let dates = if before == after {
            view! { <b>{after}</b> <span class="sub">"as now"</span> }.into_any()
        } else {
            view! { <b>{after}</b> <span class="sub">{format!("now {before}")}</span> }.into_any()
        };
        let cautions = cautions
            .into_iter()
            .map(|text| view! { <p class="sub across">{text}</p> })
            .collect_view();
        let place = title.clone();
        view! {
            <li class="row">
                <div class="body">
                    <p class="title">{title}</p>
                </div>
                <div class="right">{dates}</div>
                {cautions}
                <div class="buttons">
                    <button
                        class="button"
                        aria-label=label
                        on:click=move |_| go(room, place.clone())
                    >
                        "Move here"
                    </button>
                </div>
            </li>
        }
    };
    view! {
        <h3>"Move to…"</h3>
        <Show
            when=move || rooms.with(|rooms| !rooms.is_empty())
            fallback=|| view! { <Empty text="There is no other room. Rooms are added under House." /> }
        >
            <ul class="list">{move || rooms.get().into_iter().map(row).collect_view()}</ul>
        </Show>
        <Problem text=failed />
    }
}
