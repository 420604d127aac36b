//! The open connections: which new ones are let in, and which are closed for them.

use std::collections::BTreeMap;
use std::io;
use std::net::IpAddr;
use std::sync::atomic::{AtomicBool, AtomicU64, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use tokio::sync::Notify;
use tokio::time::{Instant, timeout};
use tokio_util::sync::CancellationToken;
use tracing::{info, warn};

use super::caps::{Caps, GOING, Waits};
use crate::limits::block;

/// How often a new connection without a place tries again.
const LOOK_AGAIN: Duration = Duration::from_millis(2);
/// How long a new connection without a place tries before it is refused.
const MAKING_ROOM: Duration = Duration::from_millis(200);
/// How often the connections are searched for those that take too long.
const LOOK: Duration = Duration::from_millis(500);
/// The least time between two lines in the log about closed connections.
const TELL: Duration = Duration::from_secs(60);

/// Why a connection was cut off or not let in.
#[derive(Debug, Clone, Copy)]
enum CutReason {
    /// No request began in time after it was opened.
    Header,
    /// The client did not go on sending a request's body.
    Body,
    /// No further request came, or the client did not go on reading a response.
    Idle,
    /// A new connection needed its place.
    Room,
    /// It got no place: the server was working on requests on all of them, or the system could not accept it.
    Refused,
    /// TLS failed, or the client closed the connection before its end.
    Failed,
}

/// How many were cut off since the last line in the log, by [`CutReason`].
#[derive(Debug, Default)]
struct CutCounts([AtomicU64; 6]);

/// The open connections of one server.
#[derive(Debug)]
pub struct Connections {
    caps: Caps,
    waits: Waits,
    open: Mutex<OpenConnection>,
    freed: Notify,
    counts: CutCounts,
}

#[derive(Debug, Default)]
struct OpenConnection {
    by_number: BTreeMap<u64, Arc<ConnectionTable>>,
    last: u64,
}

/// A connection that was let in. Dropping it frees its place.
#[derive(Debug)]
pub struct Connection {
    number: u64,
    state: Arc<ConnectionTable>,
    all: Arc<Connections>,
}

#[derive(Debug)]
struct ConnectionTable {
    address: IpAddr,
    opened: Instant,
    /// When it last made progress, in milliseconds after `opened`: a request began or ended, or [`super::PROGRESS`]
    /// bytes were sent or received.
    used: AtomicU64,
    /// Whether a request has ever begun on it.
    asked: AtomicBool,
    /// How many requests the server is working on.
    answering: AtomicUsize,
    /// Whether one of these requests waits for more of its body.
    reading: AtomicBool,
    /// Whether the last read from the socket found nothing. False until the first read.
    nothing_came: AtomicBool,
    /// Whether the last write to the socket found its buffer full.
    nothing_taken: AtomicBool,
    cut: CancellationToken,
}

/// The result of asking for a place.
enum Admission {
    Given(Connection),
    /// No place now, but one may soon be free: too many connections are still closing, or have just come and were not
    /// read from yet.
    Soon,
    /// No place: the server is working on a request of each connection.
    None,
}

impl Connections {
    /// An empty table of connections with these limits.
    pub fn new(caps: Caps, waits: Waits) -> Arc<Self> {
        Arc::new(Self {
            caps,
            waits,
            open: Mutex::default(),
            freed: Notify::new(),
            counts: CutCounts::default(),
        })
    }

    /// The time limits of a connection.
    pub fn waits(&self) -> Waits {
        self.waits
    }

    /// Lets a new connection from this address in, if need be by closing another one. `None` when there is no place.
    pub async fn admit(self: &Arc<Self>, peer: IpAddr) -> Option<Connection> {
        let address = block(peer);
        let until = Instant::now() + MAKING_ROOM;
        loop {
            let freed = self.freed.notified();
            match self.place(address) {
                Admission::Given(connection) => return Some(connection),
                Admission::Soon if Instant::now() < until => drop(timeout(LOOK_AGAIN, freed).await),
                Admission::Soon | Admission::None => return None,
            }
        }
    }

    fn place(self: &Arc<Self>, address: IpAddr) -> Admission {
        let mut open = self.open();
        if open.by_number.len() >= self.caps.all() + GOING {
            return Admission::Soon;
        }
        let staying = || open.by_number.values().filter(|state| !state.cut.is_cancelled());
        let mates = || staying().filter(|state| state.address == address);
        let full = if mates().count() >= self.caps.from(address) {
            self.make_room(mates())
        } else if staying().count() >= self.caps.all() {
            self.make_room(staying())
        } else {
            None
        };
        if let Some(none) = full {
            return none;
        }
        open.last += 1;
        let number = open.last;
        let state = Arc::new(ConnectionTable::new(address));
        open.by_number.insert(number, state.clone());
        let all = self.clone();
        Admission::Given(Connection { number, state, all })
    }

    /// Closes the connection that has made no progress for longest, among those that wait for their client; `None`
    /// then. If there is none, returns what the new connection is told.
    fn make_room<'a>(
        &self,
        mut staying: impl Iterator<Item = &'a Arc<ConnectionTable>> + Clone,
    ) -> Option<Admission> {
        let waiting = staying.clone().filter(|state| state.waits_for_peer());
        if let Some(longest) = waiting.min_by_key(|state| state.used()) {
            longest.cut.cancel();
            self.count(CutReason::Room);
            return None;
        }
        Some(if staying.any(|state| state.is_idle()) {
            Admission::Soon
        } else {
            Admission::None
        })
    }

    /// Closes connections that take too long, and writes how many to the log. Runs for ever.
    pub async fn watch(self: Arc<Self>) {
        let mut looks = tokio::time::interval(LOOK);
        let mut told: Option<Instant> = None;
        loop {
            let now = looks.tick().await;
            self.cut_off_slow(now);
            if told.is_none_or(|told| now >= told + TELL) && self.tell() {
                told = Some(now);
            }
        }
    }

    fn cut_off_slow(&self, now: Instant) {
        let states: Vec<_> = self.open().by_number.values().cloned().collect();
        for state in states {
            let (limit, why) = if state.asked.load(Ordering::Relaxed) {
                (state.used() + self.waits.idle, CutReason::Idle)
            } else {
                (state.opened + self.waits.header, CutReason::Header)
            };
            if state.is_idle() && now >= limit && !state.cut.is_cancelled() {
                state.cut.cancel();
                self.count(why);
            }
        }
    }

    /// Counts a connection that failed before its first request. `known` is whether it was accepted at all.
    pub fn failed(&self, known: bool, error: &io::Error) {
        let inner = error
            .get_ref()
            .and_then(|inner| inner.downcast_ref::<io::Error>());
        match inner.unwrap_or(error).kind() {
            // It was cut off during the TLS handshake, and was counted then.
            io::ErrorKind::ConnectionAborted => {}
            io::ErrorKind::ConnectionRefused => self.count(CutReason::Refused),
            _ if !known => self.count(CutReason::Refused),
            _ => self.count(CutReason::Failed),
        }
    }

    fn count(&self, why: CutReason) {
        self.counts.0[why as usize].fetch_add(1, Ordering::Relaxed);
    }

    /// Writes to the log how many connections were cut off, without addresses. Returns whether there were any.
    fn tell(&self) -> bool {
        let counts = self
            .counts
            .0
            .each_ref()
            .map(|count| count.swap(0, Ordering::Relaxed));
        let [header, body, idle, room, refused, failed] = counts;
        let open = self.open().by_number.len();
        if room + refused + header + body > 0 {
            warn!(
                header,
                body, idle, room, refused, failed, open, "connections were cut off"
            );
        } else if idle + failed > 0 {
            info!(idle, failed, open, "connections came to their end");
        }
        counts.iter().any(|count| *count > 0)
    }

    fn open(&self) -> MutexGuard<'_, OpenConnection> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl ConnectionTable {
    fn new(address: IpAddr) -> Self {
        Self {
            address,
            opened: Instant::now(),
            used: AtomicU64::new(0),
            asked: AtomicBool::new(false),
            answering: AtomicUsize::new(0),
            reading: AtomicBool::new(false),
            nothing_came: AtomicBool::new(false),
            nothing_taken: AtomicBool::new(false),
            cut: CancellationToken::new(),
        }
    }

    fn used(&self) -> Instant {
        self.opened + Duration::from_millis(self.used.load(Ordering::Relaxed))
    }

    /// Whether the server is working on no request of it.
    fn is_idle(&self) -> bool {
        self.answering.load(Ordering::Relaxed) == 0
    }

    /// Whether the next step is the client's: the socket gives or takes nothing, and the server works on no request or
    /// waits for its body.
    fn waits_for_peer(&self) -> bool {
        let waits = self.nothing_came.load(Ordering::Relaxed) || self.nothing_taken.load(Ordering::Relaxed);
        waits && (self.is_idle() || self.reading.load(Ordering::Relaxed))
    }
}

