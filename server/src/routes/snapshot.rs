//! The whole book at once.

use axum::extract::State;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};

use super::App;
use crate::error::Error;
use crate::store::Device;

/// `GET /api/v1/snapshot`
pub(super) async fn snapshot(State(app): State<App>, device: Device) -> Result<Response, Error> {
    let body = app.store.snapshot(device.device).await?;
    Ok(([(CONTENT_TYPE, "application/json")], body).into_response())
}
