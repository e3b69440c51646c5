//! The fit against FAO's ten nights (Snyder and de Melo-Abreu 2005, ch. 5; the table and the printed
//! prediction seen in an R manual, V2; intermediates computed twice outside this program, D).

use shared_types::trade::cold::{
    FEWEST_NIGHTS, FitRefusal, LoggedNight, OutOfScope, Sky, Trend, fit,
};

const T0: [f64; 10] = [3.2, 0.8, 0.2, 2.6, 4.4, 5.2, 2.7, 1.2, 4.5, 5.6];
const TD: [f64; 10] = [-4.2, -8.8, -6.5, -6.2, -6.1, 2.6, -0.7, -1.7, -1.2, 0.1];
const TN: [f64; 10] = [-3.1, -5.0, -6.3, -5.4, -4.0, -2.5, -4.8, -5.0, -4.4, -3.3];

pub(crate) fn ten_nights() -> Vec<LoggedNight> {
    (0..10)
        .map(|i| LoggedNight {
            evening: T0[i],
            dew_point: Some(TD[i]),
            low: TN[i],
            ..LoggedNight::default()
        })
        .collect()
}

fn close(told: f64, known: f64, within: f64, what: &str) {
    assert!((told - known).abs() <= within, "{what}: {told}, known {known}");
}

#[test]
fn every_intermediate_of_the_ten_nights_comes_back() {
    let fit = fit(&ten_nights()).expect("ten nights");
    close(fit.b, 0.502_812, 5e-7, "b");
    close(fit.c.expect("two stages"), 0.026_472, 5e-7, "c");
    close(fit.d, -5.821_987, 5e-7, "d");
    close(fit.first.d, -5.908_549, 5e-7, "d of stage 1");
    close(fit.first.r2, 0.6656, 5e-5, "R² of stage 1");
    close(fit.rmse, 0.6311, 5e-5, "RMSE, divided by n");
    close(fit.r2, 0.6724, 5e-5, "R²");
    #[expect(clippy::approx_constant, reason = "-3.14 is a temperature")]
    let known = [-4.32, -5.65, -5.89, -4.68, -3.77, -3.14, -4.48, -5.26, -3.59, -3.00];
    assert_eq!(fit.predicted.len(), known.len());
    for (i, (told, known)) in fit.predicted.iter().zip(known).enumerate() {
        close(*told, known, 0.005, &format!("Tp of night {}", i + 1));
    }
    assert_eq!((fit.nights, fit.left_out.len(), fit.weather_not_noted), (10, 0, 10));
}

#[test]
fn the_printed_prediction_comes_back() {
    // predict(T0 = 10, Td = 2) = -0.7409219, as printed (V2). One regression on both would give
    // -1.029: see the reference.
    let fit = fit(&ten_nights()).expect("ten nights");
    close(fit.low(10.0, Some(2.0)), -0.740_921_9, 5e-8, "T0 10, Td 2");
    close(fit.low(10.0, None), -0.880_428, 1e-6, "temperature alone");
    let told = fit.predict(10.0, Some(2.0));
    assert!(told.outside, "10 °C is warmer than any logged evening");
    assert!(told.from < told.low && told.low < told.to);
}

#[test]
fn the_range_is_that_of_a_new_observation() {
    // At the mean of both: half-width t(0.9; 7) · √(SSE/7) · √(1 + 1/10), t = 1.414924 (scipy).
    let fit = fit(&ten_nights()).expect("ten nights");
    let mean = |values: [f64; 10]| values.iter().sum::<f64>() / 10.0;
    let told = fit.predict(mean(T0), Some(mean(TD)));
    let error = fit.rmse * (10.0_f64 / 7.0).sqrt();
    close(fit.error, error, 1e-12, "error of one night");
    close(told.to - told.low, 1.414_924 * error * 1.1_f64.sqrt(), 1e-5, "half-width");
    close(told.low - told.from, told.to - told.low, 1e-12, "both ways alike");
    // Farther from the nights it was made on it knows less.
    let far = fit.predict(mean(T0) + 5.0, Some(mean(TD)));
    assert!(far.to - far.from > told.to - told.from);
}

#[test]
fn the_published_dew_points_fit_without_them_too() {
    let mut nights = ten_nights();
    for night in &mut nights {
        night.dew_point = None;
    }
    let fit = fit(&nights).expect("ten nights");
    assert_eq!(fit.c, None);
    close(fit.d, -5.908_549, 5e-7, "d is stage 1's");
    close(fit.low(10.0, Some(2.0)), -0.880_428, 1e-6, "a dew point changes nothing");
}

