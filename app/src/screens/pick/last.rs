//! The last five bins of this phone, with undo, change and history; and pairs to settle.

use leptos::prelude::*;
use shared_types::ids::BinId;

use super::history::History;
use super::pairs::Pairs;
use super::state::State;
use crate::parts::{Sheet, Show, class_mark};
use crate::words;

/// How many bins the list holds.
const LAST: usize = 5;

#[component]
pub(super) fn LastSheet(state: State) -> impl IntoView {
    let farm = state.farm;
    let last = Memo::new(move |_| {
        let person = farm.person();
        farm.book.with(|book| {
            // A bin's name begins with the time it was made, so names are in order already.
            book.bins
                .iter()
                .rev()
                .filter(|(_, bin)| bin.kept.as_ref().is_some_and(|kept| kept.fact.person == person))
                .map(|(id, _)| *id)
                .take(LAST)
                .collect::<Vec<_>>()
        })
    });
    let said = move || match state.line.get() {
        super::state::Line::Done(words) | super::state::Line::Wrong(words) => words,
        _ => String::new(),
    };
    view! {
        <Sheet title="Last five bins" on_close=move || state.close()>
            <Pairs state />
            <p class="asked" role="status">
                {said}
            </p>
            <Show when=move || last.with(Vec::is_empty)>
                <p class="empty">"No bins from this phone yet."</p>
            </Show>
            <div class="list">
                <For each=move || last.get() key=|bin| *bin let:bin>
                    <LastBin state bin />
                </For>
            </div>
        </Sheet>
    }
}

#[component]
fn LastBin(state: State, bin: BinId) -> impl IntoView {
    let farm = state.farm;
    let is_struck = Memo::new(move |_| {
        farm.book.with(|book| book.bins.get(&bin).is_some_and(|bin| bin.struck.is_some()))
    });
    let history = RwSignal::new(false);
    let change = move |_| {
        let now = farm.book.with_untracked(|book| {
            book.bins.get(&bin).and_then(|bin| bin.now().map(std::borrow::Cow::into_owned))
        });
        if let Some(now) = now {
            state.change(&now);
        }
    };
    view! {
        <BinLine state bin>
            <Show when=move || !is_struck.get()>
                <button class="button big" on:click=move |_| state.strike(bin, None)>
                    "Undo"
                </button>
                <button class="button big" on:click=change>
                    "Change"
                </button>
            </Show>
            <button
                class="button quiet big"
                aria-expanded=move || history.get().to_string()
                on:click=move |_| history.update(|open| *open = !*open)
            >
                "History"
            </button>
        </BinLine>
        <Show when=move || history.get()>
            <History state bin />
        </Show>
    }
}

/// A bin as one line, with whatever buttons go with it.
#[component]
pub(super) fn BinLine(
    state: State,
    bin: BinId,
    #[prop(optional)] children: Option<Children>,
) -> impl IntoView {
    let farm = state.farm;
    let line = move || {
        let unit = farm.unit();
        farm.book.with(|book| {
            let entry = book.bins.get(&bin)?;
            let now = entry.now()?;
            let weight = words::weight(entry.net(), unit);
            let class = words::class_name(&now.crop, &now.class);
            let title = format!("{class} {weight}");
            let extra = [
                now.stage.as_deref().map(words::stage_words),
                now.defect.as_deref().map(words::defect_words),
                now.tag.as_ref().map(|tag| format!("tag {tag}")),
                entry.struck.as_ref().map(|struck| {
                    let who = book.person_name(struck.fact.person);
                    format!("taken out by {who}, {}", farm.time(struck.stamp.hlc.0))
                }),
            ];
            let mut sub = vec![
                farm.time(now.at),
                book.person_name(now.person).to_owned(),
                book.place_name(now.place).to_owned(),
                words::crop_line(book, &now.crop, now.variety),
            ];
            sub.extend(extra.into_iter().flatten());
            let title = if entry.struck.is_some() {
                view! { <del>{title}</del> }.into_any()
            } else {
                title.into_any()
            };
            Some(view! {
                {class_mark(&now.crop, &now.class)}
                <div class="body">
                    <p class="title">{title}</p>
                    <p class="sub">{sub.join(" \u{b7} ")}</p>
                </div>
            })
        })
    };
    view! {
        <div class="row">
            {line}
            {children.map(|children| view! { <div class="buttons">{children()}</div> })}
        </div>
    }
}
