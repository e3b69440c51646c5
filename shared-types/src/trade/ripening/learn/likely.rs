//! How likely the rounds of a lot are, at every point of the grid.

use libm::{exp, log};

use super::super::lot::LotInput;
use super::super::normal::Normal;
use super::super::room::RoomDays;
use super::super::standing::{Stretch, stretches};
use super::super::start::Start;
use super::super::table::{Model, evidence};
use super::axes::{Grid, LAGS, LOSSES, NEVERS, POINTS, RATES};
use crate::trade::crops::Crop;
use crate::units::{Day, Grams};

/// Log likelihoods: of rate, lag and never together, and of losses.
#[derive(Clone, Debug)]
pub(super) struct Surface {
    pub(super) ripening: Vec<f64>,
    pub(super) losses: Vec<f64>,
}

/// Can anything be learned of it?
pub(super) fn says_something(lot: &LotInput) -> bool {
    !lot.seen().is_empty() && lot.grams > Grams::ZERO && known(lot).is_some()
}

/// By what lots are put in order, so that sums come out the same. Lots equal in all of it say the
/// same, whichever comes first.
pub(super) fn order(lot: &LotInput) -> impl Ord + '_ {
    let LotInput { class, stage, stages, grams, picked, sorted, rounds, room, .. } = lot;
    let mut rounds = rounds.clone();
    rounds.sort_unstable();
    (picked, class, stage, stages, grams, sorted, rounds, room)
}

fn known(lot: &LotInput) -> Option<(&'static Crop, &'static Model, Start)> {
    let (crop, _, model, start) = lot.known()?;
    (start != Start::AsItIs && start != Start::Ripe).then_some((crop, model, start))
}

/// The sum over lots, in the order given.
pub(super) fn surface(grid: &Grid, lots: &[&LotInput]) -> Surface {
    let mut sum = Surface { ripening: vec![0.0; POINTS], losses: vec![0.0; LOSSES] };
    for lot in lots {
        if let Some((crop, model, start)) = known(lot) {
            add(grid, lot, crop, model, &start, &mut sum);
        }
    }
    sum
}

fn add(grid: &Grid, lot: &LotInput, crop: &Crop, model: &Model, start: &Start, sum: &mut Surface) {
    let whole = lot.grams.0.max(0) as f64;
    let worth = fruit_worth(whole / crop.fruit_grams.value);
    let last = lot.seen().last().map_or(lot.picked, |round| round.day);
    let room = RoomDays::new(&lot.room, model, lot.picked, last);
    let log_lags: [f64; LAGS] = std::array::from_fn(|i| log(grid.lags[i]));
    let normal = Normal::new();
    let ripe_by = |day: Day, rate: f64| -> [f64; LAGS] {
        let x = room.start(0.0, f64::from(room.index(day)), rate);
        start.shares_beyond(x, &log_lags, grid.lag_fruit_sd_log, normal)
    };
    for stretch in stretches(lot, &room, grid.loss_median) {
        let sound = stretch.left + stretch.round.ripe.0.max(0) as f64;
        if sound > 0.0 {
            let share = stretch.round.ripe.0.max(0) as f64 / sound;
            let fruit = worth * (sound / whole).min(1.0);
            for (rate, m) in grid.rates.iter().enumerate() {
                let before = if stretch.from > lot.picked || lot.sorted.is_some() {
                    ripe_by(stretch.from, *m)
                } else {
                    [0.0; LAGS]
                };
                let after = ripe_by(stretch.to, *m);
                for lag in 0..LAGS {
                    for never in 0..NEVERS {
                        let ripens =
                            if start.unsorted_green() { 1.0 - grid.nevers[never] } else { 1.0 };
                        let (f1, f2) = (ripens * before[lag], ripens * after[lag]);
                        sum.ripening[(rate * LAGS + lag) * NEVERS + never] +=
                            fruit * log_share(share, turned(f1, f2));
                    }
                }
            }
        }
        add_losses(grid, &stretch, worth * (stretch.before / whole).min(1.0), sum);
    }
    debug_assert_eq!(sum.ripening.len(), RATES * LAGS * NEVERS);
}

/// As how many independent fruit `n` of one lot count: n / (1 + n/most).
fn fruit_worth(n: f64) -> f64 {
    n / (1.0 + n / evidence().lot_worth.value)
}

/// Of what had not ripened at share `f1`, the part that has at `f2`. Where all should have ripened
/// long ago, what still stands is due any day: an even chance says nothing either way.
fn turned(f1: f64, f2: f64) -> f64 {
    let rest = 1.0 - f1;
    if rest < 1e-6 { 0.5 } else { ((f2 - f1) / rest).clamp(0.0, 1.0) }
}

/// Log likelihood per fruit of a share `y` taken out where `q` is ripe: a few ripe ones are left,
/// a few others taken.
fn log_share(y: f64, q: f64) -> f64 {
    let (late, early) = (evidence().overlooked.value, evidence().taken_early.value);
    let q = early + (1.0 - early - late) * q;
    y * log(q) + (1.0 - y) * log(1.0 - q)
}

/// Rot against what was thrown out; drying against what a weighing of the rest does not find.
fn add_losses(grid: &Grid, stretch: &Stretch, fruit: f64, sum: &mut Surface) {
    let told = evidence();
    let (dry, rot) = stretch.losses;
    if stretch.before <= 0.0 || rot <= 0.0 {
        return;
    }
    let round = stretch.round;
    let thrown = (round.lost.0.max(0) as f64 / stretch.before).min(1.0);
    let fruit = fruit / told.rot_cluster.value;
    for (at, loss) in sum.losses.iter_mut().zip(&grid.losses) {
        let q = 1.0 - exp(-loss * rot);
        // Out of a hundred fruit one is thrown out that need not have been, or the other way round.
        let q = 0.005 + 0.99 * q;
        *at += fruit * (thrown * log(q) + (1.0 - thrown) * log(1.0 - q));
        if let Some(left) = round.left {
            let found = stretch.before - (round.ripe + round.lost + left).0 as f64;
            let expected = stretch.before * (1.0 - exp(-loss * dry));
            let sd = told.scale_grams.value + told.scale_share.value * stretch.before;
            let off = (found - expected) / sd;
            // Beyond three standard deviations somebody read the scale wrongly.
            *at -= 0.5 * off.clamp(-3.0, 3.0) * off.clamp(-3.0, 3.0);
        }
    }
}
