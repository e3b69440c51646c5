//! Colour stages: 7 CFR 51.1860 (V2 wording).

use shared_types::trade::crops::Stage;

#[test]
fn six_classes_with_their_bounds() {
    // "not more than 10 %"; ">10 %, ≤30 %"; ">30 %, ≤60 %"; ">60 %, ≤90 %"; ">90 %".
    let bounds: Vec<_> = Stage::ALL.iter().map(|stage| (*stage, stage.bounds())).collect();
    assert_eq!(
        bounds,
        [
            (Stage::Green, (0.0, 0.0)),
            (Stage::Breakers, (0.0, 10.0)),
            (Stage::Turning, (10.0, 30.0)),
            (Stage::Pink, (30.0, 60.0)),
            (Stage::LightRed, (60.0, 90.0)),
            (Stage::Red, (90.0, 100.0)),
        ]
    );
}

#[test]
fn an_upper_bound_belongs_to_the_lower_class() {
    // "Boundaries: exactly 10 -> breaker, 30 -> turning, 60 -> pink, 90 -> light red."
    for (percent, stage) in [
        (0.0, Stage::Green),
        (0.1, Stage::Breakers),
        (10.0, Stage::Breakers),
        (10.01, Stage::Turning),
        (30.0, Stage::Turning),
        (30.01, Stage::Pink),
        (60.0, Stage::Pink),
        (60.01, Stage::LightRed),
        (90.0, Stage::LightRed),
        (90.01, Stage::Red),
        (100.0, Stage::Red),
    ] {
        assert_eq!(Stage::of_percent(percent), Ok(stage), "{percent} %");
    }
}

#[test]
fn pink_is_not_the_consumer_standards_pink() {
    // 7 CFR 51.1904 (V): "Pink, when the tomato shows from one-half to three-fourths"; and a known
    // slip prints pink as 30 to 90 %. Here 75 % is light red.
    assert_eq!(Stage::of_percent(75.0), Ok(Stage::LightRed));
}
