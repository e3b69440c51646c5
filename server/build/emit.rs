//! The packed files and the Rust table that embeds them.
//!
//! `OUT_DIR/assets.rs` is included by `server::assets`, which defines `Asset`; the bytes lie
//! beside it in `files/`, plain and compressed.

use std::io::Write as _;
use std::path::Path;

use crate::bundle::{self, Build, File};
use crate::wasm;

/// The best the formats offer: compressed once here, downloaded over weak links many times.
const BEST: Effort = Effort { gzip: 9, brotli: 11 };

/// For a program that is only looked at by its author, where the best would take a minute.
const QUICK: Effort = Effort { gzip: 1, brotli: 1 };

/// How hard to compress, on each format's own scale.
#[derive(Clone, Copy)]
struct Effort {
    gzip: u32,
    brotli: i32,
}

/// Base-two logarithm of brotli's window in bytes; 4 MiB holds the whole module.
const BROTLI_WINDOW: i32 = 22;

/// Writes the files, `assets.rs` and `sizes.json` into `out_dir`.
pub fn write(build: &Build, out_dir: &Path) -> Result<(), String> {
    let folder = out_dir.join("files");
    if folder.exists() {
        std::fs::remove_dir_all(&folder)
            .map_err(|error| format!("cannot empty {}: {error}", folder.display()))?;
    }

    let effort = if wasm::shipped() { BEST } else { QUICK };
    let mut table = String::new();
    let mut sizes = serde_json::Map::new();
    let mut total = Sizes::default();
    for file in &build.files {
        let gzip = smaller(file, |bytes| gzip(bytes, effort))?;
        let brotli = smaller(file, |bytes| brotli(bytes, effort))?;
        save(&folder, &file.path, &file.bytes)?;
        for (bytes, extension) in [(&gzip, "gz"), (&brotli, "br")] {
            if let Some(bytes) = bytes {
                save(&folder, &format!("{}.{extension}", file.path), bytes)?;
            }
        }
        table.push_str(&row(file, gzip.is_some(), brotli.is_some()));

        let own = Sizes {
            plain: file.bytes.len(),
            gzip: gzip.as_ref().map_or(file.bytes.len(), Vec::len),
            brotli: brotli.as_ref().map_or(file.bytes.len(), Vec::len),
        };
        total = total.plus(&own);
        eprintln!("{own} {}", file.path);
        sizes.insert(file.source.clone(), own.json());
    }
    eprintln!("{total} in all, build {}", build.id);

    let sizes = serde_json::json!({ "build": build.id, "files": sizes, "total": total.json() });
    let table = format!(
        "/// Hash over all files: the name of the build.\n\
         pub const BUILD: &str = {:?};\n\n\
         /// Every file of the build, in order of `path`.\n\
         pub static FILES: [Asset; {}] = [\n{table}];\n",
        build.id,
        build.files.len(),
    );
    save(out_dir, "/assets.rs", table.as_bytes())?;
    save(out_dir, "/sizes.json", format!("{sizes:#}\n").as_bytes())
}

/// Bytes of a file as it is, and as it travels.
#[derive(Default)]
struct Sizes {
    plain: usize,
    gzip: usize,
    brotli: usize,
}

impl Sizes {
    fn plus(&self, other: &Self) -> Self {
        Self {
            plain: self.plain + other.plain,
            gzip: self.gzip + other.gzip,
            brotli: self.brotli + other.brotli,
        }
    }

    fn json(&self) -> serde_json::Value {
        serde_json::json!({ "plain": self.plain, "gzip": self.gzip, "brotli": self.brotli })
    }
}

impl std::fmt::Display for Sizes {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:>8} B, gzip {:>7} B, brotli {:>7} B", self.plain, self.gzip, self.brotli)
    }
}

/// One row of the table. Paths are relative to `OUT_DIR/assets.rs`.
fn row(file: &File, gzip: bool, brotli: bool) -> String {
    let include = |extension: &str| format!("include_bytes!(\"files{}{extension}\")", file.path);
    let option = |there: bool, extension: &str| {
        if there { format!("Some({})", include(extension)) } else { "None".to_owned() }
    };
    format!(
        "    Asset {{ path: {:?}, content_type: {:?}, hashed: {}, etag: {:?}, plain: {}, gzip: {}, \
         brotli: {} }},\n",
        file.path,
        file.content_type,
        file.is_hashed(),
        // Weak, because the same tag stands for the plain and the compressed bytes.
        format!("W/\"{}\"", bundle::hash([file.bytes.as_slice()])),
        include(""),
        option(gzip, ".gz"),
        option(brotli, ".br"),
    )
}

/// The compressed bytes, if the kind of file is worth it and they are fewer.
fn smaller(
    file: &File,
    compress: impl Fn(&[u8]) -> std::io::Result<Vec<u8>>,
) -> Result<Option<Vec<u8>>, String> {
    if !file.compressible {
        return Ok(None);
    }
    let bytes = compress(&file.bytes).map_err(|error| format!("{}: {error}", file.path))?;
    Ok((bytes.len() < file.bytes.len()).then_some(bytes))
}

fn gzip(bytes: &[u8], effort: Effort) -> std::io::Result<Vec<u8>> {
    let mut encoder =
        flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::new(effort.gzip));
    encoder.write_all(bytes)?;
    encoder.finish()
}

fn brotli(bytes: &[u8], effort: Effort) -> std::io::Result<Vec<u8>> {
    let params = brotli::enc::BrotliEncoderParams {
        quality: effort.brotli,
        lgwin: BROTLI_WINDOW,
        size_hint: bytes.len(),
        ..Default::default()
    };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &bytes[..], &mut packed, &params)?;
    Ok(packed)
}

fn save(folder: &Path, path: &str, bytes: &[u8]) -> Result<(), String> {
    let path = folder.join(path.trim_start_matches('/'));
    let problem = |error: std::io::Error| format!("cannot write {}: {error}", path.display());
    if let Some(parent) = path.parent() {
        std::fs::create_dir_all(parent).map_err(problem)?;
    }
    std::fs::write(&path, bytes).map_err(problem)
}
