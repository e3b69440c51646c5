//! The dates between which a lot ripens.

use super::curve::{Curve, Shape};
use super::start::Start;
use crate::units::Day;

/// Days after which nobody waits for a fruit.
const LONGEST_WAIT: usize = 366;

/// The days by which 10 and 90 % of what will ripen have, over all that is not known. The curve
/// begins at evening `today` of the room.
pub(super) fn dates(shape: &Shape<'_>, curve: &Curve, today: usize) -> (Option<Day>, Option<Day>) {
    let day = |evening: usize| shape.room.first.plus(evening as i32);
    match shape.start {
        Start::AsItIs => return (None, None),
        Start::Ripe => return (Some(day(shape.picked)), Some(day(shape.picked))),
        _ => {}
    }
    let whole = curve.whole();
    let expected = |evening: usize| {
        if shape.sorted && evening <= shape.weighed {
            0.0
        } else {
            shape.expected(evening as f64, &curve.before)
        }
    };
    let first = |share: f64| {
        let wanted = share * whole;
        let known = curve.expected.partition_point(|share| *share < wanted);
        let (mut low, mut high) = match known {
            0 => (shape.picked.min(today), today),
            known if known < curve.expected.len() => return Some(day(today + known)),
            known => {
                let last = shape.picked + LONGEST_WAIT;
                if today + known >= last || expected(last) < wanted {
                    return None;
                }
                (today + known, last)
            }
        };
        while low < high {
            let middle = (low + high) / 2;
            if expected(middle) < wanted {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        Some(day(high))
    };
    (first(0.1), first(0.9))
}
