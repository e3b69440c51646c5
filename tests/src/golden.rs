//! The golden vectors: one entry of every kind and one message of every type, byte for byte.
//!
//! `cargo run -p tests --bin golden` prints them as this program writes them. They are frozen:
//! a difference means that phones in the field would no longer be understood.

mod kitchen;
mod rounds;

use serde::Serialize;
use serde_json::value::RawValue;
use shared_types::entry::*;
use shared_types::hlc::Hlc;
use shared_types::ids::*;
use shared_types::units::{Altitude, Day, Grams, MilliCelsius, Millis, Reading, WeightUnit};
use shared_types::wire::*;

const NOW: Millis = Millis(1_791_500_400_000);

/// One of every kind, as a log of one device.
pub fn entries() -> Vec<Entry> {
    let bin = BinId::new(NOW, [5; 10]);
    let person = PersonId::new(NOW, [2; 10]);
    let pick = PickId::new(NOW, [4; 10]);
    let place = PlaceId::new(NOW, [3; 10]);
    let room = RoomId::new(NOW, [6; 10]);
    let lot = LotId::new(NOW, [7; 10]);
    let mut facts: Vec<Fact> = vec![
        HoldingSet {
            name: Some("Kestrel Terrace".into()),
            altitude: Some(Altitude::from_metres(870)),
            weight_unit: Some(WeightUnit::Kg),
            scale_division: Some(Grams(100)),
            kitchen_minutes: Some(240),
        }
        .into(),
        PersonSet { person, name: "Juniper".into() }.into(),
        PlaceSet {
            place,
            name: Some("Bed 3".into()),
            covered: Some(true),
            watering: Some("drip".into()),
            plants: Some(24),
            area_dm2: Some(1_080),
            retired: None,
        }
        .into(),
        RoomSet {
            room,
            name: Some("Back room, 14°".into()),
            temperature: Some(MilliCelsius::from_celsius(14)),
            humidity: Some(80),
            retired: Some(false),
        }
        .into(),
        BinTypeSet {
            bin_type: BinTypeId::new(NOW, [8; 10]),
            name: Some("Lug".into()),
            tare: Some(Grams(700)),
            full: Some(Grams(11_000)),
            retired: None,
        }
        .into(),
        VarietySet {
            variety: VarietyId::new(NOW, [9; 10]),
            crop: Some("tomato".into()),
            name: Some("Paste".into()),
            retired: None,
        }
        .into(),
        StandingSet { crop: "tomato".into(), class: "green".into(), room }.into(),
        PickSet {
            pick,
            day: Day::from_ymd(2026, 10, 9),
            name: Some("Last clear-out".into()),
            closed: None,
        }
        .into(),
        BinKept {
            bin,
            pick,
            place,
            crop: "tomato".into(),
            class: "colouring".into(),
            gross: Reading { unit: WeightUnit::Kg, thousandths: 10_100 },
            tare: Grams(700),
            person,
            at: NOW,
            variety: Some(VarietyId::new(NOW, [9; 10])),
            stage: Some("turning".into()),
            defect: None,
            bin_type: Some(BinTypeId::new(NOW, [8; 10])),
            room: None,
            tag: Some("A7".into()),
        }
        .into(),
        BinCorrected {
            bin,
            person,
            place: None,
            crop: None,
            class: Some("ripe".into()),
            variety: None,
            gross: Some(Reading { unit: WeightUnit::Lb, thousandths: 22_250 }),
            tare: None,
            stage: Some(String::new()),
            defect: None,
            room: None,
        }
        .into(),
        BinStruck { bin, person, why: Some("weighed twice".into()) }.into(),
        BinsApart { one: bin, other: BinId::new(NOW, [55; 10]) }.into(),
        GuessMade {
            guess: GuessId::new(NOW, [10; 10]),
            pick,
            name: "Rowan".into(),
            grams: Grams(92_000),
        }
        .into(),
        ColdChecked {
            check: ColdCheckId::new(NOW, [11; 10]),
            place,
            at: NOW,
            look: "thawed".into(),
            vines: "dead".into(),
            fruit: "sound".into(),
            low: Some(MilliCelsius(-3_200)),
        }
        .into(),
        LotMoved { lot, room, at: NOW }.into(),
        LotUsed {
            taking: UseId::new(NOW, [12; 10]),
            lot,
            grams: Grams(6_400),
            what: "jar".into(),
            at: NOW,
        }
        .into(),
    ];
    facts.extend(kitchen::facts());
    facts.extend(nights(person, place));
    facts.extend(stores(person, bin, lot, room));
    facts.extend(rounds::facts());
    let device = DeviceId::new(NOW, [1; 10]);
    (1..)
        .zip(facts)
        .map(|(device_seq, fact)| {
            let hlc = Hlc(NOW.plus(device_seq as i64 * 1_000), (device_seq % 3) as u16);
            Entry::new(EntryId { device, device_seq }, hlc, &fact).expect("vectors are small")
        })
        .collect()
}

