//! Keeping the screen awake while picking.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

use super::js;

/// Holds the screen awake as long as it lives. The browser takes the lock away whenever the page is
/// hidden, so it is asked for again each time the page comes back. A browser that has no such lock
/// or refuses it (battery saving) dims as usual.
#[derive(Debug)]
pub struct Awake {
    state: Rc<State>,
}

#[derive(Debug, Default)]
struct State {
    over: Cell<bool>,
    lock: RefCell<Option<JsValue>>,
}

thread_local! {
    /// The lock in force, asked for again when the page comes back.
    static HELD: RefCell<Option<Rc<State>>> = const { RefCell::new(None) };
    static LISTENING: Cell<bool> = const { Cell::new(false) };
}

impl Awake {
    /// Asks for the lock now.
    pub fn hold() -> Self {
        let state = Rc::new(State::default());
        HELD.with_borrow_mut(|held| *held = Some(Rc::clone(&state)));
        if !LISTENING.replace(true)
            && let Some(document) = js::window().document()
        {
            js::listen(&document, "visibilitychange", |_| {
                if let Some(state) = HELD.with_borrow(Clone::clone) {
                    ask(state);
                }
            });
        }
        ask(Rc::clone(&state));
        Self { state }
    }
}

impl Drop for Awake {
    fn drop(&mut self) {
        self.state.over.set(true);
        HELD.with_borrow_mut(|held| {
            held.take_if(|held| Rc::ptr_eq(held, &self.state));
        });
        release(&self.state);
    }
}

fn ask(state: Rc<State>) {
    if state.over.get() || js::window().document().is_none_or(|document| document.hidden()) {
        return;
    }
    let Some(wake_lock) = js::property(&js::window().navigator(), "wakeLock") else { return };
    let Ok(asked) = js::call(&wake_lock, "request", &[&"screen".into()]) else { return };
    wasm_bindgen_futures::spawn_local(async move {
        if let Ok(lock) = JsFuture::from(js_sys::Promise::resolve(&asked)).await {
            *state.lock.borrow_mut() = Some(lock);
            if state.over.get() {
                release(&state);
            }
        }
    });
}

fn release(state: &State) {
    if let Some(lock) = state.lock.take()
        && let Ok(released) = js::call(&lock, "release", &[])
    {
        wasm_bindgen_futures::spawn_local(async move {
            // Releasing a lock the browser already took is no news.
            let _ = JsFuture::from(js_sys::Promise::resolve(&released)).await;
        });
    }
}
