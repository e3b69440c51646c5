//! A sheet opens in place for choosing: big buttons, no dialog.

use leptos::prelude::*;

/// A sheet with a heading and a way out.
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
    view! {
        <section class="sheet" aria-label=label>
            <header>
                <h2>{title}</h2>
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
