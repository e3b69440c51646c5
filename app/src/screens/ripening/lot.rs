//! One lot of the list, and what opens under it.

use leptos::prelude::*;
use shared_types::ids::LotId;
use shared_types::outlook::{Outlook, Today};

use super::lots::LotRow;
use super::move_to::MoveTo;
use super::page::Page;
use super::round::{Kept, RoundForm};
use super::take_out::TakeOut;
use crate::farm::use_farm;
use crate::parts::{class_mark, class_tone};
use crate::words;

/// A row that opens. Its words follow the book while it is open, and what is typed in it stays.
#[component]
pub fn LotItem(
    id: LotId,
    shown: Memo<Page>,
    told: Memo<Outlook>,
    today: Memo<Today>,
    open: RwSignal<Option<LotId>>,
    said: RwSignal<String>,
    kept: Callback<Kept>,
) -> impl IntoView {
    let farm = use_farm();
    let found =
        Memo::new(move |_| shown.with(|page| page.lots.iter().find(|lot| lot.id == id).cloned()));
    let is_open = Memo::new(move |_| open.get() == Some(id));
    let toggle = move |_| {
        said.set(String::new());
        open.update(|open| *open = (*open != Some(id)).then_some(id));
    };
    let panel = format!("lot-{id}");
    let controls = panel.clone();
    let row = move || found.get().map(|lot| face(&lot, words::weight(lot.left, farm.unit())));
    let tone =
        move || found.with(|lot| lot.as_ref().map_or("", |lot| class_tone(&lot.crop, &lot.class)));
    view! {
        <li class=tone>
            <button
                class="row"
                aria-expanded=move || is_open.get().to_string()
                aria-controls=controls
                on:click=toggle
            >
                {row}
            </button>
            <div class="panel" id=panel hidden=move || !is_open.get()>
                <Show when=move || is_open.get()>
                    <Panel id found told today said kept />
                </Show>
            </div>
        </li>
    }
}

fn face(lot: &LotRow, left: String) -> impl IntoView + use<> {
    let subs = lot.subs.iter().map(|sub| view! { <span class="sub">{sub.clone()}</span> });
    view! {
        {class_mark(&lot.crop, &lot.class)}
        <span class="body">
            <span class="title">{lot.title.clone()}</span>
            {subs.collect_view()}
        </span>
        <span class="right">
            <b>{lot.dates.clone()}</b>
            <span class="sub">{left}</span>
        </span>
    }
}

#[component]
fn Panel(
    id: LotId,
    found: Memo<Option<LotRow>>,
    told: Memo<Outlook>,
    today: Memo<Today>,
    said: RwSignal<String>,
    kept: Callback<Kept>,
) -> impl IntoView {
    let farm = use_farm();
    view! {
        <Show when=move || farm.may_write()>
            <RoundForm id found kept />
        </Show>
        {move || found.get().map(|lot| facts(&lot))}
        <Show when=move || farm.may_write()>
            <MoveTo id found told today said />
            <TakeOut id found said />
        </Show>
    }
}

/// Why these dates, what to look out for, and what it may be used for.
fn facts(lot: &LotRow) -> impl IntoView + use<> {
    let cautions = lot.cautions.iter().map(|(text, source)| {
        view! {
            <div class="note">
                <p>{text.clone()}</p>
                <p class="source">{source.clone()}</p>
            </div>
        }
    });
    let uses = if lot.uses.is_empty() {
        view! { <span>"compost only"</span> }.into_any()
    } else {
        let tag = |one: &shared_types::trade::fitness::Use| view! { <span>{one.word()}</span> };
        lot.uses.iter().map(tag).collect_view().into_any()
    };
    view! {
        <h3>"Why these dates"</h3>
        {lot.last_round.clone().map(|words| view! { <p>{words}</p> })}
        <p>{lot.why.clone()}</p>
        {cautions.collect_view()}
        <h3>"May be used for"</h3>
        <p class="tags">{uses}</p>
        <p>{lot.reason.clone()}</p>
        <p class="source">{lot.source.clone()}</p>
    }
}