#[test]
fn nights_outside_the_scope_do_not_count() {
    let mut nights = ten_nights();
    let base = nights[0];
    let outside = [
        (LoggedNight { wind_m_s: Some(2.0), ..base }, OutOfScope::Wind { m_s: 2.0 }),
        (LoggedNight { sky: Some(Sky::Cloud), ..base }, OutOfScope::Sky { sky: Sky::Cloud }),
        (LoggedNight { sky: Some(Sky::Fog), ..base }, OutOfScope::Sky { sky: Sky::Fog }),
        (LoggedNight { sky: Some(Sky::Rain), ..base }, OutOfScope::Sky { sky: Sky::Rain }),
        (LoggedNight { read_hours: Some(-1.0), ..base }, OutOfScope::Hour { hours: -1.0 }),
        (LoggedNight { read_hours: Some(5.0), ..base }, OutOfScope::Hour { hours: 5.0 }),
        (LoggedNight { low: 9.0, ..base }, OutOfScope::Numbers),
        (LoggedNight { evening: 320.0, ..base }, OutOfScope::Numbers),
    ];
    let before = fit(&nights).expect("ten nights");
    nights.extend(outside.iter().map(|(night, _)| *night));
    let after = fit(&nights).expect("the same ten nights");
    close(after.b, before.b, 1e-15, "b");
    assert_eq!(after.left_out.len(), outside.len());
    for (left, (_, why)) in after.left_out.iter().zip(outside) {
        assert_eq!(left.why, Some(why));
        assert!(!why.words().is_empty());
    }
    // Nine in scope, and any number outside, are too few.
    nights.remove(0);
    let refused = fit(&nights).expect_err("nine");
    assert_eq!(refused, FitRefusal::TooFew { have: 9, left_out: 8 });
    assert!(refused.to_string().contains("1 more time"), "{refused}");
    assert!(refused.to_string().contains("8 nights of wind"), "{refused}");
}

#[test]
fn ten_evenings_all_alike_are_no_fit() {
    let night = ten_nights()[0];
    assert_eq!(fit(&[night; FEWEST_NIGHTS]), Err(FitRefusal::AllAlike));
    assert_eq!(fit(&[]), Err(FitRefusal::TooFew { have: 0, left_out: 0 }));
}

#[test]
fn the_trend_runs_by_the_root_and_tells_the_hour() {
    // UC Davis FP002 (V2): T(i) = T0 + b'·√(i − 2), b' = (Tp − T0)/√(n − 2). A night of 14 h, 5 °C
    // at two hours, low −1: b' = −6/√12 = −1.7321; 0 °C at i = 2 + (5/1.7321)² = 10.333 h.
    use shared_types::trade::cold::Night;
    use shared_types::units::{HOUR_MS, Millis};
    let night = Night { sunset: Millis(0), sunrise: Millis(14 * HOUR_MS) };
    let trend = Trend::new(night, 5.0, -1.0).expect("it cools");
    close(trend.rate(), -1.732_050_8, 1e-7, "b'");
    close(trend.celsius(2.0), 5.0, 1e-12, "two hours");
    close(trend.celsius(14.0), -1.0, 1e-12, "sunrise");
    close(trend.celsius(5.0), 2.0, 1e-12, "five hours: 5 − 1.7321·√3");
    let zero = trend.crossing(0.0);
    close(zero.hours_below, 14.0 - 10.333_333, 1e-6, "hours below 0 °C");
    let at = zero.at.expect("it is reached").0 as f64 / HOUR_MS as f64;
    close(at, 10.333_333, 1e-6, "the hour");
    assert_eq!(trend.crossing(-2.0).at, None, "it does not get there");
    assert_eq!(trend.crossing(6.0).at, Some(Millis(2 * HOUR_MS)), "below it already");
    close(trend.crossing(6.0).hours_below, 12.0, 1e-9, "from the reading on");
    // Without cooling there is none, nor in a night shorter than the reading's two hours.
    assert!(Trend::new(night, 5.0, 5.0).is_none());
    let short = Night { sunset: Millis(0), sunrise: Millis(HOUR_MS) };
    assert!(Trend::new(short, 5.0, -1.0).is_none());
}
