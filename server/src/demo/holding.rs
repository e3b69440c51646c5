//! Kestrel Terrace itself: people, beds, rooms, bins and varieties. All invented.

use shared_types::entry::{
    BinTypeSet, HoldingSet, PersonSet, PlaceSet, RoomSet, StandingSet, VarietySet,
};
use shared_types::ids::{BinTypeId, PlaceId, RoomId, VarietyId};
use shared_types::units::{Altitude, Grams, MilliCelsius, Millis, WeightUnit};

use super::writer::{Writer, person, spread};

/// The grower first, then who came to help.
pub(super) const PEOPLE: [&str; 3] = ["Mara", "Tomas", "Wren"];

/// Name, under plastic, watering, plants, square decimetres.
type PlaceRow = (&'static str, bool, &'static str, i64, i64);

const PLACES: [PlaceRow; 7] = [
    ("Bed 1", true, "drip", 18, 810),
    ("Bed 2", true, "drip", 18, 810),
    ("Bed 3", true, "drip", 20, 900),
    ("Bed 5", false, "hand", 14, 700),
    ("Squash bank", false, "hand", 9, 1_600),
    ("Onion row", false, "none", 160, 400),
    ("The tunnel", true, "drip", 0, 9_000),
];

pub(super) const BED_1: usize = 0;
pub(super) const BED_2: usize = 1;
pub(super) const BED_3: usize = 2;
pub(super) const BED_5: usize = 3;
pub(super) const SQUASH_BANK: usize = 4;
pub(super) const ONION_ROW: usize = 5;
pub(super) const TUNNEL: usize = 6;

/// Name, degrees Celsius, relative humidity in percent.
const ROOMS: [(&str, i32, i64); 5] = [
    ("Kitchen window", 20, 50),
    ("Pantry shelf", 16, 65),
    ("Back room", 14, 75),
    ("Cellar", 7, 90),
    ("South porch", 8, 70),
];

pub(super) const WINDOW: usize = 0;
const PANTRY: usize = 1;
pub(super) const BACK_ROOM: usize = 2;
const CELLAR: usize = 3;
const PORCH: usize = 4;

/// Name, grams empty, grams in it when full.
const BIN_TYPES: [(&str, i64, i64); 3] =
    [("Lug", 700, 11_000), ("Bucket", 350, 6_000), ("Crate", 1_200, 14_000)];

pub(super) const LUG: usize = 0;
pub(super) const BUCKET: usize = 1;
pub(super) const CRATE: usize = 2;

/// Crop and name of each variety.
pub(super) const VARIETIES: [(&str, &str); 6] = [
    ("tomato", "Paste"),
    ("tomato", "Salad"),
    ("tomato", "Cherry"),
    ("pepper", "Bell"),
    ("winter-squash", "Buttercup"),
    ("onion", "Yellow keeper"),
];

pub(super) const PASTE: usize = 0;
pub(super) const SALAD: usize = 1;
pub(super) const CHERRY: usize = 2;
pub(super) const BELL: usize = 3;
pub(super) const BUTTERCUP: usize = 4;
pub(super) const KEEPER: usize = 5;

/// Where each class of a crop is put.
const STANDING: [(&str, &str, usize); 11] = [
    ("tomato", "ripe", PANTRY),
    ("tomato", "colouring", WINDOW),
    ("tomato", "green", BACK_ROOM),
    ("tomato", "hurt", PANTRY),
    ("pepper", "ripe", PANTRY),
    ("pepper", "colouring", WINDOW),
    ("pepper", "green", BACK_ROOM),
    ("winter-squash", "ripe", PORCH),
    ("winter-squash", "hurt", PANTRY),
    ("onion", "sound", CELLAR),
    ("onion", "hurt", PANTRY),
];

pub(super) fn place(n: usize) -> PlaceId {
    PlaceId::new(Millis(0), spread(100 + n as u32))
}

pub(super) fn room(n: usize) -> RoomId {
    RoomId::new(Millis(0), spread(200 + n as u32))
}

pub(super) fn bin_type(n: usize) -> BinTypeId {
    BinTypeId::new(Millis(0), spread(300 + n as u32))
}

pub(super) fn variety(n: usize) -> VarietyId {
    VarietyId::new(Millis(0), spread(400 + n as u32))
}

/// What the empty container weighs.
pub(super) fn tare(n: usize) -> Grams {
    Grams(BIN_TYPES[n].1)
}

/// Writes it all down, over a year ago.
pub(super) fn write(to: &mut Writer) {
    let at = to.ago(400, 0, 0);
    let holding = HoldingSet {
        name: Some("Kestrel Terrace".to_owned()),
        altitude: Some(Altitude::from_metres(870)),
        weight_unit: Some(WeightUnit::Kg),
        scale_division: Some(Grams(100)),
        kitchen_minutes: Some(240),
    };
    to.write(0, at, holding);
    for (who, name) in PEOPLE.into_iter().enumerate() {
        to.write(who, at, PersonSet { person: person(who), name: name.to_owned() });
    }
    for (n, (name, covered, watering, plants, area_dm2)) in PLACES.into_iter().enumerate() {
        let set = PlaceSet {
            place: place(n),
            name: Some(name.to_owned()),
            covered: Some(covered),
            watering: Some(watering.to_owned()),
            plants: Some(plants),
            area_dm2: Some(area_dm2),
            retired: None,
        };
        to.write(0, at, set);
    }
    for (n, (name, degrees, humidity)) in ROOMS.into_iter().enumerate() {
        let set = RoomSet {
            room: room(n),
            name: Some(name.to_owned()),
            temperature: Some(MilliCelsius::from_celsius(degrees)),
            humidity: Some(humidity),
            retired: None,
        };
        to.write(0, at, set);
    }
    for (n, (name, tare, full)) in BIN_TYPES.into_iter().enumerate() {
        let set = BinTypeSet {
            bin_type: bin_type(n),
            name: Some(name.to_owned()),
            tare: Some(Grams(tare)),
            full: Some(Grams(full)),
            retired: None,
        };
        to.write(0, at, set);
    }
    for (n, (crop, name)) in VARIETIES.into_iter().enumerate() {
        let set = VarietySet {
            variety: variety(n),
            crop: Some(crop.into()),
            name: Some(name.to_owned()),
            retired: None,
        };
        to.write(0, at, set);
    }
    for (crop, class, n) in STANDING {
        to.write(0, at, StandingSet { crop: crop.into(), class: class.into(), room: room(n) });
    }
}
