//! What every screen shares: the open store, a count of its changes, and the notice shown to the person.

mod kept;
mod live_query;

use std::time::Duration;

use futures_util::FutureExt;
use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::{PersonId, UnixMs};

pub use kept::use_kept;
pub use live_query::{LiveQuery, use_live_query};

use crate::device::DeviceError;
use crate::device::lazy;
use crate::device::network::SyncLoop;
use crate::device::screen::{Write, when_lifted};
use crate::device::{Phone, open_phone};
use app_core::browser::clock::now;
use app_core::store::StoreError;
use app_core::store::kv::KvError;
use app_core::store::{NewBlob, Saved};
use shared::log::Draft;

/// For how many seconds in which the page is drawn a success is shown. A failure is shown until it is dismissed.
const TOLD_FOR: u32 = 6;

/// After how long an unfinished write is announced, so that nobody believes it done or their tap without effect.
const SLOW: Duration = Duration::from_secs(5);

/// The time from drawing the first screen to [`Session::begin`], so that a first tap is handled before that.
const DRAWN: Duration = Duration::from_millis(100);

/// How long the rest waits at most, in case the first screen never calls [`Session::first_screen_drawn`].
const PATIENCE: Duration = Duration::from_secs(3);

/// Screens read again so long after the last photograph of a run, in ms: not while more photographs are being saved…
const AFTER_PHOTOGRAPH_MS: i64 = 400;
/// …and no later than this long after its first, in ms.
const LATEST_MS: i64 = 3_000;

/// The name under which the store keeps who is working on this device.
const WORKING: &str = "working";

/// The state of opening the store.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Opening {
    /// Under way.
    Opening,
    /// It is open.
    Open,
    /// It cannot be opened; the reason, in words for the person.
    Failed(String),
}

/// A message at the top of whatever screen is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Notice {
    /// Something worked.
    Good(String),
    /// Something failed, and nothing was lost.
    Bad(String),
    /// Something typed is missing or wrong. The next successful save removes the message.
    Wanting(String),
}

/// The open store and everything that all screens share about it. Cheap to copy; provided as a context.
#[derive(Clone, Copy)]
pub struct Session {
    phone: StoredValue<Option<Phone>, LocalStorage>,
    opening: RwSignal<Opening>,
    begun: RwSignal<bool>,
    revision: RwSignal<u32>,
    sync: SyncLoop,
    notice: RwSignal<Option<Notice>>,
    person: RwSignal<Option<PersonId>>,
    /// While screens are to read again soon: since when, and the timer for it.
    soon: StoredValue<Option<(UnixMs, TimeoutHandle)>, LocalStorage>,
    /// Counts the notices, so that a timer removes only the notice it was set for.
    told: StoredValue<u32>,
    /// Whether `person` is known: it has been read from the store, or somebody has set it.
    person_known: StoredValue<bool>,
}

impl Session {
    /// Begins to open the store.
    #[must_use]
    pub fn open() -> Self {
        let phone = StoredValue::<Option<Phone>, LocalStorage>::new_local(None);
        let session = Self {
            phone,
            sync: SyncLoop::start(move || phone.get_value()),
            opening: RwSignal::new(Opening::Opening),
            begun: RwSignal::new(false),
            revision: RwSignal::new(0),
            notice: RwSignal::new(None),
            person: RwSignal::new(None),
            soon: StoredValue::new_local(None),
            told: StoredValue::new(0),
            person_known: StoredValue::new(false),
        };
        // Polled once here, so that the browser opens its database while the page is being drawn.
        let mut under_way = Box::pin(open_phone());
        let at_once = under_way.as_mut().now_or_never();
        spawn_local(async move {
            let opened = match at_once {
                Some(opened) => opened,
                None => under_way.await,
            };
            match opened {
                Ok(phone) => {
                    session.phone.set_value(Some(phone.clone()));
                    session.opening.set(Opening::Open);
                    session.recall_person(&phone).await;
                }
                Err(error) => session.opening.set(Opening::Failed(error.to_string())),
            }
            if is_shown("/") {
                set_timeout(move || session.begin(), PATIENCE);
            } else {
                session.begin();
            }
        });
        let changes = session.sync.changes();
        Effect::new(move |before: Option<u64>| {
            let now = changes.get();
            if before.is_some_and(|before| before != now) {
                session.changed();
            }
            now
        });
        session
    }

