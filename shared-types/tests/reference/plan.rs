//! Plans against HiGHS: the generated kitchens of `examples/plan`, solved by `scipy.optimize.milp`
//! on the model Lugbook writes and on one written in Python without a look at it. The table was made
//! by `tests/reference/plan_model.py` at the root, which says how.
//!
//! HiGHS proves a bound for each kitchen, and finds a plan of its own for most. No plan of ours may
//! be worth more than either model's bound, which would mean that a limit is missing here; and none
//! of theirs more than ours by far.

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
    written: Option<Told>,
    python: Option<Told>,
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
fn the_two_models_agree() {
    // What one proves cannot be beaten, the other cannot beat.
    for (number, row) in table() {
        let (Some(written), Some(python)) = (row.written, row.python) else { continue };
        for (found, bound) in [(&written, &python), (&python, &written)] {
            if let (Some(found), Some(bound)) = (found.objective, bound.bound) {
                assert!(found <= bound + ROUNDING, "{number}: {found} above {bound}");
            }
        }
    }
}

#[test]
fn plans_are_near_the_reference_and_never_above_its_bound() {
    for (number, row) in table().into_iter().take(LOOKED_AT) {
        let problem = cases::case(number.parse().expect("a number"));
        let plan = solve(&problem, Effort { nodes: 1_500 }, &mut |_| ()).expect("a plan");
        assert_eq!(audit(&problem, &plan), Vec::<String>::new(), "{number}");
        for told in [row.written, row.python].into_iter().flatten() {
            if let Some(bound) = told.bound {
                assert!(plan.objective <= bound + ROUNDING, "{number}: {}", plan.objective);
            }
            if let Some(theirs) = told.objective {
                assert!(plan.bound >= theirs - ROUNDING, "{number}: {} under {theirs}", plan.bound);
                assert!(plan.objective >= theirs - 0.04 * theirs.abs(), "{number}");
            }
        }
    }
}
