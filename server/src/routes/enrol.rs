//! Joining, and taking another id after a fork.

use axum::Json;
use axum::extract::State;
use shared_types::wire::{EnrolRequest, Enrolled, RenewRequest};

use super::App;
use super::body::Sent;
use crate::error::Error;
use crate::join::Token;
use crate::random;
use crate::store::Device;

/// `POST /api/v1/enrol`
pub(super) async fn enrol(
    State(app): State<App>,
    Sent(request): Sent<EnrolRequest>,
) -> Result<Json<Enrolled>, Error> {
    let token = Token::new(random::bytes());
    app.store.enrol(request, token, (app.clock)()).await.map(Json)
}

/// `POST /api/v1/renew`
pub(super) async fn renew(
    State(app): State<App>,
    from: Device,
    Sent(request): Sent<RenewRequest>,
) -> Result<Json<Enrolled>, Error> {
    let token = Token::new(random::bytes());
    app.store.renew(from, request.device, token, (app.clock)()).await.map(Json)
}
