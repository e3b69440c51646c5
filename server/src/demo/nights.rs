//! The site, what stands where, twelve logged nights, stores and an earlier season. All invented; the
//! site is round numbers on purpose, and nowhere in particular.

use shared_types::entry::{
    BinCounted, CoverSet, CureSet, EveningNoted, LowNoted, PlantingSet, RoundMade, SeasonRecorded,
    SiteSet,
};
use shared_types::ids::{LowId, NightId, PlantingId, RecordId, RoundId};
use shared_types::outlook::tonight;
use shared_types::trade::cold;
use shared_types::units::{Day, Grams, HOUR_MS, MINUTE_MS, MilliCelsius};

use super::holding::{
    BED_1, BED_2, BED_3, BED_5, BELL, BUTTERCUP, CHERRY, KEEPER, ONION_ROW, PASTE, SALAD,
    SQUASH_BANK, TUNNEL, VARIETIES, place, variety,
};
use super::writer::{Writer, person};

/// Evening air and dew point two hours after sunset, and the night's low, thousandths of a degree;
/// the latest night first.
const NIGHTS: [(i32, i32, i32); 12] = [
    (5_100, 1_200, -300),
    (2_100, -4_400, -3_900),
    (4_800, 600, -900),
    (6_900, 3_900, 1_800),
    (3_600, -1_800, -2_300),
    (7_400, 2_200, 1_300),
    (5_900, -600, -400),
    (4_100, -2_700, -2_100),
    (8_300, 4_700, 2_900),
    (6_200, 1_900, 600),
    (3_200, -3_100, -2_900),
    (7_000, 700, 900),
];

/// Place, variety, plants, still standing.
const PLANTINGS: [(usize, usize, i64, bool); 7] = [
    (BED_1, PASTE, 18, true),
    (BED_2, SALAD, 10, true),
    (BED_2, BELL, 8, true),
    (BED_3, PASTE, 20, true),
    (BED_5, CHERRY, 14, false),
    (SQUASH_BANK, BUTTERCUP, 9, false),
    (ONION_ROW, KEEPER, 160, false),
];

/// Crop, variety, place, grams, plants: two seasons ago.
const EARLIER: [(&str, &str, &str, i64, i64); 5] = [
    ("tomato", "Paste", "Bed 1", 41_500, 18),
    ("tomato", "Salad", "Bed 2", 33_200, 16),
    ("tomato", "Cherry", "Bed 5", 12_900, 14),
    ("winter-squash", "Buttercup", "Squash bank", 31_800, 8),
    ("onion", "Yellow keeper", "Onion row", 19_600, 140),
];

pub(super) fn write(to: &mut Writer) {
    site(to);
    plantings(to);
    nights(to);
    stores(to);
    earlier(to);
}

fn site(to: &mut Writer) {
    let at = to.ago(0, 0, 2);
    let set = SiteSet {
        latitude_udeg: Some(47_000_000),
        longitude_udeg: Some(0),
        zone: Some("Etc/UTC".to_owned()),
        shadow_morning_minutes: Some(35),
        shadow_evening_minutes: Some(20),
    };
    to.write(0, at, set);
    let tunnel = CoverSet {
        place: place(TUNNEL),
        length_mm: Some(18_000),
        width_mm: Some(5_000),
        height_mm: Some(2_500),
        layers: Some(1),
        cover: Some("tunnel".to_owned()),
    };
    to.write(0, at, tunnel);
    for bed in [BED_1, BED_2, BED_3] {
        let fleece = CoverSet {
            place: place(bed),
            length_mm: None,
            width_mm: None,
            height_mm: None,
            layers: None,
            cover: Some("light-fabric".to_owned()),
        };
        to.write(0, at, fleece);
    }
}

fn plantings(to: &mut Writer) {
    let at = to.ago(0, 0, 2);
    for (bed, kind, plants, stands) in PLANTINGS {
        let years = [(140, (!stands).then_some(1)), (506, Some(360))];
        for (from, cleared) in years {
            let set = PlantingSet {
                planting: PlantingId::new(at, to.random()),
                place: Some(place(bed)),
                crop: Some(VARIETIES[kind].0.into()),
                variety: Some(variety(kind)),
                plants: Some(plants),
                area_dm2: None,
                from: Some(to.today.plus(-from)),
                cleared: cleared.map(|days| to.today.plus(-days)),
            };
            to.write(0, at, set);
        }
    }
    let kale = PlantingSet {
        planting: PlantingId::new(at, to.random()),
        place: Some(place(ONION_ROW)),
        crop: Some("kale".into()),
        variety: None,
        plants: Some(12),
        area_dm2: None,
        from: Some(to.today.plus(-95)),
        cleared: None,
    };
    to.write(0, at, kale);
}

