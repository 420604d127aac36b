//! The site in memory: every file that the server serves for the app, by its path.

use std::collections::BTreeMap;

use crate::bind::{AppCode, ModuleCode};
use crate::digest::digest;
use crate::error::BundleError;
use crate::icon::{self, Ground};
use crate::pages::Sources;
use crate::split::{LINK, MAIN, Piece};

/// The folder of files whose names contain a hash of their content, so that browsers may cache them for ever.
const HASHED: &str = "/pkg/";

/// The prefix of the names of the app's pieces.
const PIECE: &str = "piece-";

/// The compiled modules.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Modules {
    /// The app. The page starts its main module.
    pub app: AppCode,
    /// The reader of tags, which the app loads at the first scan.
    pub reader: ModuleCode,
    /// The analytics worker, which the app starts at the first question.
    pub analytics: ModuleCode,
}

/// Every file of the app by its absolute path (`/index.html`).
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Site {
    files: BTreeMap<String, Vec<u8>>,
}

impl Site {
    /// Composes the site. `label` names the build for people; it is part of every hash, so another label gives other
    /// file names to the same code.
    pub fn new(modules: &Modules, sources: &Sources, label: &str) -> Result<Self, BundleError> {
        let mut hashed = Hashed {
            label,
            names: BTreeMap::new(),
            files: BTreeMap::new(),
        };
        hashed.add_app(&modules.app);
        let wasm = hashed.add("reader.wasm", modules.reader.wasm.clone());
        hashed.add("reader.js", lender(&modules.reader, &wasm).into_bytes());
        let wasm = hashed.add("analytics.wasm", modules.analytics.wasm.clone());
        hashed.add("analytics.js", answerer(&modules.analytics, &wasm).into_bytes());
        hashed.add("app.css", sources.css.clone().into_bytes());
        hashed.add("card-type.css", sources.typeface.clone().into_bytes());
        hashed.add("drawings.json", sources.drawings.clone().into_bytes());
        hashed.add("icon.svg", icon::svg(Ground::Tile).into_bytes());
        for (name, ground, side) in [
            ("icon-192.png", Ground::Tile, 192),
            ("icon-512.png", Ground::Tile, 512),
            ("icon-maskable.png", Ground::Full, 512),
            ("icon-touch.png", Ground::Full, 180),
        ] {
            hashed.add(name, icon::png(ground, side)?);
        }
        let build = format!("{label}-{}", digest(hashed.files.keys()));
        let index = hashed
            .rename("index.html", &sources.index)?
            .replace("{{build}}", &build);
        let manifest = hashed.rename("manifest.webmanifest", &sources.manifest)?;
        let mut files = hashed.files;
        files.insert("/index.html".into(), index.into_bytes());
        files.insert("/manifest.webmanifest".into(), manifest.into_bytes());
        let worker = worker(&files, &sources.worker);
        files.insert("/sw.js".into(), worker.into_bytes());
        Ok(Self { files })
    }

    /// Paths and contents.
    pub fn files(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.files
            .iter()
            .map(|(path, bytes)| (path.as_str(), bytes.as_slice()))
    }
}

/// Files named by their content, and the names by which the pages refer to them.
struct Hashed<'a> {
    label: &'a str,
    /// From the name in the sources (`/pkg/app.js`) to the path in the site (`/pkg/app-0123456789abcdef.js`).
    names: BTreeMap<String, String>,
    files: BTreeMap<String, Vec<u8>>,
}

impl Hashed<'_> {
    fn add(&mut self, name: &str, bytes: Vec<u8>) -> String {
        let path = self.path(name, &[&bytes]);
        self.put(name, path.clone(), bytes);
        path
    }

    fn put(&mut self, name: &str, path: String, bytes: Vec<u8>) {
        self.names.insert(format!("{HASHED}{name}"), path.clone());
        self.files.insert(path, bytes);
    }

    /// The path of a file whose hash is made from these parts.
    fn path(&self, name: &str, parts: &[&[u8]]) -> String {
        let hash = digest([self.label.as_bytes()].iter().chain(parts));
        match name.rsplit_once('.') {
            Some((stem, extension)) => format!("{HASHED}{stem}-{hash}.{extension}"),
            None => format!("{HASHED}{name}-{hash}"),
        }
    }

    /// The app: its pieces, the bindings of its main module, and the link script that connects them. Bindings and link
    /// refer to each other by name, so the link's hash is made from the texts of both before the names are inserted.
    fn add_app(&mut self, app: &AppCode) {
        let mut link = app.link.clone();
        for Piece { name, wasm } in &app.pieces {
            let path = self.add(&format!("{PIECE}{name}"), wasm.clone());
            link = link.replace(&format!("\"./{name}\""), &format!("\"{path}\""));
        }
        let wasm = self.add("app.wasm", app.first.wasm.clone());
        let starter = starter(&app.first, &wasm);
        let linked = self.path("link.js", &[link.as_bytes(), starter.as_bytes()]);
        let started = self.add("app.js", importing(&starter, LINK, &linked).into_bytes());
        self.put("link.js", linked, importing(&link, MAIN, &started).into_bytes());
    }

    /// Replaces every asset name in a page by its hashed path.
    fn rename(&self, page: &str, text: &str) -> Result<String, BundleError> {
        let mut done = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(at) = rest.find(HASHED) {
            let (before, from) = rest.split_at(at);
            let end = from.find('"').unwrap_or(from.len());
            let (name, after) = from.split_at(end);
            let path = self.names.get(name).ok_or_else(|| BundleError::UnknownAsset {
                page: page.into(),
                asset: name.into(),
            })?;
            done.push_str(before);
            done.push_str(path);
            rest = after;
        }
        done.push_str(rest);
        Ok(done)
    }
}

