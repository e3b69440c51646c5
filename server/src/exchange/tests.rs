//! Batches against a database in memory.

use std::collections::BTreeMap;

use proptest::prelude::*;
use rusqlite::{Connection, TransactionBehavior};
use serde_json::value::RawValue;
use shared_types::entry::{DeviceSeq, Digest, Entry, Seq};
use shared_types::hlc::Hlc;
use shared_types::ids::{DeviceId, PersonId};
use shared_types::wire::limits::{
    BATCH_MAX_BYTES, BATCH_MAX_ENTRIES, CLOCK_AHEAD_MAX_MS, ENTRY_MAX_BYTES, PAGE_MAX_BYTES,
    PAGE_MAX_ENTRIES,
};
use shared_types::wire::{Content, ExchangeReply, Role, VERSION};

use super::*;
use crate::store::open_in_memory;

const NOW: Millis = Millis(CLOCK_PLAUSIBLE_FROM.0 + DAY_MS);

fn database() -> Connection {
    open_in_memory(epoch()).unwrap()
}

fn epoch() -> EpochId {
    EpochId::new(NOW, [9; 10])
}

fn id(n: u8) -> DeviceId {
    DeviceId::new(Millis(0), [n; 10])
}

fn device(n: u8, role: Role) -> Device {
    Device {
        device: id(n),
        person: PersonId::new(Millis(0), [n; 10]),
        name: "Ida".into(),
        role,
        enrolled: NOW,
        seen: None,
        revoked: None,
        renewed_from: None,
    }
}

fn entry(n: u8, device_seq: DeviceSeq) -> Entry {
    with_payload(n, device_seq, format!("{{\"n\": {device_seq} }}"))
}

fn with_payload(n: u8, device_seq: DeviceSeq, payload: String) -> Entry {
    Entry {
        device: id(n),
        device_seq,
        hlc: Hlc(NOW, 3),
        kind: "a \"new\" kind".into(),
        kind_version: 7,
        payload: RawValue::from_string(payload).unwrap(),
    }
}

fn request(cursor: Seq, entries: Vec<Entry>) -> ExchangeRequest {
    ExchangeRequest { v: VERSION, epoch: Some(epoch()), cursor, entries }
}

/// What the store does with a push: commit, or roll back on a refusal.
fn offer(conn: &mut Connection, n: u8, entries: Vec<Entry>) -> Result<Admitted, RefusalCode> {
    let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).unwrap();
    let pushed = push(&tx, &device(n, Role::Helper), &request(0, entries), NOW);
    if pushed.is_ok() {
        tx.commit().unwrap();
    }
    pushed.map_err(|error| error.refusal().code)
}

fn read(conn: &Connection, n: u8, cursor: Seq) -> ExchangeReply {
    let reply = pull(conn, id(n), Some(epoch()), cursor, NOW).unwrap();
    let read: ExchangeReply = serde_json::from_slice(&reply.body).unwrap();
    assert_eq!((read.rows.len(), read.more), (reply.rows, reply.more));
    read
}

#[test]
fn a_push_comes_back_whole_to_others_and_as_stubs_to_its_writer() {
    let mut conn = database();
    let entries =
        vec![entry(1, 1), with_payload(1, 2, "{ \"b\":1.50,\n \"a\":\"\\u00e9\" }".into())];
    let admitted = offer(&mut conn, 1, entries.clone()).unwrap();
    assert_eq!(admitted, Admitted { acked: 2, new: 2, latest: 2 });

    let own = read(&conn, 1, 0);
    assert_eq!((own.acked, own.cursor, own.more, own.server_time), (2, 2, false, NOW));
    assert_eq!(own.epoch, epoch());
    let stubs: Vec<_> = own.rows.iter().map(|row| (row.seq, row.content.clone())).collect();
    assert_eq!(stubs, [(1, Content::Own(1)), (2, Content::Own(2))]);
    assert_eq!(
        own.digest,
        Digest::default().then(entries[0].hash()).then(entries[1].hash()),
        "the digest runs over the content hashes"
    );

    let others = read(&conn, 2, 0);
    assert_eq!(others.acked, 0);
    let whole: Vec<_> = others.rows.into_iter().map(|row| row.content).collect();
    assert_eq!(whole, entries.into_iter().map(Content::Entry).collect::<Vec<_>>());
    assert_eq!(read(&conn, 2, 1).rows.len(), 1);
    assert_eq!(read(&conn, 2, 2).digest, own.digest);
}

#[test]
fn what_is_held_is_acknowledged_again_and_kept_once() {
    let mut conn = database();
    offer(&mut conn, 1, vec![entry(1, 1), entry(1, 2)]).unwrap();
    let again = offer(&mut conn, 1, vec![entry(1, 1), entry(1, 2), entry(1, 2), entry(1, 3)]);
    assert_eq!(again, Ok(Admitted { acked: 3, new: 1, latest: 3 }));
}

