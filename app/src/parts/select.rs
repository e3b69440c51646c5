//! One of many: the browser's own list, which a phone opens full size.

use leptos::prelude::*;

/// A label over a list to choose one from.
#[component]
pub fn Select<T>(
    /// Ties the label to the list.
    id: &'static str,
    /// What is chosen.
    label: &'static str,
    /// What there is, each with its words.
    #[prop(into)]
    options: Signal<Vec<(T, String)>>,
    /// What is chosen now.
    #[prop(into)]
    chosen: Signal<T>,
    /// Called with what was chosen.
    #[prop(into)]
    on_choose: Callback<T>,
) -> impl IntoView
where
    T: Clone + PartialEq + Send + Sync + 'static,
{
    let choose = move |event| {
        // The list's values are places in `options`.
        let place = event_target_value(&event).parse::<usize>().ok();
        let value = place.and_then(|place| {
            options.with_untracked(|all| all.get(place).map(|(value, _)| value.clone()))
        });
        if let Some(value) = value {
            on_choose.run(value);
        }
    };
    let list = move || {
        let option = |(place, (value, words)): (usize, (T, String))| {
            view! {
                <option value=place.to_string() prop:selected=move || chosen.get() == value>
                    {words}
                </option>
            }
        };
        options.get().into_iter().enumerate().map(option).collect_view()
    };
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <select id=id on:change=choose>
                {list}
            </select>
        </div>
    }
}
