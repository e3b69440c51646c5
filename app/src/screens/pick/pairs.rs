//! "Same bin?": two phones may have logged one bin.

use leptos::prelude::*;
use shared_types::book::pairs::Pair;

use super::last::BinLine;
use super::state::State;

/// The unsettled pairs of the pick in force. Tracked.
pub(super) fn pairs_of(state: State) -> Vec<Pair> {
    let pick = state.chosen.with(|chosen| chosen.pick);
    state.farm.book.with(|book| {
        let is_here = |pair: &Pair| {
            let bin = book.bins.get(&pair.first).and_then(|bin| bin.now());
            bin.map(|bin| bin.pick) == pick
        };
        book.pairs().into_iter().filter(is_here).collect()
    })
}

#[component]
pub(super) fn Pairs(state: State) -> impl IntoView {
    let pairs = Memo::new(move |_| pairs_of(state));
    move || pairs.get().into_iter().map(|pair| view! { <PairView state pair /> }).collect_view()
}

#[component]
fn PairView(state: State, pair: Pair) -> impl IntoView {
    let Pair { first, second } = pair;
    view! {
        <div class="pair">
            <p class="ask">"Same bin?"</p>
            <BinLine state bin=first />
            <BinLine state bin=second />
            <div class="buttons">
                <button class="button big" on:click=move |_| state.keep_both(first, second)>
                    "Keep both"
                </button>
                <button
                    class="button big"
                    on:click=move |_| state.strike(second, Some("the same bin, logged twice"))
                >
                    "Keep one"
                </button>
            </div>
        </div>
    }
}
