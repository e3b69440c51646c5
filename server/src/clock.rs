//! The one clock.

use std::time::{SystemTime, UNIX_EPOCH};

use shared_types::units::Millis;

/// The server's clock. Everything else takes the time as an argument.
#[expect(clippy::disallowed_methods, reason = "this is the one clock")]
pub fn now() -> Millis {
    let millis = match SystemTime::now().duration_since(UNIX_EPOCH) {
        Ok(after) => i64::try_from(after.as_millis()).unwrap_or(i64::MAX),
        // A board without a battery may start before 1970 and is set later.
        Err(before) => i64::try_from(before.duration().as_millis()).map_or(i64::MIN, |ms| -ms),
    };
    Millis(millis)
}

/// Minutes that this machine's clocks are ahead of UTC at `now`, for telling which day it is at
/// the house.
pub fn offset_minutes(now: Millis) -> i32 {
    use chrono::{Local, Offset as _, TimeZone as _};
    let local = Local.timestamp_millis_opt(now.0).earliest();
    local.map_or(0, |local| local.offset().fix().local_minus_utc() / 60)
}
