//! Guesses against the scale.

use serde::{Deserialize, Serialize};

use super::Book;
use super::totals::By;
use crate::ids::PickId;
use crate::units::Grams;

/// A guess and how far off it is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ranked {
    /// Who guessed.
    pub name: String,
    /// How much.
    pub grams: Grams,
    /// The guess less what the scale says so far.
    pub off: Grams,
}

impl Book {
    /// The guesses at a pick, closest first; of one name the last guess counts.
    pub fn guesses(&self, pick: PickId) -> Vec<Ranked> {
        let total = self.totals(Some(pick), By::Crop, None).total;
        let mut latest = std::collections::BTreeMap::new();
        for guess in self.guesses.values().filter(|guess| guess.fact.pick == pick) {
            let standing = latest.entry(guess.fact.name.trim().to_lowercase()).or_insert(guess);
            if standing.stamp < guess.stamp {
                *standing = guess;
            }
        }
        let mut ranked: Vec<Ranked> = latest
            .into_values()
            .map(|guess| Ranked {
                name: guess.fact.name.clone(),
                grams: guess.fact.grams,
                off: guess.fact.grams - total,
            })
            .collect();
        ranked.sort_by(|a, b| a.off.0.abs().cmp(&b.off.0.abs()).then_with(|| a.name.cmp(&b.name)));
        ranked
    }
}
