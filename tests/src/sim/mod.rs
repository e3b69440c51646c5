//! The exchange under every fault: a deterministic simulation.
//!
//! **Context.** A bin once called kept is never lost, never doubled, and seen alike by everyone.
//! Tests of single accidents cannot show that: what hurts is one accident on top of another.
//!
//! **Design.** A [`Case`] is data: what people do, what goes wrong, and the fate of each call. Two
//! streams of random numbers make it (the plan and the faults), so that a change of one leaves the
//! other alone. [`run`] lives it in virtual time: every device runs the real
//! `shared_types::engine` over a disk in memory, and the house runs the server's own admission,
//! joining and reading (`server::exchange`, `server::join`) over its own tables in SQLite. Messages
//! travel as the bytes they are on the wire. Nothing here looks at a real clock, and one case gives
//! one trace. After twelve hours everything is calm: devices are opened and updated, the network
//! works, and all must come to rest.
//!
//! **Faults.** Calls: dropped, dropped after the commit, doubled, reordered, delayed, broken off
//! either way, a server that dies before or after the commit, one that is stopping or panics.
//! Devices: no network, killed before or between commit and send, disk full, storage emptied with
//! the app open or closed, lost for good, copied, clocks off by days, an app that never was updated and later is,
//! a second tab, shut out. Server: plug pulled, disk full, restored from an older copy with a new
//! epoch, an older file copied back by hand, a log no longer sent row by row, rude clients.
//!
//! **Laws** (`laws`). At rest all devices have one book, equal to the fold of the log; the log is
//! exactly what was ever on a device's disk, dense in each device's order, but for what every holder
//! of it lost, which is counted; a disk folds to the same book as memory, a snapshot and its tail as
//! the whole; the pairs that may be one bin are the same everywhere. All along: what was
//! acknowledged survives the plug; "kept" is on the disk; what waits on a device is shown on it;
//! the way to rest takes a bounded number of exchanges.
//!
//! **Planted faults** ([`Sabotage`]) show that the laws bite: each of six must be found within the
//! quick run's cases. They sit at the seams of this simulation, never in the product.
//!
//! **A failing case** is made smaller by [`shrink()`] and written as Rust by [`Case::as_test`], to
//! be kept below `tests/tests/regressions`.
//!
//! **Not yet.** A disk that lies: bytes flipped, or written out of order.

mod case;
mod deeds;
mod device;
mod laws;
mod net;
mod report;
mod rude;
mod sabotage;
mod server;
mod shrink;
mod troubles;
mod world;

use std::fmt;
use std::panic::{AssertUnwindSafe, catch_unwind};

pub use case::{Case, Do, Fate, Step, Trouble, What};
pub use report::Report;
pub use sabotage::Sabotage;
pub use shrink::shrink;

/// A law that does not hold, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Broken(pub String);

impl fmt::Display for Broken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Lives `case` to its end. The same case gives the same report, to the trace.
///
/// # Errors
/// With the law that broke; a panic of the product is one.
pub fn run(case: &Case, sabotage: Sabotage) -> Result<Report, Broken> {
    let live = AssertUnwindSafe(|| world::World::new(case, sabotage).live());
    catch_unwind(live).unwrap_or_else(|panic| {
        let words = panic.downcast_ref::<String>().cloned();
        let words = words.or_else(|| panic.downcast_ref::<&str>().map(|s| (*s).to_owned()));
        Err(Broken(format!("panicked: {}", words.unwrap_or_default())))
    })
}

/// The cases of the quick run: seeds and devices.
pub fn quick() -> impl Iterator<Item = (u64, usize)> {
    let of = |devices: usize, seeds: u64| (0..seeds).map(move |seed| (seed, devices));
    of(2, 40).chain(of(5, 12)).chain(of(12, 3))
}
