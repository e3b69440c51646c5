//! How soon ready fruit spoils: only for the order of work.

use crate::trade::crops::{Group, crop};
use crate::trade::fitness::Use;

use super::input::KitchenLot;

/// Days ready fruit keeps in its room, roughly.
///
/// Ripe tomatoes keep 2 to 4 days at room temperature (NC State Extension, seen); leaves and other
/// tender fruit are taken alike, stored crops keep months. Twice as long 10 °C cooler, and half as
/// long when it is not fit for a jar (frost-hurt, split, soft): both assumptions, so that it is
/// used first.
pub fn keeps_days(lot: &KitchenLot) -> f64 {
    let at_20 = match crop(&lot.crop).map(|crop| crop.group) {
        Some(Group::Root | Group::Squash) => 60.0,
        Some(Group::VineFruit | Group::Leaf) | None => 3.0,
    };
    let cooler = (20.0 - lot.celsius.unwrap_or(20.0)).clamp(-20.0, 20.0) / 10.0;
    let fit = if lot.fitness.uses.allows(Use::Jar) { 1.0 } else { 0.5 };
    at_20 * libm::exp2(cooler) * fit
}
