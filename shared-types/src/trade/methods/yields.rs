//! Weight of fruit per jar.

use serde::{Deserialize, Serialize};

use super::Jar;
use super::table::Method;
use crate::trade::provenance::Mark;
use crate::units::KG_PER_LB;

/// One published figure of yield.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct YieldRow {
    /// What the figure is of.
    pub basis: Basis,
    /// The jar.
    pub jar: Jar,
    /// How many of them.
    pub jars: f64,
    /// Pounds of fruit for them, as printed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lb: Option<f64>,
    /// Kilograms for them, where the source has no weight.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kg: Option<f64>,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What to know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// What a figure of yield is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// A canner load: what a load is planned with.
    Load,
    /// The stated average. The guide's averages and loads do not agree exactly.
    Average,
    /// One making of the recipe.
    Batch,
}

impl YieldRow {
    /// Kilograms per jar.
    pub fn kg_per_jar(&self) -> f64 {
        let kg = self.kg.unwrap_or_else(|| self.lb.unwrap_or(0.0) * KG_PER_LB);
        kg / self.jars
    }
}

/// Kilograms of fruit for one jar.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct KgPerJar {
    /// The least of the published figures: the most jars.
    pub least: f64,
    /// What a canner load is planned with: the load figure, or else the least, so that a planned
    /// load never makes more jars than the canner takes.
    pub plan: f64,
    /// The most of the published figures: the fewest jars.
    pub most: f64,
}

/// Kilograms of fruit per jar of a method, over all its published figures for that jar. A jar
/// without figures takes the pint's by volume.
pub fn kg_per_jar(method: &Method, jar: Jar) -> Option<KgPerJar> {
    figures(method, jar).or_else(|| {
        let (pint, by_volume) = (figures(method, Jar::Pint)?, jar.litres() / Jar::Pint.litres());
        Some(KgPerJar {
            least: pint.least * by_volume,
            plan: pint.plan * by_volume,
            most: pint.most * by_volume,
        })
    })
}

fn figures(method: &Method, jar: Jar) -> Option<KgPerJar> {
    let rows = || method.yields.iter().filter(move |row| row.jar == jar);
    let per_jar = || rows().map(YieldRow::kg_per_jar);
    let least = per_jar().reduce(f64::min)?;
    let most = per_jar().reduce(f64::max)?;
    let load = rows().find(|row| row.basis == Basis::Load).map(YieldRow::kg_per_jar);
    Some(KgPerJar { least, plan: load.unwrap_or(least), most })
}
