//! Waiting for IndexedDB: its requests and transactions report their results by events.
//!
//! A promise whose own `resolve` and `reject` are the event handlers settles inside the event, and the code that waits
//! for it runs before the event is over: while the transaction is still active and accepts further requests.

use js_sys::{Function, Promise};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Event, EventTarget, IdbRequest, IdbTransaction};

use super::failure::{named, of_thrown};
use crate::store::kv::KvError;

/// Waits for a batch of requests of one transaction and returns their results.
///
/// A transaction answers in the order of the requests, and one failure fails all that follow: so only the last request
/// needs handlers.
pub(super) async fn all(requests: &[Result<IdbRequest, JsValue>]) -> Result<Vec<JsValue>, JsValue> {
    let requests = requests
        .iter()
        .map(|request| request.as_ref().map_err(Clone::clone));
    let requests = requests.collect::<Result<Vec<_>, _>>()?;
    if let Some(last) = requests.last() {
        let told = Promise::new(&mut |resolve, reject| {
            last.set_onsuccess(Some(&resolve));
            last.set_onerror(Some(&reject));
        });
        if let Err(event) = JsFuture::from(told).await {
            return Err(error_of(&event));
        }
    }
    requests.iter().map(|request| request.result()).collect()
}

/// The error of a failed request.
fn error_of(event: &JsValue) -> JsValue {
    let target = event.dyn_ref::<Event>().and_then(Event::target);
    let request = target.and_then(|target| target.dyn_into::<IdbRequest>().ok());
    let error = request.and_then(|request| request.error().ok().flatten());
    error.map_or_else(|| event.clone(), Into::into)
}

/// Commits a transaction and waits until the database confirms it.
pub(super) async fn finished(tx: &IdbTransaction) -> Result<(), KvError> {
    let told = Promise::new(&mut |resolve: Function, reject: Function| {
        tx.set_oncomplete(Some(&resolve));
        tx.set_onabort(Some(&reject));
    });
    // Not every browser has `commit`; without it the transaction commits when its last request is answered. On a
    // transaction that has already failed it throws, and the transaction's event gives the reason.
    #[expect(
        deprecated,
        reason = "left the second edition of the standard, is back in the third"
    )]
    let asked = tx.commit();
    if asked.is_err()
        && let Some(error) = tx.error()
    {
        return Err(named(&error));
    }
    match JsFuture::from(told).await {
        Ok(_) => Ok(()),
        Err(event) => Err(tx
            .error()
            .map_or_else(|| of_thrown(&event), |error| named(&error))),
    }
}

/// Waits for the first of these events of an open request.
///
/// # Errors
/// What the browser threw when it could not open the database.
pub async fn first_event(request: &web_sys::IdbOpenDbRequest) -> Result<Event, JsValue> {
    let told = Promise::new(&mut |resolve, reject| {
        request.set_onsuccess(Some(&resolve));
        request.set_onblocked(Some(&resolve));
        request.set_onerror(Some(&reject));
    });
    let event = JsFuture::from(told).await.map_err(|event| error_of(&event))?;
    Ok(event.unchecked_into())
}

/// Listens on a connection as long as it exists.
pub(super) fn on(target: &EventTarget, event: &str, act: impl FnMut() + 'static) {
    let listener = wasm_bindgen::closure::Closure::<dyn FnMut()>::new(act);
    // This fails only for a target that is not an event target, which the types rule out.
    drop(target.add_event_listener_with_callback(event, listener.as_ref().unchecked_ref()));
    listener.forget();
}