/// The script, with the path that it imports a module from replaced. The wasm still refers to the module by its former
/// name.
fn importing(script: &str, module: &str, path: &str) -> String {
    script.replace(&format!("from \"{module}\""), &format!("from \"{path}\""))
}

/// The bindings with two lines added, because the page may contain no inline script: the last starts the app, and the
/// first opens the browser's database meanwhile, which takes about as long as loading the wasm.
fn starter(code: &ModuleCode, wasm: &str) -> String {
    format!(
        "globalThis.indexedDB?.databases?.().catch(() => {{}});\n{}\n__wbg_init({{ module_or_path: \"{wasm}\" }});\n",
        code.js.trim_end()
    )
}

/// The bindings with one line added, which defines the global function `tagReader()`. It returns a promise of the
/// function that reads codes. The page cannot import the module itself, because it may contain no inline script.
fn lender(code: &ModuleCode, wasm: &str) -> String {
    format!(
        "{}\nglobalThis.tagReader = () => __wbg_init({{ module_or_path: \"{wasm}\" }}).then(() => read);\n",
        code.js.trim_end()
    )
}

/// The bindings with a few lines added, which make them a worker: it receives a question's name, its text and a port,
/// and sends the answer or the error through that port. Its own name is the tag of the language of the answers.
fn answerer(code: &ModuleCode, wasm: &str) -> String {
    format!(
        "{}\nconst ready = __wbg_init({{ module_or_path: \"{wasm}\" }});\n\
         onmessage = ({{ data: [name, text], ports: [port] }}) =>\n  \
         ready.then(() => answer(self.name, name, text)).then((told) => port.postMessage([told]), (error) => port.postMessage([null, String(error)]));\n",
        code.js.trim_end()
    )
}

