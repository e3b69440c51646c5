//! Rounds.

use shared_types::entry::*;
use shared_types::ids::*;
use shared_types::units::Grams;

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
    ]
}
