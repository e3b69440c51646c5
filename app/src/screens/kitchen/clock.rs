//! Clock times of a kitchen day, and lengths of work.

use shared_types::units::{MINUTE_MS, Millis};

use crate::words;

/// When a day in the kitchen begins unless somebody says otherwise: half past eight.
pub const USUAL_START: u32 = 8 * 60 + 30;

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

/// When to begin today, `now` minutes after midnight: at the usual time, or at the next half hour
/// when that is past.
pub fn begin_today(now: u32) -> u32 {
    if now <= USUAL_START { USUAL_START } else { (now.div_ceil(30) * 30).min(DAY - 30) }
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
        assert_eq!(time(USUAL_START), "8:30");
        assert_eq!(time(DAY + 15), "0:15 next day");
        let all = beginnings();
        assert_eq!((all.len(), all[17].1.as_str()), (48, "8:30"));
    }

    #[test]
    fn a_day_begun_late_begins_at_the_next_half_hour() {
        for (now, begins) in
            [(0, "8:30"), (510, "8:30"), (511, "9:00"), (15 * 60 + 2, "15:30"), (1439, "23:30")]
        {
            assert_eq!(time(begin_today(now)), begins);
            assert!(beginnings().iter().any(|(minutes, _)| *minutes == begin_today(now)));
        }
    }

    #[test]
    fn spans_of_work() {
        for (minutes, words) in [(25, "25 min"), (60, "1 h"), (100, "1 h 40"), (65, "1 h 05")] {
            assert_eq!(span(minutes), words);
        }
    }
}
