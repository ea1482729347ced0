//! Makes of a compiled program what a browser takes in:
//!
//! ```text
//! halfturn-pack PROGRAM.wasm FOLDER NAME
//! ```
//!
//! Into the folder go `NAME.js`, which hands the program the browser's functions, `NAME_bg.wasm`,
//! what a start needs, a file for each part that is fetched when it is first used, and `parts.js`,
//! which fetches them. A program without parts has neither.

use anyhow::{Context, Result, anyhow, bail};
use std::env;
use std::fs;
use std::path::Path;
use wasm_bindgen_cli_support::Bindgen;

fn main() -> Result<()> {
    let arguments: Vec<String> = env::args().skip(1).collect();
    let [program, folder, name] = arguments.as_slice() else {
        bail!("say which program, into which folder, and by what name");
    };
    let folder = Path::new(folder);
    fs::create_dir_all(folder)?;
    let program = fs::read(program).with_context(|| format!("{program} can't be read"))?;
    let has_parts = has_parts(&program);
    let program = match has_parts {
        true => taken_apart(&program, folder, name)?,
        false => program,
    };
    let mut bindgen = Bindgen::new();
    bindgen
        .input_bytes(name, program)
        .web(true)?
        .typescript(false)
        // What the parts call in it.
        .keep_lld_exports(has_parts)
        .remove_name_section(true)
        .generate(folder)
}

/// The functions of a part are named so until they are taken out.
fn has_parts(program: &[u8]) -> bool {
    let mark = b"__wasm_split_load_";
    program.windows(mark.len()).any(|it| it == mark)
}

/// Writes the parts, and gives what stays.
fn taken_apart(program: &[u8], folder: &Path, name: &str) -> Result<Vec<u8>> {
    let stays = folder.join("stays.wasm");
    let main_module = format!("./{name}.js");
    let mut options = wasm_split_cli_support::Options::new(program);
    options.output_dir = folder;
    options.main_out_path = &stays;
    options.link_name = "./parts.js";
    options.main_module = &main_module;
    wasm_split_cli_support::transform(options).map_err(|error| anyhow!("{error:?}"))?;
    let program = fs::read(&stays)?;
    fs::remove_file(&stays)?;
    Ok(program)
}
