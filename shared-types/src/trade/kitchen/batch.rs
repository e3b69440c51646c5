//! A batch written out: jars, times, acid, amounts and steps.

use super::plan::{Batch, BatchFrom, JarCount};
use crate::trade::methods::card::{CardStep, System, parts, work_steps};
use crate::trade::methods::{
    Ask, Canner, Jar, Kind, Method, Offer, ProcessTime, acid_for, after_every_jar, headspace_words,
    kg_per_jar, load_jars, load_minutes, offer, sterile_jar_minutes,
};
use crate::units::{Altitude, Grams};

/// Jars of a batch with their time.
pub(super) struct Jarred {
    pub(super) jar: Jar,
    pub(super) count: u32,
    pub(super) process: ProcessTime,
    pub(super) altitude: Altitude,
}

impl Jarred {
    /// All that makes these jars safe.
    fn offer(&self, method: &Method) -> Option<Offer> {
        let confirmed: Vec<_> = self.process.confirmed.iter().cloned().collect();
        let (jar, altitude) = (self.jar, self.altitude);
        let canner = Canner::BoilingWater;
        offer(method, Ask { jar, altitude, canner, confirmed: &confirmed }).ok()
    }

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

/// The recipe for so many kilograms, in cups and in metric. Everything scales alike and rounds to
/// the safe side, so the ratio of vegetables to acid stays at least what was tested.
fn ingredients(method: &Method, kg: f64) -> Vec<String> {
    let Some(base) = &method.base else { return Vec::new() };
    let of = |system| parts(method, kg / base.kg, system);
    of(System::Cups)
        .into_iter()
        .zip(of(System::Metric))
        // The main crop stands among what the batch is made from.
        .skip(1)
        .map(|(cups, metric)| {
            let same = cups.text == metric.text;
            let metric = if same { String::new() } else { format!(" ({})", metric.text) };
            let note = cups.note.map_or(String::new(), |note| format!(", {note}"));
            format!("{}: {}{metric}{note}", cups.name, cups.text)
        })
        .collect()
}

/// The steps up to the last jar out of the canner, in minutes from the begin of the day's work.
fn steps(method: &Method, kg: f64, jarred: Option<&Jarred>) -> Vec<CardStep> {
    let loaded = jarred.and_then(|jarred| {
        let offer = jarred.offer(method)?;
        let minutes = load_minutes(offer.canner, offer.minutes);
        Some((offer, minutes, jarred.loads()))
    });
    work_steps(method, kg, loaded.as_ref().map(|(offer, minutes, n)| (offer, *minutes, *n)))
}
