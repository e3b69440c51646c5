//! Is the forecast right about how sure it is? Held against a simulated truth, before and after it
//! has learned from three rounds. The seeds are fixed, so this either holds or does not.

mod dice;
mod world;

use shared_types::trade::ripening::{Belief, LotInput, Observed, at_quantiles, learn};
use shared_types::units::{Day, Grams};

use dice::Dice;
use world::{Truth, World};

/// Seasons that are lived through.
const SEASONS: u64 = 240;
/// Days of the rounds after picking, and what is asked about: grams ripe by so many days on.
const ROUNDS: [i32; 3] = [4, 9, 14];
const ASKED: [i32; 4] = [2, 4, 8, 13];
/// Quantiles for the score: 0.05, 0.10 … 0.95.
const QUANTILES: usize = 19;

fn day(offset: i32) -> Day {
    Day::from_ymd(2026, 10, 9).expect("a day").plus(offset)
}

/// How forecasts fared.
#[derive(Default)]
struct Score {
    asked: f64,
    within: f64,
    below: f64,
    /// Continuous ranked probability score over the lots' weight, by quantiles: 2·mean pinball loss.
    crps: f64,
    /// |median − truth| over the lots' weight.
    error: f64,
}

impl Score {
    fn count(&mut self, quantiles: &[Grams], truth: f64, weight: f64) {
        let at = |i: usize| quantiles[i].0 as f64;
        self.asked += 1.0;
        self.within += f64::from((at(1)..=at(QUANTILES - 2)).contains(&truth));
        self.below += f64::from(truth < at(1));
        let loss = |i: usize| {
            let (share, off) = ((i + 1) as f64 * 0.05, truth - at(i));
            if off >= 0.0 { share * off } else { (share - 1.0) * off }
        };
        self.crps += 2.0 * (0..QUANTILES).map(loss).sum::<f64>() / QUANTILES as f64 / weight;
        self.error += (at(QUANTILES / 2) - truth).abs() / weight;
    }

    fn coverage(&self) -> f64 {
        self.within / self.asked
    }

    fn line(&self, name: &str) -> String {
        let per = |x: f64| 100.0 * x / self.asked;
        format!(
            "{name:34} {:5.1} %  {:5.1} %  {:6.2} %  {:6.2} %",
            per(self.within),
            per(self.below),
            per(self.crps),
            per(self.error)
        )
    }
}

const HEAD: &str =
    "                                   in 80 %  below 10  CRPS/kg   |50 %-truth|/kg";

/// Asks a forecast about lots from `today` on and holds it against what became of them.
fn ask(score: &mut Score, belief: &Belief, worlds: &[World], today: i32, dice: &mut Dice) {
    let lots: Vec<LotInput> = worlds.iter().map(World::told).collect();
    let quantiles: Vec<f64> = (1..=QUANTILES).map(|i| i as f64 * 0.05).collect();
    let (_, days) = at_quantiles(&lots, belief, day(today), 14, &quantiles);
    let weight: f64 = worlds.iter().map(|world| world.weighed().0 as f64).sum();
    for ahead in ASKED {
        let mut truth = 0.0;
        for world in worlds {
            let mut world = world.clone();
            world.until(today + ahead, dice);
            truth += world.ripened(today, today + ahead);
        }
        score.count(&days[ahead as usize].by_then, truth, weight);
    }
}

#[derive(Default)]
struct Fared {
    before: Score,
    rest: Score,
    fresh: Score,
    fresh_by_the_book: Score,
}

/// A season: two lots are forecast, gone through three times and learned from; then the rest of
/// them is forecast, and two fresh lots of the same variety.
fn season(fared: &mut Fared, truth: impl Fn(&mut Dice) -> Truth, seed: u64) {
    let mut dice = Dice::new(seed);
    let truth = truth(&mut dice);
    let book = Belief::default();
    let lots = |dice: &mut Dice| -> Vec<World> {
        ["colouring", "green"]
            .map(|class| World::new(truth, class, dice.between(8.0, 40.0), day(0), dice))
            .into()
    };
    let mut worlds = lots(&mut dice);
    let fresh = lots(&mut dice);
    ask(&mut fared.before, &book, &worlds, 0, &mut dice);
    for evening in ROUNDS {
        for world in &mut worlds {
            world.until(evening, &mut dice);
            world.round(&mut dice);
        }
    }
    let seen: Vec<Observed> =
        worlds.iter().map(|world| Observed { variety: None, lot: world.told() }).collect();
    let learned = learn(&book, &seen).belief(&"tomato".into(), None);
    ask(&mut fared.rest, &learned, &worlds, ROUNDS[2], &mut dice);
    ask(&mut fared.fresh, &learned, &fresh, 0, &mut dice);
    ask(&mut fared.fresh_by_the_book, &book, &fresh, 0, &mut dice);
}

#[test]
fn the_80_percent_interval_holds_75_to_85_percent_before_and_after_learning() {
    let mut fared = Fared::default();
    for seed in 0..SEASONS {
        season(&mut fared, Truth::drawn, seed);
    }
    println!("truth drawn from the prior, {SEASONS} seasons\n{HEAD}");
    println!("{}", fared.before.line("before learning"));
    println!("{}", fared.rest.line("the rest after three rounds"));
    println!("{}", fared.fresh_by_the_book.line("fresh lots by the book"));
    println!("{}", fared.fresh.line("fresh lots after three rounds"));
    for score in [&fared.before, &fared.rest, &fared.fresh] {
        assert!((0.75..=0.85).contains(&score.coverage()), "{}", score.coverage());
    }
    assert!(fared.fresh.crps < fared.fresh_by_the_book.crps, "learning must not make it worse");
}

#[test]
fn three_rounds_halve_the_error_when_the_truth_is_off_the_prior() {
    let slow = Truth { rate: 0.72, lag: 8.0, never: 0.3, loss: 1.8 };
    let fast = Truth { rate: 1.35, lag: 3.2, never: 0.07, loss: 0.6 };
    println!("truth off the prior\n{HEAD}");
    for (name, truth) in [("slow", slow), ("fast", fast)] {
        let mut fared = Fared::default();
        for seed in 0..60 {
            season(&mut fared, |_| truth, 10_000 + seed);
        }
        println!("{}", fared.fresh_by_the_book.line(&format!("{name}: fresh lots by the book")));
        println!("{}", fared.fresh.line(&format!("{name}: fresh lots after three rounds")));
        let (before, after) = (fared.fresh_by_the_book.error, fared.fresh.error);
        assert!(after <= before / 2.0, "{name}: {after} for {before}");
        assert!(fared.fresh.crps <= fared.fresh_by_the_book.crps / 2.0, "{name}");
    }
}