    /// Whether the work that waits for the first screen has begun: reading the settings, loading screens, syncing.
    #[must_use]
    pub fn is_started(self) -> Signal<bool> {
        self.begun.into()
    }

    /// To be called by the first screen when it is complete. It is drawn before anything else is done.
    pub fn first_screen_drawn(self) {
        if !self.begun.get_untracked() {
            request_animation_frame(move || set_timeout(move || self.begin(), DRAWN));
        }
    }

    /// Begins the work that waits for the first screen: reads the shop's settings, loads the other screens, starts
    /// syncing, and builds summaries that an app update or a large batch has left undone.
    fn begin(self) {
        if self.begun.try_get_untracked() != Some(false) {
            return;
        }
        self.begun.set(true);
        self.sync.now();
        let Some(phone) = self.phone() else { return };
        spawn_local(async move {
            if let Err(error) = lazy::rebuild_summaries(phone).await {
                leptos::logging::warn!("lists may be old until the next start: {error}");
            }
        });
    }

    /// How far opening has come.
    #[must_use]
    pub fn opening(self) -> Signal<Opening> {
        self.opening.into()
    }

    /// The store, once it is open.
    #[must_use]
    pub fn phone(self) -> Option<Phone> {
        self.phone.get_value()
    }

    /// The store.
    ///
    /// # Errors
    /// [`KvError::Lost`] while it is not open.
    pub fn opened(self) -> Result<Phone, DeviceError> {
        Ok(self.phone().ok_or(StoreError::Kv(KvError::Lost))?)
    }

    /// A count of changes of the store, whoever made them. Screens that follow it read again.
    #[must_use]
    pub fn revision(self) -> Signal<u32> {
        self.revision.into()
    }

    /// The loop that syncs this device.
    #[must_use]
    pub fn sync(self) -> SyncLoop {
        self.sync
    }

    /// Counts a change of the store by a sync, a restore, or another tab.
    pub fn changed(self) {
        self.revision.update(|revision| *revision += 1);
    }

    /// The same, once a run of photographs pauses.
    fn changed_soon(self) {
        let now = now();
        let before = self.soon.try_update_value(Option::take).flatten();
        if let Some((_, timer)) = before {
            timer.clear();
        }
        let since = before.map_or(now, |(since, _)| since);
        let due = (now.0 + AFTER_PHOTOGRAPH_MS).min(since.0 + LATEST_MS);
        let tell = move || {
            if self.soon.try_update_value(|soon| *soon = None).is_some() {
                self.changed();
            }
        };
        let wait = Duration::from_millis((due - now.0).max(0).unsigned_abs());
        if let Ok(timer) = set_timeout_with_handle(tell, wait) {
            self.soon.try_set_value(Some((since, timer)));
        }
    }

    /// Who is working on this device now; `None` until somebody says so.
    #[must_use]
    pub fn person(self) -> Signal<Option<PersonId>> {
        self.person.into()
    }

    /// Reads who worked here last. Screens do not wait for this; saving does.
    async fn recall_person(self, phone: &Phone) {
        let kept = phone.draft(WORKING).await.ok().flatten();
        if !self.person_known.get_value() {
            self.person_known.set_value(true);
            self.person.set(kept.and_then(|id| id.parse().ok()));
        }
    }

    /// Sets who is working on this device. What is recorded from now on bears their id.
    pub fn works_now(self, person: Option<PersonId>) {
        self.person_known.set_value(true);
        self.person.set(person);
        let Some(phone) = self.phone() else { return };
        spawn_local(async move {
            if let Err(error) = lazy::keep_draft(phone, WORKING, person.map(|id| id.to_string())).await {
                self.complain(error);
            }
        });
    }

    /// The notice that is shown.
    #[must_use]
    pub fn notice(self) -> RwSignal<Option<Notice>> {
        self.notice
    }

    /// Shows a success, for some seconds.
    pub fn tell(self, text: impl Into<String>) {
        let this = self.say(Notice::Good(text.into()));
        self.put_away_after(this, TOLD_FOR);
    }

