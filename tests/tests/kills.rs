//! The plug is pulled on the server again and again while phones push. What it acknowledged must
//! be there when it comes back, and nothing may be there twice.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use shared_types::engine::Notice;
use tests::house::{House, free_port};
use tests::phone::Phone;

const KILLS: u32 = 50;
const PHONES: u8 = 3;
/// Bins between exchanges: enough that a kill falls into the middle of a push.
const BINS_A_PUSH: u32 = 40;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn fifty_kills_lose_nothing_that_was_acknowledged() {
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let data = tempfile::tempdir().expect("a folder");
    let port = free_port();
    let mut house = House::start(program, data.path(), port).await.expect("starts");
    let mut phones = Vec::new();
    for n in 1..=PHONES {
        let mut phone = Phone::new(n, &house.url);
        phone.join(&house.code).await.expect("joins");
        phones.push(phone);
    }

    let over = Arc::new(AtomicBool::new(false));
    let working: Vec<_> =
        phones.into_iter().map(|p| tokio::spawn(work(p, Arc::clone(&over)))).collect();
    let mut moments = Moments(0x9E37_79B9_7F4A_7C15);
    for _ in 0..KILLS {
        tokio::time::sleep(moments.next()).await;
        house.kill().await.expect("is killed");
        house = House::start(program, data.path(), port).await.expect("starts again");
    }
    over.store(true, Ordering::Relaxed);

    let mut phones = Vec::new();
    let mut lost_calls = 0;
    for phone in working {
        let (phone, lost) = phone.await.expect("a phone does not panic");
        phones.push(phone);
        lost_calls += lost;
    }
    assert!(lost_calls > KILLS / 2, "only {lost_calls} calls met a kill; the moments are wrong");
    for _ in 0..2 {
        for phone in &mut phones {
            assert!(phone.exchange().await, "the last exchange is not disturbed");
        }
    }

    let log = rusqlite_log(data.path());
    let unique: BTreeSet<_> = log.iter().copied().collect();
    assert_eq!(unique.len(), log.len(), "nothing is there twice");
    let mut kept_in_all = 0;
    for phone in &phones {
        kept_in_all += phone.kept.len();
        assert_eq!(phone.engine.status().unsent, 0);
        assert_eq!(*phone.engine.confirmed(), *phones[0].engine.confirmed());
        // A server that had lost something acknowledged would have shown itself by one of these.
        let alarms = [Notice::Diverged, Notice::OtherServer, Notice::Forked];
        assert!(!phone.told.iter().any(|notice| alarms.contains(notice)), "{:?}", phone.told);
    }
    assert_eq!(log.len(), kept_in_all, "and everything kept is there");
}

/// Keeps and pushes until told to stop. Says how many calls were lost.
async fn work(mut phone: Phone, over: Arc<AtomicBool>) -> (Phone, u32) {
    let (mut bin, mut lost) = (0, 0);
    while !over.load(Ordering::Relaxed) {
        for _ in 0..BINS_A_PUSH {
            bin += 1;
            phone.keep_bin(bin, i64::from(bin % 900) * 10 + 100);
        }
        while !phone.exchange().await && !over.load(Ordering::Relaxed) {
            lost += 1;
            tokio::time::sleep(Duration::from_millis(3)).await;
        }
    }
    (phone, lost)
}

/// Moments between kills: 2 to 40 ms, the same in every run (Knuth's 64-bit linear congruential
/// generator, MMIX).
struct Moments(u64);

impl Moments {
    fn next(&mut self) -> Duration {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        Duration::from_millis(2 + (self.0 >> 33) % 39)
    }
}

/// The entries in the database file, as (device, device_seq).
fn rusqlite_log(data: &Path) -> Vec<([u8; 16], i64)> {
    let config = server::config::DataConfig { dir: data.to_owned(), ..Default::default() };
    let conn = rusqlite::Connection::open(config.file()).expect("the database opens");
    let mut rows = conn.prepare("select device, device_seq from log order by seq").expect("a log");
    rows.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .expect("reads")
        .collect::<Result<_, _>>()
        .expect("rows of the log")
}
