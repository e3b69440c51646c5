//! The seals of a batch, 12 to 24 hours after.

use leptos::prelude::*;
use shared_types::entry::SealsChecked;
use shared_types::ids::{BatchId, SealCheckId};
use shared_types::outlook::pantry::{REPROCESSED, Seals, Shelf};

use super::form::{Form, Made, keep_and_tell};
use crate::farm::use_farm;
use crate::parts::Field;
use crate::parts::select::Select;
use crate::typed;
use crate::words;

/// What may become of unsealed jars, and how people say it.
const BECAME: [(&str, &str); 5] = [
    ("fridge", "into the fridge, to be eaten soon"),
    ("freezer", "into the freezer, with 1 1/2 inch of headspace"),
    (REPROCESSED, "back in the canner: new lids, the whole time again"),
    ("fed", "fed or thrown away"),
    ("", "not dealt with yet"),
];

/// Press the lids: all sealed, or so many not.
#[allow(clippy::needless_pass_by_value, reason = "a component owns its properties")]
#[component]
pub fn SealsForm(shelf: Shelf, done: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let failed = RwSignal::new(String::new());
    let became = RwSignal::new("fridge");
    let late = matches!(shelf.seals, Seals::Late { .. });
    let (id, made) = (shelf.batch, shelf.jars.iter().map(|jars| jars.made).sum::<i64>());
    let check = move |failed: i64, became: Option<&str>| -> SealsChecked {
        look(farm.fresh(SealCheckId::new), id, farm.now(), farm.person(), failed, became)
    };
    let all_sealed = move |_| {
        keep_and_tell(farm, vec![check(0, None).into()]);
        done.run(());
    };
    let make = Box::new(move || -> Made {
        let count = typed::whole(&failed.get_untracked())?.unwrap_or(0);
        if count == 0 {
            return Err(
                "Type how many did not seal, or press \u{201c}All sealed\u{201d}.".to_owned()
            );
        }
        if count > made {
            return Err(format!("Only {made} were made."));
        }
        let became = became.get_untracked();
        if late && became == REPROCESSED {
            return Err("More than 24 hours have passed: what has not sealed may not go back in the canner, and is not safe to eat when it stood warm.".to_owned());
        }
        Ok(vec![check(count, (!became.is_empty()).then_some(became)).into()])
    });
    let until = match shelf.seals {
        Seals::Wait { from, until } => {
            format!("The jars are to stand undisturbed until {}. Look before {} tomorrow.", farm.time(from), farm.time(until))
        }
        Seals::Due { until, .. } | Seals::Unsealed { until, .. } => {
            format!("What has not sealed can be processed again until {} ({}).", farm.time(until), words::day(crate::shell::clock::day_of(until)))
        }
        Seals::Late { .. } => "More than 24 hours have passed. What has not sealed is not safe when it stood warm: do not taste it.".to_owned(),
        Seals::NotNeeded | Seals::Checked => String::new(),
    };
    let options: Vec<(&'static str, String)> =
        BECAME.map(|(key, text)| (key, text.to_owned())).to_vec();
    view! {
        <p>"Take the bands off and press the middle of each lid: it must be drawn in and must not give. Lift by the lid: it must hold."</p>
        <p class="sub">{until}</p>
        <div class="buttons">
            <button class="button primary big" on:click=all_sealed>
                "All sealed"
            </button>
        </div>
        <h3>"Some did not"</h3>
        <Form make done button="Keep">
            <Field label="How many did not seal" value=failed inputmode="numeric" />
            <Select
                id="became"
                label="What becomes of them"
                options=options
                chosen=became
                on_choose=move |key| became.set(key)
            />
        </Form>
        <p class="source">"Cooling and reprocessing: National Center for Home Food Preservation; UNL, K-State and MSU Extension on unsealed jars."</p>
    }
}

fn look(
    check: SealCheckId,
    batch: BatchId,
    at: shared_types::units::Millis,
    person: shared_types::ids::PersonId,
    failed: i64,
    became: Option<&str>,
) -> SealsChecked {
    SealsChecked { check, batch, at, person, failed, jar: None, became: became.map(str::to_owned) }
}
