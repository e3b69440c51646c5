//! A batch of the plan as a card to cook from.

use shared_types::ids::ClassId;
use shared_types::trade::kitchen::Batch;
use shared_types::trade::methods::card::{System, parts};
use shared_types::trade::methods::{
    Acid, Jar, Kind, Method, Role, acid_for_confirmed, fraction, headspace_words, method,
};
use shared_types::trade::provenance::{Said, cite};
use shared_types::units::{Altitude, Grams, Measure, WeightUnit};

use super::asides::by_label;
use super::sources::{cited, from};
use crate::words;

/// What a card says beside its steps and amounts.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe {
    /// The numbers that make a jar safe; none for what is no jar.
    pub figures: Vec<Figure>,
    /// What may be changed, each with where it was read.
    pub may_change: Vec<(String, String)>,
    /// What to mind all along, each with where it was read.
    pub cautions: Vec<(String, String)>,
    /// Where the steps were read.
    pub steps_source: String,
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
    /// Where it was read; empty for what was not read anywhere.
    pub source: String,
}

/// Writes out one batch.
pub fn recipe(batch: &Batch, altitude: Altitude) -> Recipe {
    let method = method(&batch.method);
    let said = |all: &[Said]| all.iter().map(|one| (one.text.clone(), cite(&one.source))).collect();
    Recipe {
        figures: figures(batch, altitude),
        may_change: method.map(|method| said(&method.may_change)).unwrap_or_default(),
        cautions: said(&batch.cautions),
        steps_source: method.map(|method| from(&method.steps_from)).unwrap_or_default(),
        jar: batch.kind == Kind::Jar,
    }
}

