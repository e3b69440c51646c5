//! The rule table and its one question.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::met::Met;
use super::{Use, Uses};
use crate::ids::{ClassId, CropId};
use crate::trade::crops::{Defect, Group};
use crate::trade::provenance::{Mark, embedded};

/// How the vines stood at picking.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum Vines {
    /// Growing.
    Alive,
    /// Leaf tips limp, stems and the plant's centre alive.
    Hurt,
    /// Killed, by frost or disease.
    Dead,
    /// Nobody has said.
    #[default]
    Unknown,
}

/// How the fruit looked once thawed.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum Fruit {
    /// Sound.
    Sound,
    /// It froze: glassy, water-soaked, pebbly.
    Frozen,
    /// Nobody has looked.
    #[default]
    Unknown,
}

/// How the fruit ripened.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum Ripened {
    /// On the vine.
    OnVine,
    /// In a room, after picking.
    Indoors,
    /// Nobody has said, or it is not ripe.
    #[default]
    Unknown,
}

/// A question of fitness.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Asked {
    /// The crop.
    pub crop: CropId,
    /// Its class.
    pub class: ClassId,
    /// Its vines at picking.
    #[serde(default)]
    pub vines: Vines,
    /// The fruit after thaw.
    #[serde(default)]
    pub fruit: Fruit,
    /// How it ripened.
    #[serde(default)]
    pub ripened: Ripened,
    /// What is wrong with it, if anything.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub defect: Option<Defect>,
    /// A killing cold has been seen at its place before it was picked. While this is false,
    /// unknown vines are taken as alive and unknown fruit as sound.
    #[serde(default)]
    pub cold_seen: bool,
}

/// What a lot may be used for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fitness {
    /// All its uses.
    pub uses: Uses,
    /// The best of them; `None` leaves the compost.
    pub best: Option<Use>,
    /// False while a cold check is waited for.
    pub settled: bool,
    /// Why, in words.
    pub reason: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// Id of the rule. Lots of different rules or uses never merge.
    pub rule: String,
}

/// One rule: every list that is given must hold the question's value.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// Its key.
    pub id: String,
    /// Kinds of crop; any when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub groups: Option<Vec<Group>>,
    /// Crops; any when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crops: Option<Vec<CropId>>,
    /// Classes; any when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub classes: Option<Vec<ClassId>>,
    /// Vines; any when left out. `unknown` here means unknown after a killing cold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vines: Option<Vec<Vines>>,
    /// Fruit; any when left out. `unknown` here means unknown after a killing cold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fruit: Option<Vec<Fruit>>,
    /// How it ripened; anyhow when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ripened: Option<Vec<Ripened>>,
    /// Defects; any or none when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub defects: Option<Vec<Defect>>,
    /// What it may be used for.
    pub uses: Uses,
    /// False while a cold check is waited for.
    #[serde(default = "yes")]
    pub settled: bool,
    /// Why, in words.
    pub reason: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

fn yes() -> bool {
    true
}

static RULES: LazyLock<Vec<Rule>> =
    LazyLock::new(|| embedded("fitness.json", include_str!("../../../data/fitness.json")));

/// All rules, in order: the first that matches wins.
pub fn rules() -> &'static [Rule] {
    &RULES
}

/// What this fruit may be used for.
///
/// A crop that is not in the table has no group; the last rule, which withholds the jar, is its
/// answer at the latest. [`super::decide`] tells how the answer came about.
pub fn fitness(asked: &Asked) -> Fitness {
    let met = Met::of(asked);
    let rule = RULES
        .iter()
        .find(|rule| met.matches(rule))
        .expect("the last rule has no condition, which a test holds it to");
    rule.answer()
}

impl Rule {
    pub(super) fn answer(&self) -> Fitness {
        Fitness {
            uses: self.uses,
            best: self.uses.best(),
            settled: self.settled,
            reason: self.reason.clone(),
            source: self.source.clone(),
            mark: self.mark,
            rule: self.id.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::trade::provenance::source;

    #[test]
    fn the_last_rule_has_no_condition_and_every_rule_a_source() {
        let last = rules().last().expect("a rule");
        let nothing_known = Asked {
            crop: "no-such".into(),
            class: "no-such".into(),
            vines: Vines::Unknown,
            fruit: Fruit::Unknown,
            ripened: Ripened::Unknown,
            defect: None,
            cold_seen: true,
        };
        assert!(Met::of(&nothing_known).matches(last));
        assert!(!last.uses.allows(Use::Jar));
        let ids: BTreeSet<_> = rules().iter().map(|rule| &rule.id).collect();
        assert_eq!(ids.len(), rules().len());
        for rule in rules() {
            assert!(source(&rule.source).is_some(), "{}: no source {}", rule.id, rule.source);
        }
    }

    #[test]
    fn only_seen_guidance_gives_a_jar() {
        for rule in rules().iter().filter(|rule| rule.uses.allows(Use::Jar)) {
            assert!(rule.mark.is_seen() || rule.mark == Mark::Practice, "{}", rule.id);
        }
    }
}
