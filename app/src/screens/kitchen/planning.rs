//! Making a plan on this phone, looking at it, keeping it.

use std::sync::Arc;

use leptos::prelude::*;
use shared_types::book::Book;
use shared_types::entry::Fact;
use shared_types::ids::{BatchId, PlanId};
use shared_types::outlook::Today;
use shared_types::outlook::kitchen::{Kept, keep, problem};
use shared_types::trade::kitchen::planner::{Plan, PlanError, Problem};

use super::preview::preview;
use super::solver;
use crate::farm::Farm;
use crate::parts::{Problem as Trouble, Show};
use crate::shell::clock::offset_minutes;

/// How the making of a plan stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum State {
    /// Nothing is being made.
    #[default]
    Idle,
    /// The search goes on; so many per cent of it are done.
    Working(u32),
    /// It could not be made, in words.
    Failed(String),
    /// It is being written to the disk.
    Keeping,
}

/// A plan that was made and not kept.
#[derive(Clone, Debug)]
pub struct Draft {
    facts: Arc<Vec<Fact>>,
    book: Arc<Book>,
}

/// The plan in the making. Copied about like the farm.
#[derive(Clone, Copy, Debug)]
pub struct Planning {
    farm: Farm,
    state: RwSignal<State>,
    draft: RwSignal<Option<Draft>>,
}

impl Planning {
    /// Nothing made yet.
    pub fn new(farm: Farm) -> Self {
        Self { farm, state: RwSignal::default(), draft: RwSignal::new(None) }
    }

    /// The book to show: with the draft on top, if there is one.
    pub fn book(self) -> Arc<Book> {
        self.draft.with(|draft| match draft {
            Some(draft) => draft.book.clone(),
            None => self.farm.book.get(),
        })
    }

    /// Whether a plan stands that is not kept.
    pub fn is_draft(self) -> bool {
        self.draft.with(Option::is_some)
    }

    /// Whether the search goes on.
    pub fn is_working(self) -> bool {
        self.state.with(|state| matches!(state, State::Working(_)))
    }

    /// Makes a plan for the pile as it stands.
    pub fn make(self) {
        if untrack(|| self.is_working()) {
            return;
        }
        self.state.set(State::Working(0));
        wasm_bindgen_futures::spawn_local(async move {
            let farm = self.farm;
            let book = farm.book.get_untracked();
            let day = farm.today.get_untracked();
            let today = Today { day, offset_minutes: offset_minutes(farm.now()) };
            let made = match problem(&book, today) {
                Ok(problem) => self.solve(problem).await.map_err(|error| error.to_string()),
                Err(error) => Err(error.to_string()),
            };
            match made {
                Ok(plan) => {
                    let kept = Kept {
                        plan: farm.fresh(PlanId::new),
                        person: farm.person(),
                        at: farm.now(),
                    };
                    let facts = keep(&book, &plan, kept, || farm.fresh(BatchId::new));
                    let book = Arc::new(preview(&book, &facts, kept.at));
                    self.draft.set(Some(Draft { facts: Arc::new(facts), book }));
                    self.state.set(State::Idle);
                }
                Err(words) => self.state.set(State::Failed(crate::words::sentence(&words))),
            }
        });
    }

    /// A pinned batch that no longer fits in weight is asked for without one, before it is given up.
    async fn solve(self, problem: Problem) -> Result<Plan, PlanError> {
        let state = self.state;
        let progress = move |percent: u32| state.set(State::Working(percent));
        match solver::solve(problem.clone(), progress).await {
            Err(PlanError::Impossible { .. }) if !problem.pins.is_empty() => {
                let mut loose = problem;
                for pin in &mut loose.pins {
                    pin.grams = None;
                }
                solver::solve(loose, progress).await
            }
            made => made,
        }
    }

    /// Keeps the draft, all its facts; what could not be kept is said, and the draft stays.
    pub fn keep(self) {
        let Some(draft) = self.draft.get_untracked() else { return };
        if self.state.with_untracked(|state| *state == State::Keeping) {
            return;
        }
        self.state.set(State::Keeping);
        wasm_bindgen_futures::spawn_local(async move {
            for fact in draft.facts.iter() {
                if let Err(words) = self.farm.keep(fact.clone()).await {
                    self.state.set(State::Failed(format!("Not kept. {words}")));
                    return;
                }
            }
            self.draft.set(None);
            self.state.set(State::Idle);
        });
    }

    /// Lets the draft go.
    pub fn let_go(self) {
        self.draft.set(None);
        self.state.set(State::Idle);
    }
}

/// The buttons around a plan: make it, keep it, let it go; and how far the search is.
#[component]
pub fn PlanButtons(
    planning: Planning,
    /// A plan is kept already.
    planned: Signal<bool>,
) -> impl IntoView {
    let working = move || planning.is_working();
    let percent = move || match planning.state.get() {
        State::Working(percent) => percent,
        _ => 0,
    };
    let trouble = Signal::derive(move || match planning.state.get() {
        State::Failed(words) => Some(words),
        _ => None,
    });
    view! {
        <div class="buttons no-print">
            <Show when=move || planning.is_draft()>
                <button class="button primary" on:click=move |_| planning.keep()>
                    "Keep this plan"
                </button>
                <button class="button quiet" on:click=move |_| planning.let_go()>
                    "Let it go"
                </button>
            </Show>
            <Show when=move || !planning.is_draft()>
                <button
                    class="button"
                    class:primary=move || !planned.get()
                    aria-disabled=move || working().to_string()
                    on:click=move |_| planning.make()
                >
                    {move || if planned.get() { "Plan anew" } else { "Plan the fortnight" }}
                </button>
            </Show>
        </div>
        <Show when=working>
            <p class="sub no-print" role="status">
                {move || format!("Looking for the best plan: {} %. You can go on meanwhile.", percent())}
            </p>
        </Show>
        <Trouble text=trouble />
    }
}
