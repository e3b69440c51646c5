//! The reason of a lot's forecast, in words.

use super::lot::{LotForecast, LotInput};
use super::table::model;
use crate::trade::crops::{Class, Crop, Stage};
use crate::trade::provenance::cite;
use crate::units::Day;

pub(super) fn of(
    lot: &LotInput,
    crop: Option<&Crop>,
    told: &LotForecast,
    today: Day,
    days: usize,
) -> String {
    let Some(crop) = crop else {
        return format!(
            "`{}` is not in the crop table, so nothing is said of its ripening.",
            lot.crop
        );
    };
    let Some(class) = crop.class(&lot.class) else {
        return format!(
            "{} has no class `{}`, so nothing is said of its ripening.",
            crop.name, lot.class
        );
    };
    let Some(model) = crop.model.as_deref().and_then(model) else {
        return format!("{} ({}.)", crop.off_vine.words, cite(&crop.off_vine.source));
    };
    if class.ready && class.fill >= 1.0 {
        return format!(
            "Ripe when it was picked on {}; weight is what drying and rot have left.",
            lot.picked
        );
    }
    if !class.ripens {
        return if class.ready {
            format!("{} ({}.)", crop.off_vine.words, cite(&crop.off_vine.source))
        } else {
            format!("Nothing is said of {} fruit: sort it by eye.", class.name.to_lowercase())
        };
    }
    let mut why = format!(
        "{:.1} kg {} of {}, at {:.1} °C today",
        told.today.start.kg(),
        what(class, lot),
        lot.seen().last().map_or(lot.weighed(), |round| round.day),
        lot.room.celsius_on(today)
    );
    match (told.from, told.to) {
        (Some(from), Some(to)) => {
            why.push_str(&format!(": a tenth of what ripens by {from}, nine tenths by {to}."));
        }
        (Some(from), None) => {
            why.push_str(&format!(
                ": a tenth of what ripens by {from}, the rest not within a year."
            ));
        }
        _ => why.push_str(": hardly ripens in a room this cold."),
    }
    why.push_str(&format!(" By {}", model.words));
    let by_stage = lot.stage.is_some() || !lot.stages.is_empty();
    why.push_str(match (class.fill > 0.0, by_stage) {
        (_, true) => ", for fruit sorted by stage.",
        (true, false) => ", evenly from the first break of colour on.",
        (false, false) => {
            ", after a wait until colour breaks that differs from fruit to fruit; some of it never ripens."
        }
    });
    let silent = lot.room.gaps(lot.picked, today.plus(days as i32 - 1));
    if let Some(gap) = silent.iter().find(|gap| gap.from <= today) {
        let more = match silent.iter().filter(|gap| gap.from <= today).count() {
            1 => String::new(),
            n => format!(" and {} more times", n - 1),
        };
        why.push_str(&format!(
            " The thermometer was silent from {} to {}{more}: there the room's setting is reckoned with.",
            gap.from,
            gap.to.min(today)
        ));
    }
    why
}

fn what(class: &Class, lot: &LotInput) -> String {
    if !lot.stages.is_empty() {
        let words: Vec<&str> = lot.stages.keys().map(|stage| stage.words()).collect();
        return words.join(", ");
    }
    match lot.stage {
        Some(Stage::Green) => "mature green".to_owned(),
        Some(stage) => stage.words().to_owned(),
        None => class.name.to_lowercase(),
    }
}
