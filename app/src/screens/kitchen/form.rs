//! A form that keeps several facts, all or as far as the disk takes them.

use leptos::prelude::*;
use shared_types::entry::Fact;

use crate::farm::{Farm, use_farm};
use crate::parts::Problem;

/// What a form comes to: facts to keep, or what is wrong with what was typed.
pub type Made = Result<Vec<Fact>, String>;

/// Keeps facts one after the other.
///
/// # Errors
/// Words for the person; what was kept before the failure stays kept.
pub async fn keep_all(farm: Farm, facts: Vec<Fact>) -> Result<(), String> {
    for fact in facts {
        farm.keep(fact).await.map_err(|words| format!("Not kept. {words}"))?;
    }
    Ok(())
}

/// Keeps facts from an event handler; a failure is said wherever the person is.
pub fn keep_and_tell(farm: Farm, facts: Vec<Fact>) {
    wasm_bindgen_futures::spawn_local(async move {
        if let Err(words) = keep_all(farm, facts).await {
            farm.tell(words);
        }
    });
}

/// Fields around a button. `done` is called once everything is kept, or when nothing was changed.
#[component]
pub fn Form(
    /// Makes the facts.
    make: Box<dyn Fn() -> Made>,
    /// What the button says.
    #[prop(default = "Keep")]
    button: &'static str,
    /// Called once it is kept.
    done: Callback<()>,
    children: Children,
) -> impl IntoView {
    let farm = use_farm();
    let problem = RwSignal::new(None::<String>);
    let busy = RwSignal::new(false);
    let submit = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if busy.get_untracked() {
            return;
        }
        problem.set(None);
        match make() {
            Ok(facts) => {
                busy.set(true);
                wasm_bindgen_futures::spawn_local(async move {
                    let kept = keep_all(farm, facts).await;
                    busy.set(false);
                    match kept {
                        Ok(()) if !problem.is_disposed() => done.run(()),
                        Ok(()) => {}
                        Err(words) => {
                            if let Some(Some(words)) = problem.try_set(Some(words)) {
                                farm.tell(words);
                            }
                        }
                    }
                });
            }
            Err(words) => problem.set(Some(words)),
        }
    };
    view! {
        <form class="form" novalidate on:submit=submit>
            {children()}
            <Problem text=problem />
            <div class="buttons">
                <button
                    class="button primary"
                    type="submit"
                    aria-disabled=move || busy.get().to_string()
                >
                    {button}
                </button>
            </div>
        </form>
    }
}
