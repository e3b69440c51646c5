//! The program as a person at the house starts it.

#![allow(clippy::unwrap_used, reason = "tests, and what only they use")]

use std::io::{BufRead as _, BufReader, Read as _};
use std::net::TcpListener;
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Output, Stdio};

fn lugbook(command: &str, data: &Path) -> Command {
    let mut lugbook = Command::new(env!("CARGO_BIN_EXE_lugbook"));
    lugbook.arg(command).arg("--data").arg(data).stdin(Stdio::null());
    for name in ["LUGBOOK_DATA", "LUGBOOK_LISTEN", "LUGBOOK_LOG", "RUST_BACKTRACE"] {
        lugbook.env_remove(name);
    }
    lugbook
}

fn serve(data: &Path, listen: &str) -> Command {
    let mut serve = lugbook("serve", data);
    serve.args(["--listen", listen, "--log", "error"]);
    serve
}

/// One line on standard error that says what is wrong and what to do, and exit code 1.
fn assert_refuses(output: &Output, words: &[&str]) {
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(said.starts_with("lugbook: "), "{said}");
    for word in words {
        assert!(said.contains(word), "`{word}` is not in: {said}");
    }
    assert_eq!(String::from_utf8_lossy(&output.stdout), "");
}

/// A server that is stopped with the test.
struct Running {
    child: Child,
    out: BufReader<ChildStdout>,
}

impl Running {
    fn start(data: &Path) -> Self {
        let mut child = serve(data, "127.0.0.1:0")
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let out = BufReader::new(child.stdout.take().unwrap());
        Self { child, out }
    }

    fn line(&mut self) -> String {
        let mut line = String::new();
        self.out.read_line(&mut line).unwrap();
        line
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // Already ended when the test went well.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn a_folder_that_cannot_be_made_is_named() {
    let dir = tempfile::tempdir().unwrap();
    let taken = dir.path().join("taken");
    std::fs::write(&taken, "").unwrap();
    let output = serve(&taken, "127.0.0.1:0").output().unwrap();
    assert_refuses(&output, &["cannot keep data in", "taken", "--data"]);
}

#[test]
fn a_database_of_another_program_is_left_alone() {
    let dir = tempfile::tempdir().unwrap();
    std::fs::write(dir.path().join("lugbook.sqlite"), "not a database ".repeat(100)).unwrap();
    let output = serve(dir.path(), "127.0.0.1:0").output().unwrap();
    assert_refuses(&output, &["is not a lugbook database", "nothing was changed", "--data"]);
}

#[test]
fn a_port_in_use_is_named() {
    let dir = tempfile::tempdir().unwrap();
    let taken = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = taken.local_addr().unwrap().to_string();
    let output = serve(dir.path(), &address).output().unwrap();
    assert_refuses(&output, &["cannot listen on", &address, "--listen"]);
}

#[test]
fn a_code_needs_a_server_that_has_run() {
    let dir = tempfile::tempdir().unwrap();
    let output = lugbook("code", dir.path()).output().unwrap();
    assert_refuses(&output, &["there is no lugbook database", "lugbook serve"]);
}

#[cfg(unix)]
#[test]
fn it_says_how_to_join_and_stops_when_asked() {
    let dir = tempfile::tempdir().unwrap();
    let mut running = Running::start(dir.path());
    let open = running.line();
    let code = running.line();
    let join = running.line();
    assert!(open.contains("http://127.0.0.1:"), "{open}");
    let code = code.split_whitespace().find(|word| word.len() == 9 && word.contains('-')).unwrap();
    assert!(join.trim().ends_with(&format!("/#join={code}")), "{join}");

    let second = serve(dir.path(), "127.0.0.1:0").output().unwrap();
    assert_refuses(&second, &["another lugbook is running", "--data"]);

    let another = lugbook("code", dir.path()).args(["--role", "owner"]).output().unwrap();
    assert!(another.status.success());
    let another = String::from_utf8(another.stdout).unwrap();
    assert!(another.contains("60 minutes") || another.contains("59 minutes"), "{another}");
    assert!(!another.contains(code), "another one");

    let asked = Command::new("kill").arg(running.child.id().to_string()).status().unwrap();
    assert!(asked.success());
    let ended = running.child.wait().unwrap();
    assert!(ended.success(), "{ended}");
    let mut said = String::new();
    running.child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    assert_eq!(said, "");
    assert!(!dir.path().join("lugbook.sqlite-wal").exists());
}

#[test]
fn a_method_is_told_or_refused_with_its_source() {
    let dir = tempfile::tempdir().unwrap();
    let method = |rest: &[&str]| lugbook("method", dir.path()).args(rest).output().unwrap();
    let told = |rest: &[&str]| -> serde_json::Value {
        let output = method(rest);
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        serde_json::from_slice(&output.stdout).unwrap()
    };
    // Guide 3 (V): juice in pints 40 minutes from 1,001 to 3,000 ft, in feet and in metres alike.
    for altitude in ["870m", "2855ft", "1000.5 ft", "914.4"] {
        let juice = told(&["tomato-juice", "--jar", "pint", "--altitude", altitude, "--json"]);
        assert_eq!(juice["offer"]["minutes"], 40, "{altitude}");
        assert!(juice.get("refusal").is_none());
        let source = juice["offer"]["source"].as_str().unwrap();
        assert!(juice["sources"][source].as_str().unwrap().contains("USDA"));
    }
    let half = told(&["Tomato juice", "--jar", "half pint", "--altitude", "0", "--json"]);
    assert_eq!(half["refusal"]["kind"], "no_published_acid");
    assert!(half.get("offer").is_none() && half["instead"].as_array().unwrap().len() > 2);
    let crushed = told(&["crushed", "--jar", "quart", "--altitude", "870m", "--json"]);
    assert_eq!(crushed["refusal"]["kind"], "unconfirmed");
    let words = method(&["squash-cubes", "--altitude", "2500 ft", "--canner", "weighted"]);
    let words = String::from_utf8(words.stdout).unwrap();
    assert!(words.contains("90 minutes at 15 psi in pressure, weighted gauge"), "{words}");
    let list = String::from_utf8(method(&[]).stdout).unwrap();
    assert!(list.lines().count() > 30 && list.contains("tomato-ketchup"), "{list}");
    assert_refuses(
        &method(&["marmalade", "--altitude", "0"]),
        &["no method is called", "there are"],
    );
    assert_refuses(&method(&["tomato-juice"]), &["--altitude", "870m"]);
}
