//! What anyone may know.

use axum::Json;
use axum::extract::State;
use shared_types::wire::{Hello, OLDEST, VERSION};

use super::App;

/// `GET /healthz`
pub(super) async fn healthz() -> &'static str {
    "ok"
}

/// `GET /api/v1/hello`
pub(super) async fn hello(State(app): State<App>) -> Json<Hello> {
    Json(Hello {
        name: "lugbook".into(),
        v: VERSION,
        oldest: OLDEST,
        epoch: app.store.epoch(),
        server_time: (app.clock)(),
    })
}
