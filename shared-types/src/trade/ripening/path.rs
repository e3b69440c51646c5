//! Days to ripe at one temperature, by the table.

use super::table::Model;
use crate::trade::crops::Stage;

/// Days until a fruit that starts at `x` is ripe at a constant temperature, by the table.
pub fn days_to_ripe(model: &Model, x: f64, celsius: f64) -> f64 {
    let rates = model.rates(celsius);
    let mut days = (-x).max(0.0) / rates.lag;
    let start = x.max(0.0);
    for (segment, k) in rates.segments.iter().take(model.ripe()).enumerate() {
        let left = (segment as f64 + 1.0 - start).clamp(0.0, 1.0);
        days += left / k;
    }
    days
}

/// Days until the middle fruit of a stage is ripe at a constant temperature: for the table's own
/// stages and temperatures, the table's cell. `None` where the model does not know the stage.
pub fn middle_days(model: &Model, stage: Stage, celsius: f64) -> Option<f64> {
    let x = match stage {
        Stage::Red => model.ripe() as f64,
        Stage::Green if model.green => 0.0,
        _ => model.stages.iter().find(|at| at.stage == stage)?.position,
    };
    Some(days_to_ripe(model, x, celsius))
}
