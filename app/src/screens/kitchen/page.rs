//! What the Kitchen screen shows, made from the simple plan.

use shared_types::trade::kitchen::{Batch, PlanDay, SimplePlan};
use shared_types::trade::methods::Kind;
use shared_types::trade::provenance::cite;
use shared_types::units::{Altitude, Day, Grams, WeightUnit};

use super::asides::{Aside, asides};
use super::clock::span;
use super::recipe::{Recipe, amounts, keeps_food, recipe, tone};
use crate::words;

/// Batches begin on whole five minutes: nobody cooks closer by the clock.
const ROUND: u32 = 5;

/// The screen.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// `Three days keep 41 of 46 kg`.
    pub headline: String,
    /// What kind of plan it is.
    pub note: String,
    /// The cards to cook from, in the order to do them.
    pub recipes: Vec<Recipe>,
    /// The days.
    pub days: Vec<Column>,
    /// What must not go in a jar, by reason.
    pub not_for_jars: Vec<Aside>,
    /// What is ready and finds no place, by reason.
    pub left_over: Vec<Aside>,
}

/// One day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// `Sat 10`.
    pub name: String,
    /// `today`, `tomorrow`, or the day in full.
    pub words: String,
    /// Hands-on work, such as `4 h`; empty for none.
    pub work: String,
    /// Its batches, and what the next day's ask for this evening.
    pub cards: Vec<Card>,
}

/// One batch in a day's column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// The recipe it stands for.
    pub key: String,
    /// Its name.
    pub name: String,
    /// How much.
    pub sub: String,
    /// Its colour.
    pub tone: &'static str,
}

/// The screen of a plan.
pub fn page(plan: &SimplePlan, altitude: Altitude, today: Day, unit: WeightUnit) -> Page {
    let mut recipes = Vec::new();
    let days: Vec<PlanDay> = plan
        .days
        .iter()
        .map(|day| PlanDay { batches: gathered(&day.batches), ..day.clone() })
        .collect();
    for (i, day) in days.iter().enumerate() {
        let mut after = 0;
        for batch in &day.batches {
            let again = |recipes: &[Recipe], key: &str| recipes.iter().any(|r| r.key == key);
            let mut key = format!("{}-{}", day.day, batch.method);
            while again(&recipes, &key) {
                key.push_str("-more");
            }
            let written = recipe(batch, key, altitude, i, after, unit);
            after = written.done.next_multiple_of(ROUND);
            recipes.push(written);
        }
    }
    let keys = |i: usize| recipes.iter().filter(move |r| r.day == i).map(|r| r.key.clone());
    let columns = days.iter().enumerate().map(|(i, day)| {
        let next = days.get(i + 1).map(|next| (next, keys(i + 1).collect()));
        column(day, keys(i).collect(), next, today, unit)
    });
    Page {
        headline: headline(plan, unit),
        note: plan.note.clone(),
        days: columns.collect(),
        not_for_jars: asides(
            plan.not_for_jars.iter().map(|lot| {
                ((lot.reason.as_str(), cite(&lot.source)), (lot.label.as_str(), lot.grams))
            }),
            unit,
        ),
        left_over: asides(
            plan.left_over
                .iter()
                .map(|lot| ((lot.reason.as_str(), String::new()), (lot.label.as_str(), lot.grams))),
            unit,
        ),
        recipes,
    }
}

/// The batches of a day, with what is eaten, fed or composted in one each: nothing of it is packed,
/// so lots of different fitness do not meet in a jar or a bag by it.
fn gathered(batches: &[Batch]) -> Vec<Batch> {
    let loose = |batch: &Batch| matches!(batch.kind, Kind::Fresh | Kind::Feed | Kind::Compost);
    let mut all: Vec<Batch> = Vec::new();
    for batch in batches {
        let like = all.iter_mut().find(|other| loose(batch) && other.method == batch.method);
        let Some(other) = like else {
            all.push(batch.clone());
            continue;
        };
        other.grams += batch.grams;
        other.from.extend(batch.from.iter().cloned());
        other.hands_on_minutes += batch.hands_on_minutes;
        for (step, more) in other.steps.iter_mut().zip(&batch.steps) {
            step.hands_on_minutes += more.hands_on_minutes;
        }
    }
    all
}

fn headline(plan: &SimplePlan, unit: WeightUnit) -> String {
    let batches = || plan.days.iter().flat_map(|day| &day.batches);
    let kept: Grams = batches().filter(|b| keeps_food(b.kind)).map(|batch| batch.grams).sum();
    let placed: Grams = batches().map(|batch| batch.grams).sum();
    let ready = placed + plan.left_over.iter().map(|lot| lot.grams).sum();
    if ready == Grams::ZERO {
        return "Nothing to make yet".to_owned();
    }
    format!("Three days keep {} of {}", words::number(kept, unit), words::weight(ready, unit))
}

fn column(
    day: &PlanDay,
    keys: Vec<String>,
    next: Option<(&PlanDay, Vec<String>)>,
    today: Day,
    unit: WeightUnit,
) -> Column {
    let long = words::day(day.day);
    let name = long.rsplit_once(' ').map_or(long.as_str(), |(short, _month)| short);
    let card = |(batch, key): (&Batch, String)| Card {
        key,
        name: batch.name.clone(),
        sub: amounts(batch, unit),
        tone: tone(batch),
    };
    let mut cards: Vec<Card> = day.batches.iter().zip(keys).map(card).collect();
    if let Some((next, keys)) = next {
        let evening = next.batches.iter().zip(keys).filter(|(batch, _)| batch.evening_minutes > 0);
        cards.extend(evening.map(|(batch, key)| Card {
            key,
            name: format!("This evening, for {}", lower_first(&batch.name)),
            sub: span(batch.evening_minutes),
            tone: tone(batch),
        }));
    }
    Column {
        name: name.to_owned(),
        words: words::day_or_today(day.day, today),
        work: if day.hands_on_minutes > 0 { span(day.hands_on_minutes) } else { String::new() },
        cards,
    }
}

