//! Methods as the planner sees them, from the table of methods.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::problem::{JarUse, Minutes, Way};
use crate::ids::MethodId;
use crate::trade::methods::{
    self, Confirmed, Jar, Kind, Method, canner_minutes, kg_per_jar, load_jars,
    process_time_confirmed,
};
use crate::units::{Altitude, Grams};

/// Fewer jars are not worth a canner's heat; common practice.
const LEAST_JARS: f64 = 3.0;
/// Less than this is eaten, not frozen or dried; common practice.
const LEAST_PACK: Grams = Grams(500);
/// Jars tried after the household's own, largest first.
const OTHER_JARS: [Jar; 3] = [Jar::Quart, Jar::Pint, Jar::HalfPint];
/// Burners a batch in the canner holds beside the canner's own: one pot; common practice.
const POTS: f64 = 1.0;

/// What the household wants of one method.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Want {
    /// What a kilogram of it is worth, against 1 for a usual jar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weight: Option<f64>,
    /// How much fruit of it is wanted; beyond it a kilogram is worth a fifth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_grams: Option<Grams>,
}

/// A kitchen, as far as the methods depend on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Household {
    /// Height above the sea: process times depend on it.
    pub altitude: Altitude,
    /// The jar the household likes; others are used where no time is published for it.
    pub jar: Jar,
    /// What the household eats fresh in a day.
    pub fresh_a_day: Grams,
    /// What it wants.
    pub wants: BTreeMap<MethodId, Want>,
    /// Rows of methods that the owner has read in a printed guide.
    pub confirmed: Vec<Confirmed>,
}

/// The methods a household may plan with. A jar method is there only when its time for a jar of
/// the household's at its height was seen in a source; compost is not, since what finds no place
/// ends there anyway.
pub fn ways(household: &Household) -> Vec<Way> {
    methods::all()
        .iter()
        .filter(|method| method.planned() || household.wants.contains_key(&method.id))
        .filter_map(|method| way(method, household))
        .collect()
}

/// A kilogram's worth by kind, when the household says nothing: a jar needs no current, frozen food
/// does; what is eaten fresh is soon forgotten; animals would do with grain. This program's order.
const fn usual_weight(kind: Kind) -> f64 {
    match kind {
        Kind::Jar => 1.0,
        Kind::Freeze | Kind::Dry => 0.9,
        Kind::Fresh => 0.8,
        Kind::Feed => 0.1,
        Kind::Compost => 0.0,
    }
}

fn way(method: &Method, household: &Household) -> Option<Way> {
    let (setup, evening_setup) = method.hands_on_minutes(0.0);
    let (one, evening_one) = method.hands_on_minutes(1.0);
    let want = household.wants.get(&method.id);
    let overnight = method.steps.iter().any(|step| step.evening_before);
    let mut way = Way {
        id: method.id.clone(),
        name: Some(method.name.clone()),
        kind: method.kind,
        takes: method.takes.clone(),
        any: method.any,
        least_grams: Grams::ZERO,
        most_grams: None,
        most_a_day_grams: None,
        hands: Minutes { a_batch: setup, a_kg: one - setup, a_load: 0.0 },
        evening: overnight.then_some(Minutes {
            a_batch: evening_setup,
            a_kg: evening_one - evening_setup,
            a_load: 0.0,
        }),
        burners: Minutes::default(),
        jar: None,
        weight: want.and_then(|want| want.weight).unwrap_or(usual_weight(method.kind)),
        wanted_grams: want.and_then(|want| want.wanted_grams),
        weight_beyond: None,
    };
    match method.kind {
        Kind::Jar => fill(&mut way, method, household)?,
        Kind::Freeze | Kind::Dry => way.least_grams = LEAST_PACK,
        Kind::Fresh => way.most_a_day_grams = Some(household.fresh_a_day),
        Kind::Feed => {}
        Kind::Compost => return None,
    }
    Some(way)
}

/// Its jar and its burners: a pot while it cooks, and the canner for each load.
fn fill(way: &mut Way, method: &Method, household: &Household) -> Option<()> {
    let others = OTHER_JARS.into_iter().filter(|jar| *jar != household.jar);
    let mut jars = std::iter::once(household.jar).chain(others);
    let (size, time) = jars.find_map(|jar| {
        let altitude = household.altitude;
        Some((jar, process_time_confirmed(method, jar, altitude, &household.confirmed).ok()?))
    })?;
    let grams = kg_per_jar(method, size)?.plan * 1000.0;
    way.jar = Some(JarUse { size, grams, a_load: load_jars(size) });
    way.least_grams = Grams(libm::ceil(LEAST_JARS * grams) as i64);
    let cooks: f64 =
        method.steps.iter().map(|step| step.attended_minutes + step.unattended_minutes).sum();
    way.burners = Minutes {
        a_batch: POTS * cooks,
        a_kg: 0.0,
        a_load: f64::from(canner_minutes(time.minutes).1),
    };
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::methods::process_time;

    fn household(metres: i64) -> Household {
        Household {
            altitude: Altitude::from_metres(metres),
            jar: Jar::Quart,
            fresh_a_day: Grams(2_000),
            wants: BTreeMap::from([(
                "green-tomato-relish".into(),
                Want { weight: Some(1.5), wanted_grams: Some(Grams(9_000)) },
            )]),
            confirmed: Vec::new(),
        }
    }

    #[test]
    fn every_jar_has_a_published_time_and_compost_is_left_out() {
        let ways = ways(&household(870));
        for way in &ways {
            let method = methods::method(&way.id).expect("a method of the table");
            assert_eq!(way.jar.is_some(), way.kind == Kind::Jar, "{}", way.id);
            if let Some(jar) = way.jar {
                assert!(process_time(method, jar.size, Altitude::from_metres(870)).is_ok());
                assert!(way.least_grams.0 as f64 >= 3.0 * jar.grams);
                assert!(way.burners.a_load > 0.0);
            }
            assert_ne!(way.kind, Kind::Compost);
        }
        assert!(ways.iter().any(|way| way.kind == Kind::Jar));
        assert!(ways.iter().any(|way| way.kind == Kind::Feed && way.any));
    }

    #[test]
    fn wants_replace_the_usual_weight() {
        let ways = ways(&household(0));
        let relish = ways.iter().find(|way| way.id.as_str() == "green-tomato-relish");
        let relish = relish.expect("offered at sea level");
        assert_eq!((relish.weight, relish.wanted_grams), (1.5, Some(Grams(9_000))));
        assert_eq!(relish.jar.expect("a jar").size, Jar::Pint, "no time for quarts is published");
    }

    #[test]
    fn above_the_table_there_is_no_jar() {
        assert!(ways(&household(9_000)).iter().all(|way| way.kind != Kind::Jar));
    }
}
