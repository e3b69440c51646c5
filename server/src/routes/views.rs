//! What the log comes to, for programs: the same JSON as the command line's `--json`.

use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use serde::Deserialize;
use shared_types::book::totals::{By, Totals};
use shared_types::ids::PickId;
use shared_types::outlook::{self, Outlook, Today};
use shared_types::trade::kitchen::SimplePlan;
use shared_types::trade::ripening::MAX_DAYS;
use shared_types::trade::ripening::case::{self, Answer, Case};
use shared_types::units::Day;
use shared_types::wire::RefusalCode;

use super::App;
use super::body::text;
use crate::clock;
use crate::error::Error;
use crate::store::Device;

/// Days of a forecast when nobody says.
const DAYS: usize = 14;

/// How to split totals.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TotalsQuery {
    #[serde(default = "by_class")]
    by: By,
    across: Option<By>,
    pick: Option<PickId>,
}

fn by_class() -> By {
    By::Class
}

/// `GET /api/v1/totals?by=class&across=place&pick=UUID`
pub(super) async fn totals(
    State(app): State<App>,
    _device: Device,
    query: Result<Query<TotalsQuery>, QueryRejection>,
) -> Result<Json<Totals>, Error> {
    let TotalsQuery { by, across, pick } = read(query)?;
    Ok(Json(app.store.look(move |book| book.totals(pick, by, across)).await?))
}

/// Which days to look at.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DaysQuery {
    days: Option<usize>,
    today: Option<Day>,
    offset_minutes: Option<i32>,
}

impl DaysQuery {
    fn today(&self, app: &App) -> Today {
        let now = (app.clock)();
        let offset = self.offset_minutes.unwrap_or_else(|| clock::offset_minutes(now));
        let today = Today::at(now, offset);
        Today { day: self.today.unwrap_or(today.day), ..today }
    }

    fn days(&self) -> usize {
        self.days.unwrap_or(DAYS).clamp(1, MAX_DAYS)
    }
}

/// `GET /api/v1/forecast?days=14&today=2026-10-12&offset_minutes=120`
pub(super) async fn forecast(
    State(app): State<App>,
    _device: Device,
    query: Result<Query<DaysQuery>, QueryRejection>,
) -> Result<Json<Outlook>, Error> {
    let query = read(query)?;
    let (today, days) = (query.today(&app), query.days());
    Ok(Json(app.store.look(move |book| outlook::outlook(book, today, days)).await?))
}

/// `POST /api/v1/forecast` of a case, of which nothing is kept.
pub(super) async fn case(_device: Device, body: axum::body::Body) -> Result<Json<Answer>, Error> {
    let text = text(body).await?;
    let told = Case::parse(&text).and_then(|case| case::run(&case));
    told.map(Json).map_err(|error| malformed(&error))
}

/// `GET /api/v1/kitchen?today=2026-10-12&offset_minutes=120`
pub(super) async fn kitchen(
    State(app): State<App>,
    _device: Device,
    query: Result<Query<DaysQuery>, QueryRejection>,
) -> Result<Json<SimplePlan>, Error> {
    let today = read(query)?.today(&app);
    let plan = app.store.look(move |book| outlook::kitchen(book, today)).await?;
    plan.map(Json).map_err(|error| malformed(&error))
}

fn read<T>(query: Result<Query<T>, QueryRejection>) -> Result<T, Error> {
    query.map(|Query(query)| query).map_err(|error| malformed(&error))
}

fn malformed(why: &impl ToString) -> Error {
    RefusalCode::Malformed { reason: why.to_string() }.into()
}
