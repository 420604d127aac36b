//! The connection: opened when it is first needed, upgraded, closed when another tab needs an upgrade, and opened
//! again.

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

/// The version of the tables. Raise it whenever [`ALL`] or an index of it grows. Nothing is ever removed, so one upgrade serves every
/// older version.
const VERSION: u32 = 4;

/// After so many milliseconds without a transaction the connection is tested before it is used.
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
    /// Whether this connection was closed for an upgrade by a newer app in another tab.
    made_way: Cell<bool>,
    last_used: Cell<f64>,
}

impl Idb {
    /// The database with this name. It is opened when it is first needed.
    pub fn new(name: &str) -> Self {
        Self::of_version(name, VERSION)
    }

    /// The same with another version of the tables, as a later app would open it.
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

    /// Whether a newer app in another tab has changed the tables since this page was opened: the page should then be
    /// reloaded. What this page writes meanwhile is safe.
    pub fn made_way(&self) -> bool {
        self.inner.made_way.get()
    }

    /// The connection, opened if necessary.
    ///
    /// # Errors
    /// If the browser cannot open it.
    pub async fn database(&self) -> Result<IdbDatabase, KvError> {
        if let Some(database) = self.inner.connection.borrow().clone() {
            return Ok(database);
        }
        let database = match self.open(Some(self.inner.version)).await {
            // A newer app has upgraded the database. It only adds, so its tables serve this app too.
            Err(KvError::TooNew) => self.open(None).await?,
            opened => opened?,
        };
        self.watch(&database);
        *self.inner.connection.borrow_mut() = Some(database.clone());
        Ok(database)
    }

    /// Drops the connection: the next transaction opens a new one.
    pub(super) fn drop_connection(&self) {
        if let Some(database) = self.inner.connection.borrow_mut().take() {
            database.close();
        }
    }

    /// Whether the connection was not used for a while. Marks it as used now.
    pub(super) fn was_idle(&self) -> bool {
        let now = Date::now();
        (self.inner.last_used.replace(now) - now).abs() > IDLE_MS
    }

    async fn open(&self, version: Option<u32>) -> Result<IdbDatabase, KvError> {
        let factory: IdbFactory = property(&js_sys::global(), "indexedDB")
            .ok_or_else(|| KvError::Other(words::store::browser_keeps_no_records().to_owned()))?
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

    /// Closes the connection for another tab's upgrade, and notices if the browser has cut it.
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

/// Drops this connection, unless another has replaced it.
fn forget(inner: &IdbInner, gone: &IdbDatabase) {
    let mut connection = inner.connection.borrow_mut();
    if connection.as_ref() == Some(gone) {
        *connection = None;
    }
}

/// A request that was blocked may still open the database when nobody waits for it: it must then be closed.
fn close_when_open(request: &IdbOpenDbRequest) {
    let late = request.clone();
    let close = Closure::once_into_js(move || {
        if let Ok(database) = late.result() {
            database.unchecked_into::<IdbDatabase>().close();
        }
    });
    request.set_onsuccess(Some(close.unchecked_ref()));
    let upgrade = upgrade_on(request);
    // The other tab may close after this page has given up: the upgrade must still be done.
    upgrade.forget();
}

/// Adds all missing tables and indexes when the browser asks for an upgrade.
fn upgrade_on(request: &IdbOpenDbRequest) -> Closure<dyn FnMut()> {
    let asked = request.clone();
    let upgrade = Closure::<dyn FnMut()>::new(move || {
        // An error here fails the request, which reports it with its own event.
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
