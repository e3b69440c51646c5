//! A batch written out: jars, times, acid, amounts and steps.

use super::plan::{Batch, BatchFrom, JarCount, PlanStep};
use crate::trade::methods::{
    Ingredient, Jar, Kind, Method, ProcessTime, Unit, acid_for, after_every_jar, canner_minutes,
    headspace_words, kg_per_jar, load_jars, sterile_jar_minutes,
};
use crate::units::{Altitude, Grams, KG_PER_LB};

/// Jars of a batch with their time.
pub(super) struct Jarred {
    pub(super) jar: Jar,
    pub(super) count: u32,
    pub(super) process: ProcessTime,
    pub(super) altitude: Altitude,
}

impl Jarred {
    pub(super) fn loads(&self) -> u32 {
        self.count.div_ceil(load_jars(self.jar).max(1))
    }
}

pub(super) fn write(method: &Method, from: Vec<BatchFrom>, jarred: Option<Jarred>) -> Batch {
    let grams: Grams = from.iter().map(|part| part.grams).sum();
    let (day, evening) = method.hands_on_minutes(grams.kg());
    let evening_before = method.steps.iter().find(|step| step.evening_before).map(|step| {
        let hours = method.rest_hours.as_ref().map_or(0.0, |rest| rest.value);
        format!("The evening before: {} It stands {hours} hours.", step.text)
    });
    let mut cautions = method.cautions.clone();
    if method.kind == Kind::Jar {
        cautions.extend_from_slice(after_every_jar());
    }
    let (source, mark) = jarred.as_ref().map_or_else(
        || (method.steps_from.source.clone(), method.steps_from.mark),
        |jarred| (jarred.process.source.clone(), jarred.process.mark),
    );
    Batch {
        method: method.id.clone(),
        name: method.name.clone(),
        kind: method.kind,
        grams,
        jars: jarred.as_ref().map(|jarred| jar_count(method, jarred, grams)),
        loads: jarred.as_ref().map_or(0, Jarred::loads),
        acid: jarred
            .as_ref()
            .and_then(|jarred| acid_for(method, jarred.jar).ok().flatten())
            .map(|acid| acid.text),
        headspace: method.headspace_inches.as_ref().map(|inches| headspace_words(inches.value)),
        sterile_jar_minutes: jarred
            .as_ref()
            .and_then(|jarred| sterile_jar_minutes(method, jarred.jar, jarred.altitude)),
        ingredients: ingredients(method, grams.kg()),
        steps: steps(method, grams.kg(), jarred.as_ref()),
        hands_on_minutes: whole_minutes(day),
        evening_minutes: whole_minutes(evening),
        cautions,
        source,
        mark,
        evening_before,
        process: jarred.map(|jarred| jarred.process),
        from,
    }
}

/// Minutes are rounded up: a plan must not promise more than a day holds.
pub(super) fn whole_minutes(minutes: f64) -> u32 {
    libm::ceil(minutes.max(0.0)) as u32
}

fn jar_count(method: &Method, jarred: &Jarred, grams: Grams) -> JarCount {
    let count = jarred.count;
    let (fewest, most) = kg_per_jar(method, jarred.jar).map_or((count, count), |per| {
        let jars = |kg_per_jar: f64| libm::floor(grams.kg() / kg_per_jar + 0.01) as u32;
        (jars(per.most).min(count), jars(per.least).max(count))
    });
    JarCount { jar: jarred.jar, count, fewest, most }
}

/// The recipe for so many kilograms. Everything scales alike, so the ratio of vegetables to acid
/// stays what was tested.
fn ingredients(method: &Method, kg: f64) -> Vec<String> {
    let Some(base) = &method.base else { return Vec::new() };
    method.ingredients.iter().map(|part| ingredient(part, kg / base.kg)).collect()
}

fn ingredient(part: &Ingredient, factor: f64) -> String {
    let amount = part.amount * factor;
    let plural = |word: &str| if amount > 1.0 { format!("{word}s") } else { word.to_owned() };
    let (unit, metric) = match part.unit {
        Unit::Lb => ("lb".to_owned(), Some(format!("{:.0} g", amount * KG_PER_LB * 1000.0))),
        Unit::Oz => ("oz".to_owned(), Some(format!("{:.0} g", amount * KG_PER_LB * 1000.0 / 16.0))),
        Unit::Clove => (plural("clove"), None),
        Unit::Piece => ("whole".to_owned(), None),
        Unit::Stick => (plural("stick"), None),
        Unit::Measure(measure) => {
            (plural(measure.word()), Some(format!("{:.0} mL", amount * measure.millilitres())))
        }
    };
    let metric = metric.map_or(String::new(), |metric| format!(" ({metric})"));
    let note = part.note.as_ref().map_or(String::new(), |note| format!(", {note}"));
    format!("{}: {} {unit}{metric}{note}", part.name, two_decimals(amount))
}

fn two_decimals(amount: f64) -> String {
    let text = format!("{amount:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn steps(method: &Method, kg: f64, jarred: Option<&Jarred>) -> Vec<PlanStep> {
    let mut all: Vec<PlanStep> = method
        .steps
        .iter()
        .map(|step| PlanStep {
            text: step.text.clone(),
            hands_on_minutes: whole_minutes(step.setup_minutes + step.minutes_per_kg * kg),
            unattended_minutes: whole_minutes(step.attended_minutes + step.unattended_minutes),
            note: step.evening_before.then(|| "the evening before".to_owned()),
        })
        .collect();
    if let Some(jarred) = jarred {
        let time = &jarred.process;
        let (least, most) = canner_minutes(time.minutes);
        let loads = jarred.loads();
        let steam = if time.steam_canner {
            " A steam canner may do it in the same minutes."
        } else {
            " Not in a steam canner: too long, or not tested."
        };
        let each =
            if loads > 1 { format!(" {loads} loads, one after the other.") } else { String::new() };
        all.push(PlanStep {
            text: format!(
                "Process {} minutes at a full boil, water an inch over the lids ({}). With heating up and waiting {least} to {most} minutes a load.{each}{steam}",
                time.minutes, time.band_text
            ),
            hands_on_minutes: 0,
            unattended_minutes: most * loads,
            note: Some("stay near; if the boil stops, start the time again".to_owned()),
        });
    }
    all
}
