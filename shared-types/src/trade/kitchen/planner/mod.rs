//! The planner: what to make on each of the coming days, and how near the best that is.
//!
//! # Context
//! A pile turns ripe over weeks. Each day has so many hands, burners, canner loads, so much room in
//! dryer and freezer; jars run out; some relishes must stand overnight; ripe fruit keeps for days
//! and then is lost. Which batches, on which days, and in which room each lot should stand, so that
//! most of the food is kept?
//!
//! # The problem, in JSON
//! ```json
//! { "today": "2026-10-12", "days": 14,
//!   "lots": [
//!     { "id": "A", "label": "Paste tomatoes, bed 3", "crop": "tomato", "class": "colouring",
//!       "uses": ["jar", "freeze", "dry", "fresh", "feed"], "fitness": "sound", "standing": "porch",
//!       "rooms": [ { "room": "kitchen", "ready_grams": [2000, 6000, 9000, 4000], "keeps_days": 3 },
//!                  { "room": "porch", "ready_grams": [2000, 1000, 3000, 5000, 6000, 4000], "keeps_days": 6 } ],
//!       "waiting_grams": 0 } ],
//!   "methods": [
//!     { "id": "sauce", "name": "Tomato sauce, thin", "kind": "jar",
//!       "takes": [ { "crop": "tomato", "classes": ["ripe"] } ],
//!       "least_grams": 4800, "hands": { "a_batch": 45, "a_kg": 9 },
//!       "burners": { "a_batch": 60, "a_load": 90 },
//!       "jar": { "size": "quart", "grams": 1588, "a_load": 7 }, "weight": 1, "wanted_grams": 20000 },
//!     { "id": "frozen", "kind": "freeze", "takes": [ { "crop": "tomato", "classes": ["ripe"] } ],
//!       "least_grams": 500, "hands": { "a_batch": 10, "a_kg": 3 }, "weight": 0.9 } ],
//!   "a_day": { "hands_minutes": 120, "canner_loads": 1, "freezer_grams": 3000 },
//!   "by_day": { "2026-10-17": { "hands_minutes": 300, "canner_loads": 3 } },
//!   "stock": { "freezer_grams": 12000, "jars": { "quart": 14 }, "lids": 30 },
//!   "pins": [ { "method": "sauce", "day": "2026-10-17", "grams": 6000 } ],
//!   "drops": [ { "method": "sauce", "day": "2026-10-14" } ] }
//! ```
//!
//! Only `today`, `lots` and `methods` must be there. A field nobody knows is told, with its line.
//! All weights are whole grams of fruit.
//!
//! - `days`: 1 to 28; 14 when left out.
//! - lots: `ready_grams` of a room is what turns ready on each day from today on (50 %), the first
//!   all that is ready today. What turned ready on a day can be used on that day and on
//!   `keeps_days` more, and is lost at the end of the last. `waiting_grams` is unripe fruit that is
//!   used as it is, and that no `ready_grams` counts on. `class` is what it is now; ready fruit is
//!   `ready_class`, or `ripe` where the class ripens.
//! - lots of one crop, class, `uses` and `fitness` may share a batch, ready or waiting; others never
//!   do.
//! - methods: `kind` is `jar`, `freeze`, `dry`, `fresh`, `feed` or `compost`; the first five need
//!   the use of that name. `hands` and `burners` are minutes, so many for a batch (`a_batch`), a
//!   kilogram (`a_kg`), a canner load (`a_load`). With `evening` the fruit is taken, and those
//!   minutes worked, on the day before. `least_grams` and `most_grams` are for a batch,
//!   `most_a_day_grams` for a day. A method is made at most once a day from each group of lots that
//!   may share a batch; canner loads are whole. A kilogram is worth `weight` up to `wanted_grams`,
//!   beyond it `weight_beyond` (a fifth of it).
//! - a day has 180 `hands_minutes`, 2 `canner_loads`, no dryer, and no limit on `burner_minutes` and
//!   `freezer_grams`, unless `a_day` or that day's `by_day` says otherwise. `stock` without a number
//!   has no limit.
//! - `pins` are made as said; `drops` are not made: each drops what agrees with all of `method`,
//!   `day` and `lot` that it names. `begun` batches (`method`, `day`, `from`: `[{lot, grams}]`) are
//!   finished, their fruit no longer in any lot, and their work taken from the day even where it
//!   holds less.
//! - `worth`: `waste` (0.25) is what a lost kilogram takes away, `waiting_a_day` (0.001) what a day's
//!   waiting does, `moving_kg` (0.05) what moving a lot from where it is `standing` does.
//!
//! # The plan, in JSON
//! [`Plan`]: `days` with their `batches` (method, `from` which lots, grams, jars, loads, the evening
//! it begins, `why` in a sentence), `rooms` by lot, `waste` by lot and day with the limit to blame,
//! `standing` and `waiting` (what is left at the end), `limits` that bind with what more of each
//! would save, `kept_grams`, `fed_grams`, `waste_grams`, and how good it is: `objective`, `bound`,
//! `gap`. Weights of a batch are whole grams rounded down, so that a `least_grams` or a pin may be
//! missed by a gram for each lot in it.
//!
//! The value of a plan is the sum over its batches of kilograms × worth, less `waste` × kilograms
//! lost, less `waiting_a_day` × days × kilograms, less `moving_kg` for each lot moved.
//!
//! # Design
//! A mixed-integer model (`shape`, `rows`: batches × days × room of each lot, with set-ups and whole
//! loads), solved by `microlp`, which is pure Rust and so runs on a phone as on a server. Alone it
//! finds no first plan in useful time; so several starts (`simple`, and from the relaxation), then
//! parts set free and solved with the rest held (`search`). Effort is counted in nodes, never in
//! seconds, and nothing is random: the same problem has the same plan on every device. What is
//! written out (`write`) is simulated again in whole grams from the batches, not read from the
//! solver; [`audit`] adds everything up once more from the plan alone, and tests hold every plan
//! against it. What more of a limit would save comes from solving again with more of it (`limits`).
//! Every lot that can be used green has two pools of fruit, ready and waiting (`table`), each first
//! in, first out (`ledger`).
//!
//! # Not yet true
//! Only the middle of the forecast is planned with; early and late ripening are not.

mod audit;
mod blame;
mod check;
mod desk;
mod fault;
mod ledger;
mod limits;
mod mip;
mod model;
mod plan;
mod problem;
mod rows;
mod search;
mod shape;
mod simple;
mod solve;
mod table;
mod ways;
mod words;
mod write;

#[cfg(test)]
mod laws;
#[cfg(test)]
mod tests;

pub use audit::audit;
pub use check::{MAX_DAYS, MAX_LOTS, MAX_METHODS, MAX_ROOMS, MAX_WISHES};
pub use fault::PlanError;
pub use plan::{Batch, Binding, Jars, Limit, Plan, PlanDay, Standing, Waste};
pub use problem::{
    Begun, DEFAULT_DAYS, DayLimits, Drop, JarUse, Lot, LotRoom, Minutes, Part, Pin, Problem, Room,
    Stock, Way, Worth,
};
pub use solve::{Effort, Progress, first_ripe_first, lp, solve};
pub use ways::{Household, Want, ways};
