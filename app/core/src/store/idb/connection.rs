//! The connection: opened when first needed, upgraded, closed when another tab needs an upgrade, opened again.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use js_sys::Date;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{
    IdbDatabase, IdbFactory, IdbIndexParameters, IdbObjectStore, IdbObjectStoreParameters, IdbOpenDbRequest,
};

use super::failure::of_thrown;
use super::request::{first_event, on};
use super::row::KEY;
use crate::browser::js::property;
use crate::store::kv::{KvError, Table};
use crate::store::tables::ALL;

/// The version of the tables. Raise it whenever [`ALL`] grows; nothing is ever removed, so one step serves every
/// older version.
const VERSION: u32 = 2;

/// After this long without a transaction the connection is tried before it is trusted, in milliseconds.
const IDLE_MS: f64 = 20_000.0;

/// The IndexedDB database of one name. Clones share the connection.
#[derive(Debug, Clone)]
pub struct Idb {
    inner: Rc<IdbInner>,
}

#[derive(Debug)]
struct IdbInner {
    name: String,
    version: u32,
    connection: RefCell<Option<IdbDatabase>>,
    /// Whether a newer app in another tab has asked this one to make way.
    made_way: Cell<bool>,
    last_used: Cell<f64>,
}

impl Idb {
    /// The database of this name, opened when first needed.
    pub fn new(name: &str) -> Self {
        Self::of_version(name, VERSION)
    }

    /// The same with tables of another version, as a later app would open it.
    pub fn of_version(name: &str, version: u32) -> Self {
        let inner = IdbInner {
            name: name.to_owned(),
            version,
            connection: RefCell::new(None),
            made_way: Cell::new(false),
            last_used: Cell::new(Date::now()),
        };
        Self {
            inner: Rc::new(inner),
        }
    }

    /// Whether a newer app in another tab has changed the tables since this page was opened: the page should be
    /// loaded again. What this page does meanwhile is safe.
    pub fn made_way(&self) -> bool {
        self.inner.made_way.get()
    }

    /// The connection, opened if need be.
    ///
    /// # Errors
    /// When the browser cannot open it.
    pub async fn database(&self) -> Result<IdbDatabase, KvError> {
        if let Some(database) = self.inner.connection.borrow().clone() {
            return Ok(database);
        }
        let database = match self.open(Some(self.inner.version)).await {
            // A newer app has been here and only added: its database serves this one too.
            Err(KvError::TooNew) => self.open(None).await?,
            opened => opened?,
        };
        self.watch(&database);
        *self.inner.connection.borrow_mut() = Some(database.clone());
        Ok(database)
    }

    /// Forgets the connection: the next transaction opens another.
    pub(super) fn drop_connection(&self) {
        if let Some(database) = self.inner.connection.borrow_mut().take() {
            database.close();
        }
    }

    /// Whether the connection was not used for a while. Notes that it is used now.
    pub(super) fn was_idle(&self) -> bool {
        let now = Date::now();
        (self.inner.last_used.replace(now) - now).abs() > IDLE_MS
    }

    async fn open(&self, version: Option<u32>) -> Result<IdbDatabase, KvError> {
        let factory: IdbFactory = property(&js_sys::global(), "indexedDB")
            .ok_or_else(|| KvError::Other("this browser keeps no records".to_owned()))?
            .unchecked_into();
        let request = match version {
            Some(version) => factory.open_with_u32(&self.inner.name, version),
            None => factory.open(&self.inner.name),
        }
        .map_err(|thrown| of_thrown(&thrown))?;
        let upgrade = upgrade_on(&request);
        let event = first_event(&request).await.map_err(|thrown| of_thrown(&thrown));
        request.set_onupgradeneeded(None);
        drop(upgrade);
        if event?.type_() == "blocked" {
            close_when_open(&request);
            return Err(KvError::Blocked);
        }
        request
            .result()
            .map(JsCast::unchecked_into)
            .map_err(|thrown| of_thrown(&thrown))
    }

    /// Makes way for another tab's upgrade, and notices when the browser has cut the connection.
    fn watch(&self, database: &IdbDatabase) {
        let inner = Rc::clone(&self.inner);
        let way = database.clone();
        on(database, "versionchange", move || {
            way.close();
            inner.made_way.set(true);
            forget(&inner, &way);
        });
        let (inner, cut) = (Rc::clone(&self.inner), database.clone());
        on(database, "close", move || forget(&inner, &cut));
    }
}

/// Forgets this connection, unless another has taken its place.
fn forget(inner: &IdbInner, gone: &IdbDatabase) {
    let mut connection = inner.connection.borrow_mut();
    if connection.as_ref() == Some(gone) {
        *connection = None;
    }
}

/// A request that was blocked opens late, when nobody waits for it any more: it must not stay open.
fn close_when_open(request: &IdbOpenDbRequest) {
    let late = request.clone();
    let close = Closure::once_into_js(move || {
        if let Ok(database) = late.result() {
            database.unchecked_into::<IdbDatabase>().close();
        }
    });
    request.set_onsuccess(Some(close.unchecked_ref()));
    let upgrade = upgrade_on(request);
    // The other tab may close after this page has gone on: the upgrade is still done.
    upgrade.forget();
}

/// Adds every table and index that is missing, when the browser asks for it.
fn upgrade_on(request: &IdbOpenDbRequest) -> Closure<dyn FnMut()> {
    let asked = request.clone();
    let upgrade = Closure::<dyn FnMut()>::new(move || {
        // An error here fails the request, which says so by its own event.
        let result = asked.result().map(JsCast::unchecked_into::<IdbDatabase>);
        if let Ok(database) = result {
            for table in ALL {
                drop(add(&asked, &database, *table));
            }
        }
    });
    request.set_onupgradeneeded(Some(upgrade.as_ref().unchecked_ref()));
    upgrade
}

fn add(request: &IdbOpenDbRequest, database: &IdbDatabase, table: Table) -> Result<(), JsValue> {
    let store: IdbObjectStore = if database.object_store_names().contains(table.name) {
        request
            .transaction()
            .ok_or(JsValue::UNDEFINED)?
            .object_store(table.name)?
    } else {
        let keyed = IdbObjectStoreParameters::new();
        keyed.set_key_path(&JsValue::from_str(KEY));
        database.create_object_store_with_optional_parameters(table.name, &keyed)?
    };
    for index in table.indexes {
        if !store.index_names().contains(index) {
            let many = IdbIndexParameters::new();
            many.set_multi_entry(true);
            store.create_index_with_str_and_optional_parameters(index, index, &many)?;
        }
    }
    Ok(())
}
