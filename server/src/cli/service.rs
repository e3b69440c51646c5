//! `lugbook service`

use std::net::SocketAddr;

use clap::Args;

use super::{DataArguments, Failure, say};

/// Arguments of `lugbook service`.
#[derive(Debug, Args)]
pub(super) struct ServiceArguments {
    #[command(flatten)]
    data: DataArguments,
    /// Address to listen on.
    #[arg(long, value_name = "ADDR", default_value = "0.0.0.0:7117")]
    listen: SocketAddr,
    /// The account it runs as; not root.
    #[arg(long, value_name = "NAME", default_value = "lugbook")]
    user: String,
}

/// Prints a unit for systemd that starts the server with the machine and lets it touch nothing but
/// its data (systemd.exec(5), systemd.service(5)).
pub(super) fn run(arguments: ServiceArguments) -> Result<(), Failure> {
    if arguments.user == "root" {
        return Err("the server needs no rights of root: give another account with --user".into());
    }
    let program = std::env::current_exe()?;
    let data = std::path::absolute(arguments.data.config().data.dir)?;
    say::line(unit(&program.display(), &data.display(), arguments.listen, &arguments.user))?;
    Ok(())
}

fn unit(
    program: &dyn std::fmt::Display,
    data: &dyn std::fmt::Display,
    listen: SocketAddr,
    user: &str,
) -> String {
    format!(
        "# Save as /etc/systemd/system/lugbook.service, then:\n\
         #   useradd --system --no-create-home {user}\n\
         #   install -d -m 700 -o {user} {data}\n\
         #   systemctl enable --now lugbook\n\
         [Unit]\n\
         Description=Lugbook, the harvest book of the house\n\
         After=network.target\n\
         \n\
         [Service]\n\
         ExecStart=\"{program}\" serve --data \"{data}\" --listen {listen}\n\
         User={user}\n\
         Restart=on-failure\n\
         RestartSec=2\n\
         UMask=0077\n\
         NoNewPrivileges=yes\n\
         CapabilityBoundingSet=\n\
         PrivateTmp=yes\n\
         PrivateDevices=yes\n\
         ProtectSystem=strict\n\
         ProtectHome=yes\n\
         ReadWritePaths=\"{data}\"\n\
         RestrictAddressFamilies=AF_INET AF_INET6 AF_UNIX\n\
         SystemCallFilter=@system-service\n\
         \n\
         [Install]\n\
         WantedBy=multi-user.target"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_unit_names_program_data_and_account() {
        let listen = SocketAddr::from(([0, 0, 0, 0], 7117));
        let text = unit(&"/usr/local/bin/lugbook", &"/var/lib/lugbook", listen, "lugbook");
        for line in [
            "ExecStart=\"/usr/local/bin/lugbook\" serve --data \"/var/lib/lugbook\" --listen 0.0.0.0:7117",
            "User=lugbook",
            "ReadWritePaths=\"/var/lib/lugbook\"",
        ] {
            assert!(text.lines().any(|found| found == line), "{line}\n{text}");
        }
    }
}
