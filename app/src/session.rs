//! What every screen shares: the open store, the news that something changed, and what to tell the person.

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

/// How long good news stays, in seconds in which it can be seen. Bad news stays until it is put away.
const TOLD_FOR: u32 = 6;

/// A write that has not ended after so long says so: whoever waits is not to think that it is done, or that nothing was
/// tapped.
const SLOW: Duration = Duration::from_secs(5);
const SLOW_SAYS: &str = "This is not saved yet: the device's storage does not answer. Leave the app open; it will be said when it is saved, or why not.";

/// How long after the first screen has been drawn the rest begins: a first tap comes before it.
const DRAWN: Duration = Duration::from_millis(100);

/// How long what is not for the first screen waits for it, should it never say that it stands.
const PATIENCE: Duration = Duration::from_secs(3);

/// So long after the last photograph of a run the screens read anew: the next one, a moment later, does not wait for them…
const AFTER_PHOTOGRAPH_MS: i64 = 400;
/// …and no later than so long after its first.
const LATEST_MS: i64 = 3_000;

/// Where this device keeps who is working on it.
const WORKING: &str = "working";

/// How far opening the store has come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Opening {
    /// Under way.
    Opening,
    /// Open.
    Open,
    /// It cannot be opened, and why, for the person.
    Failed(String),
}

/// Something to tell the person at the top of whatever screen they are on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Notice {
    /// It worked.
    Good(String),
    /// It did not, and nothing was lost.
    Bad(String),
    /// Something is missing or wrong in what was typed. What is saved next has put it right.
    Wanting(String),
}

/// The shop as this device knows it. Cheap to copy; provided as a context.
#[derive(Clone, Copy)]
pub struct Session {
    phone: StoredValue<Option<Phone>, LocalStorage>,
    opening: RwSignal<Opening>,
    begun: RwSignal<bool>,
    edition: RwSignal<u32>,
    sync: SyncLoop,
    notice: RwSignal<Option<Notice>>,
    person: RwSignal<Option<PersonId>>,
    /// Since when screens are to read anew, and the timer that has them do so.
    soon: StoredValue<Option<(UnixMs, TimeoutHandle)>, LocalStorage>,
    /// Counts what was told, so that good news puts away itself only.
    told: StoredValue<u32>,
    /// Whether `person` is more than a guess: it has been read, or somebody has said so.
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
            edition: RwSignal::new(0),
            notice: RwSignal::new(None),
            person: RwSignal::new(None),
            soon: StoredValue::new_local(None),
            told: StoredValue::new(0),
            person_known: StoredValue::new(false),
        };
        // The browser opens its database while the page is drawn.
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
            if on_bench() {
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

    /// Whether what waits for the first screen has begun.
    #[must_use]
    pub fn is_started(self) -> Signal<bool> {
        self.begun.into()
    }

    /// To be called by the first screen when all of it is there; it is drawn before anything else is done.
    pub fn first_screen_drawn(self) {
        if !self.begun.get_untracked() {
            request_animation_frame(move || set_timeout(move || self.begin(), DRAWN));
        }
    }

    /// Begins what waits for the first screen: the shop's settings are read, the other screens fetched, the server is
    /// asked, and what an update of the app or a large batch has left is worked off.
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
    /// While it is not open.
    pub fn opened(self) -> Result<Phone, DeviceError> {
        Ok(self.phone().ok_or(StoreError::Kv(KvError::Lost))?)
    }

    /// Counts changes of anything stored, by whoever made them.
    #[must_use]
    pub fn revision(self) -> Signal<u32> {
        self.edition.into()
    }

    /// What keeps this device in step with the others.
    #[must_use]
    pub fn sync(self) -> SyncLoop {
        self.sync
    }

    /// Says that something stored has changed: by a sync, a restore, or another tab.
    pub fn changed(self) {
        self.edition.update(|edition| *edition += 1);
    }

    /// The same, when a run of photographs pauses.
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

    /// Reads who was working here last. The screens do not wait for it; what is saved does.
    async fn recall_person(self, phone: &Phone) {
        let kept = phone.draft(WORKING).await.ok().flatten();
        if !self.person_known.get_value() {
            self.person_known.set_value(true);
            self.person.set(kept.and_then(|id| id.parse().ok()));
        }
    }

    /// Somebody takes over this device: what is recorded from now on bears their name.
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

    /// What there is to tell.
    #[must_use]
    pub fn notice(self) -> RwSignal<Option<Notice>> {
        self.notice
    }

    /// Tells that something worked, for a while.
    pub fn tell(self, text: impl Into<String>) {
        let this = self.say(Notice::Good(text.into()));
        self.put_away_after(this, TOLD_FOR);
    }

    /// Puts what was told away after so many seconds, unless something else is told by then, be it in the same words. Only a
    /// second that begins with a frame that is drawn counts: a page that stands still, or that nobody looks at, tells nothing.
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

    /// Tells that something did not work.
    pub fn complain(self, error: impl std::fmt::Display) {
        self.say(Notice::Bad(error.to_string()));
    }

    /// Tells something; its number among all that was told. Bad news takes its own room on the page: not while a finger is on
    /// its way to what that would move.
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

    /// Tells what is missing or wrong in what was typed.
    pub fn ask_to_correct(self, what: impl std::fmt::Display) {
        self.say(Notice::Wanting(what.to_string()));
    }

    /// What was missing or wrong has been put right, or is being.
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
        // A photograph takes no button away from under the thumb: the next may be taken while this one is written.
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

    /// Until what this returns is dropped, a write is under way; when that takes long, it is said.
    fn tell_if_slow(self) -> impl Drop + use<> {
        Slow {
            timer: set_timeout_with_handle(move || self.complain(SLOW_SAYS), SLOW).ok(),
            session: self,
        }
    }

    /// Saves, and tells the person if that failed. `then` runs when it worked.
    pub fn save_and(self, drafts: Vec<Draft>, then: impl FnOnce(Saved) + 'static) {
        spawn_local(async move {
            match self.save(drafts, Vec::new()).await {
                Ok(saved) => then(saved),
                Err(error) => self.complain(error),
            }
        });
    }
}

/// A write that is being waited for.
struct Slow {
    timer: Option<TimeoutHandle>,
    session: Session,
}

impl Drop for Slow {
    fn drop(&mut self) {
        if let Some(timer) = self.timer {
            timer.clear();
        }
        // It has ended after all; how, is told by whoever began it.
        let says_so = |told: &Option<Notice>| matches!(told, Some(Notice::Bad(text)) if text == SLOW_SAYS);
        if self.session.notice.with_untracked(says_so) {
            self.session.notice.set(None);
        }
    }
}

/// Whether the Bench is on the screen.
#[must_use]
pub fn on_bench() -> bool {
    location().pathname().is_ok_and(|path| path == "/")
}

/// The session of this page.
#[must_use]
pub fn use_session() -> Session {
    expect_context()
}
