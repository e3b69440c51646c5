//! What is done with what keeps, and what earlier seasons gave.

use crate::ids::*;
use crate::units::{Day, Grams};

fact! {
    /// Writes fields of a lot's curing.
    CureSet {
        /// Which lot.
        lot: LotId,
        ?
        /// Whether it is cured; `false` while it lies curing.
        cured: bool,
        /// The day curing began.
        from: Day,
        /// The day it ended, or is to end.
        until: Day,
        /// Where it lies curing.
        room: RoomId,
    }
}

fact! {
    /// Writes fields of the fruits in a bin, where they are few and large.
    BinCounted {
        /// Which bin.
        bin: BinId,
        ?
        /// How many fruits are in it.
        fruits: i64,
        /// What someone guessed they weigh, before the scale.
        guess: Grams,
        /// Who guessed.
        name: String,
    }
}

fact! {
    /// What an earlier season gave, from someone's own notes.
    SeasonRecorded {
        /// The record's own name.
        record: RecordId,
        /// The year of the harvest.
        year: i64,
        /// The crop.
        crop: CropId,
        /// How much.
        grams: Grams,
        ?
        /// The variety, in words.
        variety: String,
        /// The place, in words.
        place: String,
        /// How many plants.
        plants: i64,
        /// The surface in square decimetres.
        area_dm2: i64,
        /// The first day of picking.
        first: Day,
        /// The last.
        last: Day,
        /// A remark.
        note: String,
    }
}

fact! {
    /// Takes a record of an earlier season out again, for ever.
    SeasonStruck {
        /// Which record.
        record: RecordId,
        /// Who struck it.
        person: PersonId,
        ?
    }
}
