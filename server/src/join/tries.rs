//! Wrong codes are counted over all phones.

use std::collections::VecDeque;

use shared_types::units::Millis;
use shared_types::wire::RefusalCode;
use shared_types::wire::limits::{CODE_TRIES_MAX, CODE_WINDOW_MS};

/// When the last wrong codes came, the oldest first; at most [`CODE_TRIES_MAX`].
#[derive(Clone, Debug, Default)]
pub struct Tries {
    wrong: VecDeque<Millis>,
}

impl Tries {
    /// Refuses while the server rests. A right code is refused as well: else guessing on would
    /// still find it.
    ///
    /// # Errors
    /// `slow_down`, with the time until the oldest wrong try no longer counts.
    pub fn check(&mut self, now: Millis) -> Result<(), RefusalCode> {
        // A clock set back must not make the server rest for as long as it went back.
        self.wrong.retain(|at| (0..CODE_WINDOW_MS).contains(&now.since(*at)));
        match self.wrong.front() {
            Some(oldest) if self.wrong.len() >= CODE_TRIES_MAX as usize => {
                Err(RefusalCode::SlowDown { retry_ms: CODE_WINDOW_MS - now.since(*oldest) })
            }
            _ => Ok(()),
        }
    }

    /// Counts a wrong code.
    pub fn count_wrong(&mut self, now: Millis) {
        self.wrong.push_back(now);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_server_rests_after_five_and_only_so_long() {
        let mut tries = Tries::default();
        for n in 0..i64::from(CODE_TRIES_MAX) {
            assert_eq!(tries.check(Millis(n)), Ok(()));
            tries.count_wrong(Millis(n));
        }
        let last = Millis(CODE_WINDOW_MS - 1);
        assert_eq!(tries.check(Millis(10)), Err(RefusalCode::SlowDown { retry_ms: 59_990 }));
        assert_eq!(tries.check(last), Err(RefusalCode::SlowDown { retry_ms: 1 }));
        assert_eq!(tries.check(last.plus(1)), Ok(()), "the first no longer counts");
        tries.count_wrong(last.plus(1));
        assert_eq!(tries.check(last.plus(1)), Err(RefusalCode::SlowDown { retry_ms: 1 }));
    }

    #[test]
    fn a_clock_set_back_ends_the_rest() {
        let mut tries = Tries::default();
        for _ in 0..CODE_TRIES_MAX {
            tries.count_wrong(Millis(1_000_000_000));
        }
        assert_eq!(tries.check(Millis(5)), Ok(()));
    }
}
