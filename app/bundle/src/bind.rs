//! From compiled wasm to the files that a browser loads: cuts the app into pieces, makes the JavaScript bindings, and
//! runs the optimiser.

use std::fs;
use std::num::NonZero;
use std::panic::resume_unwind;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::{self, ScopedJoinHandle};

use wasm_bindgen_cli_support::Bindgen;

use crate::digest::digest;
use crate::error::BundleError;
use crate::split::{Piece, split};

/// A module as the browser loads it: the app's main module, the reader of tags, or the analytics worker.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ModuleCode {
    /// The bindings: a JavaScript module whose default export starts the wasm.
    pub js: String,
    /// The optimised module.
    pub wasm: Vec<u8>,
}

/// The app as the browser loads it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AppCode {
    /// The main module, with the first screen. Its bindings import [`LINK`](crate::split::LINK).
    pub first: ModuleCode,
    /// The lazily loaded pieces, optimised.
    pub pieces: Vec<Piece>,
    /// The script that loads them.
    pub link: String,
}

/// Turns compiled wasm into what a browser loads. The result is cached, because the optimiser takes half a minute.
#[derive(Debug, Clone)]
pub struct Binder {
    /// The `wasm-opt` command.
    pub optimiser: PathBuf,
    /// Where results are cached, one folder for each input.
    pub cache: PathBuf,
}

/// The options of the optimiser; part of the cache's key. Generic code leaves many functions that differ only in a
/// constant: merging them makes the download 1.4 % smaller.
const OPTIMISE: [&str; 2] = ["--merge-similar-functions", "-Oz"];

impl Binder {
    /// Binds and optimises the module at `compiled`.
    pub fn code(&self, compiled: &Path) -> Result<ModuleCode, BundleError> {
        let input = fs::read(compiled).map_err(BundleError::at(compiled))?;
        let kept = self.kept(&input)?;
        if !kept.complete() {
            self.begin(&kept)?;
            let bound = self.bind_to(input, Exports::Own, &kept)?;
            self.optimise(&bound, &kept.wasm())?;
        }
        kept.code()
    }

    /// Cuts the app at `compiled` into pieces, binds and optimises them.
    pub fn app(&self, compiled: &Path) -> Result<AppCode, BundleError> {
        let input = fs::read(compiled).map_err(BundleError::at(compiled))?;
        let kept = self.kept(&input)?;
        if !kept.complete() {
            self.begin(&kept)?;
            let cut = split(&input, &kept.folder("cut")?)?;
            fs::write(kept.link(), &cut.link).map_err(BundleError::at(&kept.link()))?;
            let bound = self.bind_to(cut.main, Exports::Linked, &kept)?;
            let first = bound.with_file_name("optimised.wasm");
            let mut modules = vec![(bound, first.clone())];
            for Piece { name, wasm } in &cut.pieces {
                let (from, to) = (kept.folder("cut")?.join(name), kept.folder("pieces")?.join(name));
                fs::write(&from, wasm).map_err(BundleError::at(&from))?;
                modules.push((from, to));
            }
            self.optimise_all(&modules)?;
            fs::rename(&first, kept.wasm()).map_err(BundleError::at(&first))?;
        }
        Ok(AppCode {
            first: kept.code()?,
            pieces: kept.pieces()?,
            link: fs::read_to_string(kept.link()).map_err(BundleError::at(&kept.link()))?,
        })
    }

    /// The cache folder of this input.
    fn kept(&self, input: &[u8]) -> Result<CodeCache, BundleError> {
        let version = self.run(&["--version"])?;
        let key = digest([input, &version, OPTIMISE.concat().as_bytes()]);
        Ok(CodeCache(self.cache.join(key)))
    }

    /// Begins a new cache entry. Only the latest is kept: all older ones are deleted.
    fn begin(&self, kept: &CodeCache) -> Result<(), BundleError> {
        if self.cache.exists() {
            fs::remove_dir_all(&self.cache).map_err(BundleError::at(&self.cache))?;
        }
        fs::create_dir_all(&kept.0).map_err(BundleError::at(&kept.0))
    }

