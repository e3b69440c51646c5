//! Push and pull.

use axum::extract::State;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use shared_types::wire::ExchangeRequest;

use super::App;
use super::body::Sent;
use crate::error::Error;
use crate::store::Device;

/// `POST /api/v1/exchange`
pub(super) async fn exchange(
    State(app): State<App>,
    device: Device,
    Sent(request): Sent<ExchangeRequest>,
) -> Result<Response, Error> {
    let reply = app.store.exchange(device, request, (app.clock)()).await?;
    Ok(([(CONTENT_TYPE, "application/json")], reply.body).into_response())
}
