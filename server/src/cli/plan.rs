//! `lugbook plan`

use std::io::Read as _;
use std::path::{Path, PathBuf};

use clap::Args;
use shared_types::trade::kitchen::planner::{Effort, Plan, Problem, lp, solve};

use super::{Failure, say};

/// Arguments of `lugbook plan`.
#[derive(Debug, Args)]
pub(super) struct PlanArguments {
    /// The problem as JSON; standard input when left out, or `-`.
    #[arg(value_name = "FILE")]
    problem: Option<PathBuf>,
    /// Search nodes: more take longer and may find more. The same number gives the same plan.
    #[arg(long, default_value_t = Effort::default().nodes, value_parser = clap::value_parser!(u64).range(0..=1_000_000))]
    nodes: u64,
    /// Write the mixed-integer model in LP format for another solver.
    #[arg(long, value_name = "FILE")]
    write_model: Option<PathBuf>,
    /// Print the plan as JSON, weights in grams.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(arguments: &PlanArguments) -> Result<(), Failure> {
    let problem = Problem::parse(&read(arguments.problem.as_deref())?)?;
    if let Some(file) = &arguments.write_model {
        let told = |error| format!("cannot write the model to {}: {error}", file.display());
        std::fs::write(file, lp(&problem)?).map_err(told)?;
    }
    let plan = solve(&problem, Effort { nodes: arguments.nodes }, &mut |_| ())?;
    let text = if arguments.json { serde_json::to_string_pretty(&plan)? } else { words(&plan) };
    Ok(say::line(text)?)
}

fn read(file: Option<&Path>) -> Result<String, Failure> {
    match file.filter(|file| *file != Path::new("-")) {
        Some(file) => {
            let told = |error| format!("cannot read the problem {}: {error}", file.display());
            Ok(std::fs::read_to_string(file).map_err(told)?)
        }
        None => {
            let mut text = String::new();
            let told = |error| format!("cannot read the problem from standard input: {error}");
            std::io::stdin().read_to_string(&mut text).map_err(told)?;
            Ok(text)
        }
    }
}

/// The plan for a person: days with their batches, what is lost, what would help.
fn words(plan: &Plan) -> String {
    let mut lines = Vec::new();
    for day in plan.days.iter().filter(|day| !day.batches.is_empty()) {
        lines.push(format!("{}  {} minutes of hands", day.day, day.hands_minutes));
        for batch in &day.batches {
            lines.push(format!("  {}: {}", batch.name, batch.why));
        }
    }
    for standing in plan.rooms.iter().filter(|standing| standing.moves) {
        lines.push(format!("Move {} to {}.", standing.label, standing.room));
    }
    for waste in &plan.waste {
        let kg = waste.grams.kg();
        lines.push(format!(
            "Lost on {}: {kg:.1} kg of {}. {}",
            waste.day, waste.label, waste.reason
        ));
    }
    lines.extend(plan.limits.iter().map(|limit| limit.text.clone()));
    let (kept, lost) = (plan.kept_grams.kg(), plan.waste_grams.kg());
    lines.push(format!("{kept:.1} kg kept, {lost:.1} kg lost. {}", plan.note));
    lines.join("\n")
}
