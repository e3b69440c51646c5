//! Rounds, readings of thermometers, and forgetting.

use shared_types::entry::*;
use shared_types::ids::*;
use shared_types::units::{Grams, MilliCelsius};

use super::NOW;

pub(super) fn facts() -> Vec<Fact> {
    let person = PersonId::new(NOW, [2; 10]);
    let lot = LotId::new(NOW, [7; 10]);
    let room = RoomId::new(NOW, [6; 10]);
    vec![
        RoundMade {
            ripe: Some(Grams(6_400)),
            lost: Some(Grams(300)),
            left: Some(Grams(15_200)),
            ripe_room: Some(room),
            defect: Some("soft".into()),
            lost_count: Some(4),
            ..RoundMade::nothing(RoundId::new(NOW, [20; 10]), lot, NOW, person)
        }
        .into(),
        RoundStruck { round: RoundId::new(NOW, [20; 10]), person }.into(),
        ReadingsTaken {
            readings: ReadingsId::new(NOW, [21; 10]),
            room,
            source: "cellar sensor".into(),
            taken: vec![
                RoomReading {
                    at: NOW,
                    millidegrees: MilliCelsius(14_200),
                    humidity_permille: Some(610),
                },
                RoomReading {
                    at: NOW.plus(600_000),
                    millidegrees: MilliCelsius(-300),
                    humidity_permille: None,
                },
            ],
        }
        .into(),
        RoomClimateSet {
            room,
            follow: Some("swing".into()),
            by_day: Some(MilliCelsius(19_000)),
            by_night: Some(MilliCelsius(12_500)),
        }
        .into(),
        LearningReset {
            crop: "tomato".into(),
            at: NOW,
            person,
            variety: Some(VarietyId::new(NOW, [9; 10])),
        }
        .into(),
    ]
}