/// The amounts of a batch, the main crop first: how much of what, and a remark.
pub fn amounts_in(batch: &Batch, system: System) -> Vec<(String, String, String)> {
    let Some(method) = method(&batch.method) else { return Vec::new() };
    let Some(base) = &method.base else { return Vec::new() };
    parts(method, batch.grams.kg() / base.kg, system)
        .into_iter()
        .map(|part| (part.text, part.name, part.note.unwrap_or_default()))
        .collect()
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

fn figures(batch: &Batch, altitude: Altitude) -> Vec<Figure> {
    let (Some(jars), Some(time)) = (batch.jars, batch.process.as_ref()) else { return Vec::new() };
    let Some(method) = method(&batch.method) else { return Vec::new() };
    let confirmed: Vec<_> = time.confirmed.iter().cloned().collect();
    let steam = if time.steam_canner { "; a steam canner in the same minutes" } else { "" };
    let mut figures = vec![Figure {
        name: "Process",
        number: format!("{} min", time.minutes),
        words: format!(
            "boiling water, from a full boil, {} jars, {} pack{steam}",
            jars.jar.words(),
            time.pack
        ),
        source: cited(&time.source, time.mark, time.confirmed.as_ref()),
    }];
    // A jar that has a time has its acid: the time is refused otherwise.
    if let Ok(Some(acid)) = acid_for_confirmed(method, jars.jar, &confirmed) {
        figures.push(acid_figure(&acid, jars.jar, method));
    }
    if let Some(inches) = &method.headspace_inches {
        let words = headspace_words(inches.value);
        let (number, millimetres) = words.split_once(" (").unwrap_or((&words, ""));
        figures.push(Figure {
            name: "Headspace",
            number: number.to_owned(),
            words: millimetres.trim_end_matches(')').to_owned(),
            source: cited(&inches.source, inches.mark, None),
        });
    }
    if let Some(minutes) = batch.sterile_jar_minutes {
        figures.push(Figure {
            name: "Sterile jars",
            number: format!("{minutes} min"),
            words: "boil the empty jars first".to_owned(),
            source: String::new(),
        });
    }
    figures.push(Figure {
        name: "Height",
        number: format!("{:.0} m", altitude.metres()),
        words: format!("{:.0} ft; the time is for {}", altitude.feet(), time.band_text),
        source: String::new(),
    });
    let loads = words::count(usize::try_from(batch.loads).unwrap_or(usize::MAX), "load");
    figures.push(Figure {
        name: "Jars",
        number: jars.count.to_string(),
        words: if jars.fewest == jars.most {
            format!("{} size, {loads}", jars.jar.words())
        } else {
            let (jar, fewest, most) = (jars.jar.words(), jars.fewest, jars.most);
            format!("{jar} size, {loads}; may come out {fewest} to {most}")
        },
        source: String::new(),
    });
    figures
}

/// The first way to acidify a jar in large, the others in words.
fn acid_figure(acid: &Acid, jar: Jar, method: &Method) -> Figure {
    let Some((first, others)) = acid.choices.split_first() else {
        return Figure {
            name: "Acid",
            number: "in it".to_owned(),
            words: acid.text.clone(),
            source: method
                .ingredients
                .iter()
                .find(|part| part.role == Role::Acid)
                .map(|part| cited(&part.source, part.mark, None))
                .unwrap_or_default(),
        };
    };
    let others: String = others.iter().map(|other| format!("; or {}", other.words())).collect();
    Figure {
        name: "Acid",
        number: format!("{} {}", fraction(first.amount), short(first.unit)),
        words: format!("{} into each {}{others}", first.what, jar.words()),
        source: cited(&first.source, first.mark, first.confirmed.as_ref()),
    }
}

/// A measure as recipes shorten it.
fn short(measure: Measure) -> &'static str {
    match measure {
        Measure::Teaspoon => "tsp",
        Measure::Tablespoon => "Tbsp",
        other => other.word(),
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

#[cfg(test)]
mod tests {
    use super::*;
    use shared_types::trade::kitchen::{BatchFrom, write_batch};
    use shared_types::trade::methods::{all, process_time};

    const HEIGHT: Altitude = Altitude::from_metres(870);

    fn batch(method: &Method, jar: Jar, grams: i64) -> Batch {
        let from = vec![BatchFrom {
            lot: "a".to_owned(),
            label: "Paste, bed 3".to_owned(),
            grams: Grams(grams),
        }];
        write_batch(method, from, (jar, 7), HEIGHT, &[]).expect("offered")
    }

    #[test]
    fn every_number_on_a_card_is_the_published_one_and_names_its_source() {
        let mut shown = 0;
        for method in all() {
            for jar in Jar::ALL {
                let Ok(time) = process_time(method, jar, HEIGHT) else { continue };
                let card = recipe(&batch(method, jar, 9_000), HEIGHT);
                let named = |name| card.figures.iter().find(|figure| figure.name == name);
                let process = named("Process").expect("a time");
                assert_eq!(process.number, format!("{} min", time.minutes), "{}", method.id);
                for name in ["Process", "Acid", "Headspace"] {
                    assert!(!named(name).expect(name).source.is_empty(), "{} {name}", method.id);
                }
                assert!(named("Headspace").is_some_and(|h| h.number.contains("inch")));
                assert!(named("Height").is_some_and(|h| h.words.contains("2854 ft")));
                assert!(card.jar && !card.cautions.is_empty());
                shown += 1;
            }
        }
        assert!(shown > 15, "{shown}");
    }

    #[test]
    fn amounts_come_in_cups_or_metric_and_round_to_the_safe_side() {
        let relish = method(&"green-tomato-relish".into()).expect("a method");
        let batch = batch(relish, Jar::Pint, 4_535);
        let of = |system| amounts_in(&batch, system);
        let vinegar = |all: Vec<(String, String, String)>| {
            all.into_iter().find(|(_, name, _)| name.contains("vinegar")).expect("vinegar").0
        };
        assert_eq!(vinegar(of(System::Cups)), "4 cups");
        assert_eq!(vinegar(of(System::Metric)), "950 mL");
        assert_eq!(of(System::Cups)[0].1, "small hard green tomatoes");
    }
}
