//! Pressure canning: alternatives by gauge, in bands of altitude.

use serde::{Deserialize, Serialize};

use super::canning::{bands, canning};
use super::confirmed::{Confirmed, find, pressure_key};
use super::process::{height_ok, recipe_ok, timed_as};
use super::refusal::{Refusal, RefusalKind};
use super::{Gauge, Jar, Kind, Mark, Method, PressureRow};
use crate::units::Altitude;

/// One published alternative at a height.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PressureTime {
    /// The gauge.
    pub gauge: Gauge,
    /// Minutes at pressure, after 10 minutes of venting.
    pub minutes: u32,
    /// Pounds per square inch.
    pub psi: u32,
    /// The band of altitude.
    pub band_text: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// The owner's confirmation, where the row was only remembered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub confirmed: Option<Confirmed>,
}

/// The published pressure alternatives for a jar at a height, of both gauges; empty where there is
/// none that was seen.
pub fn pressure_times(method: &Method, jar: Jar, altitude: Altitude) -> Vec<PressureTime> {
    [Gauge::Dial, Gauge::Weighted]
        .into_iter()
        .filter_map(|gauge| pressure_offered(method, jar, altitude, gauge, &[]).ok())
        .flatten()
        .collect()
}

/// The alternatives on one gauge for a jar at a height, in the order of the guide: any one of them
/// does. Never empty.
///
/// # Errors
/// A [`Refusal`] when the method makes no jar, when no pressure is published for it or for the jar,
/// when the rows were only remembered and not `confirmed`, or when the height is above the table.
pub fn pressure_offered(
    method: &Method,
    jar: Jar,
    altitude: Altitude,
    gauge: Gauge,
    confirmed: &[Confirmed],
) -> Result<Vec<PressureTime>, Refusal> {
    height_ok(altitude)?;
    let rows = rows_for(method, jar, gauge)?;
    let no_bands = || {
        let reason = format!("{} names no known bands.", method.name);
        Refusal::new(RefusalKind::NoPublishedPressure, reason, &method.steps_from.source)
    };
    let bands = bands(gauge.bands()).ok_or_else(no_bands)?;
    let Some(band) = bands.index(altitude) else {
        let top = bands.tops_feet.last().copied().unwrap_or(0);
        let reason = format!(
            "The {} table ends at {top} ft ({:.1} m) and this is higher: no pressure is published. Freeze it, or ask the extension service.",
            gauge.bands(),
            Altitude::from_feet(top).metres()
        );
        return Err(Refusal::new(RefusalKind::AboveTable, reason, &bands.source));
    };
    recipe_ok(method, confirmed)?;
    super::acid::acid_for_confirmed(method, jar, confirmed)?;
    let offered: Vec<PressureTime> = rows
        .iter()
        .filter_map(|row| {
            let by = find(confirmed, method, &pressure_key(row)).filter(|_| !row.mark.is_seen());
            let psi = (*row.psi.get(band)?)?;
            (row.mark.is_seen() || by.is_some()).then(|| PressureTime {
                gauge,
                minutes: row.minutes,
                psi,
                band_text: bands.words(band),
                source: row.source.clone(),
                mark: row.mark,
                confirmed: by.cloned(),
            })
        })
        .collect();
    if offered.is_empty() {
        let reason = format!(
            "The {} pressure for {} in {} jars {} is from memory, and is not used until somebody has confirmed it against a printed guide. Choose another canner or method.",
            gauge.bands(),
            method.name,
            jar.words(),
            bands.words(band)
        );
        let source = rows.first().map_or("", |row| &row.source);
        return Err(Refusal::new(RefusalKind::Unconfirmed, reason, source));
    }
    Ok(offered)
}

/// The rows for a jar on a gauge. Half-pints take the pint's time, pint-and-a-halves the quart's
/// (Guide 1); nothing else is stretched.
fn rows_for(method: &Method, jar: Jar, gauge: Gauge) -> Result<Vec<&PressureRow>, Refusal> {
    if method.kind != Kind::Jar {
        let reason = format!("{} makes no shelf-stable jar.", method.name);
        return Err(Refusal::new(RefusalKind::NotAJar, reason, &method.steps_from.source));
    }
    let on_gauge = || method.pressure.iter().filter(|row| row.gauge == gauge);
    if on_gauge().next().is_none() {
        let reason = format!(
            "No {} pressure is published for {}: use boiling water, by its own time.",
            gauge.bands(),
            method.name
        );
        return Err(Refusal::new(
            RefusalKind::NoPublishedPressure,
            reason,
            &method.steps_from.source,
        ));
    }
    let exact = |jar: Jar| on_gauge().filter(|row| row.jars.contains(&jar)).collect::<Vec<_>>();
    let mut rows = exact(jar);
    if rows.is_empty() {
        rows = timed_as(jar).map(exact).unwrap_or_default();
    }
    if rows.is_empty() {
        let never = &canning().jar_rules.nothing_larger;
        let reason = format!(
            "No pressure time is published for {} in {} jars; a time {}.",
            method.name,
            jar.words(),
            never.value
        );
        return Err(Refusal::new(RefusalKind::NoPublishedTime, reason, &never.source));
    }
    Ok(rows)
}
