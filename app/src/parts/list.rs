//! A row of a list.

use leptos::prelude::*;

/// Title and remark at the left, figures at the right, buttons on their own line. Put it in an
/// element of class `list`.
#[component]
pub fn Row(
    /// What it is.
    #[prop(into)]
    title: String,
    /// A remark under it.
    #[prop(into, optional)]
    sub: String,
    /// A figure at the right.
    #[prop(into, optional)]
    right: String,
    /// A remark under the figure.
    #[prop(into, optional)]
    right_sub: String,
    /// Buttons.
    #[prop(optional)]
    children: Option<Children>,
) -> impl IntoView {
    let sub = (!sub.is_empty()).then(|| view! { <p class="sub">{sub}</p> });
    let has_right = !right.is_empty() || !right_sub.is_empty();
    let right = has_right.then(|| {
        view! {
            <div class="right">
                <b>{right}</b>
                <span class="sub">{right_sub}</span>
            </div>
        }
    });
    let buttons = children.map(|children| view! { <div class="buttons">{children()}</div> });
    view! {
        <li class="row">
            <div class="body">
                <p class="title">{title}</p>
                {sub}
            </div>
            {right}
            {buttons}
        </li>
    }
}