    /// Writes a module's bindings, and the module that they belong to before optimisation. Returns the path of that
    /// module.
    fn bind_to(&self, input: Vec<u8>, exports: Exports, kept: &CodeCache) -> Result<PathBuf, BundleError> {
        let bound = kept.folder("bound")?.join("app.wasm");
        let (bindings, module) = bind(input, exports)?;
        fs::write(kept.js(), bindings).map_err(BundleError::at(&kept.js()))?;
        fs::write(&bound, module).map_err(BundleError::at(&bound))?;
        Ok(bound)
    }

    /// Optimises modules, each given with the file to write, in parallel: one run of the optimiser uses only one core.
    fn optimise_all(&self, modules: &[(PathBuf, PathBuf)]) -> Result<(), BundleError> {
        let next = AtomicUsize::new(0);
        let work = || {
            while let Some((from, to)) = modules.get(next.fetch_add(1, Ordering::Relaxed)) {
                self.optimise(from, to)?;
            }
            Ok(())
        };
        let cores = thread::available_parallelism().map_or(1, NonZero::get);
        thread::scope(|scope| {
            let workers: Vec<_> = (0..cores.min(modules.len())).map(|_| scope.spawn(work)).collect();
            workers.into_iter().try_for_each(joined)
        })
    }

    /// Writes the optimised module under a temporary name and renames it, so that an interrupted run leaves no partial
    /// file.
    fn optimise(&self, from: &Path, to: &Path) -> Result<(), BundleError> {
        let (from, part) = (from.display().to_string(), to.with_extension("part"));
        self.run(&[OPTIMISE.as_slice(), &[&from, "-o", &part.display().to_string()]].concat())?;
        fs::rename(&part, to).map_err(BundleError::at(to))
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

/// The result of a thread. If the thread panicked, panics with the same payload.
pub fn joined<T>(thread: ScopedJoinHandle<'_, T>) -> T {
    thread.join().unwrap_or_else(|panic| resume_unwind(panic))
}

/// The cache folder of one input.
struct CodeCache(PathBuf);

impl CodeCache {
    fn js(&self) -> PathBuf {
        self.0.join("app.js")
    }

    fn wasm(&self) -> PathBuf {
        self.0.join("app.wasm")
    }

    fn link(&self) -> PathBuf {
        self.0.join("link.js")
    }

    /// Whether the cache entry is complete. The main module is written last, so its existence shows that all files are
    /// there.
    fn complete(&self) -> bool {
        self.wasm().exists()
    }

    fn folder(&self, name: &str) -> Result<PathBuf, BundleError> {
        let folder = self.0.join(name);
        fs::create_dir_all(&folder).map_err(BundleError::at(&folder))?;
        Ok(folder)
    }

    fn code(&self) -> Result<ModuleCode, BundleError> {
        let (js, wasm) = (self.js(), self.wasm());
        Ok(ModuleCode {
            js: fs::read_to_string(&js).map_err(BundleError::at(&js))?,
            wasm: fs::read(&wasm).map_err(BundleError::at(&wasm))?,
        })
    }

    /// The pieces, sorted by name.
    fn pieces(&self) -> Result<Vec<Piece>, BundleError> {
        let folder = self.folder("pieces")?;
        let mut pieces = Vec::new();
        for entry in fs::read_dir(&folder).map_err(BundleError::at(&folder))? {
            let path = entry.map_err(BundleError::at(&folder))?.path();
            let name = path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            let wasm = fs::read(&path).map_err(BundleError::at(&path))?;
            pieces.push(Piece { name, wasm });
        }
        pieces.sort_by(|one, other| one.name.cmp(&other.name));
        Ok(pieces)
    }
}

/// What a module exports.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Exports {
    /// Only what its bindings call.
    Own,
    /// Its table of functions too, which the pieces are linked to.
    Linked,
}

/// Makes the bindings, as a module for `<script type="module">`. Returns them and the wasm they belong to.
fn bind(input: Vec<u8>, exports: Exports) -> Result<(String, Vec<u8>), BundleError> {
    let refused = |error: &dyn std::fmt::Display| BundleError::Bindings(format!("{error:#}"));
    let mut bindgen = Bindgen::new();
    bindgen
        .input_bytes("app", input)
        .typescript(false)
        .omit_default_module_path(true)
        .remove_producers_section(true)
        .keep_lld_exports(exports == Exports::Linked)
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
