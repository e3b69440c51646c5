//! The table of stores, as it is read from `stores.json`.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::survival::BookCurve;
use super::waits::Waits;
use crate::ids::CropId;
use crate::trade::provenance::{Mark, Said, Sourced, embedded};

/// What is kept as one kind: a crop, or varieties of it that keep alike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kind {
    /// The crop.
    pub crop: CropId,
    /// Its key within the crop; none for the crop's common row.
    pub kind: Option<String>,
    /// Its plain name.
    pub name: String,
    /// Words in a variety's name that mean it.
    pub also: Vec<String>,
    /// The best room, °C.
    pub celsius: [f64; 2],
    /// The best room, relative humidity, %.
    pub humidity: [f64; 2],
    /// Id of the room's source.
    pub room_source: String,
    /// How sure.
    pub room_mark: Mark,
    /// How long it keeps there, by source. Where several are given they conflict.
    pub lives: Vec<Life>,
    /// Cure or not.
    pub cure: Cure,
    /// How a light freeze harms it; none where no list names it.
    pub freezing_class: Option<FreezingClass>,
    /// How sure that is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub freezing_class_mark: Option<Mark>,
    /// Chilling counts below this, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chills_below_celsius: Option<f64>,
    /// What else to know.
    pub said: Vec<Said>,
}

/// A storage life as one source has it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Life {
    /// Shortest and longest, days; a month is 30.
    pub days: [u32; 2],
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What it holds for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// Cure or not, and how.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cure {
    /// Whether.
    pub verdict: CureVerdict,
    /// How, in words.
    pub how: String,
    /// For how many days.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days: Option<[u32; 2]>,
    /// At what temperature, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub celsius: Option<[f64; 2]>,
    /// At what relative humidity, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity: Option<[f64; 2]>,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What other sources say.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub others: Vec<Said>,
}

/// Whether to cure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CureVerdict {
    /// Yes, before storing.
    Yes,
    /// A day or two of drying is all.
    Short,
    /// Sources differ; it may be done.
    Either,
    /// No benefit was found.
    NoBenefit,
    /// It harms.
    Harmful,
    /// Not cured.
    No,
}

impl CureVerdict {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Yes => "cure it",
            Self::Short => "dry it for a day or two",
            Self::Either => "curing is optional",
            Self::NoBenefit => "curing brings nothing",
            Self::Harmful => "do not cure it",
            Self::No => "not cured",
        }
    }

    /// Is a lot that was (not) cured against this the worse for it?
    pub(super) const fn goes_against(self, cured: bool) -> bool {
        matches!((self, cured), (Self::Yes, false) | (Self::Harmful, true))
    }
}

/// How a light freeze harms produce (Wang and Wallace). A freezing point says when it freezes; this
/// says what that does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FreezingClass {
    /// Injured by one light freeze.
    Most,
    /// Recovers from one or two.
    Moderate,
    /// May be lightly frozen several times.
    Least,
}

impl FreezingClass {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Most => "likely to be injured by one light freeze",
            Self::Moderate => "recovers from one or two light freezes",
            Self::Least => "may be lightly frozen several times without serious damage",
        }
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Rules {
    pub(super) doubling_celsius: Sourced<f64>,
    pub(super) chilled_day_counts: Sourced<f64>,
    pub(super) uncured_short_end: Sourced<f64>,
    pub(super) humidity_slack_percent: Sourced<f64>,
    pub(super) humidity_short_end: Sourced<f64>,
    pub(super) suspect_days: Sourced<[i32; 2]>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Tables {
    pub(super) kinds: Vec<Kind>,
    pub(super) rules: Rules,
    pub(super) book_curve: BookCurve,
    pub(super) waits: Vec<Waits>,
}

static TABLES: LazyLock<Tables> =
    LazyLock::new(|| embedded("stores.json", include_str!("../../../data/stores.json")));

pub(super) fn tables() -> &'static Tables {
    &TABLES
}

/// All kinds.
pub fn kinds() -> &'static [Kind] {
    &TABLES.kinds
}

/// The kind of a crop's variety: by its key, or by a word in the variety's name such as "acorn";
/// else the crop's common row. None when the table has nothing of that crop.
pub fn kind(crop: &CropId, variety: Option<&str>) -> Option<&'static Kind> {
    let of_crop = || TABLES.kinds.iter().filter(|kind| kind.crop == *crop);
    let named = variety.map(str::to_lowercase).and_then(|name| {
        let is_it = |word: &String| name.contains(word.as_str());
        of_crop().find(|kind| kind.kind.as_ref().is_some_and(&is_it) || kind.also.iter().any(is_it))
    });
    named.or_else(|| of_crop().find(|kind| kind.kind.is_none()))
}

impl Kind {
    /// Shortest and longest life in its best room over all sources, days: where they conflict the
    /// cautious end of each.
    pub fn life(&self) -> [u32; 2] {
        let least = self.lives.iter().map(|life| life.days[0]).min().unwrap_or(0);
        let most = self.lives.iter().map(|life| life.days[1]).min().unwrap_or(least);
        [least, most.max(least)]
    }

    /// Do its sources give different lives?
    pub fn sources_conflict(&self) -> bool {
        self.lives.windows(2).any(|pair| pair[0].days != pair[1].days)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::provenance::source;

    #[test]
    fn every_row_is_whole() {
        for kind in kinds() {
            let name = &kind.name;
            assert!(kind.celsius[0] <= kind.celsius[1], "{name}");
            assert!(kind.humidity[0] <= kind.humidity[1], "{name}");
            assert!(!kind.lives.is_empty(), "{name}");
            let of_lives = kind.lives.iter().map(|life| &life.source);
            let of_said = kind.said.iter().chain(&kind.cure.others).map(|said| &said.source);
            for id in of_lives.chain(of_said).chain([&kind.room_source, &kind.cure.source]) {
                assert!(source(id).is_some(), "{name}: no source {id}");
            }
            assert!(kind.lives.iter().all(|life| life.days[0] <= life.days[1]), "{name}");
            let common = super::kind(&kind.crop, None);
            assert!(common.is_some_and(|common| common.kind.is_none()), "{name}");
        }
    }

    #[test]
    fn a_varietys_name_tells_its_kind() {
        let found = |variety| kind(&"winter-squash".into(), variety).map(|kind| kind.kind.clone());
        assert_eq!(found(Some("Table Queen")), Some(Some("acorn".into())));
        assert_eq!(found(Some("Green kabocha")), Some(Some("buttercup".into())));
        assert_eq!(found(Some("Grandmother's")), Some(None));
        assert_eq!(found(None), Some(None));
        assert_eq!(kind(&"gravel".into(), None), None);
    }
}
