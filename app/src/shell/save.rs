//! Handing the person a file, made on the phone.

use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{Blob, BlobPropertyBag, HtmlAnchorElement, Url};

use super::js;

/// The media type of comma-separated text (RFC 7111 §5.1: the header line is there).
pub const CSV: &str = "text/csv;charset=utf-8;header=present";

/// The media type of JSON Lines, as it is commonly written; none is registered.
pub const JSON_LINES: &str = "application/jsonl;charset=utf-8";

/// How long the browser may take to read the text before it is let go.
const KEPT_MS: i32 = 60_000;

/// Saves `text` as a file called `name`, where the browser puts downloads.
///
/// # Errors
/// In words, when the browser does not let a page hand over a file.
pub fn text(name: &str, media_type: &str, text: &str) -> Result<(), String> {
    offer(name, media_type, text).map_err(|error| {
        format!(
            "The file could not be saved ({}). Open this page in the phone's browser and try there.",
            js::error_message(&error)
        )
    })
}

fn offer(name: &str, media_type: &str, text: &str) -> Result<(), JsValue> {
    let options = BlobPropertyBag::new();
    options.set_type(media_type);
    let parts = js_sys::Array::of1(&JsValue::from_str(text));
    let blob = Blob::new_with_str_sequence_and_options(&parts, &options)?;
    let url = Url::create_object_url_with_blob(&blob)?;
    let document = js::window().document().expect("a page has a document");
    let link: HtmlAnchorElement = document.create_element("a")?.unchecked_into();
    link.set_href(&url);
    link.set_download(name);
    link.click();
    wasm_bindgen_futures::spawn_local(async move {
        js::pause(KEPT_MS).await;
        // Fails only for a text that is no URL.
        let let_go = Url::revoke_object_url(&url);
        debug_assert!(let_go.is_ok(), "letting go of {url}");
    });
    Ok(())
}
