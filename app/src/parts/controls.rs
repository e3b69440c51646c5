//! Small controls.

use leptos::prelude::*;

/// A line with a box to tick.
#[component]
pub fn Toggle(
    /// What is on or off.
    #[prop(into)]
    label: String,
    /// Whether it is on.
    on: RwSignal<bool>,
) -> impl IntoView {
    view! {
        <label class="check">
            <input
                type="checkbox"
                prop:checked=move || on.get()
                on:change:target=move |event| on.set(event.target().checked())
            />
            {label}
        </label>
    }
}

/// One of a few, side by side.
#[component]
pub fn Segmented<T>(
    /// What is chosen, for screen readers.
    #[prop(into)]
    label: String,
    /// The values and their words.
    options: Vec<(T, String)>,
    /// The chosen one.
    chosen: RwSignal<T>,
) -> impl IntoView
where
    T: Clone + PartialEq + Send + Sync + 'static,
{
    let buttons = options
        .into_iter()
        .map(|(value, words)| {
            let own = value.clone();
            let pressed = move || chosen.with(|chosen| *chosen == own).to_string();
            view! {
                <button
                    type="button"
                    aria-pressed=pressed
                    on:click=move |_| chosen.set(value.clone())
                >
                    {words}
                </button>
            }
        })
        .collect_view();
    view! {
        <div class="segmented" role="group" aria-label=label>
            {buttons}
        </div>
    }
}

/// What went wrong and what to do, or nothing.
#[component]
pub fn Problem(
    /// The words.
    #[prop(into)]
    text: Signal<Option<String>>,
) -> impl IntoView {
    move || {
        text.get().map(|text| {
            view! {
                <div class="error" role="alert">
                    {text}
                </div>
            }
        })
    }
}

/// Nothing here yet, and what would put something here.
#[component]
pub fn Empty(
    /// The words.
    #[prop(into)]
    text: String,
) -> impl IntoView {
    view! { <p class="empty">{text}</p> }
}
