//! One answer for one jar: everything that makes it safe, or a refusal.

use serde::{Deserialize, Serialize};

use super::acid::{Acid, acid_for_confirmed};
use super::canning::canning;
use super::confirmed::Confirmed;
use super::fraction::fraction;
use super::pressure::{PressureTime, pressure_offered};
use super::process::{ProcessTime, process_time_confirmed, sterile_jar_minutes};
use super::refusal::{Refusal, RefusalKind};
use super::{Canner, Gauge, Jar, Mark, Method, Said, Sourced};
use crate::units::Altitude;

/// A question about a jar.
#[derive(Clone, Copy, Debug)]
pub struct Ask<'a> {
    /// The jar.
    pub jar: Jar,
    /// Height above the sea.
    pub altitude: Altitude,
    /// What it is processed in.
    pub canner: Canner,
    /// Rows the owner has confirmed.
    pub confirmed: &'a [Confirmed],
}

/// Everything that makes a jar of a method safe at a height in a canner.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Offer {
    /// The jar.
    pub jar: Jar,
    /// What it is processed in.
    pub canner: Canner,
    /// Minutes from a full boil, from pure steam, or at pressure.
    pub minutes: u32,
    /// Pounds per square inch, in a pressure canner.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub psi: Option<u32>,
    /// Hot or raw pack; nothing where the table does not say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pack: Option<String>,
    /// The band of altitude, in feet and metres.
    pub band_text: String,
    /// Acid in each jar, or in the recipe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub acid: Option<Acid>,
    /// Headspace, inches.
    pub headspace_inches: Sourced<f64>,
    /// Headspace in words: `1/2 inch (13 mm)`.
    pub headspace_text: String,
    /// Minutes to boil the empty jars, when they must be sterile.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sterile_jar_minutes: Option<u32>,
    /// A steam canner would do it in the same minutes.
    pub steam_canner: bool,
    /// Other pressures and times that do as well.
    #[serde(default)]
    pub alternatives: Vec<PressureTime>,
    /// Id of the source of the time.
    pub source: String,
    /// How sure the time is.
    pub mark: Mark,
    /// The owner's confirmation of the time, where it was only remembered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub confirmed: Option<Confirmed>,
    /// What to mind in this canner.
    pub cautions: Vec<Said>,
}

/// The published way to process a jar of a method, with all that makes it safe.
///
/// # Errors
/// A [`Refusal`], with the reason and its source, when any part of it is not published, was only
/// remembered and not confirmed, or is not allowed in this canner at this height.
pub fn offer(method: &Method, ask: Ask<'_>) -> Result<Offer, Refusal> {
    let gauge = match ask.canner {
        Canner::BoilingWater | Canner::Steam => return boiling(method, ask),
        Canner::Dial => Gauge::Dial,
        Canner::Weighted => Gauge::Weighted,
    };
    let mut times = pressure_offered(method, ask.jar, ask.altitude, gauge, ask.confirmed)?;
    let first = times.remove(0);
    let mut cautions = canning().at_pressure.clone();
    cautions.extend(canning().at_dial.iter().filter(|_| gauge == Gauge::Dial).cloned());
    Ok(Offer {
        jar: ask.jar,
        canner: ask.canner,
        minutes: first.minutes,
        psi: Some(first.psi),
        pack: None,
        band_text: first.band_text,
        acid: acid_for_confirmed(method, ask.jar, ask.confirmed)?,
        headspace_text: headspace_words(headspace(method)?.value),
        headspace_inches: headspace(method)?,
        sterile_jar_minutes: None,
        steam_canner: false,
        alternatives: times,
        source: first.source,
        mark: first.mark,
        confirmed: first.confirmed,
        cautions,
    })
}

fn boiling(method: &Method, ask: Ask<'_>) -> Result<Offer, Refusal> {
    let time = process_time_confirmed(method, ask.jar, ask.altitude, ask.confirmed)?;
    let steam = ask.canner == Canner::Steam;
    if steam && !time.steam_canner {
        return Err(not_in_steam(method, ask.jar, &time));
    }
    let c = canning();
    let mut cautions = if steam { c.at_steam.clone() } else { c.at_boiling.clone() };
    // The last band of the printed tables is open; one reprint closes it at 8,000 ft.
    if ask.altitude > Altitude::from_feet(c.open_band_doubted_above_feet.value) {
        cautions.extend(c.above_open_band.iter().cloned());
    }
    Ok(Offer {
        jar: ask.jar,
        canner: ask.canner,
        minutes: time.minutes,
        psi: None,
        pack: Some(time.pack),
        band_text: time.band_text,
        acid: acid_for_confirmed(method, ask.jar, ask.confirmed)?,
        headspace_text: headspace_words(headspace(method)?.value),
        headspace_inches: headspace(method)?,
        sterile_jar_minutes: sterile_jar_minutes(method, ask.jar, ask.altitude),
        steam_canner: time.steam_canner,
        alternatives: Vec::new(),
        source: time.source,
        mark: time.mark,
        confirmed: time.confirmed,
        cautions,
    })
}

fn not_in_steam(method: &Method, jar: Jar, time: &ProcessTime) -> Refusal {
    let most = &canning().steam_canner_most_minutes;
    let reason = if !method.steam {
        format!("{} is not for a steam canner: it must be acid. Use boiling water.", method.name)
    } else if time.minutes > most.value {
        format!(
            "{} minutes {} is more than the {} a steam canner may run, altitude included: use boiling water.",
            time.minutes, time.band_text, most.value
        )
    } else {
        format!("Steam canners were not tested with {} jars: use boiling water.", jar.words())
    };
    Refusal::new(RefusalKind::NotInSteam, reason, &most.source)
}

fn headspace(method: &Method) -> Result<Sourced<f64>, Refusal> {
    method.headspace_inches.clone().ok_or_else(|| {
        let reason = format!("No headspace is published for {}.", method.name);
        Refusal::new(RefusalKind::NoPublishedTime, reason, &method.steps_from.source)
    })
}

/// Headspace as cooks say it: `1/2 inch (13 mm)`.
pub fn headspace_words(inches: f64) -> String {
    let plural = if inches > 1.0 { "es" } else { "" };
    let words = format!("{} inch{plural}", fraction(inches));
    format!("{words} ({:.0} mm)", inches * 25.4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headspaces_in_words() {
        for (inches, words) in [
            (0.125, "1/8 inch (3 mm)"),
            (0.25, "1/4 inch (6 mm)"),
            (0.5, "1/2 inch (13 mm)"),
            (1.0, "1 inch (25 mm)"),
            (1.5, "1 1/2 inches (38 mm)"),
            (2.0, "2 inches (51 mm)"),
        ] {
            assert_eq!(headspace_words(inches), words);
        }
    }
}
