//! The store with its threads, on a real disk.

use std::task::{Context, Waker};

use serde_json::value::RawValue;
use shared_types::entry::{DeviceSeq, Entry};
use shared_types::hlc::Hlc;
use shared_types::ids::PersonId;
use shared_types::wire::{ExchangeReply, VERSION};

use super::*;

const NOW: Millis = Millis(1_800_000_000_000);

struct Fixture {
    store: Store,
    config: DataConfig,
    _dir: tempfile::TempDir,
}

fn open() -> Fixture {
    let dir = tempfile::tempdir().unwrap();
    let config = DataConfig { dir: dir.path().to_owned(), ..DataConfig::default() };
    let store = Store::open(&config, EpochId::new(NOW, [1; 10])).unwrap();
    Fixture { store, config, _dir: dir }
}

fn device() -> Device {
    Device {
        device: DeviceId::new(NOW, [1; 10]),
        person: PersonId::new(NOW, [1; 10]),
        name: "Ida".into(),
        role: Role::Helper,
        enrolled: NOW,
        seen: None,
        revoked: None,
        renewed_from: None,
    }
}

fn request(from: DeviceSeq, length: u64, payload_bytes: usize) -> ExchangeRequest {
    let entries = (from..from + length)
        .map(|device_seq| Entry {
            device: device().device,
            device_seq,
            hlc: Hlc(NOW, 0),
            kind: "note".into(),
            kind_version: 1,
            payload: RawValue::from_string(format!("\"{}\"", "x".repeat(payload_bytes))).unwrap(),
        })
        .collect();
    ExchangeRequest { v: VERSION, epoch: None, cursor: 0, entries }
}

async fn push(store: &Store, request: ExchangeRequest) -> Result<DeviceSeq, RefusalCode> {
    let reply = store.exchange(device(), request, NOW).await;
    let reply = reply.map_err(|error| error.refusal().code)?;
    let reply: ExchangeReply = serde_json::from_slice(&reply.body).unwrap();
    Ok(reply.acked)
}

#[tokio::test]
async fn what_was_acknowledged_is_there_after_opening_again() {
    let Fixture { store, config, _dir } = open();
    let mut latest = store.latest();
    assert_eq!(push(&store, request(1, 3, 10)).await, Ok(3));
    latest.changed().await.unwrap();
    assert_eq!(*latest.borrow(), 3);
    let epoch = store.epoch();
    store.close().await;
    assert_eq!(push(&store, request(4, 1, 10)).await, Err(RefusalCode::Busy), "closed");
    drop((store, latest));

    let store = Store::open(&config, EpochId::new(NOW, [2; 10])).unwrap();
    assert_eq!(store.epoch(), epoch);
    assert_eq!(*store.latest().borrow(), 3);
    assert_eq!(push(&store, request(1, 4, 10)).await, Ok(4));
}

#[tokio::test]
async fn a_full_disk_refuses_and_keeps_nothing_until_there_is_room() {
    let fixture = open();
    let store = &fixture.store;
    assert_eq!(push(store, request(1, 1, 10)).await, Ok(1));
    set_page_limit(store, 30).await;
    assert_eq!(push(store, request(2, 60, 10_000)).await, Err(RefusalCode::StorageFailed));
    assert_eq!(*store.latest().borrow(), 1, "nothing of it is announced");
    assert_eq!(push(store, request(2, 1, 10)).await, Ok(2), "a small one still fits");
    set_page_limit(store, 1_000_000).await;
    assert_eq!(push(store, request(3, 60, 10_000)).await, Ok(62));
}

/// What a full disk does to SQLite, without filling one.
async fn set_page_limit(store: &Store, pages: u32) {
    let set = move |conn: &mut Connection| {
        conn.pragma_update_and_check(None, "max_page_count", pages, |_| Ok(()))?;
        Ok(())
    };
    store.inner.writer.run(set).await.unwrap();
}

#[tokio::test]
async fn a_panic_spoils_only_its_own_request() {
    let fixture = open();
    let store = &fixture.store;
    for _ in 0..3 {
        let written = store.write::<()>(|tx| {
            meta::keep_from(tx, 99)?;
            panic!("on purpose");
        });
        assert!(matches!(written.await, Err(Error::Panicked)));
        let read = store.read::<()>(|_| panic!("on purpose"));
        assert!(matches!(read.await, Err(Error::Panicked)));
    }
    assert_eq!(push(store, request(1, 1, 10)).await, Ok(1));
    let oldest = store.read(|conn| Ok(meta::oldest(conn)?)).await.unwrap();
    assert_eq!(oldest, 1, "what panicked was rolled back");
}

#[tokio::test]
async fn a_push_is_kept_and_announced_though_nobody_waits_for_it() {
    let fixture = open();
    let store = fixture.store.clone();
    let mut latest = store.latest();
    let (started, begin) = std::sync::mpsc::channel();
    let (finish, wait) = std::sync::mpsc::channel::<()>();
    let hold = {
        let store = store.clone();
        tokio::spawn(async move {
            let hold = store.write(move |_| {
                started.send(()).unwrap();
                wait.recv().unwrap();
                Ok(())
            });
            hold.await
        })
    };
    tokio::task::spawn_blocking(move || begin.recv().unwrap()).await.unwrap();
    let mut pushing = Box::pin(store.exchange(device(), request(1, 2, 10), NOW));
    // Polled once, so that the push is handed in; then dropped, as when a phone hangs up.
    assert!(pushing.as_mut().poll(&mut Context::from_waker(Waker::noop())).is_pending());
    drop(pushing);
    finish.send(()).unwrap();
    hold.await.unwrap().unwrap();
    latest.changed().await.unwrap();
    assert_eq!(*latest.borrow(), 2);
}
