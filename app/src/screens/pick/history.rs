//! What a bin said before, and who changed it when. Newest first.

use leptos::prelude::*;
use shared_types::book::{Bin, Book};
use shared_types::entry::BinKept;
use shared_types::ids::BinId;
use shared_types::units::{Grams, WeightUnit};

use super::state::State;
use crate::farm::Farm;
use crate::words;

/// One change: what stood there, what stands there since, and by whom and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What stood there; nothing for the first keeping.
    pub before: String,
    /// What stands there since.
    pub after: String,
    /// Who and when.
    pub by: String,
}

#[component]
pub(super) fn History(state: State, bin: BinId) -> impl IntoView {
    let farm = state.farm;
    let steps = move || {
        let unit = farm.unit();
        farm.book.with(|book| {
            book.bins.get(&bin).map(|bin| steps(farm, book, bin, unit)).unwrap_or_default()
        })
    };
    view! {
        <ul class="history">
            {move || {
                steps()
                    .into_iter()
                    .map(|step| {
                        let before = (!step.before.is_empty())
                            .then(|| view! { <del>{step.before}</del> });
                        view! {
                            <li>
                                {before} " " {step.after} <p class="sub">{step.by}</p>
                            </li>
                        }
                    })
                    .collect_view()
            }}
        </ul>
    }
}

fn steps(farm: Farm, book: &Book, bin: &Bin, unit: WeightUnit) -> Vec<Step> {
    let Some(kept) = &bin.kept else { return Vec::new() };
    let by = |verb: &str, person, at| {
        format!("{verb} by {}, {}", book.person_name(person), farm.time(at))
    };
    let mut steps = vec![Step {
        before: String::new(),
        after: whole(book, &kept.fact, unit),
        by: by("kept", kept.fact.person, kept.fact.at),
    }];
    let mut so_far = Bin { kept: Some(kept.clone()), ..Bin::default() };
    for correction in &bin.corrections {
        let before = so_far.now().map(std::borrow::Cow::into_owned);
        so_far.corrections.push(correction.clone());
        let after = so_far.now().map(std::borrow::Cow::into_owned);
        if let (Some(before), Some(after)) = (before, after) {
            let (before, after) = differences(book, &before, &after, unit);
            let by = by("changed", correction.fact.person, correction.stamp.hlc.0);
            steps.push(Step { before, after, by });
        }
    }
    if let Some(struck) = &bin.struck {
        let after = struck.fact.why.clone().unwrap_or_else(|| "taken out".to_owned());
        let by = by("taken out", struck.fact.person, struck.stamp.hlc.0);
        steps.push(Step { before: String::new(), after, by });
    }
    steps.reverse();
    steps
}

fn whole(book: &Book, bin: &BinKept, unit: WeightUnit) -> String {
    facets(book, bin, unit)
        .into_iter()
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(", ")
}

/// The words that differ, as they were and as they are.
fn differences(
    book: &Book,
    before: &BinKept,
    after: &BinKept,
    unit: WeightUnit,
) -> (String, String) {
    let pairs = facets(book, before, unit).into_iter().zip(facets(book, after, unit));
    let (was, is): (Vec<_>, Vec<_>) = pairs.filter(|(was, is)| was != is).unzip();
    let join = |words: Vec<String>| {
        words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(", ")
    };
    (join(was), join(is))
}

fn facets(book: &Book, bin: &BinKept, unit: WeightUnit) -> Vec<String> {
    let net = (bin.gross.grams() - bin.tare).max(Grams::ZERO);
    vec![
        words::class_name(&bin.crop, &bin.class).to_lowercase(),
        words::weight(net, unit),
        words::crop_line(book, &bin.crop, bin.variety),
        book.place_name(bin.place).to_owned(),
        bin.stage.as_deref().map(words::stage_words).unwrap_or_default(),
        bin.defect.as_deref().map(words::defect_words).unwrap_or_default(),
    ]
}
