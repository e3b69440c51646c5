//! Asking the browser to keep what is stored, and how much room there is.

use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

use super::js;

/// Bytes in use and bytes allowed, as far as the browser tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// Bytes this address uses.
    pub used: u64,
    /// Bytes it may use.
    pub quota: u64,
}

impl Room {
    /// `12.0 MB of 60.0 MB used`.
    pub fn words(self) -> String {
        let mb = |bytes: u64| format!("{:.1} MB", bytes as f64 / 1e6);
        format!("{} of {} used", mb(self.used), mb(self.quota))
    }
}

/// Asks for lasting storage. `None` where the browser cannot say.
pub async fn ask() -> Option<bool> {
    let storage = js::property(&js::window().navigator(), "storage")?;
    answer(js::call(&storage, "persist", &[])).await?.as_bool()
}

/// Whether what is stored lasts. `None` where the browser cannot say.
pub async fn lasts() -> Option<bool> {
    let storage = js::property(&js::window().navigator(), "storage")?;
    answer(js::call(&storage, "persisted", &[])).await?.as_bool()
}

/// How much room there is. `None` where the browser cannot say.
pub async fn room() -> Option<Room> {
    let storage = js::property(&js::window().navigator(), "storage")?;
    let estimate = answer(js::call(&storage, "estimate", &[])).await?;
    let number = |name| js::property(&estimate, name).and_then(|n| n.as_f64()).map(|n| n as u64);
    Some(Room { used: number("usage")?, quota: number("quota")? })
}

/// What a promise brings; `None` for a browser without the call or that refuses it, which is an
/// answer like "cannot say".
async fn answer(called: Result<JsValue, JsValue>) -> Option<JsValue> {
    JsFuture::from(js_sys::Promise::resolve(&called.ok()?)).await.ok()
}
