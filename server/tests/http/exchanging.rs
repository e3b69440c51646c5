//! Exchanges, refusals of them, and the live stream.

use std::sync::Arc;

use reqwest::{Method, Response};
use serde_json::{Value, json};
use shared_types::ids::EpochId;
use shared_types::units::Millis;
use shared_types::wire::limits::{
    BATCH_MAX_ENTRIES, BODY_MAX_BYTES, CLOCK_AHEAD_MAX_MS, DAY_OF_PICKING,
};
use shared_types::wire::{
    Announcement, Content, ExchangeReply, OLDEST, RefusalCode, Snapshot, VERSION,
};

use crate::support::{House, Phone, Refused, answer, refused};

/// The log as a phone has read it, its own entries put in for their stubs.
fn whole(phone: &Phone) -> Vec<shared_types::entry::Entry> {
    let whole = |content: &Content| match content {
        Content::Entry(entry) => entry.clone(),
        Content::Own(device_seq) => phone.entry(*device_seq),
    };
    phone.read.iter().map(whole).collect()
}

#[tokio::test]
async fn two_phones_converge() {
    let house = House::new().await;
    let (mut one, mut other) = (house.phone(1).await, house.phone(2).await);
    for n in (1..=90).step_by(10) {
        one.exchange(&house, one.entries(n..=n + 9)).await.unwrap();
        let reply = other.exchange(&house, other.entries(n..=n + 9)).await.unwrap();
        assert_eq!(reply.acked, n + 9);
    }
    one.read_all(&house).await;
    other.read_all(&house).await;
    assert_eq!(one.digest, other.digest);
    assert_eq!(whole(&one), whole(&other));
    assert_eq!(one.read.len(), 180);
}

#[tokio::test]
async fn a_day_of_picking_moves_in_four_round_trips() {
    let house = House::new().await;
    let mut phone = house.phone(1).await;
    let all = phone.entries(1..=DAY_OF_PICKING as u64);
    for batch in all.chunks(DAY_OF_PICKING / 4) {
        phone.exchange(&house, batch.to_vec()).await.unwrap();
    }
    assert_eq!((phone.round_trips, phone.read.len()), (4, DAY_OF_PICKING));
}

#[tokio::test]
async fn what_was_acknowledged_outlives_the_server() {
    let house = House::new().await;
    let mut phone = house.phone(1).await;
    phone.exchange(&house, phone.entries(1..=5)).await.unwrap();
    let house = house.restart().await;
    let mut other = house.phone(2).await;
    other.read_all(&house).await;
    assert_eq!(whole(&other), phone.entries(1..=5));
    let reply = phone.exchange(&house, phone.entries(4..=6)).await.unwrap();
    assert_eq!((reply.acked, reply.rows.len()), (6, 1));
}

#[tokio::test]
async fn the_log_knows_its_own() {
    let house = House::new().await;
    let mut phone = house.phone(1).await;
    phone.exchange(&house, phone.entries(1..=3)).await.unwrap();
    let epoch = house.store.epoch();

    let other = EpochId::new(Millis(1), [1; 10]);
    let mut elsewhere = Phone { epoch: Some(other), ..phone.clone() };
    let push = elsewhere.exchange(&house, phone.entries(4..=4)).await;
    assert_eq!(refused(push), RefusalCode::EpochChanged { epoch });

    let mut ahead = Phone { cursor: 9, ..phone.clone() };
    let push = ahead.exchange(&house, phone.entries(4..=4)).await;
    assert_eq!(refused(push), RefusalCode::CursorAhead { latest: 3 });

    house.store.keep_from(3).await.unwrap();
    let mut behind = Phone { cursor: 1, ..phone.clone() };
    let push = behind.exchange(&house, phone.entries(4..=4)).await;
    assert_eq!(refused(push), RefusalCode::CursorExpired { oldest: 3 });

    let reply = phone.exchange(&house, vec![]).await.unwrap();
    assert_eq!((reply.acked, reply.cursor), (3, 3), "nothing of the refused ones was kept");

    let snapshot: Snapshot = behind.get(&house, "/api/v1/snapshot").await.unwrap();
    assert_eq!((snapshot.epoch, snapshot.seq, snapshot.own), (epoch, 3, 3));
    assert_eq!(snapshot.digest, phone.digest);
    behind.cursor = snapshot.seq;
    behind.digest = snapshot.digest;
    let reply = behind.exchange(&house, phone.entries(4..=4)).await.unwrap();
    assert_eq!(reply.acked, 4, "and goes on from there");
}

#[tokio::test]
async fn a_batch_that_cannot_be_admitted_says_why() {
    let house = House::new().await;
    let mut phone = house.phone(1).await;
    let gap = phone.exchange(&house, phone.entries(2..=3)).await;
    assert_eq!(refused(gap), RefusalCode::Gap { expected: 1 });

    let mut ahead = phone.entry(1);
    ahead.hlc.0 = server::clock::now().plus(CLOCK_AHEAD_MAX_MS + Millis(60_000).0);
    let ahead = refused(phone.exchange(&house, vec![ahead]).await);
    assert!(matches!(ahead, RefusalCode::ClockAhead { stored_through: 0, .. }), "{ahead:?}");

    let mut long = phone.entry(1);
    long.kind = "x".repeat(shared_types::wire::limits::ENTRY_MAX_BYTES);
    let long = phone.exchange(&house, vec![long]).await;
    assert_eq!(refused(long), RefusalCode::EntryTooLarge { device_seq: 1 });

    let mut stranger = house.phone(2).await;
    let theirs = stranger.exchange(&house, phone.entries(1..=1)).await;
    assert_eq!(refused(theirs), RefusalCode::DeviceMismatch);

    let many = phone.exchange(&house, phone.entries(1..=501)).await;
    assert_eq!(refused(many), RefusalCode::BatchTooLarge);
}

