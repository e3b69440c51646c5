//! The golden vectors as a library that a browser can load without any glue.
//!
//! `report()` returns the address of the text, `report_len()` its length, in the module's memory.
//! The native build of this example is not used; the `tests` crate calls `check` directly.

// A C interface is the one thing a bare wasm module can offer.
#![allow(unsafe_code, missing_docs)]

mod check;

use std::sync::OnceLock;

fn text() -> &'static str {
    static TEXT: OnceLock<String> = OnceLock::new();
    TEXT.get_or_init(check::report)
}

#[unsafe(no_mangle)]
pub extern "C" fn report() -> *const u8 {
    text().as_ptr()
}

#[unsafe(no_mangle)]
pub extern "C" fn report_len() -> usize {
    text().len()
}
