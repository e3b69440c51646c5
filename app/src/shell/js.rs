//! Reaching into the browser's objects where web-sys has no settled binding, and listening for the
//! program's whole life.

use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{Event, EventTarget, Window};

/// The page's window. The program runs nowhere else.
pub fn window() -> Window {
    web_sys::window().expect("the program runs in a page")
}

/// A property that is there and is something.
pub fn property(of: &JsValue, name: &str) -> Option<JsValue> {
    let value = js_sys::Reflect::get(of, &name.into()).ok()?;
    (!value.is_undefined() && !value.is_null()).then_some(value)
}

/// Calls a method by name.
pub fn call(of: &JsValue, method: &str, arguments: &[&JsValue]) -> Result<JsValue, JsValue> {
    let function: js_sys::Function = js_sys::Reflect::get(of, &method.into())?.dyn_into()?;
    function.apply(of, &arguments.iter().copied().collect::<js_sys::Array>())
}

/// The name of a thrown thing, such as `QuotaExceededError`.
pub fn error_name(error: &JsValue) -> String {
    property(error, "name").and_then(|name| name.as_string()).unwrap_or_default()
}

/// What a thrown thing says.
pub fn error_message(error: &JsValue) -> String {
    property(error, "message")
        .and_then(|message| message.as_string())
        .or_else(|| error.as_string())
        .unwrap_or_else(|| "no reason given".to_owned())
}

/// Listens until the page goes.
pub fn listen(target: &EventTarget, event: &str, handler: impl FnMut(Event) + 'static) {
    let handler = Closure::<dyn FnMut(Event)>::new(handler);
    // Only a missing callback makes this fail.
    let added = target.add_event_listener_with_callback(event, handler.as_ref().unchecked_ref());
    debug_assert!(added.is_ok(), "listening to {event}");
    handler.forget();
}

/// Comes back after `ms` milliseconds.
pub async fn pause(ms: i32) {
    let promise = pause_promise(ms);
    // A timer's promise is never rejected.
    let _never_fails = wasm_bindgen_futures::JsFuture::from(promise).await;
}

/// A promise that is kept after `ms` milliseconds.
pub fn pause_promise(ms: i32) -> js_sys::Promise {
    js_sys::Promise::new(&mut |resolve, _| {
        let set = window().set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, ms);
        debug_assert!(set.is_ok(), "a timer can always be set");
    })
}
