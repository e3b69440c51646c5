//! One of every kind of the kitchen's facts.

use shared_types::entry::*;
use shared_types::ids::*;
use shared_types::units::{Day, Grams};

use super::NOW;

pub(super) fn facts() -> Vec<Fact> {
    let person = PersonId::new(NOW, [2; 10]);
    let lot = LotId::new(NOW, [7; 10]);
    let plan = PlanId::new(NOW, [14; 10]);
    let batch = BatchId::new(NOW, [15; 10]);
    let day = Day::from_ymd(2026, 10, 10).expect("a day");
    let lots = vec![LotPart { lot, grams: Grams(7_500) }];
    vec![
        KitchenSet {
            burners: Some(4),
            loads_per_day: Some(3),
            jars_per_load: Some(7),
            pressure_canner: Some("weighted".into()),
            steam_canner: Some(true),
            dryer_per_day: Some(Grams(4_000)),
            freezer_per_day: Some(Grams(6_000)),
            freezer_free: Some(Grams(40_000)),
            fresh_per_day: Some(Grams(1_500)),
            jar: Some("quart".into()),
            weekday_minutes: Some(vec![90, 90, 90, 90, 90, 240, 300]),
        }
        .into(),
        HandsSet { day, minutes: 240 }.into(),
        StockSet { item: "jar-quart".into(), have: Some(21) }.into(),
        WantSet {
            method: "tomato-sauce-thin".into(),
            weight: Some(150),
            most: Some(Grams(40_000)),
        }
        .into(),
        PlanKept {
            plan,
            at: NOW,
            person,
            day,
            days: 14,
            keeps: Grams(41_000),
            of: Grams(46_000),
            gap: 120,
            said: vec!["5 kg of soft paste will be lost by Thursday.".into()],
        }
        .into(),
        BatchSet {
            batch,
            plan: Some(plan),
            method: Some("tomato-sauce-thin".into()),
            day: Some(day),
            start_minute: Some(510),
            jar: Some("quart".into()),
            jars: Some(3),
            lots: Some(lots.clone()),
            why: Some("The paste is at its best.".into()),
            pinned: Some(true),
            dropped: None,
            begun: Some(false),
        }
        .into(),
        TickSet { task: format!("batch/{batch}/step/0"), done: true, person }.into(),
        BatchMade {
            batch,
            at: NOW,
            person,
            method: "tomato-sauce-thin".into(),
            what: "jar".into(),
            used: lots,
            out: vec![JarsOut { jar: "quart".into(), count: 3 }],
            place: Some("Cellar".into()),
            note: None,
        }
        .into(),
        BatchStruck { batch: BatchId::new(NOW, [16; 10]), person, why: None }.into(),
        SealsChecked {
            check: SealCheckId::new(NOW, [17; 10]),
            batch,
            at: NOW,
            person,
            failed: 1,
            jar: Some("quart".into()),
            became: Some("fridge".into()),
        }
        .into(),
        JarsUsed {
            taking: UseId::new(NOW, [18; 10]),
            batch,
            jar: "quart".into(),
            count: 1,
            at: NOW,
            person,
        }
        .into(),
        RowConfirmed {
            method: "tomatoes-whole-water".into(),
            row: "process/quart/0-1000".into(),
            edition: "A printed guide, 2015".into(),
            page: "3-12".into(),
            day,
            person,
            withdrawn: None,
        }
        .into(),
    ]
}
