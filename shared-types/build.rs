//! Lists the methods under `data/methods` and refuses one that is wrong, with file and line.
//!
//! A wrong figure must not wait for the person who first opens its card. The form of a file and the
//! rules it keeps are the program's own, read here by their path.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

use serde_json::Value;

#[path = "src/trade/methods/check.rs"]
mod check;
#[path = "src/trade/methods/file.rs"]
mod file;
#[allow(dead_code, reason = "the program uses more of it")]
#[path = "src/trade/methods/jar.rs"]
mod jar;
#[allow(dead_code, reason = "the program uses more of it")]
#[path = "src/trade/provenance/mark.rs"]
mod mark;
#[allow(dead_code, reason = "the program uses more of it")]
#[path = "src/trade/methods/recipe.rs"]
mod recipe;
#[allow(dead_code, reason = "the program uses more of it")]
#[path = "src/trade/methods/rows.rs"]
mod rows;
#[allow(dead_code, reason = "the program uses more of it")]
#[path = "src/units/volume.rs"]
mod volume;

// The names that the files above take from the module they stand in.
use file::{Kind, Method};
use jar::Jar;
use mark::{Mark, Said, Sourced};
use recipe::{Base, Ingredient, Role, Unit};
use rows::{Canner, PressureRow, ProcessRow, YieldRow};
use volume::{LITRES_PER_QUART, Measure};
type CropId = String;
type ClassId = String;
type MethodId = String;

fn main() {
    println!("cargo::rerun-if-changed=data");
    println!("cargo::rerun-if-changed=src/trade/methods");
    println!("cargo::rerun-if-changed=src/trade/provenance/mark.rs");
    println!("cargo::rerun-if-changed=src/units/volume.rs");
    match list() {
        Ok(wrong) => wrong.iter().for_each(|line| println!("cargo::error={line}")),
        Err(error) => println!("cargo::error=the tables under data cannot be read: {error}"),
    }
}

/// Writes the list of methods; returns what is wrong with them.
fn list() -> io::Result<Vec<String>> {
    let data =
        PathBuf::from(env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?).join("data");
    let known = known(&data)?;
    let mut paths: Vec<PathBuf> = fs::read_dir(data.join("methods"))?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<io::Result<_>>()?;
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "json"));
    paths.sort();
    let mut wrong = Vec::new();
    let mut code = String::from("[\n");
    for path in &paths {
        let text = fs::read_to_string(path)?;
        let name = path.file_stem().unwrap_or_default().to_string_lossy();
        let shown = format!("shared-types/data/methods/{name}.json");
        wrong.extend(
            faults(&name, &text, &known)
                .iter()
                .map(|(line, words)| format!("{shown}:{line}: {words}")),
        );
        // `Debug` of a string is a literal of it.
        let path = path.to_string_lossy();
        writeln!(code, "({name:?}, include_str!({path:?})),").map_err(io::Error::other)?;
    }
    code.push_str("]\n");
    let out = PathBuf::from(env::var("OUT_DIR").map_err(io::Error::other)?);
    fs::write(out.join("methods.rs"), code)?;
    Ok(wrong)
}

/// What is wrong with one file, by line.
fn faults(name: &str, text: &str, known: &check::Known) -> Vec<(usize, String)> {
    let method: Method = match serde_json::from_str(text) {
        Ok(method) => method,
        Err(error) => return vec![(error.line(), error.to_string())],
    };
    let mut faults: Vec<_> = check::faults(&method, known)
        .into_iter()
        .map(|fault| (check::line_of(text, &fault.at), format!("{}: {}", fault.at, fault.words)))
        .collect();
    if method.id != name {
        faults.push((check::line_of(text, "/id"), format!("/id: the file is named `{name}`")));
    }
    faults
}

/// What the other tables know.
fn known(data: &Path) -> io::Result<check::Known> {
    let read = |name: &str| -> io::Result<Value> {
        let text = fs::read_to_string(data.join(name))?;
        serde_json::from_str(&text).map_err(|error| io::Error::other(format!("{name}: {error}")))
    };
    let word = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let classes = |crop: &Value| -> BTreeSet<String> {
        crop["classes"].as_array().into_iter().flatten().map(|class| word(&class["id"])).collect()
    };
    let (crops, sources, canning) =
        (read("crops.json")?, read("sources.json")?, read("canning.json")?);
    let columns = |bands: &Value| {
        let tops = bands["tops_feet"].as_array().map_or(0, Vec::len);
        tops + usize::from(!bands["closed"].as_bool().unwrap_or(false))
    };
    Ok(check::Known {
        crops: crops
            .as_array()
            .into_iter()
            .flatten()
            .map(|c| (word(&c["slug"]), classes(c)))
            .collect(),
        sources: sources.as_object().into_iter().flat_map(|all| all.keys().cloned()).collect(),
        columns: canning["bands"]
            .as_object()
            .into_iter()
            .flatten()
            .map(|(name, bands)| (name.clone(), columns(bands)))
            .collect::<BTreeMap<_, _>>(),
    })
}
