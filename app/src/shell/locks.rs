//! One tab exchanges: the one that holds the lock.

use wasm_bindgen::JsValue;
use wasm_bindgen::closure::Closure;

use super::js;

const LOCK: &str = "lugbook-sync";

/// Calls `lead` once this tab is the one that exchanges, and holds the lock until the tab goes.
/// Where the browser has no locks, every tab leads: the exchange bears that, it is only wasteful.
pub fn lead(lead: impl FnOnce() + Clone + 'static) {
    let Some(locks) = js::property(&js::window().navigator(), "locks") else {
        lead();
        return;
    };
    let granted = lead.clone();
    let hold = Closure::once_into_js(move |_: JsValue| {
        granted();
        // Never kept, so the lock is held.
        js_sys::Promise::new(&mut |_, _| {})
    });
    let Ok(request) = js::call(&locks, "request", &[&LOCK.into(), &hold]) else {
        lead();
        return;
    };
    wasm_bindgen_futures::spawn_local(async move {
        // Ends only when the browser refuses locks to this page.
        if wasm_bindgen_futures::JsFuture::from(js_sys::Promise::resolve(&request)).await.is_err() {
            lead();
        }
    });
}
