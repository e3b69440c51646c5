//! Plans against HiGHS: the generated kitchens of `examples/plan`, solved by `scipy.optimize.milp` on
//! a model written in Python without a look at Lugbook's. The table was made by
//! `tests/reference/plan_model.py` at the root, which says how; it does not hold the model Lugbook
//! writes, and HiGHS had seconds for each kitchen.
//!
//! HiGHS proves a bound for each kitchen. No plan of ours may be worth more than it, which would mean
//! that a limit is missing here; and no plan of theirs may be worth more than our bound, or than ours
//! by far. How near the best ours is, the table cannot tell: theirs are far from it.

use std::collections::BTreeMap;

use serde::Deserialize;
use shared_types::trade::kitchen::planner::{Effort, audit, solve};

#[path = "../../examples/plan/cases.rs"]
mod cases;

/// Kitchens planned here; the bench does all of them.
const LOOKED_AT: usize = 3;
/// Both are rounded, and HiGHS takes a row for kept within a millionth.
const ROUNDING: f64 = 0.02;

#[derive(Deserialize)]
struct Row {
    python: Told,
}

#[derive(Deserialize)]
struct Told {
    objective: Option<f64>,
    bound: Option<f64>,
}

fn table() -> BTreeMap<String, Row> {
    let text = include_str!("../../../tests/reference/plan_table.json");
    serde_json::from_str(text).expect("the table reads")
}

#[test]
fn no_plan_is_worth_more_than_the_reference_proves_possible() {
    for (number, row) in table().into_iter().take(LOOKED_AT) {
        let problem = cases::case(number.parse().expect("a number"));
        let plan = solve(&problem, Effort { nodes: 1_500 }, &mut |_| ()).expect("a plan");
        assert_eq!(audit(&problem, &plan), Vec::<String>::new(), "{number}");
        if let Some(bound) = row.python.bound {
            assert!(plan.objective <= bound + ROUNDING, "{number}: {}", plan.objective);
        }
        if let Some(theirs) = row.python.objective {
            assert!(plan.bound >= theirs - ROUNDING, "{number}: {} under {theirs}", plan.bound);
            assert!(plan.objective >= theirs - 0.04 * theirs.abs(), "{number}");
        }
    }
}
