//! A short shake that says "kept". Not every phone has it; the screen says the same in words.

use super::js;

/// Long enough to be felt through a glove.
const KEPT_MS: u32 = 80;

/// Shakes once, where the phone can.
pub fn kept() {
    let navigator = js::window().navigator();
    if js::property(&navigator, "vibrate").is_some() {
        navigator.vibrate_with_duration(KEPT_MS);
    }
}
