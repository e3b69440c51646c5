//! What was learned, in words.

use super::super::table::model;
use super::super::{days_to_ripe, table};
use super::learned::LearnedVariety;
use crate::trade::crops;

/// The temperature in whose days a variety is told to be behind or ahead.
const ROOM_CELSIUS: f64 = 20.0;

/// Days that the middle colouring fruit and the middle unsorted green fruit take at 20 °C by these
/// figures; nothing of a crop that has none.
pub(super) fn middle_days(
    crop: &crate::ids::CropId,
    rate: f64,
    lag: f64,
) -> Option<(f64, Option<f64>)> {
    let crop = crops::crop(crop)?;
    let model: &table::Model = model(crop.model.as_deref()?)?;
    let middle = (model.colouring.from + model.colouring.to) / 2.0;
    let colouring = days_to_ripe(model, middle, ROOM_CELSIUS) / rate;
    let green = model.green.then(|| (lag + days_to_ripe(model, 1.0, ROOM_CELSIUS)) / rate);
    Some((colouring, green))
}

impl LearnedVariety {
    /// One to three sentences: "Paste tomatoes run 3 days behind the book (green) …".
    /// `name` is the variety's for the screen.
    pub fn words(&self, name: &str) -> String {
        let mut all = vec![self.speed(name)];
        if let Some(never) = self.never
            && (never.after.median / never.before.median - 1.0).abs() >= 0.2
        {
            all.push(format!(
                "About {:.0} % of the green ones never ripen; the book says {:.0} %.",
                100.0 * never.after.median,
                100.0 * never.before.median
            ));
        }
        let loss = self.loss.after.median / self.loss.before.median;
        if loss >= 1.25 {
            all.push(format!("They dry and rot {loss:.1} times as fast."));
        } else if loss <= 0.8 {
            all.push(format!("They dry and rot {loss:.1} times as fast, so they keep better."));
        }
        let (lots, rounds) = (self.lots, self.rounds);
        let s = |n: usize| if n == 1 { "" } else { "s" };
        all.push(format!("From {rounds} round{} of {lots} lot{}.", s(rounds), s(lots)));
        all.join(" ")
    }

    fn speed(&self, name: &str) -> String {
        let told = |days: f64| {
            let whole = libm::round(days.abs());
            let s = if whole < 1.5 { "" } else { "s" };
            let way = if days > 0.0 { "behind" } else { "ahead of" };
            (whole >= 1.0).then(|| format!("{whole:.0} day{s} {way}"))
        };
        match (told(self.colouring_behind), self.green_behind.and_then(told)) {
            (None, None) => format!("{name} ripens as the book says, to within a day."),
            (Some(colouring), None) => format!("{name} runs {colouring} the book when colouring."),
            (None, Some(green)) => {
                format!("{name} runs {green} the book when green, and by the book when colouring.")
            }
            (Some(colouring), Some(green)) => {
                format!("{name} runs {green} the book when green, {colouring} it when colouring.")
            }
        }
    }
}