/// The service worker, with the version and the list of files of the build inserted.
fn worker(files: &BTreeMap<String, Vec<u8>>, template: &str) -> String {
    let parts = files.iter().flat_map(|(path, bytes)| [path.as_bytes(), bytes]);
    let version = digest(parts.chain([template.as_bytes()]));
    let assets: Vec<&String> = files.keys().collect();
    let assets = serde_json::json!(assets);
    format!("const VERSION = \"{version}\";\nconst ASSETS = {assets};\n\n{template}")
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    fn code(name: &str) -> ModuleCode {
        ModuleCode {
            js: format!("async function __wbg_init() {{}} // {name}\n"),
            wasm: name.into(),
        }
    }

    fn modules() -> Modules {
        Modules {
            app: AppCode {
                first: ModuleCode {
                    js: format!("import * as link from \"{LINK}\"\n{}", code("app").js),
                    wasm: b"app".to_vec(),
                },
                pieces: vec![Piece {
                    name: "split_screens.wasm".into(),
                    wasm: b"screens".to_vec(),
                }],
                link: format!(
                    "import {{ initSync }} from \"{MAIN}\";\nfetch(new URL(\"./split_screens.wasm\", import.meta.url));\n"
                ),
            },
            reader: code("reader"),
            analytics: code("analytics"),
        }
    }

    fn site(label: &str) -> Site {
        Site::new(&modules(), &Sources::read().unwrap(), label).unwrap()
    }

    fn text(site: &Site, path: &str) -> String {
        let (_, bytes) = site.files().find(|(found, _)| *found == path).unwrap();
        String::from_utf8(bytes.to_vec()).unwrap()
    }

    /// The files that the service worker caches.
    fn listed(site: &Site) -> BTreeSet<String> {
        let worker = text(site, "/sw.js");
        let list = worker
            .lines()
            .find_map(|line| line.strip_prefix("const ASSETS = "))
            .unwrap();
        serde_json::from_str(list.trim_end_matches(';')).unwrap()
    }

    #[test]
    fn the_worker_keeps_every_file_but_itself_and_nothing_else() {
        let site = site("1");
        let mut files: BTreeSet<String> = site.files().map(|(path, _)| path.to_owned()).collect();
        assert!(files.remove("/sw.js"));
        assert_eq!(listed(&site), files);
    }

    /// The only cached file of a module with this extension.
    fn kept(site: &Site, module: &str, ending: &str) -> String {
        let begins = format!("{HASHED}{module}-");
        let found: Vec<String> = listed(site)
            .into_iter()
            .filter(|path| path.starts_with(&begins) && path.ends_with(ending))
            .collect();
        let [one] = found.as_slice() else {
            panic!("one {module}{ending}, not {found:?}")
        };
        one.clone()
    }

    #[test]
    fn the_worker_keeps_each_wasm_that_its_script_starts() {
        let site = site("1");
        for module in ["app", "reader", "analytics"] {
            let (script, wasm) = (kept(&site, module, ".js"), kept(&site, module, ".wasm"));
            assert!(text(&site, &script).contains(&format!("module_or_path: \"{wasm}\"")));
        }
    }

    #[test]
    fn the_bindings_and_the_link_name_each_other_and_the_link_names_the_pieces() {
        let site = site("1");
        let (app, link) = (kept(&site, "app", ".js"), kept(&site, "link", ".js"));
        assert!(text(&site, &app).contains(&format!("from \"{link}\"")));
        assert!(text(&site, &link).contains(&format!("from \"{app}\"")));
        let piece = kept(&site, PIECE.trim_end_matches('-'), ".wasm");
        assert!(text(&site, &link).contains(&format!("new URL(\"{piece}\"")));
    }

    #[test]
    fn a_change_in_a_piece_or_in_the_bindings_is_another_link_and_other_bindings() {
        let names = |modules: &Modules| {
            let site = Site::new(modules, &Sources::read().unwrap(), "1").unwrap();
            [kept(&site, "app", ".js"), kept(&site, "link", ".js")]
        };
        let (mut piece, mut bindings) = (modules(), modules());
        piece.app.pieces[0].wasm.push(0);
        bindings.app.first.js.push_str("// changed\n");
        let [app, link] = names(&modules());
        for changed in [names(&piece), names(&bindings)] {
            assert!(changed[0] != app && changed[1] != link);
        }
    }

    #[test]
    fn the_page_fetches_the_app_early_and_only_knows_where_the_others_are() {
        let site = site("1");
        let index = text(&site, "/index.html");
        assert!(index.contains(&format!("preload\" href=\"{}\"", kept(&site, "app", ".wasm"))));
        for module in ["reader", "analytics"] {
            let script = kept(&site, module, ".js");
            assert!(index.contains(&format!("<meta name=\"{module}\" content=\"{script}\">")));
            assert_eq!(index.matches(&format!("/pkg/{module}")).count(), 1);
        }
    }

    #[test]
    fn pages_name_only_files_that_exist() {
        let site = site("1");
        let files = listed(&site);
        for page in ["/index.html", "/manifest.webmanifest"] {
            for named in text(&site, page)
                .split('"')
                .filter(|part| part.starts_with(HASHED))
            {
                assert!(files.contains(named), "{page} names {named}");
            }
        }
    }

    #[test]
    fn an_asset_that_does_not_exist_is_an_error() {
        let mut sources = Sources::read().unwrap();
        sources.index.push_str("<img src=\"/pkg/gone.png\">");
        let made = Site::new(&modules(), &sources, "1");
        assert!(matches!(made, Err(BundleError::UnknownAsset { asset, .. }) if asset == "/pkg/gone.png"));
    }

    #[test]
    fn the_page_holds_no_script_or_style_of_its_own() {
        let index = text(&site("1"), "/index.html");
        assert!(!index.contains("<style") && !index.contains(" style=") && !index.contains(" on"));
        for script in index.split("<script").skip(1) {
            assert!(
                script.split_once('>').unwrap().1.starts_with("</script>"),
                "inline script: {script}"
            );
        }
    }

    #[test]
    fn the_same_input_makes_the_same_site() {
        assert_eq!(site("1"), site("1"));
    }

    #[test]
    fn another_label_makes_another_build() {
        let (one, two) = (site("1"), site("2"));
        let hashed = |site: &Site| -> BTreeSet<String> {
            listed(site)
                .into_iter()
                .filter(|path| path.starts_with(HASHED))
                .collect()
        };
        assert!(hashed(&one).is_disjoint(&hashed(&two)));
        assert_ne!(
            text(&one, "/sw.js").lines().next(),
            text(&two, "/sw.js").lines().next()
        );
    }

    #[test]
    fn a_change_in_the_worker_alone_is_a_new_version() {
        let mut sources = Sources::read().unwrap();
        sources.worker.push_str("// changed\n");
        let changed = Site::new(&modules(), &sources, "1").unwrap();
        assert_ne!(
            text(&site("1"), "/sw.js").lines().next(),
            text(&changed, "/sw.js").lines().next()
        );
    }
}
