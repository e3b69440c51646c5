//! What the kitchen of Kestrel Terrace did and means to do: two batches in the pantry, one of them
//! just out of the canner, and a plan that is kept.

use shared_types::entry::{
    BatchMade, BatchSet, JarsOut, JarsUsed, KitchenSet, LotPart, SealsChecked, StockSet, WantSet,
};
use shared_types::ids::{BatchId, LotId, PlanId, SealCheckId, UseId};
use shared_types::outlook::Today;
use shared_types::outlook::kitchen::{Kept, keep, problem, stock};
use shared_types::trade::kitchen::planner::{Effort, solve};
use shared_types::units::{Grams, Millis};

use super::writer::{Writer, person};

/// How long the plan is looked for: enough for a good one, short enough for starting the demo.
const EFFORT: Effort = Effort { nodes: 100 };

/// What it has: four hours of work on a usual day, a little less on two of them.
pub(super) fn furnish(to: &mut Writer) {
    let at = to.ago(300, 0, 0);
    let limits = KitchenSet {
        burners: Some(4),
        loads_per_day: Some(3),
        jars_per_load: Some(7),
        pressure_canner: Some("none".to_owned()),
        steam_canner: Some(false),
        dryer_per_day: Some(Grams(3_000)),
        freezer_per_day: Some(Grams(6_000)),
        freezer_free: Some(Grams(30_000)),
        fresh_per_day: Some(Grams(1_500)),
        jar: Some("quart".to_owned()),
        weekday_minutes: Some(vec![120, 120, 90, 120, 90, 300, 300]),
    };
    to.write(0, at, limits);
    let want = WantSet {
        method: "green-tomato-relish".into(),
        weight: Some(150),
        most: Some(Grams(12_000)),
    };
    to.write(0, at, want);
}

/// Thin sauce of the first ripe paste, four days ago: one jar did not seal, one was eaten.
pub(super) fn sauce(to: &mut Writer, lot: LotId, grams: Grams) {
    let at = to.ago(4, 2, 0);
    let place = Some("Cellar, second shelf".to_owned());
    let batch = make(to, at, ("tomato-sauce-thin", vec![LotPart { lot, grams }], 6), place);
    let look = SealsChecked {
        check: SealCheckId::new(at, to.random()),
        batch,
        at: to.ago(3, 9, 0),
        person: person(0),
        failed: 1,
        jar: Some("quart".to_owned()),
        became: Some("fridge".to_owned()),
    };
    let seen = look.at;
    to.write(0, seen, look);
    let taken = JarsUsed {
        taking: UseId::new(at, to.random()),
        batch,
        jar: "quart".to_owned(),
        count: 1,
        at: to.ago(1, 4, 0),
        person: person(1),
    };
    let eaten = taken.at;
    to.write(1, eaten, taken);
}

/// Juice of what turned on the window sill, fifteen hours ago: its lids are to be pressed now.
pub(super) fn juice(to: &mut Writer, used: Vec<LotPart>) {
    let at = to.ago(0, 15, 0);
    make(to, at, ("tomato-juice", used, 4), None);
}

fn make(
    to: &mut Writer,
    at: Millis,
    (method, used, quarts): (&str, Vec<LotPart>, i64),
    place: Option<String>,
) -> BatchId {
    let batch = BatchId::new(at, to.random());
    let made = BatchMade {
        batch,
        at,
        person: person(0),
        method: method.into(),
        what: "jar".to_owned(),
        used,
        out: vec![JarsOut { jar: "quart".to_owned(), count: quarts }],
        place,
        note: None,
    };
    to.write(0, at, made);
    batch
}

/// What is in the cupboard, and the plan for the fortnight, its first batch pinned.
pub(super) fn plan(to: &mut Writer, offset_minutes: i32) {
    let at = to.ago(0, 0, 1);
    for (item, have) in [
        ("jar-quart", 24),
        ("jar-pint", 18),
        (stock::LID, 30),
        (stock::VINEGAR, 500),
        (stock::SUGAR, 2_000),
    ] {
        to.write(0, at, StockSet { item: item.to_owned(), have: Some(have) });
    }
    let today = Today { day: to.today, offset_minutes };
    let Ok(problem) = problem(&to.book, today) else { return };
    let Ok(plan) = solve(&problem, EFFORT, &mut |_| ()) else { return };
    let kept = Kept { plan: PlanId::new(at, to.random()), person: person(0), at };
    let names: Vec<_> =
        plan.days.iter().flat_map(|day| &day.batches).map(|_| to.random()).collect();
    let mut names = names.into_iter();
    let facts = keep(&to.book, &plan, kept, || {
        BatchId::new(at, names.next().expect("a name for each batch"))
    });
    for fact in facts {
        to.write(0, at, fact);
    }
    if let Some((batch, _)) = to.book.planned().first() {
        let pinned = BatchSet {
            batch: *batch,
            plan: None,
            method: None,
            day: None,
            start_minute: None,
            jar: None,
            jars: None,
            lots: None,
            why: None,
            pinned: Some(true),
            dropped: None,
            begun: None,
        };
        to.write(0, at, pinned);
    }
}
