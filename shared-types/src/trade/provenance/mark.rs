//! A value with its source and mark. The build script reads this file too: serde is all it may use.

use serde::{Deserialize, Serialize};

/// How a value came into a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Mark {
    /// Seen in the text of the named source.
    V,
    /// Seen in a reproduction of the named source.
    V2,
    /// From memory, not seen: never behind a shelf-stable jar.
    M,
    /// Arithmetic on marked values.
    D,
    /// A rule of the trade without a published source.
    #[serde(rename = "practice")]
    Practice,
    /// Chosen by this project where nothing published was found.
    #[serde(rename = "assumption")]
    Assumption,
}

impl Mark {
    /// Read in a source or a reproduction of one.
    pub const fn is_seen(self) -> bool {
        matches!(self, Self::V | Self::V2)
    }

    /// The mark in words for a screen.
    pub const fn words(self) -> &'static str {
        match self {
            Self::V => "seen in the source",
            Self::V2 => "seen in a reproduction of the source",
            Self::M => "from memory, unconfirmed",
            Self::D => "worked out from published values",
            Self::Practice => "common practice, set your own",
            Self::Assumption => "an assumption of this program",
        }
    }
}

/// A value with its provenance, as one object of a data file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sourced<T> {
    /// The value, in the unit its field names.
    pub value: T,
    /// Id of a [`Source`](super::Source).
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What a reader should know before relying on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A sentence with its provenance.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Said {
    /// The sentence, in plain English.
    pub text: String,
    /// Id of a [`Source`](super::Source).
    pub source: String,
    /// How sure.
    pub mark: Mark,
}
