//! Showing something only while it holds.

use std::sync::Arc;

use leptos::prelude::*;

/// Like the library's component of this name, but of one type whatever is inside: that one is
/// compiled anew for every use, and a phone downloads each.
#[component]
pub fn Show(
    /// Whether to show it.
    #[prop(into)]
    when: Signal<bool>,
    /// What to show instead.
    #[prop(into, optional)]
    fallback: ViewFn,
    children: ChildrenFn,
) -> impl IntoView {
    let holds = Memo::new(move |_| when.get());
    let fallback = Arc::new(fallback);
    move || if holds.get() { children() } else { fallback.run() }
}