fn lower_first(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map(char::to_lowercase).into_iter().flatten().chain(letters).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screens::sample::{Writer, tomorrow, writer};
    use shared_types::outlook::kitchen;
    use shared_types::trade::methods::{Jar, method, process_time};

    const KG: WeightUnit = WeightUnit::Kg;
    const HEIGHT: Altitude = Altitude::from_metres(870);

    fn page_of(w: &Writer) -> Page {
        let plan = kitchen(&w.book, tomorrow()).expect("the altitude is set");
        page(&plan, HEIGHT, tomorrow().day, KG)
    }

    fn stocked() -> Writer {
        let mut w = writer();
        w.bin(1, 3, "ripe", 14_000);
        w.bin(2, 5, "ripe", 11_300);
        w.bin(3, 3, "green", 30_000);
        w
    }

    #[test]
    fn a_jar_shows_the_time_for_its_size_and_height() {
        let page = page_of(&stocked());
        let jar = page.recipes.iter().find(|recipe| recipe.jar).expect("fit fruit goes in jars");
        assert_eq!(jar.figures[0].name, "Process");
        let named = |name| jar.figures.iter().find(|f| f.name == name).expect("such a figure");
        assert_eq!(named("Height").number, "870 m");
        assert!(named("Height").words.contains("1000 ft"), "{}", named("Height").words);
        assert!(named("Acid").words.contains("each"), "{}", named("Acid").words);
        assert!(named("Headspace").number.ends_with("inch"));
        assert!(!jar.cautions.is_empty() && !jar.sources.is_empty());
        assert!(jar.sources[0].starts_with("Time"), "{:?}", jar.sources);
    }

    #[test]
    fn every_process_time_on_a_card_is_the_published_one() {
        let w = stocked();
        let plan = kitchen(&w.book, tomorrow()).expect("the altitude is set");
        let shown = page(&plan, HEIGHT, tomorrow().day, KG);
        let batches = plan.days.iter().flat_map(|day| &day.batches);
        let batches: Vec<_> = batches.filter(|batch| batch.kind == Kind::Jar).collect();
        let recipes: Vec<_> = shown.recipes.iter().filter(|recipe| recipe.jar).collect();
        assert_eq!(batches.len(), recipes.len());
        assert!(!batches.is_empty(), "the sample fills no jar");
        for (batch, recipe) in batches.into_iter().zip(recipes) {
            let size = batch.jars.map(|jars| jars.jar);
            let minutes = size.and_then(|size: Jar| {
                process_time(method(&batch.method)?, size, HEIGHT).ok().map(|time| time.minutes)
            });
            let number = recipe.figures.first().map(|figure| figure.number.clone());
            assert_eq!(number, minutes.map(|minutes| format!("{minutes} min")), "{}", recipe.title);
        }
    }

    #[test]
    fn nothing_is_lost_by_showing_what_is_eaten_as_one() {
        let plan = kitchen(&stocked().book, tomorrow()).expect("the altitude is set");
        for day in &plan.days {
            let twice = [day.batches.clone(), day.batches.clone()].concat();
            let weight = |all: &[Batch]| all.iter().map(|batch| batch.grams).sum::<Grams>();
            let shown = gathered(&twice);
            assert_eq!(weight(&shown), weight(&twice));
            assert!(shown.iter().filter(|batch| batch.kind == Kind::Fresh).count() <= 1);
            let jars = |all: &[Batch]| all.iter().filter(|b| b.kind == Kind::Jar).count();
            assert_eq!(jars(&shown), jars(&twice));
        }
    }

    #[test]
    fn fruit_of_dead_vines_is_named_and_in_no_jar() {
        let page = page_of(&stocked());
        let named = page.not_for_jars.iter().find(|aside| aside.what.contains("bed 5"));
        assert!(named.expect("bed 5").reason.contains("dead"));
        for recipe in page.recipes.iter().filter(|recipe| recipe.jar) {
            assert!(recipe.tags.iter().all(|tag| !tag.contains("bed 5")), "{:?}", recipe.tags);
        }
    }

    #[test]
    fn steps_follow_each_other_through_the_day() {
        let page = page_of(&stocked());
        for day in 0..page.days.len() {
            let times: Vec<u32> = page
                .recipes
                .iter()
                .filter(|recipe| recipe.day == day)
                .flat_map(|recipe| recipe.steps.iter().filter_map(|step| step.after))
                .collect();
            assert!(times.is_sorted(), "day {day}: {times:?}");
        }
        let keys: std::collections::BTreeSet<_> =
            page.recipes.iter().flat_map(|r| &r.steps).map(|step| &step.key).collect();
        assert_eq!(keys.len(), page.recipes.iter().map(|r| r.steps.len()).sum::<usize>());
        assert_eq!(page.days[0].words, "today");
        assert_eq!(page.days[0].name, "Sat 10");
    }

    #[test]
    fn with_nothing_ripe_there_is_nothing_to_make() {
        let page = page_of(&writer());
        assert_eq!(page.headline, "Nothing to make yet");
        assert!(page.recipes.is_empty() && page.left_over.is_empty());
        assert!(page.days.iter().all(|day| day.cards.is_empty() && day.work.is_empty()));
    }
}
