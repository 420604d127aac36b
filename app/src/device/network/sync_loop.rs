//! Decides when a round of sync runs: some time after each save, when the app comes into view or online, when a person
//! asks for it, and at intervals. What a round does is decided by the sync machine and its driver.

use std::rc::Rc;
use std::time::Duration;

use js_sys::Date;
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::UnixMs;
use shared::sync::machine::{Command, RoundOutcome};

use super::backoff::{AFTER_SAVE_MS, LATEST_MS, NEWS_MS, NUDGE_MS, Outcome, Phase};
use super::contact::Contact;
use super::round::round;
use super::tabs::{Tabs, unless_elsewhere};
use crate::device::Phone;
use crate::device::listen::{Listener, PageVisibility};

/// Returns the open store, once there is one.
type OpenStore = Rc<dyn Fn() -> Option<Phone>>;

/// How a round ends when the piece of the app that runs it cannot be loaded: the network is missing.
const UNREACHABLE: Outcome = Outcome::Ended(RoundOutcome::Again {
    after: None,
    problem: None,
});

/// Keeps a joined device in step with its server. Cheap to copy; ends with the reactive owner that made it.
#[derive(Clone, Copy)]
pub struct SyncLoop {
    phase: RwSignal<Phase>,
    changes: RwSignal<u64>,
    contact: Contact,
    inner: StoredValue<Inner, LocalStorage>,
}

struct Inner {
    store: OpenStore,
    tabs: Tabs,
    timer: Option<SyncTimer>,
    failures: u32,
    running: bool,
    /// The request for another round that was made while one was running.
    wish: Wish,
    /// Whether the running round has stored something that this tab and the others have not been told about.
    news: bool,
}

/// Why another round should follow soon.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
enum Wish {
    #[default]
    None,
    /// Something was saved. If the server cannot be reached, it waits for the next regular attempt.
    Saved,
    /// A person asks for it, or the network may be back: worth an attempt even if the running round fails.
    Asked,
}

struct SyncTimer {
    due: f64,
    /// The time, in ms since 1970, of the first of the saves that the timer waits for; `None` if it was set for another
    /// reason.
    saved: Option<f64>,
    handle: TimeoutHandle,
}

impl SyncLoop {
    /// Begins to sync the store that `store` returns, once it returns one and that store belongs to a device that has
    /// joined a shop.
    #[must_use]
    pub fn start(store: impl Fn() -> Option<Phone> + 'static) -> Self {
        let changes = RwSignal::new(0);
        let contact = Contact::recall();
        let tabs = Tabs::listen(move || changes.update(|count| *count += 1));
        let inner = Inner {
            store: Rc::new(store),
            tabs,
            timer: None,
            failures: 0,
            running: false,
            wish: Wish::None,
            news: false,
        };
        let this = Self {
            phase: RwSignal::new(Phase::Alone),
            changes,
            contact,
            inner: StoredValue::new_local(inner),
        };
        this.listen();
        this
    }

    /// The state of syncing.
    #[must_use]
    pub fn phase(self) -> Signal<Phase> {
        self.phase.into()
    }

    /// When the server last answered anything, a refusal included.
    #[must_use]
    pub fn last_contact(self) -> Signal<Option<UnixMs>> {
        self.contact.last()
    }

    /// Counts changes of records other than by this tab's own saves; screens read again when it changes.
    #[must_use]
    pub fn changes(self) -> Signal<u64> {
        self.changes.into()
    }

    /// To be called after each save: tells the other tabs, and starts a round soon.
    pub fn saved(self) {
        self.inner.with_value(|inner| inner.tabs.tell());
        match self.phase.get_untracked() {
            Phase::Syncing | Phase::Filling => self.wish(Wish::Saved),
            // A retry is scheduled already, and the server may have set its time.
            Phase::Waiting(_) => {}
            Phase::Alone | Phase::UpToDate => self.arm_after_save(),
        }
    }

    fn wish(self, wish: Wish) {
        self.inner.update_value(|inner| inner.wish = inner.wish.max(wish));
    }

    fn listen(self) {
        let nudge = move || self.arm(NUDGE_MS);
        Listener::on(&window(), "online", move |_| nudge()).keep();
        Listener::on(&window(), "focus", move |_| nudge()).keep();
        Listener::on_view(move |view| match view {
            PageVisibility::Seen => {
                // A message from another tab may have been lost while this one was frozen.
                self.changes.update(|count| *count += 1);
                nudge();
            }
            // The app was left right after a save: there may be no later opportunity.
            PageVisibility::Hidden if self.awaits_saves() => self.now(),
            PageVisibility::Hidden => {}
        })
        .keep();
    }

    /// Sets the timer, unless it is set to go off earlier.
    fn arm(self, ms: f64) {
        let due = Date::now() + ms;
        let sooner = |timer: &SyncTimer| timer.due <= due;
        if !self
            .inner
            .with_value(|inner| inner.timer.as_ref().is_some_and(sooner))
        {
            self.set_timer(ms, None);
        }
    }

