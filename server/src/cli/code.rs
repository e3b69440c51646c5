//! `lugbook code`

use clap::{Args, ValueEnum};
use shared_types::ids::{DeviceId, EpochId};
use shared_types::units::Millis;
use shared_types::wire::{Code, Role};

use super::{DataArguments, Failure, say};
use crate::config::Config;
use crate::join::Token;
use crate::{clock, join, random, store};

/// Arguments of `lugbook code`.
#[derive(Debug, Args)]
pub(super) struct CodeArguments {
    #[command(flatten)]
    data: DataArguments,
    /// What the devices may do; the first one ever always owns.
    #[arg(long, value_enum, default_value = "helper")]
    role: RoleArgument,
    /// Let a thermometer in instead, under this name; prints the token it sends with its readings.
    #[arg(long, value_name = "NAME", conflicts_with = "role")]
    sensor: Option<String>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum RoleArgument {
    /// Look.
    Viewer,
    /// Look and write.
    Helper,
    /// Look, write, let devices in and out.
    Owner,
}

impl From<RoleArgument> for Role {
    fn from(role: RoleArgument) -> Self {
        match role {
            RoleArgument::Viewer => Self::Viewer,
            RoleArgument::Helper => Self::Helper,
            RoleArgument::Owner => Self::Owner,
        }
    }
}

pub(super) fn run(arguments: CodeArguments) -> Result<(), Failure> {
    let config = arguments.data.config();
    if let Some(name) = arguments.sensor {
        say::line(sensor(&config, &name, clock::now())?)?;
        return Ok(());
    }
    let code = make(&config, arguments.role.into(), clock::now())?;
    say::line(describe(&code, clock::now()))?;
    Ok(())
}

/// Lets a sensor in beside a server that may be running, and says its token, this once.
fn sensor(config: &Config, name: &str, now: Millis) -> Result<String, Failure> {
    let conn = store::open_existing(&config.data, EpochId::new(now, random::bytes()))?;
    let (token, nobody) = (Token::new(random::bytes()), Token::new(random::bytes()));
    let sensor = DeviceId::new(now, random::bytes());
    join::let_sensor_in(&conn, sensor, name, &token, &nobody, now)?;
    Ok(format!(
        "{}   (for {name}, told this once; POST /api/v1/readings with authorization: Bearer …)",
        token.reveal()
    ))
}

/// Makes a code beside a server that may be running.
fn make(config: &Config, role: Role, now: Millis) -> Result<Code, Failure> {
    // The identity is not used: the database is there already.
    let conn = store::open_existing(&config.data, EpochId::new(now, random::bytes()))?;
    Ok(join::make_code(&conn, role, config.join.code_uses, random::bytes(), now)?)
}

/// A code, and how long it can be used.
pub(super) fn describe(code: &Code, now: Millis) -> String {
    const MINUTE_MS: i64 = shared_types::units::MINUTE_MS;
    let minutes = code.until.since(now).max(0) / MINUTE_MS;
    let until = code.until.0.div_euclid(MINUTE_MS).rem_euclid(24 * 60);
    format!(
        "{}   (for {minutes} minutes, until {:02}:{:02} UTC)",
        code.code,
        until / 60,
        until % 60
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_told_with_its_end() {
        let code = Code { code: "K7QM-2RTX".into(), until: Millis(1_800_003_600_000) };
        let text = describe(&code, Millis(1_800_000_000_000));
        assert_eq!(text, "K7QM-2RTX   (for 60 minutes, until 09:00 UTC)");
    }
}