impl Connection {
    /// Notes that the connection has made progress.
    pub(super) fn use_it(&self) {
        let passed = u64::try_from(self.state.opened.elapsed().as_millis()).unwrap_or(u64::MAX);
        self.state.used.store(passed, Ordering::Relaxed);
    }

    /// The token that is cancelled when the connection has to be closed.
    pub(super) fn cut(&self) -> CancellationToken {
        self.state.cut.clone()
    }

    /// Counts a request as being worked on, until the returned value is dropped when the response is ready to be sent.
    pub(super) fn ask(self: &Arc<Self>) -> Asking {
        self.state.asked.store(true, Ordering::Relaxed);
        self.state.answering.fetch_add(1, Ordering::Relaxed);
        self.use_it();
        Asking(self.clone())
    }

    /// Notes whether the last read from the socket found nothing.
    pub(super) fn nothing_came(&self, so: bool) {
        self.state.nothing_came.store(so, Ordering::Relaxed);
    }

    /// Notes whether the last write to the socket found its buffer full.
    pub(super) fn nothing_taken(&self, so: bool) {
        self.state.nothing_taken.store(so, Ordering::Relaxed);
    }

    /// Notes whether a request waits for more of its body.
    pub fn reads(&self, waiting: bool) {
        self.state.reading.store(waiting, Ordering::Relaxed);
    }

    /// Counts a body that was given up because it was too slow.
    pub fn body_too_slow(&self) {
        self.all.count(CutReason::Body);
    }

    /// How long a request may wait for the next [`super::PROGRESS`] bytes of its body.
    pub fn wait_body(&self) -> Duration {
        self.all.waits.body
    }
}

impl Drop for Connection {
    fn drop(&mut self) {
        self.all.open().by_number.remove(&self.number);
        self.all.freed.notify_waiters();
    }
}

/// Counts one request as being worked on until it is dropped.
#[derive(Debug)]
pub(super) struct Asking(Arc<Connection>);

impl Drop for Asking {
    fn drop(&mut self) {
        self.0.state.answering.fetch_sub(1, Ordering::Relaxed);
        self.0.use_it();
    }
}
