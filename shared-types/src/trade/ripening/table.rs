//! The figures of ripening as they are read from `ripening.json`.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use crate::trade::crops::Stage;
use crate::trade::provenance::{Mark, Sourced, embedded};

/// One cell: days to ripe from a row's stage at a temperature.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cell {
    /// Constant temperature, °C.
    pub celsius: f64,
    /// Days to ripe.
    pub days: f64,
    /// How sure.
    pub mark: Mark,
    /// Id of the source.
    pub source: String,
}

/// One row: a starting stage, with its cells in order of temperature.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// What the fruit looks like at the start.
    pub from: String,
    /// Days to ripe by temperature; every row of a model has the same temperatures.
    pub cells: Vec<Cell>,
    /// What a reader should know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// Positions between which a class is spread evenly.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Range {
    /// Least position.
    pub from: f64,
    /// Greatest position.
    pub to: f64,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// How it was chosen.
    pub note: String,
}

/// Where a fruit sorted by stage stands.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StageAt {
    /// The stage.
    pub stage: Stage,
    /// Position of its typical fruit.
    pub position: f64,
    /// Fruit of the stage lie evenly this far to either side.
    pub half_width: f64,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// How it was chosen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// One crop's way of ripening.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Model {
    /// Its key, named by the crop table.
    pub id: String,
    /// What its days count.
    pub words: String,
    /// Rows from the least ripe start on. Position `i` is row `i`; ripe is `rows.len()`.
    pub rows: Vec<Row>,
    /// The class `colouring`.
    pub colouring: Range,
    /// Fruit sorted by stage.
    pub stages: Vec<StageAt>,
    /// Has a green class that ripens after a lag, before row 1.
    pub green: bool,
}

impl Model {
    /// The position at which a fruit is ripe.
    pub fn ripe(&self) -> usize {
        self.rows.len()
    }

    /// The table's temperatures, coolest and warmest.
    pub fn celsius(&self) -> (f64, f64) {
        let cells = &self.rows[0].cells;
        (cells[0].celsius, cells[cells.len() - 1].celsius)
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BelowTable {
    /// Apparent activation energy, kJ/mol.
    pub(super) activation_kj_per_mol: Sourced<f64>,
}

/// A prior with its provenance.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PriorRow {
    /// Half of the belief lies below.
    pub median: f64,
    /// Standard deviation on the log scale (logit for a share).
    pub sd_log: f64,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// How it was chosen, and what it was checked against.
    pub note: String,
}

/// The priors behind [`super::Belief::default`], for showing how they were chosen.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Prior {
    /// Multiplier on every rate.
    pub rate: PriorRow,
    /// Median days at 20 °C until unsorted green fruit breaks colour.
    pub lag_days: PriorRow,
    /// How that lag differs from fruit to fruit.
    pub lag_fruit_sd_log: Sourced<f64>,
    /// Share of unsorted green fruit that never ripens properly.
    pub never: PriorRow,
    /// Multiplier on drying and rot.
    pub loss: PriorRow,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LossRow {
    pub(super) drying_percent_per_day_per_kpa: Sourced<f64>,
    pub(super) humidity_percent: Sourced<f64>,
    pub(super) rot_percent_per_day: Sourced<f64>,
    pub(super) rot_at_celsius: Sourced<f64>,
    pub(super) rot_q10: Sourced<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Limits {
    pub(super) chill_below_celsius: Sourced<f64>,
    pub(super) chill_10c_days: Sourced<f64>,
    pub(super) chill_5c_days: Sourced<f64>,
    pub(super) hot_celsius: Sourced<f64>,
    pub(super) ripe_cool_celsius: Sourced<f64>,
    pub(super) ripe_cool_days: Sourced<String>,
    pub(super) ripe_warm_days: Sourced<String>,
}

/// How rounds are weighed as evidence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Evidence {
    /// Share of the prior's variance that the varieties of a crop have in common.
    pub shared: Sourced<f64>,
    /// Correlation of the fruit of one lot.
    pub lot_correlation: Sourced<f64>,
    /// The same of a lot that was gone through.
    pub sorted_correlation: Sourced<f64>,
    /// As how many independent fruit a lot teaches, at most.
    pub lot_worth: Sourced<f64>,
    /// Share of ripe fruit that a round leaves.
    pub overlooked: Sourced<f64>,
    /// Share of unripe fruit that a round takes.
    pub taken_early: Sourced<f64>,
    /// How unevenly rot strikes: fruit that count as one.
    pub rot_cluster: Sourced<f64>,
    /// Standard deviation of a weighing, as a share of it.
    pub scale_share: Sourced<f64>,
    /// Standard deviation of a weighing, grams, on top of it.
    pub scale_grams: Sourced<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Tables {
    pub(super) models: Vec<Model>,
    pub(super) below_table: BelowTable,
    pub(super) belief: Prior,
    pub(super) evidence: Evidence,
    pub(super) loss: LossRow,
    pub(super) limits: Limits,
}

static TABLES: LazyLock<Tables> =
    LazyLock::new(|| embedded("ripening.json", include_str!("../../../data/ripening.json")));

pub(super) fn tables() -> &'static Tables {
    &TABLES
}

/// The priors, with how each was chosen.
pub fn prior() -> &'static Prior {
    &TABLES.belief
}

