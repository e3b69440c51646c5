//! How long ripening takes: `cargo run --release -p shared-types --example ripening`.

// A benchmark reads the clock and prints.
#![allow(clippy::disallowed_methods, clippy::print_stdout, missing_docs)]

mod work;

use std::hint::black_box;
use std::time::Instant;

use work::{DAYS, LOTS, Rooms, lots, run, run_learning, season};

/// Runs of which the middle one is told.
const RUNS: usize = 9;

/// Milliseconds of the middle run.
fn middle(mut work: impl FnMut() -> i64) -> f64 {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let began = Instant::now();
            black_box(work());
            began.elapsed().as_secs_f64() * 1000.0
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[RUNS / 2]
}

fn main() {
    for (name, rooms) in [
        ("in four rooms", Rooms::Four),
        ("each with 20 temperatures of its own", Rooms::OwnSteps),
        ("in four rooms read hourly for 40 days", Rooms::FourLogged),
    ] {
        let lots = lots(rooms);
        let ms = middle(|| run(&lots));
        println!("{LOTS} lots x {DAYS} days, {name}: {ms:.1} ms");
    }
    for rounds in [3, 60, 300] {
        let season = season(rounds);
        let ms = middle(|| run_learning(&season));
        let each = ms / rounds as f64;
        println!(
            "learning from {rounds} rounds of four varieties: {ms:.1} ms, {each:.2} ms a round"
        );
    }
}
