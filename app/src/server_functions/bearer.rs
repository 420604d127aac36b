//! How the browser sends a question: to the shop's server, with the device's token.

use std::cell::RefCell;
use std::future::Future;

use bytes::Bytes;
use futures_util::{Sink, Stream};
use leptos::prelude::FromServerFnError;
use leptos::server_fn::client::browser::BrowserClient;
use leptos::server_fn::client::{Client, try_set_server_url};
use leptos::server_fn::request::browser::BrowserRequest;
use leptos::server_fn::response::browser::BrowserResponse;

thread_local! {
    static TOKEN: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// Sends questions with the token that [`ask_at`] was given.
#[derive(Debug)]
pub struct Bearer;

/// Sets the server that is asked and the token, for as long as this page is open.
///
/// `address` is empty for the server that the app came from. Only the first address has an effect: after the server has
/// moved, the page is reloaded.
pub fn ask_at(address: &str, token: Option<String>) {
    TOKEN.set(token);
    if !address.is_empty() {
        // Leaked, once a page, because server functions need an address with the lifetime `'static`.
        let _ = try_set_server_url(Box::leak(address.trim_end_matches('/').into()));
    }
}

impl<E, I, O> Client<E, I, O> for Bearer
where
    E: FromServerFnError,
    I: FromServerFnError,
    O: FromServerFnError,
{
    type Request = BrowserRequest;
    type Response = BrowserResponse;

    fn send(request: Self::Request) -> impl Future<Output = Result<Self::Response, E>> + Send {
        TOKEN.with_borrow(|token| {
            if let Some(token) = token {
                request.headers().set("authorization", &format!("Bearer {token}"));
            }
        });
        <BrowserClient as Client<E, I, O>>::send(request)
    }

    fn open_websocket(
        path: &str,
    ) -> impl Future<
        Output = Result<
            (
                impl Stream<Item = Result<Bytes, Bytes>> + Send + 'static,
                impl Sink<Bytes> + Send + 'static,
            ),
            E,
        >,
    > + Send {
        <BrowserClient as Client<E, I, O>>::open_websocket(path)
    }

    fn spawn(future: impl Future<Output = ()> + Send + 'static) {
        <BrowserClient as Client<E, I, O>>::spawn(future);
    }
}
