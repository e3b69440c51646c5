//! Where the holding lies, what stands where, and what cold nights were expected to do and did.

use crate::ids::*;
use crate::units::{Day, MilliCelsius, Millis};

fact! {
    /// Writes fields of the site: what sunset, the calendar and a cold night depend on.
    #[derive(Default)]
    SiteSet { ?
        /// Latitude in millionths of a degree, north positive (WGS 84).
        latitude_udeg: i64,
        /// Longitude in millionths of a degree, east positive (WGS 84).
        longitude_udeg: i64,
        /// Time zone by its IANA name, such as `Europe/Vienna`.
        zone: String,
        /// Minutes after sunrise until the sun is over the hill.
        shadow_morning_minutes: i64,
        /// Minutes before sunset at which it goes behind the hill.
        shadow_evening_minutes: i64,
    }
}

fact! {
    /// Writes fields of a planting: what stands where, from when to when.
    PlantingSet {
        /// Which planting.
        planting: PlantingId,
        ?
        /// Where it stands.
        place: PlaceId,
        /// The crop.
        crop: CropId,
        /// The variety.
        variety: VarietyId,
        /// How many plants.
        plants: i64,
        /// Its surface in square decimetres.
        area_dm2: i64,
        /// The day it was planted or sown there.
        from: Day,
        /// The day it was cleared away.
        cleared: Day,
    }
}

fact! {
    /// Writes fields of what covers a place: a tunnel, a fleece.
    CoverSet {
        /// Which place.
        place: PlaceId,
        ?
        /// Length in millimetres.
        length_mm: i64,
        /// Width in millimetres.
        width_mm: i64,
        /// Height in millimetres.
        height_mm: i64,
        /// Layers of film: two when inflated.
        layers: i64,
        /// What it is: `tunnel`, `low_tunnel`, `fleece`, or `none`.
        cover: String,
    }
}

fact! {
    /// What one evening was like, for the night that follows. Of two notes of one evening at one
    /// place the later one stands.
    EveningNoted {
        /// The note's own name.
        night: NightId,
        /// The day whose evening it was.
        day: Day,
        /// When it was read, by the phone's clock.
        at: Millis,
        /// Air temperature.
        temperature: MilliCelsius,
        /// Who read it.
        person: PersonId,
        ?
        /// Where; the whole holding when left out.
        place: PlaceId,
        /// Dew point.
        dew_point: MilliCelsius,
        /// Relative humidity in thousandths, when the dew point was not read.
        humidity_permille: i64,
        /// The low the official forecast gives.
        official_low: MilliCelsius,
        /// `clear`, `part_cloud`, `cloud`, `fog` or `rain`.
        sky: String,
        /// `calm`, `light` (leaves just move, under 2 m/s) or `windy`.
        wind: String,
        /// Height of the thermometer over the ground in millimetres.
        sensor_height_mm: i64,
    }
}

fact! {
    /// How low a night went. Of two notes of one night at one place the later one stands.
    LowNoted {
        /// The note's own name.
        low: LowId,
        /// The day whose evening began the night.
        day: Day,
        /// The lowest temperature.
        temperature: MilliCelsius,
        /// Who read it.
        person: PersonId,
        ?
        /// Where; the whole holding when left out.
        place: PlaceId,
    }
}
