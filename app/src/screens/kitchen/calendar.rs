//! A secret link under which calendar programs find the tasks with their alarms.

use leptos::prelude::*;
use shared_types::wire::{CalendarLink, CalendarRevoke, NewCalendarLink};

use crate::farm::use_farm;
use crate::parts::{Problem, Show};
use crate::shell::clock::day_of;
use crate::shell::js;
use crate::words;

const PATH: &str = "/api/v1/calendar";

/// Making, listing and revoking links. Needs the house; everything else in Kitchen does not.
#[component]
pub fn Calendar() -> impl IntoView {
    let farm = use_farm();
    let links = RwSignal::new(None::<Vec<CalendarLink>>);
    let fresh = RwSignal::new(None::<String>);
    let problem = RwSignal::new(None::<String>);
    let load = move || {
        wasm_bindgen_futures::spawn_local(async move {
            match farm.get::<Vec<CalendarLink>>(PATH).await.into_result() {
                Ok(found) => links.set(Some(found)),
                Err(words) => problem.set(Some(words)),
            }
        });
    };
    load();
    let make = move |_| {
        problem.set(None);
        wasm_bindgen_futures::spawn_local(async move {
            let made = farm.post::<NewCalendarLink>(PATH, &serde_json::json!({})).await;
            match made.into_result() {
                Ok(link) => {
                    let origin = js::window().location().origin().unwrap_or_default();
                    fresh.set(Some(format!("{origin}{}", link.path)));
                    load();
                }
                Err(words) => problem.set(Some(words)),
            }
        });
    };
    let revoke = move |id: String| {
        wasm_bindgen_futures::spawn_local(async move {
            let path = format!("{PATH}/revoke");
            let revoked = farm.post::<()>(&path, &CalendarRevoke { id }).await;
            match revoked.into_result() {
                Ok(()) => {
                    fresh.set(None);
                    load();
                }
                Err(words) => problem.set(Some(words)),
            }
        });
    };
    let rows = move || {
        let row = |link: CalendarLink| {
            let made = words::day(day_of(link.created));
            let read = match link.read {
                Some(at) => format!("last read {}", words::day(day_of(at))),
                None => "not read yet".to_owned(),
            };
            let id = link.id.clone();
            view! {
                <li class="row">
                    <div class="body">
                        <p class="title">{format!("Link made {made}")}</p>
                        <p class="sub">{read}</p>
                    </div>
                    <div class="right">
                        <button class="button" on:click=move |_| revoke(id.clone())>
                            "Revoke"
                        </button>
                    </div>
                </li>
            }
        };
        links.get().unwrap_or_default().into_iter().map(row).collect_view()
    };
    view! {
        <section class="section">
            <header>
                <h2>"In your calendar"</h2>
            </header>
            <p>
                "Any calendar program can subscribe to the steps of the plan, with alarms. Whoever has the link can read them, and nothing else; revoke it when it got into wrong hands."
            </p>
            <div class="buttons">
                <button class="button" on:click=make>
                    "Make a link"
                </button>
            </div>
            <Show when=move || fresh.with(Option::is_some)>
                <div class="note">
                    <p>
                        "Subscribe to this address. It is shown only now: "
                        <a class="long" href=move || fresh.get().unwrap_or_default() rel="external">
                            {move || fresh.get().unwrap_or_default()}
                        </a>
                    </p>
                </div>
            </Show>
            <Problem text=problem />
            <ul class="list">{rows}</ul>
        </section>
    }
}
