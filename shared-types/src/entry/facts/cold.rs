//! What cold nights did.

use crate::ids::*;
use crate::units::{MilliCelsius, Millis};

fact! {
    /// What was seen at a place after a cold night.
    ColdChecked {
        /// The check's own name.
        check: ColdCheckId,
        /// Where.
        place: PlaceId,
        /// When, by the phone's clock.
        at: Millis,
        /// `frozen` or `thawed`: only the second look settles what the fruit may be used for.
        look: String,
        /// `alive`, `hurt` or `dead`.
        vines: String,
        /// `sound` or `frozen`.
        fruit: String,
        ?
        /// The lowest temperature of the night there.
        low: MilliCelsius,
    }
}
