//! Laws every plan keeps, tried on generated kitchens.

use std::collections::BTreeMap;

use proptest::prelude::*;

use super::*;
use crate::trade::crops::{self, Defect};
use crate::trade::fitness::{Asked, Fruit, Ripened, Use, Vines, fitness};
use crate::trade::methods::{Jar, Kind, load_jars, method, process_time};
use crate::units::{Altitude, Day, Grams};

fn any_lot() -> impl Strategy<Value = KitchenLot> {
    let vines = prop::sample::select(vec![Vines::Alive, Vines::Hurt, Vines::Dead, Vines::Unknown]);
    let fruit = prop::sample::select(vec![Fruit::Sound, Fruit::Frozen, Fruit::Unknown]);
    let defect = prop::option::weighted(0.3, prop::sample::select(Defect::ALL.to_vec()));
    let what = (0..crops::all().len(), 0usize..4, prop::bool::weighted(0.6));
    let ready = prop::collection::vec(0i64..40_000, 0..5);
    (what, vines, fruit, defect, any::<bool>(), ready, 0i64..60_000, prop::option::of(0.0f64..30.0))
        .prop_map(
            |((crop, class, tomato), vines, fruit, defect, cold_seen, ready, waiting, celsius)| {
                let crop = if tomato { &crops::all()[0] } else { &crops::all()[crop] };
                let class = &crop.classes[class % crop.classes.len()];
                let asked = Asked {
                    crop: crop.slug.clone(),
                    class: class.id.clone(),
                    vines,
                    fruit,
                    ripened: Ripened::Unknown,
                    defect,
                    cold_seen,
                };
                KitchenLot {
                    id: String::new(),
                    label: class.name.clone(),
                    crop: crop.slug.clone(),
                    class: class.id.clone(),
                    fitness: fitness(&asked),
                    ready: ready.into_iter().map(Grams).collect(),
                    waiting: Grams(waiting),
                    celsius,
                }
            },
        )
}

fn any_kitchen() -> impl Strategy<Value = Kitchen> {
    let jar = prop::sample::select(Jar::ALL.to_vec());
    let limits = (prop::option::of(0i64..20_000), 0i64..5_000, 0i64..5_000);
    (prop::collection::vec(any_lot(), 0..8), -100i64..3_500, 0.0f64..12.0, 0u32..5, jar, limits)
        .prop_map(
            |(mut lots, metres, hours_per_day, loads_per_day, jar, (freezer, dryer, fresh))| {
                for (i, lot) in lots.iter_mut().enumerate() {
                    lot.id = format!("L{i}");
                }
                Kitchen {
                    today: Day::from_ymd(2026, 10, 9).expect("a day"),
                    altitude: Altitude::from_metres(metres),
                    hours_per_day,
                    loads_per_day,
                    jar,
                    freezer_per_day: freezer.map(Grams),
                    dryer_per_day: Grams(dryer),
                    fresh_per_day: Grams(fresh),
                    lots,
                }
            },
        )
}

fn ready(lot: &KitchenLot) -> Grams {
    lot.ready.iter().take(PLAN_DAYS).copied().sum()
}