    /// Sets the timer for after a run of saves. A timer that was set for another reason and goes off earlier is left
    /// alone.
    fn arm_after_save(self) {
        let now = Date::now();
        let before = self
            .inner
            .with_value(|inner| inner.timer.as_ref().map(|timer| (timer.due, timer.saved)));
        let first = before.and_then(|(_, saved)| saved).unwrap_or(now);
        let due = (now + AFTER_SAVE_MS).min(first + LATEST_MS);
        if before.is_none_or(|(known, saved)| saved.is_some() || due < known) {
            self.set_timer((due - now).max(0.0), Some(first));
        }
    }

    /// Whether the timer was set because of saves.
    fn awaits_saves(self) -> bool {
        let saves = |timer: &SyncTimer| timer.saved.is_some();
        self.inner
            .with_value(|inner| inner.timer.as_ref().is_some_and(saves))
    }

    fn set_timer(self, ms: f64, saved: Option<f64>) {
        let due = Date::now() + ms;
        self.inner.update_value(|inner| {
            // Dropping the old timer clears it.
            let handle =
                set_timeout_with_handle(move || self.on_time(), Duration::from_secs_f64(ms / 1000.0));
            inner.timer = handle.ok().map(|handle| SyncTimer { due, saved, handle });
        });
    }

    fn on_time(self) {
        let timer = self.inner.try_update_value(|inner| inner.timer.take()).flatten();
        let saved = timer.is_some_and(|timer| timer.saved.is_some());
        let asked = self.inner.try_with_value(|inner| inner.wish == Wish::Asked);
        // Nobody is looking, nobody has asked, and nothing waits to be sent: save the battery. The timer is set again
        // when the page comes into view.
        if PageVisibility::now() == PageVisibility::Hidden
            && self.phase.get_untracked() == Phase::UpToDate
            && !saved
            && asked != Some(true)
        {
            return;
        }
        self.now();
    }

    /// Runs a round now or, if one is running, right after it.
    pub fn now(self) {
        let store = self.inner.try_update_value(|inner| {
            if inner.running {
                inner.wish = Wish::Asked;
                return None;
            }
            inner.wish = Wish::None;
            inner.running = true;
            inner.timer = None;
            Some(Rc::clone(&inner.store))
        });
        let Some(Some(store)) = store else { return };
        let watch = Box::new(self.watch());
        let work = async move {
            match store() {
                Some(phone) => round(phone, self.contact, watch).await.unwrap_or(UNREACHABLE),
                None => Outcome::NotJoined,
            }
        };
        spawn_local(async move {
            let outcome = unless_elsewhere(work).await;
            self.ended(outcome.unwrap_or(Outcome::Elsewhere));
        });
    }

    /// Follows a round: sets the phase from its first command on, and tells screens and tabs what has been stored.
    fn watch(self) -> impl FnMut(&Command) + 'static {
        let mut told = 0.0;
        move |command| {
            match command {
                Command::GetHistory(_) => self.show(Phase::Filling),
                _ if self.phase.try_get_untracked() != Some(Phase::Filling) => self.show(Phase::Syncing),
                _ => {}
            }
            let now = Date::now();
            if now - told > NEWS_MS && self.tell() {
                told = now;
            }
            if changes_something(command) {
                self.inner.try_update_value(|inner| inner.news = true);
            }
        }
    }

    /// Sets the phase if it differs, so that nothing is updated needlessly.
    fn show(self, phase: Phase) {
        if self.phase.try_with_untracked(|shown| *shown != phase) == Some(true) {
            self.phase.set(phase);
        }
    }

    /// If the round has stored something, has this tab and the others read again. Returns whether it had.
    fn tell(self) -> bool {
        let news = self.inner.try_update_value(|inner| {
            let news = std::mem::take(&mut inner.news);
            if news {
                inner.tabs.tell();
            }
            news
        });
        let news = news.unwrap_or_default();
        if news {
            self.changes.try_update(|count| *count += 1);
        }
        news
    }

    /// Takes note of how a round ended and decides when the next begins.
    fn ended(self, outcome: Outcome) {
        let failed = outcome.failed();
        let noted = self.inner.try_update_value(|inner| {
            inner.running = false;
            inner.failures = if failed { inner.failures + 1 } else { 0 };
            // The store now says that the device is shut out, which screens must show.
            inner.news |= matches!(outcome, Outcome::Ended(RoundOutcome::JoinAgain(_)));
            let wish = inner.wish;
            // What a person has asked for stands until the next round begins.
            if wish == Wish::Saved {
                inner.wish = Wish::None;
            }
            (wish, inner.failures)
        });
        // The reactive owner of this loop has been disposed of.
        let Some((wish, failures)) = noted else {
            return;
        };
        self.tell();
        let (phase, pause) = outcome.judge(failures);
        self.show(phase);
        if wish == Wish::Saved && !failed {
            return self.arm_after_save();
        }
        let pause = if wish == Wish::Asked {
            Some(NUDGE_MS)
        } else {
            pause
        };
        if let Some(pause) = pause {
            self.arm(pause);
        }
    }
}

impl Drop for SyncTimer {
    fn drop(&mut self) {
        self.handle.clear();
    }
}

/// Whether a command, once carried out, may change what a screen shows.
fn changes_something(command: &Command) -> bool {
    match command {
        Command::Apply { entries, .. } => !entries.is_empty(),
        Command::Settle { .. }
        | Command::SettleBlobs(_)
        | Command::MarkUnsent(_)
        | Command::UnconfirmBlobs(_) => true,
        _ => false,
    }
}
