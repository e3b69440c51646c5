//! A lot's forecast in words, for someone who wants to know why.

use super::band::Band;
use super::lot::LotForecast;
use super::table::{evidence, prior};
use crate::trade::crops;
use crate::trade::provenance::cite;
use crate::units::Grams;

/// Several lines: what is reckoned with, what is ready, what is to come, where the grams go, how
/// sure that is and why, and what to look out for, each with its source.
pub fn explain(lot: &LotForecast) -> String {
    let name = crops::crop(&lot.crop).map_or_else(|| lot.crop.to_string(), |c| c.name.clone());
    let mut lines = vec![format!("{name}, {}: {}", lot.class, lot.why)];
    if lot.from.is_some() {
        lines.push(format!("Ready today: {}.", told(lot.ready_today)));
        lines.push(format!("Still to come: {}.", told(lot.still_to_come)));
        let end = lot.end;
        lines.push(format!(
            "Of {} by the last day: {} ripe, {} still waiting, {} that never ripens, {} dried away or rotted.",
            kg(end.start),
            kg(end.ripe),
            kg(end.waiting),
            kg(end.never),
            kg(end.lost)
        ));
        lines.push(sure());
    }
    for warning in &lot.warnings {
        lines.push(format!("Look out: {} ({})", warning.text, cite(&warning.source)));
    }
    lines.join("\n")
}

fn kg(grams: Grams) -> String {
    format!("{:.1} kg", grams.kg())
}

fn told(band: Band) -> String {
    if band.p10 == band.p90 {
        return kg(band.p50);
    }
    format!("{} ({:.1} to {:.1}, four times in five)", kg(band.p50), band.p10.kg(), band.p90.kg())
}

fn sure() -> String {
    let of = prior();
    format!(
        "How sure: before anything is learned, a variety's rate is taken to differ from the book by some {:.0} %, its lag by {:.0} %, losses by {:.0} %; fruit of one lot turn alike with a correlation of {}. Rounds narrow that.",
        100.0 * of.rate.sd_log,
        100.0 * of.lag_days.sd_log,
        100.0 * of.loss.sd_log,
        evidence().lot_correlation.value
    )
}
