//! Tonight, the stores and the season book, for programs: the same JSON as the command line's.

use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use serde::Deserialize;
use shared_types::outlook::{self, Season, StoresBook, Today, TonightBook};
use shared_types::units::{Day, Millis};
use shared_types::wire::RefusalCode;

use super::App;
use crate::clock;
use crate::error::Error;
use crate::store::Device;

/// Which day, and how the clocks stand.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct When {
    today: Option<Day>,
    offset_minutes: Option<i32>,
}

/// Which season.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Which {
    year: Option<i32>,
    offset_minutes: Option<i32>,
}

fn today(app: &App, day: Option<Day>, offset_minutes: Option<i32>) -> (Today, Millis) {
    let now = (app.clock)();
    let offset = offset_minutes.unwrap_or_else(|| clock::offset_minutes(now));
    let today = Today::at(now, offset);
    (Today { day: day.unwrap_or(today.day), ..today }, now)
}

/// `GET /api/v1/tonight?today=2026-10-12&offset_minutes=120`
pub(super) async fn tonight(
    State(app): State<App>,
    _device: Device,
    query: Result<Query<When>, QueryRejection>,
) -> Result<Json<TonightBook>, Error> {
    let When { today: day, offset_minutes } = read(query)?;
    let (today, now) = today(&app, day, offset_minutes);
    let told = app.store.look(move |book| outlook::tonight(book, today, now)).await?;
    told.map(Json).map_err(|error| malformed(&error))
}

/// `GET /api/v1/stores?today=2026-10-12&offset_minutes=120`
pub(super) async fn stores(
    State(app): State<App>,
    _device: Device,
    query: Result<Query<When>, QueryRejection>,
) -> Result<Json<StoresBook>, Error> {
    let When { today: day, offset_minutes } = read(query)?;
    let (today, _) = today(&app, day, offset_minutes);
    Ok(Json(app.store.look(move |book| outlook::stores(book, today)).await?))
}

/// `GET /api/v1/season?year=2026&offset_minutes=120`
pub(super) async fn season(
    State(app): State<App>,
    _device: Device,
    query: Result<Query<Which>, QueryRejection>,
) -> Result<Json<Season>, Error> {
    let Which { year, offset_minutes } = read(query)?;
    let (today, _) = today(&app, None, offset_minutes);
    let year = year.unwrap_or(today.day.year());
    Ok(Json(app.store.look(move |book| outlook::season(book, year, today)).await?))
}

fn read<T>(query: Result<Query<T>, QueryRejection>) -> Result<T, Error> {
    query.map(|Query(query)| query).map_err(|error| malformed(&error))
}

fn malformed(why: &impl ToString) -> Error {
    RefusalCode::Malformed { reason: why.to_string() }.into()
}
