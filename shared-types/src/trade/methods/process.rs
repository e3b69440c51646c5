//! Boiling-water process times.

use serde::{Deserialize, Serialize};

use super::canning::{bands, canning};
use super::confirmed::{Confirmed, find, headspace_key, process_key, recipe_key};
use super::refusal::{Refusal, RefusalKind};
use super::{Jar, Kind, Mark, Method, ProcessRow};
use crate::units::Altitude;

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
    /// The owner's confirmation, where the value was only remembered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub confirmed: Option<Confirmed>,
}

/// Minutes in boiling water for a method in a jar at a height, of what was seen in a source.
///
/// # Errors
/// As [`process_time_confirmed`], with nothing confirmed.
pub fn process_time(method: &Method, jar: Jar, altitude: Altitude) -> Result<ProcessTime, Refusal> {
    process_time_confirmed(method, jar, altitude, &[])
}

/// Minutes in boiling water for a method in a jar at a height, of what was seen in a source or has
/// been `confirmed` by the owner.
///
/// # Errors
/// A [`Refusal`] when the method makes no jar or needs pressure, when no time is published for the
/// jar, when the value was only remembered and not confirmed, when the acid for the jar is not
/// published, or when the height is beyond anything the tables were made for.
pub fn process_time_confirmed(
    method: &Method,
    jar: Jar,
    altitude: Altitude,
    confirmed: &[Confirmed],
) -> Result<ProcessTime, Refusal> {
    height_ok(altitude)?;
    let row = row_for(method, jar)?;
    let bands = bands(&row.bands).ok_or_else(|| {
        let reason = format!("{} names no known bands.", method.name);
        Refusal::new(RefusalKind::NoPublishedTime, reason, &method.steps_from.source)
    })?;
    let cell = bands.index(altitude).and_then(|band| Some((band, row.minutes.get(band)?)));
    let Some((band, cell)) = cell else {
        let reason =
            format!("No time is published for {} at this height: freeze it instead.", method.name);
        return Err(Refusal::new(RefusalKind::AboveTable, reason, &bands.source));
    };
    let band_text = bands.words(band);
    let by = find(confirmed, method, &process_key(row)).filter(|_| !cell.mark.is_seen());
    if !bands.mark.is_seen() || (!cell.mark.is_seen() && by.is_none()) {
        return Err(Refusal::new(
            RefusalKind::Unconfirmed,
            format!(
                "The time for {} in {} jars {band_text} is {}, and is not used until somebody has confirmed it against a printed guide. Choose another method.",
                method.name,
                jar.words(),
                cell.mark.words()
            ),
            &cell.source,
        ));
    }
    recipe_ok(method, confirmed)?;
    super::acid::acid_for_confirmed(method, jar, confirmed)?;
    let steam_most = canning().steam_canner_most_minutes.value;
    Ok(ProcessTime {
        minutes: cell.value,
        pack: row.pack.clone(),
        band_text,
        // Tested with half-pints, pints and quarts.
        steam_canner: method.steam && cell.value <= steam_most && jar != Jar::PintAndHalf,
        source: cell.source.clone(),
        mark: cell.mark,
        confirmed: by.cloned(),
    })
}

/// Headspace and the amounts that carry the safety were seen or confirmed.
pub(super) fn recipe_ok(method: &Method, confirmed: &[Confirmed]) -> Result<(), Refusal> {
    let refuse = |what: &str, source: &str| {
        let reason = format!(
            "{what} of {} is from memory, and is not used until somebody has confirmed it against a printed guide. Choose another method.",
            method.name
        );
        Err(Refusal::new(RefusalKind::Unconfirmed, reason, source))
    };
    if let Some(inches) = method.headspace_inches.as_ref().filter(|inches| !inches.mark.is_seen())
        && find(confirmed, method, &headspace_key(inches.value)).is_none()
    {
        return refuse("The headspace", &inches.source);
    }
    match recipe_key(method) {
        Some(key) if find(confirmed, method, &key).is_none() => {
            refuse("The recipe", method.base.as_ref().map_or("", |base| &base.source))
        }
        _ => Ok(()),
    }
}

pub(super) fn height_ok(altitude: Altitude) -> Result<(), Refusal> {
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
        &canning().highest_metres.source,
    ))
}

/// The jar whose published time holds for this one too (Guide 1).
pub(super) fn timed_as(jar: Jar) -> Option<Jar> {
    let rules = &canning().jar_rules;
    match jar {
        Jar::HalfPint if rules.half_pint_as_pint.value => Some(Jar::Pint),
        Jar::PintAndHalf if rules.pint_and_half_as_quart.value => Some(Jar::Quart),
        _ => None,
    }
}

/// The row for a jar. Half-pints take the pint's time, pint-and-a-halves the quart's (Guide 1);
/// nothing else is stretched.
fn row_for(method: &Method, jar: Jar) -> Result<&ProcessRow, Refusal> {
    if method.kind != Kind::Jar {
        return Err(Refusal::new(
            RefusalKind::NotAJar,
            format!("{} makes no shelf-stable jar.", method.name),
            &method.steps_from.source,
        ));
    }
    if method.process.is_empty() {
        return Err(Refusal::new(
            RefusalKind::PressureOnly,
            format!("{} is low in acid: a pressure canner only, never boiling water.", method.name),
            &canning().low_acid.source,
        ));
    }
    let exact = |jar: Jar| method.process.iter().find(|row| row.jar == jar);
    let found = exact(jar).or_else(|| exact(timed_as(jar)?));
    found.ok_or_else(|| {
        let sizes: Vec<_> = method.jars().map(Jar::words).collect();
        Refusal::new(
            RefusalKind::NoPublishedTime,
            format!(
                "No time is published for {} in {} jars; a time {}. Use {}.",
                method.name,
                jar.words(),
                canning().jar_rules.nothing_larger.value,
                sizes.join(" or ")
            ),
            &canning().jar_rules.nothing_larger.source,
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
