//! The one clock of the app, and the phone's zone.

use leptos::prelude::{RwSignal, Set as _, WithUntracked as _};
use shared_types::units::{Day, Millis};
use wasm_bindgen::JsValue;

use super::js;

/// How often the day is looked at; a phone asleep is asked again when it wakes.
const LOOK_EVERY_MS: i32 = 30_000;

/// Now, by the phone's clock.
pub fn now() -> Millis {
    Millis(js_sys::Date::now() as i64)
}

/// Minutes the phone's zone is ahead of UTC at `at`.
pub fn offset_minutes(at: Millis) -> i32 {
    let date = js_sys::Date::new(&JsValue::from_f64(at.0 as f64));
    // The browser counts minutes behind UTC.
    -(date.get_timezone_offset() as i32)
}

/// The calendar day of `at` where the phone is.
pub fn day_of(at: Millis) -> Day {
    Day::at(at, offset_minutes(at))
}

/// Keeps `today` right from now on.
pub fn keep_day(today: RwSignal<Day>) {
    let look = move || {
        let day = day_of(now());
        if today.with_untracked(|shown| *shown != day) {
            today.set(day);
        }
    };
    js::listen(&js::window(), "focus", move |_| look());
    wasm_bindgen_futures::spawn_local(async move {
        loop {
            look();
            js::pause(LOOK_EVERY_MS).await;
        }
    });
}
