//! Randomness from the browser.

use super::js;

/// Ten random bytes, as a new name needs.
pub fn bytes() -> [u8; 10] {
    let mut bytes = [0; 10];
    js::window()
        .crypto()
        .and_then(|crypto| crypto.get_random_values_with_u8_array(&mut bytes))
        .expect("every browser that runs wasm has random values");
    bytes
}
