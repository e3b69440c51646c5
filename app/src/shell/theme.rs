//! Light or dark, by the system or by choice.

use serde::{Deserialize, Serialize};
use wasm_bindgen::JsCast as _;

use super::{js, memory};
use memory::Span;

const NAME: &str = "lugbook.theme";

/// What the person chose.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Theme {
    /// As the system.
    #[default]
    Auto,
    /// Paper-light.
    Light,
    /// Soil-dark.
    Dark,
}

/// What was chosen on this phone.
pub fn chosen() -> Theme {
    memory::recall(Span::Lasting, NAME).unwrap_or_default()
}

/// Chooses, for now and for later.
pub fn choose(theme: Theme) {
    memory::remember(Span::Lasting, NAME, &theme);
    show(theme);
}

/// Shows the page in `theme`, and the browser's own bar in the page's ground.
pub fn show(theme: Theme) {
    let Some(document) = js::window().document() else { return };
    let Some(root) = document.document_element() else { return };
    let word = match theme {
        Theme::Auto => None,
        Theme::Light => Some("light"),
        Theme::Dark => Some("dark"),
    };
    let set = match word {
        Some(word) => root.set_attribute("data-theme", word),
        None => root.remove_attribute("data-theme"),
    };
    debug_assert!(set.is_ok(), "an attribute with a valid name");
    let Ok(bars) = document.query_selector_all("meta[name=theme-color]") else { return };
    for index in 0..bars.length() {
        let Some(bar) = bars.get(index).and_then(|node| node.dyn_into::<web_sys::Element>().ok())
        else {
            continue;
        };
        let for_dark = bar.get_attribute("media").is_some_and(|media| media.contains("dark"));
        // --ground of the two themes in style.css.
        let dark = theme == Theme::Dark || (theme == Theme::Auto && for_dark);
        let set = bar.set_attribute("content", if dark { "#15120e" } else { "#faf7ef" });
        debug_assert!(set.is_ok(), "an attribute with a valid name");
    }
}
