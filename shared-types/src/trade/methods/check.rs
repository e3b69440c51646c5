//! What a method's file must keep, beyond its form. The build script runs this over every file and
//! refuses the program with file and line; the tests run it over files that are wrong on purpose.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::value::RawValue;

use super::{Jar, Kind, Mark, Method, Role, Unit};

/// What the other tables know.
#[derive(Debug, Default)]
pub struct Known {
    /// Classes by crop.
    pub crops: BTreeMap<String, BTreeSet<String>>,
    /// Ids of sources.
    pub sources: BTreeSet<String>,
    /// Columns by name of the bands.
    pub columns: BTreeMap<String, usize>,
}

/// What is wrong, and where in the file: a JSON pointer (RFC 6901).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Where.
    pub at: String,
    /// What.
    pub words: String,
}

/// The longest time of the published tables is 100 minutes.
const LONGEST_MINUTES: u32 = 120;
/// A home canner is never set above 15 psi (National Center, equipment not recommended).
const MOST_PSI: u32 = 15;

/// Everything that is wrong with a method, in the order of the file.
pub fn faults(method: &Method, known: &Known) -> Vec<Fault> {
    let mut desk = Desk { known, faults: Vec::new() };
    desk.takes(method);
    desk.sources(method);
    desk.process(method);
    desk.pressure(method);
    desk.amounts(method);
    desk.steps(method);
    if method.kind == Kind::Jar {
        desk.jar(method);
    } else if !(method.process.is_empty() && method.pressure.is_empty()) {
        desk.fault("/kind".into(), "only a jar has process times");
    }
    desk.faults
}

struct Desk<'a> {
    known: &'a Known,
    faults: Vec<Fault>,
}

