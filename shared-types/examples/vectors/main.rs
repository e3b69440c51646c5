//! The golden vectors as a library that a browser can load without any glue.
//!
//! `report()` returns the address of the text, `report_len()` its length, in the module's memory.
//! `forecast_work()` and `learning_work()` do what is timed natively by the example `ripening`; the
//! caller takes the time.
//! The native build of this example is not used; the `tests` crate calls `check` directly.

// A C interface is the one thing a bare wasm module can offer.
#![allow(unsafe_code, missing_docs)]

mod check;
#[path = "../ripening/work.rs"]
mod work;

use std::sync::OnceLock;

use shared_types::trade::ripening::LotInput;

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

/// 1,000 lots × 60 days: in four rooms (0), each in its own with twenty temperatures (1), in four
/// with readings (2). The lots are made on the first call of each.
#[unsafe(no_mangle)]
pub extern "C" fn forecast_work(rooms: u32) -> i64 {
    static LOTS: OnceLock<[Vec<LotInput>; 3]> = OnceLock::new();
    let kinds = [work::Rooms::Four, work::Rooms::OwnSteps, work::Rooms::FourLogged];
    let lots = LOTS.get_or_init(|| kinds.map(work::lots));
    work::run(&lots[rooms.min(2) as usize])
}

/// Learning from so many rounds of four varieties.
#[unsafe(no_mangle)]
pub extern "C" fn learning_work(rounds: u32) -> i64 {
    work::run_learning(&work::season(rounds as usize))
}
