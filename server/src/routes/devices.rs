//! Who is in, and shutting them out.

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use shared_types::wire::{DeviceInfo, RevokeRequest};

use super::App;
use super::body::Sent;
use crate::error::Error;
use crate::store::Device;

/// `GET /api/v1/devices`
pub(super) async fn list(
    State(app): State<App>,
    _device: Device,
) -> Result<Json<Vec<DeviceInfo>>, Error> {
    let devices = app.store.devices().await?;
    Ok(Json(devices.into_iter().map(DeviceInfo::from).collect()))
}

/// `POST /api/v1/devices/revoke`
pub(super) async fn revoke(
    State(app): State<App>,
    device: Device,
    Sent(request): Sent<RevokeRequest>,
) -> Result<StatusCode, Error> {
    device.must_own()?;
    app.store.revoke(request.device, (app.clock)()).await?;
    tracing::info!(device = %request.device, by = %device.device, "device.revoked");
    Ok(StatusCode::NO_CONTENT)
}