fn nights(to: &mut Writer) {
    let at = to.ago(0, 0, 1);
    let site = tonight::site(&to.book).expect("the demo's site is on earth");
    for (n, (air, dew, low)) in (1..).zip(NIGHTS) {
        let day = to.today.plus(-n);
        let night = cold::night(&site, day, 0).expect("the sun sets at 47 degrees");
        // A few minutes either way, as people read thermometers.
        let read = night.sunset.plus(2 * HOUR_MS + i64::from(n % 5 - 2) * 4 * MINUTE_MS);
        let evening = EveningNoted {
            night: NightId::new(read, to.random()),
            day,
            at: read,
            temperature: MilliCelsius(air),
            person: person(0),
            place: None,
            dew_point: Some(MilliCelsius(dew)),
            humidity_permille: None,
            official_low: Some(MilliCelsius((low + 2_000) / 1_000 * 1_000)),
            sky: Some("clear".to_owned()),
            wind: Some("calm".to_owned()),
            sensor_height_mm: Some(1_500),
        };
        to.write(0, at, evening);
        let noted = LowNoted {
            low: LowId::new(read, to.random()),
            day,
            temperature: MilliCelsius(low),
            person: person(0),
            place: None,
        };
        to.write(0, at, noted);
    }
}

/// The squash was looked at two days ago, and the onions lie curing.
fn stores(to: &mut Writer) {
    let at = to.ago(2, 3, 0);
    let lots = to.book.lots();
    let recent = |day: Day| to.today.since(day) < 30;
    let squash = lots.all.values().find(|lot| {
        lot.crop.as_str() == "winter-squash" && lot.class.as_str() == "ripe" && recent(lot.day)
    });
    let onions = lots.all.values().find(|lot| lot.crop.as_str() == "onion" && recent(lot.day));
    let (squash, onions) = (squash.map(|lot| lot.id), onions.map(|lot| (lot.id, lot.room())));
    if let Some(lot) = squash {
        let look = RoundMade {
            lost: Some(Grams(1_100)),
            defect: Some("soft".to_owned()),
            sound_count: Some(33),
            soft_count: Some(1),
            lost_count: Some(1),
            ..RoundMade::nothing(RoundId::new(at, to.random()), lot, at, person(2))
        };
        to.write(2, at, look);
    }
    if let Some((lot, room)) = onions {
        let curing = CureSet {
            lot,
            cured: Some(false),
            from: Some(to.today.plus(-5)),
            until: Some(to.today.plus(9)),
            room,
        };
        to.write(0, at, curing);
    }
    let crate_of_squash = to.book.counted().find_map(|(id, bin)| {
        let now = bin.now()?;
        (now.crop.as_str() == "winter-squash" && now.at > at.plus(-10 * 24 * HOUR_MS)).then_some(id)
    });
    if let Some(bin) = crate_of_squash {
        let count = BinCounted {
            bin,
            fruits: Some(12),
            guess: Some(Grams(14_000)),
            name: Some("Wren".to_owned()),
        };
        to.write(2, at, count);
    }
}

fn earlier(to: &mut Writer) {
    let at = to.ago(0, 0, 1);
    let year = to.today.year() - 2;
    for (crop, name, bed, grams, plants) in EARLIER {
        let record = SeasonRecorded {
            record: RecordId::new(at, to.random()),
            year: i64::from(year),
            crop: crop.into(),
            grams: Grams(grams),
            variety: Some(name.to_owned()),
            place: Some(bed.to_owned()),
            plants: Some(plants),
            area_dm2: None,
            first: Day::from_ymd(year, 8, 14),
            last: Day::from_ymd(year, 10, 2),
            note: Some("from the kitchen notebook".to_owned()),
        };
        to.write(0, at, record);
    }
}
