//! Requests and transactions as things to wait for.

use std::cell::RefCell;
use std::rc::Rc;

use serde::Serialize;
use serde::de::DeserializeOwned;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Event, IdbDatabase, IdbRequest, IdbTransaction};

use super::super::js;
use super::Trouble;

/// What a transaction may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mode {
    /// Reads.
    Read,
    /// Reads and writes; complete only when flushed to the disk.
    Write,
}

/// A storage process that was ended under the page never answers. A slow card takes a second or two
/// for a large page of the log.
const SILENT_MS: i32 = 15_000;

type Handler = Closure<dyn FnMut(Event)>;

/// The end of a transaction, watched from its beginning.
pub(super) struct Ending {
    transaction: IdbTransaction,
    ended: JsFuture,
    _handlers: [Handler; 3],
}

/// Begins a transaction over `stores`.
///
/// web-sys has the option `durability` only behind its flag for unsettled interfaces, so the call
/// goes by name.
pub(super) fn begin(
    db: &IdbDatabase,
    stores: &[&str],
    mode: Mode,
) -> Result<(IdbTransaction, Ending), Trouble> {
    let names: js_sys::Array = stores.iter().map(|name| JsValue::from_str(name)).collect();
    let options = js_sys::Object::new();
    let word = match mode {
        Mode::Read => "readonly",
        Mode::Write => {
            js_sys::Reflect::set(&options, &"durability".into(), &"strict".into())?;
            "readwrite"
        }
    };
    let transaction: IdbTransaction =
        js::call(db, "transaction", &[&names, &word.into(), &options])?.dyn_into()?;
    let ending = Ending::of(transaction.clone());
    Ok((transaction, ending))
}

impl Ending {
    fn of(transaction: IdbTransaction) -> Self {
        let (promise, complete, fail) = promise();
        // The first error is the cause; the abort that follows may not name it.
        let cause: Rc<RefCell<Option<JsValue>>> = Rc::default();
        let on_complete = Handler::new(move |_| settle(&complete, &JsValue::UNDEFINED));
        let on_error = Handler::new({
            let cause = Rc::clone(&cause);
            move |event: Event| {
                let error = event.target().and_then(|target| js::property(&target, "error"));
                let mut cause = cause.borrow_mut();
                *cause = cause.take().or(error);
            }
        });
        let on_abort = Handler::new({
            let transaction = transaction.clone();
            move |_| {
                let error = transaction.error().map(JsValue::from).or_else(|| cause.take());
                settle(
                    &fail,
                    &error.unwrap_or_else(|| JsValue::from_str("the transaction was aborted")),
                );
            }
        });
        transaction.set_oncomplete(Some(on_complete.as_ref().unchecked_ref()));
        transaction.set_onerror(Some(on_error.as_ref().unchecked_ref()));
        transaction.set_onabort(Some(on_abort.as_ref().unchecked_ref()));
        Self { transaction, ended: within(&promise), _handlers: [on_complete, on_error, on_abort] }
    }

    /// Waits for `complete`; anything else is trouble.
    pub(super) async fn wait(mut self) -> Result<(), Trouble> {
        (&mut self.ended).await.map(drop).map_err(Trouble::from)
    }
}

impl Drop for Ending {
    fn drop(&mut self) {
        self.transaction.set_oncomplete(None);
        self.transaction.set_onerror(None);
        self.transaction.set_onabort(None);
    }
}

/// Waits for a request's result. Only reads are waited for; writes report through their
/// transaction.
pub(super) async fn answer(request: &IdbRequest) -> Result<JsValue, Trouble> {
    let (promise, succeed, fail) = promise();
    let on_success = Handler::new({
        let request = request.clone();
        move |_| settle(&succeed, &request.result().unwrap_or(JsValue::UNDEFINED))
    });
    let on_error = Handler::new({
        let request = request.clone();
        move |_| {
            let error = request.error().ok().flatten().map(JsValue::from);
            settle(&fail, &error.unwrap_or_else(|| JsValue::from_str("the request failed")));
        }
    });
    request.set_onsuccess(Some(on_success.as_ref().unchecked_ref()));
    request.set_onerror(Some(on_error.as_ref().unchecked_ref()));
    let result = within(&promise).await;
    request.set_onsuccess(None);
    request.set_onerror(None);
    Ok(result?)
}

/// Waits for one JSON text and reads it; `None` when nothing stands there.
pub(super) async fn read<T: DeserializeOwned>(request: &IdbRequest) -> Result<Option<T>, Trouble> {
    match answer(request).await?.as_string() {
        Some(text) => {
            serde_json::from_str(&text).map(Some).map_err(|e| Trouble::own(e.to_string()))
        }
        None => Ok(None),
    }
}

/// Waits for all JSON texts of a list and reads them, each as far as it can be read.
pub(super) async fn read_all<T: DeserializeOwned>(request: &IdbRequest) -> Result<Vec<T>, Trouble> {
    let values: js_sys::Array = answer(request).await?.dyn_into()?;
    values
        .iter()
        .map(|value| {
            let text = value.as_string().unwrap_or_default();
            serde_json::from_str(&text).map_err(|error| Trouble::own(error.to_string()))
        })
        .collect()
}

/// A value as JSON text.
pub(super) fn text(value: &impl Serialize) -> Result<JsValue, Trouble> {
    serde_json::to_string(value)
        .map(|text| JsValue::from_str(&text))
        .map_err(|error| Trouble::own(error.to_string()))
}

/// `promise`, broken when the browser's storage stays silent.
fn within(promise: &js_sys::Promise) -> JsFuture {
    let deadline = js_sys::Promise::new(&mut |_, reject| {
        let silent = js_sys::Error::new("the browser's storage does not answer");
        silent.set_name("UnknownError");
        let set = js::window()
            .set_timeout_with_callback_and_timeout_and_arguments_1(&reject, SILENT_MS, &silent);
        debug_assert!(set.is_ok(), "a timer can always be set");
    });
    JsFuture::from(js_sys::Promise::race(&js_sys::Array::of2(promise, &deadline)))
}

/// A promise with what keeps and what breaks it.
fn promise() -> (js_sys::Promise, js_sys::Function, js_sys::Function) {
    let mut ends = None;
    let promise = js_sys::Promise::new(&mut |resolve, reject| ends = Some((resolve, reject)));
    let (resolve, reject) = ends.expect("a promise hands its two ends over at once");
    (promise, resolve, reject)
}

fn settle(end: &js_sys::Function, value: &JsValue) {
    let settled = end.call1(&JsValue::UNDEFINED, value);
    debug_assert!(settled.is_ok(), "settling a promise throws nothing");
}
