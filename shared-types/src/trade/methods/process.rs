//! Boiling-water process times, and refusals.

use serde::{Deserialize, Serialize};

use super::Jar;
use super::canning::{bands, canning};
use super::table::{Kind, Method};
use crate::trade::provenance::{Mark, Sourced};
use crate::units::Altitude;

/// One row of a printed table.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProcessRow {
    /// The canner it is for.
    pub canner: Canner,
    /// Hot or raw.
    pub pack: String,
    /// The jar.
    pub jar: Jar,
    /// Which bands its columns are.
    pub bands: String,
    /// Minutes by band.
    pub minutes: Vec<Sourced<u32>>,
}

/// A canner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Canner {
    /// Jars under boiling water.
    BoilingWater,
}

/// A time to process, as published.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ProcessTime {
    /// Minutes at a full boil.
    pub minutes: u32,
    /// Hot or raw pack.
    pub pack: String,
    /// The band of altitude, in feet and metres.
    pub band_text: String,
    /// A steam canner may do it in the same minutes.
    pub steam_canner: bool,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// Why there is no time, and what to do instead.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Refusal {
    /// What kind.
    pub kind: RefusalKind,
    /// In words.
    pub reason: String,
}

/// Kinds of refusal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RefusalKind {
    /// The method makes no jar.
    NotAJar,
    /// No time is published for this jar.
    NoPublishedTime,
    /// The published value was not seen; it must not be used until it is confirmed.
    Unconfirmed,
    /// Low in acid: pressure only.
    PressureOnly,
    /// No amount of acid is published for this jar.
    NoPublishedAcid,
    /// The height is out of range.
    Altitude,
}

impl Refusal {
    pub(super) fn new(kind: RefusalKind, reason: String) -> Self {
        Self { kind, reason }
    }
}

/// Minutes in boiling water for a method in a jar at a height.
///
/// # Errors
/// A [`Refusal`] when the method makes no jar or needs pressure, when no time is published for the
/// jar, when the value was only remembered, when the acid for the jar is not published, or when the
/// height is beyond anything the tables were made for.
pub fn process_time(method: &Method, jar: Jar, altitude: Altitude) -> Result<ProcessTime, Refusal> {
    height_ok(altitude)?;
    let row = row_for(method, jar)?;
    let bands = bands(&row.bands).ok_or_else(|| {
        Refusal::new(RefusalKind::NoPublishedTime, format!("{} names no known bands.", method.name))
    })?;
    let cell = bands.index(altitude).and_then(|band| Some((band, row.minutes.get(band)?)));
    let Some((band, cell)) = cell else {
        return Err(Refusal::new(
            RefusalKind::NoPublishedTime,
            format!("No time is published for {} at this height: freeze it instead.", method.name),
        ));
    };
    let band_text = bands.words(band);
    if !(cell.mark.is_seen() && bands.mark.is_seen()) {
        return Err(Refusal::new(
            RefusalKind::Unconfirmed,
            format!(
                "The time for {} in {} jars {band_text} is {}, and is not used until somebody has confirmed it against a printed guide. Choose another method.",
                method.name,
                jar.words(),
                cell.mark.words()
            ),
        ));
    }
    super::acid::acid_for(method, jar)?;
    let steam_most = canning().steam_canner_most_minutes.value;
    Ok(ProcessTime {
        minutes: cell.value,
        pack: row.pack.clone(),
        band_text,
        steam_canner: method.steam && cell.value <= steam_most,
        source: cell.source.clone(),
        mark: cell.mark,
    })
}

fn height_ok(altitude: Altitude) -> Result<(), Refusal> {
    let (low, high) = (canning().lowest_metres.value, canning().highest_metres.value);
    if (Altitude::from_metres(low)..=Altitude::from_metres(high)).contains(&altitude) {
        return Ok(());
    }
    Err(Refusal::new(
        RefusalKind::Altitude,
        format!(
            "{:.0} m is not a height these tables were made for ({low} to {high} m): check the holding's height.",
            altitude.metres()
        ),
    ))
}

/// The row for a jar. Half-pints take the pint's time, pint-and-a-halves the quart's (Guide 1);
/// nothing else is stretched.
fn row_for(method: &Method, jar: Jar) -> Result<&ProcessRow, Refusal> {
    if method.kind != Kind::Jar {
        return Err(Refusal::new(
            RefusalKind::NotAJar,
            format!("{} makes no shelf-stable jar.", method.name),
        ));
    }
    if method.process.is_empty() {
        return Err(Refusal::new(
            RefusalKind::PressureOnly,
            format!("{} is low in acid: a pressure canner only, never boiling water.", method.name),
        ));
    }
    let exact = |jar: Jar| method.process.iter().find(|row| row.jar == jar);
    let rules = &canning().jar_rules;
    let found = exact(jar).or_else(|| match jar {
        Jar::HalfPint if rules.half_pint_as_pint.value => exact(Jar::Pint),
        Jar::PintAndHalf if rules.pint_and_half_as_quart.value => exact(Jar::Quart),
        _ => None,
    });
    found.ok_or_else(|| {
        let sizes: Vec<_> = method.jars().map(Jar::words).collect();
        Refusal::new(
            RefusalKind::NoPublishedTime,
            format!(
                "No time is published for {} in {} jars; a time {}. Use {}.",
                method.name,
                jar.words(),
                rules.nothing_larger.value,
                sizes.join(" or ")
            ),
        )
    })
}

/// Minutes to boil empty jars before filling, when the method needs sterile ones: where the time
/// at 0 to 1,000 ft is under 10 minutes; 10, and one more for each 1,000 ft begun.
pub fn sterile_jar_minutes(method: &Method, jar: Jar, altitude: Altitude) -> Option<u32> {
    let row = row_for(method, jar).ok()?;
    let c = canning();
    if row.minutes.first()?.value >= c.sterile_below_minutes.value {
        return None;
    }
    let mut thousands = 0;
    while altitude > Altitude::from_feet(1000 * i64::from(thousands)) {
        thousands += 1;
    }
    Some(c.sterile_boil_minutes.value + thousands)
}

/// Minutes a canner load takes from loading to lifting out: heat up, process, wait. Least and
/// most.
pub fn canner_minutes(process_minutes: u32) -> (u32, u32) {
    let [least, most] = canning().heat_up_minutes.value;
    let rest = process_minutes + canning().wait_minutes.value;
    (least + rest, most + rest)
}

#[cfg(test)]
mod tests {
    use super::super::table::all;
    use super::*;

    #[test]
    fn every_row_has_a_column_for_every_band() {
        for method in all() {
            for row in &method.process {
                let bands = bands(&row.bands).expect("known bands");
                assert_eq!(row.minutes.len(), bands.columns(), "{} {:?}", method.id, row.jar);
                assert!(row.minutes.is_sorted_by(|a, b| a.value < b.value), "{}", method.id);
            }
        }
    }

    #[test]
    fn a_method_without_a_jar_has_no_time() {
        for method in all().iter().filter(|method| method.kind != Kind::Jar) {
            let refusal = process_time(method, Jar::Pint, Altitude::from_metres(0));
            assert_eq!(refusal.expect_err("refuses").kind, RefusalKind::NotAJar, "{}", method.id);
        }
    }
}
