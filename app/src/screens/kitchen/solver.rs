//! The planner, away from what the person is looking at.

use shared_types::trade::kitchen::planner::{Effort, Plan, PlanError, Problem, solve as search};

use crate::shell::js;

/// Solves `problem`; `progress` is told per cent.
///
/// # Errors
/// What is wrong with the problem, or the pinned batch that cannot be made.
pub async fn solve(problem: Problem, progress: impl Fn(u32) + 'static) -> Result<Plan, PlanError> {
    // Lets the screen say that it works before it does.
    js::pause(30).await;
    search(&problem, Effort::default(), &mut |so_far| {
        progress(u32::try_from(so_far.nodes * 100 / so_far.of.max(1)).unwrap_or(100));
    })
}