    /// Removes notice number `this` after so many seconds, unless another was told meanwhile, even with the same text.
    /// Only a second that begins with a drawn frame counts: while the page is frozen or hidden, nobody can read the
    /// notice.
    fn put_away_after(self, this: u32, seconds: u32) {
        request_animation_frame(move || {
            let second = move || {
                if self.told.try_get_value() != Some(this) {
                    return;
                }
                match seconds {
                    0 | 1 => drop(self.notice.try_set(None)),
                    more => self.put_away_after(this, more - 1),
                }
            };
            set_timeout(second, Duration::from_secs(1));
        });
    }

    /// Shows a failure.
    pub fn complain(self, error: impl std::fmt::Display) {
        self.say(Notice::Bad(error.to_string()));
    }

    /// Shows a notice and returns its number. A failure takes room on the page, so it appears only when no finger is
    /// down: the element that the person is about to tap must not move.
    fn say(self, notice: Notice) -> u32 {
        self.told.update_value(|told| *told = told.wrapping_add(1));
        let this = self.told.get_value();
        when_lifted(move || {
            if self.told.try_get_value() == Some(this) {
                self.notice.set(Some(notice));
            }
        });
        this
    }

    /// Shows what is missing or wrong in what was typed.
    pub fn ask_to_correct(self, what: impl std::fmt::Display) {
        self.say(Notice::Wanting(what.to_string()));
    }

    /// Removes a notice about something missing or wrong in what was typed.
    pub fn corrected(self) {
        if self
            .notice
            .with_untracked(|told| matches!(told, Some(Notice::Wanting(_))))
        {
            self.notice.set(None);
        }
    }

    /// Saves in one transaction; when this returns without an error it is on the device.
    ///
    /// # Errors
    /// What the store says; then nothing was written.
    pub async fn save(self, drafts: Vec<Draft>, blobs: Vec<NewBlob>) -> Result<Saved, DeviceError> {
        let photographed = !blobs.is_empty();
        // A photograph is saved without blocking taps: the next one may be taken while this one is written.
        let _one_tap = (!photographed).then(Write::begin);
        let _slow = self.tell_if_slow();
        let saved = self.written(drafts, blobs).await?;
        self.corrected();
        if photographed {
            self.changed_soon();
        } else {
            self.changed();
        }
        self.sync.saved();
        Ok(saved)
    }

    async fn written(self, drafts: Vec<Draft>, blobs: Vec<NewBlob>) -> Result<Saved, DeviceError> {
        let phone = self.opened()?;
        if !self.person_known.get_value() {
            self.recall_person(&phone).await;
        }
        let person = self.person.get_untracked();
        let named = |draft: Draft| {
            if draft.person.is_none() {
                draft.by(person)
            } else {
                draft
            }
        };
        let drafts = drafts.into_iter().map(named).collect();
        lazy::save(phone, drafts, blobs).await
    }

    /// Announces a slow write ([`SLOW`]), until what this returns is dropped.
    fn tell_if_slow(self) -> impl Drop + use<> {
        let announce = move || self.complain(words::session::not_saved_yet());
        Slow {
            timer: set_timeout_with_handle(announce, SLOW).ok(),
            session: self,
        }
    }

    /// Saves, and shows a failure if there is one. `then` is called if it worked.
    pub fn save_and(self, drafts: Vec<Draft>, then: impl FnOnce(Saved) + 'static) {
        spawn_local(async move {
            match self.save(drafts, Vec::new()).await {
                Ok(saved) => then(saved),
                Err(error) => self.complain(error),
            }
        });
    }
}

/// The announcement of a slow write: its timer, and removal of the notice at its end.
struct Slow {
    timer: Option<TimeoutHandle>,
    session: Session,
}

impl Drop for Slow {
    fn drop(&mut self) {
        if let Some(timer) = self.timer {
            timer.clear();
        }
        // The write has ended; its result is told by whoever began it.
        let announced = words::session::not_saved_yet();
        let says_so = |told: &Option<Notice>| matches!(told, Some(Notice::Bad(text)) if text == announced);
        if self.session.notice.with_untracked(says_so) {
            self.session.notice.set(None);
        }
    }
}

/// Whether the screen with this path is shown.
#[must_use]
pub fn is_shown(path: &str) -> bool {
    location().pathname().is_ok_and(|shown| shown == path)
}

/// The session of this page.
#[must_use]
pub fn use_session() -> Session {
    expect_context()
}
