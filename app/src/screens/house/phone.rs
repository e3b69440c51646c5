//! This phone: what is sent, whose it is, storage, light or dark, the program, and what the
//! diagnostics know.

use leptos::prelude::*;
use leptos_router::components::A;
use shared_types::engine::{Link, Status};
use shared_types::entry::PersonSet;

use super::edit::Keep;
use crate::farm::{Farm, use_farm};
use crate::parts::{Field, Row, Segmented, Show};
use crate::shell::theme::{self, Theme};
use crate::shell::{persist, worker};
use crate::typed::changed_words;
use crate::words;

#[component]
pub(super) fn Phone() -> impl IntoView {
    let farm = use_farm();
    view! {
        <Sending farm />
        <Name farm />
        <Looks />
        <Storage />
        <Program farm />
        <Diagnostics farm />
    }
}

#[component]
fn Sending(farm: Farm) -> impl IntoView {
    let title = Memo::new(move |_| farm.status.with(|status| entries(status.unsent)));
    let sub = Memo::new(move |_| farm.status.with(link_words));
    let is_joined = Memo::new(move |_| farm.me.with(|me| me.token.is_some()));
    view! {
        <section class="section">
            <div class="lead">
                <h2>{move || title.get()}</h2>
                <p class="sub" role="status">
                    {move || sub.get()}
                </p>
            </div>
            <div class="buttons">
                <Show
                    when=move || is_joined.get()
                    fallback=|| {
                        view! {
                            <A href="/join" attr:class="button primary">
                                "Join"
                            </A>
                        }
                    }
                >
                    <button class="button" on:click=move |_| farm.try_now()>
                        "Try now"
                    </button>
                </Show>
            </div>
        </section>
    }
}

fn entries(unsent: usize) -> String {
    match unsent {
        0 => "Everything is sent".to_owned(),
        some => format!("{} to send", words::count(some, "entry")),
    }
}

/// How the link stands, and what that means for the picker.
fn link_words(status: &Status) -> String {
    let kept = format!("{} kept on this phone in all.", words::count(status.kept, "entry"));
    let link = match &status.link {
        Link::NotJoined => "Not joined: bins are kept here and sent once this phone has joined.",
        Link::Good => "The house answers.",
        Link::Trying => "Asking the house.",
        Link::Waiting => "The house cannot be reached. Bins are kept here and sent by themselves.",
        Link::Following => "Another Lugbook tab of this browser does the sending.",
        Link::Stopped(refusal) => return format!("Stopped: {}. {kept}", refusal.message),
    };
    format!("{link} {kept}")
}

#[component]
fn Name(farm: Farm) -> impl IntoView {
    let before = farm.me.with_untracked(|me| me.name.clone());
    let name = RwSignal::new(before.clone().unwrap_or_default());
    let said = RwSignal::new(String::new());
    let make = Box::new(move || {
        let name = changed_words(&name.get_untracked(), before.as_ref());
        Ok(name.map(|name| PersonSet { person: farm.person(), name }.into()))
    });
    let done = Callback::new(move |()| {
        let typed = name.get_untracked().trim().to_owned();
        wasm_bindgen_futures::spawn_local(async move {
            let written = farm.set_me(|me| me.name = Some(typed).filter(|n| !n.is_empty())).await;
            said.set(written.map_or_else(|reason| reason, |()| "Kept.".to_owned()));
        });
    });
    view! {
        <section class="section">
            <header>
                <h2>"Whose phone"</h2>
            </header>
            <Keep make done>
                <Field label="Your name" value=name autocomplete="given-name" />
                <p class="sub" role="status">
                    {said}
                </p>
            </Keep>
        </section>
    }
}

#[component]
fn Looks() -> impl IntoView {
    let chosen = RwSignal::new(theme::chosen());
    Effect::new(move |_| theme::choose(chosen.get()));
    let options = vec![
        (Theme::Auto, "as the phone".to_owned()),
        (Theme::Light, "light".to_owned()),
        (Theme::Dark, "dark".to_owned()),
    ];
    view! {
        <section class="section">
            <header>
                <h2>"Light or dark"</h2>
            </header>
            <div class="form">
                <Segmented label="Light or dark" options chosen />
            </div>
        </section>
    }
}

#[component]
fn Storage() -> impl IntoView {
    let lasts = RwSignal::new(None::<bool>);
    let room = RwSignal::new(None::<persist::Room>);
    wasm_bindgen_futures::spawn_local(async move {
        lasts.set(persist::lasts().await);
        room.set(persist::room().await);
    });
    let words = move || match lasts.get() {
        Some(true) => "The browser keeps what is stored until you delete it.",
        Some(false) => {
            "The browser may clear what is stored when the phone runs full. Add Lugbook to the home \
             screen, and it keeps it."
        }
        None => "This browser does not say whether it keeps what is stored.",
    };
    let ask = move |_| {
        wasm_bindgen_futures::spawn_local(async move { lasts.set(persist::ask().await) });
    };
    view! {
        <section class="section">
            <header>
                <h2>"Storage"</h2>
                <span class="sub">{move || room.get().map(persist::Room::words)}</span>
            </header>
            <p role="status">{words}</p>
            <Show when=move || lasts.get() == Some(false)>
                <div class="buttons">
                    <button class="button" on:click=ask>
                        "Ask the browser to keep it"
                    </button>
                </div>
            </Show>
        </section>
    }
}

#[component]
fn Program(farm: Farm) -> impl IntoView {
    let offline = move || {
        if farm.program.with(|program| program.offline_ready) {
            "Ready offline: this phone has every file."
        } else {
            "Not ready offline yet: stay near the house for a moment."
        }
    };
    let version = move || {
        let build = farm.program.with(|program| program.build.clone());
        format!("{} \u{b7} build {build}", env!("CARGO_PKG_VERSION"))
    };
    let update = Memo::new(move |_| farm.program.with(|program| program.update));
    view! {
        <section class="section">
            <header>
                <h2>"Program"</h2>
                <span class="sub">{version}</span>
            </header>
            <p role="status">{offline}</p>
            {move || {
                update
                    .get()
                    .map(|update| {
                        view! {
                            <div class="buttons">
                                <button
                                    class="button"
                                    on:click=move |_| worker::take_over(update)
                                >
                                    "Update now"
                                </button>
                            </div>
                        }
                    })
            }}
        </section>
    }
}

/// Entries that make no sense or come from a newer program: they stop nothing, and can be seen.
#[component]
fn Diagnostics(farm: Farm) -> impl IntoView {
    let deferred = Memo::new(move |_| farm.book.with(|book| book.deferred.len()));
    let set_aside = move || {
        farm.book.with(|book| {
            book.set_aside
                .iter()
                .map(|aside| {
                    let sub = format!("{}, number {}", aside.kind, aside.id.device_seq);
                    view! { <Row title=aside.reason.clone() sub /> }
                })
                .collect_view()
        })
    };
    let none = Memo::new(move |_| farm.book.with(|book| book.set_aside.is_empty()));
    let waiting = move || match deferred.get() {
        0 => "No entries wait for an update of this program.".to_owned(),
        some => format!(
            "{} from a newer program: they count once this one is updated.",
            words::count(some, "entry")
        ),
    };
    view! {
        <section class="section">
            <header>
                <h2>"Set aside"</h2>
            </header>
            <p>{waiting}</p>
            <Show
                when=move || !none.get()
                fallback=|| view! { <p>"No entries were set aside as making no sense."</p> }
            >
                <ul class="list">{set_aside}</ul>
            </Show>
        </section>
    }
}
