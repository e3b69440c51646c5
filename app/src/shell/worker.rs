//! The service worker, as `boot.js` tells of it.

use leptos::prelude::{RwSignal, Update as _};
use web_sys::CustomEvent;

use super::js;

/// What is known of the program on this phone.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Program {
    /// Every file is kept; the network may go.
    pub offline_ready: bool,
    /// Another build is there.
    pub update: Option<Update>,
    /// The id of the build that runs.
    pub build: String,
}

/// Another build than the one running.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Update {
    /// It waits to be taken over.
    Ready,
    /// Another tab took it over; this one should load again.
    Replaced,
}

/// Fills in what `boot.js` already said, and listens.
pub fn watch(program: RwSignal<Program>) {
    let Some(document) = js::window().document() else { return };
    let said = |name: &str| document.document_element().and_then(|root| root.get_attribute(name));
    let build = document
        .query_selector("meta[name=lugbook-build]")
        .ok()
        .flatten()
        .and_then(|meta| meta.get_attribute("content"))
        .unwrap_or_default();
    let update = match said("data-update").as_deref() {
        Some("ready") => Some(Update::Ready),
        Some("replaced") => Some(Update::Replaced),
        _ => None,
    };
    program.update(|program| {
        *program = Program { offline_ready: said("data-offline").is_some(), update, build };
    });
    let window = js::window();
    js::listen(&window, "lugbook:offline-ready", move |_| {
        program.update(|program| program.offline_ready = true);
    });
    js::listen(&window, "lugbook:update-ready", move |_| {
        program.update(|program| program.update = Some(Update::Ready));
    });
    js::listen(&window, "lugbook:replaced", move |_| {
        program.update(|program| program.update = Some(Update::Replaced));
    });
}

/// Takes the other build over; the page loads again by itself.
pub fn take_over(update: Update) {
    match update {
        Update::Ready => {
            let event = CustomEvent::new("lugbook:take-over").expect("a name makes an event");
            let sent = js::window().dispatch_event(&event);
            debug_assert!(sent.is_ok(), "an event nobody refuses");
        }
        Update::Replaced => reload(),
    }
}

/// Loads the page again.
pub fn reload() {
    let loaded = js::window().location().reload();
    debug_assert!(loaded.is_ok(), "a page may load itself again");
}
