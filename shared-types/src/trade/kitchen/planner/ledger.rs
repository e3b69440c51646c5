//! The fruit of one pool, day by day: first in, first out.
//!
//! With `u` grams used on each day, the least that must be gone by the end of day `t` is
//! `c(t) = max(c(t-1) + u(t), gone_by(t))`, and the plan can be kept as long as
//! `c(t) <= ready_by(t)`. What is gone beyond the use is lost.

use super::table::Flow;

/// Use of a pool by day, in grams.
#[derive(Clone, Debug)]
pub(super) struct Ledger {
    used: Vec<i64>,
}

impl Ledger {
    pub(super) fn new(days: usize) -> Self {
        Self { used: vec![0; days] }
    }

    pub(super) fn take(&mut self, day: usize, grams: i64) {
        self.used[day] += grams;
    }

    /// Gone by the end of each day.
    pub(super) fn gone(&self, flow: &Flow) -> Vec<i64> {
        let mut before = 0;
        self.used
            .iter()
            .zip(&flow.gone_by)
            .map(|(used, gone_by)| {
                before = (before + used).max(*gone_by);
                before
            })
            .collect()
    }

    /// How much more may be used on a day without failing what is used later.
    pub(super) fn room(&self, flow: &Flow, day: usize) -> i64 {
        let gone = self.gone(flow);
        let mut slack = i64::MAX;
        for at in (day..gone.len()).rev() {
            // What is lost on the next day takes up that much more use today.
            if let (Some(next), Some(used)) = (gone.get(at + 1), self.used.get(at + 1)) {
                slack = slack.saturating_add(next - gone[at] - used);
            }
            slack = slack.min(flow.ready_by[at] - gone[at]);
        }
        let before = day.checked_sub(1).map_or(0, |day| gone[day]);
        slack.saturating_add(gone[day] - before - self.used[day])
    }

    /// Lost at the end of each day.
    pub(super) fn lost(&self, flow: &Flow) -> Vec<i64> {
        let mut before = 0;
        let gone = self.gone(flow);
        gone.into_iter()
            .zip(&self.used)
            .map(|(gone, used)| {
                let lost = gone - before - used;
                before = gone;
                lost
            })
            .collect()
    }

    /// Ready and neither used nor lost at the end of the last day.
    pub(super) fn left(&self, flow: &Flow) -> i64 {
        let last = self.used.len() - 1;
        flow.ready_by[last] - self.gone(flow)[last]
    }

    /// Ready, not used and not lost in the morning of a day, before anything is used on it; and the
    /// day the first of it is lost.
    pub(super) fn at_hand(&self, flow: &Flow, day: usize) -> (i64, Option<usize>) {
        let before = day.checked_sub(1).map_or(0, |day| self.gone(flow)[day]);
        let there = flow.ready_by[day] - before;
        let lost = (day..self.used.len()).find(|at| flow.gone_by[*at] > before);
        (there, lost)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn flow() -> Flow {
        // 5, 3, 0, 2 turn ready, each keeps one day more.
        Flow { ready_by: vec![5, 8, 8, 10], gone_by: vec![0, 5, 8, 8] }
    }

    #[test]
    fn what_is_not_used_in_time_is_lost() {
        let mut ledger = Ledger::new(4);
        assert_eq!(ledger.lost(&flow()), [0, 5, 3, 0]);
        assert_eq!(ledger.left(&flow()), 2);
        ledger.take(0, 4);
        ledger.take(2, 2);
        assert_eq!(ledger.lost(&flow()), [0, 1, 1, 0]);
    }

    #[test]
    fn use_today_leaves_what_is_used_later() {
        let mut ledger = Ledger::new(4);
        assert_eq!([0, 1, 2, 3].map(|day| ledger.room(&flow(), day)), [5, 8, 3, 2]);
        ledger.take(2, 3);
        // Three of what is ready on day 1 must stay for day 2.
        assert_eq!([0, 1, 2, 3].map(|day| ledger.room(&flow(), day)), [5, 5, 0, 2]);
        ledger.take(1, 5);
        assert_eq!([0, 1, 2, 3].map(|day| ledger.room(&flow(), day)), [0, 0, 0, 2]);
    }

    #[test]
    fn the_morning_says_what_is_there_and_what_is_lost_first() {
        let mut ledger = Ledger::new(4);
        assert_eq!(ledger.at_hand(&flow(), 1), (8, Some(1)));
        ledger.take(1, 6);
        assert_eq!(ledger.at_hand(&flow(), 2), (2, Some(2)));
        assert_eq!(ledger.at_hand(&flow(), 3), (2, None));
    }
}
