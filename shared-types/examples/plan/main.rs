//! Measures the planner on generated kitchens, or writes them for another solver.
//!
//! ```text
//! cargo run --release -p shared-types --example plan              # the table
//! cargo run --release -p shared-types --example plan -- 7         # one of them
//! cargo run --release -p shared-types --example plan -- write DIR # problems and models
//! ```

// A bench prints, and reads the clock.
#![allow(clippy::print_stdout, clippy::disallowed_methods)]

mod cases;

/// Kitchens the planner is measured on.
const CASES: u64 = 50;

use std::path::Path;
use std::time::Instant;

use shared_types::trade::kitchen::planner::{Effort, Plan, audit, first_ripe_first, lp, solve};

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match arguments.as_slice() {
        [] => table(0..CASES, false),
        [word, folder] if word == "write" => write(Path::new(folder)),
        [first] => {
            let first = first.parse().expect("the number of a case");
            table(first..first + 1, true);
        }
        [first, last] => {
            let number = |text: &String| text.parse().expect("the number of a case");
            table(number(first)..number(last), false);
        }
        _ => panic!("nothing, the number of a case, or `write DIR`"),
    }
}

fn table(numbers: impl Iterator<Item = u64>, trace: bool) {
    println!("case   kept kg  simple kg lost kg      value      bound    gap %   nodes       s");
    let (mut saved, mut seconds, mut count, mut gaps) = (0.0, 0.0, 0.0, 0.0);
    for number in numbers {
        let (plan, took) = plan(number, !trace);
        let faults = audit(&cases::case(number), &plan);
        assert!(faults.is_empty(), "{number}: {faults:?}");
        let simple = first_ripe_first(&cases::case(number)).expect("a plan");
        let gap = plan.gap.unwrap_or(0.0) * 100.0;
        println!(
            "{number:>4} {:>9.1} {:>7.1} {:>7.1} {:>10.3} {:>10.3} {gap:>8.2} {:>7} {took:>7.2}",
            plan.kept_grams.kg(),
            simple.kept_grams.kg(),
            plan.waste_grams.kg(),
            plan.objective,
            plan.bound,
            plan.nodes,
        );
        saved += plan.kept_grams.kg() - simple.kept_grams.kg();
        seconds += took;
        gaps += gap;
        count += 1.0;
    }
    println!(
        "mean: {:.1} kg more kept than first ripe first, gap {:.2} %, {:.2} s",
        saved / count,
        gaps / count,
        seconds / count
    );
}

fn plan(number: u64, quiet: bool) -> (Plan, f64) {
    let began = seconds();
    let plan = solve(&cases::case(number), Effort::default(), &mut |progress| {
        if !quiet {
            println!(
                "{:>6.2} s {:>6} nodes  value {:.3}  bound {:.3}",
                seconds() - began,
                progress.nodes,
                progress.objective,
                progress.bound.unwrap_or(f64::NAN)
            );
        }
    });
    (plan.expect("a plan"), seconds() - began)
}

/// `NN.json` (the problem) and `NN.lp` (the model).
fn write(folder: &Path) {
    for number in 0..CASES {
        let problem = cases::case(number);
        let write = |ending: &str, text: String| {
            let file = folder.join(format!("{number:02}.{ending}"));
            std::fs::write(file, text).expect("the folder can be written");
        };
        write("json", serde_json::to_string_pretty(&problem).expect("writes"));
        write("lp", lp(&problem).expect("a model"));
    }
}

/// Seconds this program has had a processor for, where the system says so (Linux); else seconds.
fn seconds() -> f64 {
    static BEGAN: std::sync::OnceLock<Instant> = std::sync::OnceLock::new();
    let began = BEGAN.get_or_init(Instant::now);
    std::fs::read_to_string("/proc/self/schedstat")
        .ok()
        .and_then(|text| text.split(' ').next()?.parse::<f64>().ok())
        .map_or_else(|| began.elapsed().as_secs_f64(), |nanoseconds| nanoseconds / 1e9)
}
