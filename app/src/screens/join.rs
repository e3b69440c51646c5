//! Joining: who is picking, and the code that lets the phone in.

use leptos::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use shared_types::entry::PersonSet;
use shared_types::wire::limits::NAME_MAX_CHARS;
use shared_types::wire::{EnrolRequest, Enrolled, VERSION};

use wasm_bindgen::JsValue;

use crate::farm::{Farm, use_farm};
use crate::parts::{Field, Problem, Screen, Show};
use crate::shell::http::{self, Answer};
use crate::shell::js;
use crate::words;

/// The way in for a phone that picked without joining, or was shut out.
#[component]
pub fn Join() -> impl IntoView {
    let navigate = use_navigate();
    let done = Callback::new(move |()| navigate("/", NavigateOptions::default()));
    view! { <JoinForm done /> }
}

/// Name and code. What is wrong stands under the field, and what was typed stays.
#[component]
pub(super) fn JoinForm(done: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let name = RwSignal::new(farm.me.with_untracked(|me| me.name.clone().unwrap_or_default()));
    let code = RwSignal::new(take_code_from_address().unwrap_or_default());
    let name_problem = RwSignal::new(None::<String>);
    let code_problem = RwSignal::new(None::<String>);
    let problem = RwSignal::new(None::<String>);
    let busy = RwSignal::new(false);
    // The person may have gone to another screen while the house was asked.
    let end = move |farm: Farm, ended: Result<(), Wrong>| {
        busy.set(false);
        let told = match ended {
            Ok(()) if busy.is_disposed() => None,
            Ok(()) => {
                done.run(());
                None
            }
            Err(Wrong::Code(reason)) => code_problem.try_set(Some(reason)),
            Err(Wrong::Else(reason)) => problem.try_set(Some(reason)),
        };
        if let Some(Some(reason)) = told {
            farm.tell(reason);
        }
    };
    let later = move |_| {
        let name = short(&name.get_untracked());
        wasm_bindgen_futures::spawn_local(async move {
            let begun = begin(farm, name, None).await.map_err(Wrong::Else);
            end(farm, begun);
        });
    };
    let join = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if busy.get_untracked() {
            return;
        }
        for problem in [name_problem, code_problem, problem] {
            problem.set(None);
        }
        let (name, code) = (short(&name.get_untracked()), code.get_untracked());
        if name.is_empty() {
            name_problem.set(Some("Type what the others call you.".to_owned()));
            return;
        }
        if code.trim().is_empty() {
            code_problem.set(Some("Type the code the house shows, or join later.".to_owned()));
            return;
        }
        busy.set(true);
        wasm_bindgen_futures::spawn_local(async move {
            end(farm, enrol(farm, name, code).await);
        });
    };
    let unsent = Memo::new(move |_| farm.status.with(|status| status.unsent));
    view! {
        <Screen title="Who is picking?" sub="So that the others see whose bins these are.">
            <form class="form" on:submit=join>
                <Field
                    label="Your name"
                    value=name
                    problem=name_problem
                    autocomplete="given-name"
                />
                <Field
                    label="Code"
                    class="code"
                    value=code
                    problem=code_problem
                    hint="Eight letters and digits, such as K7QM-2RTX. The house shows it under House, Devices."
                />
                <Problem text=problem />
                <button class="button primary big" type="submit" aria-disabled=move || busy.get().to_string()>
                    {move || if busy.get() { "Joining" } else { "Join" }}
                </button>
                <button class="button big" type="button" on:click=later>
                    "Keep bins now, join later"
                </button>
                <Show when=move || { unsent.get() > 0 }>
                    <p class="sub">
                        {move || {
                            format!(
                                "{} kept on this phone, sent once it has joined.",
                                words::count(unsent.get(), "entry"),
                            )
                        }}
                    </p>
                </Show>
            </form>
        </Screen>
    }
}

enum Wrong {
    Code(String),
    Else(String),
}

/// Asks to be let in under the device's own id, so that what it kept before is taken too.
async fn enrol(farm: Farm, name: String, code: String) -> Result<(), Wrong> {
    let request = EnrolRequest {
        v: VERSION,
        code,
        name: name.clone(),
        device: farm.device(),
        person: farm.person(),
    };
    match http::post("/api/v1/enrol", &request, None).await {
        Answer::Ok(enrolled) => begin(farm, name, Some(enrolled)).await.map_err(Wrong::Else),
        Answer::Refused(refusal) => Err(Wrong::Code(words::sentence(&refusal.message))),
        Answer::Unreachable(_) => Err(Wrong::Else(
            "The house could not be reached. Come nearer and press Join again, or keep bins now \
             and join later."
                .to_owned(),
        )),
    }
}

/// Keeps the name, if it is another, and writes down that the first screen was answered.
async fn begin(farm: Farm, name: String, enrolled: Option<Enrolled>) -> Result<(), String> {
    let before = farm.me.with_untracked(|me| me.name.clone());
    if !name.is_empty() && before.as_ref() != Some(&name) {
        farm.keep(PersonSet { person: farm.person(), name: name.clone() }).await?;
    }
    farm.set_me(|me| {
        me.begun = true;
        if !name.is_empty() {
            me.name = Some(name);
        }
        if let Some(enrolled) = enrolled {
            me.device = enrolled.device;
            me.token = Some(enrolled.token);
            me.role = Some(enrolled.role);
            me.renewing = None;
        }
    })
    .await
}

fn short(name: &str) -> String {
    name.trim().chars().take(NAME_MAX_CHARS).collect()
}

/// Before the code in an address like `…/#join=K7QM-2RTX`.
const MARK: &str = "#join=";

/// Whether the address brings a code.
pub(super) fn address_brings_code() -> bool {
    js::window().location().hash().is_ok_and(|hash| hash.starts_with(MARK))
}

/// The code of the address. It is taken out of the address, so that it is neither kept in the
/// history nor passed on with the page's link.
fn take_code_from_address() -> Option<String> {
    let window = js::window();
    let hash = window.location().hash().ok()?;
    let code = hash.strip_prefix(MARK)?.to_owned();
    let path = window.location().pathname().ok()?;
    let replaced = window.history().ok()?.replace_state_with_url(&JsValue::NULL, "", Some(&path));
    debug_assert!(replaced.is_ok(), "the page's own path is an address of its own");
    Some(code)
}
