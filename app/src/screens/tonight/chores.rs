//! The chores with their hours; a tick is an entry, so every phone sees it.

use leptos::prelude::*;
use shared_types::entry::TickSet;
use shared_types::outlook::TonightBook;
use shared_types::outlook::tonight::ChoreTold;

use crate::farm::use_farm;
use crate::parts::{Problem, Show};

#[component]
pub(super) fn Chores(told: Memo<Result<TonightBook, String>>) -> impl IntoView {
    let farm = use_farm();
    let problem = RwSignal::new(None::<String>);
    let chores = Memo::new(move |_| {
        told.with(|told| told.as_ref().map_or_else(|_| Vec::new(), |told| told.chores.clone()))
    });
    let left = move || chores.with(|all| all.iter().filter(|told| !told.done).count());
    let item = move |told: ChoreTold| {
        let key = told.chore.key.clone();
        let tick = move |done: bool| {
            let fact = TickSet { task: key.clone(), done, person: farm.person() };
            farm.keep_then(fact, move |kept| {
                problem.set(kept.err().map(|reason| format!("Not kept. {reason}")));
            });
        };
        let time = told.chore.at.map_or_else(|| "evening".to_owned(), |at| farm.time(at));
        let cautions = told.chore.cautions.iter().map(|said| {
            view! {
                <p class="note warn">{said.text.clone()}</p>
            }
        });
        let by = told.by.clone().map(|by| format!(" \u{b7} done by {by}"));
        view! {
            <li class="plan-step" class:done-with=told.done>
                <time>{time}</time>
                <div>
                    <p class="text">{told.chore.text.clone()}</p>
                    <p class="sub">{told.chore.why.clone()} {by}</p>
                    {cautions.collect_view()}
                </div>
                <label class="tick">
                    <input
                        type="checkbox"
                        prop:checked=told.done
                        on:change:target=move |event| tick(event.target().checked())
                    />
                    <span class="visually-hidden">{format!("done: {}", told.chore.text)}</span>
                </label>
            </li>
        }
    };
    view! {
        <Show when=move || chores.with(|all| !all.is_empty())>
            <section class="section">
                <header>
                    <h2>"Chores"</h2>
                    <span class="sub">{move || format!("{} left", left())}</span>
                </header>
                <Problem text=problem />
                <ol class="plan">{move || chores.get().into_iter().map(item).collect_view()}</ol>
            </section>
        </Show>
    }
}
