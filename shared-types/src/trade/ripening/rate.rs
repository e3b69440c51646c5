//! Rates of ripening by temperature.

use std::sync::LazyLock;

use libm::{exp, log};

use super::table::{Cell, Model, tables};

/// Most segments a model may have.
pub(super) const MAX_SEGMENTS: usize = 4;

/// Gas constant, kJ/(mol K): exact by the 2019 SI, 8.314 462 618 J/(mol K).
const GAS_CONSTANT: f64 = 0.008_314_462_618;
const ZERO_CELSIUS_IN_KELVIN: f64 = 273.15;
/// The temperature in whose days the lag of green fruit is told.
const LAG_CELSIUS: f64 = 20.0;

/// Rates at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rates {
    /// Days at 20 °C passed per day, for green fruit before position 0.
    pub(super) lag: f64,
    /// Segments passed per day, by segment.
    pub(super) segments: [f64; MAX_SEGMENTS],
}

impl Model {
    /// k_s(T), segments per day.
    pub(super) fn rates(&self, celsius: f64) -> Rates {
        let mut segments = [0.0; MAX_SEGMENTS];
        for (i, row) in self.rows.iter().enumerate() {
            let next = self.rows.get(i + 1).map(|row| row.cells.as_slice());
            segments[i] = 1.0 / days_at(&row.cells, next, celsius);
        }
        // The table's flat 2 days from mature green to breakers is a smoothed artefact of sorted
        // fruit; unsorted green fruit waits as its whole way to red goes: D_0(20) / D_0(T).
        let whole = &self.rows[0].cells;
        let lag = days_at(whole, None, LAG_CELSIUS) / days_at(whole, None, celsius);
        Rates { lag, segments }
    }

    /// Days from row 0 to row 1 at 20 °C: the lag of a fruit at position 0.
    pub(super) fn first_segment_at_20(&self) -> f64 {
        let next = self.rows.get(1).map(|row| row.cells.as_slice());
        days_at(&self.rows[0].cells, next, LAG_CELSIUS)
    }
}

/// d_s(T) = D_s(T) − D_{s+1}(T), with ln d linear in T between columns; Arrhenius below the
/// table; held above it.
fn days_at(row: &[Cell], next: Option<&[Cell]>, celsius: f64) -> f64 {
    let days = |i: usize| row[i].days - next.map_or(0.0, |next| next[i].days);
    let last = row.len() - 1;
    if celsius <= row[0].celsius {
        return days(0) / below_table(celsius, row[0].celsius);
    }
    if celsius >= row[last].celsius {
        return days(last);
    }
    let right = row.iter().position(|cell| cell.celsius >= celsius).unwrap_or(last);
    let (cold, warm) = (row[right - 1].celsius, row[right].celsius);
    let w = (celsius - cold) / (warm - cold);
    if w >= 1.0 {
        return days(right);
    }
    exp((1.0 - w) * log(days(right - 1)) + w * log(days(right)))
}

/// k(T)/k(T0) = exp[(Ea/R)(1/T0 − 1/T)], kelvin; 1 at the table's edge.
fn below_table(celsius: f64, edge: f64) -> f64 {
    let ea = tables().below_table.activation_kj_per_mol.value;
    let (t, t0) = (celsius + ZERO_CELSIUS_IN_KELVIN, edge + ZERO_CELSIUS_IN_KELVIN);
    exp(ea / GAS_CONSTANT * (1.0 / t0 - 1.0 / t))
}

/// Rates of a model at every tenth of a degree a room can have: lag, then the segments.
pub(super) type Ladder = Vec<[f64; MAX_SEGMENTS + 1]>;

/// Coolest step of a ladder, °C.
const LADDER_FROM: f64 = -30.0;
/// Steps of a ladder per °C.
const LADDER_PER_DEGREE: f64 = 10.0;
/// Steps of a ladder, to 60 °C.
const LADDER_STEPS: usize = 901;

static LADDERS: LazyLock<Vec<Ladder>> = LazyLock::new(|| {
    let rung = |model: &Model, celsius: f64| {
        let rates = model.rates(celsius);
        let mut rung = [rates.lag; MAX_SEGMENTS + 1];
        rung[1..].copy_from_slice(&rates.segments);
        rung
    };
    tables().models.iter().map(|model| ladder_of(|celsius| rung(model, celsius))).collect()
});

impl Model {
    /// The model's ladder, worked out once.
    pub(super) fn ladder(&self) -> &'static Ladder {
        let at = tables().models.iter().position(|model| model.id == self.id);
        &LADDERS[at.expect("a model is one of the table's")]
    }
}

/// A ladder read at a temperature: straight between tenths of a degree, which is within 2 in
/// 10,000 of [`Model::rates`] above 0 °C.
pub(super) fn on_ladder<const N: usize>(ladder: &[[f64; N]], celsius: f64) -> [f64; N] {
    let at = ((celsius - LADDER_FROM) * LADDER_PER_DEGREE).clamp(0.0, (LADDER_STEPS - 1) as f64);
    let below = (at as usize).min(LADDER_STEPS - 2);
    let w = at - below as f64;
    let (low, high) = (&ladder[below], &ladder[below + 1]);
    std::array::from_fn(|i| low[i] + w * (high[i] - low[i]))
}

/// Works out a ladder of anything.
pub(super) fn ladder_of<const N: usize>(of: impl Fn(f64) -> [f64; N]) -> Vec<[f64; N]> {
    (0..LADDER_STEPS).map(|i| of(LADDER_FROM + i as f64 / LADDER_PER_DEGREE)).collect()
}

#[cfg(test)]
mod tests {
    use super::super::table::model;
    use super::*;

    #[test]
    fn ripening_nearly_stops_in_the_cold() {
        // Derived from Ea = 45.15 kcal/mol: Q10 of about 17 between 5 and 15 °C.
        let relative = |t| below_table(t, 12.5);
        assert!((relative(12.5) - 1.0).abs() < 1e-12);
        assert!((relative(10.0) - 0.495).abs() < 0.005, "{}", relative(10.0));
        assert!((relative(5.0) - 0.117).abs() < 0.005, "{}", relative(5.0));
        let q10 = relative(15.0) / relative(5.0);
        assert!((q10 - 17.0).abs() < 0.5, "{q10}");
    }

    #[test]
    fn a_ladder_is_as_good_as_the_table() {
        for model in super::super::table::models() {
            for i in 0..400 {
                let celsius = f64::from(i) * 0.1173;
                let (exact, read) = (model.rates(celsius), on_ladder(model.ladder(), celsius));
                for (exact, read) in exact.segments.iter().take(model.ripe()).zip(&read[1..]) {
                    assert!((read / exact - 1.0).abs() < 2e-4, "{celsius} °C");
                }
            }
        }
    }

    #[test]
    fn a_room_above_the_table_is_no_faster() {
        let tomato = model("tomato").expect("is in the table");
        assert_eq!(tomato.rates(25.0), tomato.rates(31.0));
    }

    #[test]
    fn the_lag_follows_the_relative_rate_of_mature_green() {
        // Derived from the table: MG .56 .67 .83 1 1.25 1.43.
        let tomato = model("tomato").expect("is in the table");
        for (t, k) in
            [(12.5, 0.56), (15.0, 0.67), (17.5, 0.83), (20.0, 1.0), (22.5, 1.25), (25.0, 1.43)]
        {
            assert!((tomato.rates(t).lag - k).abs() < 0.005, "{t}");
        }
        assert!((tomato.first_segment_at_20() - 2.0).abs() < 1e-12);
    }
}
