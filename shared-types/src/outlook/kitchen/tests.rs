//! From the pile to the pantry: what is planned is kept, made, counted and used up, and every gram
//! is somewhere.

mod balance;
mod world;

use super::*;
use crate::book::kitchen::step_task;
use crate::entry::*;
use crate::outlook::pantry::{Age, Seals, pantry};
use crate::trade::kitchen::planner::{Effort, Plan, solve};
use crate::units::{Day, HOUR_MS, MINUTE_MS, Millis};
use world::{NOW, World, day, today};

fn planned(world: &mut World) -> Plan {
    let problem = problem(&world.book, today()).expect("the altitude is set");
    let plan = solve(&problem, Effort { nodes: 200 }, &mut |_| ()).expect("a plan");
    world.keep_plan(&plan);
    plan
}

#[test]
fn what_is_planned_is_what_every_phone_sees() {
    let mut world = World::stocked();
    let plan = planned(&mut world);
    let batches: Vec<_> = plan.days.iter().flat_map(|day| &day.batches).collect();
    assert!(batches.len() >= 2, "{plan:?}");
    let works = works(&world.book);
    assert_eq!(works.len(), batches.len());
    let grams = |grams: Grams| grams.0;
    assert_eq!(
        works.iter().map(|work| grams(work.batch.grams)).sum::<i64>(),
        batches.iter().map(|batch| grams(batch.grams)).sum::<i64>()
    );
    let kept = world.book.kitchen.plan.get().expect("a plan stands");
    assert_eq!((kept.day, kept.keeps), (day(), plan.kept_grams));
    for work in &works {
        let times: Vec<_> =
            work.steps.iter().map(|step| (step.evening, step.day, step.minute)).collect();
        assert!(times.iter().filter(|t| !t.0).is_sorted(), "{times:?}");
        assert!(work.steps.iter().filter(|s| s.evening).all(|s| s.day < work.day), "{times:?}");
    }
}

#[test]
fn a_batch_pinned_keeps_its_name_and_day_in_the_next_plan_and_a_dropped_one_is_gone() {
    let mut world = World::stocked();
    planned(&mut world);
    let first = works(&world.book);
    let (pinned, dropped) = (&first[0], &first[1]);
    world.write(BatchSet { pinned: Some(true), ..World::set(pinned.id) });
    world.write(BatchSet { dropped: Some(true), ..World::set(dropped.id) });
    let asked = problem(&world.book, today()).expect("the altitude is set");
    assert_eq!(asked.pins.len(), 1);
    assert_eq!(asked.drops.len(), 1);
    planned(&mut world);
    let again = works(&world.book);
    let still = again.iter().find(|work| work.id == pinned.id).expect("it stays");
    assert_eq!((still.day, &still.batch.method), (pinned.day, &pinned.batch.method));
    assert!(still.pinned);
    assert!(
        again
            .iter()
            .all(|work| { (&work.batch.method, work.day) != (&dropped.batch.method, dropped.day) })
    );
}

#[test]
fn fruit_of_a_batch_begun_is_not_offered_twice() {
    let mut world = World::stocked();
    planned(&mut world);
    let before = problem(&world.book, today()).expect("the altitude is set");
    let works = works(&world.book);
    let jar = works.iter().find(|work| work.batch.jars.is_some()).expect("a jar batch");
    world.write(BatchSet { begun: Some(true), ..World::set(jar.id) });
    let after = problem(&world.book, today()).expect("the altitude is set");
    for (before, after) in before.lots.iter().zip(&after.lots) {
        let parts = jar.batch.from.iter().filter(|part| part.lot == before.id);
        let taken: i64 = parts.map(|part| part.grams.0).sum();
        let from_waiting = before.waiting_grams.0 - after.waiting_grams.0;
        for (before, after) in before.rooms.iter().zip(&after.rooms) {
            let ready = |room: &crate::trade::kitchen::planner::LotRoom| -> i64 {
                room.ready_grams.iter().map(|grams| grams.0).sum()
            };
            // A room in which less of it would turn ready offers nothing more.
            assert_eq!(ready(after), (ready(before) - (taken - from_waiting)).max(0));
        }
    }
    let asked = problem(&world.book, today()).expect("the altitude is set");
    assert_eq!(asked.begun.len(), 1);
}

#[test]
fn a_tick_on_one_phone_is_a_tick_on_all_and_means_begun() {
    let mut world = World::stocked();
    planned(&mut world);
    let id = works(&world.book)[0].id;
    let tick = TickSet { task: step_task(id, 0), done: true, person: World::person() };
    world.write(tick.clone());
    let work = &works(&world.book)[0];
    assert!(work.steps[0].done && work.begun);
    let listed = tasks(&world.book, today(), NOW);
    assert!(listed.iter().any(|task| task.key == tick.task && task.done));
    world.write(TickSet { done: false, ..tick });
    assert!(!works(&world.book)[0].steps[0].done);
}

