//! What stands in the pantry: counted down as it is used.

use leptos::prelude::*;
use shared_types::entry::{BatchStruck, JarsUsed};
use shared_types::ids::{BatchId, UseId};
use shared_types::outlook::pantry::{Age, Jars, Seals, Shelf};
use shared_types::trade::provenance::cite;
use shared_types::units::WeightUnit;

use super::form::keep_and_tell;
use super::made::PACK;
use crate::farm::use_farm;
use crate::parts::{Empty, Show};
use crate::words;

/// `3 quarts of 7 left`, by size.
pub fn left_words(jars: &[Jars]) -> String {
    let each =
        jars.iter().map(|jars| format!("{} of {} {}", jars.left, jars.made, size_words(&jars.jar)));
    format!("{} left", each.collect::<Vec<_>>().join(", "))
}

/// A size of the log as people say it, many of it.
pub fn size_words(jar: &str) -> String {
    let one = shared_types::outlook::kitchen::jar(jar).map_or(jar, |jar| jar.words());
    format!("{one}s")
}

/// How old it is and until when it is at its best.
pub fn age_words(shelf: &Shelf) -> String {
    let Some(best_by) = shelf.best_by else { return String::new() };
    let date = words::day_and_year(best_by);
    match shelf.age {
        Age::Fresh => format!("best by {date}"),
        Age::PastBest => format!("past its best since {date}: use it first"),
        Age::Stale => format!("old, best by {date}: look at the seal and smell before use"),
    }
}

/// Where its fruit grew: `7.5 kg Paste, Bed 3`.
pub fn origin_words(shelf: &Shelf, unit: WeightUnit) -> String {
    let each = shelf
        .origins
        .iter()
        .map(|(label, grams)| format!("{} {label}", words::weight(*grams, unit)));
    each.collect::<Vec<_>>().join("; ")
}

/// The list.
#[component]
pub fn PantryList(
    shelves: Memo<Vec<Shelf>>,
    on_seals: Callback<BatchId>,
    on_labels: Callback<BatchId>,
    on_new: Callback<()>,
) -> impl IntoView {
    let used_too = RwSignal::new(false);
    let rows = move || {
        let shown = shelves.get().into_iter().filter(|shelf| used_too.get() || shelf.left() > 0);
        shown.map(|shelf| view! { <ShelfRow shelf on_seals on_labels /> }).collect_view()
    };
    let empty = move || shelves.with(|all| all.iter().all(|shelf| shelf.left() == 0));
    let any_used = move || shelves.with(|all| all.iter().any(|shelf| shelf.left() == 0));
    view! {
        <section class="section">
            <header>
                <h2>"Pantry"</h2>
                <span class="sub">{move || total_words(&shelves.read())}</span>
            </header>
            <div class="buttons no-print">
                <button class="button" on:click=move |_| on_new.run(())>
                    "Record a batch nobody planned"
                </button>
            </div>
            <Show when=empty>
                <Empty text="Nothing stands here. Jars and packs come here when a batch is made." />
            </Show>
            <ul class="list">{rows}</ul>
            <Show when=any_used>
                <div class="buttons no-print">
                    <button
                        class="button quiet"
                        aria-pressed=move || used_too.get().to_string()
                        on:click=move |_| used_too.update(|on| *on = !*on)
                    >
                        {move || if used_too.get() { "Hide what is used up" } else { "Show what is used up" }}
                    </button>
                </div>
            </Show>
        </section>
    }
}

/// `21 jars, 9 packs`
fn total_words(shelves: &[Shelf]) -> String {
    let count = |packs: bool| -> i64 {
        let jars = shelves.iter().flat_map(|shelf| &shelf.jars);
        jars.filter(|jars| (jars.jar == PACK) == packs).map(|jars| jars.left).sum()
    };
    let words =
        |n: i64, word: &str| (n > 0).then(|| words::count(usize::try_from(n).unwrap_or(0), word));
    [words(count(false), "jar"), words(count(true), "pack")]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(", ")
}

