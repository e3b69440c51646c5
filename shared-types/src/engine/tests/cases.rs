//! What each refusal and each accident comes to.

use super::super::*;
use super::world::*;
use crate::ids::EpochId;
use crate::units::{DAY_MS, Grams, MilliCelsius};
use crate::wire::limits::ENTRY_MAX_BYTES;

#[test]
fn a_bin_kept_offline_is_seen_at_once_and_sent_later() {
    let mut server = Server::new(1);
    let mut phone = Phone::new(1);
    phone.keep(bin(1, 1, 9_400), Millis(10));
    assert_eq!((phone.engine.status().unsent, net(&phone.engine.book())), (1, Grams(9_400)));
    phone.restart(Millis(20));
    assert_eq!(phone.engine.status().unsent, 1, "it survives a kill");
    phone.exchange(&mut server, Luck::Fine, Millis(100_000));
    assert_eq!((phone.engine.status().unsent, phone.engine.status().link), (0, Link::Good));
    assert_eq!(*phone.engine.confirmed(), server.book());
}

#[test]
fn a_lost_reply_is_sent_again_and_doubles_nothing() {
    let mut server = Server::new(1);
    let mut phone = Phone::new(1);
    phone.keep(bin(1, 1, 1_000), Millis(10));
    phone.exchange(&mut server, Luck::ReplyLost, Millis(20));
    assert_eq!((server.log.len(), phone.engine.status().unsent), (1, 1));
    phone.exchange(&mut server, Luck::Fine, Millis(100_000));
    assert_eq!((server.log.len(), phone.engine.status().unsent), (1, 0));
}

#[test]
fn a_full_disk_keeps_nothing_and_says_so() {
    let mut phone = Phone::new(1);
    let actions = phone.engine.on_event(Event::Keep { ticket: 7, fact: bin(1, 1, 500) }, Millis(1));
    phone.carry_out(actions, None, Luck::DiskFull, Millis(1));
    assert_eq!(phone.not_kept, ["disk full"]);
    assert_eq!(phone.engine.status().kept, 0);
    phone.keep(bin(1, 1, 500), Millis(2));
    assert_eq!(phone.kept[0].device_seq, 1, "the number was not used up");
}

#[test]
fn an_entry_over_the_limit_is_refused_where_it_is_written() {
    let mut phone = Phone::new(1);
    let Fact::BinKept(mut fact) = bin(1, 1, 500) else { unreachable!() };
    fact.tag = Some("x".repeat(ENTRY_MAX_BYTES));
    phone.keep(Fact::BinKept(fact), Millis(1));
    assert!(phone.not_kept[0].contains("shorten the text"), "{:?}", phone.not_kept);
    assert_eq!(phone.engine.status().kept, 0);
}

#[test]
fn another_tab_that_wrote_first_is_noticed_and_both_entries_stay() {
    let mut phone = Phone::new(1);
    let mut other_tab = Engine::new(device(1), phone.disk.load());
    phone.keep(bin(1, 1, 1_000), Millis(1));
    let actions = other_tab.on_event(Event::Keep { ticket: 2, fact: bin(1, 2, 2_000) }, Millis(2));
    std::mem::swap(&mut phone.engine, &mut other_tab);
    phone.carry_out(actions, None, Luck::Fine, Millis(2));
    let own: Vec<u64> = phone.kept.iter().map(|id| id.device_seq).collect();
    assert_eq!(own, [1, 2]);
    assert_eq!(net(&phone.engine.book()), Grams(3_000));
    std::mem::swap(&mut phone.engine, &mut other_tab);
    let actions = phone.engine.on_event(Event::OtherTabWrote, Millis(3));
    phone.carry_out(actions, None, Luck::Fine, Millis(3));
    assert_eq!(net(&phone.engine.book()), Grams(3_000), "the first tab learns of it");
}

#[test]
fn storage_dropped_under_an_open_phone_is_written_anew_from_memory() {
    let mut server = Server::new(1);
    let mut phone = Phone::new(1);
    phone.keep(bin(1, 1, 1_000), Millis(1));
    phone.exchange(&mut server, Luck::Fine, Millis(2));
    phone.keep(bin(1, 2, 2_000), Millis(3));
    phone.disk = MemoryDisk::default();
    let actions = phone.engine.on_event(Event::OtherTabWrote, Millis(4));
    phone.carry_out(actions, None, Luck::DiskFull, Millis(4));
    phone.keep(bin(1, 3, 4_000), Millis(5));
    assert!(phone.told.contains(&Notice::Evicted), "{:?}", phone.told);
    phone.restart(Millis(6));
    assert_eq!(net(&phone.engine.book()), Grams(7_000), "nothing was lost, sent or not");
    phone.exchange(&mut server, Luck::Fine, Millis(100_000));
    assert_eq!((net(&server.book()), server.log.len()), (Grams(7_000), 3));
}

