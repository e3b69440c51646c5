//! What a lot loses on the way: drying and rot.

use std::sync::LazyLock;

use libm::{exp, log};

use super::rate::{ladder_of, on_ladder};
use super::table::tables;

/// Share of weight lost to drying per day.
///
/// ```text
/// e_s(T) = 0.6108 · exp(17.27 T / (T + 237.3))     kPa, T in °C (FAO 56)
/// VPD    = e_s(T) · (1 − RH/100)                   kPa
/// loss   = 1.2 % per day and kPa                   (from memory; range 0.6 to 3.2)
/// ```
///
/// Seen: 0.09 % per day at 10 °C and 90 %; 0.16 to 0.22 at 13 °C; 0.5 to 0.7 in dry cold stores.
pub fn drying_per_day(celsius: f64, humidity_percent: f64) -> f64 {
    drying(saturated(celsius), humidity_percent)
}

/// e_s(T), kPa.
fn saturated(celsius: f64) -> f64 {
    0.6108 * exp(17.27 * celsius / (celsius + 237.3))
}

fn drying(saturated: f64, humidity_percent: f64) -> f64 {
    let deficit = saturated * (1.0 - humidity_percent / 100.0);
    tables().loss.drying_percent_per_day_per_kpa.value / 100.0 * deficit
}

/// Share lost to rot per day: 0.62 % at 12 °C (14.5 to 17.5 % after 28 days), doubling every
/// 10 °C, which is an assumption.
pub fn rot_per_day(celsius: f64) -> f64 {
    let loss = &tables().loss;
    let tens = (celsius - loss.rot_at_celsius.value) / 10.0;
    loss.rot_percent_per_day.value / 100.0 * exp(log(loss.rot_q10.value) * tens)
}

/// Saturation vapour pressure, kPa, and rot, per day, by temperature.
static AIR: LazyLock<Vec<[f64; 2]>> =
    LazyLock::new(|| ladder_of(|celsius| [saturated(celsius), rot_per_day(celsius)]));

/// Drying and rot, per day, read off a ladder.
pub(super) fn losses_per_day(celsius: f64, humidity_percent: f64) -> [f64; 2] {
    let [saturated, rot] = on_ladder(&AIR, celsius);
    [drying(saturated, humidity_percent), rot]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drying_is_of_the_size_that_was_seen() {
        // 10 °C, 90 %: 0.15 %/day by the coefficient, 0.09 seen (AIMS Agric. Food 2020).
        assert!((drying_per_day(10.0, 90.0) * 100.0 - 0.15).abs() < 0.01);
        // 20 °C, 65 %: 0.82 kPa, 1.0 %/day; 18 °C, 50 %: 1.03 kPa, 1.2 %/day (derived).
        assert!((drying_per_day(20.0, 65.0) * 100.0 - 0.98).abs() < 0.03);
        assert!((drying_per_day(18.0, 50.0) * 100.0 - 1.24).abs() < 0.03);
    }

    #[test]
    fn rot_after_four_weeks_is_what_was_counted() {
        // Rab and others 2013: 14.5 to 17.5 % after 28 days at 12 °C.
        let left = exp(-rot_per_day(12.0) * 28.0);
        assert!((0.145..=0.175).contains(&(1.0 - left)), "{left}");
    }
}
