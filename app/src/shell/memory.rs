//! Small choices of this phone and what is being typed: `localStorage` lasts, `sessionStorage`
//! outlives a reload of this tab. Nothing of the log is ever kept here, so where a browser denies
//! them the program only forgets choices.

use serde::Serialize;
use serde::de::DeserializeOwned;
use web_sys::Storage;

use super::js;

/// How long something is remembered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Span {
    /// Until the person clears it.
    Lasting,
    /// As long as this tab.
    Tab,
}

fn storage(span: Span) -> Option<Storage> {
    match span {
        Span::Lasting => js::window().local_storage(),
        Span::Tab => js::window().session_storage(),
    }
    .ok()
    .flatten()
}

/// What was remembered under `name`, if it can be had and read.
pub fn recall<T: DeserializeOwned>(span: Span, name: &str) -> Option<T> {
    let text = storage(span)?.get_item(name).ok().flatten()?;
    serde_json::from_str(&text).ok()
}

/// Remembers `value` under `name`, where the browser allows it.
pub fn remember(span: Span, name: &str, value: &impl Serialize) -> bool {
    let Ok(text) = serde_json::to_string(value) else { return false };
    storage(span).is_some_and(|storage| storage.set_item(name, &text).is_ok())
}
