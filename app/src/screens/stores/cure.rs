//! Curing: begun, or done.

use leptos::prelude::*;
use shared_types::entry::CureSet;
use shared_types::ids::LotId;
use shared_types::outlook::StoresBook;

use crate::farm::use_farm;
use crate::parts::Problem;
use crate::words;

#[component]
pub(super) fn CureForm(id: LotId, told: Memo<StoresBook>, done: Callback<String>) -> impl IntoView {
    let farm = use_farm();
    let problem = RwSignal::new(None::<String>);
    let row = told.with_untracked(|told| told.lots.iter().find(|row| row.lot.id == id).cloned());
    let how = row.as_ref().map(|row| row.cure.how.clone()).unwrap_or_default();
    let room = row.and_then(|row| row.lot.room());
    let nothing = CureSet { lot: id, cured: None, from: None, until: None, room: None };
    let keep = StoredValue::new(move |fact: CureSet, words: &'static str| {
        farm.keep_then(fact, move |kept| match kept {
            Ok(_) => done.run(words.to_owned()),
            Err(reason) => problem.set(Some(format!("Not kept. {reason}"))),
        });
    });
    let today = move || Some(farm.today.get_untracked());
    let begin = CureSet { cured: Some(false), room, ..nothing.clone() };
    let end = CureSet { cured: Some(true), ..nothing.clone() };
    let never = CureSet { cured: Some(false), ..nothing };
    view! {
        <p>{words::sentence(&how)}</p>
        <Problem text=problem />
        <div class="choices">
            <button
                class="choice"
                on:click=move |_| {
                    let fact = CureSet { from: today(), ..begin.clone() };
                    keep.with_value(|keep| keep(fact, "Kept: curing from today."));
                }
            >
                "Curing begins today"
            </button>
            <button
                class="choice"
                on:click=move |_| {
                    let fact = CureSet { until: today(), ..end.clone() };
                    keep.with_value(|keep| keep(fact, "Kept: cured."));
                }
            >
                "It is cured"
            </button>
            <button
                class="choice"
                on:click=move |_| {
                    keep.with_value(|keep| keep(never.clone(), "Kept: stored without curing."));
                }
            >
                "It is stored without curing"
            </button>
        </div>
    }
}
