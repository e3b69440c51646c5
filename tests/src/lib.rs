//! What proves the whole: golden vectors, kills, the browser, and the benchmarks.
//!
//! | what | where |
//! |---|---|
//! | frozen formats, native and over HTTP | `tests/golden.rs` |
//! | `kill -9` of a server in the middle of exchanges | `src/kills.rs`, `tests/kills.rs` |
//! | the exchange under every fault, in virtual time | `src/sim`, `tests/sim.rs`, `src/bin/soak.rs` |
//! | two phones in real Chromium, offline, killed, converging; vectors in wasm | `tests/browser.rs` |
//! | a server whose disk is full | `tests/full_disk.rs` |
//! | figures, printed and never asserted | `src/bin/bench.rs`, `src/bin/bench_exchange.rs` |
//! | a plan in a worker of real Chromium, offline, the same as natively | `tests/planner.rs` |
//! | pictures for README | `src/bin/pictures.rs` |

pub mod bench_tap;
pub mod browser;
pub mod converge;
pub mod golden;
pub mod house;
pub mod kills;
pub mod phone;
pub mod planner;
pub mod sim;
pub mod wire_between;

/// The time of this machine's clock: tests talk to real servers.
#[expect(clippy::disallowed_methods, reason = "the one clock of the tests")]
pub fn now() -> shared_types::units::Millis {
    let since = std::time::SystemTime::now()
        .duration_since(std::time::UNIX_EPOCH)
        .expect("the clock is after 1970");
    shared_types::units::Millis(
        i64::try_from(since.as_millis()).expect("and before the year 292278994"),
    )
}