impl Desk<'_> {
    fn fault(&mut self, at: String, words: impl Into<String>) {
        self.faults.push(Fault { at, words: words.into() });
    }

    fn takes(&mut self, method: &Method) {
        if method.takes.is_empty() && !method.any {
            self.fault("/takes".into(), "takes nothing, and not `any` crop either");
        }
        for (i, takes) in method.takes.iter().enumerate() {
            let Some(classes) = self.known.crops.get(takes.crop.as_str()) else {
                self.fault(format!("/takes/{i}/crop"), format!("no crop `{}`", takes.crop));
                continue;
            };
            for (k, class) in takes.classes.iter().enumerate() {
                if !classes.contains(class.as_str()) {
                    let words = format!("`{}` has no class `{class}`", takes.crop);
                    self.fault(format!("/takes/{i}/classes/{k}"), words);
                }
            }
        }
        for (i, part) in method.ingredients.iter().enumerate() {
            if let Some(crop) = part.crop.as_ref()
                && !self.known.crops.contains_key(crop.as_str())
            {
                self.fault(format!("/ingredients/{i}/crop"), format!("no crop `{crop}`"));
            }
        }
    }

    fn source(&mut self, at: String, id: &str) {
        if !self.known.sources.contains(id) {
            self.fault(at, format!("no source `{id}` in sources.json"));
        }
    }

    fn sources(&mut self, method: &Method) {
        self.source("/times/source".into(), &method.times.source);
        self.source("/steps_from/source".into(), &method.steps_from.source);
        for (name, value) in [
            ("headspace_inches", &method.headspace_inches),
            ("rest_hours", &method.rest_hours),
            ("rest_most_hours", &method.rest_most_hours),
        ] {
            if let Some(value) = value {
                self.source(format!("/{name}/source"), &value.source);
            }
        }
        for (i, row) in method.process.iter().enumerate() {
            for (k, cell) in row.minutes.iter().enumerate() {
                self.source(format!("/process/{i}/minutes/{k}/source"), &cell.source);
            }
        }
        for (i, row) in method.pressure.iter().enumerate() {
            self.source(format!("/pressure/{i}/source"), &row.source);
        }
        for (i, row) in method.yields.iter().enumerate() {
            self.source(format!("/yields/{i}/source"), &row.source);
        }
        for (i, part) in method.ingredients.iter().enumerate() {
            self.source(format!("/ingredients/{i}/source"), &part.source);
        }
        if let Some(base) = &method.base {
            self.source("/base/source".into(), &base.source);
        }
        if let Some(ratio) = &method.dry_ratio {
            self.source("/dry_ratio/source".into(), &ratio.source);
        }
        for (i, said) in method.cautions.iter().enumerate() {
            self.source(format!("/cautions/{i}/source"), &said.source);
        }
        for (i, said) in method.may_change.iter().enumerate() {
            self.source(format!("/may_change/{i}/source"), &said.source);
        }
        for (i, step) in method.steps.iter().enumerate() {
            for (k, said) in step.cautions.iter().enumerate() {
                self.source(format!("/steps/{i}/cautions/{k}/source"), &said.source);
            }
        }
    }

    fn process(&mut self, method: &Method) {
        let mut jars = BTreeSet::new();
        for (i, row) in method.process.iter().enumerate() {
            let at = |rest: &str| format!("/process/{i}/{rest}");
            if row.canner != super::Canner::BoilingWater {
                self.fault(
                    at("canner"),
                    "times are printed for boiling water; steam takes the same",
                );
            }
            if row.jar == Jar::HalfGallon {
                self.fault(at("jar"), "no time is published for a half-gallon");
            }
            if !jars.insert(row.jar) {
                self.fault(at("jar"), "this jar has a row already");
            }
            if !["hot", "raw", "hot or raw"].contains(&row.pack.as_str()) {
                self.fault(at("pack"), "a pack is hot, raw, or hot or raw");
            }
            match self.known.columns.get(&row.bands) {
                None => self.fault(at("bands"), format!("no bands `{}`", row.bands)),
                Some(columns) if *columns != row.minutes.len() => {
                    let words = format!("{columns} bands, {} minutes", row.minutes.len());
                    self.fault(at("minutes"), words);
                }
                Some(_) => {}
            }
            for (k, pair) in row.minutes.windows(2).enumerate() {
                if pair[0].value >= pair[1].value {
                    let at = format!("/process/{i}/minutes/{}/value", k + 1);
                    self.fault(at, "a higher band asks for more minutes than the one below");
                }
            }
            for (k, cell) in row.minutes.iter().enumerate() {
                if !(1..=LONGEST_MINUTES).contains(&cell.value) {
                    let at = format!("/process/{i}/minutes/{k}/value");
                    self.fault(at, format!("minutes are 1 to {LONGEST_MINUTES}"));
                }
                self.printed(format!("/process/{i}/minutes/{k}/mark"), cell.mark);
            }
        }
    }

    /// A time or pressure is read or remembered, never worked out or assumed.
    fn printed(&mut self, at: String, mark: Mark) {
        if !matches!(mark, Mark::V | Mark::V2 | Mark::M) {
            self.fault(at, "a time or pressure is V, V2 or M, never worked out or assumed");
        }
    }

    fn pressure(&mut self, method: &Method) {
        for (i, row) in method.pressure.iter().enumerate() {
            let columns = self.known.columns.get(row.gauge.bands()).copied().unwrap_or(0);
            if columns != row.psi.len() {
                let words = format!("{columns} bands, {} pressures", row.psi.len());
                self.fault(format!("/pressure/{i}/psi"), words);
            }
            let told: Vec<u32> = row.psi.iter().flatten().copied().collect();
            if !told.is_sorted_by(|a, b| a < b) || told.iter().any(|psi| *psi > MOST_PSI) {
                let words = format!("pressures rise with the height, to {MOST_PSI} psi at most");
                self.fault(format!("/pressure/{i}/psi"), words);
            }
            if row.jars.is_empty() || row.jars.contains(&Jar::HalfGallon) {
                self.fault(format!("/pressure/{i}/jars"), "a pint or quart, and no half-gallon");
            }
            if !(1..=LONGEST_MINUTES).contains(&row.minutes) {
                self.fault(format!("/pressure/{i}/minutes"), "no such time is published");
            }
            self.printed(format!("/pressure/{i}/mark"), row.mark);
        }
    }

    fn amounts(&mut self, method: &Method) {
        if let Some(base) = &method.base {
            self.positive("/base/amount".into(), base.amount);
            self.positive("/base/kg".into(), base.kg);
            if (base.unit == Unit::Lb) != (base.kg_mark == Mark::D) {
                let words = "kilograms of pounds are D, of a measure an assumption";
                self.fault("/base/kg_mark".into(), words);
            }
        } else if !method.ingredients.is_empty() {
            self.fault("/ingredients".into(), "amounts need the `base` they are for");
        }
        for (i, part) in method.ingredients.iter().enumerate() {
            self.positive(format!("/ingredients/{i}/amount"), part.amount);
        }
        for (i, row) in method.yields.iter().enumerate() {
            self.positive(format!("/yields/{i}/jars"), row.jars);
            match (row.lb, row.kg) {
                (Some(one), None) | (None, Some(one)) => self.positive(format!("/yields/{i}"), one),
                _ => self.fault(format!("/yields/{i}"), "either `lb` or `kg`"),
            }
        }
        if let Some(ratio) = &method.dry_ratio
            && !(1.0 < ratio.least && ratio.least <= ratio.most)
        {
            self.fault("/dry_ratio".into(), "fresh weighs more than dried: least, then most");
        }
    }

    fn positive(&mut self, at: String, amount: f64) {
        if !(amount.is_finite() && amount > 0.0) {
            self.fault(at, "above nothing");
        }
    }

    fn steps(&mut self, method: &Method) {
        if method.steps.is_empty() {
            self.fault("/steps".into(), "no step");
        }
        for (i, step) in method.steps.iter().enumerate() {
            let minutes = [
                step.setup_minutes,
                step.minutes_per_kg,
                step.attended_minutes,
                step.unattended_minutes,
            ];
            if minutes.iter().any(|minutes| !minutes.is_finite() || *minutes < 0.0) {
                self.fault(format!("/steps/{i}"), "minutes are not below nothing");
            }
            if step.evening_before && !step.rests {
                self.fault(format!("/steps/{i}"), "the evening before only where it `rests`");
            }
        }
        let resting = method.steps.iter().filter(|step| step.rests).count();
        if resting != usize::from(method.rest_hours.is_some()) {
            self.fault("/rest_hours".into(), "one step `rests` for the `rest_hours`");
        }
        if let (Some(least), Some(most)) = (&method.rest_hours, &method.rest_most_hours)
            && least.value > most.value
        {
            self.fault("/rest_most_hours".into(), "less than `rest_hours`");
        }
    }

    fn jar(&mut self, method: &Method) {
        if method.headspace_inches.is_none() {
            self.fault("/headspace_inches".into(), "a jar has a headspace");
        }
        if method.cautions.is_empty() {
            self.fault("/cautions".into(), "a jar has cautions");
        }
        if method.yields.is_empty() {
            self.fault("/yields".into(), "a jar has a yield");
        }
        if method.process.is_empty() && method.pressure.is_empty() {
            self.fault("/process".into(), "a jar is processed");
        }
        let recipe_acid = method.ingredients.iter().any(|part| part.role == Role::Acid);
        if !(method.process.is_empty() || method.acid || recipe_acid) {
            self.fault("/process".into(), "without acid never in boiling water");
        }
        if method.steam && method.process.is_empty() {
            self.fault("/steam".into(), "low in acid: no steam canner");
        }
    }
}

/// The line of the file, from 1, on which a JSON pointer's value begins; that of what holds it
/// where there is no such value.
pub fn line_of(text: &str, pointer: &str) -> usize {
    let mut here = text;
    for step in pointer.split('/').skip(1) {
        let inner = step.parse::<usize>().map_or_else(
            |_| {
                let all = serde_json::from_str::<BTreeMap<String, &RawValue>>(here).ok();
                all.and_then(|all| all.get(step).map(|value| value.get()))
            },
            |index| {
                let all = serde_json::from_str::<Vec<&RawValue>>(here).ok();
                all.and_then(|all| all.get(index).map(|value| value.get()))
            },
        );
        let Some(inner) = inner else { break };
        here = inner;
    }
    // `here` is a part of `text`: a raw value is borrowed from what was read.
    let begins = (here.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
    1 + text.bytes().take(begins).filter(|byte| *byte == b'\n').count()
}

#[cfg(test)]
#[path = "check/tests.rs"]
mod tests;
