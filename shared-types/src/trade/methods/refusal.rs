//! Refusals: why there is no time, and what to do instead.

use serde::{Deserialize, Serialize};

/// Why there is no time, and what to do instead.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Refusal {
    /// What kind.
    pub kind: RefusalKind,
    /// In words, with what to do.
    pub reason: String,
    /// Id of the source of the rule that refuses.
    pub source: String,
}

/// Kinds of refusal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RefusalKind {
    /// The method makes no jar.
    NotAJar,
    /// No time is published for this jar.
    NoPublishedTime,
    /// The published value was not seen; it must not be used until it is confirmed.
    Unconfirmed,
    /// Low in acid: pressure only.
    PressureOnly,
    /// No pressure is published for it.
    NoPublishedPressure,
    /// Not in a steam canner: too long, too low in acid, or a jar that was not tested.
    NotInSteam,
    /// No amount of acid is published for this jar.
    NoPublishedAcid,
    /// Above the end of the printed table.
    AboveTable,
    /// The height is out of range.
    Altitude,
}

impl Refusal {
    pub(super) fn new(kind: RefusalKind, reason: String, source: &str) -> Self {
        Self { kind, reason, source: source.to_owned() }
    }
}
