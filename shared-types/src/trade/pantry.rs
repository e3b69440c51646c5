//! Pantry: how long what was made is at its best.
//!
//! # Context
//! What is canned by a tested method and stays sealed is safe for longer than it is good; what is
//! frozen fades, what is dried fades soonest. A label wants one date.
//!
//! # Design
//! One row by kind: months until it is past its best, and until it is looked at before it is used.
//! Where sources differ the shorter one is the label's.

use serde::Serialize;

use super::methods::Kind;
use super::provenance::Mark;

/// How long a kind of thing keeps.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Keeps {
    /// Months at its best.
    pub best_months: u32,
    /// Months after which it is flagged.
    pub stale_months: u32,
    /// Where, in words.
    pub words: &'static str,
    /// Id of the source.
    pub source: &'static str,
    /// How sure.
    pub mark: Mark,
}

/// Jars: "best quality 12 months", 50 to 70 °F (ucanr.edu); a secondary quote says 12 to 18.
const JAR: Keeps = Keeps {
    best_months: 12,
    stale_months: 18,
    words: "cool, dark and dry, 10 to 21 °C; look at the seal before it is opened",
    source: "ucanr-storage",
    mark: Mark::V,
};

/// Frozen: quality 8 to 12 months at -18 °C (AIB 410 and others); longer is safe and poorer.
const FREEZE: Keeps = Keeps {
    best_months: 8,
    stale_months: 12,
    words: "at -18 °C; longer is safe, and poorer",
    source: "freezer-load",
    mark: Mark::V,
};

/// Dried: 6 to 12 months in the cool; from memory, so the shorter.
const DRY: Keeps = Keeps {
    best_months: 6,
    stale_months: 12,
    words: "cool, dark and airtight",
    source: "common-practice",
    mark: Mark::M,
};

/// How long a kind keeps; `None` for what is eaten, fed or composted at once.
pub fn keeps(kind: Kind) -> Option<&'static Keeps> {
    match kind {
        Kind::Jar => Some(&JAR),
        Kind::Freeze => Some(&FREEZE),
        Kind::Dry => Some(&DRY),
        Kind::Fresh | Kind::Feed | Kind::Compost => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::provenance::source;

    #[test]
    fn best_comes_before_stale_and_sources_are_known() {
        for kind in [Kind::Jar, Kind::Freeze, Kind::Dry] {
            let keeps = keeps(kind).expect("it keeps");
            assert!(keeps.best_months < keeps.stale_months);
            assert!(source(keeps.source).is_some(), "{}", keeps.source);
        }
        assert_eq!(keeps(Kind::Fresh), None);
    }

    /// Reference table, storage: 12 months, stale at 18.
    #[test]
    fn a_jar_is_best_for_a_year_and_flagged_after_a_year_and_a_half() {
        let jar = keeps(Kind::Jar).expect("it keeps");
        assert_eq!((jar.best_months, jar.stale_months), (12, 18));
    }
}
