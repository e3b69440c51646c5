//! What fruit can be used for.

use serde::{Deserialize, Serialize};

/// One use, best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Use {
    /// A shelf-stable jar, by a tested method.
    Jar,
    /// The freezer.
    Freeze,
    /// The dehydrator.
    Dry,
    /// The table, now.
    Fresh,
    /// Animals.
    Feed,
}

impl Use {
    /// All, best first.
    pub const ALL: [Self; 5] = [Self::Jar, Self::Freeze, Self::Dry, Self::Fresh, Self::Feed];

    /// In a word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Jar => "jar",
            Self::Freeze => "freeze",
            Self::Dry => "dry",
            Self::Fresh => "fresh",
            Self::Feed => "feed",
        }
    }
}

/// A set of uses. In JSON a list of words, best first.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(from = "Vec<Use>", into = "Vec<Use>")]
pub struct Uses(u8);

impl Uses {
    /// No use but the compost.
    pub const NONE: Self = Self(0);

    /// These uses and that one.
    #[must_use]
    pub const fn with(self, one: Use) -> Self {
        Self(self.0 | 1 << one as u8)
    }

    /// May it be used so?
    pub const fn allows(self, one: Use) -> bool {
        self.0 & (1 << one as u8) != 0
    }

    /// The uses, best first.
    pub fn iter(self) -> impl Iterator<Item = Use> {
        Use::ALL.into_iter().filter(move |one| self.allows(*one))
    }

    /// The best use; `None` leaves the compost.
    pub fn best(self) -> Option<Use> {
        self.iter().next()
    }
}

impl FromIterator<Use> for Uses {
    fn from_iter<I: IntoIterator<Item = Use>>(all: I) -> Self {
        all.into_iter().fold(Self::NONE, Self::with)
    }
}

impl From<Vec<Use>> for Uses {
    fn from(all: Vec<Use>) -> Self {
        all.into_iter().collect()
    }
}

impl From<Uses> for Vec<Use> {
    fn from(uses: Uses) -> Self {
        uses.iter().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn uses_are_written_best_first() {
        let uses: Uses = serde_json::from_str(r#"["feed", "freeze"]"#).expect("reads");
        assert_eq!(serde_json::to_string(&uses).expect("writes"), r#"["freeze","feed"]"#);
        assert_eq!(uses.best(), Some(Use::Freeze));
        assert!(!uses.allows(Use::Jar));
        assert_eq!(Uses::NONE.best(), None);
    }
}