/// The site, plantings and cold nights.
fn nights(person: PersonId, place: PlaceId) -> [Fact; 5] {
    let day = Day::from_ymd(2026, 10, 9).expect("a day");
    [
        SiteSet {
            latitude_udeg: Some(46_812_500),
            longitude_udeg: Some(-10_250_000),
            zone: Some("Europe/Vienna".into()),
            shadow_morning_minutes: Some(35),
            shadow_evening_minutes: Some(50),
        }
        .into(),
        PlantingSet {
            planting: PlantingId::new(NOW, [14; 10]),
            place: Some(place),
            crop: Some("tomato".into()),
            variety: Some(VarietyId::new(NOW, [9; 10])),
            plants: Some(18),
            area_dm2: Some(810),
            from: Day::from_ymd(2026, 5, 28),
            cleared: None,
        }
        .into(),
        CoverSet {
            place,
            length_mm: Some(20_000),
            width_mm: Some(5_000),
            height_mm: Some(2_500),
            layers: Some(1),
            cover: Some("tunnel".into()),
        }
        .into(),
        EveningNoted {
            night: NightId::new(NOW, [15; 10]),
            day,
            at: NOW,
            temperature: MilliCelsius(3_200),
            person,
            place: Some(place),
            dew_point: Some(MilliCelsius(-4_200)),
            humidity_permille: Some(580),
            official_low: Some(MilliCelsius(1_000)),
            sky: Some("clear".into()),
            wind: Some("calm".into()),
            sensor_height_mm: Some(1_500),
        }
        .into(),
        LowNoted {
            low: LowId::new(NOW, [16; 10]),
            day,
            temperature: MilliCelsius(-3_100),
            person,
            place: None,
        }
        .into(),
    ]
}

/// What keeps, and earlier seasons.
fn stores(person: PersonId, bin: BinId, lot: LotId, room: RoomId) -> [Fact; 4] {
    let record = RecordId::new(NOW, [17; 10]);
    [
        CureSet {
            lot,
            cured: Some(false),
            from: Day::from_ymd(2026, 10, 9),
            until: Day::from_ymd(2026, 10, 19),
            room: Some(room),
        }
        .into(),
        BinCounted { bin, fruits: Some(3), guess: Some(Grams(41_000)), name: Some("Rowan".into()) }
            .into(),
        SeasonRecorded {
            record,
            year: 2024,
            crop: "tomato".into(),
            grams: Grams(84_200),
            variety: Some("Paste".into()),
            place: Some("Bed 3".into()),
            plants: Some(20),
            area_dm2: Some(900),
            first: Day::from_ymd(2024, 8, 12),
            last: Day::from_ymd(2024, 10, 3),
            note: Some("early frost".into()),
        }
        .into(),
        SeasonStruck { record, person }.into(),
    ]
}

