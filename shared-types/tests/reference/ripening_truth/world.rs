//! A truth to forecast: fruit by fruit, a quarter of a day at a time. It shares nothing with the
//! model but the published table and the documented priors.

use shared_types::trade::ripening::{HumidityPermille, LotInput, RoomClimate, RoundSeen};
use shared_types::units::{Day, Grams, MilliCelsius};

use super::super::ripening::{CELSIUS, TABLE};
use super::dice::Dice;

/// What the variety is really like.
#[derive(Clone, Copy, Debug)]
pub struct Truth {
    pub rate: f64,
    pub lag: f64,
    pub never: f64,
    pub loss: f64,
}

impl Truth {
    /// Drawn from the priors of `ripening.json`.
    pub fn drawn(dice: &mut Dice) -> Self {
        let logit = (0.15_f64 / 0.85).ln() + 0.5 * dice.normal();
        Self {
            rate: (0.15 * dice.normal()).exp(),
            lag: 5.0 * (0.25 * dice.normal()).exp(),
            never: 1.0 / (1.0 + (-logit).exp()),
            loss: (0.4 * dice.normal()).exp(),
        }
    }
}

/// Steps of a day.
const STEPS: i32 = 4;
/// Grams of a tomato, as the crop table has it.
const FRUIT: f64 = 110.0;

#[derive(Clone, Debug)]
struct Fruit {
    grams: f64,
    /// Days at 20 °C still to wait before it breaks colour.
    lag: f64,
    /// 1 breakers to 4 red.
    position: f64,
    never: bool,
    rotten: bool,
    gone: bool,
    /// Evening on which it turned ripe, and its grams then.
    turned: Option<(i32, f64)>,
}

/// One lot in a room whose temperature differs from day to day.
#[derive(Clone, Debug)]
pub struct World {
    truth: Truth,
    fruit: Vec<Fruit>,
    celsius: Vec<f64>,
    humidity: f64,
    /// The evening it is.
    now: i32,
    picked: Day,
    class: &'static str,
    weighed: Grams,
    rounds: Vec<RoundSeen>,
}

/// ln days at a temperature, straight between columns, by Arrhenius (189 kJ/mol) below them.
fn days_at(row: &[f64; 6], celsius: f64) -> f64 {
    if celsius < CELSIUS[0] {
        let kelvin = |t: f64| t + 273.15;
        let slower = 189.0 / 0.008_314_462_618 * (1.0 / kelvin(celsius) - 1.0 / kelvin(12.5));
        return row[0] * slower.exp();
    }
    let i = CELSIUS.iter().rposition(|column| *column <= celsius).expect("is above").min(4);
    let w = (celsius.min(25.0) - CELSIUS[i]) / 2.5;
    (row[i].ln() * (1.0 - w) + row[i + 1].ln() * w).exp()
}

/// Days that a segment takes: the difference of two rows.
fn segment_days(segment: usize, celsius: f64) -> f64 {
    let row = |i: usize| TABLE.get(i).map_or([0.0; 6], |row| row.1);
    let (from, to) = (row(segment), row(segment + 1));
    days_at(&std::array::from_fn(|i| from[i] - to[i]), celsius)
}

impl World {
    pub fn new(truth: Truth, class: &'static str, kg: f64, picked: Day, dice: &mut Dice) -> Self {
        // Fruit of one lot are alike beyond chance: all a little riper, or a little less so.
        let (shift, lag_shift) = (0.2 * dice.normal(), (0.1 * dice.normal()).exp());
        let mut fruit = Vec::new();
        let mut sum = 0.0;
        while sum < 1000.0 * kg {
            let grams = FRUIT * (0.25 * dice.normal() - 0.031).exp();
            sum += grams;
            let green = class == "green";
            let position =
                if green { 1.0 } else { (dice.between(1.0, 4.0) + shift).clamp(0.6, 3.99) };
            let lag = if green { truth.lag * lag_shift * (0.6 * dice.normal()).exp() } else { 0.0 };
            let never = green && dice.chance(truth.never);
            let (rotten, gone, turned) = (false, false, None);
            fruit.push(Fruit { grams, lag, position, never, rotten, gone, turned });
        }
        let usual = dice.between(14.0, 22.0);
        let mut celsius = vec![usual];
        for day in 1..80 {
            let last = celsius[day - 1];
            let next: f64 = usual + 0.7 * (last - usual) + 1.5 * dice.normal();
            celsius.push(next.clamp(11.0, 25.0));
        }
        let weighed = scale(sum, dice);
        let humidity = dice.between(60.0, 90.0).round();
        Self {
            truth,
            fruit,
            celsius: celsius.iter().map(|t| (t * 10.0).round() / 10.0).collect(),
            humidity,
            now: 0,
            picked,
            class,
            weighed,
            rounds: Vec::new(),
        }
    }

