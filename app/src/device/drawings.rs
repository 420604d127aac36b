//! The line drawings of goods, parts, stations and empty screens. They are one file of the build, which is loaded when the
//! first drawing is shown and then kept in memory.

use std::collections::BTreeMap;
use std::rc::Rc;

use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::JsValue;

use super::build_file;

/// The name of the `<meta>` element that holds the address of the file.
const NAME: &str = "drawings";

/// The drawings by name: each an `<svg>` element as text, from our own build.
type ByName = Rc<BTreeMap<String, String>>;

/// The drawings, as a context. Cheap to copy.
#[derive(Clone, Copy)]
pub struct Drawings {
    all: RwSignal<Option<ByName>, LocalStorage>,
    asked: StoredValue<bool, LocalStorage>,
}

impl Drawings {
    /// Nothing is loaded yet.
    #[must_use]
    pub fn not_loaded() -> Self {
        Self {
            all: RwSignal::new_local(None),
            asked: StoredValue::new_local(false),
        }
    }

    /// The `<svg>` element of this name as text. `None` while the file is being loaded, if it cannot be loaded, and for a
    /// name without a drawing. Reading it in a view draws that again once the file is there.
    pub fn named(self, name: &str) -> Option<String> {
        self.load();
        self.all.with(|all| all.as_ref()?.get(name).cloned())
    }

    /// Loads the file, unless it has been asked for. After a failure the next drawing asks again.
    fn load(self) {
        if self.asked.get_value() {
            return;
        }
        self.asked.set_value(true);
        spawn_local(async move {
            match fetched().await {
                Ok(read) => self.all.set(Some(Rc::new(read))),
                Err(why) => {
                    self.asked.set_value(false);
                    leptos::logging::warn!("no drawings: {why:?}");
                }
            }
        });
    }
}

async fn fetched() -> Result<BTreeMap<String, String>, JsValue> {
    let text = build_file::text(NAME).await?;
    serde_json::from_str(&text).map_err(|error| error.to_string().into())
}
