//! The engine in a small world: phones with disks that can fail, one server, a network that loses.
//!
//! The server here is a model of the wire's specification, a hundred lines; the same laws are held
//! against the real one in the `tests` crate.

mod cases;
mod laws;
mod twins;
mod world;
