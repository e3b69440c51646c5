//! HTTP to calls of the store, one file per thing. Every answer under `/api` that is not what was
//! asked for is a [`Refusal`](shared_types::wire::Refusal), whatever went wrong.

mod body;
mod calendar;
mod cases;
mod codes;
mod devices;
mod enrol;
mod exchange;
mod hello;
mod live;
mod methods;
mod plan;
mod readings;
mod season;
mod snapshot;
mod views;

use std::any::Any;
use std::sync::Arc;

use axum::Router;
use axum::extract::{Request, State};
use axum::http::HeaderValue;
use axum::http::header::CACHE_CONTROL;
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Response};
use axum::routing::{any, get, post};
use shared_types::units::Millis;
use shared_types::wire::RefusalCode;
use tokio::sync::watch;
use tower_http::catch_panic::CatchPanicLayer;

use crate::assets;
use crate::config::Config;
use crate::error::Error;
use crate::store::Store;

/// What every route may use.
#[derive(Clone)]
pub struct App {
    /// What the server keeps.
    pub store: Store,
    /// What it was told.
    pub config: Arc<Config>,
    /// Its clock.
    pub clock: fn() -> Millis,
    /// Becomes true when the server stops.
    pub stopping: watch::Receiver<bool>,
}

/// All routes: the API, and the phone's program for everything else.
pub fn router(app: App) -> Router {
    let v1 = Router::new()
        .route("/hello", get(hello::hello))
        .route("/enrol", post(enrol::enrol))
        .route("/renew", post(enrol::renew))
        .route("/exchange", post(exchange::exchange))
        .route("/live", get(live::live))
        .route("/snapshot", get(snapshot::snapshot))
        .route("/totals", get(views::totals))
        .route("/forecast", get(views::forecast).post(views::case))
        .route("/kitchen", get(views::kitchen))
        .route("/plan", post(plan::plan))
        .route("/methods", get(methods::list))
        .route("/methods/{name}", get(methods::method))
        .route("/tonight", get(season::tonight).post(cases::tonight))
        .route("/stores", get(season::stores).post(cases::stores))
        .route("/season", get(season::season))
        .route("/calendar", get(calendar::list).post(calendar::make))
        .route("/calendar/revoke", post(calendar::revoke))
        .route("/calendar/{file}", get(calendar::feed))
        .route("/readings", post(readings::take))
        .route("/sensors", post(readings::enrol))
        .route("/codes", post(codes::make))
        .route("/devices", get(devices::list))
        .route("/devices/revoke", post(devices::revoke));
    let api = Router::new()
        .nest("/api/v1", v1)
        .route("/api", any(not_found))
        .route("/api/", any(not_found))
        .route("/api/{*rest}", any(not_found))
        .method_not_allowed_fallback(not_found)
        .layer(middleware::from_fn_with_state(app.clone(), in_time))
        .layer(middleware::map_response(never_cached))
        .layer(CatchPanicLayer::custom(panicked));
    let router = Router::new()
        .route("/healthz", get(hello::healthz))
        .merge(api)
        .with_state(app)
        .merge(assets::routes());
    assets::with_headers(router)
}

async fn not_found() -> Error {
    RefusalCode::NotFound.into()
}

/// Ends a request that takes too long, most of all one whose body never comes.
async fn in_time(State(app): State<App>, request: Request, next: Next) -> Response {
    let answer = tokio::time::timeout(app.config.http.request_timeout, next.run(request)).await;
    answer.unwrap_or_else(|_| Error::TimedOut.into_response())
}

async fn never_cached(mut response: Response) -> Response {
    response.headers_mut().insert(CACHE_CONTROL, HeaderValue::from_static("no-store"));
    response
}

fn panicked(_panic: Box<dyn Any + Send>) -> Response {
    Error::Panicked.into_response()
}

#[cfg(test)]
mod tests {
    use axum::body::{self, Body};
    use axum::http::StatusCode;
    use shared_types::wire::Refusal;
    use tower::ServiceExt as _;

    use super::*;

    #[tokio::test]
    async fn a_panic_is_an_answer() {
        let router: Router = Router::new()
            .route("/", get(|| async { panic!("on purpose") as () }))
            .layer(CatchPanicLayer::custom(panicked));
        let answer = router.oneshot(Request::new(Body::empty())).await.unwrap();
        assert_eq!(answer.status(), StatusCode::INTERNAL_SERVER_ERROR);
        let bytes = body::to_bytes(answer.into_body(), 1000).await.unwrap();
        let refusal: Refusal = serde_json::from_slice(&bytes).unwrap();
        assert_eq!(refusal.code, RefusalCode::Internal);
    }
}
