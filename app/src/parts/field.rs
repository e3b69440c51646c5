//! A labelled line to type in.

use leptos::prelude::*;

/// Label, input, hint, and what is wrong with it.
#[component]
pub fn Field(
    /// What goes in.
    #[prop(into)]
    label: String,
    /// The text.
    value: RwSignal<String>,
    /// A remark under it.
    #[prop(into, optional)]
    hint: String,
    /// What is wrong with it.
    #[prop(into, optional)]
    problem: Signal<Option<String>>,
    /// Which keyboard a phone shows, such as `decimal`.
    #[prop(optional)]
    inputmode: &'static str,
    /// What browsers may fill in.
    #[prop(default = "off")]
    autocomplete: &'static str,
    /// The kind of input, such as `date`.
    #[prop(default = "text")]
    kind: &'static str,
    /// Class of the field, such as `code`.
    #[prop(optional)]
    class: &'static str,
) -> impl IntoView {
    let id = next_id();
    let (hint_id, problem_id) = (format!("{id}-hint"), format!("{id}-problem"));
    let described = format!("{hint_id} {problem_id}");
    let inputmode = (!inputmode.is_empty()).then_some(inputmode);
    let hint = (!hint.is_empty()).then(|| {
        view! {
            <p class="hint" id=hint_id>
                {hint}
            </p>
        }
    });
    view! {
        <div class=format!("field {class}")>
            <label for=id.clone()>{label}</label>
            <input
                id=id
                type=kind
                inputmode=inputmode
                autocomplete=autocomplete
                aria-describedby=described
                aria-invalid=move || problem.with(Option::is_some).then_some("true")
                prop:value=move || value.get()
                on:input:target=move |event| value.set(event.target().value())
            />
            {hint}
            <p class="problem" id=problem_id role="alert">
                {move || problem.get()}
            </p>
        </div>
    }
}

/// An id that no other field of this page has.
fn next_id() -> String {
    use std::sync::atomic::{AtomicUsize, Ordering};
    static FIELDS: AtomicUsize = AtomicUsize::new(0);
    format!("field-{}", FIELDS.fetch_add(1, Ordering::Relaxed))
}
