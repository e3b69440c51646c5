//! How much heat a tunnel needs.
//!
//! ```text
//! Q = U · A · (Ti − To)                    BTU/h; U in BTU/(h·ft²·°F), A exposed skin, ft²
//! A = arc · L + π·a·b                      half an ellipse: a = width/2, b = height, both ends
//! arc = π/2 · (3(a+b) − √((3a+b)(a+3b)))   Ramanujan's; for b = a it is π·a, a half-circle
//! ```
//!
//! UGA and Purdue (V). U in W/(m²·K) is 5.678 times that; 1 kW is 3,412 BTU/h. Leaks add 10 to 25 %.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::table::{Glazing, tables};
use crate::trade::provenance::Said;

/// BTU/h in a kilowatt.
pub const BTU_H_PER_KW: f64 = 3_412.142;
/// W/(m²·K) in a BTU/(h·ft²·°F).
pub const SI_PER_U: f64 = 5.678_263;

/// A tunnel, metres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Tunnel {
    /// Length.
    pub length_m: f64,
    /// Width at the ground.
    pub width_m: f64,
    /// Height at the ridge; half the width, a half-circle, when nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<f64>,
}

/// Heat for a tunnel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Heat {
    /// Exposed skin, m².
    pub skin_m2: f64,
    /// Heat transmission of the skin, least and most, W/(m²·K).
    pub u_si: [f64; 2],
    /// How much warmer inside than out, °C.
    pub warmer_celsius: f64,
    /// Through the skin alone, least and most, kW.
    pub skin_kw: [f64; 2],
    /// With leaks, least and most, kW.
    pub kw: [f64; 2],
    /// The same, BTU/h.
    pub btu_h: [f64; 2],
    /// In words.
    pub words: String,
    /// Id of the source of U.
    pub source: String,
    /// What can go wrong.
    pub cautions: Vec<Said>,
}

/// A tunnel that cannot be.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum HeatError {
    /// A length that is none.
    #[error("a {what} of {metres} m is not a tunnel's: give {least} to {most} m, or feet as feet")]
    Size {
        /// Which.
        what: &'static str,
        /// As given.
        metres: f64,
        /// Least.
        least: f64,
        /// Most.
        most: f64,
    },
    /// Not a temperature.
    #[error("{0} °C is not a temperature to heat to or from: give -60 to 60 °C")]
    Celsius(f64),
    /// An unknown skin.
    #[error("no skin is called `{0}`: it must be one of {known}", known = names().join(", "))]
    Glazing(String),
}

fn names() -> Vec<&'static str> {
    glazings().iter().map(|glazing| glazing.id.as_str()).collect()
}

/// All skins.
pub fn glazings() -> &'static [Glazing] {
    &tables().heater.glazings
}

/// What to say wherever heat is asked for.
pub fn heater_cautions() -> &'static [Said] {
    &tables().heater.cautions
}

impl Tunnel {
    fn check(&self) -> Result<(), HeatError> {
        let height = self.height_m.unwrap_or(self.width_m / 2.0);
        for (what, metres, least, most) in [
            ("length", self.length_m, 0.5, 500.0),
            ("width", self.width_m, 0.3, 50.0),
            ("height", height, 0.1, 15.0),
        ] {
            if !(least..=most).contains(&metres) {
                return Err(HeatError::Size { what, metres, least, most });
            }
        }
        Ok(())
    }

    /// Exposed skin with both ends, m².
    pub fn skin_m2(&self) -> f64 {
        use std::f64::consts::PI;
        let a = self.width_m / 2.0;
        let b = self.height_m.unwrap_or(a);
        let arc = PI / 2.0 * (3.0 * (a + b) - libm::sqrt((3.0 * a + b) * (a + 3.0 * b)));
        arc * self.length_m + PI * a * b
    }
}

/// Heat to hold a tunnel at `inside` °C while it is `outside` °C out there. Nothing when it is
/// warmer outside.
///
/// # Errors
/// For sizes, temperatures and skins that are none.
pub fn heater(
    tunnel: &Tunnel,
    glazing: &str,
    inside: f64,
    outside: f64,
) -> Result<Heat, HeatError> {
    tunnel.check()?;
    if let Some(wrong) = [inside, outside].into_iter().find(|c| !(-60.0..=60.0).contains(c)) {
        return Err(HeatError::Celsius(wrong));
    }
    let skin = glazings()
        .iter()
        .find(|row| row.id == glazing)
        .ok_or_else(|| HeatError::Glazing(glazing.to_owned()))?;
    let area = tunnel.skin_m2();
    let warmer = (inside - outside).max(0.0);
    let u_si = skin.u_btu.map(|u| u * SI_PER_U);
    let skin_kw = u_si.map(|u| u * area * warmer / 1000.0);
    let leaks = tables().heater.leaks_percent.value;
    let kw = [0, 1].map(|i| skin_kw[i] * (1.0 + leaks[i] / 100.0));
    let btu_h = kw.map(|kw| kw * BTU_H_PER_KW);
    Ok(Heat {
        skin_m2: rounded(area, 10.0),
        u_si: u_si.map(|u| rounded(u, 100.0)),
        warmer_celsius: rounded(warmer, 100.0),
        skin_kw: skin_kw.map(|kw| rounded(kw, 1000.0)),
        kw: kw.map(|kw| rounded(kw, 1000.0)),
        btu_h: btu_h.map(|btu| rounded(btu, 1.0)),
        words: format!(
            "{:.1} to {:.1} kW ({:.0} to {:.0} BTU/h) hold {inside:.1} °C while it is \
             {outside:.1} °C outside: {area:.0} m² of {} and {:.0} to {:.0} % for leaks",
            kw[0],
            kw[1],
            btu_h[0],
            btu_h[1],
            skin.name.to_lowercase(),
            leaks[0],
            leaks[1]
        ),
        source: skin.source.clone(),
        cautions: heater_cautions().to_vec(),
    })
}

fn rounded(value: f64, per: f64) -> f64 {
    libm::round(value * per) / per
}
