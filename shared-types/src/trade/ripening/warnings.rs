//! What to look out for in a room, each with where it was read.

use serde::{Deserialize, Serialize};

use super::lot::LotInput;
use super::room::RoomDays;
use super::table::{model, tables};
use crate::trade::crops::{Crop, Ripens};
use crate::units::{Day, Grams};

/// A caution about a lot where it stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Warning {
    /// What kind, for a picture beside it.
    pub kind: WarningKind,
    /// What is wrong and what to do.
    pub text: String,
    /// Id of the source.
    pub source: String,
}

/// Kinds of caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WarningKind {
    /// Green fruit too cold for too long.
    Chilling,
    /// Too hot to turn red.
    TooHot,
    /// Colder or warmer than the published table: the dates are a guess.
    OutsideTable,
    /// Ripe fruit warmer than it keeps.
    KeepsBadly,
    /// Waiting will not ripen it.
    DoesNotRipen,
}

/// Days that green tomatoes bear a temperature before they are spoilt, cumulative.
///
/// Published: more than 14 days at 10 °C, more than 6 to 8 at 5 °C. Between and below, ln(days)
/// is linear in temperature; from 10 to 12.5 °C the 14 days hold. `None` from 12.5 °C up.
pub fn chill_limit_days(celsius: f64) -> Option<f64> {
    let limits = &tables().limits;
    if celsius >= limits.chill_below_celsius.value {
        return None;
    }
    let (at_10, at_5) = (limits.chill_10c_days.value, limits.chill_5c_days.value);
    let w = ((10.0 - celsius) / 5.0).clamp(0.0, 2.0);
    Some(libm::exp(libm::log(at_10) + w * (libm::log(at_5) - libm::log(at_10))))
}

pub(super) fn of(
    lot: &LotInput,
    crop: Option<&Crop>,
    room: Option<&RoomDays>,
    ready: Grams,
    today: Day,
    days: usize,
) -> Vec<Warning> {
    let mut all = Vec::new();
    let Some(crop) = crop else { return all };
    let Some(class) = crop.class(&lot.class) else { return all };
    let limits = &tables().limits;
    let last = today.plus(days as i32 - 1);
    let model = crop.model.as_deref().and_then(model);
    let (Some(model), true) = (model, class.ripens || (class.ready && class.fill >= 1.0)) else {
        if crop.off_vine.ripens != Ripens::Yes {
            let off = &crop.off_vine;
            all.push(Warning {
                kind: WarningKind::DoesNotRipen,
                text: off.words.clone(),
                source: off.source.clone(),
            });
        }
        return all;
    };
    let Some(room) = room else { return all };
    let from = today.max(lot.picked);
    let ahead = || (0..=last.since(from).max(0)).map(|i| from.plus(i));
    if let Some(day) = ahead().find(|day| room.celsius(*day).high > limits.hot_celsius.value) {
        all.push(Warning {
            kind: WarningKind::TooHot,
            text: format!(
                "{:.1} °C on {day}: above {} °C fruit turns yellow or orange, not red. Move it somewhere cooler; 20 to 25 °C is best.",
                room.celsius(day).high, limits.hot_celsius.value
            ),
            source: limits.hot_celsius.source.clone(),
        });
    }
    if class.ripens && class.fill <= 0.0 {
        all.extend(chilling(lot, room, today, last));
    }
    let (cold, warm) = model.celsius();
    let outside = |day: Day| {
        let celsius = room.celsius(day);
        if celsius.low < cold {
            Some(celsius.low)
        } else {
            Some(celsius.high).filter(|t| *t > warm)
        }
    };
    if class.ripens
        && let Some((day, celsius)) = ahead().find_map(|day| Some((day, outside(day)?)))
    {
        all.push(Warning {
            kind: WarningKind::OutsideTable,
            text: format!(
                "{celsius:.1} °C on {day} lies outside the published {cold} to {warm} °C: its dates are a guess. Below about 10 °C ripening nearly stops; above {warm} °C it is taken to go no faster."
            ),
            source: tables().below_table.activation_kj_per_mol.source.clone(),
        });
    }
    let now = room.celsius(today).mean;
    if model.green && ready > Grams::ZERO && now > limits.ripe_cool_celsius.value {
        all.push(Warning {
            kind: WarningKind::KeepsBadly,
            text: format!(
                "Ripe fruit keeps {} at {now:.1} °C; at 10 to {} °C it keeps {}. Use it, or move what is ripe somewhere cooler.",
                limits.ripe_warm_days.value, limits.ripe_cool_celsius.value, limits.ripe_cool_days.value
            ),
            source: limits.ripe_warm_days.source.clone(),
        });
    }
    all
}

/// Cumulative chill: ∫ dt/limit(T) while it is below 12.5 °C; harm is due when it reaches 1.
fn chilling(lot: &LotInput, room: &RoomDays, today: Day, last: Day) -> Option<Warning> {
    let limits = &tables().limits;
    // A sum of fourteen fourteenths must count as one.
    if room.chill(lot.picked, last) < 1.0 - 1e-9 {
        return None;
    }
    let days = || (1..=last.since(lot.picked).max(0)).map(|i| lot.picked.plus(i));
    let due = days().find(|day| room.chill(lot.picked, *day) > 1.0 - 1e-9);
    let cold = |day: &Day| *day <= today && room.chill(day.plus(-1), *day) > 0.0;
    let cold_days = days().filter(cold).count();
    let bears = format!(
        "green fruit bears {} days at 10 °C, {} to 8 at 5 °C, all cold days counted together",
        limits.chill_10c_days.value, limits.chill_5c_days.value
    );
    let text = match due {
        Some(day) if day <= today => format!(
            "Chilled: {cold_days} days with hours below {} °C since picking; {bears}. Expect poor colour and rot: use it green now.",
            limits.chill_below_celsius.value
        ),
        Some(day) => format!(
            "Too cold for green fruit: here it will be chilled by {day}; {bears}. Move it to 12.5 to 21 °C before then."
        ),
        None => return None,
    };
    Some(Warning {
        kind: WarningKind::Chilling,
        text,
        source: limits.chill_10c_days.source.clone(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cold_is_borne_as_published() {
        // Utah State Vegetable Guide: 2 weeks at 50 °F, 6 to 8 days at 41 °F.
        let days = |t| chill_limit_days(t).expect("is cold");
        assert!((days(10.0) - 14.0).abs() < 1e-9);
        assert!((days(5.0) - 6.0).abs() < 1e-9);
        assert!((days(12.0) - 14.0).abs() < 1e-9);
        assert!(days(7.0) > 6.0 && days(7.0) < 14.0);
        assert!(days(1.0) < 6.0);
        assert_eq!(chill_limit_days(12.5), None);
    }
}
