//! Where the sun stands.
//!
//! ```text
//! Meeus, Astronomical Algorithms (1998), ch. 25 "Solar coordinates", low accuracy; ch. 12.4 for
//! sidereal time; ch. 13 for altitude. The same series is behind NOAA's solar calculator.
//! T  = (JD − 2451545) / 36525                         Julian centuries from J2000
//! L0 = 280.46646 + 36000.76983 T + 0.0003032 T²       mean longitude, °
//! M  = 357.52911 + 35999.05029 T − 0.0001537 T²       mean anomaly, °
//! C  = (1.914602 − 0.004817 T) sin M + (0.019993 − 0.000101 T) sin 2M + 0.000289 sin 3M
//! Ω  = 125.04 − 1934.136 T
//! λ  = L0 + C − 0.00569 − 0.00478 sin Ω               apparent longitude
//! ε  = 23.4392911 − 0.0130042 T + 0.00256 cos Ω       obliquity
//! ```
//!
//! Printed as good to 0.01°. Universal time stands for dynamical time; the difference, about 70 s,
//! moves the sun by less than 0.001°. The coefficients are from memory (mark M) and held by the
//! comparison with a general library in `tests/reference/sun.rs`.

use libm::{asin, atan2, cos, sin};

use super::site::Site;
use crate::units::{DAY_MS, Millis};

/// The moment J2000.0, 2000-01-01T12:00Z, in milliseconds since 1970.
const J2000_MS: i64 = 946_728_000_000;

/// Altitude of the sun's centre at rise and set: 34' of refraction and 16' of radius.
/// Zenith 90.833° in NOAA's text (V).
pub(super) const HORIZON_DEGREES: f64 = -0.833;

/// Altitude of the sun's centre above the geometric horizon at a site, degrees.
pub fn altitude(site: &Site, at: Millis) -> f64 {
    let days = at.since(Millis(J2000_MS)) as f64 / DAY_MS as f64;
    let t = days / 36_525.0;
    let rad = f64::to_radians;

    let mean_longitude = 280.466_46 + t * (36_000.769_83 + t * 0.000_303_2);
    let anomaly = rad(357.529_11 + t * (35_999.050_29 - t * 0.000_153_7));
    let centre = (1.914_602 - t * (0.004_817 + t * 0.000_014)) * sin(anomaly)
        + (0.019_993 - t * 0.000_101) * sin(2.0 * anomaly)
        + 0.000_289 * sin(3.0 * anomaly);
    let node = rad(125.04 - 1_934.136 * t);
    let nutation = -0.004_78 * sin(node);
    let longitude = rad(mean_longitude + centre - 0.005_69 + nutation);
    let obliquity = rad(23.439_291_1 - 0.013_004_2 * t + 0.002_56 * cos(node));

    let right_ascension = atan2(cos(obliquity) * sin(longitude), cos(longitude));
    let declination = asin(sin(obliquity) * sin(longitude));
    // Mean sidereal time at Greenwich, and the nutation that the longitude carries already.
    let turned = 280.460_618_37 + 360.985_647_366_29 * days + t * t * 0.000_387_933;
    let sidereal = rad((turned + nutation * cos(obliquity)) % 360.0);

    let hour_angle = sidereal + rad(site.longitude()) - right_ascension;
    let latitude = rad(site.latitude());
    let sine =
        sin(latitude) * sin(declination) + cos(latitude) * cos(declination) * cos(hour_angle);
    asin(sine.clamp(-1.0, 1.0)).to_degrees()
}
