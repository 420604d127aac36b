//! When to sync: a while after each save, when the app comes into view or online, by a button, and in between from
//! time to time. What a round does is the driver's business.

use std::rc::Rc;
use std::time::Duration;

use futures_util::future::LocalBoxFuture;
use js_sys::{Date, Math};
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::UnixMs;
use shared::sync::machine::{Command, Rest};
use shared::sync::{Code, Problem};

use super::Remote;
use super::contact::Contact;
use super::round::round;
use super::tabs::{Tabs, unless_elsewhere};
use crate::device::listen::{Listener, View};
use crate::device::store::kv::Kv;
use crate::device::store::{KvStore, Membership, Surroundings};

/// After a save, others are likely to follow: photographs come in runs.
const AFTER_SAVE_MS: f64 = 2_000.0;
/// Coming into view tells itself in several events; one round answers them all.
const NUDGE_MS: f64 = 200.0;
/// While in view and up to date: what other devices have done meanwhile.
const REFRESH_MS: f64 = 60_000.0;
/// Another tab is syncing.
const ELSEWHERE_MS: f64 = 5_000.0;
/// While much arrives, screens read anew no more often than this.
const NEWS_MS: f64 = 2_000.0;
/// Failures double the pause from here…
const FIRST_RETRY_MS: f64 = 2_000.0;
/// …up to here.
const LAST_RETRY_MS: f64 = 60_000.0;

/// Where syncing stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Phase {
    /// The device has joined no shop, or has been shut out of it.
    Alone,
    /// A round is under way, in this tab or another.
    Syncing,
    /// As [`Phase::Syncing`], and older history is arriving: the app can be used meanwhile.
    Filling,
    /// Everything is sent and everything has been read.
    UpToDate,
    /// It did not work, and will be tried again by itself. With what was said, if anything answered.
    Waiting(Option<Problem>),
}

/// One round: told of every command before it is carried out. `None` at the end: the device has joined no shop.
type Round = Rc<dyn Fn(Box<dyn FnMut(&Command)>) -> LocalBoxFuture<'static, Option<Rest>>>;

/// Keeps a joined device in step with its server. Cheap to copy; ends with the reactive owner that made it.
#[derive(Clone, Copy)]
pub struct SyncLoop {
    phase: RwSignal<Phase>,
    changes: RwSignal<u64>,
    contact: Contact,
    inner: StoredValue<Inner, LocalStorage>,
}

struct Inner {
    round: Round,
    tabs: Tabs,
    timer: Option<Timer>,
    failures: u32,
    running: bool,
    /// Something was saved or asked for while a round was running.
    once_more: bool,
}

struct Timer {
    due: f64,
    handle: TimeoutHandle,
}

impl SyncLoop {
    /// Begins to sync whatever `store` yields, as soon as it yields one and that has joined a shop.
    #[must_use]
    pub fn start<K: Kv, S: Surroundings>(store: impl Fn() -> Option<KvStore<K, S>> + 'static) -> Self {
        let changes = RwSignal::new(0);
        let contact = Contact::recall();
        let tabs = Tabs::listen(move || changes.update(|count| *count += 1));
        let round: Round = Rc::new(move |mut watch| {
            let store = store();
            Box::pin(async move { one_round(store?, contact, &mut *watch).await })
        });
        let inner = Inner {
            round,
            tabs,
            timer: None,
            failures: 0,
            running: false,
            once_more: false,
        };
        let this = Self {
            phase: RwSignal::new(Phase::Alone),
            changes,
            contact,
            inner: StoredValue::new_local(inner),
        };
        this.listen();
        this.arm(NUDGE_MS);
        this
    }

    /// Where syncing stands.
    #[must_use]
    pub fn phase(self) -> Signal<Phase> {
        self.phase.into()
    }

    /// When the server last answered anything, a refusal included.
    #[must_use]
    pub fn last_contact(self) -> Signal<Option<UnixMs>> {
        self.contact.last()
    }

    /// Counts up when records may have changed other than by this tab's own saves: screens read anew.
    #[must_use]
    pub fn changes(self) -> Signal<u64> {
        self.changes.into()
    }

    /// To be called after each save: tells the other tabs, and syncs before long.
    pub fn saved(self) {
        self.inner.with_value(|inner| inner.tabs.tell());
        match self.phase.get_untracked() {
            Phase::Syncing | Phase::Filling => self.inner.update_value(|inner| inner.once_more = true),
            // A retry is due anyway, and the server may have named its own time.
            Phase::Waiting(_) => {}
            Phase::Alone | Phase::UpToDate => self.arm(AFTER_SAVE_MS),
        }
    }

    /// Syncs now, because a person asks for it.
    pub fn now(self) {
        self.run();
    }

    fn listen(self) {
        let nudge = move || self.arm(NUDGE_MS);
        Listener::on(&window(), "online", move |_| nudge()).keep();
        Listener::on(&window(), "focus", move |_| nudge()).keep();
        Listener::on_view(move |view| {
            if view == View::Seen {
                // News that came by another tab while this one was frozen may have been lost.
                self.changes.update(|count| *count += 1);
                nudge();
            }
        })
        .keep();
    }

