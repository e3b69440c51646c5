//! The screens, one module each.

mod house;
mod join;
mod kitchen;
pub mod pick;
mod ripening;
#[cfg(test)]
mod sample;
mod season;
mod stores;
mod tally;
mod tonight;

use leptos::prelude::*;
use leptos_router::components::A;

use crate::farm::use_farm;
use crate::parts::Screen;

pub use house::{House, HouseSection};
pub use join::Join;
pub use kitchen::Kitchen;
pub use pick::Pick;
pub use ripening::Ripening;
pub use season::Season;
pub use stores::Stores;
pub use tally::Tally;
pub use tonight::Tonight;

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

/// The screens a narrow phone has no tab for.
#[component]
pub fn More() -> impl IntoView {
    let rows = [
        ("/stores", "Stores", "what keeps, what to look at, what to eat first"),
        ("/tonight", "Tonight", "how cold it gets, who is at risk, chores, the cold check"),
        ("/season", "Season", "yields, what went wrong, year against year"),
        ("/house", "House", "people, places, rooms, devices, this phone"),
    ]
    .map(|(path, name, sub)| {
        view! {
            <li>
                <A href=path attr:class="row">
                    <div class="body">
                        <p class="title">{name}</p>
                        <p class="sub">{sub}</p>
                    </div>
                </A>
            </li>
        }
    });
    view! {
        <Screen title="More">
            <ul class="list">{rows}</ul>
        </Screen>
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
