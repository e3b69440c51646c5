//! The story folds to what the demo promises.

use shared_types::book::Book;
use shared_types::outlook::{Today, kitchen, outlook};
use shared_types::trade::fitness::Use;
use shared_types::units::{DAY_MS, Grams, Millis};

use super::story;

/// A Friday in October, noon UTC.
const NOW: Millis = Millis(1_791_547_200_000);

fn folded() -> Book {
    let mut book = Book::default();
    for entry in story(NOW, 0).entries {
        book.fold(&entry);
    }
    book
}

#[test]
fn three_helpers_three_picks_and_about_sixty_bins_fold_without_a_word_of_complaint() {
    let book = folded();
    assert_eq!(book.people.len(), 3);
    assert_eq!(book.picks.len(), 3, "two of this season, one of the last");
    assert!((60..70).contains(&book.bins.len()), "{}", book.bins.len());
    assert_eq!((&book.set_aside, &book.deferred), (&vec![], &vec![]));
    assert_eq!(book.pairs().len(), 1);
    assert!(book.lots().stray.is_empty());
    assert!(book.lots().all.values().all(|lot| lot.overdrawn() == Grams::ZERO));
}

#[test]
fn the_outdoor_bed_is_not_for_jars_and_there_is_a_plan_for_tomorrow() {
    let book = folded();
    let today = Today::at(NOW, 0);
    let outlook = outlook(&book, today, 14);
    let dead: Vec<_> = outlook
        .lots
        .iter()
        .filter(|lot| lot.lot.condition.vines.as_deref() == Some("dead"))
        .collect();
    assert!(!dead.is_empty());
    assert!(dead.iter().all(|lot| !lot.fitness.uses.allows(Use::Jar)));
    assert!(outlook.ready_today.p50 > Grams::ZERO);
    let plan = kitchen(&book, today).expect("the altitude is set");
    assert!(plan.days.iter().any(|day| !day.batches.is_empty()));
    assert!(!plan.not_for_jars.is_empty());
}

#[test]
fn nothing_lies_in_the_future_and_the_past_season_is_a_year_ago() {
    let story = story(NOW, 0);
    assert!(story.entries.iter().all(|entry| entry.hlc.0 <= NOW));
    assert!(story.entries.iter().any(|entry| NOW.since(entry.hlc.0) > 365 * DAY_MS));
}
