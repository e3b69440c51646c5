//! From the first moment to the screens: reading the disk, or saying why it cannot be read.

use leptos::prelude::*;
use leptos_router::components::{Route, Router, Routes};
use leptos_router::path;

use crate::driver::{Started, disk, notices};
use crate::screens;
use crate::shell::{js, persist, worker};

/// A disk that takes longer than this is worth a word.
const SLOW_MS: i32 = 4_000;

#[derive(Clone, Debug, PartialEq, Eq)]
enum Phase {
    Opening { slow: bool },
    Failed(String),
    Ready,
}

/// The whole program.
#[component]
pub fn Root() -> impl IntoView {
    let phase = RwSignal::new(Phase::Opening { slow: false });
    let started = StoredValue::new_local(None::<Started>);
    wasm_bindgen_futures::spawn_local(async move {
        match Started::read().await {
            Ok(read) => {
                started.set_value(Some(read));
                phase.set(Phase::Ready);
            }
            Err(trouble) => {
                disk::start_over_if_lost(&trouble);
                phase.set(Phase::Failed(notices::trouble_words(&trouble, persist::room().await)));
            }
        }
    });
    wasm_bindgen_futures::spawn_local(async move {
        js::pause(SLOW_MS).await;
        if matches!(phase.get_untracked(), Phase::Opening { .. }) {
            phase.set(Phase::Opening { slow: true });
        }
    });
    move || match phase.get() {
        Phase::Opening { slow } => view! { <Opening slow /> }.into_any(),
        Phase::Failed(reason) => view! { <NoStorage reason /> }.into_any(),
        Phase::Ready => match started.try_update_value(Option::take).flatten() {
            Some(read) => {
                provide_context(read.begin());
                view! { <Screens /> }.into_any()
            }
            None => ().into_any(),
        },
    }
}

#[component]
fn Opening(slow: bool) -> impl IntoView {
    slow.then(|| {
        view! {
            <div class="boot">
                <p role="status">
                    "Opening the book takes long. Close other Lugbook tabs of this browser."
                </p>
            </div>
        }
    })
}

/// Without storage nothing can be kept, and a screen that pretended otherwise would lose bins.
#[component]
fn NoStorage(reason: String) -> impl IntoView {
    view! {
        <main class="boot">
            <h1>"This browser lets Lugbook keep nothing"</h1>
            <p role="alert">{reason}</p>
            <p>
                "Is this a private window? Open Lugbook in a normal one. Is the phone full? Free some \
                 space. Are cookies and site data blocked for this address? Allow them. Then load \
                 again: what was kept before, and what you were typing, is still there."
            </p>
            <button class="button primary big" on:click=|_| worker::reload()>
                "Load again"
            </button>
        </main>
    }
}

#[component]
fn Screens() -> impl IntoView {
    view! {
        <Router>
            <Routes fallback=screens::NotFound>
                <Route path=path!("/") view=screens::Start />
                <Route path=path!("/join") view=screens::Join />
                <Route path=path!("/tally") view=screens::Tally />
                <Route path=path!("/ripening") view=screens::Ripening />
                <Route path=path!("/kitchen") view=screens::Kitchen />
                <Route path=path!("/stores") view=screens::Stores />
                <Route path=path!("/tonight") view=screens::Tonight />
                <Route path=path!("/season") view=screens::Season />
                <Route path=path!("/more") view=screens::More />
                <Route path=path!("/house") view=screens::House />
                <Route path=path!("/house/:section") view=screens::HouseSection />
            </Routes>
        </Router>
    }
}
