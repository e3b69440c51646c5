//! The planner in a worker, so that the screen stays free while it thinks.
//!
//! A worker runs the same program from `public/planner.js`; [`serve`] then answers instead of
//! screens being mounted. Each plan has a worker of its own, which ends with it. What is said, as
//! JSON text: the worker begins with `"ready"`; the page sends a [`Problem`]; the worker answers
//! any number of `{"progress": …}` and then one `{"plan": …}`, `{"impossible": …}` or
//! `{"failed": "words"}`.

use std::cell::RefCell;
use std::rc::Rc;

use futures_channel::oneshot;
use serde::{Deserialize, Serialize};
use shared_types::trade::kitchen::planner::{Effort, Plan, PlanError, Problem, Progress, solve};
use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;
use web_sys::{DedicatedWorkerGlobalScope, Event, MessageEvent, Worker, WorkerOptions, WorkerType};

use super::js;

/// What the worker says.
#[derive(Debug, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Said {
    Ready,
    Progress(Progress),
    Plan(Box<Plan>),
    /// [`PlanError::Impossible`], which the screen may do something about.
    Impossible {
        batch: String,
        reason: String,
    },
    Failed(String),
}

/// Works out a plan off the page's thread. In a browser that starts no worker the page itself does
/// it, and stands still meanwhile.
///
/// # Errors
/// What is wrong with the problem, in words; or that the worker broke down.
pub async fn plan(
    problem: &Problem,
    on_progress: impl Fn(Progress) + 'static,
) -> Result<Plan, PlanError> {
    let Some(worker) = start() else {
        return solve(problem, Effort::default(), &mut |progress| on_progress(progress));
    };
    let (done, answer) = oneshot::channel();
    let done = Rc::new(RefCell::new(Some(done)));
    let finish = move |told: Result<Plan, PlanError>| {
        if let Some(done) = done.borrow_mut().take() {
            // Nobody waits any more: the screen was left.
            let _nobody_waits = done.send(told);
        }
    };
    let text =
        serde_json::to_string(problem).map_err(|error| PlanError::Told(error.to_string()))?;
    let asked = worker.0.clone();
    let hear = {
        let finish = finish.clone();
        Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            let said = event.data().as_string().unwrap_or_default();
            match serde_json::from_str(&said) {
                Ok(Said::Ready) => {
                    if asked.post_message(&text.as_str().into()).is_err() {
                        finish(Err(broke("it does not listen")));
                    }
                }
                Ok(Said::Progress(progress)) => on_progress(progress),
                Ok(Said::Plan(plan)) => finish(Ok(*plan)),
                Ok(Said::Impossible { batch, reason }) => {
                    finish(Err(PlanError::Impossible { batch, reason }));
                }
                Ok(Said::Failed(words)) => finish(Err(PlanError::Told(words))),
                Err(error) => finish(Err(broke(&error.to_string()))),
            }
        })
    };
    let fail = Closure::<dyn FnMut(Event)>::new(move |event: Event| {
        let message = js::property(&event, "message").and_then(|message| message.as_string());
        finish(Err(broke(message.as_deref().unwrap_or("it did not start"))));
    });
    worker.0.set_onmessage(Some(hear.as_ref().unchecked_ref()));
    worker.0.set_onerror(Some(fail.as_ref().unchecked_ref()));
    answer.await.unwrap_or_else(|_| Err(broke("it went away")))
}

/// A worker that ends with the plan it was started for.
struct Own(Worker);

impl Drop for Own {
    fn drop(&mut self) {
        self.0.set_onmessage(None);
        self.0.set_onerror(None);
        self.0.terminate();
    }
}

fn start() -> Option<Own> {
    // The file's name changes with its content; the page knows it.
    let page = js::window().document()?;
    let name = page.query_selector("meta[name=lugbook-planner]").ok()??.get_attribute("content")?;
    let options = WorkerOptions::new();
    options.set_type(WorkerType::Module);
    Worker::new_with_options(&name, &options).ok().map(Own)
}

fn broke(how: &str) -> PlanError {
    PlanError::Told(format!("the planner broke down ({how}): try again, or load the page again"))
}

/// Answers as a planner, when the program was started as one. Says whether it was.
pub fn serve() -> bool {
    let Ok(scope) = js_sys::global().dyn_into::<DedicatedWorkerGlobalScope>() else {
        return false;
    };
    let heard = {
        let scope = scope.clone();
        Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            let text = event.data().as_string().unwrap_or_default();
            let planned = Problem::parse(&text).and_then(|problem| {
                solve(&problem, Effort::default(), &mut |progress| {
                    say(&scope, &Said::Progress(progress));
                })
            });
            say(
                &scope,
                &match planned {
                    Ok(plan) => Said::Plan(Box::new(plan)),
                    Err(PlanError::Impossible { batch, reason }) => {
                        Said::Impossible { batch, reason }
                    }
                    Err(error) => Said::Failed(error.to_string()),
                },
            );
        })
    };
    scope.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    // The worker listens until it is ended.
    heard.forget();
    say(&scope, &Said::Ready);
    true
}

fn say(scope: &DedicatedWorkerGlobalScope, said: &Said) {
    let text = serde_json::to_string(said).expect("what is said has names for keys");
    let sent = scope.post_message(&text.into());
    debug_assert!(sent.is_ok(), "a text can always be sent");
}
