//! The button by which a list leaves the program.

use leptos::prelude::*;

use super::Problem;
use crate::csv::Table;
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

/// Two buttons that save a list: comma-separated for spreadsheets, JSON Lines for programs.
#[component]
pub fn ExportTable<F>(
    /// What the list is, for who hears the buttons without seeing the list.
    what: &'static str,
    /// The file's name, without its ending.
    #[prop(into)]
    name: Signal<String>,
    /// Makes the list when a button is pressed.
    make: F,
) -> impl IntoView
where
    F: Fn() -> Table + Send + Sync + 'static,
{
    let problem = RwSignal::new(None);
    let make = StoredValue::new(make);
    let offer = move |ending: &str, media: &str, text: String| {
        let saved = save::text(&format!("{}.{ending}", name.get_untracked()), media, &text);
        problem.set(saved.err());
    };
    let csv = move |_| offer("csv", save::CSV, make.with_value(|make| make().csv()));
    let lines =
        move |_| offer("jsonl", save::JSON_LINES, make.with_value(|make| make().json_lines()));
    let of = format!(" of {what}");
    view! {
        <div class="buttons no-print">
            <button class="button quiet" on:click=csv>
                "CSV"
                <span class="visually-hidden">{of.clone()}</span>
            </button>
            <button class="button quiet" on:click=lines>
                "JSON Lines"
                <span class="visually-hidden">{of}</span>
            </button>
        </div>
        <Problem text=problem />
    }
}
