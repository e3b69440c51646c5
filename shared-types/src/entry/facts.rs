//! The payload of each kind.
//!
//! Two shapes recur. A `…-set` fact writes fields of a thing, each field a register of its own:
//! what is absent stays as it was, so two people changing different fields of one room both win.
//! Every other fact happens once and adds to what is known.
//!
//! Words such as a class or a defect are kept as written, known to this program or not.

use serde::{Deserialize, Serialize};

use crate::ids::*;
use crate::units::{Altitude, Day, Grams, MilliCelsius, Millis, Reading, WeightUnit};

macro_rules! fact {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident: $kind:ty,)* ? $($(#[$opt_doc:meta])* $opt:ident: $opt_kind:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
        pub struct $name {
            $($(#[$field_doc])* pub $field: $kind,)*
            $($(#[$opt_doc])* #[serde(default, skip_serializing_if = "Option::is_none")] pub $opt: Option<$opt_kind>,)*
        }
    };
}

fact! {
    /// Writes fields of the holding.
    #[derive(Default)]
    HoldingSet { ?
        /// What the holding is called.
        name: String,
        /// Its height above the sea, in tenths of a millimetre.
        altitude: Altitude,
        /// What its scale shows in.
        weight_unit: WeightUnit,
        /// The smallest step of its scale: two readings this close may be one bin.
        scale_division: Grams,
        /// Minutes of work the kitchen has on a usual day.
        kitchen_minutes: i64,
    }
}

fact! {
    /// Names a person.
    PersonSet {
        /// Who.
        person: PersonId,
        /// What they are called.
        name: String,
        ?
    }
}

fact! {
    /// Writes fields of a place.
    PlaceSet {
        /// Which place.
        place: PlaceId,
        ?
        /// What it is called.
        name: String,
        /// Whether it is under plastic.
        covered: bool,
        /// How it is watered, such as `drip` or `hand`.
        watering: String,
        /// Plants standing there.
        plants: i64,
        /// Its surface in square decimetres.
        area_dm2: i64,
        /// No longer offered for picking.
        retired: bool,
    }
}

fact! {
    /// Writes fields of a room.
    RoomSet {
        /// Which room.
        room: RoomId,
        ?
        /// What it is called.
        name: String,
        /// Its usual temperature, thousandths of a degree Celsius.
        temperature: MilliCelsius,
        /// Its usual relative humidity, percent.
        humidity: i64,
        /// No longer used.
        retired: bool,
    }
}

fact! {
    /// Writes fields of a kind of container.
    BinTypeSet {
        /// Which kind.
        bin_type: BinTypeId,
        ?
        /// What it is called.
        name: String,
        /// What it weighs empty and dry.
        tare: Grams,
        /// What is in it when it is full.
        full: Grams,
        /// No longer used.
        retired: bool,
    }
}

fact! {
    /// Writes fields of a variety.
    VarietySet {
        /// Which variety.
        variety: VarietyId,
        ?
        /// The crop it is of.
        crop: CropId,
        /// What it is called.
        name: String,
        /// No longer grown.
        retired: bool,
    }
}

fact! {
    /// Says in which room a class of a crop is put after picking, unless a bin says otherwise.
    StandingSet {
        /// Of which crop.
        crop: CropId,
        /// Which class of it.
        class: ClassId,
        /// Where it stands.
        room: RoomId,
        ?
    }
}

fact! {
    /// Opens a pick, or writes fields of one.
    PickSet {
        /// Which pick.
        pick: PickId,
        ?
        /// The day it was picked.
        day: Day,
        /// Why, or what it is called.
        name: String,
        /// Whether it is over; a closed pick still takes a late phone's bins.
        closed: bool,
    }
}

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