#[tokio::test]
async fn versions_and_bodies_that_do_not_fit() {
    let house = House::new().await;
    let phone = house.phone(1).await;
    let send = |body: String| {
        let request = house.request(Method::POST, "/api/v1/exchange").bearer_auth(&phone.token);
        answer::<ExchangeReply>(request.body(body))
    };
    let newer = send(json!({"v": VERSION + 1, "from": "the future"}).to_string()).await;
    assert_eq!(refused(newer), RefusalCode::ServerTooOld { newest: VERSION });
    let older = send(json!({"v": OLDEST - 1}).to_string()).await;
    assert_eq!(refused(older), RefusalCode::AppTooOld { oldest: OLDEST });
    let RefusalCode::Malformed { reason } = refused(send("{\"v\": 1,\n 7}".into()).await) else {
        panic!("read")
    };
    assert!(reason.contains("line 2 column 2"), "{reason}");
    let large = refused(send("x".repeat(BODY_MAX_BYTES + 1)).await);
    assert_eq!(large, RefusalCode::BatchTooLarge);
    let huge = refused(send("x".repeat(3 * BODY_MAX_BYTES)).await);
    assert_eq!(huge, RefusalCode::BatchTooLarge);
    assert!(send(json!({"v": VERSION}).to_string()).await.is_ok());
}

#[tokio::test]
async fn what_does_not_exist_is_a_refusal_too() {
    let house = House::new().await;
    for (method, path) in [
        (Method::GET, "/api/v1/nothing"),
        (Method::GET, "/api/v2/hello"),
        (Method::GET, "/api"),
        (Method::GET, "/api/"),
        (Method::GET, "/api/v1/exchange"),
        (Method::DELETE, "/api/v1/hello"),
    ] {
        let answer: Result<Value, Refused> = answer(house.request(method.clone(), path)).await;
        assert_eq!(refused(answer), RefusalCode::NotFound, "{method} {path}");
    }
}

/// The next announcement of a live stream; `None` when it has ended.
async fn announced(stream: &mut Response) -> Option<Announcement> {
    loop {
        let chunk = stream.chunk().await.unwrap()?;
        let text = std::str::from_utf8(&chunk).unwrap();
        if let Some(data) = text.strip_prefix("data: ") {
            return Some(serde_json::from_str(data.trim()).unwrap());
        }
        assert!(text.starts_with(':'), "an event, or a sign of life: {text}");
    }
}

async fn listen(house: &House, phone: &Phone) -> Response {
    let stream = house.request(Method::GET, "/api/v1/live").bearer_auth(&phone.token);
    let stream = stream.send().await.unwrap();
    assert_eq!(stream.headers()["content-type"], "text/event-stream");
    stream
}

#[tokio::test]
async fn the_live_stream_tells_of_growth_and_ends_with_the_server() {
    let house = House::new().await;
    let (mut one, other) = (house.phone(1).await, house.phone(2).await);
    let epoch = house.store.epoch();
    let mut stream = listen(&house, &other).await;
    assert_eq!(announced(&mut stream).await, Some(Announcement { epoch, seq: 0 }));
    one.exchange(&house, one.entries(1..=3)).await.unwrap();
    assert_eq!(announced(&mut stream).await, Some(Announcement { epoch, seq: 3 }));
    one.exchange(&house, one.entries(1..=3)).await.unwrap();
    one.exchange(&house, one.entries(4..=4)).await.unwrap();
    assert_eq!(announced(&mut stream).await, Some(Announcement { epoch, seq: 4 }));
    let mut late = listen(&house, &one).await;
    assert_eq!(announced(&mut late).await, Some(Announcement { epoch, seq: 4 }));
    house.stop().await;
    assert_eq!(announced(&mut stream).await, None);
    assert_eq!(announced(&mut late).await, None);

    let house = House::new().await;
    let stranger = house.request(Method::GET, "/api/v1/live");
    assert_eq!(refused(answer::<Value>(stranger).await), RefusalCode::TokenUnknown);
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn eight_phones_at_once_agree_on_every_entry() {
    let house = Arc::new(House::new().await);
    let mut phones = Vec::new();
    for n in 1..=8 {
        phones.push(house.phone(n).await);
    }
    let (each, together) = (1000, 8 * 1000);
    let picking = phones.into_iter().map(|mut phone| {
        let house = house.clone();
        tokio::spawn(async move {
            for batch in phone.entries(1..=each).chunks(BATCH_MAX_ENTRIES) {
                phone.exchange(&house, batch.to_vec()).await.unwrap();
            }
            let mut latest = house.store.latest();
            latest.wait_for(|seq| *seq == together).await.unwrap();
            phone.read_all(&house).await;
            phone
        })
    });
    let mut done = Vec::new();
    for phone in picking.collect::<Vec<_>>() {
        done.push(phone.await.unwrap());
    }
    for phone in &done {
        assert_eq!(phone.cursor, together);
        assert_eq!(phone.digest, done[0].digest);
        assert_eq!(whole(phone), whole(&done[0]));
    }
}
