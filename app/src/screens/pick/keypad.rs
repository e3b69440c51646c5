//! The keypad. Its keys stand in the order the stylesheet counts on.

use leptos::prelude::*;

use super::key::Key;
use super::state::State;

#[component]
pub(super) fn Keypad(state: State) -> impl IntoView {
    let press = move |key| state.edit(|typed| typed.press(key));
    let digit = move |digit: u8| {
        view! {
            <button class="key" on:click=move |_| press(Key::Digit(digit))>
                {digit.to_string()}
            </button>
        }
    };
    view! {
        <div class="keypad" role="group" aria-label="Weight on the scale">
            {(1..=9).map(digit).collect_view()}
            <button class="key" aria-label="point" on:click=move |_| press(Key::Point)>
                "."
            </button>
            {digit(0)}
            <button
                class="key"
                aria-label="Delete last digit"
                on:click=move |_| press(Key::Back)
            >
                <svg
                    viewBox="0 0 36 36"
                    aria-hidden="true"
                    fill="none"
                    stroke="currentColor"
                    stroke-width="2.5"
                    stroke-linejoin="round"
                    stroke-linecap="round"
                >
                    <path d="M12 8h20v20H12L3 18z" />
                    <path d="M17 13.500l9 9m0-9l-9 9" />
                </svg>
            </button>
        </div>
    }
}
