//! Units of recipes and tables.

use shared_types::trade::methods::Jar;
use shared_types::units::{Altitude, KG_PER_LB, LITRES_PER_QUART, Measure, Reading, WeightUnit};

#[test]
fn kitchen_measures() {
    // NIST Handbook 44 C, standard constants: quart 0.946352946 L, pint 473.176473 mL, cup 236.588,
    // tablespoon 14.787, teaspoon 4.929 (M/D in the reference; exact from 231 in³).
    for (measure, ml, within) in [
        (Measure::Quart, 946.352_946, 1e-9),
        (Measure::Pint, 473.176_473, 1e-9),
        (Measure::Cup, 236.588, 0.000_5),
        (Measure::Tablespoon, 14.787, 0.000_5),
        (Measure::Teaspoon, 4.929, 0.000_5),
    ] {
        let found = measure.millilitres();
        assert!((found - ml).abs() < within, "{measure:?}: {found}");
    }
    assert_eq!(Measure::Cup.teaspoons(), 16 * Measure::Tablespoon.teaspoons());
    assert_eq!(Measure::Tablespoon.teaspoons(), 3 * Measure::Teaspoon.teaspoons());
}

#[test]
fn jars_of_a_load() {
    // D: 7 qt = 6.62 L, 9 pt = 4.26 L.
    assert!((7.0 * Jar::Quart.litres() - 6.62).abs() < 0.005);
    assert!((9.0 * Jar::Pint.litres() - 4.26).abs() < 0.005);
    assert!((Jar::Quart.litres() - LITRES_PER_QUART).abs() < 1e-12);
}

#[test]
fn pounds_and_feet_are_exact() {
    // 1 lb = 0.45359237 kg, 1 ft = 0.3048 m (1959).
    let pound = Reading { unit: WeightUnit::Lb, thousandths: 1_000_000 };
    assert_eq!(pound.grams().0, 453_592);
    assert!((KG_PER_LB - 0.453_592_37).abs() < 1e-15);
    for (feet, metres) in [
        (1000, 304.8),
        (2000, 609.6),
        (3000, 914.4),
        (4000, 1219.2),
        (6000, 1828.8),
        (8000, 2438.4),
    ] {
        assert!((Altitude::from_feet(feet).metres() - metres).abs() < 1e-9, "{feet} ft");
    }
}
