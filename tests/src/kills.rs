//! The plug is pulled on the real server again and again while phones push. What it acknowledged
//! must be there when it comes back, and nothing may be there twice.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use oorandom::Rand64;
use shared_types::engine::Notice;

use crate::house::{House, free_port};
use crate::phone::Phone;

const PHONES: u8 = 3;

/// Bins between exchanges: enough that a kill falls into the middle of a push.
const BINS_A_PUSH: u32 = 40;

/// What was seen while it was killed.
#[derive(Clone, Copy, Debug)]
pub struct Seen {
    /// Entries in the log at the end.
    pub entries: usize,
    /// Calls that met a kill.
    pub lost_calls: u32,
}

/// Kills a server under the load of three phones `kills` times and looks at what is left.
///
/// # Errors
/// With what was lost, doubled, or noticed that should not be.
///
/// # Panics
/// When the machine cannot start the program or a phone's task fails.
pub async fn kill_under_load(program: &Path, kills: u32) -> Result<Seen, String> {
    let data = tempfile::tempdir().expect("a folder");
    let port = free_port();
    let mut house = House::start(program, data.path(), port).await.expect("starts");
    let over = Arc::new(AtomicBool::new(false));
    let mut working = Vec::new();
    for n in 1..=PHONES {
        let mut phone = Phone::new(n, &house.url);
        phone.join(&house.code).await.map_err(|refusal| refusal.message)?;
        working.push(tokio::spawn(work(phone, Arc::clone(&over))));
    }

    // Moments between kills: 2 to 40 ms, the same in every run.
    let mut moments = Rand64::new(7);
    for _ in 0..kills {
        tokio::time::sleep(Duration::from_millis(moments.rand_range(2..41))).await;
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
    for _ in 0..2 {
        for phone in &mut phones {
            if !phone.exchange().await {
                return Err("the last exchange was lost".into());
            }
        }
    }
    let entries = look(&phones, data.path())?;
    Ok(Seen { entries, lost_calls })
}

fn look(phones: &[Phone], data: &Path) -> Result<usize, String> {
    let log = rusqlite_log(data);
    let unique: BTreeSet<_> = log.iter().copied().collect();
    if unique.len() != log.len() {
        return Err(format!("{} rows for {} entries", log.len(), unique.len()));
    }
    let mut kept = 0;
    for phone in phones {
        kept += phone.kept.len();
        let unsent = phone.engine.status().unsent;
        if unsent > 0 {
            return Err(format!("phone {} still has {unsent} unsent", phone.n));
        }
        if phone.engine.confirmed() != phones[0].engine.confirmed() {
            return Err(format!("phone {} has another book", phone.n));
        }
        // A server that had lost something acknowledged would have shown itself by one of these.
        let alarms = [Notice::Diverged, Notice::OtherServer, Notice::Forked];
        if let Some(alarm) = phone.told.iter().find(|notice| alarms.contains(notice)) {
            return Err(format!("phone {} was told {alarm:?}", phone.n));
        }
    }
    match log.len() {
        entries if entries == kept => Ok(entries),
        entries => Err(format!("{kept} were kept, {entries} are there")),
    }
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
