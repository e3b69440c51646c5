//! Clock times of a kitchen day, and lengths of work.

use shared_types::units::{MINUTE_MS, Millis};

use crate::words;

/// Minutes of a day.
const DAY: u32 = 24 * 60;

/// The time of day `minutes` after midnight: `8:30`; past midnight it says so.
pub fn time(minutes: u32) -> String {
    let clock = words::time(Millis(i64::from(minutes % DAY) * MINUTE_MS), 0);
    if minutes >= DAY { format!("{clock} next day") } else { clock }
}

/// The times a day can begin at: every half hour.
pub fn beginnings() -> Vec<(u32, String)> {
    (0..DAY / 30).map(|half| (half * 30, time(half * 30))).collect()
}

/// The times work of `length` minutes can be done by on the day it begins: every half hour.
pub fn endings(length: u32) -> Vec<(u32, String)> {
    let first = length.div_ceil(30);
    (first..first + DAY / 30)
        .map(|half| (half * 30, time(half * 30)))
        .filter(|(end, _)| end - length < DAY)
        .collect()
}

/// The half hour at or before.
pub fn half_hour(minutes: u32) -> u32 {
    minutes.min(DAY - 1) / 30 * 30
}

/// How long a step takes: hands on, and by itself.
pub fn hands_and_alone(hands: u32, alone: u32) -> Vec<String> {
    match (hands, alone) {
        (0, 0) => Vec::new(),
        (hands, 0) => vec![span(hands)],
        (0, alone) => vec![format!("{} by itself", span(alone))],
        (hands, alone) => vec![format!("{} of work, {} by itself", span(hands), span(alone))],
    }
}

/// A length of work: `25 min`, `1 h`, `1 h 40`.
pub fn span(minutes: u32) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes:02}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_as_they_stand_on_a_kitchen_clock() {
        assert_eq!(time(510), "8:30");
        assert_eq!(time(DAY + 15), "0:15 next day");
        let all = beginnings();
        assert_eq!((all.len(), all[17].1.as_str()), (48, "8:30"));
        assert_eq!(half_hour(529), 510);
        let ends = endings(200);
        assert_eq!((ends[0].0, ends[0].1.as_str()), (210, "3:30"));
        assert!(ends.iter().all(|(end, _)| (200..200 + DAY).contains(end)));
        assert!(all.iter().any(|(minutes, _)| *minutes == half_hour(1439)));
    }

    #[test]
    fn a_step_says_how_long_it_takes() {
        assert!(hands_and_alone(0, 0).is_empty());
        assert_eq!(hands_and_alone(25, 0), ["25 min"]);
        assert_eq!(hands_and_alone(5, 100), ["5 min of work, 1 h 40 by itself"]);
    }

    #[test]
    fn spans_of_work() {
        for (minutes, words) in [(25, "25 min"), (60, "1 h"), (100, "1 h 40"), (65, "1 h 05")] {
            assert_eq!(span(minutes), words);
        }
    }
}
