//! The demo: an invented holding, `Kestrel Terrace`, in the days around its last clear-out.
//!
//! Everything here is made up: the place, the people, the weights. It is written as entries of three
//! phones, in the order a server would have received them, dated back from now, so that what a
//! person sees is what their own log would fold to.

mod harvest;
mod holding;
mod kitchen;
mod nights;
mod rounds;
mod story;
mod writer;

use rusqlite::Connection;
use shared_types::units::Millis;
use shared_types::wire::Role;

use crate::error::Error;
use crate::exchange::admit;
use crate::store::devices::{self, Device};

pub use story::{Helper, Story, story};

/// Writes the story into an empty database: its phones, and their entries as a server admits them.
/// Nobody has the phones' tokens.
///
/// # Errors
/// A failure of the database.
pub fn write(conn: &Connection, story: &Story, now: Millis) -> Result<(), Error> {
    for (n, helper) in (1..).zip(&story.helpers) {
        let device = Device {
            device: helper.device,
            person: helper.person,
            name: helper.name.to_owned(),
            role: Role::Helper,
            enrolled: now,
            seen: Some(now),
            revoked: None,
            renewed_from: None,
        };
        devices::put(conn, &device, &[n; 32])?;
    }
    for entry in &story.entries {
        admit(conn, entry.device, std::slice::from_ref(entry), now)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests;
