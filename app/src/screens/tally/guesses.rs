//! Guesses against the scale: who was closest, and a new guess.

use leptos::prelude::*;
use shared_types::entry::GuessMade;
use shared_types::ids::{GuessId, PickId};

use super::guess::{self, Guess, Problems};
use super::table::Scope;
use crate::farm::use_farm;
use crate::parts::export::Export;
use crate::parts::{Empty, Field, Problem, Row};
use crate::words;

/// The guesses at the chosen pick. A season has none.
#[component]
pub fn Guesses(scope: Memo<Scope>) -> impl IntoView {
    view! {
        <section class="section">
            <header>
                <h2>"Guesses"</h2>
                <span class="sub">"closest first"</span>
            </header>
            {move || match scope.get() {
                Scope::Pick(pick) => view! { <OfPick pick /> }.into_any(),
                Scope::Season => {
                    view! { <Empty text="Guesses are made at one pick, not over a season." /> }
                        .into_any()
                }
            }}
        </section>
    }
}

#[component]
fn OfPick(pick: PickId) -> impl IntoView {
    let farm = use_farm();
    let ranked = Memo::new(move |_| farm.book.with(|book| book.guesses(pick)));
    let rows = move || {
        let unit = farm.unit();
        ranked.with(|ranked| {
            ranked
                .iter()
                .enumerate()
                .map(|(i, guess)| {
                    view! {
                        <Row
                            title=format!("{}. {}", i + 1, guess.name)
                            sub=format!("guessed {}", words::weight(guess.grams, unit))
                            right=guess::off_by(guess.off, unit)
                        />
                    }
                })
                .collect_view()
        })
    };
    let file = Signal::derive(move || format!("guesses-{}", farm.today.get()));
    view! {
        <Show
            when=move || ranked.with(|ranked| !ranked.is_empty())
            fallback=|| view! { <Empty text="Nobody has guessed yet." /> }
        >
            <ul class="list">{rows}</ul>
            <Export
                what="the guesses"
                name=file
                make=move || {
                        let unit = untrack(|| farm.unit());
                        ranked.with_untracked(|ranked| guess::csv(ranked, unit))
                    }
            />
        </Show>
        <Show when=move || farm.may_write()>
            <NewGuess pick />
        </Show>
    }
}

#[component]
fn NewGuess(pick: PickId) -> impl IntoView {
    let farm = use_farm();
    let (name, weight) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let problems = RwSignal::new(Problems::default());
    let failed = RwSignal::new(None::<String>);
    let kept = RwSignal::new(String::new());
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let unit = untrack(|| farm.unit());
        kept.set(String::new());
        match guess::read(&name.get_untracked(), &weight.get_untracked(), unit) {
            Err(found) => problems.set(found),
            Ok(Guess { name: who, grams }) => {
                problems.set(Problems::default());
                let said = format!("Kept: {who}, {}.", words::weight(grams, unit));
                let fact = GuessMade { guess: farm.fresh(GuessId::new), pick, name: who, grams };
                farm.keep_then(fact, move |result| match result {
                    Ok(_) => {
                        failed.set(None);
                        kept.set(said);
                        name.set(String::new());
                        weight.set(String::new());
                    }
                    Err(words) => failed.set(Some(words)),
                });
            }
        }
    };
    view! {
        <form class="form no-print" novalidate on:submit=keep>
            <Field
                label="Who guesses"
                value=name
                hint="A new guess by the same name takes the place of the old one."
                problem=Signal::derive(move || problems.with(|found| found.name.clone()))
            />
            <Field
                label=format!("What it will all weigh, {}", untrack(|| farm.unit()).symbol())
                value=weight
                inputmode="decimal"
                problem=Signal::derive(move || problems.with(|found| found.weight.clone()))
            />
            <Problem text=failed />
            <p class="outcome" role="status">
                {kept}
            </p>
            <div class="buttons">
                <button class="button primary" type="submit">
                    "Keep the guess"
                </button>
            </div>
        </form>
    }
}
