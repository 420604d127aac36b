//! `bundle`: makes `app/dist`. See the library for how.

use std::fs;
use std::io::{Write, stdout};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::thread;

use clap::Parser;

use bundle::bind::{Binder, joined};
use bundle::digest::digest;
use bundle::dist::Forms;
use bundle::error::BundleError;
use bundle::pages::Sources;
use bundle::site::{Modules, Site};
use bundle::{dist, sizes};

/// Makes the app's files from the compiled wasm. Paths are relative to the workspace.
#[derive(Debug, Parser)]
struct Arguments {
    /// The compiled module.
    #[arg(long, default_value = "target/wasm32-unknown-unknown/wasm-release/app.wasm")]
    wasm: PathBuf,
    /// The compiled reader of tags.
    #[arg(
        long,
        default_value = "target/wasm32-unknown-unknown/wasm-release/reader.wasm"
    )]
    reader: PathBuf,
    /// The compiled analytics worker.
    #[arg(
        long,
        default_value = "target/wasm32-unknown-unknown/wasm-quick/analytics.wasm"
    )]
    analytics: PathBuf,
    /// The folder to write; what it held is replaced.
    #[arg(long, default_value = "app/dist")]
    out: PathBuf,
    /// What people call this build. Another label makes another build of the same code.
    #[arg(long, default_value = env!("CARGO_PKG_VERSION"))]
    label: String,
    /// Leave out the compressed forms and the budget: for builds that only tests see.
    #[arg(long)]
    plain: bool,
    /// The wasm optimiser.
    #[arg(long, default_value = "app/bundle/node_modules/.bin/wasm-opt")]
    wasm_opt: PathBuf,
    /// Where finished steps are kept from run to run.
    #[arg(long, default_value = "target/bundle")]
    cache: PathBuf,
}

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("bundle: {error}");
            ExitCode::FAILURE
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), BundleError> {
    // A cache keeps its latest input only, so each module has a cache of its own.
    let binder = |cache: &str| Binder {
        optimiser: arguments.wasm_opt.clone(),
        cache: arguments.cache.join(cache),
    };
    let modules = thread::scope(|scope| {
        let others = scope.spawn(|| {
            let reader = binder("reader").code(&arguments.reader)?;
            Ok((reader, binder("analytics").code(&arguments.analytics)?))
        });
        let app = binder("code").app(&arguments.wasm)?;
        let (reader, analytics) = joined(others)?;
        Ok(Modules {
            app,
            reader,
            analytics,
        })
    })?;
    let site = Site::new(&modules, &Sources::read()?, &arguments.label)?;
    let stamp = SiteStamp::of(&site, arguments);
    if stamp.holds() {
        return Ok(());
    }
    if arguments.plain {
        dist::write(&site, &arguments.out, Forms::Plain)?;
        return stamp.set();
    }
    let weights = dist::write(&site, &arguments.out, Forms::Packed)?;
    stdout()
        .write_all(sizes::table(&weights).as_bytes())
        .map_err(BundleError::at(Path::new("the terminal")))?;
    sizes::check(&weights)?;
    stamp.set()
}

/// A file that records which site the folder contains, so that the same site is not compressed again.
struct SiteStamp {
    file: PathBuf,
    folder: PathBuf,
    value: String,
}

impl SiteStamp {
    fn of(site: &Site, arguments: &Arguments) -> Self {
        let folder = arguments.out.clone();
        let name = digest([folder.as_os_str().as_encoded_bytes()]);
        let forms: &[u8] = if arguments.plain { b"plain" } else { b"packed" };
        let value = digest(
            site.files()
                .flat_map(|(path, bytes)| [path.as_bytes(), bytes])
                .chain([forms]),
        );
        Self {
            file: arguments.cache.join(format!("{name}.stamp")),
            folder,
            value,
        }
    }

    fn holds(&self) -> bool {
        Path::exists(&self.folder) && fs::read_to_string(&self.file).is_ok_and(|value| value == self.value)
    }

    fn set(&self) -> Result<(), BundleError> {
        fs::write(&self.file, &self.value).map_err(BundleError::at(&self.file))
    }
}
