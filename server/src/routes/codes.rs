//! Codes to let devices in with.

use axum::Json;
use axum::extract::State;
use shared_types::wire::{Code, Role};

use super::App;
use crate::error::Error;
use crate::random;
use crate::store::Device;

/// `POST /api/v1/codes`: for helpers. Codes for other roles are made at the house, by
/// `lugbook code`.
pub(super) async fn make(State(app): State<App>, device: Device) -> Result<Json<Code>, Error> {
    device.must_own()?;
    let uses = app.config.join.code_uses;
    app.store.make_code(Role::Helper, uses, random::bytes(), (app.clock)()).await.map(Json)
}
