//! Generated kitchens: 14 days, 12 lots, 15 methods, 3 rooms. A number makes the same one
//! everywhere.

use shared_types::trade::kitchen::planner::Problem;

/// SplitMix64 (Steele, Lea, Flood 2014): small, and the same on every machine.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from `least` to `most`.
    fn within(&mut self, least: i64, most: i64) -> i64 {
        least + (self.next() % (most - least + 1) as u64) as i64
    }

    fn one_of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.within(0, all.len() as i64 - 1) as usize]
    }
}

/// id, kind, crop and class, minutes a batch, tenths of a minute a kilogram, grams a jar, quart or
/// pint, evening.
type Recipe = (&'static str, &'static str, &'static str, i64, i64, i64, bool);

const RECIPES: [Recipe; 15] = [
    ("crushed", "jar", "tomato ripe", 50, 60, 1250, false),
    ("juice", "jar", "tomato ripe", 55, 70, 1480, false),
    ("sauce-thin", "jar", "tomato ripe", 60, 90, 2270, false),
    ("whole", "jar", "tomato ripe", 45, 80, 1360, false),
    ("ketchup", "jar", "tomato ripe", 70, 110, 1700, false),
    ("salsa", "jar", "tomato ripe", 60, 160, 480, false),
    ("tomatoes-frozen", "freeze", "tomato ripe", 10, 30, 0, false),
    ("tomatoes-dried", "dry", "tomato ripe", 15, 60, 0, false),
    ("green-relish", "jar", "tomato green", 55, 150, 560, false),
    ("mixed-relish", "jar", "tomato green", 45, 60, 500, true),
    ("green-frozen", "freeze", "tomato green", 10, 40, 0, false),
    ("peppers-pickled", "jar", "pepper ripe", 50, 140, 380, false),
    ("peppers-frozen", "freeze", "pepper ripe", 10, 45, 0, false),
    ("kale-frozen", "freeze", "kale leaf", 15, 90, 0, false),
    ("fresh", "fresh", "", 0, 20, 0, false),
];

/// A kitchen after an autumn's clear-out.
pub fn case(number: u64) -> Problem {
    let mut dice = Dice(number.wrapping_mul(0x5851_f42d_4c95_7f2d) ^ 0x1405_7b7e_f767_814f);
    let lots: Vec<_> = (0..12).map(|at| lot(&mut dice, at)).collect();
    let methods: Vec<_> = RECIPES.iter().map(|recipe| method(&mut dice, recipe)).collect();
    // 2026-10-12 is a Monday: the free days are the 17th and 18th, the 24th and 25th.
    let free: serde_json::Map<_, _> = ["2026-10-17", "2026-10-18", "2026-10-24", "2026-10-25"]
        .into_iter()
        .map(|day| {
            let limits = serde_json::json!({
                "hands_minutes": dice.within(180, 420),
                "burner_minutes": dice.within(600, 1500),
                "canner_loads": dice.within(2, 4),
            });
            (day.to_owned(), limits)
        })
        .collect();
    let problem = serde_json::json!({
        "today": "2026-10-12", "days": 14, "lots": lots, "methods": methods,
        "rooms": [{ "id": "cellar", "holds_grams": dice.within(30, 90) * 1000 }],
        "a_day": {
            "hands_minutes": dice.within(80, 200), "burner_minutes": dice.within(240, 700),
            "canner_loads": dice.within(1, 2), "dryer_grams": dice.within(0, 3) * 1000,
            "freezer_grams": dice.within(2, 6) * 1000,
        },
        "by_day": free,
        "stock": {
            "freezer_grams": dice.within(12, 45) * 1000,
            "jars": { "quart": dice.within(14, 42), "pint": dice.within(9, 45) },
            "lids": dice.within(24, 70),
        },
    });
    Problem::parse(&problem.to_string()).expect("a generated kitchen reads")
}

fn lot(dice: &mut Dice, at: usize) -> serde_json::Value {
    let (crop, class) = *dice.one_of(&[
        ("tomato", "ripe"),
        ("tomato", "colouring"),
        ("tomato", "colouring"),
        ("tomato", "green"),
        ("tomato", "green"),
        ("tomato", "hurt"),
        ("pepper", "ripe"),
        ("kale", "leaf"),
    ]);
    // Fruit the frost touched is for the freezer, the dryer or the table.
    let sound = class != "hurt" && dice.within(0, 4) > 0;
    let uses: &[&str] =
        if sound { &["jar", "freeze", "dry", "fresh"] } else { &["freeze", "dry", "fresh"] };
    let grams = dice.within(3, 27) * 1000;
    let (first, last) = match class {
        "colouring" => (0, dice.within(6, 9)),
        "green" => (dice.within(2, 5), dice.within(12, 16)),
        _ => (0, 1),
    };
    let waiting = if class == "green" { grams * dice.within(15, 50) / 100 } else { 0 };
    let mut rooms = Vec::new();
    for (room, slower, keeps) in [("kitchen", 10, 2), ("porch", 15, 4), ("cellar", 22, 7)] {
        let (first, last) = (first * slower / 10, last * slower / 10);
        let weights: Vec<i64> = (first..=last).map(|d| (d - first + 1).min(last - d + 1)).collect();
        // Cooler fruit ripens later and less of it well.
        let comes = (grams - waiting) * (110 - slower) / 100;
        let sum: i64 = weights.iter().sum();
        let mut ready = vec![0; first as usize];
        ready.extend(weights.iter().map(|weight| comes * weight / sum));
        rooms.push(serde_json::json!({
            "room": room, "ready_grams": ready, "keeps_days": keeps + dice.within(0, 1),
        }));
    }
    let mut lot = serde_json::json!({
        "id": format!("L{at}"), "label": format!("{class} {crop} {}", at + 1), "crop": crop,
        "class": class, "uses": uses, "fitness": if sound { "sound" } else { "frost" },
        "rooms": rooms, "standing": *dice.one_of(&["kitchen", "porch"]),
        "waiting_grams": waiting,
    });
    // `leaf` and `hurt` are no class that ripens in the table of crops; say what they are.
    if crop == "tomato" {
        lot["ready_class"] = "ripe".into();
    } else {
        lot["ready_class"] = class.into();
    }
    lot
}

fn method(dice: &mut Dice, recipe: &Recipe) -> serde_json::Value {
    let (id, kind, takes, batch, tenths, jar, evening) = *recipe;
    let about = |dice: &mut Dice, number: i64| number * dice.within(70, 130) / 100;
    let mut method = serde_json::json!({
        "id": id, "kind": kind,
        "hands": { "a_batch": about(dice, batch), "a_kg": about(dice, tenths) as f64 / 10.0 },
        "weight": dice.within(6, 14) as f64 / 10.0,
    });
    match takes.split_once(' ') {
        Some((crop, class)) => {
            method["takes"] = serde_json::json!([{ "crop": crop, "classes": [class] }]);
        }
        None => method["any"] = true.into(),
    }
    if jar > 0 {
        let quart = jar > 900;
        method["jar"] = serde_json::json!({
            "size": if quart { "quart" } else { "pint" }, "grams": jar,
            "a_load": if quart { 7 } else { 9 },
        });
        method["least_grams"] = (jar * 3).into();
        method["burners"] = serde_json::json!({
            "a_batch": dice.within(20, 90), "a_load": dice.within(50, 110),
        });
        method["wanted_grams"] = (dice.within(4, 25) * 1000).into();
    } else if kind == "fresh" {
        method["most_a_day_grams"] = dice.within(800, 2500).into();
        method["weight"] = 0.8.into();
    } else {
        method["least_grams"] = 500.into();
    }
    if evening {
        method["evening"] = serde_json::json!({ "a_batch": about(dice, 15), "a_kg": 8 });
    }
    method
}
