//! Rounds: a re-sort of a lot, or a look at something in store.

use crate::ids::*;
use crate::units::{Grams, Millis};

fact! {
    /// Someone went through a lot and said what they found. Weights that are absent are nothing,
    /// except `left`: when it is absent nobody weighed what stays.
    RoundMade {
        /// The round's own name.
        round: RoundId,
        /// Which lot.
        lot: LotId,
        /// When, by the phone's clock.
        at: Millis,
        /// Who looked.
        person: PersonId,
        ?
        /// Taken out ripe: from then on a lot of its own.
        ripe: Grams,
        /// Thrown away.
        lost: Grams,
        /// Set apart because it softens: from then on a lot of its own.
        soft: Grams,
        /// What stays, when it was weighed. What is missing has dried away.
        left: Grams,
        /// Where the ripe fruit was put, when not where ripe of its crop usually stands.
        ripe_room: RoomId,
        /// Why it was thrown, as a defect.
        defect: String,
        /// Whole fruit found sound, where one counts rather than weighs.
        sound_count: i64,
        /// Whole fruit found softening.
        soft_count: i64,
        /// Whole fruit thrown.
        lost_count: i64,
    }
}

impl RoundMade {
    /// A look that found everything as it was, to be filled in.
    pub const fn nothing(round: RoundId, lot: LotId, at: Millis, person: PersonId) -> Self {
        Self {
            round,
            lot,
            at,
            person,
            ripe: None,
            lost: None,
            soft: None,
            left: None,
            ripe_room: None,
            defect: None,
            sound_count: None,
            soft_count: None,
            lost_count: None,
        }
    }
}

fact! {
    /// Takes a round back, for ever: it was a slip. The round itself stays in the history.
    RoundStruck {
        /// Which round.
        round: RoundId,
        /// Who struck it.
        person: PersonId,
        ?
    }
}
