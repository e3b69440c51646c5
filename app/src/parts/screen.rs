//! The frame of every screen: title, tabs, what is to be sent, banners, and the screen itself.

use std::cell::Cell;

use leptos::html;
use leptos::prelude::*;

use super::Show;
use leptos_router::components::A;

use super::banners::Banners;
use super::send::Send;
use crate::shell::js;

/// The tabs in order: address, name, and at which widths they stand. A phone has room for five, and
/// reaches the others under More.
const TABS: [(&str, &str, &str); 9] = [
    ("/", "Pick", ""),
    ("/tally", "Tally", ""),
    ("/ripening", "Ripening", ""),
    ("/kitchen", "Kitchen", ""),
    ("/stores", "Stores", "wide"),
    ("/tonight", "Tonight", "wide"),
    ("/season", "Season", "wide"),
    ("/house", "House", "wide"),
    ("/more", "More", "narrow"),
];

/// A screen. Moves the focus to its heading when it appears, so that a screen reader starts there.
#[component]
pub fn Screen(
    /// The heading.
    #[prop(into)]
    title: Signal<String>,
    /// A line under it.
    #[prop(into, optional)]
    sub: Signal<String>,
    /// Class of `<main>`.
    #[prop(optional)]
    class: &'static str,
    children: Children,
) -> impl IntoView {
    let heading = NodeRef::<html::H1>::new();
    Effect::new(move |_| {
        if let Some(heading) = heading.get() {
            // Not the first screen after a load, where the page's start is the right place.
            if FIRST.replace(false) {
                return;
            }
            let focused = heading.focus();
            debug_assert!(focused.is_ok(), "a heading with a tabindex");
        }
    });
    Effect::new(move |_| {
        if let Some(document) = js::window().document() {
            document.set_title(&title.with(|title| format!("{title} \u{b7} Lugbook")));
        }
    });
    let tabs = TABS
        .into_iter()
        .map(|(href, name, class)| {
            view! {
                <A href exact=href == "/" attr:class=class>
                    {name}
                </A>
            }
        })
        .collect_view();
    view! {
        <div class="app">
            <header class="top">
                <div class="title">
                    <h1 node_ref=heading tabindex="-1">
                        {title}
                    </h1>
                    <Show when=move || sub.with(|sub| !sub.is_empty())>
                        <p class="sub">{sub}</p>
                    </Show>
                </div>
                <nav class="tabs" aria-label="Screens">
                    {tabs}
                </nav>
                <Send />
            </header>
            <Banners />
            <main class=class>{children()}</main>
        </div>
    }
}

thread_local! {
    /// The first screen after a load has not appeared yet.
    static FIRST: Cell<bool> = const { Cell::new(true) };
}