#[test]
fn nothing_of_a_refused_batch_is_kept() {
    let mut conn = database();
    offer(&mut conn, 1, vec![entry(1, 1)]).unwrap();
    let mut ahead = entry(1, 3);
    ahead.hlc.0 = NOW.plus(CLOCK_AHEAD_MAX_MS + 1);
    let long = with_payload(1, 3, format!("\"{}\"", "x".repeat(ENTRY_MAX_BYTES)));
    let forked = with_payload(1, 1, "{}".into());
    for (last, code) in [
        (entry(1, 4), RefusalCode::Gap { expected: 2 }),
        (ahead, RefusalCode::ClockAhead { server_time: NOW, stored_through: 1 }),
        (long, RefusalCode::EntryTooLarge { device_seq: 3 }),
        (forked, RefusalCode::DeviceForked { device_seq: 1 }),
        (with_payload(1, 2, "{}".into()), RefusalCode::DeviceForked { device_seq: 2 }),
        (entry(2, 1), RefusalCode::DeviceMismatch),
    ] {
        assert_eq!(offer(&mut conn, 1, vec![entry(1, 2), last]), Err(code.clone()));
        assert_eq!(log::end(&conn).unwrap().seq, 1, "{code:?}");
    }
}

#[test]
fn a_batch_over_the_limit_is_refused() {
    let mut conn = database();
    let many = (1..=BATCH_MAX_ENTRIES as u64 + 1).map(|n| entry(1, n)).collect();
    assert_eq!(offer(&mut conn, 1, many), Err(RefusalCode::BatchTooLarge));
    let text = "x".repeat(ENTRY_MAX_BYTES - 100);
    let heavy = (1..=BATCH_MAX_BYTES as u64 / text.len() as u64 + 1)
        .map(|n| with_payload(1, n, format!("\"{text}\"")))
        .collect();
    assert_eq!(offer(&mut conn, 1, heavy), Err(RefusalCode::BatchTooLarge));
}

#[test]
fn a_viewer_reads_and_does_not_write() {
    let mut conn = database();
    offer(&mut conn, 1, vec![entry(1, 1)]).unwrap();
    let viewer = device(2, Role::Viewer);
    let pushed = push(&conn, &viewer, &request(0, vec![entry(2, 1)]), NOW);
    assert_eq!(pushed.unwrap_err().refusal().code, RefusalCode::Forbidden);
    assert!(push(&conn, &viewer, &request(0, vec![]), NOW).is_ok());
    assert_eq!(read(&conn, 2, 0).rows.len(), 1);
}

#[test]
fn a_place_in_another_log_is_refused_before_anything_is_kept() {
    let mut conn = database();
    offer(&mut conn, 1, vec![entry(1, 1), entry(1, 2), entry(1, 3)]).unwrap();
    meta::keep_from(&conn, 3).unwrap();
    let other = Some(EpochId::new(NOW, [8; 10]));
    for (epoch, cursor, code) in [
        (other, 2, RefusalCode::EpochChanged { epoch: epoch() }),
        (None, 2, RefusalCode::EpochChanged { epoch: epoch() }),
        (Some(epoch()), 4, RefusalCode::CursorAhead { latest: 3 }),
        (Some(epoch()), u64::MAX, RefusalCode::CursorAhead { latest: 3 }),
        (Some(epoch()), 1, RefusalCode::CursorExpired { oldest: 3 }),
        (None, 0, RefusalCode::CursorExpired { oldest: 3 }),
    ] {
        let request = ExchangeRequest { v: VERSION, epoch, cursor, entries: vec![entry(1, 4)] };
        let pushed = push(&conn, &device(1, Role::Helper), &request, NOW);
        assert_eq!(pushed.unwrap_err().refusal().code, code, "{cursor}");
        let pulled = pull(&conn, id(1), epoch, cursor, NOW);
        assert_eq!(pulled.unwrap_err().refusal().code, code, "{cursor}");
        assert_eq!(log::end(&conn).unwrap().seq, 3);
    }
    assert_eq!(read(&conn, 1, 2).rows.len(), 1, "the cursor just before the kept rows goes on");
}

#[test]
fn pages_end_at_their_limits_and_follow_on() {
    let mut conn = database();
    let small = PAGE_MAX_ENTRIES as u64 + 1;
    for from in (1..=small).step_by(BATCH_MAX_ENTRIES) {
        let to = small.min(from + BATCH_MAX_ENTRIES as u64 - 1);
        offer(&mut conn, 1, (from..=to).map(|n| entry(1, n)).collect()).unwrap();
    }
    let first = read(&conn, 2, 0);
    assert_eq!((first.rows.len(), first.more), (PAGE_MAX_ENTRIES, true));
    let rest = read(&conn, 2, first.cursor);
    assert_eq!((rest.rows.len(), rest.more), (1, false));

    let text = "x".repeat(ENTRY_MAX_BYTES - 100);
    let heavy = PAGE_MAX_BYTES as u64 / text.len() as u64 + 10;
    let mut conn = database();
    for n in 1..=heavy {
        offer(&mut conn, 1, vec![with_payload(1, n, format!("\"{text}\""))]).unwrap();
    }
    let first = pull(&conn, id(2), Some(epoch()), 0, NOW).unwrap();
    assert!(first.more);
    let around = 1024;
    assert!(first.body.len() <= PAGE_MAX_BYTES + around, "{}", first.body.len());
    assert!(first.body.len() > PAGE_MAX_BYTES - ENTRY_MAX_BYTES - around, "{}", first.body.len());
    let rest = read(&conn, 2, first.rows as u64);
    assert_eq!((first.rows + rest.rows.len(), rest.more), (heavy as usize, false));
}

