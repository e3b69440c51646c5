//! One batch written out, for whoever has decided on it already.

use super::batch::{Jarred, write};
use super::plan::{Batch, BatchFrom};
use crate::trade::methods::{Confirmed, Jar, Kind, Method, Refusal, process_time_confirmed};
use crate::units::Altitude;

/// A batch of `method` from these lots, in so many jars of a size where it fills jars, by what was
/// seen in a source or is `confirmed` by the owner.
///
/// # Errors
/// The refusal of its process time, when there is none for this jar at this height.
pub fn write_batch(
    method: &Method,
    from: Vec<BatchFrom>,
    (jar, count): (Jar, u32),
    altitude: Altitude,
    confirmed: &[Confirmed],
) -> Result<Batch, Refusal> {
    let jarred = match method.kind {
        Kind::Jar => {
            let process = process_time_confirmed(method, jar, altitude, confirmed)?;
            Some(Jarred { jar, count, process, altitude })
        }
        _ => None,
    };
    Ok(write(method, from, jarred))
}
