//! When the program breaks: say so, in words, instead of a screen that no longer answers.

use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;
use web_sys::{Document, Element};

use super::{js, worker};

/// From now on a broken invariant ends in a message with a way to go on. What was kept is on the
/// phone's disk, and what is being typed outlives a load (see `screens::pick`).
pub fn explain() {
    std::panic::set_hook(Box::new(|info| {
        web_sys::console::error_1(&info.to_string().into());
        // A page that cannot even be written to stays as it is; the console has the reason.
        let _shown = js::window().document().and_then(|document| show(&document));
    }));
}

fn show(document: &Document) -> Option<()> {
    let panel = element(document, "div", "boot stopped")?;
    panel.set_attribute("role", "alert").ok()?;
    let text = element(document, "p", "")?;
    text.set_text_content(Some(
        "Lugbook stopped working. Everything kept on this phone is still here, and what you were \
         typing too.",
    ));
    let again = element(document, "button", "button primary big")?;
    again.set_text_content(Some("Load again"));
    let load = Closure::<dyn FnMut()>::new(worker::reload);
    again.add_event_listener_with_callback("click", load.as_ref().unchecked_ref()).ok()?;
    load.forget();
    panel.append_child(&text).ok()?;
    panel.append_child(&again).ok()?;
    let body = document.body()?;
    body.insert_before(&panel, body.first_child().as_ref()).ok()?;
    Some(())
}

fn element(document: &Document, name: &str, class: &str) -> Option<Element> {
    let element = document.create_element(name).ok()?;
    element.set_class_name(class);
    Some(element)
}
