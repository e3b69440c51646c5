//! The plan worked out.

use super::fault::PlanError;
use super::plan::Plan;
use super::problem::Problem;
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
        Self { nodes: 6_000 }
    }
}

/// How far the search is.
#[derive(Clone, Copy, Debug, PartialEq)]
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
    let decided = simple(&table, table.rooms_first()?)?;
    let mut plan = write(&table, &decided);
    progress(Progress { nodes: 0, of: effort.nodes, objective: plan.objective, bound: None });
    plan.note = "First ripe, first used. It does not look for the best plan.".to_owned();
    Ok(plan)
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