#[component]
fn ShelfRow(
    shelf: Shelf,
    on_seals: Callback<BatchId>,
    on_labels: Callback<BatchId>,
) -> impl IntoView {
    let farm = use_farm();
    let unit = untrack(|| farm.unit());
    let id = shelf.batch;
    let today = farm.today.get_untracked();
    let sub = [
        format!("made {}", words::day_or_today(shelf.made, today)),
        age_words(&shelf),
        shelf.place.clone().unwrap_or_default(),
        shelf.note.clone().unwrap_or_default(),
    ];
    let sub = sub.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" \u{b7} ");
    let origins = origin_words(&shelf, unit);
    let seals = match shelf.seals {
        Seals::Wait { .. } => Some("cooling"),
        Seals::Due { .. } => Some("press the lids"),
        Seals::Late { .. } => Some("lids not pressed in time"),
        Seals::Unsealed { .. } => Some("unsealed jars to deal with"),
        Seals::NotNeeded | Seals::Checked => None,
    };
    let caution = shelf.caution.clone().map(|said| {
        view! {
            <div class="note warn">
                <p>{said.text}</p>
                <p class="source">{cite(&said.source)}</p>
            </div>
        }
    });
    let use_jars = move |jar: String, count: i64| {
        let fact = JarsUsed {
            taking: farm.fresh(UseId::new),
            batch: id,
            jar,
            count,
            at: farm.now(),
            person: farm.person(),
        };
        keep_and_tell(farm, vec![fact.into()]);
    };
    let sizes = shelf.jars.len();
    let counters = shelf
        .jars
        .iter()
        .map(|jars| {
            let Jars { jar, left, used, .. } = jars.clone();
            let of = if sizes > 1 { format!(" ({})", size_words(&jar)) } else { String::new() };
            let (one, two, back) = (jar.clone(), jar.clone(), jar);
            view! {
                <button
                    class="button"
                    disabled=left < 1
                    on:click=move |_| use_jars(one.clone(), 1)
                >
                    {format!("Use one{of}")}
                    <span class="visually-hidden">{format!(" of {}", shelf.name)}</span>
                </button>
                <button
                    class="button"
                    disabled=left < 2
                    on:click=move |_| use_jars(two.clone(), 2)
                >
                    {format!("Use two{of}")}
                </button>
                <button
                    class="button quiet"
                    disabled=used < 1
                    on:click=move |_| use_jars(back.clone(), -1)
                >
                    {format!("Put one back{of}")}
                </button>
            }
        })
        .collect_view();
    let strike = move |_| {
        let fact = BatchStruck { batch: id, person: farm.person(), why: None };
        keep_and_tell(farm, vec![fact.into()]);
    };
    let asking = RwSignal::new(false);
    view! {
        <li class="row" id=format!("shelf-{id}")>
            <div class="body">
                <p class="title">{shelf.name.clone()}</p>
                <p class="sub">{sub}</p>
                <p class="sub">{origins}</p>
                {caution}
            </div>
            <div class="right">
                <b>{shelf.left().to_string()}</b>
                <span class="sub">{left_words(&shelf.jars)}</span>
            </div>
            <div class="buttons no-print">
                {seals
                    .map(|words| {
                        view! {
                            <button class="button primary" on:click=move |_| on_seals.run(id)>
                                {format!("Seals: {words}")}
                            </button>
                        }
                    })} {counters}
                <button class="button quiet" on:click=move |_| on_labels.run(id)>
                    "Labels"
                </button>
                <Show
                    when=move || asking.get()
                    fallback=move || {
                        view! {
                            <button class="button quiet" on:click=move |_| asking.set(true)>
                                "A slip\u{2026}"
                            </button>
                        }
                    }
                >
                    <button class="button" on:click=strike>
                        "Take the whole batch back"
                    </button>
                    <button class="button quiet" on:click=move |_| asking.set(false)>
                        "No"
                    </button>
                </Show>
            </div>
        </li>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_in_words() {
        let jars = |jar: &str, made, left| Jars {
            jar: jar.into(),
            made,
            unsealed: 0,
            used: made - left,
            left,
        };
        assert_eq!(left_words(&[jars("quart", 7, 3)]), "3 of 7 quarts left");
        assert_eq!(
            left_words(&[jars("half_pint", 4, 4), jars(PACK, 2, 0)]),
            "4 of 4 half-pints, 0 of 2 packs left"
        );
    }
}
