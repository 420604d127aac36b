//! The open connections: who is let in, and who goes.

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

/// How often a newcomer without a place looks again,
const LOOK_AGAIN: Duration = Duration::from_millis(2);
/// and for how long.
const MAKING_ROOM: Duration = Duration::from_millis(200);
/// How often it is looked who takes too long.
const LOOK: Duration = Duration::from_millis(500);
/// How often at most the log hears of it.
const TELL: Duration = Duration::from_secs(60);

/// Why a connection was cut off or not let in.
#[derive(Debug, Clone, Copy)]
enum CutReason {
    /// No request in time after it was opened.
    Header,
    /// A body that did not go on.
    Body,
    /// No further request, or an answer that was not taken.
    Idle,
    /// A newcomer needed its place.
    Room,
    /// No place: the server was working on requests on all of them, or the system gave it none.
    Refused,
    /// TLS failed, or the other side went away before it began.
    Failed,
}

/// How many were cut off since the log last heard of it, by [`CutReason`].
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

/// A connection that was let in. Its place is free again when this is dropped.
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
    /// When it was last of use, in milliseconds after `opened`: a request began or ended, or enough bytes went through.
    used: AtomicU64,
    /// Whether a request ever began.
    asked: AtomicBool,
    /// Requests that the server is working on.
    answering: AtomicUsize,
    /// Whether one of them waits for its body.
    reading: AtomicBool,
    /// Whether the socket has nothing more to read: not before it was looked at once.
    nothing_came: AtomicBool,
    /// Whether the socket takes no more of an answer.
    nothing_taken: AtomicBool,
    cut: CancellationToken,
}

/// What became of a newcomer.
enum Admission {
    Given(Connection),
    /// Too many are on their way out, or have just come and were not looked at yet.
    Soon,
    /// The server works on a request of each.
    None,
}

impl Connections {
    /// No connections yet.
    pub fn new(caps: Caps, waits: Waits) -> Arc<Self> {
        Arc::new(Self {
            caps,
            waits,
            open: Mutex::default(),
            freed: Notify::new(),
            counts: CutCounts::default(),
        })
    }

    /// How long a connection may take.
    pub fn waits(&self) -> Waits {
        self.waits
    }

    /// Lets a newcomer in, if need be in the place of another; `None` when there is no place to be had.
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

    /// Tells the one of them to go that was of no use for longest. If there is none, what the newcomer is to do.
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

    /// Cuts off whoever takes too long, and tells the log; for ever.
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

    /// Counts a connection that came to nothing, for the log. `known` is whether it was there at all.
    pub fn failed(&self, known: bool, error: &io::Error) {
        let inner = error
            .get_ref()
            .and_then(|inner| inner.downcast_ref::<io::Error>());
        match inner.unwrap_or(error).kind() {
            // Cut off before TLS was done, and counted then.
            io::ErrorKind::ConnectionAborted => {}
            io::ErrorKind::ConnectionRefused => self.count(CutReason::Refused),
            _ if !known => self.count(CutReason::Refused),
            _ => self.count(CutReason::Failed),
        }
    }

    fn count(&self, why: CutReason) {
        self.counts.0[why as usize].fetch_add(1, Ordering::Relaxed);
    }

    /// Tells the log how many were cut off; nobody's address. Whether there was anything to tell.
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

    /// Whether the server works on no request of it.
    fn is_idle(&self) -> bool {
        self.answering.load(Ordering::Relaxed) == 0
    }

    /// Whether it is the other side's turn: the server works on nothing of it, or waits for more of it.
    fn waits_for_peer(&self) -> bool {
        let waits = self.nothing_came.load(Ordering::Relaxed) || self.nothing_taken.load(Ordering::Relaxed);
        waits && (self.is_idle() || self.reading.load(Ordering::Relaxed))
    }
}

impl Connection {
    /// Notes that the connection was of use.
    pub(super) fn use_it(&self) {
        let passed = u64::try_from(self.state.opened.elapsed().as_millis()).unwrap_or(u64::MAX);
        self.state.used.store(passed, Ordering::Relaxed);
    }

    /// What ends when the connection is to go.
    pub(super) fn cut(&self) -> CancellationToken {
        self.state.cut.clone()
    }

    /// Notes a request; it counts until the answer's first bytes are ready, when what this returns is dropped.
    pub(super) fn ask(self: &Arc<Self>) -> Asking {
        self.state.asked.store(true, Ordering::Relaxed);
        self.state.answering.fetch_add(1, Ordering::Relaxed);
        self.use_it();
        Asking(self.clone())
    }

    /// Notes whether the socket has nothing more to read.
    pub(super) fn nothing_came(&self, so: bool) {
        self.state.nothing_came.store(so, Ordering::Relaxed);
    }

    /// Notes whether the socket takes no more.
    pub(super) fn nothing_taken(&self, so: bool) {
        self.state.nothing_taken.store(so, Ordering::Relaxed);
    }

    /// Notes whether a request waits for its body.
    pub fn reads(&self, waiting: bool) {
        self.state.reading.store(waiting, Ordering::Relaxed);
    }

    /// Notes that a body did not go on.
    pub fn body_too_slow(&self) {
        self.all.count(CutReason::Body);
    }

    /// How long to wait for the next part of a body.
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

/// A request that the server is working on.
#[derive(Debug)]
pub(super) struct Asking(Arc<Connection>);

impl Drop for Asking {
    fn drop(&mut self) {
        self.0.state.answering.fetch_sub(1, Ordering::Relaxed);
        self.0.use_it();
    }
}
