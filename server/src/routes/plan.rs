//! Plans worked out here, for a program that cannot do it itself.

use std::sync::LazyLock;

use axum::Json;
use axum::body::Body;
use shared_types::trade::kitchen::planner::{Effort, Plan, Problem, solve};
use shared_types::wire::RefusalCode;
use tokio::sync::Semaphore;

use super::body::text;
use crate::error::Error;
use crate::store::Device;

/// Plans worked out at once: each takes a processor for seconds, and phones must still be served.
const PLANS_AT_ONCE: usize = 1;

static FREE: LazyLock<Semaphore> = LazyLock::new(|| Semaphore::new(PLANS_AT_ONCE));

/// `POST /api/v1/plan` of a problem, of which nothing is kept. Its body is at most
/// [`BODY_MAX_BYTES`](shared_types::wire::limits::BODY_MAX_BYTES), as any other.
pub(super) async fn plan(_device: Device, body: Body) -> Result<Json<Plan>, Error> {
    let text = text(body).await?;
    let problem = Problem::parse(&text).map_err(|error| malformed(&error))?;
    let place = FREE.acquire().await.map_err(|_| Error::Panicked)?;
    let planned = tokio::task::spawn_blocking(move || {
        // Held to the end, also when nobody waits for the answer any more.
        let _place = place;
        solve(&problem, Effort::default(), &mut |_| ())
    });
    let planned = planned.await.map_err(|_| Error::Panicked)?;
    planned.map(Json).map_err(|error| malformed(&error))
}

fn malformed(why: &impl ToString) -> Error {
    RefusalCode::Malformed { reason: why.to_string() }.into()
}
