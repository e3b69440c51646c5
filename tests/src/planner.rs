//! The planner as the phone's program runs it: in a worker of the page.

use serde_json::{Value, json};
use thirtyfour::error::WebDriverResult;

use crate::browser::Browser;

/// What came of one problem.
#[derive(Debug)]
pub struct Planned {
    /// The plan as the worker wrote it, or what it said instead.
    pub answer: Value,
    /// How often it told how far it is.
    pub told: u64,
    /// How often the page could do something else meanwhile.
    pub turns: u64,
    /// Milliseconds from starting the worker to its plan.
    pub ms: f64,
}

/// Plans `problem` (JSON) in a worker of the page that is open.
///
/// # Errors
/// When the page does not answer.
pub async fn plan_in_worker(browser: &Browser, problem: &str) -> WebDriverResult<Planned> {
    const RUN: &str = r"
        const [problem, done] = arguments;
        const name = document.querySelector('meta[name=lugbook-planner]').content;
        const began = performance.now();
        const worker = new Worker(name, { type: 'module' });
        let told = 0, turns = 0;
        const turn = setInterval(() => { turns += 1; }, 10);
        const end = answer => {
            clearInterval(turn);
            worker.terminate();
            done({ answer, told, turns, ms: performance.now() - began });
        };
        worker.onerror = event => end({ failed: event.message ?? 'did not start' });
        worker.onmessage = ({ data }) => {
            const said = JSON.parse(data);
            if (said === 'ready') worker.postMessage(problem);
            else if (said.progress) told += 1;
            else end(said);
        };";
    let found = browser.script_async(RUN, vec![json!(problem)]).await?;
    Ok(Planned {
        answer: found["answer"].clone(),
        told: found["told"].as_u64().unwrap_or(0),
        turns: found["turns"].as_u64().unwrap_or(0),
        ms: found["ms"].as_f64().unwrap_or(f64::NAN),
    })
}
