//! The files a phone downloads, under the names it asks for.
//!
//! Scripts, styles and the wasm module get a piece of their content's hash in their name, so
//! that a browser may keep them for ever and two builds never mix. `index.html`, `sw.js`, the
//! manifest and the icons keep their names: they are where a phone starts from.
//!
//! Sources refer to each other by the plain name in double quotes (`"/style.css"`); the reference
//! is rewritten here. A name that leads nowhere stops the build.

use std::collections::BTreeMap;
use std::path::Path;

use sha2::{Digest, Sha256};

/// Hexadecimal digits of SHA-256 in file names and in the build's id: 48 bits.
const HASH_DIGITS: usize = 12;

/// Stands in `index.html` and `sw.js` for the build's id.
const BUILD_MARK: &str = "%BUILD%";

/// Stands in `sw.js`, as one quoted string, for the list of files to keep.
const FILES_MARK: &str = "\"%FILES%\"";

/// Served from the server only; a worker that cached itself could never be replaced.
const WORKER: &str = "/sw.js";

/// One file as it is served.
pub struct File {
    /// Absolute path in the URL, such as `/app-0123456789ab.wasm`.
    pub path: String,
    /// The path before hashing, such as `/app.wasm`.
    pub source: String,
    /// Value of `Content-Type`.
    pub content_type: &'static str,
    /// Whether compressing can help.
    pub compressible: bool,
    pub bytes: Vec<u8>,
}

impl File {
    /// Whether the name changes with the content.
    pub fn is_hashed(&self) -> bool {
        self.path != self.source
    }
}

/// Everything a phone can download, in order of `path`.
pub struct Build {
    /// Hash over all files.
    pub id: String,
    pub files: Vec<File>,
}

/// Gathers `public` and the wasm glue in `glue`.
pub fn collect(public: &Path, glue: &Path) -> Result<Build, String> {
    let mut sources = BTreeMap::new();
    read_folder(public, "", &mut sources)?;
    let mut parts = BTreeMap::new();
    read_folder(glue, "", &mut parts)?;

    let mut bundle = Bundle::default();
    let wasm = parts.remove("/app_bg.wasm").ok_or("wasm-bindgen wrote no app_bg.wasm")?;
    bundle.add_hashed("/app.wasm", wasm)?;
    let mut script =
        text("/app.js", parts.remove("/app.js").ok_or("wasm-bindgen wrote no app.js")?)?;
    // What is left are scripts that libraries bring along, imported as './snippets/…'.
    for (path, bytes) in parts {
        let import = format!("'.{path}'");
        if !script.contains(&import) {
            return Err(format!("app.js does not import {path}; wasm-bindgen's layout changed"));
        }
        let hashed = bundle.add_hashed(&path, bytes)?;
        script = script.replace(&import, &format!("'{hashed}'"));
    }
    bundle.add_hashed("/app.js", script.into_bytes())?;

    let is_hashed =
        |path: &str| path != WORKER && (path.ends_with(".js") || path.ends_with(".css"));
    let (hashed, named): (Vec<_>, Vec<_>) =
        sources.into_iter().partition(|(path, _)| is_hashed(path));
    for (path, bytes) in hashed {
        bundle.add_hashed(&path, bytes)?;
    }
    for (path, bytes) in named {
        bundle.add_named(&path, bytes)?;
    }
    bundle.finish()
}

#[derive(Default)]
struct Bundle {
    files: Vec<File>,
    /// Plain path to hashed path.
    renamed: BTreeMap<String, String>,
}

impl Bundle {
    /// Adds a file under a name with its hash, and returns that name.
    fn add_hashed(&mut self, source: &str, bytes: Vec<u8>) -> Result<String, String> {
        let mut file = file(source, bytes)?;
        self.rewrite_references(&mut file)?;
        let (stem, extension) = source.rsplit_once('.').ok_or("a file without extension")?;
        let stem = stem.rsplit('/').next().unwrap_or(stem);
        file.path = format!("/{stem}-{}.{extension}", hash([file.bytes.as_slice()]));
        let path = file.path.clone();
        self.renamed.insert(source.to_owned(), path.clone());
        self.files.push(file);
        Ok(path)
    }

    fn add_named(&mut self, source: &str, bytes: Vec<u8>) -> Result<(), String> {
        let mut file = file(source, bytes)?;
        self.rewrite_references(&mut file)?;
        self.files.push(file);
        Ok(())
    }

    fn rewrite_references(&self, file: &mut File) -> Result<(), String> {
        if !is_written_here(&file.source) {
            return Ok(());
        }
        let mut content = text(&file.source, std::mem::take(&mut file.bytes))?;
        for (plain, hashed) in &self.renamed {
            content = content.replace(&format!("\"{plain}\""), &format!("\"{hashed}\""));
        }
        file.bytes = content.into_bytes();
        Ok(())
    }