    /// What the keeper of the book knows of it.
    pub fn told(&self) -> LotInput {
        let day = |i: usize| self.picked.plus(i as i32);
        let steps = self.celsius.iter().enumerate();
        let steps = steps.map(|(i, t)| (day(i), MilliCelsius((t * 1000.0).round() as i32)));
        let mut room = RoomClimate::steps(steps.collect()).expect("has steps");
        room.humidity = Some(HumidityPermille((self.humidity * 10.0) as u16));
        let mut lot =
            LotInput::picked("tomato".into(), self.class.into(), self.weighed, self.picked, room);
        lot.rounds.clone_from(&self.rounds);
        lot
    }

    /// Lives on to an evening.
    pub fn until(&mut self, evening: i32, dice: &mut Dice) {
        while self.now < evening {
            let celsius = self.celsius[self.now as usize + 1];
            self.now += 1;
            for _ in 0..STEPS {
                self.step(celsius, dice);
            }
        }
    }

    fn step(&mut self, celsius: f64, dice: &mut Dice) {
        let dt = 1.0 / f64::from(STEPS);
        let saturated = 0.6108 * (17.27 * celsius / (celsius + 237.3)).exp();
        let dries = 0.012 * saturated * (1.0 - self.humidity / 100.0) * self.truth.loss;
        let rots = 0.0062 * 2f64.powf((celsius - 12.0) / 10.0) * self.truth.loss;
        let lag_rate = self.truth.rate * 10.0 / days_at(&TABLE[0].1, celsius);
        let rates: [f64; 4] = std::array::from_fn(|s| self.truth.rate / segment_days(s, celsius));
        for fruit in self.fruit.iter_mut().filter(|fruit| !fruit.gone && !fruit.rotten) {
            fruit.grams *= (-dries * dt).exp();
            if dice.chance(rots * dt) {
                fruit.rotten = true;
                continue;
            }
            if fruit.never || fruit.turned.is_some() {
                continue;
            }
            let mut left = dt;
            // The lag ends with the segment before breakers, which runs at its own rate; at 20 °C
            // it is the lag's last two days.
            if fruit.lag > 2.0 {
                let waits = ((fruit.lag - 2.0) / lag_rate).min(left);
                fruit.lag -= waits * lag_rate;
                left -= waits;
            }
            if fruit.lag > 0.0 && left > 0.0 {
                let needs = fruit.lag / 2.0 / rates[0];
                let spends = needs.min(left);
                fruit.lag -= spends * rates[0] * 2.0;
                left -= spends;
                if fruit.lag < 1e-9 {
                    fruit.lag = 0.0;
                }
            }
            while left > 1e-12 && fruit.lag <= 0.0 && fruit.position < 4.0 {
                let segment = fruit.position as usize;
                let needs = ((segment + 1) as f64 - fruit.position) / rates[segment];
                if needs <= left {
                    fruit.position = (segment + 1) as f64;
                    left -= needs;
                } else {
                    fruit.position += left * rates[segment];
                    left = 0.0;
                }
            }
            if fruit.position >= 4.0 {
                fruit.turned = Some((self.now, fruit.grams));
            }
        }
    }

    /// A round this evening: ripe fruit is taken out, now and then one overlooked or taken too
    /// early; what has rotted is thrown; sometimes the rest is weighed.
    pub fn round(&mut self, dice: &mut Dice) {
        let (mut ripe, mut lost) = (0.0, 0.0);
        for fruit in self.fruit.iter_mut().filter(|fruit| !fruit.gone) {
            if fruit.rotten {
                // Half of its weight has run out of it.
                lost += 0.9 * fruit.grams;
                fruit.gone = true;
            } else if dice.chance(if fruit.turned.is_some() { 0.97 } else { 0.005 }) {
                ripe += fruit.grams;
                fruit.gone = true;
            }
        }
        let rest: f64 =
            self.fruit.iter().filter(|fruit| !fruit.gone).map(|fruit| fruit.grams).sum();
        let left = dice.chance(0.5).then(|| scale(rest, dice));
        let day = self.picked.plus(self.now);
        self.rounds.push(RoundSeen { day, ripe: scale(ripe, dice), lost: scale(lost, dice), left });
    }

    /// Grams that turned ripe after the evening `from` and by `to`, each as it weighed then.
    pub fn ripened(&self, from: i32, to: i32) -> f64 {
        let turned = self.fruit.iter().filter_map(|fruit| fruit.turned);
        turned.filter(|(at, _)| *at > from && *at <= to).map(|(_, grams)| grams).sum()
    }

    pub fn weighed(&self) -> Grams {
        self.weighed
    }
}

/// A scale: one part in a hundred, and it shows tens of grams.
fn scale(grams: f64, dice: &mut Dice) -> Grams {
    let read = grams * (1.0 + 0.01 * dice.normal());
    Grams(((read / 10.0).round() * 10.0).max(0.0) as i64)
}
