//! A holding on one phone, written to as a person would.

use crate::book::Book;
use crate::book::lots::Lot;
use crate::entry::*;
use crate::hlc::Hlc;
use crate::ids::*;
use crate::outlook::Today;
use crate::outlook::kitchen::{Kept, Work, jar_word, keep};
use crate::trade::kitchen::planner::Plan;
use crate::units::{Altitude, Day, Grams, MilliCelsius, Millis, Reading};

/// 2026-10-09, noon, a Friday.
pub(super) const NOW: Millis = Millis(1_791_547_200_000);

pub(super) fn day() -> Day {
    Day::at(NOW, 0)
}

pub(super) fn today() -> Today {
    Today::at(NOW, 0)
}

pub(super) struct World {
    pub(super) book: Book,
    seq: u64,
    names: u8,
}

const GOOD_BED: u8 = 1;
const DEAD_BED: u8 = 2;

impl World {
    pub(super) fn person() -> PersonId {
        PersonId::new(Millis(0), [3; 10])
    }

    pub(super) fn new() -> Self {
        let mut world = Self { book: Book::default(), seq: 0, names: 0 };
        world.write(HoldingSet {
            altitude: Some(Altitude::from_metres(870)),
            ..HoldingSet::default()
        });
        for (n, degrees) in [(1, 20), (2, 14)] {
            world.write(RoomSet {
                room: RoomId::new(Millis(0), [n; 10]),
                name: Some(format!("Room {n}")),
                temperature: Some(MilliCelsius::from_celsius(degrees)),
                humidity: None,
                retired: None,
            });
        }
        world
    }

    /// Ripe, colouring and green tomatoes of a living bed, ripe ones of a dead one.
    pub(super) fn stocked() -> Self {
        let mut world = Self::new();
        world.write(ColdChecked {
            check: ColdCheckId::new(Millis(0), [1; 10]),
            place: PlaceId::new(Millis(0), [DEAD_BED; 10]),
            at: NOW.plus(-10_000),
            look: "thawed".into(),
            vines: "dead".into(),
            fruit: "sound".into(),
            low: None,
        });
        for (class, grams) in [("ripe", 14_000), ("colouring", 20_000), ("green", 18_000)] {
            world.bin(GOOD_BED, class, grams);
        }
        world.bin(DEAD_BED, "ripe", 6_000);
        world
    }

    pub(super) fn name(&mut self) -> [u8; 10] {
        self.names += 1;
        [self.names; 10]
    }

    pub(super) fn write(&mut self, fact: impl Into<Fact>) {
        self.seq += 1;
        let id = EntryId { device: DeviceId::new(Millis(0), [1; 10]), device_seq: self.seq };
        let wall = Hlc(NOW.plus(self.seq as i64), 0);
        let entry = Entry::new(id, wall, &fact.into()).expect("small");
        let outcome = self.book.fold(&entry);
        assert_eq!(outcome, crate::book::Outcome::Folded, "{entry:?}");
    }

    pub(super) fn bin(&mut self, bed: u8, class: &str, grams: i64) -> BinId {
        let bin = BinId::new(Millis(0), self.name());
        self.write(BinKept {
            bin,
            pick: PickId::new(Millis(0), [1; 10]),
            place: PlaceId::new(Millis(0), [bed; 10]),
            crop: "tomato".into(),
            class: class.into(),
            gross: Reading::from_grams(Grams(grams + 700)),
            tare: Grams(700),
            person: Self::person(),
            at: NOW.plus(-5_000),
            variety: None,
            stage: None,
            defect: None,
            bin_type: None,
            room: Some(RoomId::new(Millis(0), [1; 10])),
            tag: None,
        });
        bin
    }

    pub(super) fn keep_plan(&mut self, plan: &Plan) {
        let plan_id = PlanId::new(NOW, self.name());
        let kept = Kept { plan: plan_id, person: Self::person(), at: NOW };
        let mut n = 0u8;
        let names = self.names;
        let facts = keep(&self.book, plan, kept, || {
            n += 1;
            BatchId::new(Millis(i64::from(n)), [names; 10])
        });
        for fact in facts {
            self.write(fact);
        }
    }

    pub(super) fn set(batch: BatchId) -> BatchSet {
        BatchSet {
            batch,
            plan: None,
            method: None,
            day: None,
            start_minute: None,
            jar: None,
            jars: None,
            lots: None,
            why: None,
            pinned: None,
            dropped: None,
            begun: None,
        }
    }

    /// Makes a planned batch as planned.
    pub(super) fn make(&mut self, work: &Work, at: Millis) -> BatchMade {
        let jars = work.batch.jars.expect("a jar batch");
        let parts = work.batch.from.iter();
        let made = BatchMade {
            batch: work.id,
            at,
            person: Self::person(),
            method: work.batch.method.clone(),
            what: "jar".into(),
            used: parts
                .map(|part| LotPart { lot: part.lot.parse().expect("an id"), grams: part.grams })
                .collect(),
            out: vec![JarsOut { jar: jar_word(jars.jar), count: i64::from(jars.count).max(1) }],
            place: None,
            note: None,
        };
        self.write(made.clone());
        made
    }

    pub(super) fn dead_lot(&self) -> LotId {
        let lots = self.book.lots();
        let dead = |lot: &&Lot| lot.condition.vines.as_deref() == Some("dead");
        lots.all.values().find(dead).expect("a lot of dead vines").id
    }

    /// Jars of a lot, fit or not.
    pub(super) fn make_anyway(&mut self, lot: LotId) {
        let batch = BatchId::new(NOW, self.name());
        self.write(BatchMade {
            batch,
            at: NOW,
            person: Self::person(),
            method: "tomato-sauce-thin".into(),
            what: "jar".into(),
            used: vec![LotPart { lot, grams: Grams(5_000) }],
            out: vec![JarsOut { jar: "quart".into(), count: 2 }],
            place: None,
            note: None,
        });
    }

    pub(super) fn check_seals(&mut self, batch: BatchId, failed: i64, became: Option<&str>) {
        let check = SealCheckId::new(NOW, self.name());
        self.write(SealsChecked {
            check,
            batch,
            at: NOW,
            person: Self::person(),
            failed,
            jar: None,
            became: became.map(str::to_owned),
        });
    }

    pub(super) fn use_jars(&mut self, batch: BatchId, jar: &str, count: i64) {
        let taking = UseId::new(NOW, self.name());
        self.write(JarsUsed {
            taking,
            batch,
            jar: jar.to_owned(),
            count,
            at: NOW,
            person: Self::person(),
        });
    }
}
