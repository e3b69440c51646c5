//! Builds the phone's program and packs it, with everything in `public/`, into the server.
//!
//! 1. [`wasm`] compiles `app` for wasm32 and writes its JavaScript glue.
//! 2. [`bundle`] gives files names that change with their content, fills in the service worker's
//!    list and makes sure that nothing refers to a file that is not there.
//! 3. [`emit`] compresses each file and writes the Rust table that `server::assets` includes.
//!
//! Sizes land in `sizes.json` beside the table; `cargo build -vv` prints them.

#![allow(clippy::print_stdout, clippy::print_stderr, reason = "cargo listens to the output")]

use std::path::{Path, PathBuf};

mod bundle;
mod emit;
mod wasm;

/// What the packed program is made of. A folder counts with all that is in it.
const SOURCES: [&str; 11] = [
    "app",
    "shared-types/Cargo.toml",
    "shared-types/build.rs",
    "shared-types/data",
    "shared-types/src",
    "public",
    "server/build",
    "Cargo.lock",
    "Cargo.toml",
    "rust-toolchain.toml",
    ".cargo/config.toml",
];

fn main() {
    if let Err(problem) = run() {
        // One line, so that cargo shows it whole.
        println!("cargo::error={}", problem.replace('\n', " "));
        std::process::exit(1);
    }
}

fn run() -> Result<(), String> {
    let out_dir = PathBuf::from(required("OUT_DIR")?);
    let manifest_dir = PathBuf::from(required("CARGO_MANIFEST_DIR")?);
    let root = manifest_dir.parent().ok_or("the server's folder has no parent")?;
    for source in SOURCES {
        let path = root.join(source);
        // Cargo reruns on every build for a path that does not exist.
        if path.exists() {
            println!("cargo::rerun-if-changed={}", path.display());
        }
    }

    let module = wasm::compile(root, &target_dir(&out_dir, root))?;
    let glue = wasm::bind(&module, &out_dir.join("bindgen"))?;
    let build = bundle::collect(&root.join("public"), &glue)?;
    emit::write(&build, &out_dir)
}

/// An environment variable that cargo sets for every build script.
fn required(name: &str) -> Result<String, String> {
    std::env::var(name).map_err(|_| format!("{name} is not set; build the server with cargo"))
}

/// The target folder in use, wherever `CARGO_TARGET_DIR` or a config file put it: the nearest
/// folder above `OUT_DIR` that carries cargo's cache mark.
fn target_dir(out_dir: &Path, root: &Path) -> PathBuf {
    out_dir
        .ancestors()
        .find(|folder| folder.join("CACHEDIR.TAG").is_file())
        .map_or_else(|| root.join("target"), Path::to_path_buf)
}
