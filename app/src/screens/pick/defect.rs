//! The sheet behind the defect button: what may be said of a bin and need not be.

use leptos::prelude::*;
use shared_types::trade::crops::{self, Defect, Stage};
use shared_types::wire::limits::NAME_MAX_CHARS;

use super::state::State;
use crate::parts::{Choice, Field, Sheet, Show};
use crate::words;

/// What is wrong, for crops that have stages how far along, and the tag: all optional.
#[component]
pub(super) fn DefectSheet(state: State) -> impl IntoView {
    let defects = move || {
        let chosen = state.typed.with(|typed| typed.defect.clone());
        Defect::ALL
            .into_iter()
            .map(|defect| {
                let key = words::key_of(&defect);
                let pressed = chosen.as_deref() == Some(key.as_str());
                let press = move || {
                    let key = key.clone();
                    state.edit(|typed| typed.defect = (!pressed).then_some(key));
                    state.close();
                };
                view! { <Choice title=defect.words() pressed on_press=press /> }
            })
            .collect_view()
    };
    let has_stages = move || {
        crops::crop(&state.crop())
            .is_some_and(|crop| crop.classes.iter().any(|class| !class.stages.is_empty()))
    };
    let stages = move || {
        let chosen = state.typed.with(|typed| typed.stage.clone());
        Stage::ALL
            .into_iter()
            .map(|stage| {
                let key = words::key_of(&stage);
                let pressed = chosen.as_deref() == Some(key.as_str());
                let press = move || {
                    let key = key.clone();
                    state.edit(|typed| typed.stage = (!pressed).then_some(key));
                    state.close();
                };
                view! { <Choice title=stage.words() sub=bounds(stage) pressed on_press=press /> }
            })
            .collect_view()
    };
    view! {
        <Sheet title="Defect, stage, tag" on_close=move || state.close()>
            <h3>"What is wrong with it"</h3>
            <div class="choices">{defects}</div>
            <Show when=has_stages>
                <h3>"How far it has coloured"</h3>
                <div class="choices">{stages}</div>
            </Show>
            <Show when=move || state.changing.with(Option::is_none)>
                <Tag state />
            </Show>
        </Sheet>
    }
}

/// `10 to 30 % of the surface`
fn bounds(stage: Stage) -> String {
    let (above, to) = stage.bounds();
    if to <= 0.0 { "no colour yet".to_owned() } else { format!("{above:.0} to {to:.0} % coloured") }
}

/// The tag on the container, typed as it is printed.
#[component]
fn Tag(state: State) -> impl IntoView {
    let tag =
        RwSignal::new(state.typed.with_untracked(|typed| typed.tag.clone()).unwrap_or_default());
    let submit = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let words: String = tag.get_untracked().trim().chars().take(NAME_MAX_CHARS).collect();
        state.edit(|typed| typed.tag = Some(words).filter(|words| !words.is_empty()));
        state.close();
    };
    view! {
        <form class="form new" on:submit=submit>
            <Field label="Tag on the bin" value=tag />
            <button class="button big" type="submit">
                "Use this tag"
            </button>
        </form>
    }
}
