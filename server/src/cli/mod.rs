//! The command line: the one place that reads arguments and environment.

mod backup;
mod book;
mod case;
mod check;
mod code;
mod demo;
mod export;
mod forecast;
mod log;
mod method;
mod plan;
mod restore;
mod say;
mod season;
mod serve;
mod service;
mod stores;
mod tonight;
mod totals;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand};

use crate::config::{Config, DataConfig};

/// What a command fails with: one line for a person, with what to do next.
type Failure = Box<dyn std::error::Error>;

/// Keeps the harvest book of a house, and serves it to the phones.
#[derive(Debug, Parser)]
#[command(name = "lugbook", version)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Run the server.
    Serve(serve::ServeArguments),
    /// Run the server on an invented holding, in a folder that is thrown away afterwards.
    Demo(demo::DemoArguments),
    /// Print the totals of what was picked.
    Totals(totals::TotalsArguments),
    /// Print when what stands will be ripe; of a case file, without any data.
    Forecast(forecast::ForecastArguments),
    /// Print how a method is made safe in a jar at a height, or why it is refused.
    Method(method::MethodArguments),
    /// Print the night ahead: the low, who is at risk, what to do; of a case file, without any data.
    Tonight(tonight::TonightArguments),
    /// Print the stores: how long each keeps, what to eat first; of a case file, without any data.
    Stores(stores::StoresArguments),
    /// Print the season book of a year.
    Season(season::SeasonArguments),
    /// Plan a kitchen's days from a problem in JSON, without any data.
    Plan(plan::PlanArguments),
    /// Make a code that lets devices in, also while the server runs.
    Code(code::CodeArguments),
    /// Copy everything into one file, also while the server runs, and read it back.
    Backup(backup::BackupArguments),
    /// Put a backup in the database's place; the phones then hand in what it lacks.
    Restore(restore::RestoreArguments),
    /// Read everything back and say what is wrong.
    Check(check::CheckArguments),
    /// Write the whole log as JSON Lines, also while the server runs.
    Export(export::ExportArguments),
    /// Read JSON Lines that `export` made into the log; what is there already is passed over.
    Import(export::ImportArguments),
    /// Print a unit for systemd, to start the server with the machine.
    Service(service::ServiceArguments),
}

/// Where the data is.
#[derive(Debug, Args)]
struct DataArguments {
    /// Folder of the data.
    #[arg(long, value_name = "DIR", env = "LUGBOOK_DATA", default_value = DataConfig::DIR)]
    data: PathBuf,
}

impl DataArguments {
    fn config(self) -> Config {
        Config { data: DataConfig { dir: self.data, ..DataConfig::default() }, ..Config::default() }
    }
}

/// Reads the command line and does what it says.
pub fn main() -> ExitCode {
    let done = match Arguments::parse().command {
        Command::Serve(arguments) => serve::run(arguments),
        Command::Demo(arguments) => demo::run(&arguments),
        Command::Totals(arguments) => totals::run(arguments),
        Command::Forecast(arguments) => forecast::run(arguments),
        Command::Plan(arguments) => plan::run(&arguments),
        Command::Method(arguments) => method::run(arguments),
        Command::Tonight(arguments) => tonight::run(arguments),
        Command::Stores(arguments) => stores::run(arguments),
        Command::Season(arguments) => season::run(arguments),
        Command::Code(arguments) => code::run(arguments),
        Command::Backup(arguments) => backup::run(arguments),
        Command::Restore(arguments) => restore::run(arguments),
        Command::Check(arguments) => check::run(arguments),
        Command::Export(arguments) => export::export(arguments),
        Command::Import(arguments) => export::import(arguments),
        Command::Service(arguments) => service::run(arguments),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            say::failed(&failure);
            ExitCode::FAILURE
        }
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory as _;

    use super::*;

    #[test]
    fn the_arguments_fit_together() {
        Arguments::command().debug_assert();
    }
}
