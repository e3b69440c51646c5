//! The house server as a process of its own, so that a test can kill it.

use std::io;
use std::net::{Ipv4Addr, TcpListener};
use std::path::Path;
use std::process::Stdio;

use tokio::io::{AsyncBufReadExt, BufReader};
use tokio::process::{Child, Command};

/// A running server.
#[derive(Debug)]
pub struct House {
    child: Child,
    /// Where it answers, such as `http://127.0.0.1:40123`.
    pub url: String,
    /// The code it printed.
    pub code: String,
}

/// A port that was free a moment ago: phones keep their data under one origin, so a restarted
/// house must answer at the same one.
pub fn free_port() -> u16 {
    TcpListener::bind((Ipv4Addr::LOCALHOST, 0))
        .and_then(|listener| listener.local_addr())
        .expect("this machine has a free port")
        .port()
}

impl House {
    /// Starts `program serve` on `data` and waits until it has said where it answers.
    ///
    /// # Errors
    /// When it does not start, or ends without saying so.
    pub async fn start(program: &Path, data: &Path, port: u16) -> io::Result<Self> {
        let mut command = Command::new(program);
        command.arg("serve").arg("--data").arg(data);
        Self::run(command, port).await
    }

    /// Starts `program serve` on `data`, so that [`House::leave_room`] can be used.
    ///
    /// # Errors
    /// As for [`House::start`].
    pub async fn start_limited(program: &Path, data: &Path, port: u16) -> io::Result<Self> {
        // A write over the limit must fail, as on a full disk, and not end the process: an ignored
        // signal stays ignored in the program that takes the shell's place.
        let mut command = Command::new("sh");
        command.args(["-c", r#"trap "" XFSZ; exec "$0" "$@""#]);
        command.arg(program).arg("serve").arg("--data").arg(data);
        Self::run(command, port).await
    }

    /// From now on no file may grow beyond `bytes`; without a number there is room again. Stands in
    /// for a full disk, which only root could make (`prlimit` of util-linux).
    ///
    /// # Errors
    /// When the system refuses.
    pub async fn leave_room(&self, bytes: Option<u64>) -> io::Result<()> {
        let pid = self.child.id().ok_or_else(|| io::Error::other("it has ended"))?;
        let most = bytes.map_or("unlimited".to_owned(), |bytes| bytes.to_string());
        let status = Command::new("prlimit")
            .arg(format!("--pid={pid}"))
            .arg(format!("--fsize={most}:unlimited"))
            .status()
            .await?;
        if status.success() { Ok(()) } else { Err(io::Error::other("prlimit failed")) }
    }

    /// Starts `program demo`.
    ///
    /// # Errors
    /// As for [`House::start`].
    pub async fn demo(program: &Path, port: u16) -> io::Result<Self> {
        let mut command = Command::new(program);
        command.arg("demo");
        Self::run(command, port).await
    }

    async fn run(mut command: Command, port: u16) -> io::Result<Self> {
        let mut child = command
            .args(["--log", "warn", "--listen", &format!("127.0.0.1:{port}")])
            .stdout(Stdio::piped())
            .kill_on_drop(true)
            .spawn()?;
        let stdout = child.stdout.take().expect("it was asked for");
        let mut lines = BufReader::new(stdout).lines();
        let mut said = String::new();
        while let Some(line) = lines.next_line().await? {
            // The last thing it says is the link with address and code in it.
            if let Some((url, code)) = line.split_once("/#join=") {
                let url = url.split_whitespace().last().unwrap_or_default().to_owned();
                let code = code.trim().to_owned();
                // Whatever it says later must not meet a closed pipe.
                tokio::spawn(async move { while let Ok(Some(_)) = lines.next_line().await {} });
                return Ok(Self { child, url, code });
            }
            said.push_str(&line);
        }
        Err(io::Error::other(format!("the server ended without an address; it said `{said}`")))
    }

    /// Kills it as a pulled plug would: SIGKILL, no clean-up.
    ///
    /// # Errors
    /// When the system refuses.
    pub async fn kill(mut self) -> io::Result<()> {
        self.child.kill().await
    }

    /// Resident memory in KiB, as the system counts it.
    ///
    /// # Errors
    /// Where there is no `/proc`.
    pub async fn resident_kib(&self) -> io::Result<u64> {
        let pid = self.child.id().ok_or_else(|| io::Error::other("it has ended"))?;
        let status = tokio::fs::read_to_string(format!("/proc/{pid}/status")).await?;
        status
            .lines()
            .find_map(|line| line.strip_prefix("VmRSS:"))
            .and_then(|rest| rest.split_whitespace().next()?.parse().ok())
            .ok_or_else(|| io::Error::other("no VmRSS line"))
    }
}
