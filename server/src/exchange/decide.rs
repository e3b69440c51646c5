//! What becomes of one offered entry.

use shared_types::entry::{DeviceSeq, Entry, Hash};
use shared_types::ids::DeviceId;
use shared_types::units::Millis;
use shared_types::wire::RefusalCode;
use shared_types::wire::limits::{CLOCK_AHEAD_MAX_MS, ENTRY_MAX_BYTES};

use super::CLOCK_PLAUSIBLE_FROM;

/// What is known when an entry is decided on.
#[derive(Clone, Copy, Debug)]
pub struct Standing {
    /// Whose token the request carries.
    pub device: DeviceId,
    /// The last entry of the device on disk. What refusals tell, because a refused batch leaves
    /// nothing behind.
    pub stored_through: DeviceSeq,
    /// The last entry of the device on disk or admitted earlier in this batch.
    pub admitted_through: DeviceSeq,
    /// The server's clock.
    pub now: Millis,
}

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Decision {
    /// It is the next one: keep it.
    Keep,
    /// It is held already: acknowledge it again.
    Held,
    /// The whole batch is refused.
    Refuse(RefusalCode),
}

/// Decides on `entry`, whose content hash is `hash`; `held` is the hash of what is already held
/// under its id. The order matters: content held before is acknowledged whatever the clock says.
/// Nothing here looks at what the entry says; what makes no sense is set aside by the fold.
///
/// # Panics
/// When an entry before the last one held is not held: the log is then not dense.
pub fn decide(standing: &Standing, entry: &Entry, hash: Hash, held: Option<Hash>) -> Decision {
    use Decision::{Held, Keep, Refuse};

    let device_seq = entry.device_seq;
    if entry.device != standing.device {
        return Refuse(RefusalCode::DeviceMismatch);
    }
    if let Some(held) = held {
        return match held == hash {
            true => Held,
            false => Refuse(RefusalCode::DeviceForked { device_seq }),
        };
    }
    if device_seq == 0 {
        return Refuse(RefusalCode::Malformed { reason: "`device_seq` counts from 1".into() });
    }
    assert!(
        device_seq > standing.admitted_through,
        "entry {device_seq} of {} is missing, yet entries up to {} are held",
        standing.device,
        standing.admitted_through,
    );
    if device_seq > standing.admitted_through + 1 {
        return Refuse(RefusalCode::Gap { expected: standing.stored_through + 1 });
    }
    if entry.size() > ENTRY_MAX_BYTES {
        return Refuse(RefusalCode::EntryTooLarge { device_seq });
    }
    if standing.now >= CLOCK_PLAUSIBLE_FROM && entry.hlc.0.since(standing.now) > CLOCK_AHEAD_MAX_MS
    {
        return Refuse(RefusalCode::ClockAhead {
            server_time: standing.now,
            stored_through: standing.stored_through,
        });
    }
    Keep
}

#[cfg(test)]
mod tests {
    use serde_json::value::RawValue;
    use shared_types::hlc::Hlc;

    use super::*;

    const NOW: Millis = Millis(CLOCK_PLAUSIBLE_FROM.0 + 1_000);

    fn device(n: u8) -> DeviceId {
        DeviceId::new(Millis(0), [n; 10])
    }

    fn entry(device_seq: DeviceSeq, wall: Millis, payload_bytes: usize) -> Entry {
        let text = "x".repeat(payload_bytes.saturating_sub(2));
        Entry {
            device: device(1),
            device_seq,
            hlc: Hlc(wall, 0),
            kind: String::new(),
            kind_version: 1,
            payload: RawValue::from_string(format!("\"{text}\"")).unwrap(),
        }
    }

    #[test]
    fn every_case() {
        let same = Hash([1; 32]);
        let other = Hash([2; 32]);
        let day_ahead = NOW.plus(CLOCK_AHEAD_MAX_MS);
        let beyond = day_ahead.plus(1);
        let full = ENTRY_MAX_BYTES;
        let clock_ahead = RefusalCode::ClockAhead { server_time: NOW, stored_through: 4 };
        let from_one = RefusalCode::Malformed { reason: "`device_seq` counts from 1".into() };
        for (what, entry, held, decision) in [
            ("the next one", entry(7, NOW, 9), None, Decision::Keep),
            ("an old clock", entry(7, Millis(i64::MIN), 9), None, Decision::Keep),
            ("a day ahead exactly", entry(7, day_ahead, 9), None, Decision::Keep),
            ("a full entry exactly", entry(7, NOW, full), None, Decision::Keep),
            ("held", entry(3, NOW, 9), Some(same), Decision::Held),
            ("held, though its clock is ahead", entry(3, beyond, 9), Some(same), Decision::Held),
            (
                "held with other content",
                entry(3, NOW, 9),
                Some(other),
                Decision::Refuse(RefusalCode::DeviceForked { device_seq: 3 }),
            ),
            (
                "one left out: told from what is on disk",
                entry(8, NOW, 9),
                None,
                Decision::Refuse(RefusalCode::Gap { expected: 5 }),
            ),
            (
                "far past the end",
                entry(u64::MAX, NOW, 9),
                None,
                Decision::Refuse(RefusalCode::Gap { expected: 5 }),
            ),
            ("the one before the first", entry(0, NOW, 9), None, Decision::Refuse(from_one)),
            ("a wrong clock", entry(7, beyond, 9), None, Decision::Refuse(clock_ahead.clone())),
            (
                "a very wrong clock",
                entry(7, Millis(i64::MAX), 9),
                None,
                Decision::Refuse(clock_ahead),
            ),
            (
                "too long",
                entry(7, NOW, full + 1),
                None,
                Decision::Refuse(RefusalCode::EntryTooLarge { device_seq: 7 }),
            ),
        ] {
            let standing =
                Standing { device: device(1), stored_through: 4, admitted_through: 6, now: NOW };
            assert_eq!(decide(&standing, &entry, same, held), decision, "{what}");
        }
    }

    #[test]
    fn another_devices_entry_is_refused_even_when_held() {
        let standing =
            Standing { device: device(2), stored_through: 4, admitted_through: 4, now: NOW };
        let hash = Hash([1; 32]);
        assert_eq!(
            decide(&standing, &entry(3, NOW, 9), hash, Some(hash)),
            Decision::Refuse(RefusalCode::DeviceMismatch)
        );
    }

    #[test]
    fn a_server_clock_that_was_never_set_refuses_nobody() {
        let standing = Standing {
            device: device(1),
            stored_through: 0,
            admitted_through: 0,
            now: Millis(5_000),
        };
        assert_eq!(decide(&standing, &entry(1, NOW, 9), Hash([1; 32]), None), Decision::Keep);
    }

    #[test]
    #[should_panic(expected = "entries up to 4 are held")]
    fn a_log_with_a_hole_is_a_broken_invariant() {
        let standing =
            Standing { device: device(1), stored_through: 4, admitted_through: 4, now: NOW };
        decide(&standing, &entry(2, NOW, 9), Hash([1; 32]), None);
    }
}
