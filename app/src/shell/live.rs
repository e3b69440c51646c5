//! The stream on which the server announces that the log grew.
//!
//! Read with `fetch` and not `EventSource`, which cannot send the token. The server tells where the
//! log ends as soon as the stream opens, so a reconnect also catches up.

use shared_types::wire::Announcement;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{AbortController, AbortSignal, ReadableStreamDefaultReader};

use super::{http, js};

/// A stream silent for this long is dead: the server sends a comment far more often.
const SILENT_MS: i32 = 60_000;

/// First and longest pause before the stream is opened again.
const PAUSE_FIRST_MS: i32 = 2_000;
const PAUSE_MAX_MS: i32 = 60_000;

/// A stream being read; stops when dropped.
#[derive(Debug)]
pub struct Live(AbortController);

impl Live {
    /// Reads the stream and opens it again whenever it ends. `None` in a browser that cannot stop
    /// it again; the exchange then goes by its own clock.
    pub fn start(token: String, announced: impl Fn(Announcement) + 'static) -> Option<Self> {
        let controller = AbortController::new().ok()?;
        let signal = controller.signal();
        wasm_bindgen_futures::spawn_local(async move {
            let mut pause = PAUSE_FIRST_MS;
            while !signal.aborted() {
                let heard = listen(&token, &signal, &announced).await;
                pause = if heard { PAUSE_FIRST_MS } else { (pause * 2).min(PAUSE_MAX_MS) };
                js::pause(pause).await;
            }
        });
        Some(Self(controller))
    }
}

impl Drop for Live {
    fn drop(&mut self) {
        self.0.abort();
    }
}

/// Reads one stream to its end; whether anything was heard. Why it ended is of no interest: the
/// exchange meets the same network and the same server, and tells.
async fn listen(token: &str, signal: &AbortSignal, announced: &impl Fn(Announcement)) -> bool {
    let mut heard = false;
    let mut lines = Lines::default();
    let read = async {
        let response = http::send("GET", "/api/v1/live", None, Some(token), Some(signal)).await?;
        let body = response.body().filter(|_| response.ok()).ok_or(JsValue::NULL)?;
        let reader: ReadableStreamDefaultReader = body.get_reader().dyn_into()?;
        loop {
            let chunk = next(&reader).await?;
            if js::property(&chunk, "done").is_some_and(|done| done.is_truthy()) {
                return Ok::<_, JsValue>(());
            }
            let bytes: js_sys::Uint8Array =
                js_sys::Reflect::get(&chunk, &"value".into())?.dyn_into()?;
            heard = true;
            lines.push(&bytes.to_vec()).into_iter().for_each(announced);
        }
    };
    let _ended = read.await;
    heard
}

/// The next chunk, or an error when the stream has gone silent.
async fn next(reader: &ReadableStreamDefaultReader) -> Result<JsValue, JsValue> {
    let either = js_sys::Array::of2(&reader.read(), &js::pause_promise(SILENT_MS));
    let chunk = JsFuture::from(js_sys::Promise::race(&either)).await?;
    if chunk.is_undefined() {
        let cancelled = JsFuture::from(reader.cancel()).await;
        return Err(cancelled.err().unwrap_or(JsValue::NULL));
    }
    Ok(chunk)
}

/// Puts server-sent events together from pieces.
#[derive(Debug, Default)]
struct Lines {
    /// A line not yet ended.
    rest: Vec<u8>,
}

impl Lines {
    /// The announcements that `bytes` complete. Comments and what cannot be read are passed over.
    fn push(&mut self, bytes: &[u8]) -> Vec<Announcement> {
        self.rest.extend_from_slice(bytes);
        let Some(end) = self.rest.iter().rposition(|byte| *byte == b'\n') else {
            return Vec::new();
        };
        let after = self.rest.split_off(end + 1);
        let whole = std::mem::replace(&mut self.rest, after);
        whole
            .split(|byte| *byte == b'\n')
            .filter_map(|line| line.strip_prefix(b"data:"))
            .filter_map(|data| serde_json::from_slice(data).ok())
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use shared_types::ids::EpochId;
    use shared_types::units::Millis;

    use super::*;

    #[test]
    fn announcements_come_in_any_pieces() {
        let epoch = EpochId::new(Millis(1), [7; 10]);
        let text = format!(
            ": keep\n\ndata: {{\"epoch\":\"{epoch}\",\"seq\":4}}\n\ndata:{{\"epoch\":\"{epoch}\",\"seq\":9}}\r\n\r\n"
        );
        for size in [1, 2, 7, 1000] {
            let mut lines = Lines::default();
            let heard: Vec<u64> = text
                .as_bytes()
                .chunks(size)
                .flat_map(|piece| lines.push(piece))
                .map(|announcement| announcement.seq)
                .collect();
            assert_eq!(heard, [4, 9], "pieces of {size}");
        }
    }
}
