//! `app` as a wasm module with its JavaScript glue.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use wasm_bindgen_cli_support::Bindgen;

use crate::required;

const TARGET: &str = "wasm32-unknown-unknown";

/// Environment of the outer build that the inner one needs: where cargo and its downloads live,
/// how it may reach them, and the job server that shares the machine's cores.
const KEPT: [&str; 9] = [
    "CARGO_HOME",
    "CARGO_HTTP_",
    "CARGO_MAKEFLAGS",
    "CARGO_NET_",
    "CARGO_REGISTRIES_",
    "CARGO_REGISTRY_",
    "CARGO_SOURCE_",
    "CARGO_TERM_",
    "RUSTUP_",
];

/// Everything else with these beginnings describes the outer build (its flags, its clippy, its
/// package) and would change or poison the inner one's cache.
const DROPPED: [&str; 7] =
    ["CARGO_", "CLIPPY_", "DEP_", "RUSTC", "RUSTDOC", "RUSTFLAGS", "__CARGO"];

/// Names another cargo profile for the phone's program: `dev` compiles it in seconds instead of
/// minutes while a screen is being written. What is shipped and tested has the `pwa` profile.
const PROFILE: &str = "LUGBOOK_APP_PROFILE";

/// What is shipped and tested; see [`PROFILE`].
const SHIPPED: &str = "pwa";

fn profile() -> String {
    std::env::var(PROFILE).unwrap_or_else(|_| SHIPPED.to_owned())
}

/// Whether the program of this build is the one that phones get.
pub fn shipped() -> bool {
    profile() == SHIPPED
}

/// Compiles `app` and returns the module's path.
///
/// The module goes to its own target folder, `<target>/pwa`: the outer cargo holds the lock of
/// the usual one while this runs, and waiting for it here would never end.
pub fn compile(root: &Path, target_dir: &Path) -> Result<PathBuf, String> {
    let target_dir = target_dir.join("pwa");
    require_target()?;
    println!("cargo::rerun-if-env-changed={PROFILE}");
    let profile = profile();
    // Cargo's own name for the folder of the `dev` profile.
    let folder = if profile == "dev" { "debug" } else { profile.as_str() };
    let mut cargo = Command::new(required("CARGO")?);
    cargo
        .current_dir(root)
        .args(["build", "--locked", "--package", "app", "--bin", "app"])
        .args(["--target", TARGET, "--profile", &profile, "--target-dir"])
        .arg(&target_dir)
        // A build script's standard output is cargo's to read.
        .stdout(Stdio::null());
    for name in outer_environment() {
        cargo.env_remove(name);
    }
    let status = cargo.status().map_err(|error| format!("cargo did not start: {error}"))?;
    if !status.success() {
        return Err(format!(
            "the phone's program did not compile; see the errors of `app` below, or run \
             `cargo build -p app --target {TARGET}`"
        ));
    }
    Ok(target_dir.join(TARGET).join(folder).join("app.wasm"))
}

/// Writes `app.js`, `app_bg.wasm` and any snippets for `module` into the emptied `folder`.
pub fn bind(module: &Path, folder: &Path) -> Result<PathBuf, String> {
    if folder.exists() {
        std::fs::remove_dir_all(folder)
            .map_err(|error| format!("cannot empty {}: {error}", folder.display()))?;
    }
    let mut bindgen = Bindgen::new();
    bindgen
        .input_path(module)
        .out_name("app")
        .typescript(false)
        .remove_name_section(true)
        .remove_producers_section(true)
        // `boot.js` names the module, because the name changes with its content.
        .omit_default_module_path(true);
    bindgen
        .web(true)
        .and_then(|bindgen| bindgen.generate(folder))
        .map_err(|error| format!("wasm-bindgen failed on {}: {error:#}", module.display()))?;
    Ok(folder.to_path_buf())
}

fn outer_environment() -> Vec<OsString> {
    std::env::vars_os()
        .map(|(name, _)| name)
        .filter(|name| {
            let name = name.to_string_lossy();
            DROPPED.iter().any(|start| name.starts_with(start))
                && !KEPT.iter().any(|start| name.starts_with(start))
        })
        .collect()
}

/// Makes sure that the toolchain in use can compile for the phone, and asks rustup for the
/// missing part if not.
fn require_target() -> Result<(), String> {
    let rustc = required("RUSTC")?;
    if has_target(&rustc) {
        return Ok(());
    }
    let asked = Command::new("rustup").args(["target", "add", TARGET]).status();
    if asked.is_ok_and(|status| status.success()) && has_target(&rustc) {
        return Ok(());
    }
    Err(format!(
        "the Rust target {TARGET} is missing and could not be added; with a network connection \
         type: rustup target add {TARGET}"
    ))
}

/// Whether the standard library of [`TARGET`] lies in the sysroot.
fn has_target(rustc: &str) -> bool {
    let output =
        Command::new(rustc).args(["--print", "target-libdir", "--target", TARGET]).output();
    let Ok(output) = output else { return false };
    let folder = PathBuf::from(String::from_utf8_lossy(&output.stdout).trim());
    folder.read_dir().is_ok_and(|files| {
        files.flatten().any(|file| file.file_name().to_string_lossy().starts_with("libstd-"))
    })
}
