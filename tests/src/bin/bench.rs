//! The figures, in one run: `cargo run --release -p tests --bin bench`.
//!
//! Nothing here is asserted. Each line says what was measured, and beside it what it is aimed at or
//! compared with.

#![expect(clippy::print_stdout, reason = "its output is what it is for")]
#![expect(clippy::disallowed_methods, reason = "a benchmark measures time")]

use std::path::PathBuf;
use std::time::Instant;

use shared_types::book::Book;
use shared_types::entry::{Entry, EntryId};
use shared_types::hlc::Hlc;
use shared_types::ids::DeviceId;
use shared_types::units::Millis;
use tests::converge::converge;
use tests::house::{House, free_port};
use tests::phone::{Phone, bin_of};

/// The program beside this one.
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
    fold();
    admitted().await;
    eight_converge(8, 1_000).await;
    let (plain, brotli) = wasm_size();
    println!("wasm: {plain} bytes, {brotli} bytes brotli (aim < 350000)");
    let times = tests::bench_tap::run(&program()).await;
    let at = |share: f64| times[((times.len() - 1) as f64 * share).round() as usize];
    println!(
        "tap on Keep to durable and shown, Chromium at 4x slow-down, {} bins on the demo's book: p50 {:.0} ms, p95 {:.0} ms (aim p95 < 50 ms)",
        times.len(),
        at(0.50),
        at(0.95)
    );
}

/// Fold of 100,000 entries, payloads decoded from their bytes.
fn fold() {
    const N: u32 = 100_000;
    let entries: Vec<Entry> = (0..N)
        .map(|i| {
            let id =
                EntryId { device: DeviceId::new(Millis(0), [1; 10]), device_seq: u64::from(i) + 1 };
            let fact = bin_of(1, i, i64::from(i % 9_000) + 100);
            Entry::new(id, Hlc(Millis(i64::from(i)), 0), &fact).expect("small")
        })
        .collect();
    let began = Instant::now();
    let mut book = Book::default();
    for entry in &entries {
        book.fold(entry);
    }
    println!("fold of {N} entries: {:.0} ms (aim < 150 ms)", ms(began));
    let began = Instant::now();
    let again = book.clone();
    println!("copy of that book: {:.1} ms", ms(began));
    let began = Instant::now();
    let total = again.totals(None, shared_types::book::totals::By::Class, None).total;
    println!("totals by class of {:.0} kg: {:.1} ms", total.kg(), ms(began));
}

/// Entries a second from one phone, acknowledged on disk.
async fn admitted() {
    for (bins, a_push) in [(10_000, 500), (300, 1)] {
        let data = tempfile::tempdir().expect("a folder");
        let house = House::start(&program(), data.path(), free_port()).await.expect("starts");
        let mut phone = Phone::new(1, &house.url);
        phone.join(&house.code).await.expect("joins");
        let mut seconds = 0.0;
        for push in 0..bins / a_push {
            for bin in push * a_push..(push + 1) * a_push {
                phone.keep_bin(bin, 9_400);
            }
            let began = Instant::now();
            assert!(phone.exchange().await, "the house answers");
            seconds += ms(began) / 1000.0;
        }
        println!(
            "admitted with an ack on disk, {a_push} a push: {:.0} entries/s ({bins} entries, fold and page of the phone included)",
            f64::from(bins) / seconds
        );
    }
}

/// Phones that picked alone come back and converge.
async fn eight_converge(phones: u8, bins: u32) {
    let data = tempfile::tempdir().expect("a folder");
    let house = House::start(&program(), data.path(), free_port()).await.expect("starts");
    let seen = converge(&house, &house.url, phones, bins).await;
    println!(
        "{phones} phones x {bins} entries over HTTP: all pushed {:.0} ms, all converged {:.0} ms, alike: {} (aim < 500 ms; a general JavaScript offline database: 21000 ms)",
        seen.pushed_ms, seen.converged_ms, seen.alike
    );
    let kib = house.resident_kib().await.expect("Linux");
    println!(
        "server's resident memory after it: {:.1} MB (aim < 40 MB; that database: 170 MB)",
        kib as f64 / 1024.0
    );
}

/// Bytes of the phone's program, plain and brotli.
fn wasm_size() -> (u64, u64) {
    let sizes: serde_json::Value =
        serde_json::from_str(server::assets::SIZES).expect("the build writes JSON");
    let files = sizes["files"].as_object().expect("the files by name");
    let (_, wasm) = files.iter().find(|(name, _)| name.ends_with(".wasm")).expect("a program");
    let bytes = |what: &str| wasm[what].as_u64().expect("a number of bytes");
    (bytes("plain"), bytes("brotli"))
}

fn ms(since: Instant) -> f64 {
    since.elapsed().as_secs_f64() * 1000.0
}
