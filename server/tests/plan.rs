//! `lugbook plan`, with a problem on standard input and a model for another solver.

#![allow(clippy::unwrap_used, reason = "tests, and what only they use")]

use std::io::Write as _;
use std::process::{Command, Output, Stdio};

use shared_types::trade::kitchen::planner::{Effort, Plan, Problem, audit, lp, solve};

const PROBLEM: &str = r#"{ "today": "2026-10-12", "days": 3,
  "lots": [ { "id": "A", "crop": "tomato", "class": "ripe", "uses": ["jar", "freeze"],
              "rooms": [ { "room": "kitchen", "ready_grams": [9000, 4000], "keeps_days": 1 } ] } ],
  "methods": [ { "id": "frozen", "kind": "freeze", "any": true, "least_grams": 500,
                 "hands": { "a_batch": 10, "a_kg": 3 } } ],
  "a_day": { "freezer_grams": 4000 } }"#;

fn plan(arguments: &[&str], problem: &str) -> Output {
    let mut lugbook = Command::new(env!("CARGO_BIN_EXE_lugbook"));
    lugbook.arg("plan").args(arguments);
    lugbook.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = lugbook.spawn().unwrap();
    child.stdin.take().unwrap().write_all(problem.as_bytes()).unwrap();
    child.wait_with_output().unwrap()
}

#[test]
fn a_problem_in_a_plan_out_and_the_model_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let model = folder.path().join("model.lp");
    let output = plan(&["--json", "--write-model", model.to_str().unwrap()], PROBLEM);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let told: Plan = serde_json::from_slice(&output.stdout).unwrap();
    let problem = Problem::parse(PROBLEM).unwrap();
    assert_eq!(told, solve(&problem, Effort::default(), &mut |_| ()).unwrap());
    assert_eq!(audit(&problem, &told), Vec::<String>::new());
    assert_eq!(std::fs::read_to_string(model).unwrap(), lp(&problem).unwrap());
}

#[test]
fn for_a_person_it_says_what_is_lost_and_why() {
    let output = plan(&[], PROBLEM);
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    for words in ["2026-10-12", "frozen: Takes 4.0 kg", "Lost on 2026-10-13", "kg kept"] {
        assert!(said.contains(words), "`{words}` is not in: {said}");
    }
}

#[test]
fn a_slip_is_told_in_one_line() {
    let output = plan(&["--json"], &PROBLEM.replace("keeps_days", "keeps"));
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(
        said.starts_with("lugbook: the problem does not read: unknown field `keeps`"),
        "{said}"
    );
}
