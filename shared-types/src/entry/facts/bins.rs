//! Bins as they are carried in, what is put right about them, and guesses at their total.

use crate::ids::*;
use crate::units::{Grams, Millis, Reading};

fact! {
    /// A bin was filled, weighed and kept.
    BinKept {
        /// The bin's own name.
        bin: BinId,
        /// The outing.
        pick: PickId,
        /// Where it was picked.
        place: PlaceId,
        /// The crop.
        crop: CropId,
        /// What it can be used for, by the crop's own classes.
        class: ClassId,
        /// What the scale showed.
        gross: Reading,
        /// What the empty bin weighs.
        tare: Grams,
        /// Who picked.
        person: PersonId,
        /// When, by the phone's clock.
        at: Millis,
        ?
        /// The variety.
        variety: VarietyId,
        /// The colour stage, if anyone looked.
        stage: String,
        /// What is wrong with it.
        defect: String,
        /// The kind of container.
        bin_type: BinTypeId,
        /// Where it was put, when not where its class usually stands.
        room: RoomId,
        /// The tag on the container.
        tag: String,
    }
}

fact! {
    /// Writes fields of a bin anew; what was there before stays in its history.
    BinCorrected {
        /// Which bin.
        bin: BinId,
        /// Who corrects.
        person: PersonId,
        ?
        /// Picked elsewhere.
        place: PlaceId,
        /// Another crop.
        crop: CropId,
        /// Another class.
        class: ClassId,
        /// Another variety.
        variety: VarietyId,
        /// Another reading.
        gross: Reading,
        /// Another empty weight.
        tare: Grams,
        /// Another stage.
        stage: String,
        /// Another defect; empty for none.
        defect: String,
        /// Another room.
        room: RoomId,
    }
}

impl BinCorrected {
    /// A correction of nothing yet, to be filled in.
    pub const fn nothing(bin: BinId, person: PersonId) -> Self {
        Self {
            bin,
            person,
            place: None,
            crop: None,
            class: None,
            variety: None,
            gross: None,
            tare: None,
            stage: None,
            defect: None,
            room: None,
        }
    }
}

fact! {
    /// Takes a bin out of every total, for ever. The bin itself stays in the history.
    BinStruck {
        /// Which bin.
        bin: BinId,
        /// Who struck it.
        person: PersonId,
        ?
        /// Why, when not simply undone.
        why: String,
    }
}

fact! {
    /// Two bins that look like one are two.
    BinsApart {
        /// One.
        one: BinId,
        /// The other.
        other: BinId,
        ?
    }
}

fact! {
    /// A guess at what a pick will weigh.
    GuessMade {
        /// The guess's own name.
        guess: GuessId,
        /// Which pick.
        pick: PickId,
        /// Who guesses.
        name: String,
        /// How much.
        grams: Grams,
        ?
    }
}
