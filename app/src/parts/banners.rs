//! Remarks about the program itself, between header and screen.

use leptos::prelude::*;

use super::Show;
use leptos_router::components::A;
use shared_types::engine::Link;
use shared_types::wire::RefusalCode;

use crate::farm::{Farm, use_farm};
use crate::shell::worker;
use crate::words;

/// An update to take over, a link that needs a person, and what the engine told.
#[component]
pub(super) fn Banners() -> impl IntoView {
    let farm = use_farm();
    let update = Memo::new(move |_| update_offered(farm));
    let stopped = Memo::new(move |_| match farm.status.with(|status| status.link.clone()) {
        Link::Stopped(refusal) => Some(refusal),
        _ => None,
    });
    let is_viewer = Memo::new(move |_| !farm.may_write());
    view! {
        {move || {
            update
                .get()
                .map(|update| {
                    view! {
                        <div class="banner" role="status">
                            <p>"A new version is ready."</p>
                            <button class="button" on:click=move |_| worker::take_over(update)>
                                "Update now"
                            </button>
                        </div>
                    }
                })
        }}
        {move || {
            stopped
                .get()
                .map(|refusal| {
                    let joins = matches!(
                        refusal.code,
                        RefusalCode::TokenUnknown | RefusalCode::Revoked
                    );
                    view! {
                        <div class="banner warn" role="status">
                            <p>{words::sentence(&refusal.message)}</p>
                            <div class="buttons">
                                {joins
                                    .then(|| {
                                        view! {
                                            <A href="/join" attr:class="button">
                                                "Join again"
                                            </A>
                                        }
                                    })}
                            </div>
                        </div>
                    }
                })
        }}
        <Show when=move || is_viewer.get()>
            <div class="banner" role="status">
                <p>"This phone may only look. What it keeps stays here; ask the grower to let it write."</p>
            </div>
        </Show>
        <For each=move || farm.notices.get() key=Clone::clone let:notice>
            <Notice farm notice />
        </For>
    }
}

#[component]
fn Notice(farm: Farm, notice: String) -> impl IntoView {
    let text = notice.clone();
    view! {
        <div class="banner" role="status">
            <p>{text}</p>
            <button
                class="button quiet"
                on:click=move |_| farm.notices.update(|all| all.retain(|other| *other != notice))
            >
                "Seen"
            </button>
        </div>
    }
}

/// An update is offered only when nothing is being kept or typed. What was kept lies on the phone's
/// disk, which no update touches.
fn update_offered(farm: Farm) -> Option<worker::Update> {
    let update = farm.program.with(|program| program.update)?;
    (farm.keeping.get() == 0 && !farm.typing.get()).then_some(update)
}
