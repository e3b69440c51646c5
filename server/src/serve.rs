//! The server as a whole: the same for `main` and for tests.

use std::sync::Arc;

use shared_types::ids::EpochId;
use tokio::net::TcpListener;
use tokio::sync::watch;

use crate::config::Config;
use crate::routes::{self, App};
use crate::store::{OpenError, Store};
use crate::{clock, http, random, recovery};

/// Opens the data and serves it on `listener` until `shutdown` is ready.
///
/// # Errors
/// When the data cannot be opened.
pub async fn serve(
    config: Config,
    listener: TcpListener,
    shutdown: impl Future<Output = ()>,
) -> Result<(), OpenError> {
    let store = open(&config)?;
    serve_store(config, store, listener, shutdown).await;
    Ok(())
}

/// Opens the data, making what is not there.
///
/// # Errors
/// See [`OpenError`].
pub fn open(config: &Config) -> Result<Store, OpenError> {
    Store::open(&config.data, EpochId::new(clock::now(), random::bytes()))
}

/// Serves `store` on `listener` until `shutdown` is ready; returns when everything handed in
/// before is on disk and the store is closed.
pub async fn serve_store(
    config: Config,
    store: Store,
    listener: TcpListener,
    shutdown: impl Future<Output = ()>,
) {
    let (stop, stopping) = watch::channel(false);
    let backups = tokio::spawn(recovery::rotate::nightly(config.data.clone(), stopping.clone()));
    let config = Arc::new(config);
    let app = App { store: store.clone(), config: config.clone(), clock: clock::now, stopping };
    let router = routes::router(app);
    let end_streams = || {
        tracing::info!("server.stopping");
        stop.send_replace(true);
    };
    http::run(&config.http, listener, router, shutdown, end_streams).await;
    if let Err(error) = backups.await {
        tracing::error!(why = %error, "backup.failed");
    }
    store.close().await;
}