    /// Sets the timer, unless it goes off earlier anyway.
    fn arm(self, ms: f64) {
        let due = Date::now() + ms;
        self.inner.update_value(|inner| {
            if inner.timer.as_ref().is_some_and(|timer| timer.due <= due) {
                return;
            }
            // The old timer, if any, is dropped and with it cleared.
            let handle =
                set_timeout_with_handle(move || self.on_time(), Duration::from_secs_f64(ms / 1000.0));
            inner.timer = handle.ok().map(|handle| Timer { due, handle });
        });
    }

    fn on_time(self) {
        self.inner.update_value(|inner| inner.timer = None);
        // Nobody is looking and nothing waits: the battery comes first. Coming into view sets the timer again.
        if View::now() == View::Hidden && self.phase.get_untracked() == Phase::UpToDate {
            return;
        }
        self.run();
    }

    fn run(self) {
        let round = self.inner.try_update_value(|inner| {
            inner.once_more = inner.running;
            if inner.running {
                return None;
            }
            inner.running = true;
            inner.timer = None;
            Some(Rc::clone(&inner.round))
        });
        let Some(Some(round)) = round else { return };
        let watch = Box::new(self.watch());
        spawn_local(async move { self.ended(unless_elsewhere(async move { round(watch).await }).await) });
    }

    /// Shows how a round gets on: the phase from its first question on, and news as they are stored.
    fn watch(self) -> impl FnMut(&Command) + 'static {
        let mut stored = false;
        let mut told = 0.0;
        move |command| {
            match command {
                Command::GetHistory(_) => self.show(Phase::Filling),
                _ if self.phase.try_get_untracked() != Some(Phase::Filling) => self.show(Phase::Syncing),
                _ => {}
            }
            let now = Date::now();
            if std::mem::take(&mut stored) && now - told > NEWS_MS {
                told = now;
                self.tell();
            }
            stored = matches!(command, Command::Absorb { entries, .. } if !entries.is_empty());
        }
    }

    /// Sets the phase if it is another: whoever follows it is not woken for nothing.
    fn show(self, phase: Phase) {
        if self.phase.try_with_untracked(|shown| *shown != phase) == Some(true) {
            self.phase.set(phase);
        }
    }

    /// Has this tab and the others read anew.
    fn tell(self) {
        self.changes.try_update(|count| *count += 1);
        self.inner.try_with_value(|inner| inner.tabs.tell());
    }

    /// Takes note of how a round ended (`None`: another tab is at it) and decides when the next begins.
    fn ended(self, outcome: Option<Option<Rest>>) {
        let failed = matches!(outcome, Some(Some(Rest::Again { .. } | Rest::StoreFailed)));
        let noted = self.inner.try_update_value(|inner| {
            inner.running = false;
            inner.failures = if failed { inner.failures + 1 } else { 0 };
            (std::mem::take(&mut inner.once_more), inner.failures)
        });
        // The owner has gone meanwhile.
        let Some((once_more, failures)) = noted else {
            return;
        };
        if matches!(outcome, Some(Some(_))) {
            self.tell();
        }
        let (phase, pause) = judge(outcome, failures);
        self.show(phase);
        let pause = if once_more && !failed {
            Some(NUDGE_MS)
        } else {
            pause
        };
        if let Some(pause) = pause {
            self.arm(pause);
        }
    }
}

impl Drop for Timer {
    fn drop(&mut self) {
        self.handle.clear();
    }
}

async fn one_round<K: Kv, S: Surroundings>(
    store: KvStore<K, S>,
    contact: Contact,
    watch: &mut dyn FnMut(&Command),
) -> Option<Rest> {
    let remote = |membership: &Membership| {
        Remote::new(
            membership.url.as_deref().unwrap_or_default(),
            membership.token.clone(),
        )
        .noting(contact)
    };
    round(&store, remote, watch).await
}

/// What to show, and in how many milliseconds to go on by itself.
fn judge(outcome: Option<Option<Rest>>, failures: u32) -> (Phase, Option<f64>) {
    match outcome {
        None => (Phase::Syncing, Some(ELSEWHERE_MS)),
        // A person must join first; then somebody calls for a round.
        Some(None | Some(Rest::JoinAgain(_))) => (Phase::Alone, None),
        Some(Some(Rest::UpToDate)) => (Phase::UpToDate, Some(REFRESH_MS)),
        Some(Some(Rest::Again { after, problem })) => {
            let asked = after
                .and_then(|seconds| u32::try_from(seconds).ok())
                .map_or(0.0, f64::from)
                * 1000.0;
            (Phase::Waiting(problem), Some(retry_ms(failures).max(asked)))
        }
        Some(Some(Rest::StoreFailed)) => (Phase::Waiting(Some(store_failed())), Some(retry_ms(failures))),
    }
}

/// The device's own storage in the words of a refusal.
fn store_failed() -> Problem {
    Problem {
        code: Code::Internal,
        message: "The storage of this device did not answer. Nothing was lost; it will be tried again."
            .to_owned(),
        retry_after: None,
    }
}

/// The pause after so many failures in a row, with a jitter of a quarter, so that a shop's devices do not all come
/// back at once.
fn retry_ms(failures: u32) -> f64 {
    let doubled = FIRST_RETRY_MS * f64::from(2_u32.saturating_pow(failures.saturating_sub(1).min(8)));
    doubled.min(LAST_RETRY_MS) * (0.75 + Math::random() / 2.0)
}
