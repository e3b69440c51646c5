//! The disk fails and last week's backup is put in its place: the phones make the season whole.

use std::path::Path;
use std::process::Output;

use tests::house::{House, free_port};
use tests::phone::Phone;
use tokio::process::Command;

/// Runs `lugbook` with `arguments` on the folder and returns what it printed.
async fn lugbook(data: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_house"));
    let (name, rest) = arguments.split_first().expect("a command");
    command.arg(name).arg("--data").arg(data).args(rest).output().await.expect("it runs")
}

fn said(output: &Output) -> String {
    format!(
        "{}{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    )
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_stale_backup_loses_nothing_that_a_phone_has() {
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("data");
    let backup = folder.path().join("last-week.sqlite");
    let backup_name = backup.to_str().expect("a plain name");
    let port = free_port();
    let house = House::start(program, &data, port).await.expect("starts");
    let mut phones = [Phone::new(1, &house.url), Phone::new(2, &house.url)];
    for phone in &mut phones {
        phone.join(&house.code).await.expect("joins");
    }
    phones[0].keep_bin(1, 9_000);
    phones[1].keep_bin(1, 8_000);
    exchange(&mut phones).await;

    // While the server runs.
    let made = lugbook(&data, &["backup", backup_name]).await;
    assert!(made.status.success(), "{}", said(&made));
    assert!(said(&made).contains("2 entries of 2 devices"), "{}", said(&made));
    let again = lugbook(&data, &["backup", backup_name]).await;
    assert!(!again.status.success() && said(&again).contains("there already"), "{}", said(&again));

    for bin in 2..6 {
        phones[0].keep_bin(bin, 7_000);
        phones[1].keep_bin(bin, 6_000);
    }
    exchange(&mut phones).await;
    phones[1].keep_bin(6, 5_000);
    let before = phones[0].engine.confirmed().clone();

    let running = lugbook(&data, &["restore", backup_name]).await;
    assert!(!running.status.success() && said(&running).contains("running"), "{}", said(&running));
    house.kill().await.expect("is killed");
    let restored = lugbook(&data, &["restore", backup_name]).await;
    assert!(restored.status.success(), "{}", said(&restored));
    assert!(said(&restored).contains("replaced-"), "{}", said(&restored));

    let house = House::start(program, &data, port).await.expect("starts again");
    // The second round brings each what the other offered in the first.
    exchange(&mut phones).await;
    exchange(&mut phones).await;
    for phone in &phones {
        assert_eq!(phone.engine.status().unsent, 0);
        assert_eq!(*phone.engine.confirmed(), *phones[0].engine.confirmed());
    }
    let after = phones[0].engine.confirmed();
    assert_eq!(after.bins.len(), 11, "ten that were acknowledged and one that was not yet");
    for (id, bin) in &before.bins {
        assert_eq!(after.bins.get(id).map(|bin| &bin.kept), Some(&bin.kept));
    }
    house.kill().await.expect("is killed");
    let checked = lugbook(&data, &["check", "--json"]).await;
    assert!(checked.status.success(), "{}", said(&checked));
    let health: serde_json::Value = serde_json::from_slice(&checked.stdout).expect("JSON");
    assert_eq!(health["entries"], 11);
    assert_eq!(health["problems"], serde_json::json!([]));
}

async fn exchange(phones: &mut [Phone]) {
    for _ in 0..2 {
        for phone in &mut *phones {
            assert!(phone.exchange().await, "nothing disturbs it");
        }
    }
}

#[tokio::test]
async fn a_changed_row_is_found_and_its_copy_refused() {
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("data");
    let house = House::start(program, &data, free_port()).await.expect("starts");
    let mut phone = Phone::new(1, &house.url);
    phone.join(&house.code).await.expect("joins");
    for bin in 1..4 {
        phone.keep_bin(bin, 9_000);
    }
    assert!(phone.exchange().await);
    house.kill().await.expect("is killed");

    let config = server::config::DataConfig { dir: data.clone(), ..Default::default() };
    let conn = rusqlite::Connection::open(config.file()).expect("opens");
    conn.execute("update log set payload = replace(payload, '9700', '9900') where seq = 2", [])
        .expect("someone edits a weight");
    drop(conn);

    let checked = lugbook(&data, &["check"]).await;
    assert!(!checked.status.success());
    assert!(said(&checked).contains("row 2 of the log was changed"), "{}", said(&checked));
    let copy = folder.path().join("copy.sqlite");
    let made = lugbook(&data, &["backup", copy.to_str().expect("a plain name")]).await;
    assert!(said(&made).contains("cannot be trusted"), "{}", said(&made));
    assert!(!copy.exists(), "what cannot be trusted gets no name");
}
