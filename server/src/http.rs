//! The connection loop.
//!
//! `axum::serve` sets no limit on how long a client may take over its headers, so that a socket
//! which connects and says nothing is held for ever. Here each connection has that limit, a place
//! among a bounded number, and an end when its peer has walked away.

use std::io;
use std::pin::pin;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use socket2::SockRef;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::Semaphore;
use tokio::task::JoinSet;

use crate::config::HttpConfig;

/// Pause after a failed accept: the likely cause, no more file handles, does not pass at once.
const ACCEPT_PAUSE: Duration = Duration::from_millis(100);

/// Answers connections of `listener` with `router` until `shutdown` is ready; then calls
/// `stopping`, which ends what would not end by itself, and waits for requests under way.
pub async fn run(
    config: &HttpConfig,
    listener: TcpListener,
    router: Router,
    shutdown: impl Future<Output = ()>,
    stopping: impl FnOnce(),
) {
    let mut protocol = http1::Builder::new();
    protocol.timer(TokioTimer::new()).header_read_timeout(config.header_timeout);
    let places = Arc::new(Semaphore::new(config.connections_max));
    let graceful = GracefulShutdown::new();
    let mut connections = JoinSet::new();
    let mut shutdown = pin!(shutdown);
    loop {
        let next = async {
            let place = places.clone().acquire_owned().await.expect("the semaphore stays open");
            (place, accept(&listener).await)
        };
        let (place, stream) = tokio::select! {
            next = next => next,
            () = &mut shutdown => break,
        };
        if let Err(error) = set_options(&stream, config) {
            tracing::debug!(why = %error, "http.options_failed");
        }
        let service = TowerToHyperService::new(router.clone());
        let connection = protocol.serve_connection(TokioIo::new(stream), service);
        let connection = graceful.watch(connection);
        connections.spawn(async move {
            let _place = place;
            if let Err(error) = connection.await {
                tracing::debug!(why = %error, "http.connection_ended");
            }
        });
        while connections.try_join_next().is_some() {}
    }
    drop(listener);
    stopping();
    if tokio::time::timeout(config.drain, graceful.shutdown()).await.is_err() {
        tracing::warn!(connections = connections.len(), "http.drain_ended");
    }
    connections.shutdown().await;
}

/// The next connection. A failure is the machine's, not one client's: it is waited out.
async fn accept(listener: &TcpListener) -> TcpStream {
    loop {
        match listener.accept().await {
            Ok((stream, _)) => return stream,
            Err(error) => {
                tracing::warn!(why = %error, "http.accept_failed");
                tokio::time::sleep(ACCEPT_PAUSE).await;
            }
        }
    }
}

fn set_options(stream: &TcpStream, config: &HttpConfig) -> io::Result<()> {
    stream.set_nodelay(true)?;
    let socket = SockRef::from(stream);
    #[cfg(any(target_os = "linux", target_os = "android"))]
    socket.set_tcp_user_timeout(Some(config.unacknowledged_max))?;
    #[cfg(not(any(target_os = "linux", target_os = "android")))]
    socket.set_tcp_keepalive(&socket2::TcpKeepalive::new().with_time(config.unacknowledged_max))?;
    Ok(())
}