/// Green fruit that is not counted on to ripen.
fn free_green(lot: &KitchenLot) -> Grams {
    let later: Grams = lot.ready.iter().skip(1).copied().sum();
    (lot.waiting - later).max(Grams::ZERO)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Ready grams are in batches or left over; green grams never exceed what is free.
    #[test]
    fn every_gram_has_a_place(kitchen in any_kitchen()) {
        let plan = simple_plan(&kitchen);
        let mut used: BTreeMap<&str, Grams> = BTreeMap::new();
        for batch in plan.days.iter().flat_map(|day| &day.batches) {
            prop_assert_eq!(batch.from.iter().map(|part| part.grams).sum::<Grams>(), batch.grams);
            for part in &batch.from {
                prop_assert!(part.grams > Grams::ZERO);
                *used.entry(&part.lot).or_default() += part.grams;
            }
        }
        for lot in &kitchen.lots {
            let used = used.get(lot.id.as_str()).copied().unwrap_or_default();
            let left: Grams =
                plan.left_over.iter().filter(|l| l.lot == lot.id).map(|l| l.grams).sum();
            prop_assert!(used + left >= ready(lot), "{} + {} < {}", used.0, left.0, ready(lot).0);
            prop_assert!(used + left <= ready(lot) + free_green(lot));
        }
    }

    /// No day uses fruit that is not there yet.
    #[test]
    fn nothing_is_used_before_it_is_ready(kitchen in any_kitchen()) {
        let plan = simple_plan(&kitchen);
        for lot in kitchen.lots.iter().filter(|lot| lot.waiting == Grams::ZERO) {
            let mut so_far = Grams::ZERO;
            let mut used = Grams::ZERO;
            for (i, day) in plan.days.iter().enumerate() {
                let evening = so_far;
                so_far += lot.ready.get(i).copied().unwrap_or_default();
                for batch in &day.batches {
                    for part in batch.from.iter().filter(|part| part.lot == lot.id) {
                        used += part.grams;
                        let there = if batch.evening_before.is_some() { evening } else { so_far };
                        prop_assert!(used <= so_far && part.grams <= there);
                    }
                }
            }
        }
    }

    /// No unfit fruit in a jar, frozen pack or dryer, and lots of different fitness never merge.
    #[test]
    fn unfit_fruit_is_never_jarred(kitchen in any_kitchen()) {
        let plan = simple_plan(&kitchen);
        for batch in plan.days.iter().flat_map(|day| &day.batches) {
            let lots: Vec<_> = batch
                .from
                .iter()
                .map(|part| kitchen.lots.iter().find(|lot| lot.id == part.lot).expect("its lot"))
                .collect();
            for lot in &lots {
                if let Some(needs) = batch.kind.needs() {
                    prop_assert!(lot.fitness.uses.allows(needs), "{} in {}", lot.fitness.rule, batch.name);
                }
                prop_assert_eq!(&lot.fitness.rule, &lots[0].fitness.rule);
                prop_assert_eq!(&lot.crop, &lots[0].crop);
            }
        }
        for lot in kitchen.lots.iter().filter(|lot| !lot.fitness.uses.allows(Use::Jar)) {
            let told = plan.not_for_jars.iter().any(|told| told.lot == lot.id);
            prop_assert_eq!(told, ready(lot) + free_green(lot) > Grams::ZERO);
        }
    }

    /// Hours, loads, freezer, dryer and table are never exceeded, and every jar has its published
    /// time for this height.
    #[test]
    fn limits_hold(kitchen in any_kitchen()) {
        let plan = simple_plan(&kitchen);
        for day in &plan.days {
            prop_assert!(f64::from(day.hands_on_minutes) <= kitchen.hours_per_day * 60.0 + 1e-9);
            prop_assert!(day.loads <= kitchen.loads_per_day);
            let of = |kind| -> Grams {
                day.batches.iter().filter(|b| b.kind == kind).map(|b| b.grams).sum()
            };
            prop_assert!(of(Kind::Dry) <= kitchen.dryer_per_day);
            prop_assert!(of(Kind::Fresh) <= kitchen.fresh_per_day);
            prop_assert!(kitchen.freezer_per_day.is_none_or(|most| of(Kind::Freeze) <= most));
            for batch in day.batches.iter().filter(|batch| batch.kind == Kind::Jar) {
                let jars = batch.jars.expect("a jar method has jars");
                prop_assert!(jars.count > 0 && jars.count <= load_jars(jars.jar) * batch.loads);
                prop_assert!(jars.fewest <= jars.count && jars.count <= jars.most);
                let method = method(&batch.method).expect("a method");
                let time = process_time(method, jars.jar, kitchen.altitude).expect("is offered");
                prop_assert_eq!(batch.process.as_ref(), Some(&time));
                prop_assert!(time.mark.is_seen());
                prop_assert!(batch.headspace.is_some() && batch.acid.is_some());
            }
        }
    }
}

fn kitchen(lots: Vec<KitchenLot>) -> Kitchen {
    Kitchen {
        today: Day::from_ymd(2026, 10, 9).expect("a day"),
        altitude: Altitude::from_metres(870),
        hours_per_day: 8.0,
        loads_per_day: 2,
        jar: Jar::Quart,
        freezer_per_day: None,
        dryer_per_day: Grams::ZERO,
        fresh_per_day: Grams(2000),
        lots,
    }
}

