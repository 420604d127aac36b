//! Connects the table of connections with the HTTP server: at each new connection, and at each request.

use std::future::{Ready, ready};
use std::io;
use std::net::{SocketAddr, TcpListener};
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll};
use std::time::Duration;

use axum::extract::Request;
use axum_server::accept::Accept;
use socket2::{Domain, SockRef, Socket, TcpKeepalive, Type};
use tokio::net::TcpStream;
use tower_service::Service;

use super::open::{Connection, Connections};
use super::stream::Watched;

type Later<T, E> = Pin<Box<dyn Future<Output = Result<T, E>> + Send>>;

/// TCP keep-alive: how long a connection is silent before the system sends the first probe.
const ASK_AFTER: Duration = Duration::from_secs(30);
/// TCP keep-alive: the time between two probes.
const ASK_EVERY: Duration = Duration::from_secs(10);
/// TCP keep-alive: after so many unanswered probes the connection is closed.
const ASK_TIMES: u32 = 3;
/// Data that was sent and not acknowledged for so long closes the connection too (`TCP_USER_TIMEOUT`).
const UNACKNOWLEDGED: Duration = Duration::from_secs(60);

/// How many connections may wait to be accepted; the system lowers it to its own limit. It drops what comes beyond
/// that, and the client tries again only after a second.
const BACKLOG: i32 = 65_535;

/// Listens on an address.
///
/// # Errors
/// When the address is in use, or is none of this machine's.
pub fn listen(address: SocketAddr) -> io::Result<TcpListener> {
    let socket = Socket::new(Domain::for_address(address), Type::STREAM, None)?;
    // Connections of a server that was just stopped must not keep the address in use.
    socket.set_reuse_address(true)?;
    socket.bind(&address.into())?;
    socket.listen(BACKLOG)?;
    Ok(socket.into())
}

/// Makes a service for each connection that is let in. The server calls it for one connection at a time, before it
/// accepts the next.
#[derive(Clone)]
pub struct Admitting<M> {
    connections: Arc<Connections>,
    make: M,
}

impl<M> Admitting<M> {
    /// Gives each connection that is let in the service that `make` makes.
    pub fn new(connections: Arc<Connections>, make: M) -> Self {
        Self { connections, make }
    }
}

impl<M> Service<SocketAddr> for Admitting<M>
where
    M: Service<SocketAddr> + Clone + Send + 'static,
    M::Future: Send,
    M::Response: Send,
    M::Error: Into<Box<dyn std::error::Error + Send + Sync>>,
{
    type Response = Tracked<M::Response>;
    type Error = io::Error;
    type Future = Later<Self::Response, io::Error>;

    fn poll_ready(&mut self, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        self.make.poll_ready(context).map_err(io::Error::other)
    }

    fn call(&mut self, peer: SocketAddr) -> Self::Future {
        let made = self.make.call(peer);
        let connections = self.connections.clone();
        Box::pin(async move {
            let admitted = connections.admit(peer.ip()).await;
            let connection = Arc::new(admitted.ok_or(io::ErrorKind::ConnectionRefused)?);
            let inner = made.await.map_err(io::Error::other)?;
            Ok(Tracked { inner, connection })
        })
    }
}

/// The service of one connection: its requests carry the [`Connection`] as an extension.
#[derive(Clone)]
pub struct Tracked<S> {
    inner: S,
    connection: Arc<Connection>,
}

impl<S, B> Service<Request<B>> for Tracked<S>
where
    S: Service<Request<B>>,
    S::Future: Send + 'static,
{
    type Response = S::Response;
    type Error = S::Error;
    type Future = Later<S::Response, S::Error>;

    fn poll_ready(&mut self, context: &mut Context<'_>) -> Poll<Result<(), S::Error>> {
        self.inner.poll_ready(context)
    }

    fn call(&mut self, mut request: Request<B>) -> Self::Future {
        let asking = self.connection.ask();
        request.extensions_mut().insert(self.connection.clone());
        let answer = self.inner.call(request);
        Box::pin(async move {
            let answer = answer.await;
            drop(asking);
            answer
        })
    }
}

/// Wraps the socket of a connection that was let in. It is below TLS, so that the handshake is under the limits too.
#[derive(Debug, Clone, Copy)]
pub struct Tracking;

impl<S> Accept<TcpStream, Tracked<S>> for Tracking {
    type Stream = Watched;
    type Service = Tracked<S>;
    type Future = Ready<io::Result<(Watched, Tracked<S>)>>;

    fn accept(&self, socket: TcpStream, service: Tracked<S>) -> Self::Future {
        let kept = keep_alive(&socket);
        let watched = Watched::new(socket, service.connection.clone());
        ready(kept.map(|()| (watched, service)))
    }
}

/// Has the system detect clients that have gone without closing their connection.
fn keep_alive(socket: &TcpStream) -> io::Result<()> {
    let socket = SockRef::from(socket);
    let keepalive = TcpKeepalive::new()
        .with_time(ASK_AFTER)
        .with_interval(ASK_EVERY)
        .with_retries(ASK_TIMES);
    socket.set_tcp_keepalive(&keepalive)?;
    socket.set_tcp_user_timeout(Some(UNACKNOWLEDGED))
}
