//! The figures of the exchange: `cargo run --release -p tests --bin bench_exchange`.
//!
//! Nothing here is asserted. The convergence of eight phones stands in `bench`.

#![expect(clippy::print_stdout, reason = "its output is what it is for")]
#![expect(clippy::disallowed_methods, reason = "a benchmark measures time")]

use std::path::PathBuf;
use std::time::{Duration, Instant};

use tests::converge::converge;
use tests::house::{House, free_port};
use tests::phone::Phone;
use tests::wire_between::{Wire, lay};

/// A home network's far corner, or a phone on mobile data: 100 ms there and back, 2 in 100 lost.
const POOR: Wire = Wire { one_way: Duration::from_millis(50), loss_percent: 2 };

fn program() -> PathBuf {
    let here = std::env::current_exe().expect("this program is a file");
    here.with_file_name("house")
}

#[tokio::main(flavor = "multi_thread", worker_threads = 2)]
async fn main() {
    println!(
        "one run, this machine, {} profile",
        if cfg!(debug_assertions) { "DEV" } else { "release" }
    );
    bytes_on_the_wire().await;
    for (phones, bins, wire, words) in [
        (50, 200, Wire::default(), "loopback"),
        (8, 1_000, POOR, "100 ms round trip, 2 % loss"),
        (50, 200, POOR, "100 ms round trip, 2 % loss"),
    ] {
        let data = tempfile::tempdir().expect("a folder");
        let house = House::start(&program(), data.path(), free_port()).await.expect("starts");
        let (url, _) = lay(&house.url, wire).await;
        let seen = converge(&house, &url, phones, bins).await;
        println!(
            "{phones} phones x {bins} entries, {words}: all pushed {:.0} ms, all converged {:.0} ms, alike: {}",
            seen.pushed_ms, seen.converged_ms, seen.alike
        );
        let kib = house.resident_kib().await.expect("Linux");
        println!("  server's resident memory after it: {:.1} MB", kib as f64 / 1024.0);
    }
    for (wire, words) in [(Wire::default(), "loopback"), (POOR, "100 ms round trip, 2 % loss")] {
        long_offline(wire, words).await;
    }
}

/// One phone pushes a day's picking, another reads it.
async fn bytes_on_the_wire() {
    const BINS: u32 = 2_000;
    let data = tempfile::tempdir().expect("a folder");
    let house = House::start(&program(), data.path(), free_port()).await.expect("starts");
    let (url, passed) = lay(&house.url, Wire::default()).await;
    let (mut writer, mut reader) = (Phone::new(1, &url), Phone::new(2, &url));
    writer.join(&house.code).await.expect("joins");
    reader.join(&house.code).await.expect("joins");
    for bin in 0..BINS {
        writer.keep_bin(bin, i64::from(bin) + 100);
    }
    passed.take();
    assert!(writer.exchange().await, "the house answers");
    let (up, echoes) = passed.take();
    assert!(reader.exchange().await, "the house answers");
    let (_, down) = passed.take();
    let each = |bytes: u64| bytes as f64 / f64::from(BINS);
    println!(
        "bytes on the wire an entry, headers included, {BINS} bins: up {:.0} (its echo {:.0}), down {:.0}",
        each(up),
        each(echoes),
        each(down)
    );
}

/// A phone comes back after a season with 5,000 entries, to a log that has grown by 10,000.
async fn long_offline(wire: Wire, words: &str) {
    let data = tempfile::tempdir().expect("a folder");
    let house = House::start(&program(), data.path(), free_port()).await.expect("starts");
    let (mut others, (url, _)) = (Phone::new(1, &house.url), lay(&house.url, wire).await);
    let mut away = Phone::new(2, &url);
    others.join(&house.code).await.expect("joins");
    away.join(&house.code).await.expect("joins");
    for bin in 0..10_000 {
        others.keep_bin(bin, 9_400);
    }
    assert!(others.exchange().await, "the house answers");
    for bin in 0..5_000 {
        away.keep_bin(bin, 4_700);
    }
    let (began, calls) = (Instant::now(), away.calls);
    assert!(away.exchange().await, "the house answers");
    let seconds = began.elapsed().as_secs_f64();
    assert_eq!(away.engine.status().unsent, 0, "all is sent");
    println!(
        "back after a season with 5000 entries, 10000 new ones waiting, {words}: {seconds:.2} s, {} exchanges",
        away.calls - calls
    );
}
