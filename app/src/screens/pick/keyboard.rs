//! A physical keyboard, such as a scale's or a laptop's, does what the keypad does.

use leptos::ev;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::{Element, KeyboardEvent};

use super::key::Key;
use super::state::State;

/// Listens as long as the screen is there.
pub(super) fn listen(state: State) {
    let handle = window_event_listener(ev::keydown, move |event| on_key(state, &event));
    on_cleanup(move || handle.remove());
}

fn on_key(state: State, event: &KeyboardEvent) {
    let with_others = event.ctrl_key() || event.meta_key() || event.alt_key();
    let tag = event
        .target()
        .and_then(|target| target.dyn_into::<Element>().ok())
        .map(|element| element.tag_name().to_lowercase())
        .unwrap_or_default();
    let is_typing = matches!(tag.as_str(), "input" | "select" | "textarea");
    if with_others || is_typing || state.open.get_untracked().is_some() {
        if event.key() == "Escape" {
            state.close();
        }
        return;
    }
    if event.key() == "Enter" {
        // On a control, Enter presses that control.
        if !matches!(tag.as_str(), "button" | "a") {
            event.prevent_default();
            state.keep();
        }
    } else if let Some(key) = Key::of_keyboard(&event.key()) {
        event.prevent_default();
        state.edit(|typed| typed.press(key));
    }
}
