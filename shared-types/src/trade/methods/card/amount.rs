//! Amounts as a kitchen measures them, rounded so that no jar becomes less acid.
//!
//! What makes a jar safe (acid, salt) is rounded up; what dilutes it (vegetables, water) or slows
//! its heat (thickener) is rounded down; sugar and spices to the nearest. Steps of rounding are what
//! spoons, cups and kitchen scales have; this program's choice.

use serde::{Deserialize, Serialize};

use super::super::fraction::fraction;
use super::super::{Measure, Role, Unit};
use crate::units::KG_PER_LB;

/// In what amounts are written.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum System {
    /// Cups, spoons, pounds and ounces.
    #[default]
    Cups,
    /// Millilitres and grams.
    Metric,
}

/// An amount that can be measured out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// How it is written: `1 3/4 cups + 1 Tbsp`.
    pub text: String,
    /// The same in the unit that was asked about.
    pub amount: f64,
}

/// Which way to round.
#[derive(Clone, Copy)]
enum Way {
    Up,
    Down,
    Near,
}

/// A whole number of steps may miss by this share of one, so that 3.000000001 steps are three.
const TINY: f64 = 1e-9;
const GRAMS_PER_OZ: f64 = KG_PER_LB * 1000.0 / 16.0;

/// `amount` of a unit as it can be measured out, rounded as its role allows.
pub fn measured(amount: f64, unit: Unit, role: Role, system: System) -> Measured {
    let way = if role.never_less() {
        Way::Up
    } else if role.never_more() {
        Way::Down
    } else {
        Way::Near
    };
    match (unit, system) {
        (Unit::Measure(measure), System::Cups) => {
            let spoons = f64::from(measure.teaspoons());
            let (told, step) = (amount * spoons, spoon_step(amount * spoons));
            let told = round(told, step, way);
            Measured { text: spoon_words(told), amount: told / spoons }
        }
        (Unit::Measure(measure), System::Metric) => {
            let one = measure.millilitres();
            let told = round(amount * one, millilitre_step(amount * one), way);
            Measured { text: metric(told, "mL", "L"), amount: told / one }
        }
        (Unit::Lb, System::Cups) => ounces(amount * 16.0, 16.0, way),
        (Unit::Oz, System::Cups) => ounces(amount, 1.0, way),
        (Unit::Lb, System::Metric) => grams(amount * 16.0 * GRAMS_PER_OZ, 16.0, way),
        (Unit::Oz, System::Metric) => grams(amount * GRAMS_PER_OZ, 1.0, way),
        (Unit::Clove, _) => count(amount, "clove", way),
        (Unit::Stick, _) => count(amount, "stick", way),
        (Unit::Piece, _) => count(amount, "", way),
    }
}

fn round(amount: f64, step: f64, way: Way) -> f64 {
    let steps = amount / step;
    let whole = match way {
        Way::Up => libm::ceil(steps - TINY),
        Way::Down => libm::floor(steps + TINY),
        Way::Near => libm::round(steps).max(1.0),
    };
    whole * step
}

/// Teaspoons, in steps that spoons and cups have.
fn spoon_step(teaspoons: f64) -> f64 {
    match teaspoons {
        t if t < 1.0 => 0.125,
        t if t < 3.0 => 0.25,
        t if t < 12.0 => 0.5,
        t if t < 24.0 => 1.0,
        t if t < 96.0 => 3.0,
        _ => 12.0,
    }
}

fn spoon_words(teaspoons: f64) -> String {
    let eighths = libm::round(teaspoons * 8.0) as i64;
    // A quarter cup is 12 teaspoons, a tablespoon 3.
    let (quarters, rest) = (eighths / 96, eighths % 96);
    let (tablespoons, rest) = (rest / 24, rest % 24);
    let mut parts = Vec::new();
    if quarters > 0 {
        let plural = if quarters > 4 { "s" } else { "" };
        parts.push(format!("{} cup{plural}", fraction(quarters as f64 / 4.0)));
    }
    if tablespoons > 0 {
        parts.push(format!("{tablespoons} Tbsp"));
    }
    if rest > 0 {
        parts.push(format!("{} tsp", fraction(rest as f64 / 8.0)));
    }
    if parts.is_empty() { "none".to_owned() } else { parts.join(" + ") }
}

