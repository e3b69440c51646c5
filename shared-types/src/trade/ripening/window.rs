//! The dates between which a lot ripens.

use super::curve::Frame;
use super::grid::{POINTS, weights};
use super::start::Start;
use crate::units::Day;

/// Days after which nobody waits for a fruit.
const LONGEST_WAIT: i32 = 366;

/// The days by which 10 and 90 % of what will ripen have, over all that is not known. `known` are
/// the shares already worked out, from `since` days after picking on.
pub(super) fn dates(
    frame: &Frame<'_>,
    since: i32,
    known: &[[f64; POINTS]],
) -> (Option<Day>, Option<Day>) {
    match frame.start {
        Start::AsItIs => return (None, None),
        Start::Ripe => return (Some(frame.picked), Some(frame.picked)),
        _ => {}
    }
    let weights = weights();
    let never = frame.share_never();
    let whole: f64 = weights.iter().zip(never).map(|(w, never)| w * (1.0 - never)).sum();
    let ripe_by = |days: i32| -> f64 {
        let known = usize::try_from(days - since).ok().and_then(|i| known.get(i));
        let shares = known.copied().unwrap_or_else(|| frame.share_ripe(f64::from(days)));
        weights.iter().zip(shares).map(|(w, share)| w * share).sum()
    };
    let first = |share: f64| {
        let (mut low, mut high) = (0, LONGEST_WAIT);
        if ripe_by(high) < share * whole {
            return None;
        }
        while low < high {
            let middle = (low + high) / 2;
            if ripe_by(middle) < share * whole {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        Some(frame.picked.plus(high))
    };
    (first(0.1), first(0.9))
}
