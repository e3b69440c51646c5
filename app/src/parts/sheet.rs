//! A sheet opens in place for choosing: big buttons, no dialog.

use leptos::html;
use leptos::prelude::*;

/// A sheet with a heading and a way out. Takes the focus, so that a screen reader reads it.
#[component]
pub fn Sheet(
    /// The heading.
    #[prop(into)]
    title: String,
    /// Pressed to leave it.
    on_close: impl Fn() + 'static,
    children: Children,
) -> impl IntoView {
    let label = title.clone();
    let heading = NodeRef::<html::H2>::new();
    Effect::new(move |_| {
        if let Some(heading) = heading.get() {
            let focused = heading.focus();
            debug_assert!(focused.is_ok(), "a heading with a tabindex");
        }
    });
    view! {
        <section class="sheet" aria-label=label>
            <header>
                <h2 node_ref=heading tabindex="-1">
                    {title}
                </h2>
                <button class="button quiet" on:click=move |_| on_close()>
                    "Close"
                </button>
            </header>
            {children()}
        </section>
    }
}

/// One of several things to choose; put them in an element of class `choices`.
#[component]
pub fn Choice(
    /// What it is.
    #[prop(into)]
    title: String,
    /// A remark under it.
    #[prop(into, optional)]
    sub: String,
    /// It is the chosen one.
    #[prop(optional)]
    pressed: bool,
    /// Chosen.
    on_press: impl Fn() + 'static,
) -> impl IntoView {
    let sub = (!sub.is_empty()).then(|| view! { <span class="sub">{sub}</span> });
    view! {
        <button class="choice" aria-pressed=pressed.to_string() on:click=move |_| on_press()>
            {title}
            {sub}
        </button>
    }
}
