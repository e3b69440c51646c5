//! Weight of fruit per jar.

use serde::{Deserialize, Serialize};

use super::{Basis, Jar, Method, YieldRow};
use crate::units::KG_PER_LB;

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
