//! Calls to the server.

use std::cell::Cell;
use std::rc::Rc;

use serde::Serialize;
use serde::de::DeserializeOwned;
use shared_types::wire::Refusal;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{AbortController, AbortSignal, Headers, RequestInit, Response};

use super::js;

/// How long an answer may take before it counts as lost: a page of the log over a weak link.
pub const ANSWER_WITHIN_MS: i32 = 20_000;

/// What came of a call.
#[derive(Clone, Debug)]
pub enum Answer<T> {
    /// What was asked for.
    Ok(T),
    /// The server said no, and why.
    Refused(Refusal),
    /// No network, no server, a broken or late answer; or something in between answered instead.
    Unreachable(String),
}

impl<T> Answer<T> {
    /// The same with another answer.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Answer<U> {
        match self {
            Self::Ok(answer) => Answer::Ok(change(answer)),
            Self::Refused(refusal) => Answer::Refused(refusal),
            Self::Unreachable(reason) => Answer::Unreachable(reason),
        }
    }

    /// The answer, or words for the person.
    pub fn into_result(self) -> Result<T, String> {
        match self {
            Self::Ok(answer) => Ok(answer),
            Self::Refused(refusal) => Err(crate::words::sentence(&refusal.message)),
            Self::Unreachable(reason) => {
                Err(format!("The house could not be reached ({reason}). Try again near it."))
            }
        }
    }
}

/// Asks for `path`.
pub async fn get<T: DeserializeOwned>(path: &str, token: Option<&str>) -> Answer<T> {
    read(call("GET", path, None, token).await)
}

/// Sends `body` to `path`.
pub async fn post<T: DeserializeOwned>(
    path: &str,
    body: &impl Serialize,
    token: Option<&str>,
) -> Answer<T> {
    match serde_json::to_string(body) {
        Ok(body) => read(call("POST", path, Some(body), token).await),
        Err(error) => Answer::Unreachable(format!("the request could not be written: {error}")),
    }
}

/// The status and text of an answer, or why there is none.
async fn call(
    method: &str,
    path: &str,
    body: Option<String>,
    token: Option<&str>,
) -> Result<(u16, String), String> {
    let deadline = Deadline::start(ANSWER_WITHIN_MS);
    let answered = async {
        let response = send(method, path, body, token, deadline.signal().as_ref()).await?;
        let text = JsFuture::from(response.text()?).await?;
        Ok::<_, JsValue>((response.status(), text.as_string().unwrap_or_default()))
    };
    match answered.await {
        Ok(answer) => Ok(answer),
        Err(_) if deadline.is_over() => Err("no answer in time".to_owned()),
        Err(error) => Err(js::error_message(&error)),
    }
}

/// Sends a request and waits for the head of the answer.
pub async fn send(
    method: &str,
    path: &str,
    body: Option<String>,
    token: Option<&str>,
    signal: Option<&AbortSignal>,
) -> Result<Response, JsValue> {
    let headers = Headers::new()?;
    if let Some(token) = token {
        headers.set("authorization", &format!("Bearer {token}"))?;
    }
    let options = RequestInit::new();
    options.set_method(method);
    if let Some(body) = body {
        headers.set("content-type", "application/json")?;
        options.set_body(&body.into());
    }
    options.set_headers(&headers);
    options.set_signal(signal);
    JsFuture::from(js::window().fetch_with_str_and_init(path, &options)).await?.dyn_into()
}

/// Reads an answer. What is neither the answer nor a refusal came from something in between: a
/// proxy, a captive portal; it says nothing about this device and must not stop it.
fn read<T: DeserializeOwned>(answered: Result<(u16, String), String>) -> Answer<T> {
    let (status, text) = match answered {
        Ok(answer) => answer,
        Err(reason) => return Answer::Unreachable(reason),
    };
    if (200..300).contains(&status) {
        // An answer without content is the JSON for nothing.
        let text = if text.is_empty() { "null" } else { &text };
        return match serde_json::from_str(text) {
            Ok(answer) => Answer::Ok(answer),
            Err(error) => Answer::Unreachable(format!("an answer that cannot be read: {error}")),
        };
    }
    match serde_json::from_str::<Refusal>(&text) {
        Ok(refusal) => Answer::Refused(refusal),
        Err(_) => Answer::Unreachable(format!("status {status} from something in between")),
    }
}

/// Ends a call that takes too long.
struct Deadline {
    controller: Option<AbortController>,
    timer: Option<i32>,
    over: Rc<Cell<bool>>,
    _end: Closure<dyn FnMut()>,
}

impl Deadline {
    fn start(ms: i32) -> Self {
        let controller = AbortController::new().ok();
        let over = Rc::new(Cell::new(false));
        let end = Closure::<dyn FnMut()>::new({
            let (controller, over) = (controller.clone(), Rc::clone(&over));
            move || {
                over.set(true);
                if let Some(controller) = &controller {
                    controller.abort();
                }
            }
        });
        let timer = js::window()
            .set_timeout_with_callback_and_timeout_and_arguments_0(end.as_ref().unchecked_ref(), ms)
            .ok();
        Self { controller, timer, over, _end: end }
    }

    fn signal(&self) -> Option<AbortSignal> {
        self.controller.as_ref().map(AbortController::signal)
    }

    fn is_over(&self) -> bool {
        self.over.get()
    }
}

impl Drop for Deadline {
    fn drop(&mut self) {
        if let Some(timer) = self.timer {
            js::window().clear_timeout_with_handle(timer);
        }
    }
}

#[cfg(test)]
mod tests {
    use shared_types::wire::RefusalCode;

    use super::*;

    #[test]
    fn a_page_of_something_in_between_is_no_answer() {
        // Used to be read as "shut out" by programs that look at the status alone.
        for (status, text) in [
            (200, "<html>Log in to the guest network</html>"),
            (401, "<html>Unauthorized</html>"),
            (502, "Bad Gateway"),
            (403, "{\"error\":\"blocked\"}"),
        ] {
            let answer = read::<u32>(Ok((status, text.to_owned())));
            assert!(matches!(answer, Answer::Unreachable(_)), "{status}");
        }
    }

    #[test]
    fn answers_and_refusals() {
        assert!(matches!(read(Ok((200, "7".to_owned()))), Answer::Ok(7)));
        assert!(matches!(read(Ok((204, String::new()))), Answer::Ok(())));
        let refusal = serde_json::to_string(&Refusal::from(RefusalCode::Revoked)).expect("writes");
        match read::<u32>(Ok((401, refusal))) {
            Answer::Refused(refusal) => assert_eq!(refusal.code, RefusalCode::Revoked),
            other => panic!("{other:?}"),
        }
    }
}
