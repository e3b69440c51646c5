//! What becomes of lots: where they are carried, what is taken out of them.

use crate::ids::*;
use crate::units::{Grams, Millis};

fact! {
    /// A whole lot was carried to another room.
    LotMoved {
        /// Which lot.
        lot: LotId,
        /// Where to.
        room: RoomId,
        /// When, by the phone's clock.
        at: Millis,
        ?
    }
}

fact! {
    /// Kilograms were taken out of a lot.
    LotUsed {
        /// This taking's own name.
        taking: UseId,
        /// Out of which lot.
        lot: LotId,
        /// How much.
        grams: Grams,
        /// `jar`, `freeze`, `dry`, `fresh`, `feed`, `compost` or `lost`.
        what: String,
        /// When, by the phone's clock.
        at: Millis,
        ?
    }
}
