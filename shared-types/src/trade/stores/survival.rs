//! How a store holds out, from own rounds, against the book.
//!
//! ```text
//! S(t)  = Π (1 − d_i/n_i)                         Kaplan and Meier 1958
//! V(t)  = S² · Σ d_i / (n_i (n_i − d_i))          Greenwood
//! n'    = S · (1 − S) / V                         effective count (Cutler and Ederer 1958)
//! range = Clopper and Pearson's of S · n' in n'   exact, so that four fruits stay four fruits
//! ```
//!
//! What is eaten sound leaves the count without a loss (censored). While nothing is lost, and once
//! all is, V is nothing and the count that came in takes the place of n'.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::table::tables;
use crate::trade::provenance::Mark;
use crate::trade::shares::{LEVEL, clopper_pearson};

/// One round over a kind in store.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Look {
    /// Days since it came in.
    pub day: u32,
    /// Found soft or rotten in this round.
    pub lost: u32,
    /// Taken out sound since the round before, this one included.
    #[serde(default)]
    pub taken: u32,
}

/// The share still sound after a round.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// Days since it came in.
    pub day: u32,
    /// Fruits looked at in that round.
    pub at_risk: u32,
    /// Share still sound.
    pub sound: f64,
    /// Its standard error by Greenwood.
    pub error: f64,
    /// Lower end, 95 %.
    pub from: f64,
    /// Upper end, 95 %.
    pub to: f64,
    /// The book's share; none where the book has no curve, or ends before.
    pub book: Option<f64>,
}

/// What own rounds say against the book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Against {
    /// The whole range lies above it.
    Better,
    /// The whole range lies below it.
    Worse,
    /// The book lies within the range.
    NotEnoughToSay,
    /// There is no book for it, or no round within it.
    NoBook,
}

/// A survival curve.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Survival {
    /// One point per round.
    pub points: Vec<Point>,
    /// By the last round that the book reaches to.
    pub against: Against,
    /// In a sentence.
    pub words: String,
}

/// The book's curve, for squash at 10 to 15 °C.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BookCurve {
    /// The rooms of the trial, °C.
    pub celsius: [f64; 2],
    /// Marketable share after so many weeks.
    pub points: Vec<BookPoint>,
    /// Crops it is held against.
    pub crops: Vec<String>,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What it is.
    pub note: String,
}

/// A point of the book's curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BookPoint {
    /// Weeks in store.
    pub weeks: u32,
    /// Share marketable, %.
    pub percent: f64,
}

/// The book's curve.
pub fn book_curve() -> &'static BookCurve {
    &tables().book_curve
}

impl BookCurve {
    /// The share after `days`, straight between the points and from all at the start; none beyond
    /// the last one.
    pub fn sound(&self, days: u32) -> Option<f64> {
        let mut before = (0.0, 1.0);
        for point in &self.points {
            let here = (f64::from(point.weeks * 7), point.percent / 100.0);
            if f64::from(days) <= here.0 {
                let along = (f64::from(days) - before.0) / (here.0 - before.0);
                return Some(before.1 + (here.1 - before.1) * along);
            }
            before = here;
        }
        None
    }
}

/// Rounds that cannot be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum SurvivalError {
    /// Nothing in store.
    #[error("a store of no fruits has no curve: give how many came in")]
    Empty,
    /// Out of order.
    #[error("the round of day {0} stands after a later one: give rounds in order of day")]
    Order(u32),
    /// More out than in.
    #[error("by day {day} more fruits were lost and taken than the {count} that came in")]
    TooMany {
        /// The round.
        day: u32,
        /// How many came in.
        count: u32,
    },
}

/// The curve of `count` fruits of `crop` over rounds in order of day.
///
/// # Errors
/// Without fruits, with rounds out of order, or with more taken out than came in.
pub fn survival(crop: &str, count: u32, looks: &[Look]) -> Result<Survival, SurvivalError> {
    if count == 0 {
        return Err(SurvivalError::Empty);
    }
    let book = book_curve();
    let book = book.crops.iter().any(|of| of == crop).then_some(book);
    let (mut left, mut sound, mut greenwood, mut lost_in_all) = (count, 1.0_f64, 0.0_f64, 0);
    let mut last_day = 0;
    let mut points = Vec::with_capacity(looks.len());
    for look in looks {
        if look.day < last_day {
            return Err(SurvivalError::Order(look.day));
        }
        last_day = look.day;
        let too_many = SurvivalError::TooMany { day: look.day, count };
        let out = look.lost.checked_add(look.taken).ok_or(too_many)?;
        if out > left {
            return Err(too_many);
        }
        let (n, d) = (f64::from(left), f64::from(look.lost));
        if look.lost > 0 {
            sound *= 1.0 - d / n;
            greenwood += if look.lost < left { d / (n * (n - d)) } else { 0.0 };
        }
        lost_in_all += look.lost;
        let (from, to) = range(sound, greenwood, count, lost_in_all);
        points.push(Point {
            day: look.day,
            at_risk: left,
            sound: rounded(sound),
            error: rounded(sound * libm::sqrt(greenwood)),
            from: rounded(from),
            to: rounded(to),
            book: book.and_then(|book| book.sound(look.day)).map(rounded),
        });
        left -= out;
    }
    let (against, words) = compared(&points);
    Ok(Survival { points, against, words })
}

fn range(sound: f64, greenwood: f64, count: u32, lost: u32) -> (f64, f64) {
    let n = f64::from(count);
    if lost == 0 {
        clopper_pearson(n, n, LEVEL)
    } else if sound <= 0.0 {
        clopper_pearson(0.0, n, LEVEL)
    } else {
        // V = S² · Σ, so n' = (1 − S) / (S · Σ).
        let effective = (1.0 - sound) / (sound * greenwood);
        clopper_pearson(sound * effective, effective, LEVEL)
    }
}

fn compared(points: &[Point]) -> (Against, String) {
    let last = points.iter().rev().find_map(|point| Some((point, point.book?)));
    let Some((point, book)) = last else {
        return (Against::NoBook, "no curve of the book to hold this against".to_owned());
    };
    let told = format!(
        "after {} days {:.0} % are sound ({:.0} to {:.0} %), in the book {:.0} %",
        point.day,
        point.sound * 100.0,
        point.from * 100.0,
        point.to * 100.0,
        book * 100.0
    );
    if point.from > book {
        (Against::Better, format!("{told}: yours keep better"))
    } else if point.to < book {
        (Against::Worse, format!("{told}: yours keep worse"))
    } else {
        (Against::NotEnoughToSay, format!("{told}: not enough to say that they differ"))
    }
}

fn rounded(value: f64) -> f64 {
    libm::round(value * 1e6) / 1e6
}
