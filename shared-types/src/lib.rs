//! What every side of Lugbook agrees on.
//!
//! This crate is pure: no IO, no clock, no randomness, no browser, no database. It builds for
//! the phone (wasm32) and for the house server, and both must compute the same answer from the
//! same log, to the last gram.
//!
//! What may live here, from the ground up; a module may use only those left of it:
//!
//! ```text
//! units, ids  <-  hlc  <-  entry  <-  book  <-  engine      the log and what it means
//! units, ids  <-  trade                                     ripening, fitness, methods
//! entry       <-  loggers                                   files of thermometers
//! entry       <-  wire                                      what travels between phone and server
//! book, trade <-  outlook                                   the trade's answers for a book
//! entry, trade <- past                                      earlier seasons from a spreadsheet
//! ```
//!
//! `trade` never knows that entries exist: it turns inputs into an answer, a reason and a source.
//! What does not fit one of these lines does not belong in this crate.

pub mod book;
pub mod draft;
pub mod engine;
pub mod entry;
pub mod hlc;
pub mod ids;
pub mod loggers;
pub mod outlook;
pub mod past;
pub mod trade;
pub mod units;
pub mod wire;
