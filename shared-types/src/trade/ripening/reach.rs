//! Starting positions for every evening of a room at once, for one rate multiplier.

use super::rate::MAX_SEGMENTS;
use super::room::{LAG, RoomDays};

/// For each evening `t` and segment, the sum C at which a fruit that is ripe at `t` left it; a
/// walk along the days with one pointer for each segment, instead of a search for every day.
#[derive(Clone, Debug, Default)]
pub(super) struct Reach {
    /// 1/m: what a segment takes.
    whole: f64,
    /// By evening: C_s on leaving segment s, and the lag's on entering the first.
    exits: Vec<[f64; MAX_SEGMENTS + 1]>,
}

/// The lag's place in `exits`.
const BEFORE: usize = MAX_SEGMENTS;

impl Reach {
    pub(super) fn new(room: &RoomDays, m: f64) -> Self {
        let days = room.days();
        let whole = 1.0 / m;
        let mut below = [0_usize; MAX_SEGMENTS];
        let mut exits = vec![[0.0; MAX_SEGMENTS + 1]; days + 1];
        for (t, exits) in exits.iter_mut().enumerate() {
            exits[room.ripe - 1] = room.sum(room.ripe)[t];
            for segment in (0..room.ripe).rev() {
                let sum = room.sum(segment + 1);
                let entry = exits[segment] - whole;
                if entry < 0.0 {
                    // It was in this segment before the first evening: no lot asks further back.
                    break;
                }
                let at = &mut below[segment];
                while *at + 2 < sum.len() && sum[*at + 1] <= entry {
                    *at += 1;
                }
                let w = (entry - sum[*at]) / (sum[*at + 1] - sum[*at]);
                let (of, to) = if segment == 0 { (LAG, BEFORE) } else { (segment, segment - 1) };
                let next = room.sum(of);
                exits[to] = next[*at] + w * (next[*at + 1] - next[*at]);
            }
        }
        Self { whole, exits }
    }

    /// [`RoomDays::start`] for evenings `picked` ≤ `t`, with the room's sums at `picked`.
    pub(super) fn start(&self, ripe: usize, at_picked: &[f64; MAX_SEGMENTS + 1], t: usize) -> f64 {
        let exits = &self.exits[t];
        for segment in (0..ripe).rev() {
            let passed = exits[segment] - at_picked[segment + 1];
            if passed <= self.whole {
                return segment as f64 + 1.0 - passed / self.whole;
            }
        }
        -(exits[BEFORE] - at_picked[LAG]) / self.whole
    }
}

/// The room's sums at an evening.
pub(super) fn sums_at(room: &RoomDays, picked: usize) -> [f64; MAX_SEGMENTS + 1] {
    std::array::from_fn(|of| room.sum(of)[picked])
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::climate::RoomClimate;
    use super::super::table::models;
    use super::*;
    use crate::units::{Day, MilliCelsius};

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        /// The walk finds what the search finds.
        #[test]
        fn the_walk_agrees_with_the_search(
            steps in prop::collection::vec((0..40i32, -2_000..34_000i32), 1..12),
            m in 0.4f64..2.0,
            picked in 0usize..30,
            which in 0usize..3,
        ) {
            let first = Day::from_number(20_370);
            let mut steps: Vec<_> =
                steps.into_iter().map(|(d, t)| (first.plus(d), MilliCelsius(t))).collect();
            steps.sort_unstable();
            steps.dedup_by_key(|step| step.0);
            let room = RoomClimate::steps(steps).expect("has a step");
            let room = RoomDays::new(&room, &models()[which], first, first.plus(60));
            let reach = Reach::new(&room, m);
            let at_picked = sums_at(&room, picked);
            for t in picked..=60 {
                let walked = reach.start(room.ripe, &at_picked, t);
                let found = room.start(picked as f64, t as f64, m);
                prop_assert!((walked - found).abs() < 1e-7, "{t}: {walked} for {found}");
            }
        }
    }
}
