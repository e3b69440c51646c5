//! Stamps that say which of two writings of one field came last.
//!
//! A stamp is a hybrid logical clock (Kulkarni, Demirbas, Madappa, Avva and Leone, 2014): the
//! device's wall clock in milliseconds, a counter for stamps of one millisecond, and the device
//! to settle ties.
//!
//! **Decision.** The published algorithm advances a clock by every stamp it receives. Here a clock
//! advances only past the stamp of a value it is about to overwrite ([`Clock::tick`]'s `over`).
//! That keeps "I saw it and changed it" in order, which is all a register needs, and a phone whose
//! clock runs hours ahead cannot drag every other clock with it.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::ids::DeviceId;
use crate::units::Millis;

/// A reading of a hybrid logical clock. On the wire `[wall, count]`.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
pub struct Hlc(
    /// The wall clock.
    pub Millis,
    /// Counts stamps made at one wall reading, from 0.
    pub u16,
);

impl fmt::Display for Hlc {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}+{}", self.0.0, self.1)
    }
}

/// A stamp: later wins, and of two equal clocks the greater device.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Stamp {
    /// When, by the writer's clock.
    pub hlc: Hlc,
    /// Who wrote.
    pub device: DeviceId,
}

/// One device's clock. Its last stamp is stored with each entry it stamps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Clock {
    last: Hlc,
}

impl Clock {
    /// A clock that has given `last`.
    pub const fn resume(last: Hlc) -> Self {
        Self { last }
    }

    /// The last stamp given.
    pub const fn last(self) -> Hlc {
        self.last
    }

    /// The next stamp: after every earlier one of this clock and after `over`, the stamp of the
    /// value about to be overwritten; at `now` when that is later than both.
    pub fn tick(&mut self, now: Millis, over: Option<Hlc>) -> Hlc {
        let floor = over.map_or(self.last, |over| over.max(self.last));
        let after_floor = match floor.1.checked_add(1) {
            Some(count) => Hlc(floor.0, count),
            None => Hlc(floor.0.plus(1), 0),
        };
        self.last = Hlc(now, 0).max(after_floor);
        self.last
    }

    /// Sets the clock back to `now`, for a device whose stamps were refused as too far ahead.
    pub fn set_back(&mut self, now: Millis) {
        self.last = Hlc(now, 0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn follows_the_wall_and_never_repeats() {
        let mut clock = Clock::default();
        assert_eq!(clock.tick(Millis(10), None), Hlc(Millis(10), 0));
        assert_eq!(clock.tick(Millis(10), None), Hlc(Millis(10), 1));
        assert_eq!(clock.tick(Millis(9), None), Hlc(Millis(10), 2), "the wall went back");
        assert_eq!(clock.tick(Millis(11), None), Hlc(Millis(11), 0));
    }

    #[test]
    fn passes_only_what_it_overwrites() {
        let ahead = Hlc(Millis(1_000_000), 7);
        let mut clock = Clock::default();
        assert_eq!(clock.tick(Millis(10), Some(ahead)), Hlc(Millis(1_000_000), 8));
        assert!(Clock::default().tick(Millis(10), None) < ahead);
    }

    #[test]
    fn a_full_counter_borrows_a_millisecond() {
        let mut clock = Clock::resume(Hlc(Millis(10), u16::MAX));
        assert_eq!(clock.tick(Millis(10), None), Hlc(Millis(11), 0));
    }
}
