//! The plan worked out.

use serde::{Deserialize, Serialize};

use super::fault::PlanError;
use super::limits;
use super::plan::Plan;
use super::problem::Problem;
use super::search::Search;
use super::shape::Shape;
use super::simple::simple;
use super::table::Table;
use super::write::write;

/// How long to search, in nodes and never in seconds, so that every device finds the same plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Search nodes in all.
    pub nodes: u64,
}

impl Default for Effort {
    fn default() -> Self {
        Self { nodes: 5_000 }
    }
}

/// How far the search is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Progress {
    /// Nodes spent.
    pub nodes: u64,
    /// Nodes to spend at most.
    pub of: u64,
    /// The value of the best plan so far.
    pub objective: f64,
    /// No plan is worth more, as far as is known.
    pub bound: Option<f64>,
}

/// Works out a plan.
///
/// # Errors
/// What is wrong with the problem, or the pinned batch that cannot be made.
pub fn solve(
    problem: &Problem,
    effort: Effort,
    progress: &mut dyn FnMut(Progress),
) -> Result<Plan, PlanError> {
    let table = Table::new(problem)?;
    let mut search = Search::begin(&table)?;
    search.run(effort, progress);
    let mut plan = write(&table, &search.best);
    plan.limits = limits::binding(&search, &plan);
    plan.bound = search.bound.max(plan.objective);
    let least = 1e-9;
    plan.gap = (plan.objective.abs() > least)
        .then(|| (plan.bound - plan.objective) / plan.objective.abs());
    plan.nodes = search.nodes;
    plan.note = note(&plan);
    Ok(plan)
}

fn note(plan: &Plan) -> String {
    match plan.gap {
        Some(gap) if gap > 5e-5 => format!(
            "No plan can be worth more than {:.1} % above this one.",
            libm::ceil(gap * 1000.0) / 10.0
        ),
        _ => "No plan is worth more than this one.".to_owned(),
    }
}

/// The problem as a mixed-integer model in the LP format, for another solver. Its optimum is the
/// best [`Plan::objective`].
///
/// # Errors
/// What is wrong with the problem.
pub fn lp(problem: &Problem) -> Result<String, PlanError> {
    let table = Table::new(problem)?;
    Ok(Shape::new(&table).model.lp())
}

/// The plan of the simple rule, to compare with: first ripe, first used, lots where they stand.
///
/// # Errors
/// As [`solve`].
pub fn first_ripe_first(problem: &Problem) -> Result<Plan, PlanError> {
    let table = Table::new(problem)?;
    let decided = simple(&table, table.rooms_first()?)?;
    let mut plan = write(&table, &decided);
    plan.note = "First ripe, first used. It does not look for the best plan.".to_owned();
    Ok(plan)
}
