//! `lugbook serve`

use std::io;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, UdpSocket};

use clap::Args;
use shared_types::wire::Role;
use tokio::net::TcpListener;
use tokio::runtime;

use super::log::{self, LogLevel};
use super::{DataArguments, Failure, code, say};
use crate::config::{Config, HttpConfig};
use crate::store::Store;
use crate::{clock, random, serve};

/// Threads for the network: a house has a handful of phones, and each thread costs memory.
const NETWORK_THREADS: usize = 2;

/// Threads for reading the database, beside the one that writes.
const READING_THREADS: usize = 2;

/// Arguments of `lugbook serve`.
#[derive(Debug, Args)]
pub(super) struct ServeArguments {
    #[command(flatten)]
    data: DataArguments,
    /// Address to listen on; `0.0.0.0:7117` for the phones of the house.
    #[arg(long, value_name = "ADDR", env = "LUGBOOK_LISTEN", default_value = HttpConfig::LISTEN)]
    listen: SocketAddr,
    /// How much to tell on standard error.
    #[arg(long, value_name = "LEVEL", env = "LUGBOOK_LOG", value_enum, default_value = "info")]
    log: LogLevel,
}

pub(super) fn run(arguments: ServeArguments) -> Result<(), Failure> {
    log::start(arguments.log);
    block_on(arguments.data.config(), arguments.listen, Role::Helper)
}

/// Serves until the process is asked to end. The code it prints lets devices in as `role`.
pub(super) fn block_on(config: Config, listen: SocketAddr, role: Role) -> Result<(), Failure> {
    let runtime = runtime::Builder::new_multi_thread()
        .worker_threads(NETWORK_THREADS)
        .max_blocking_threads(READING_THREADS)
        .enable_all()
        .build()?;
    runtime.block_on(start(config, listen, role))
}

async fn start(config: Config, listen: SocketAddr, role: Role) -> Result<(), Failure> {
    let shutdown = shutdown()?;
    let store = serve::open(&config)?;
    let listener =
        TcpListener::bind(listen).await.map_err(|error| cannot_listen(listen, &error))?;
    let address = open_address(listener.local_addr()?);
    welcome(&config, &store, address, role).await?;
    serve::serve_store(config, store, listener, shutdown).await;
    Ok(())
}

/// What the person at the house needs to let the first phone in.
async fn welcome(
    config: &Config,
    store: &Store,
    address: SocketAddr,
    role: Role,
) -> Result<(), Failure> {
    let now = clock::now();
    let uses = config.join.code_uses;
    let made = store.make_code(role, uses, random::bytes(), now).await?;
    say::line(format_args!("Lugbook is open at   http://{address}/"))?;
    say::line(format_args!("Code to join with    {}", code::describe(&made, now)))?;
    say::line(format_args!("Open and join        http://{address}/#join={}", made.code))?;
    Ok(())
}

fn cannot_listen(listen: SocketAddr, error: &io::Error) -> String {
    let next = match error.kind() {
        io::ErrorKind::AddrInUse => {
            "another program uses this port; stop it, or give another address with --listen"
        }
        io::ErrorKind::PermissionDenied => {
            "this port is only for the system; give one above 1024 with --listen"
        }
        _ => "give an address of this machine with --listen",
    };
    format!("cannot listen on {listen}: {error}; {next}")
}

/// The address a phone can open: for "all of this machine's" the one towards the network.
fn open_address(bound: SocketAddr) -> SocketAddr {
    let ip = if bound.ip().is_unspecified() { towards_network() } else { bound.ip() };
    SocketAddr::new(ip, bound.port())
}

/// This machine's address on the way to the outside. Nothing is sent: connecting a datagram socket
/// only asks the system for the way (192.0.2.1 is set apart for examples, RFC 5737).
fn towards_network() -> IpAddr {
    let ask = || {
        let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0))?;
        socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9))?;
        socket.local_addr()
    };
    ask().map_or(IpAddr::V4(Ipv4Addr::LOCALHOST), |address| address.ip())
}

/// Ready when the system or the person asks the program to end.
fn shutdown() -> io::Result<impl Future<Output = ()>> {
    #[cfg(unix)]
    let asked = {
        use tokio::signal::unix::{SignalKind, signal};
        let mut terminate = signal(SignalKind::terminate())?;
        let mut interrupt = signal(SignalKind::interrupt())?;
        async move {
            tokio::select! {
                _ = terminate.recv() => (),
                _ = interrupt.recv() => (),
            }
        }
    };
    #[cfg(not(unix))]
    let asked = async {
        if let Err(error) = tokio::signal::ctrl_c().await {
            tracing::warn!(why = %error, "server.signal_failed");
            std::future::pending::<()>().await;
        }
    };
    Ok(asked)
}
