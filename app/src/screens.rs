//! The screens, one module each.

mod house;
mod join;
mod kitchen;
pub mod pick;
mod ripening;
#[cfg(test)]
mod sample;
mod tally;

use leptos::prelude::*;

use crate::farm::use_farm;
use crate::parts::Screen;

pub use house::{House, HouseSection};
pub use join::Join;
pub use kitchen::Kitchen;
pub use pick::Pick;
pub use ripening::Ripening;
pub use tally::Tally;

/// The first screen: Pick; on a phone that was never asked, or whose address brings a code, who is
/// picking.
#[component]
pub fn Start() -> impl IntoView {
    let farm = use_farm();
    let brings_code = RwSignal::new(join::address_brings_code());
    let asks = Memo::new(move |_| brings_code.get() || farm.me.with(|me| !me.begun));
    let done = Callback::new(move |()| brings_code.set(false));
    move || match asks.get() {
        true => view! { <join::JoinForm done /> }.into_any(),
        false => view! { <Pick /> }.into_any(),
    }
}

/// An address that leads nowhere.
#[component]
pub fn NotFound() -> impl IntoView {
    view! {
        <Screen title="Nothing here">
            <p class="empty">"This address leads nowhere. Perhaps the link is old or cut short."</p>
            <p>
                <a class="button primary" href="/">
                    "Go to Pick"
                </a>
            </p>
        </Screen>
    }
}
