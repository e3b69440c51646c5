//! Taking kilograms out of a lot.

use leptos::prelude::*;
use shared_types::entry::LotUsed;
use shared_types::ids::{LotId, UseId};
use shared_types::units::Grams;

use super::lots::LotRow;
use super::taking::{PURPOSES, best_purpose, read, taken_words, unfit};
use crate::farm::use_farm;
use crate::parts::select::Select;
use crate::parts::{Field, Problem};
use crate::words;

/// How much, what for, and a button.
#[component]
pub fn TakeOut(id: LotId, found: Memo<Option<LotRow>>, said: RwSignal<String>) -> impl IntoView {
    let farm = use_farm();
    let left = move || found.with_untracked(|lot| lot.as_ref().map_or(Grams::ZERO, |lot| lot.left));
    let all = move || words::exact(left(), untrack(|| farm.unit()));
    let amount = RwSignal::new(all());
    let what = RwSignal::new(
        found.with_untracked(|lot| lot.as_ref().map_or("fresh", |lot| best_purpose(&lot.uses))),
    );
    let problem = RwSignal::new(None::<String>);
    let failed = RwSignal::new(None::<String>);
    let caution = move || {
        found.with(|lot| {
            lot.as_ref().filter(|lot| unfit(what.get(), &lot.uses)).map(|lot| lot.reason.clone())
        })
    };
    let take = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let unit = untrack(|| farm.unit());
        let grams = match read(&amount.get_untracked(), left(), unit) {
            Ok(grams) => grams,
            Err(words) => return problem.set(Some(words)),
        };
        problem.set(None);
        let what = what.get_untracked();
        let fact = LotUsed {
            taking: farm.fresh(UseId::new),
            lot: id,
            grams,
            what: what.to_owned(),
            at: farm.now(),
        };
        let unit_word = unit.symbol();
        let done =
            format!("Kept: {} {unit_word} {}.", words::exact(grams, unit), taken_words(what));
        farm.keep_then(fact, move |result| match result {
            Ok(_) => {
                failed.set(None);
                said.set(done);
                amount.try_set(all());
            }
            Err(words) => failed.set(Some(words)),
        });
    };
    view! {
        <h3>"Take out…"</h3>
        <form class="form" novalidate on:submit=take>
            <Field
                label=format!("How much, {}", untrack(|| farm.unit()).symbol())
                value=amount
                inputmode="decimal"
                problem=problem
            />
            <Select
                id="take-what"
                label="What for"
                options=PURPOSES.map(|(key, words)| (key, words.to_owned())).to_vec()
                chosen=what
                on_choose=move |chosen| what.set(chosen)
            />
            {move || {
                caution()
                    .map(|reason| {
                        view! {
                            <div class="note warn" role="status">
                                <p>
                                    <strong>"This lot is not fit for that. "</strong>
                                    {reason}
                                </p>
                            </div>
                        }
                    })
            }}
            <Problem text=failed />
            <div class="buttons">
                <button class="button primary" type="submit">
                    "Take it out"
                </button>
            </div>
        </form>
    }
}