#[test]
fn a_clock_days_ahead_is_mended_and_nothing_is_lost() {
    let mut server = Server::new(1);
    let mut phone = Phone::new(1);
    let wrong = Millis(10 * DAY_MS);
    phone.keep(bin(1, 1, 1_000), wrong);
    let actions = phone.engine.on_event(Event::Online, wrong);
    // The server's clock is right; only the phone's is ahead.
    phone.carry_out(actions, Some(&mut server), Luck::Fine, Millis(DAY_MS));
    phone.exchange(&mut server, Luck::Fine, Millis(2 * DAY_MS));
    assert_eq!(phone.engine.status().unsent, 0);
    assert!(server.log[0].hlc.0 <= Millis(2 * DAY_MS), "{}", server.log[0].hlc);
    assert!(phone.told.iter().any(|notice| matches!(notice, Notice::ClockOff { .. })));
}

#[test]
fn a_restored_server_gets_back_what_the_phones_still_hold() {
    let mut server = Server::new(1);
    let (mut a, mut b) = (Phone::new(1), Phone::new(2));
    for n in 1..=4 {
        a.keep(bin(1, n, 1_000), Millis(i64::from(n)));
        b.keep(bin(2, n, 10_000), Millis(i64::from(n)));
    }
    a.exchange(&mut server, Luck::Fine, Millis(100));
    b.exchange(&mut server, Luck::Fine, Millis(100));
    let whole = server.book();
    server.log.truncate(2);
    server.epoch = EpochId::new(Millis(0), [77; 10]);
    for now in [200, 300] {
        a.exchange(&mut server, Luck::Fine, Millis(now));
        b.exchange(&mut server, Luck::Fine, Millis(now));
    }
    assert_eq!(server.book(), whole);
    assert_eq!((a.engine.confirmed(), b.engine.confirmed()), (&whole, &whole));
    assert!(a.told.contains(&Notice::OtherServer));
}

#[test]
fn two_phones_under_one_name_part_and_both_keep_their_bins() {
    let mut server = Server::new(1);
    let mut original = Phone::new(1);
    original.keep(bin(1, 1, 1_000), Millis(1));
    original.exchange(&mut server, Luck::Fine, Millis(2));
    let mut copy = Phone::new(1);
    copy.disk = MemoryDisk::default();
    copy.keep(bin(1, 9, 5_000), Millis(3));
    copy.exchange(&mut server, Luck::Fine, Millis(4));
    original.exchange(&mut server, Luck::Fine, Millis(5));
    assert_ne!(copy.engine.device(), original.engine.device());
    assert_eq!(net(&server.book()), Grams(6_000));
    assert_eq!(*copy.engine.confirmed(), *original.engine.confirmed());
    assert!(copy.told.contains(&Notice::Forked));
}

#[test]
fn a_phone_away_too_long_takes_the_snapshot_and_keeps_its_own() {
    let mut server = Server::new(1);
    let (mut a, mut b) = (Phone::new(1), Phone::new(2));
    for n in 1..=5 {
        a.keep(bin(1, n, 1_000), Millis(i64::from(n)));
    }
    a.exchange(&mut server, Luck::Fine, Millis(10));
    server.oldest = 4;
    b.keep(bin(2, 1, 7_000), Millis(11));
    b.exchange(&mut server, Luck::Fine, Millis(12));
    assert_eq!(net(b.engine.confirmed()), Grams(12_000));
    assert_eq!(*b.engine.confirmed(), server.book());
    b.restart(Millis(13));
    assert_eq!(*b.engine.confirmed(), server.book(), "and again after a restart");
}

#[test]
fn a_log_that_does_not_match_its_digest_is_read_anew_but_not_for_ever() {
    let mut server = Server::new(1);
    let mut phone = Phone::new(1);
    phone.keep(bin(1, 1, 1_000), Millis(1));
    phone.exchange(&mut server, Luck::Fine, Millis(2));
    // The server's disk changed a byte under it.
    server.log[0].kind = "bin-kepf".to_owned();
    phone.keep(bin(1, 2, 1_000), Millis(3));
    phone.exchange(&mut server, Luck::Fine, Millis(4));
    assert!(phone.told.contains(&Notice::Diverged), "{:?}", phone.told);
    assert!(net(&phone.engine.book()).0 >= 2_000, "nothing kept here is lost");
}

#[test]
fn seeing_a_value_and_changing_it_wins_even_with_a_slow_clock() {
    let mut server = Server::new(1);
    let (mut fast, mut slow) = (Phone::new(1), Phone::new(2));
    fast.keep(room(20), Millis(5_000_000));
    fast.exchange(&mut server, Luck::Fine, Millis(5_000_000));
    slow.exchange(&mut server, Luck::Fine, Millis(1_000));
    slow.keep(room(14), Millis(1_001));
    slow.exchange(&mut server, Luck::Fine, Millis(100_000));
    let book = server.book();
    let temperature = book.rooms.values().next().and_then(|room| room.temperature.get());
    assert_eq!(temperature, Some(&MilliCelsius::from_celsius(14)));
}
