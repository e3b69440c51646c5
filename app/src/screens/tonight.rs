//! Tonight: how low it goes, who is at risk, and the chores with their hours, ticked off from any
//! phone. The evening's note and the two looks of the cold check open in place.

mod chores;
mod cold;
mod evening;
mod low;
mod page;
mod risks;

use leptos::prelude::*;
use leptos_router::components::A;
use shared_types::outlook::{Today, TonightBook, tonight};

use crate::farm::use_farm;
use crate::parts::chart::NightChart;
use crate::parts::{Screen, Sheet, Show};
use crate::shell::clock;
use crate::words;

/// What is open in place of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Open {
    Nothing,
    Evening,
    Cold,
}

/// The Tonight screen.
#[component]
pub fn Tonight() -> impl IntoView {
    let farm = use_farm();
    let told = Memo::new(move |_| {
        let now = farm.now();
        let today = Today { day: farm.today.get(), offset_minutes: clock::offset_minutes(now) };
        farm.book.with(|book| tonight(book, today, now).map_err(|why| why.to_string()))
    });
    let sub = Signal::derive(move || {
        let day = told.with(|told| told.as_ref().map_or(farm.today.get(), |told| told.day));
        format!("the night after {}", words::day(day))
    });
    let open = RwSignal::new(Open::Nothing);
    let close = move || open.set(Open::Nothing);
    view! {
        <Screen title="Tonight" sub>
            {move || match open.get() {
                Open::Nothing => view! { <Night told open /> }.into_any(),
                Open::Evening => view! {
                    <Sheet title="This evening" on_close=close>
                        <evening::EveningForm told done=Callback::new(move |()| close()) />
                    </Sheet>
                }
                .into_any(),
                Open::Cold => view! {
                    <Sheet title="Cold check" on_close=close>
                        <cold::Cold />
                    </Sheet>
                }
                .into_any(),
            }}
        </Screen>
    }
}

#[component]
fn Night(told: Memo<Result<TonightBook, String>>, open: RwSignal<Open>) -> impl IntoView {
    let farm = use_farm();
    let lead = move || {
        told.with(|told| match told {
            Ok(told) => page::lead(told, |at| farm.time(at)),
            Err(why) => page::Lead { head: "Not yet".to_owned(), subs: vec![words::sentence(why)] },
        })
    };
    let has_site = Memo::new(move |_| told.with(Result::is_ok));
    view! {
        <div class="lead">
            {move || {
                let lead = lead();
                let subs = lead.subs.into_iter().map(|sub| view! { <p class="sub">{sub}</p> });
                view! {
                    <h2>{lead.head}</h2>
                    {subs.collect_view()}
                }
            }}
        </div>
        <Show when=move || !has_site.get()>
            <p>
                <A href="/house/site" attr:class="button primary">
                    "Set the site"
                </A>
            </p>
        </Show>
        <low::AskLows told />
        <Show when=move || farm.may_write()>
            <div class="buttons no-print">
                <button class="button primary" on:click=move |_| open.set(Open::Evening)>
                    "Note this evening"
                </button>
                <button class="button" on:click=move |_| open.set(Open::Cold)>
                    "Cold check"
                </button>
            </div>
        </Show>
        <chores::Chores told />
        {move || {
            let points = told.with(|told| told.as_ref().ok().and_then(page::curve));
            points.map(|curve| {
                let curve = curve.with_times(|at| farm.time(at));
                view! { <NightChart curve /> }
            })
        }}
        <risks::Risks told />
        <p class="no-print">
            <A href="/house/plantings">"What stands where"</A>
            " \u{b7} "
            <A href="/house/covers">"Tunnels and covers"</A>
            " \u{b7} "
            <A href="/house/site">"The site"</A>
        </p>
    }
}
