//! Tally: what it all comes to, by any two of crop, variety, class, place, picker and day, and who
//! guessed closest.

mod bars;
mod grid;
mod guess;
mod guesses;
mod table;

use leptos::prelude::*;
use shared_types::book::totals::By;

use crate::farm::use_farm;
use crate::parts::export::Export;
use crate::parts::select::Select;
use crate::parts::{Empty, Screen};
use crate::words;
use bars::Bars;
use grid::Grid;
use guesses::Guesses;
use table::{Scope, Table};

/// What totals can be split by here; picks are chosen, not split by.
const OFFERED: [By; 6] = [By::Class, By::Crop, By::Variety, By::Place, By::Picker, By::Day];

/// The Tally screen.
#[component]
pub fn Tally() -> impl IntoView {
    let farm = use_farm();
    let wanted = RwSignal::new(None::<Scope>);
    let (by, across) = (RwSignal::new(By::Class), RwSignal::new(None::<By>));
    let picks = Memo::new(move |_| farm.book.with(|book| table::picks(book)));
    let scope = Memo::new(move |_| {
        wanted.get().unwrap_or_else(|| {
            let open = farm.book.with(|book| book.open_pick());
            open.or_else(|| picks.with(|picks| picks.first().map(|(id, _)| *id)))
                .map_or(Scope::Season, Scope::Pick)
        })
    });
    let shown = Memo::new(move |_| {
        farm.book.with(|book| table::table(book, scope.get(), by.get(), across.get()))
    });
    let of = move || match scope.get() {
        Scope::Season => "the whole season".to_owned(),
        Scope::Pick(pick) => picks.with(|picks| {
            let found = picks.iter().find(|(id, _)| *id == pick);
            found.map(|(_, name)| name.clone()).unwrap_or_default()
        }),
    };
    let total = move || shown.with(|table| words::weight(table.total, farm.unit()));
    let bins = move || shown.with(|table| words::count(table.bins, "bin"));
    let any = move || shown.with(|table| table.bins > 0);
    view! {
        <Screen title="Tally" sub=Signal::derive(of) class="flush">
            <div class="split">
                <section aria-label="Totals">
                    <div class="lead">
                        <h2>{total}</h2>
                        <p class="sub">{move || format!("in {}", bins())}</p>
                    </div>
                    <SameBin />
                    <Show when=move || picks.with(|picks| !picks.is_empty())>
                        <Choices picks scope wanted by across />
                    </Show>
                    <Show
                        when=any
                        fallback=|| {
                            view! { <Empty text="Nothing weighed yet. Bins kept on Pick add up here." /> }
                        }
                    >
                        <Bars table=shown />
                    </Show>
                </section>
                <section aria-label="Table and guesses">
                    <Show when=any>
                        <TableAndFile table=shown />
                    </Show>
                    <Guesses scope />
                </section>
            </div>
        </Screen>
    }
}

/// Which bins are added up, and what the sum is split by.
#[component]
fn Choices(
    picks: Memo<Vec<(shared_types::ids::PickId, String)>>,
    scope: Memo<Scope>,
    wanted: RwSignal<Option<Scope>>,
    by: RwSignal<By>,
    across: RwSignal<Option<By>>,
) -> impl IntoView {
    let scopes = Signal::derive(move || {
        let mut all: Vec<(Scope, String)> =
            picks.get().into_iter().map(|(id, name)| (Scope::Pick(id), name)).collect();
        all.push((Scope::Season, "Whole season".to_owned()));
        all
    });
    let second = Signal::derive(move || {
        let mut all = vec![(None, "nothing else".to_owned())];
        let others = OFFERED.into_iter().filter(|other| *other != by.get());
        all.extend(others.map(|other| (Some(other), other.word().to_owned())));
        all
    });
    let split_by = move |chosen: By| {
        by.set(chosen);
        if across.get_untracked() == Some(chosen) {
            across.set(None);
        }
    };
    view! {
        <div class="selects no-print">
            <Select
                id="tally-pick"
                label="Weighed in"
                options=scopes
                chosen=scope
                on_choose=move |chosen| wanted.set(Some(chosen))
            />
            <Select
                id="tally-by"
                label="by"
                options=OFFERED.map(|by| (by, by.word().to_owned())).to_vec()
                chosen=by
                on_choose=split_by
            />
            <Select
                id="tally-across"
                label="and by"
                options=second
                chosen=across
                on_choose=move |chosen| across.set(chosen)
            />
        </div>
    }
}

#[component]
fn TableAndFile(table: Memo<Table>) -> impl IntoView {
    let farm = use_farm();
    let make = move || {
        let unit = untrack(|| farm.unit());
        table.with_untracked(|table| table::csv(table, unit))
    };
    view! {
        <Grid table />
        <Export
            what="these totals"
            name=Signal::derive(move || format!("tally-{}", farm.today.get()))
            make
        />
    }
}

/// How many pairs of bins may be one, and where to settle it.
#[component]
fn SameBin() -> impl IntoView {
    let farm = use_farm();
    let pairs = Memo::new(move |_| farm.book.with(|book| book.pairs().len()));
    let any = move || pairs.get() > 0;
    let text = move || match pairs.get() {
        1 => "Two bins look like one, and both count. ".to_owned(),
        n => format!("{n} pairs of bins look like one bin each, and all count. "),
    };
    view! {
        <Show when=any>
            <div class="note">
                <p>{text} <a href="/">"Settle it on Pick"</a></p>
            </div>
        </Show>
    }
}
