//! What a holding is made of: people, places, rooms, kinds of container, varieties, picks.

use crate::ids::*;
use crate::units::{Altitude, Day, Grams, MilliCelsius, WeightUnit};

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