    fn finish(mut self) -> Result<Build, String> {
        self.files.sort_by(|a, b| a.path.cmp(&b.path));
        let id = hash(self.files.iter().flat_map(|file| [file.path.as_bytes(), &file.bytes]));
        let kept = self.files.iter().filter(|file| file.path != WORKER);
        let list: Vec<String> = kept.map(|file| format!("\n  \"{}\"", file.path)).collect();
        let list = list.join(",");
        fill(&mut self.files, "/index.html", BUILD_MARK, &id)?;
        fill(&mut self.files, WORKER, BUILD_MARK, &id)?;
        fill(&mut self.files, WORKER, FILES_MARK, &list)?;
        check_references(&self.files)?;
        Ok(Build { id, files: self.files })
    }
}

/// Replaces a mark that must be there.
fn fill(files: &mut [File], path: &str, mark: &str, value: &str) -> Result<(), String> {
    let file = files
        .iter_mut()
        .find(|file| file.path == path)
        .ok_or_else(|| format!("public{path} is missing"))?;
    let content = text(path, std::mem::take(&mut file.bytes))?;
    if !content.contains(mark) {
        return Err(format!("public{path} has no {mark} to fill in"));
    }
    file.bytes = content.replace(mark, value).into_bytes();
    Ok(())
}

/// Every `"/path.extension"` in a file written here must be one that is served.
fn check_references(files: &[File]) -> Result<(), String> {
    for file in files.iter().filter(|file| is_written_here(&file.source)) {
        let content = String::from_utf8_lossy(&file.bytes);
        // The odd pieces between double quotes are the quoted ones as long as quotes pair up on a
        // line, which the sources keep to.
        for line in content.lines() {
            for quoted in line.split('"').skip(1).step_by(2) {
                let is_file = quoted.starts_with('/') && quoted.contains('.');
                if is_file && !files.iter().any(|file| file.path == quoted) {
                    return Err(format!(
                        "public{} refers to {quoted}, which is not there",
                        file.source
                    ));
                }
            }
        }
    }
    Ok(())
}

/// Whether a person wrote the file's references, so that they may be rewritten and checked; the
/// glue of wasm-bindgen is left as it is.
fn is_written_here(source: &str) -> bool {
    let extension = source.rsplit('.').next().unwrap_or_default();
    source != "/app.js" && matches!(extension, "html" | "js" | "css" | "webmanifest")
}

fn file(source: &str, bytes: Vec<u8>) -> Result<File, String> {
    let extension = source.rsplit('.').next().unwrap_or_default();
    let (content_type, compressible) = match extension {
        "css" => ("text/css; charset=utf-8", true),
        "html" => ("text/html; charset=utf-8", true),
        "js" => ("text/javascript; charset=utf-8", true),
        "png" => ("image/png", false),
        "svg" => ("image/svg+xml", true),
        "wasm" => ("application/wasm", true),
        "webmanifest" => ("application/manifest+json", true),
        _ => {
            return Err(format!(
                "{source}: no content type is known for this file; add it to \
                 server/build/bundle.rs or take the file out of public/"
            ));
        }
    };
    let path = source.to_owned();
    Ok(File { path, source: source.to_owned(), content_type, compressible, bytes })
}

/// Reads all files below `folder`, keyed by their absolute URL path.
fn read_folder(
    folder: &Path,
    prefix: &str,
    files: &mut BTreeMap<String, Vec<u8>>,
) -> Result<(), String> {
    let problem = |error: std::io::Error| format!("cannot read {}: {error}", folder.display());
    for entry in folder.read_dir().map_err(problem)? {
        let entry = entry.map_err(problem)?;
        let name = entry.file_name();
        let name = name.to_str().ok_or_else(|| format!("{name:?} is not a plain file name"))?;
        let path = format!("{prefix}/{name}");
        if entry.file_type().map_err(problem)?.is_dir() {
            read_folder(&entry.path(), &path, files)?;
        } else {
            files.insert(path, std::fs::read(entry.path()).map_err(problem)?);
        }
    }
    Ok(())
}

fn text(path: &str, bytes: Vec<u8>) -> Result<String, String> {
    String::from_utf8(bytes).map_err(|_| format!("{path} is not UTF-8"))
}

/// The first digits of the SHA-256 of all pieces together.
pub fn hash<'a>(pieces: impl IntoIterator<Item = &'a [u8]>) -> String {
    let mut hasher = Sha256::new();
    for piece in pieces {
        hasher.update(piece);
    }
    let digest = hasher.finalize();
    let hex: String = digest.iter().map(|byte| format!("{byte:02x}")).collect();
    hex[..HASH_DIGITS].to_owned()
}