#[test]
fn jars_are_counted_from_the_canner_to_the_table() {
    let mut world = World::stocked();
    planned(&mut world);
    let works = works(&world.book);
    let jar = works.iter().find(|work| work.batch.jars.is_some()).expect("a jar batch");
    let made = world.make(jar, NOW);
    assert!(super::works(&world.book).iter().all(|work| work.id != jar.id), "made is not planned");

    let shelf = |world: &World, at: Millis| pantry(&world.book, today(), at).remove(0);
    let fresh = shelf(&world, NOW);
    let count = made.out[0].count;
    assert_eq!((fresh.left(), fresh.age), (count, Age::Fresh));
    assert!(matches!(fresh.seals, Seals::Wait { .. }));
    assert!(!fresh.origins.is_empty());
    assert_eq!(fresh.best_by, Day::from_ymd(2027, 10, 9));
    assert!(matches!(shelf(&world, NOW.plus(13 * HOUR_MS)).seals, Seals::Due { .. }));
    assert!(matches!(shelf(&world, NOW.plus(25 * HOUR_MS)).seals, Seals::Late { .. }));

    world.check_seals(jar.id, 1, None);
    assert!(matches!(shelf(&world, NOW).seals, Seals::Unsealed { count: 1, .. }));
    assert_eq!(shelf(&world, NOW).left(), count - 1);
    world.use_jars(jar.id, &made.out[0].jar, 2);
    assert_eq!(shelf(&world, NOW).left(), count - 3);
    world.use_jars(jar.id, &made.out[0].jar, -1);
    assert_eq!(shelf(&world, NOW).left(), count - 2);

    let later = |days: i32| {
        let today = Today { day: day().plus(days), ..today() };
        pantry(&world.book, today, NOW).remove(0).age
    };
    assert_eq!((later(365), later(366), later(548)), (Age::Fresh, Age::PastBest, Age::PastBest));
    assert_eq!(later(549), Age::Stale);
}

#[test]
fn seals_are_pressed_within_a_day_and_not_at_night() {
    for (hour, minute) in [(6, "18:00"), (9, "21:00"), (12, "7:30"), (18, "7:30"), (23, "11:00")] {
        let mut world = World::stocked();
        planned(&mut world);
        let works = works(&world.book);
        let jar = works.iter().find(|work| work.batch.jars.is_some()).expect("a jar batch");
        let made = day().start().plus(hour * HOUR_MS);
        world.make(jar, made);
        let listed = tasks(&world.book, today(), made);
        let task = listed.iter().find(|task| task.kind == TaskKind::Seals).expect("a reminder");
        let at = task.day.start().plus(i64::from(task.minute) * MINUTE_MS);
        assert!((12 * HOUR_MS..=24 * HOUR_MS).contains(&at.since(made)), "made at {hour}");
        assert_eq!(
            format!("{}:{:02}", task.minute / 60, task.minute % 60),
            minute,
            "made at {hour}"
        );
    }
}

#[test]
fn fruit_of_dead_vines_is_planned_into_no_jar_and_a_jar_of_it_says_so() {
    let mut world = World::stocked();
    let lot = world.dead_lot();
    let plan = planned(&mut world);
    let unfit = |batch: &crate::trade::kitchen::planner::Batch| {
        batch.jars.is_some() && batch.from.iter().any(|part| part.lot == lot.to_string())
    };
    assert!(!plan.days.iter().flat_map(|day| &day.batches).any(unfit));
    world.make_anyway(lot);
    let shelf = pantry(&world.book, today(), NOW).remove(0);
    let caution = shelf.caution.expect("a caution on the screen and the label");
    assert!(caution.text.contains("not for a jar"), "{}", caution.text);
    assert!(crate::trade::provenance::source(&caution.source).is_some());
}

#[test]
fn the_list_names_what_is_missing_and_no_more() {
    let mut world = World::stocked();
    planned(&mut world);
    let list = shopping(&world.book);
    let lids = |list: &[Item]| {
        list.iter().find(|item| item.item.as_deref() == Some(stock::LID)).cloned().expect("lids")
    };
    let needed = lids(&list);
    assert!(needed.need > 0);
    assert_eq!(needed.missing(), needed.need, "nobody has counted");
    world.write(StockSet { item: stock::LID.into(), have: Some(needed.need - 2) });
    assert_eq!(lids(&shopping(&world.book)).missing(), 2);
    let acid = list.iter().find(|item| item.item.as_deref() == Some(stock::LEMON_JUICE));
    assert!(acid.is_some_and(|acid| acid.need > 0), "{list:?}");
    // What was made takes its lids out of the cupboard, and no longer asks for any.
    let works = works(&world.book);
    let jar = works.iter().find(|work| work.batch.jars.is_some()).expect("a jar batch");
    let made = world.make(jar, NOW);
    let after = stock::now(&world.book, stock::LID).expect("counted");
    assert_eq!(after, needed.need - 2 - made.out[0].count);
}

#[test]
fn hands_of_one_day_go_before_those_of_its_weekday() {
    let mut world = World::stocked();
    // 2026-10-09 is a Friday.
    world.write(KitchenSet {
        weekday_minutes: Some(vec![10, 20, 30, 40, 50, 60, 70]),
        ..KitchenSet::default()
    });
    assert_eq!(hands_minutes(&world.book, day()), 50);
    assert_eq!(hands_minutes(&world.book, day().plus(3)), 10);
    world.write(HandsSet { day: day(), minutes: 200 });
    assert_eq!(hands_minutes(&world.book, day()), 200);
    let problem = problem(&world.book, today()).expect("the altitude is set");
    assert_eq!(problem.by_day[&day()].hands_minutes, Some(200.0));
}
