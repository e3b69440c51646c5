//! The simulation for as long as one likes:
//! `cargo run --release -p tests --bin soak -- --seconds 1800 --seed 1`.
//!
//! With `--kills 200` also kills the real server that often under load. A failing seed is made
//! smaller and written to the folder given with `--failures` (default `target/failures`), as a test
//! ready to be put below `tests/tests/regressions`. Ends with 1 when anything failed.

#![expect(clippy::print_stdout, reason = "its output is what it is for")]
#![expect(clippy::disallowed_methods, reason = "it runs for real seconds")]

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use tests::sim::{Case, Report, Sabotage, run, shrink};

/// Device counts, taken in turn.
const DEVICES: [usize; 6] = [2, 3, 5, 2, 8, 12];

/// Runs spent on making one failing case smaller.
const SHRINK_TRIES: usize = 600;

struct Asked {
    seconds: u64,
    seed: u64,
    kills: u32,
    failures: PathBuf,
}

fn asked() -> Result<Asked, String> {
    let mut asked =
        Asked { seconds: 60, seed: 1, kills: 0, failures: PathBuf::from("target/failures") };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let value = words.next().ok_or_else(|| format!("{word} needs a value after it"))?;
        let number = || value.parse::<u64>().map_err(|_| format!("{word} {value}: not a number"));
        match word.as_str() {
            "--seconds" => asked.seconds = number()?,
            "--seed" => asked.seed = number()?,
            "--kills" => asked.kills = u32::try_from(number()?).map_err(|e| e.to_string())?,
            "--failures" => asked.failures = PathBuf::from(value),
            _ => {
                return Err(format!(
                    "{word} is not known: give --seconds, --seed, --kills or --failures"
                ));
            }
        }
    }
    Ok(asked)
}

fn main() -> ExitCode {
    let asked = match asked() {
        Ok(asked) => asked,
        Err(words) => {
            println!("{words}");
            return ExitCode::from(2);
        }
    };
    let mut failed = simulate(&asked);
    if asked.kills > 0 {
        failed |= kill(asked.kills);
    }
    if failed { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}

fn simulate(asked: &Asked) -> bool {
    let began = Instant::now();
    let (mut all, mut cases, mut failed) = (Report::default(), 0u64, 0u64);
    while began.elapsed() < Duration::from_secs(asked.seconds) {
        let seed = asked.seed + cases;
        let devices = DEVICES[(cases % DEVICES.len() as u64) as usize];
        cases += 1;
        let case = Case::of(seed, devices);
        match run(&case, Sabotage::None) {
            Ok(report) => all.add(&report),
            Err(broken) => {
                failed += 1;
                println!("seed {seed}, {devices} devices: {broken}");
                let (small, how) = shrink(&case, Sabotage::None, SHRINK_TRIES);
                let name = format!("seed_{seed}_{devices}");
                let path = asked.failures.join(format!("{name}.rs"));
                let written = std::fs::create_dir_all(&asked.failures)
                    .and_then(|()| std::fs::write(&path, small.as_test(&name, &how)));
                match written {
                    Ok(()) => println!("  made smaller, in {}: {how}", path.display()),
                    Err(error) => println!("  {}: {error}", path.display()),
                }
            }
        }
    }
    let seconds = began.elapsed().as_secs_f64();
    println!(
        "{cases} cases in {seconds:.1} s, {failed} failed: {:.1} device-days a second",
        all.device_days / seconds
    );
    print!("{all}");
    failed > 0
}

fn kill(kills: u32) -> bool {
    let program = std::env::current_exe().expect("this program is a file").with_file_name("house");
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .expect("a runtime");
    let began = Instant::now();
    match runtime.block_on(tests::kills::kill_under_load(&program, kills)) {
        Ok(seen) => {
            println!(
                "kill -9 of the real server: {kills} survived in {:.1} s, {} entries, {} calls lost",
                began.elapsed().as_secs_f64(),
                seen.entries,
                seen.lost_calls
            );
            false
        }
        Err(words) => {
            println!("kill -9 of the real server: {words}");
            true
        }
    }
}
