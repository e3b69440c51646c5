//! The trade's answers for a book: what will be ripe, what it may be used for, what to make.
//!
//! The log knows facts and the trade knows tables; here they meet. Everything is a function of a
//! [`Book`](crate::book::Book) and a [`Today`], so the phone's screens, the command line and the
//! HTTP API give the same answer.
//!
//! Words in the log are open (a newer phone may write a defect this program does not know); the
//! trade's are closed. A word that is not known is read as the most cautious one that fits, never
//! as none: see [`asked`].

mod confirmed;
mod fitness;
pub mod kitchen;
mod learning;
pub mod pantry;
mod ripening;
mod rooms;
pub mod season;
pub mod stores;
#[cfg(test)]
mod tests;
pub mod tonight;

pub use confirmed::confirmed;
pub use fitness::asked;
pub use kitchen::{NoAltitude, kitchen};
pub use learning::{learned, variety_key};
pub use ripening::{Moved, Outlook, StandingLot, move_lot, moves_of, outlook, outlook_with};
pub use rooms::{Follows, ROOM_UNSET, follows};
pub use season::{Season, season};
pub use stores::{StoreRow, StoresBook, stores};
pub use tonight::{NoTonight, TonightBook, chores, tonight};

use crate::units::{Day, MINUTE_MS, Millis};

/// Which day it is, and how the clocks at the holding stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Today {
    /// The day.
    pub day: Day,
    /// Minutes that clocks at the holding are ahead of UTC.
    pub offset_minutes: i32,
}

impl Today {
    /// The day at `now` for a clock `offset_minutes` ahead of UTC.
    pub fn at(now: Millis, offset_minutes: i32) -> Self {
        Self { day: Day::at(now, offset_minutes), offset_minutes }
    }

    /// The midnight that begins it.
    pub fn start(self) -> Millis {
        self.day.start().plus(-i64::from(self.offset_minutes) * MINUTE_MS)
    }
}