#[test]
fn a_server_clock_that_went_back_does_not_accuse_the_phones() {
    let mut conn = database();
    offer(&mut conn, 1, vec![entry(1, 1)]).unwrap();
    let years_ago = Millis(CLOCK_PLAUSIBLE_FROM.0 + 1);
    let mut today = entry(1, 2);
    today.hlc.0 = NOW.plus(CLOCK_AHEAD_MAX_MS);
    assert!(admit(&conn, id(1), &[today], years_ago).is_ok());
}

#[test]
fn a_quiet_exchange_writes_only_to_note_that_the_device_was_seen() {
    let seen = |at| Device { seen: at, ..device(1, Role::Helper) };
    let quiet = request(0, vec![]);
    assert!(writes(&seen(None), &quiet, NOW));
    assert!(!writes(&seen(Some(NOW)), &quiet, NOW.plus(SEEN_STEP_MS - 1)));
    assert!(writes(&seen(Some(NOW)), &quiet, NOW.plus(SEEN_STEP_MS)));
    assert!(writes(&seen(Some(NOW)), &request(0, vec![entry(1, 1)]), NOW));
}

/// One offer of a device: from a place at, before or after the expected one, perhaps cut short,
/// perhaps with its entries out of order.
#[derive(Clone, Debug)]
struct Offer {
    device: u8,
    back: u64,
    ahead: u64,
    length: u64,
    swap: bool,
    other_content: bool,
}

fn offers() -> impl Strategy<Value = Vec<Offer>> {
    let one = (1..4_u8, 0..6_u64, 0..20_u64, 0..8_u64, 0..10_u8, 0..12_u8).prop_map(
        |(device, back, ahead, length, swap, other)| Offer {
            device,
            back,
            ahead: ahead.saturating_sub(17),
            length,
            swap: swap == 0,
            other_content: other == 0,
        },
    );
    proptest::collection::vec(one, 1..60)
}

proptest! {
    #[test]
    fn the_log_holds_each_acknowledged_entry_once_in_device_order(offers in offers()) {
        let mut conn = database();
        let mut model: Vec<Entry> = Vec::new();
        let mut through: BTreeMap<u8, u64> = BTreeMap::new();
        for Offer { device, back, ahead, length, swap, other_content } in offers {
            let held = through.get(&device).copied().unwrap_or(0);
            let from = (held + 1).saturating_sub(back).max(1) + ahead;
            let mut batch: Vec<Entry> = (from..from + length).map(|n| entry(device, n)).collect();
            if swap {
                batch.reverse();
            }
            if other_content && let Some(first) = batch.first_mut() {
                *first = with_payload(device, first.device_seq, "{\"other\":true}".into());
            }
            let before = log::end(&conn).unwrap();
            match offer(&mut conn, device, batch.clone()) {
                Ok(admitted) => {
                    for entry in batch {
                        let at = model.iter().position(|held| held.id() == entry.id());
                        match at {
                            Some(at) => prop_assert_eq!(&model[at], &entry),
                            None => model.push(entry),
                        }
                    }
                    prop_assert_eq!(admitted.latest as usize, model.len());
                    prop_assert!(admitted.acked >= held);
                    through.insert(device, admitted.acked);
                }
                Err(RefusalCode::Gap { expected }) => {
                    prop_assert_eq!(expected, held + 1);
                    prop_assert_eq!(log::end(&conn).unwrap(), before);
                }
                Err(RefusalCode::DeviceForked { .. }) => {
                    prop_assert_eq!(log::end(&conn).unwrap(), before);
                }
                Err(other) => prop_assert!(false, "unexpected {:?}", other),
            }
        }
        let reply = read(&conn, 9, 0);
        let mut digest = Digest::default();
        let mut next: BTreeMap<DeviceId, u64> = BTreeMap::new();
        for ((row, expected), seq) in reply.rows.iter().zip(&model).zip(1..) {
            prop_assert_eq!(row.seq, seq, "dense");
            prop_assert_eq!(&row.content, &Content::Entry(expected.clone()));
            let next = next.entry(expected.device).or_insert(1);
            prop_assert_eq!(expected.device_seq, *next, "in its device's order");
            *next += 1;
            digest = digest.then(expected.hash());
        }
        prop_assert_eq!(reply.rows.len(), model.len());
        prop_assert_eq!(reply.digest, digest);
    }
}
