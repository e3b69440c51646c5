//! A batch of the plan as a card to cook from.

use shared_types::ids::ClassId;
use shared_types::trade::kitchen::Batch;
use shared_types::trade::methods::{Acid, AcidChoice, Jar, Kind, acid_for, method};
use shared_types::trade::provenance::cite;
use shared_types::units::{Altitude, Grams, Measure, WeightUnit};

use super::asides::by_label;
use super::sources::sources;
use crate::words;

/// What a card says beside its steps.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe {
    /// The numbers that make a jar safe; none for what is no jar.
    pub figures: Vec<Figure>,
    /// The rest of the recipe, scaled.
    pub ingredients: Vec<String>,
    /// What to mind, each with where it was read.
    pub cautions: Vec<(String, String)>,
    /// Where the numbers were read.
    pub sources: Vec<String>,
    /// Whether it goes on a shelf.
    pub jar: bool,
}

/// A number to read from across the counter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// What it is.
    pub name: &'static str,
    /// The number.
    pub number: String,
    /// Of what, and what else holds.
    pub words: String,
}

/// Writes out one batch.
pub fn recipe(batch: &Batch, altitude: Altitude) -> Recipe {
    let jar = batch.jars.map(|jars| jars.jar);
    let acid = jar.and_then(|jar| acid_for(method(&batch.method)?, jar).ok().flatten());
    Recipe {
        figures: figures(batch, altitude, acid.as_ref()),
        ingredients: batch.ingredients.clone(),
        cautions: batch
            .cautions
            .iter()
            .map(|said| (said.text.clone(), cite(&said.source)))
            .collect(),
        sources: sources(batch, acid.as_ref()),
        jar: batch.kind == Kind::Jar,
    }
}

/// What goes in and what it is fit for.
pub fn tags(batch: &Batch, unit: WeightUnit) -> Vec<String> {
    let mut tags = by_label(batch.from.iter().map(|f| (f.label.as_str(), f.grams)), unit);
    if batch.kind == Kind::Jar {
        tags.push("fit for jars".to_owned());
    }
    tags
}

/// `Tomato sauce, thin: 3 quarts`.
pub fn title(batch: &Batch) -> String {
    match made(batch) {
        Some(made) => format!("{}: {made}", batch.name),
        None => batch.name.clone(),
    }
}

/// What comes out, where it can be counted: `3 quarts`.
pub fn made(batch: &Batch) -> Option<String> {
    batch.jars.map(|jars| jars_words(jars.count, jars.jar))
}

fn jars_words(count: u32, jar: Jar) -> String {
    words::count(usize::try_from(count).unwrap_or(usize::MAX), jar.words())
}

/// The colour of the stylesheet for a batch: that of the fruit it is made for.
pub fn tone(batch: &Batch) -> &'static str {
    let Some(method) = method(&batch.method) else { return "" };
    let takes = |class: &ClassId| method.takes.first().is_some_and(|t| t.classes.contains(class));
    match batch.kind {
        Kind::Feed | Kind::Compost => "hurt",
        _ if takes(&"green".into()) && !takes(&"ripe".into()) => "green",
        _ => "ripe",
    }
}

fn figures(batch: &Batch, altitude: Altitude, acid: Option<&Acid>) -> Vec<Figure> {
    let (Some(jars), Some(time)) = (batch.jars, batch.process.as_ref()) else { return Vec::new() };
    let mut figures = vec![Figure {
        name: "Process",
        number: format!("{} min", time.minutes),
        words: format!(
            "boiling water, from a full boil, {} jars, {} pack",
            jars.jar.words(),
            time.pack
        ),
    }];
    if let Some(acid) = acid {
        figures.push(acid_figure(acid, jars.jar));
    }
    if let Some(headspace) = &batch.headspace {
        let (number, words) = headspace.split_once(" (").unwrap_or((headspace, ""));
        figures.push(Figure {
            name: "Headspace",
            number: number.to_owned(),
            words: words.trim_end_matches(')').to_owned(),
        });
    }
    figures.push(Figure {
        name: "Height",
        number: format!("{:.0} m", altitude.metres()),
        words: format!("time is for {}", time.band_text),
    });
    figures.push(Figure {
        name: "Jars",
        number: jars.count.to_string(),
        words: if jars.fewest == jars.most {
            format!("{} size", jars.jar.words())
        } else {
            format!("{} size; may come out {} to {}", jars.jar.words(), jars.fewest, jars.most)
        },
    });
    if let Some(minutes) = batch.sterile_jar_minutes {
        figures.push(Figure {
            name: "Sterile jars",
            number: format!("{minutes} min"),
            words: "boil the empty jars first".to_owned(),
        });
    }
    figures
}

/// The first way to acidify a jar in large, the others in words.
fn acid_figure(acid: &Acid, jar: Jar) -> Figure {
    let number = match acid.choices.first() {
        Some(AcidChoice { amount, unit, .. }) => format!("{} {}", spoons(*amount), short(*unit)),
        None => "vinegar".to_owned(),
    };
    let words = match acid.choices.first() {
        Some(first) => {
            let others = acid.text.split_once(", or ").map_or("", |(_, others)| others);
            let others = others.trim_end_matches('.');
            let or = if others.is_empty() { String::new() } else { format!("; or {others}") };
            format!("{} into each {}{or}", first.what, jar.words())
        }
        None => acid.text.clone(),
    };
    Figure { name: "Acid", number, words }
}

/// A measure as recipes shorten it.
fn short(measure: Measure) -> &'static str {
    match measure {
        Measure::Teaspoon => "tsp",
        Measure::Tablespoon => "Tbsp",
        other => other.word(),
    }
}

/// A count of spoons as cooks read it.
fn spoons(amount: f64) -> String {
    match (amount * 4.0).round() as i64 {
        1 => "1/4".to_owned(),
        2 => "1/2".to_owned(),
        3 => "3/4".to_owned(),
        _ => amount.to_string(),
    }
}

/// What goes into a card of the days: `7.5 kg → 3 quarts`.
pub fn amounts(batch: &Batch, unit: WeightUnit) -> String {
    let fruit: Grams = batch.grams;
    match made(batch) {
        Some(made) => format!("{} → {made}", words::weight(fruit, unit)),
        None => words::weight(fruit, unit),
    }
}
