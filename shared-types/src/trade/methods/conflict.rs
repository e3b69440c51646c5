//! Where published guidance contradicts itself: both sides, and which one is followed.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::{Mark, MethodId};
use crate::trade::provenance::embedded;

/// One contradiction.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Conflict {
    /// Its key.
    pub id: String,
    /// What it is about.
    pub about: String,
    /// Methods it touches; none where it touches all.
    pub methods: Vec<MethodId>,
    /// What each source says.
    pub claims: Vec<Claim>,
    /// What this program does.
    pub followed: String,
}

/// One side of a contradiction.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Claim {
    /// In words.
    pub text: String,
    /// The least number it gives, where it gives one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least: Option<f64>,
    /// The most.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<f64>,
    /// Of what.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

static CONFLICTS: LazyLock<Vec<Conflict>> =
    LazyLock::new(|| embedded("conflicts.json", include_str!("../../../data/conflicts.json")));

/// All contradictions.
pub fn conflicts() -> &'static [Conflict] {
    &CONFLICTS
}

/// The contradictions that touch a method by name.
pub fn conflicts_of(id: &MethodId) -> impl Iterator<Item = &'static Conflict> + use<'_> {
    CONFLICTS.iter().filter(move |conflict| conflict.methods.contains(id))
}

impl Conflict {
    /// The range that all claims with a number span, with its unit: `2.75 to 3.14 lb/qt`.
    pub fn range(&self) -> Option<String> {
        let least = self.claims.iter().filter_map(|claim| claim.least).reduce(f64::min)?;
        let most = self.claims.iter().filter_map(|claim| claim.most).reduce(f64::max)?;
        let unit = self.claims.iter().find_map(|claim| claim.unit.as_deref())?;
        Some(if least < most {
            format!("{least} to {most} {unit}")
        } else {
            format!("{least} {unit}")
        })
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::trade::methods::method;
    use crate::trade::provenance::source;

    #[test]
    fn every_contradiction_has_both_sides_with_their_sources() {
        let ids: BTreeSet<_> = conflicts().iter().map(|conflict| &conflict.id).collect();
        assert_eq!(ids.len(), conflicts().len());
        for conflict in conflicts() {
            assert!(conflict.claims.len() >= 2, "{}", conflict.id);
            for claim in &conflict.claims {
                assert!(source(&claim.source).is_some(), "{}: {}", conflict.id, claim.source);
                let told = [claim.least.is_some(), claim.most.is_some(), claim.unit.is_some()];
                assert!(told == [true; 3] || told == [false; 3], "{}", conflict.id);
                assert!(claim.least <= claim.most, "{}", conflict.id);
            }
            for id in &conflict.methods {
                assert!(method(id).is_some(), "{}: {id}", conflict.id);
            }
        }
    }

    #[test]
    fn a_range_spans_all_sides() {
        let range = |id: &str| {
            conflicts().iter().find(|conflict| conflict.id == id).expect("such a one").range()
        };
        assert_eq!(range("crushed-yield").as_deref(), Some("2.75 to 3.14 lb/qt"));
        assert_eq!(range("thick-sauce-yield").as_deref(), Some("6.22 to 6.57 lb/qt"));
        assert_eq!(range("thickener"), None);
    }
}
