//! The server over HTTP, on a port of its own and a data folder of its own for each test.

#![allow(clippy::unwrap_used, reason = "tests, and what only they use")]

mod calendar;
mod connections;
mod exchanging;
mod joining;
mod methods;
mod readings;
mod support;
