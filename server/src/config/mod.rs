//! Configuration by concern. The defaults are those of a house; arguments and environment are read
//! in one place only, [`crate::cli`].

mod data;
mod http;
mod join;

pub use data::DataConfig;
pub use http::HttpConfig;
pub use join::JoinConfig;

/// Everything a server can be told.
#[derive(Clone, Debug, Default)]
pub struct Config {
    /// Where and how the log is kept.
    pub data: DataConfig,
    /// How connections are held.
    pub http: HttpConfig,
    /// How devices come in.
    pub join: JoinConfig,
}
