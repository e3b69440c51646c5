//! Where a value was read, and how sure that reading is.
//!
//! # Context
//! Figures of this trade are copied from leaflet to leaflet, and some copies are wrong. A value
//! without its source cannot be checked; a value from memory must not reach a jar.
//!
//! # Design
//! A value in a data file is a [`Sourced`]: the value, the id of a [`Source`] in `sources.json`,
//! and a [`Mark`]. Only [`Mark::is_seen`] values may carry a shelf-stable jar.
//!
//! What an owner has confirmed against a printed guide is not a mark: it stands beside the value, as
//! [`super::methods::Confirmed`].

mod mark;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

pub use mark::{Mark, Said, Sourced};

/// A publication, or the honest absence of one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Its title.
    pub title: String,
    /// Who published it.
    pub agency: String,
    /// Year, as printed; empty when undated.
    pub year: String,
    /// Where its text was read.
    pub seen: String,
}

static SOURCES: LazyLock<BTreeMap<String, Source>> =
    LazyLock::new(|| embedded("sources.json", include_str!("../../../data/sources.json")));

/// All sources by id.
pub fn sources() -> &'static BTreeMap<String, Source> {
    &SOURCES
}

/// The source of that id.
pub fn source(id: &str) -> Option<&'static Source> {
    SOURCES.get(id)
}

/// A source in one line for a screen: title, agency, year; the id itself when it is unknown.
pub fn cite(id: &str) -> String {
    let Some(source) = source(id) else { return id.to_owned() };
    let mut line = source.title.clone();
    for part in [&source.agency, &source.year] {
        if !part.is_empty() {
            line.push_str(", ");
            line.push_str(part);
        }
    }
    line
}

/// Reads a table that was built into the program.
///
/// # Panics
/// When the file is not what its struct says: a fault of the build, found by any test that
/// touches the table.
pub(crate) fn embedded<T: serde::de::DeserializeOwned>(file: &str, text: &str) -> T {
    match serde_json::from_str(text) {
        Ok(table) => table,
        Err(error) => panic!("the built-in table {file} does not read: {error}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_source_says_what_it_is_and_where_it_was_read() {
        assert!(sources().len() > 30);
        for (id, source) in sources() {
            assert!(!source.title.is_empty() && !source.seen.is_empty(), "{id}");
        }
    }

    #[test]
    fn an_unknown_id_is_shown_as_it_is() {
        assert_eq!(cite("no-such"), "no-such");
        assert!(cite("ksu-frozen").contains("2009"));
    }
}
