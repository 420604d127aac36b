//! From the compiled wasm to the two files a browser loads: bindings, then the optimiser.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use wasm_bindgen_cli_support::Bindgen;

use crate::digest::digest;
use crate::error::BundleError;

/// A module as the browser loads it: the app, or the reader.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Code {
    /// The bindings: a JavaScript module whose default export starts the wasm.
    pub js: String,
    /// The optimised module.
    pub wasm: Vec<u8>,
}

/// Turns compiled wasm into [`Code`], remembering what it has done: the optimiser takes half a minute.
#[derive(Debug, Clone)]
pub struct Binder {
    /// The `wasm-opt` command.
    pub optimiser: PathBuf,
    /// Where finished code is kept, one folder per input.
    pub cache: PathBuf,
}

/// How the optimiser is called; part of the cache's key. Generic code leaves many functions that differ by a constant:
/// one of each kind is 1.4 % less to fetch.
const OPTIMISE: [&str; 2] = ["--merge-similar-functions", "-Oz"];

impl Binder {
    /// Binds and optimises the module at `compiled`.
    pub fn code(&self, compiled: &Path) -> Result<Code, BundleError> {
        let input = fs::read(compiled).map_err(BundleError::at(compiled))?;
        let version = self.run(&["--version"])?;
        let kept = self
            .cache
            .join(digest([&input, &version, OPTIMISE.concat().as_bytes()]));
        let (js, wasm) = (kept.join("app.js"), kept.join("app.wasm"));
        // The optimiser writes last: its output stands for a finished pair.
        if !wasm.exists() {
            self.make(input, &js, &wasm)?;
        }
        Ok(Code {
            js: fs::read_to_string(&js).map_err(BundleError::at(&js))?,
            wasm: fs::read(&wasm).map_err(BundleError::at(&wasm))?,
        })
    }

    fn make(&self, input: Vec<u8>, js: &Path, wasm: &Path) -> Result<(), BundleError> {
        // One input is kept, not a history of them.
        if self.cache.exists() {
            fs::remove_dir_all(&self.cache).map_err(BundleError::at(&self.cache))?;
        }
        let folder = js.with_file_name("bound");
        fs::create_dir_all(&folder).map_err(BundleError::at(&folder))?;
        let bound = folder.join("app.wasm");
        let (bindings, module) = bind(input)?;
        fs::write(js, bindings).map_err(BundleError::at(js))?;
        fs::write(&bound, module).map_err(BundleError::at(&bound))?;
        let (from, part) = (bound.display().to_string(), wasm.with_extension("part"));
        self.run(&[OPTIMISE.as_slice(), &[&from, "-o", &part.display().to_string()]].concat())?;
        fs::rename(&part, wasm).map_err(BundleError::at(wasm))
    }

    fn run(&self, args: &[&str]) -> Result<Vec<u8>, BundleError> {
        let failed = |reason: String| BundleError::Optimiser {
            command: format!("{} {}", self.optimiser.display(), args.join(" ")),
            reason,
        };
        let output = Command::new(&self.optimiser)
            .args(args)
            .output()
            .map_err(|error| failed(error.to_string()))?;
        if !output.status.success() {
            return Err(failed(String::from_utf8_lossy(&output.stderr).into_owned()));
        }
        Ok(output.stdout)
    }
}

/// The bindings as a module for `<script type="module">`, and the wasm they belong to.
fn bind(input: Vec<u8>) -> Result<(String, Vec<u8>), BundleError> {
    let refused = |error: &dyn std::fmt::Display| BundleError::Bindings(format!("{error:#}"));
    let mut bindgen = Bindgen::new();
    bindgen
        .input_bytes("app", input)
        .typescript(false)
        .omit_default_module_path(true)
        .remove_producers_section(true)
        .web(true)
        .map_err(|error| refused(&error))?;
    let mut output = bindgen.generate_output().map_err(|error| refused(&error))?;
    let inline = output
        .snippets()
        .iter()
        .filter(|(_, scripts)| !scripts.is_empty())
        .map(|(owner, _)| owner);
    let snippets: Vec<&str> = inline
        .chain(output.local_modules().keys())
        .map(String::as_str)
        .collect();
    if !snippets.is_empty() {
        return Err(BundleError::Snippets(snippets.join(", ")));
    }
    let module = output.wasm_mut().emit_wasm();
    Ok((output.js().to_owned(), module))
}