/// How rounds are weighed as evidence, with how each figure was chosen.
pub fn evidence() -> &'static Evidence {
    &TABLES.evidence
}

/// All ripening models.
pub fn models() -> &'static [Model] {
    &TABLES.models
}

/// The model of that key.
pub fn model(id: &str) -> Option<&'static Model> {
    TABLES.models.iter().find(|model| model.id == id)
}

#[cfg(test)]
mod tests {
    use super::super::rate::MAX_SEGMENTS;
    use super::*;
    use crate::trade::crops;
    use crate::trade::provenance::source;

    #[test]
    fn tables_are_square_and_fall_with_warmth_and_ripeness() {
        for model in models() {
            assert!(model.ripe() <= MAX_SEGMENTS, "{}", model.id);
            let columns: Vec<f64> = model.rows[0].cells.iter().map(|cell| cell.celsius).collect();
            assert!(columns.is_sorted());
            for (above, row) in model.rows.iter().enumerate() {
                let same: Vec<f64> = row.cells.iter().map(|cell| cell.celsius).collect();
                assert_eq!(same, columns, "{} {}", model.id, row.from);
                assert!(row.cells.is_sorted_by(|a, b| a.days > b.days), "{}", row.from);
                for (i, cell) in row.cells.iter().enumerate() {
                    let next = model.rows.get(above + 1).map_or(0.0, |row| row.cells[i].days);
                    assert!(cell.days > next, "{} {}", row.from, cell.celsius);
                    assert!(source(&cell.source).is_some(), "{}", cell.source);
                }
            }
        }
    }

    #[test]
    fn every_named_model_exists_and_every_source_too() {
        for crop in crops::all() {
            if let Some(id) = &crop.model {
                assert!(model(id).is_some(), "{}", crop.slug);
            }
        }
        let belief = &tables().belief;
        for row in [&belief.rate, &belief.lag_days, &belief.never, &belief.loss] {
            assert!(source(&row.source).is_some(), "{}", row.source);
            assert!(!row.mark.is_seen() && !row.note.is_empty(), "a prior says how it was chosen");
        }
        let told = evidence();
        for row in [&told.shared, &told.lot_correlation, &told.lot_worth, &told.rot_cluster] {
            assert!(source(&row.source).is_some() && row.note.is_some());
        }
        for model in models() {
            for at in &model.stages {
                assert!(source(&at.source).is_some(), "{}", at.source);
            }
            assert!(source(&model.colouring.source).is_some());
        }
    }
}
