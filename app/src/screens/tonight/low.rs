//! The morning's question: how low did it go? The answer feeds the fit.

use leptos::prelude::*;
use shared_types::entry::LowNoted;
use shared_types::ids::LowId;
use shared_types::outlook::TonightBook;
use shared_types::outlook::tonight::AskLow;

use crate::farm::use_farm;
use crate::parts::Field;
use crate::screens::house::edit::Keep;
use crate::typed::celsius;
use crate::words;

#[component]
pub(super) fn AskLows(told: Memo<Result<TonightBook, String>>) -> impl IntoView {
    let farm = use_farm();
    let asked = Memo::new(move |_| {
        told.with(|told| told.as_ref().map_or_else(|_| Vec::new(), |told| told.ask_low.clone()))
    });
    move || {
        let all = if farm.may_write() { asked.get() } else { Vec::new() };
        all.into_iter().map(|ask| view! { <Ask ask /> }).collect_view()
    }
}

#[component]
fn Ask(ask: AskLow) -> impl IntoView {
    let farm = use_farm();
    let low = RwSignal::new(String::new());
    let (day, place) = (ask.day, ask.place);
    let make = Box::new(move || {
        let temperature = celsius(&low.get_untracked())?
            .ok_or("How low did it go? Type what the thermometer kept.")?;
        let low = farm.fresh(LowId::new);
        let fact = LowNoted { low, day, temperature, person: farm.person(), place };
        Ok(Some(fact.into()))
    });
    let label = format!(
        "Lowest at {} in the night after {}, °C",
        ask.name,
        words::day_or_today(day, farm.today.get_untracked())
    );
    view! {
        <div class="card">
            <Keep make done=Callback::new(|()| ()) button="Keep the low">
                <Field label=label value=low hint="Each night makes the next forecast better." />
            </Keep>
        </div>
    }
}
