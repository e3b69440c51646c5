//! The button by which a list leaves the program.

use leptos::prelude::*;

use super::Problem;
use crate::shell::save;

/// A button that saves a list as comma-separated text. Works without any network.
#[component]
pub fn Export<F>(
    /// What the list is, for who hears the button without seeing the list.
    what: &'static str,
    /// The file's name, without its ending.
    #[prop(into)]
    name: Signal<String>,
    /// Writes the text when the button is pressed.
    make: F,
) -> impl IntoView
where
    F: Fn() -> String + Send + Sync + 'static,
{
    let problem = RwSignal::new(None);
    let press = move |_| {
        let saved = save::text(&format!("{}.csv", name.get_untracked()), save::CSV, &make());
        problem.set(saved.err());
    };
    view! {
        <div class="buttons">
            <button class="button" on:click=press>
                "CSV"
                <span class="visually-hidden">{format!(" of {what}")}</span>
            </button>
        </div>
        <Problem text=problem />
    }
}
