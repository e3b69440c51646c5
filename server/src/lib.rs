//! The house server: the log's keeper, and the phone's program packed inside it.
//!
//! ```text
//! cli -> serve -> http -> routes -> store -> exchange, join -> store::{log, devices, codes, meta}
//!                         assets             (plain functions over a connection)
//! ```
//!
//! - [`exchange`] decides what of a push is kept and what a phone gets; [`join`] decides who comes
//!   in. Both are plain functions over a database connection, a clock reading and random bytes, so
//!   that the simulation runs exactly what the house runs.
//! - [`store`] owns the connections: one thread writes, a few read. Nothing above it sees SQL.
//! - [`routes`] turns HTTP into calls of the store and refusals into answers; [`http`] is the
//!   connection loop with its time limits; [`serve`] ties them together for `main` and for tests.
//! - [`calendar`] writes the feed that calendar programs read by a secret link.
//! - [`recovery`] copies, restores and checks what the store keeps.
//!
//! Deliberately absent: sessions, cookies, cross-origin calls, a cache of entries, and any
//! look into what an entry says when it is admitted.

pub mod assets;
pub mod auth;
pub mod calendar;
pub mod cli;
pub mod clock;
pub mod config;
pub mod demo;
pub mod error;
pub mod exchange;
pub mod http;
pub mod join;
pub mod lines;
pub mod random;
pub mod recovery;
pub mod routes;
pub mod serve;
pub mod store;
