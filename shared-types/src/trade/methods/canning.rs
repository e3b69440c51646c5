//! Figures common to all jars, as they are read from `canning.json`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::Jar;
use crate::trade::provenance::{Mark, Said, Sourced, embedded};
use crate::units::{Altitude, Measure};

/// Bands of altitude a printed table has columns for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bands {
    /// Tops of the bands, feet.
    pub tops_feet: Vec<i64>,
    /// Ends at the last top; otherwise one more band is open above it.
    #[serde(default)]
    pub closed: bool,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What to know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AcidRow {
    pub(super) what: String,
    pub(super) jar: Jar,
    pub(super) amount: f64,
    pub(super) unit: Measure,
    pub(super) source: String,
    pub(super) mark: Mark,
}

/// How many jars a home canner takes at once.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LoadRow {
    /// The jar.
    pub jar: Jar,
    /// How many.
    pub jars: u32,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct JarRules {
    pub(super) half_pint_as_pint: Sourced<bool>,
    pub(super) pint_and_half_as_quart: Sourced<bool>,
    pub(super) nothing_larger: Sourced<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Canning {
    pub(super) bands: BTreeMap<String, Bands>,
    pub(super) acid_per_jar: Vec<AcidRow>,
    pub(super) canner_load: Vec<LoadRow>,
    pub(super) jar_rules: JarRules,
    pub(super) heat_up_minutes: Sourced<[u32; 2]>,
    pub(super) wait_minutes: Sourced<u32>,
    pub(super) sterile_below_minutes: Sourced<u32>,
    pub(super) sterile_boil_minutes: Sourced<u32>,
    pub(super) steam_canner_most_minutes: Sourced<u32>,
    pub(super) lowest_metres: Sourced<i64>,
    pub(super) highest_metres: Sourced<i64>,
    pub(super) after_every_jar: Vec<Said>,
}

static CANNING: LazyLock<Canning> =
    LazyLock::new(|| embedded("canning.json", include_str!("../../../data/canning.json")));

pub(super) fn canning() -> &'static Canning {
    &CANNING
}

/// The bands of that name: `four`, `three`, `dial`, `weighted`.
pub fn bands(name: &str) -> Option<&'static Bands> {
    CANNING.bands.get(name)
}

/// Canner loads as published.
pub fn canner_loads() -> &'static [LoadRow] {
    &CANNING.canner_load
}

/// What holds for every jar: cooling, seals, and whose word comes first. Shown with each batch.
pub fn after_every_jar() -> &'static [Said] {
    &CANNING.after_every_jar
}

impl Bands {
    /// The band a height lies in, from 0; `None` above a closed table. A height above a band's top
    /// belongs to the next.
    pub fn index(&self, altitude: Altitude) -> Option<usize> {
        let above =
            self.tops_feet.iter().filter(|top| altitude > Altitude::from_feet(**top)).count();
        (!self.closed || above < self.tops_feet.len()).then_some(above)
    }

    /// How many columns a row of it has.
    pub fn columns(&self) -> usize {
        self.tops_feet.len() + usize::from(!self.closed)
    }

    /// A band in words, in feet and metres.
    pub fn words(&self, index: usize) -> String {
        let both = |feet: i64| format!("{feet} ft ({:.1} m)", Altitude::from_feet(feet).metres());
        match (index.checked_sub(1).map(|i| self.tops_feet[i]), self.tops_feet.get(index)) {
            (None, Some(top)) => format!("up to {}", both(*top)),
            (Some(bottom), Some(top)) => format!("above {} up to {}", both(bottom), both(*top)),
            (Some(bottom), None) => format!("above {}", both(bottom)),
            (None, None) => "at any height".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::provenance::source;

    #[test]
    fn every_figure_has_a_source() {
        let c = canning();
        let mut ids: Vec<&str> = c.bands.values().map(|bands| bands.source.as_str()).collect();
        ids.extend(c.acid_per_jar.iter().map(|row| row.source.as_str()));
        ids.extend(c.canner_load.iter().map(|row| row.source.as_str()));
        ids.extend(c.after_every_jar.iter().map(|said| said.source.as_str()));
        ids.extend([&c.heat_up_minutes.source, &c.sterile_boil_minutes.source].map(String::as_str));
        for id in ids {
            assert!(source(id).is_some(), "no source {id}");
        }
        assert!(c.bands.values().all(|bands| bands.mark.is_seen()));
        assert!(c.canner_load.iter().all(|row| row.mark.is_seen()));
        assert!(c.bands["dial"].note.is_some());
    }

    #[test]
    fn a_band_in_words() {
        let four = &canning().bands["four"];
        assert_eq!(four.words(0), "up to 1000 ft (304.8 m)");
        assert_eq!(four.words(1), "above 1000 ft (304.8 m) up to 3000 ft (914.4 m)");
        assert_eq!(four.words(3), "above 6000 ft (1828.8 m)");
        assert_eq!(four.columns(), 4);
    }
}
