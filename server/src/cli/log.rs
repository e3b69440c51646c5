//! The server's own log, on standard error.

use clap::ValueEnum;
use tracing::Level;

/// How much the server tells.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum LogLevel {
    /// Failures of the server.
    Error,
    /// And what it could work around.
    Warn,
    /// And what was kept, who came in, what was refused.
    Info,
    /// And how connections ended.
    Debug,
}

/// Starts logging. Events have dotted names and never a payload, a code or a token.
pub(super) fn start(level: LogLevel) {
    let level = match level {
        LogLevel::Error => Level::ERROR,
        LogLevel::Warn => Level::WARN,
        LogLevel::Info => Level::INFO,
        LogLevel::Debug => Level::DEBUG,
    };
    tracing_subscriber::fmt().with_max_level(level).with_writer(std::io::stderr).init();
}