fn millilitre_step(ml: f64) -> f64 {
    match ml {
        ml if ml < 5.0 => 0.5,
        ml if ml < 30.0 => 1.0,
        ml if ml < 150.0 => 5.0,
        ml if ml < 1000.0 => 10.0,
        _ => 50.0,
    }
}

fn ounces(oz: f64, to_unit: f64, way: Way) -> Measured {
    let told = round(oz, if oz < 16.0 { 0.5 } else { 1.0 }, way);
    let (lb, rest) = (libm::floor(told / 16.0 + TINY), told % 16.0);
    let text = match (lb > 0.0, rest > 0.0) {
        (true, true) => format!("{lb} lb {} oz", fraction(rest)),
        (true, false) => format!("{lb} lb"),
        (false, true) => format!("{} oz", fraction(rest)),
        (false, false) => "none".to_owned(),
    };
    Measured { text, amount: told / to_unit }
}

fn grams(grams: f64, oz_per_unit: f64, way: Way) -> Measured {
    let step = match grams {
        g if g < 50.0 => 1.0,
        g if g < 500.0 => 5.0,
        g if g < 2000.0 => 10.0,
        _ => 50.0,
    };
    let told = round(grams, step, way);
    Measured { text: metric(told, "g", "kg"), amount: told / GRAMS_PER_OZ / oz_per_unit }
}

/// `450 mL`, `1.25 L`.
fn metric(amount: f64, small: &str, large: &str) -> String {
    if amount <= 0.0 {
        "none".to_owned()
    } else if amount >= 1000.0 {
        let text = format!("{:.2}", amount / 1000.0);
        format!("{} {large}", text.trim_end_matches('0').trim_end_matches('.'))
    } else {
        format!("{amount} {small}")
    }
}

fn count(amount: f64, word: &str, way: Way) -> Measured {
    let told = round(amount, 0.5, way);
    let plural = if told > 1.0 && !word.is_empty() { "s" } else { "" };
    let text = if told <= 0.0 {
        "none".to_owned()
    } else {
        format!("{} {word}{plural}", fraction(told)).trim_end().to_owned()
    };
    Measured { text, amount: told }
}

/// The measure a kitchen would fill for so many teaspoons: for a whole unit in hand.
pub(super) fn teaspoons(amount: f64, measure: Measure) -> f64 {
    amount * f64::from(measure.teaspoons())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_as_cooks_write_them() {
        let (cup, quart) = (Unit::Measure(Measure::Cup), Unit::Measure(Measure::Quart));
        let spoon = Unit::Measure(Measure::Teaspoon);
        for (amount, unit, role, cups, metric) in [
            (4.5, cup, Role::Acid, "4 1/2 cups", "1.1 L"),
            (1.0, cup, Role::Acid, "1 cup", "240 mL"),
            (1.01, cup, Role::Acid, "1 cup + 1 Tbsp", "240 mL"),
            (1.01, cup, Role::Vegetable, "1 cup", "230 mL"),
            (7.5, cup, Role::Vegetable, "7 1/2 cups", "1.75 L"),
            (1.0, quart, Role::Acid, "4 cups", "950 mL"),
            (0.37, cup, Role::Salt, "1/4 cup + 2 Tbsp", "90 mL"),
            (1.1, spoon, Role::Spice, "1 tsp", "5 mL"),
            (0.02, spoon, Role::Spice, "1/8 tsp", "0.5 mL"),
            (2.25, Unit::Lb, Role::Vegetable, "2 lb 4 oz", "1.02 kg"),
            (10.0, Unit::Lb, Role::Vegetable, "10 lb", "4.5 kg"),
            (24.0, Unit::Oz, Role::Vegetable, "1 lb 8 oz", "680 g"),
            (3.0, Unit::Clove, Role::Vegetable, "3 cloves", "3 cloves"),
            (0.4, Unit::Clove, Role::Vegetable, "none", "none"),
            (2.7, Unit::Stick, Role::Spice, "2 1/2 sticks", "2 1/2 sticks"),
            (6.9, Unit::Piece, Role::Vegetable, "6 1/2", "6 1/2"),
        ] {
            assert_eq!(measured(amount, unit, role, System::Cups).text, cups, "{amount} {role:?}");
            assert_eq!(
                measured(amount, unit, role, System::Metric).text,
                metric,
                "{amount} {role:?}"
            );
        }
    }
}
