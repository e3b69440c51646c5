//! Who may write, and letting another phone in. Asked of the server, so only near the house.

use leptos::prelude::*;
use leptos_router::components::A;
use shared_types::ids::DeviceId;
use shared_types::wire::{Code, DeviceInfo, RevokeRequest, Role};

use crate::farm::{Farm, use_farm};
use crate::parts::{Problem, Row, Show};
use crate::shell::clock;
use crate::words;

/// What the server told.
#[derive(Clone, Debug)]
enum Told {
    Asking,
    List(Vec<DeviceInfo>),
    Problem(String),
}

#[component]
pub(super) fn Devices() -> impl IntoView {
    let farm = use_farm();
    let is_joined = farm.me.with_untracked(|me| me.token.is_some());
    if !is_joined {
        return view! {
            <p class="empty">"This phone has not joined the house yet."</p>
            <div class="buttons">
                <A href="/join" attr:class="button primary">
                    "Join"
                </A>
            </div>
        }
        .into_any();
    }
    let told = RwSignal::new(Told::Asking);
    let ask = Callback::new(move |()| {
        wasm_bindgen_futures::spawn_local(async move {
            let answer = farm.get::<Vec<DeviceInfo>>("/api/v1/devices").await;
            told.set(answer.into_result().map_or_else(Told::Problem, Told::List));
        });
    });
    ask.run(());
    view! {
        <Show when=move || farm.is_owner()>
            <NewCode farm />
        </Show>
        {move || match told.get() {
            Told::Asking => view! { <p class="empty">"Asking the house."</p> }.into_any(),
            Told::Problem(words) => {
                view! {
                    <Problem text=Some(words) />
                    <div class="buttons">
                        <button class="button" on:click=move |_| ask.run(())>
                            "Ask again"
                        </button>
                    </div>
                }
                    .into_any()
            }
            Told::List(devices) => {
                let rows = devices
                    .into_iter()
                    .map(|device| view! { <Device farm device ask /> })
                    .collect_view();
                view! { <ul class="list">{rows}</ul> }.into_any()
            }
        }}
    }
    .into_any()
}

/// A code for one more phone, to be read out or opened as a link.
#[component]
fn NewCode(farm: Farm) -> impl IntoView {
    let code = RwSignal::new(None::<Code>);
    let problem = RwSignal::new(None::<String>);
    let make = move |_| {
        wasm_bindgen_futures::spawn_local(async move {
            match farm.post::<Code>("/api/v1/codes", &serde_json::json!({})).await.into_result() {
                Ok(made) => {
                    problem.set(None);
                    code.set(Some(made));
                }
                Err(words) => problem.set(Some(words)),
            }
        });
    };
    view! {
        <div class="buttons">
            <button class="button" on:click=make>
                "Let a phone in"
            </button>
        </div>
        <Problem text=problem />
        <div role="status">
            {move || {
                code.get()
                    .map(|made| {
                        let until = format!(
                            "Good until {}. Type it on the other phone, under Join.",
                            farm.time(made.until),
                        );
                        view! {
                            <dl class="figures">
                                <div class="figure">
                                    <dt>"Code"</dt>
                                    <dd>
                                        <b>{made.code}</b>
                                        {until}
                                    </dd>
                                </div>
                            </dl>
                        }
                    })
            }}
        </div>
    }
}

#[component]
fn Device(farm: Farm, device: DeviceInfo, ask: Callback<()>) -> impl IntoView {
    let today = farm.today.get_untracked();
    let when = |at| format!("{}, {}", words::day_or_today(clock::day_of(at), today), farm.time(at));
    let role = match device.role {
        Role::Owner => "owner",
        Role::Helper => "helper",
        Role::Viewer => "may only look",
    };
    let is_this = device.device == farm.device();
    let sub = match (device.revoked, device.seen) {
        (Some(at), _) => format!("{role} \u{b7} shut out {}", when(at)),
        (None, Some(at)) => format!("{role} \u{b7} last here {}", when(at)),
        (None, None) => format!("{role} \u{b7} joined {}", when(device.enrolled)),
    };
    let title = if is_this { format!("{}, this phone", device.name) } else { device.name.clone() };
    let may_shut_out = untrack(move || farm.is_owner()) && !is_this && device.revoked.is_none();
    view! {
        <Row title sub>
            {may_shut_out.then(|| view! { <ShutOut farm device=device.device name=device.name ask /> })}
        </Row>
    }
}

/// Two presses, the second one saying what it does.
#[component]
fn ShutOut(farm: Farm, device: DeviceId, name: String, ask: Callback<()>) -> impl IntoView {
    let sure = RwSignal::new(false);
    let problem = RwSignal::new(None::<String>);
    let revoke = move |_| {
        wasm_bindgen_futures::spawn_local(async move {
            let request = RevokeRequest { device };
            match farm.post::<()>("/api/v1/devices/revoke", &request).await.into_result() {
                // The screen may have been left meanwhile.
                Ok(()) if !problem.is_disposed() => ask.run(()),
                Ok(()) => {}
                Err(words) => problem.set(Some(words)),
            }
        });
    };
    let name = StoredValue::new(name);
    view! {
        <Show
            when=move || sure.get()
            fallback=move || {
                view! {
                    <button class="button" on:click=move |_| sure.set(true)>
                        "Shut out"
                    </button>
                }
            }
        >
            <button class="button" on:click=revoke>
                {format!("Yes, shut out {}", name.get_value())}
            </button>
            <button class="button quiet" on:click=move |_| sure.set(false)>
                "No"
            </button>
        </Show>
        <Problem text=problem />
    }
}
