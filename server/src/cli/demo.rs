//! `lugbook demo`

use std::net::SocketAddr;

use clap::Args;
use shared_types::ids::EpochId;
use shared_types::wire::Role;

use super::log::{self, LogLevel};
use super::{Failure, serve};
use crate::config::{Config, DataConfig, HttpConfig};
use crate::{clock, demo, random, store};

/// Arguments of `lugbook demo`.
#[derive(Debug, Args)]
pub(super) struct DemoArguments {
    /// Address to listen on.
    #[arg(long, value_name = "ADDR", env = "LUGBOOK_LISTEN", default_value = HttpConfig::LISTEN)]
    listen: SocketAddr,
    /// How much to tell on standard error.
    #[arg(long, value_name = "LEVEL", env = "LUGBOOK_LOG", value_enum, default_value = "info")]
    log: LogLevel,
}

pub(super) fn run(arguments: &DemoArguments) -> Result<(), Failure> {
    log::start(arguments.log);
    // Removed when it is dropped, at the end of a run that is not killed.
    let folder = tempfile::Builder::new().prefix("lugbook-demo-").tempdir()?;
    let data = DataConfig { dir: folder.path().to_owned(), ..DataConfig::default() };
    let config = Config { data, ..Config::default() };
    let now = clock::now();
    store::fill(&config.data, EpochId::new(now, random::bytes()), |conn| {
        demo::write(conn, &demo::story(now, clock::offset_minutes(now)), now)
    })?;
    // The demo's helpers are in already; whoever looks at it may do everything.
    serve::block_on(config, arguments.listen, Role::Owner)
}
