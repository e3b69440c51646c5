//! The planner, away from what the person is looking at.

use shared_types::trade::kitchen::planner::{Plan, PlanError, Problem};

use crate::shell::planner;

/// Solves `problem`; `progress` is told per cent.
///
/// # Errors
/// What is wrong with the problem, or the pinned batch that cannot be made.
pub async fn solve(problem: Problem, progress: impl Fn(u32) + 'static) -> Result<Plan, PlanError> {
    planner::plan(&problem, move |so_far| {
        progress(u32::try_from(so_far.nodes * 100 / so_far.of.max(1)).unwrap_or(100));
    })
    .await
}
