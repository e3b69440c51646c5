//! The reason of a lot's forecast, in words.

use super::lot::{LotForecast, LotInput};
use super::table::model;
use crate::trade::crops::{Class, Crop, Stage};
use crate::trade::provenance::cite;
use crate::units::Day;

pub(super) fn of(lot: &LotInput, crop: Option<&Crop>, told: &LotForecast, today: Day) -> String {
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
        what(class, lot.stage),
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
    why.push_str(match (class.fill > 0.0, lot.stage) {
        (_, Some(_)) => ", for fruit sorted by stage.",
        (true, None) => ", evenly from the first break of colour on.",
        (false, None) => {
            ", after a wait until colour breaks that differs from fruit to fruit; some of it never ripens."
        }
    });
    why
}

fn what(class: &Class, stage: Option<Stage>) -> String {
    match stage {
        Some(Stage::Green) => "mature green".to_owned(),
        Some(stage) => stage.words().to_owned(),
        None => class.name.to_lowercase(),
    }
}
