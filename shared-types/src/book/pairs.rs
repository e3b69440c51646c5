//! "Same bin?": two phones that may have logged one bin.
//!
//! Two counted bins are a pair when different devices kept them within [`WINDOW_MS`] of each other,
//! in one pick, with the same crop, class and place, and their readings differ by at most one
//! division of the holding's scale. Both stay counted until a person says which it is. (The rule is
//! common practice at a shared scale, no source.)

use serde::{Deserialize, Serialize};

use super::{Bin, Book};
use crate::entry::BinKept;
use crate::ids::{BinId, DeviceId};
use crate::units::MINUTE_MS;

/// How close in time two keepings may be one bin.
pub const WINDOW_MS: i64 = 2 * MINUTE_MS;

/// Two bins that may be one, in the order they were kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Pair {
    /// Kept first.
    pub first: BinId,
    /// Kept second.
    pub second: BinId,
}

impl Book {
    /// The unsettled pairs, in the order the bins were kept.
    pub fn pairs(&self) -> Vec<Pair> {
        let mut bins: Vec<_> =
            self.counted().filter_map(|(id, bin)| Some((device(bin)?, id, bin.now()?))).collect();
        bins.sort_by_key(|(_, id, bin)| (bin.at, *id));
        let mut pairs = Vec::new();
        for (i, (device, id, bin)) in bins.iter().enumerate() {
            let later =
                bins[i + 1..].iter().take_while(|(_, _, b)| b.at.since(bin.at) <= WINDOW_MS);
            for (other_device, other, other_bin) in later {
                let settled = self.apart.contains(&((*id).min(*other), (*id).max(*other)));
                if device != other_device && !settled && self.alike(bin, other_bin) {
                    pairs.push(Pair { first: *id, second: *other });
                }
            }
        }
        pairs
    }

    fn alike(&self, a: &BinKept, b: &BinKept) -> bool {
        let apart = (a.gross.grams() - b.gross.grams()).0.abs();
        (a.pick, a.place, &a.crop, &a.class) == (b.pick, b.place, &b.crop, &b.class)
            && apart <= self.holding.division().0
    }
}

fn device(bin: &Bin) -> Option<DeviceId> {
    bin.kept.as_ref().map(|kept| kept.stamp.device)
}