/// One of every message, by name.
pub fn messages() -> Vec<(&'static str, String)> {
    let entries = entries();
    let device = entries[0].device;
    let epoch = EpochId::new(NOW, [13; 10]);
    let person = PersonId::new(NOW, [2; 10]);
    // Of the first kinds only: a kind that is added must leave the vectors before it as they are.
    let digest = entries[..16].iter().fold(Digest::default(), |d, entry| d.then(entry.hash()));
    let state = RawValue::from_string("{}".to_owned()).expect("JSON");
    let row = |seq, content| LogRow { seq, content };
    let mut all = vec![
        (
            "hello",
            json(&Hello { name: "lugbook".into(), v: 1, oldest: 1, epoch, server_time: NOW }),
        ),
        (
            "enrol-request",
            json(&EnrolRequest {
                v: 1,
                code: "K7QM-2RTX".into(),
                name: "Juniper".into(),
                device,
                person,
            }),
        ),
        (
            "enrolled",
            json(&Enrolled { device, token: "lb_example".into(), role: Role::Owner, epoch }),
        ),
        ("renew-request", json(&RenewRequest { v: 1, device })),
        (
            "exchange-request",
            json(&ExchangeRequest { v: 1, epoch: None, cursor: 0, entries: vec![] }),
        ),
        (
            "exchange-request",
            json(&ExchangeRequest {
                v: 1,
                epoch: Some(epoch),
                cursor: 41,
                entries: entries[7..10].to_vec(),
            }),
        ),
        (
            "exchange-reply",
            json(&ExchangeReply {
                v: 1,
                epoch,
                acked: 10,
                rows: vec![row(42, Content::Own(8)), row(43, Content::Entry(entries[12].clone()))],
                cursor: 43,
                more: true,
                digest,
                server_time: NOW,
            }),
        ),
        (
            "snapshot",
            json(&Snapshot {
                epoch,
                seq: 43,
                fold_version: 1,
                digest,
                own: 8,
                devices: Default::default(),
                state,
            }),
        ),
        ("announcement", json(&Announcement { epoch, seq: 43 })),
        ("code", json(&Code { code: "K7QM-2RTX".into(), until: NOW })),
        (
            "device-info",
            json(&DeviceInfo {
                device,
                person,
                name: "Juniper".into(),
                role: Role::Helper,
                enrolled: NOW,
                seen: Some(NOW),
                revoked: None,
            }),
        ),
        ("revoke-request", json(&RevokeRequest { device })),
    ];
    all.extend(refusals().into_iter().map(|code| ("refusal", json(&Refusal::from(code)))));
    all
}

/// Every refusal code.
pub fn refusals() -> Vec<RefusalCode> {
    vec![
        RefusalCode::Malformed { reason: "expected `v` at line 1 column 2".into() },
        RefusalCode::AppTooOld { oldest: 1 },
        RefusalCode::ServerTooOld { newest: 1 },
        RefusalCode::TokenUnknown,
        RefusalCode::Revoked,
        RefusalCode::Forbidden,
        RefusalCode::CodeWrong,
        RefusalCode::SlowDown { retry_ms: 42_000 },
        RefusalCode::DeviceForked { device_seq: 9 },
        RefusalCode::Gap { expected: 7 },
        RefusalCode::DeviceMismatch,
        RefusalCode::ClockAhead { server_time: NOW, stored_through: 6 },
        RefusalCode::EpochChanged { epoch: EpochId::new(NOW, [13; 10]) },
        RefusalCode::CursorExpired { oldest: 500 },
        RefusalCode::CursorAhead { latest: 40 },
        RefusalCode::EntryTooLarge { device_seq: 9 },
        RefusalCode::BatchTooLarge,
        RefusalCode::NotFound,
        RefusalCode::StorageFailed,
        RefusalCode::Busy,
        RefusalCode::Internal,
    ]
}

/// The entries as `hash entry` lines.
pub fn entries_text() -> String {
    entries().iter().map(|entry| format!("{} {}\n", entry.hash(), json(entry))).collect()
}

/// The messages as `type message` lines.
pub fn messages_text() -> String {
    messages().iter().map(|(name, message)| format!("{name} {message}\n")).collect()
}

fn json(value: &impl Serialize) -> String {
    serde_json::to_string(value).expect("messages are plain data")
}
