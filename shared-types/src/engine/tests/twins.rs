//! Two devices under one id, by a copy of the storage: they part, and neither loses a thing.

use super::super::*;
use super::world::*;
use crate::ids::EpochId;
use crate::units::{DAY_MS, Grams};
use crate::wire::RefusalCode;

/// A phone whose storage was copied to another: both go on under one id.
fn twins(server: &mut Server) -> (Phone, Phone) {
    let mut original = Phone::new(1);
    for n in 1..=3 {
        original.keep(bin(1, n, 1_000), Millis(i64::from(n)));
    }
    original.exchange(server, Luck::Fine, Millis(10));
    let mut copy = Phone::new(1);
    copy.disk = original.disk.clone();
    copy.restart(Millis(11));
    (original, copy)
}

fn keys(entries: &[Entry]) -> Vec<String> {
    let mut keys: Vec<_> = entries.iter().map(|entry| entry.payload.get().to_owned()).collect();
    keys.sort();
    keys
}

#[test]
fn what_was_acknowledged_under_an_earlier_id_refills_a_restored_server() {
    // It used to be forgotten with the old id, so that only the twin could bring it back.
    let mut server = Server::new(1);
    let (mut original, mut copy) = twins(&mut server);
    copy.keep(bin(1, 50, 5_000), Millis(20));
    copy.exchange(&mut server, Luck::Fine, Millis(20));
    original.keep(bin(1, 60, 6_000), Millis(21));
    original.exchange(&mut server, Luck::Fine, Millis(100_000));
    assert!(original.told.contains(&Notice::Forked));
    let whole = keys(&server.log);
    let lost_with_the_copy = server.log[3].payload.get().to_owned();
    drop(copy);
    server.log.truncate(1);
    server.epoch = EpochId::new(Millis(0), [77; 10]);
    original.restart(Millis(200_000));
    original.exchange(&mut server, Luck::Fine, Millis(300_000));
    let expected: Vec<_> = whole.into_iter().filter(|key| *key != lost_with_the_copy).collect();
    assert_eq!(keys(&server.log), expected, "each once, but what only the copy had");
    assert_eq!(*original.engine.confirmed(), server.book());
    original.restart(Millis(400_000));
    original.exchange(&mut server, Luck::Fine, Millis(400_000));
    assert_eq!(keys(&server.log), expected, "and not again");
}

#[test]
fn a_phone_that_parts_from_its_copy_doubles_nothing_they_share() {
    let mut server = Server::new(1);
    let mut original = Phone::new(1);
    for n in 1..=3 {
        original.keep(bin(1, n, 1_000), Millis(i64::from(n)));
    }
    let mut copy = Phone::new(1);
    copy.disk = original.disk.clone();
    copy.restart(Millis(11));
    copy.keep(bin(1, 50, 5_000), Millis(20));
    copy.exchange(&mut server, Luck::Fine, Millis(20));
    original.keep(bin(1, 60, 6_000), Millis(21));
    // It used to issue all four anew, though three were held already.
    original.exchange(&mut server, Luck::Fine, Millis(100_000));
    assert_eq!(server.log.len(), 5);
    assert_eq!(original.engine.status().unsent, 0);
}

#[test]
fn a_number_that_counts_a_copys_entries_acknowledges_nothing_of_ones_own() {
    let mut server = Server::new(1);
    let (mut original, mut copy) = twins(&mut server);
    copy.keep(bin(1, 50, 5_000), Millis(20));
    copy.exchange(&mut server, Luck::Fine, Millis(20));
    // The original asks for news; a bin is kept while the answer is on its way. The answer counts
    // four entries of this device. The fourth is the copy's, and used to pass for the bin.
    let actions = original.engine.on_event(Event::Online, Millis(30));
    let Some(Action::Exchange { number, request }) =
        actions.into_iter().find(|action| matches!(action, Action::Exchange { .. }))
    else {
        panic!("it asks")
    };
    original.keep(bin(1, 60, 6_000), Millis(31));
    let mut reply = server.exchange(device(1), &request, Millis(32)).unwrap();
    // Its page goes only so far, as it would in a long log.
    assert_eq!(reply.acked, 4);
    reply.more = true;
    reply.cursor = request.cursor;
    reply.digest = original.engine.meta().digest;
    reply.rows.clear();
    let actions =
        original.engine.on_event(Event::Replied { number, reply: Box::new(reply) }, Millis(33));
    assert_eq!(original.engine.status().unsent, 1);
    original.carry_out(actions, Some(&mut server), Luck::Fine, Millis(34));
    original.exchange(&mut server, Luck::Fine, Millis(100_000));
    assert_eq!(net(&server.book()), Grams(3_000 + 5_000 + 6_000));
}

#[test]
fn a_snapshot_that_counts_a_copys_entries_acknowledges_nothing_of_ones_own() {
    let mut server = Server::new(1);
    let (mut original, mut copy) = twins(&mut server);
    copy.keep(bin(1, 50, 5_000), Millis(20));
    copy.exchange(&mut server, Luck::Fine, Millis(20));
    let mut other = Phone::new(2);
    for n in 1..=4 {
        other.keep(bin(2, n, 100), Millis(i64::from(n)));
    }
    other.exchange(&mut server, Luck::Fine, Millis(20));
    server.oldest = 7;
    original.keep(bin(1, 60, 6_000), Millis(21));
    original.exchange(&mut server, Luck::Fine, Millis(100_000));
    original.exchange(&mut server, Luck::Fine, Millis(200_000));
    assert_eq!(net(&server.book()), Grams(3_000 + 5_000 + 400 + 6_000));
    assert_eq!(net(&original.engine.book()), net(&server.book()));
}

#[test]
fn a_refused_clock_that_counts_a_copys_entries_acknowledges_nothing_of_ones_own() {
    let mut server = Server::new(1);
    let (mut original, mut copy) = twins(&mut server);
    original.keep(bin(1, 60, 6_000), Millis(5 * DAY_MS));
    copy.keep(bin(1, 50, 5_000), Millis(20));
    copy.exchange(&mut server, Luck::Fine, Millis(20));
    let refusal = RefusalCode::ClockAhead { server_time: Millis(30), stored_through: 4 };
    let actions = original.engine.on_event(Event::Online, Millis(5 * DAY_MS));
    let number = actions
        .iter()
        .find_map(|action| match action {
            Action::Exchange { number, .. } => Some(*number),
            _ => None,
        })
        .unwrap();
    let refused = Event::Refused { number, refusal: refusal.into() };
    let actions = original.engine.on_event(refused, Millis(5 * DAY_MS));
    assert_eq!(original.engine.status().unsent, 1, "the fourth is the copy's");
    original.carry_out(actions, Some(&mut server), Luck::Fine, Millis(40));
    original.exchange(&mut server, Luck::Fine, Millis(100_000));
    assert_eq!(net(&server.book()), Grams(3_000 + 5_000 + 6_000));
}
