//! Stores: what keeps, in the order to eat it, with what to look at first. A look takes seconds: all
//! sound is one press.

mod cure;
mod item;
mod look;
mod table;

use leptos::prelude::*;
use shared_types::ids::LotId;
use shared_types::outlook::{Today, stores};
use shared_types::units::Grams;

use crate::farm::use_farm;
use crate::parts::export::ExportTable;
use crate::parts::{Empty, Screen, Sheet, Show};
use crate::shell::clock;
use crate::words;

/// What is open in place of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Open {
    Nothing,
    Look(LotId),
    Cure(LotId),
}

/// The Stores screen.
#[component]
pub fn Stores() -> impl IntoView {
    let farm = use_farm();
    let told = Memo::new(move |_| {
        let today =
            Today { day: farm.today.get(), offset_minutes: clock::offset_minutes(farm.now()) };
        farm.book.with(|book| stores(book, today))
    });
    let open = RwSignal::new(Open::Nothing);
    let said = RwSignal::new(String::new());
    let sub = Signal::derive(move || words::day(farm.today.get()));
    let close = move || open.set(Open::Nothing);
    let done = Callback::new(move |words: String| {
        said.set(words);
        open.set(Open::Nothing);
    });
    let title_of = move |id: LotId| {
        told.with_untracked(|told| {
            let row = told.lots.iter().find(|row| row.lot.id == id);
            row.map_or_else(String::new, |row| format!("{}, {}", row.name, row.place_name))
        })
    };
    let list = move || {
        let ids: Vec<LotId> = told.with(|told| told.lots.iter().map(|row| row.lot.id).collect());
        ids.into_iter()
            .map(|id| {
                let row = Memo::new(move |_| {
                    told.with(|told| told.lots.iter().find(|row| row.lot.id == id).cloned())
                });
                view! { <item::Item row open said /> }
            })
            .collect_view()
    };
    let lead = move || {
        told.with(|told| {
            let weight: Grams = told.lots.iter().map(|row| row.left).sum();
            let due = match told.due {
                0 => "nothing to look at today".to_owned(),
                due => format!("{due} to look at"),
            };
            (
                due,
                format!(
                    "{} in {}",
                    words::weight(weight, farm.unit()),
                    words::count(told.lots.len(), "store")
                ),
            )
        })
    };
    view! {
        <Screen title="Stores" sub>
            {move || match open.get() {
                Open::Look(id) => view! {
                    <Sheet title=format!("A look at {}", title_of(id)) on_close=close>
                        <look::LookForm id done />
                    </Sheet>
                }
                .into_any(),
                Open::Cure(id) => view! {
                    <Sheet title=format!("Curing {}", title_of(id)) on_close=close>
                        <cure::CureForm id told done />
                    </Sheet>
                }
                .into_any(),
                Open::Nothing => view! {
                    <Show
                        when=move || told.with(|told| !told.lots.is_empty())
                        fallback=|| view! {
                            <Empty text="Nothing in store. Squash, onions, roots and heads show up here once a bin of them is kept." />
                        }
                    >
                        <div class="lead">
                            <h2>{move || lead().0}</h2>
                            <p class="sub">{move || lead().1}</p>
                        </div>
                        <p class="sub" role="status">{said}</p>
                        <section class="section">
                            <header>
                                <h2>"Eat first"</h2>
                                <span class="sub">"by what spoils soonest"</span>
                            </header>
                            <ul class="list">{list}</ul>
                            <ExportTable
                                what="the stores"
                                name=Signal::derive(move || format!("stores-{}", farm.today.get()))
                                make=move || told.with(|told| table::table(told, farm.unit()))
                            />
                        </section>
                        {move || {
                            let unknown = told.with(|told| told.unknown.join(", "));
                            (!unknown.is_empty()).then(|| view! {
                                <p class="note plain">
                                    {format!("No table says how long these keep: {unknown}. Look at them often.")}
                                </p>
                            })
                        }}
                    </Show>
                }
                .into_any(),
            }}
        </Screen>
    }
}