fn tomatoes(id: &str, class: &str, vines: Vines, ready: &[i64], waiting: i64) -> KitchenLot {
    let asked = Asked {
        crop: "tomato".into(),
        class: class.into(),
        vines,
        fruit: Fruit::Sound,
        ripened: Ripened::Unknown,
        defect: None,
        cold_seen: true,
    };
    KitchenLot {
        id: id.to_owned(),
        label: format!("{class} tomatoes"),
        crop: "tomato".into(),
        class: class.into(),
        fitness: fitness(&asked),
        ready: ready.iter().copied().map(Grams).collect(),
        waiting: Grams(waiting),
        celsius: Some(18.0),
    }
}

#[test]
fn an_overnight_relish_begins_the_evening_before() {
    let plan = simple_plan(&kitchen(vec![tomatoes("G", "green", Vines::Alive, &[], 20_000)]));
    let relish: Vec<_> = plan
        .days
        .iter()
        .map(|day| day.batches.iter().map(|b| b.method.as_str()).collect())
        .collect();
    let relish: [Vec<&str>; 3] = relish.try_into().expect("three days");
    assert_eq!(relish[0], ["green-tomato-relish"]);
    assert_eq!(relish[1], ["mixed-green-relish"]);
    let batch = &plan.days[1].batches[0];
    let evening = batch.evening_before.as_ref().expect("stands overnight");
    assert!(evening.contains("12 hours"), "{evening}");
    assert!(batch.evening_minutes > 0);
    let all = plan.days[0].batches[0].hands_on_minutes + batch.evening_minutes;
    assert_eq!(plan.days[0].hands_on_minutes, all, "the evening counts for the day before");
}

#[test]
fn fruit_of_dead_vines_is_frozen_and_said_to_be_unfit() {
    let plan = simple_plan(&kitchen(vec![tomatoes("D", "ripe", Vines::Dead, &[12_000], 0)]));
    let kinds: Vec<_> = plan.days.iter().flat_map(|d| &d.batches).map(|b| b.kind).collect();
    assert_eq!(kinds, [Kind::Freeze]);
    assert_eq!(plan.not_for_jars[0].grams, Grams(12_000));
    assert!(plan.not_for_jars[0].reason.contains("never a shelf-stable jar"));
    assert!(plan.left_over.is_empty());
}

#[test]
fn a_load_at_870_metres_is_offered_with_its_band_and_acid() {
    let plan = simple_plan(&kitchen(vec![tomatoes("A", "ripe", Vines::Alive, &[16_000], 0)]));
    let batch = &plan.days[0].batches[0];
    let jars = batch.jars.expect("jars");
    assert_eq!((batch.method.as_str(), jars.jar, jars.count), ("tomato-sauce-thin", Jar::Quart, 7));
    // 7 quarts at 35 lb: 15.875 kg.
    assert_eq!(batch.grams, Grams(15_875));
    let time = batch.process.as_ref().expect("a time");
    assert_eq!(time.minutes, 45);
    assert!(time.band_text.contains("914.4 m"), "{}", time.band_text);
    assert!(batch.acid.as_ref().expect("acid").contains("2 tablespoons (29.6 mL) bottled lemon"));
    assert_eq!(batch.headspace.as_deref(), Some("1/4 inch (6 mm)"));
    assert!(batch.cautions.iter().any(|said| said.text.contains("extension service")));
}

#[test]
fn what_no_hands_can_do_is_left_over_with_the_reason() {
    let mut idle = kitchen(vec![tomatoes("A", "ripe", Vines::Alive, &[60_000], 0)]);
    idle.hours_per_day = 0.5;
    let plan = simple_plan(&idle);
    assert!(plan.left_over[0].grams > Grams(10_000));
    assert!(plan.left_over[0].reason.contains("hours"), "{}", plan.left_over[0].reason);
}

#[test]
fn a_recipe_scales_without_changing_its_ratio() {
    let plan = simple_plan(&kitchen(vec![tomatoes("G", "green", Vines::Alive, &[], 4_536)]));
    let batch = &plan.days[0].batches[0];
    assert_eq!(batch.grams, Grams(4_535));
    let has = |text: &str| batch.ingredients.iter().any(|line| line.starts_with(text));
    assert!(has("vinegar of 5 %: 4 cups (950 mL)"), "{:?}", batch.ingredients);
    assert!(has("sugar: 4 cups"), "{:?}", batch.ingredients);
    assert_eq!(batch.sterile_jar_minutes, Some(13), "10, and one for each 1,000 ft begun");
}
