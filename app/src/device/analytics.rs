//! The web worker that answers questions over many records. It is started at the first question.

use std::cell::{Cell, RefCell};

use js_sys::{Array, Promise};
use leptos::prelude::document;
use serde::de::DeserializeOwned;
use shared::analytics::{AnalyticsQuery, question};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{MessageChannel, MessageEvent, Worker, WorkerOptions, WorkerType};

use crate::device::DeviceError;
use app_core::browser::js::{error_words, settled};

/// The `<meta>` element that holds the address of the worker's script.
const ADDRESS: &str = "meta[name=analytics]";

thread_local! {
    static WORKER: RefCell<Option<Worker>> = const { RefCell::new(None) };
    /// How many workers have been started since the page was loaded.
    static STARTED: Cell<u32> = const { Cell::new(0) };
}

/// Asks the worker a question about these records, as [`books`](app_core::store::KvStore::books) and
/// [`sales`](app_core::store::KvStore::sales) return them.
///
/// # Errors
/// [`DeviceError::Worker`] if the worker's script is not on this device, if it fails, or if its answer cannot be read.
pub async fn ask_analytics<Q: AnalyticsQuery, A: DeserializeOwned>(
    asked: &Q,
    rows: &[String],
) -> Result<A, DeviceError> {
    let (name, text) = question(asked, rows);
    let told = asked_of_worker(name, &text).await.map_err(|thrown| {
        // The next question starts a new worker.
        WORKER.take();
        failed(&error_words(&thrown))
    })?;
    serde_json::from_str(&told).map_err(|error| failed(&error.to_string()))
}

/// The number of the worker that answers now, counted from 1; 0 before the first. A new number means that the
/// statistics given to the former worker are gone.
pub fn which() -> u32 {
    STARTED.get()
}

fn failed(why: &str) -> DeviceError {
    DeviceError::Worker(why.to_owned())
}

async fn asked_of_worker(name: &str, text: &str) -> Result<String, JsValue> {
    let worker = worker()?;
    let channel = MessageChannel::new()?;
    let port = channel.port1();
    let answered = Promise::new(&mut |resolve, reject| {
        let answer = Closure::once_into_js(move |event: MessageEvent| {
            drop(resolve.call1(&JsValue::UNDEFINED, &event.data()))
        });
        port.set_onmessage(Some(answer.unchecked_ref()));
        // If its script cannot be loaded, a worker never answers; it only gets an `error` event.
        let lost = Closure::once_into_js(move || {
            drop(reject.call1(
                &JsValue::UNDEFINED,
                &JsValue::from_str(words::device::calculator_missing()),
            ))
        });
        worker.set_onerror(Some(lost.unchecked_ref()));
    });
    let words = Array::of2(&name.into(), &text.into());
    worker.post_message_with_transfer(&words, &Array::of1(&channel.port2()))?;
    let told: Array = settled(answered).await?;
    told.get(0).as_string().ok_or_else(|| told.get(1))
}

fn worker() -> Result<Worker, JsValue> {
    WORKER.with_borrow_mut(|kept| {
        if let Some(worker) = kept {
            return Ok(worker.clone());
        }
        let address = document().query_selector(ADDRESS)?;
        let address = address.and_then(|meta| meta.get_attribute("content"));
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        // The worker speaks the language of its name.
        options.set_name(words::current().tag());
        let address = address.ok_or(words::device::page_names_no_script())?;
        let worker = Worker::new_with_options(&address, &options)?;
        STARTED.set(STARTED.get() + 1);
        Ok(kept.insert(worker).clone())
    })
}
