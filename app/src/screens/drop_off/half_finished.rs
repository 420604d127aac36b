//! Interrupted drop-offs: each is stored as it is typed, and listed until it is taken in or discarded.

use leptos::prelude::*;
use leptos::task::spawn_local;

use super::counter::CounterForm;
use crate::device::DeviceError;
use crate::device::Phone;
use crate::session::{Session, use_live_query, use_session};
use app_core::commands::DropOff;
use app_core::store::Surroundings;

/// The prefix of the names of stored drop-offs.
const PREFIX: &str = "drop-off/";

/// Stores the drop-off on the screen as it is typed. Cheap to copy.
#[derive(Clone, Copy)]
pub(super) struct Keeper {
    session: Session,
    counter: CounterForm,
    /// The name of the drop-off on the screen; empty once it has been taken in.
    name: RwSignal<String>,
    /// What has to be written next. Only one write runs at a time, and only the latest content is written after it.
    waiting: StoredValue<Option<Unwritten>>,
    writing: StoredValue<bool>,
}

struct Unwritten {
    name: String,
    text: Option<String>,
}

impl Keeper {
    /// Begins to store what is typed.
    pub(super) fn start(counter: CounterForm) -> Self {
        let session = use_session();
        let keeper = Self {
            session,
            counter,
            name: RwSignal::new(fresh(session)),
            waiting: StoredValue::new(None),
            writing: StoredValue::new(false),
        };
        Effect::new(move |before: Option<String>| {
            let text = counter.form.with(written);
            // A form that was just read from the store is not written back.
            if let Some(before) = before
                && before != text
            {
                keeper.keep();
            }
            text
        });
        keeper
    }

    fn keep(self) {
        let name = self.name.get_untracked();
        if name.is_empty() {
            return;
        }
        let text = self
            .counter
            .form
            .with_untracked(|form| (!form.is_blank()).then(|| written(form)));
        self.waiting.set_value(Some(Unwritten { name, text }));
        if self.writing.get_value() {
            return;
        }
        self.writing.set_value(true);
        spawn_local(async move {
            while let Some(next) = self.waiting.try_update_value(Option::take).flatten() {
                let Some(phone) = self.session.phone() else { break };
                if let Err(error) = phone.keep_draft(&next.name, next.text).await {
                    self.session.complain(error);
                }
            }
            self.writing.try_update_value(|writing| *writing = false);
        });
    }

    /// Sets the drop-off on the screen aside and shows another: `form`, stored under `name`.
    fn turn_to(self, name: String, form: DropOff) {
        spawn_local(async move {
            // Written first, so that the list shows its latest content.
            if let Err(error) = self.write_now().await {
                return self.session.complain(error);
            }
            self.counter.wrong.set(String::new());
            self.counter.looked();
            self.counter.open.set(form.pairs.len().saturating_sub(1));
            self.name.set(name);
            self.counter.form.set(form);
        });
    }

    /// Sets the drop-off on the screen aside and shows a blank one.
    pub(super) fn put_aside(self) {
        self.turn_to(fresh(self.session), DropOff::blank());
    }

    async fn write_now(self) -> Result<(), DeviceError> {
        let name = self.name.get_untracked();
        let Some(phone) = self.session.phone().filter(|_| !name.is_empty()) else {
            return Ok(());
        };
        self.waiting.set_value(None);
        let text = self
            .counter
            .form
            .with_untracked(|form| (!form.is_blank()).then(|| written(form)));
        Ok(phone.keep_draft(&name, text).await?)
    }

    /// Removes the drop-off on the screen from the store, because it has been taken in.
    pub(super) async fn done(self, phone: &Phone) -> Result<(), DeviceError> {
        let name = self.name.get_untracked();
        self.name.set(String::new());
        self.waiting.set_value(None);
        Ok(phone.keep_draft(&name, None).await?)
    }
}

fn written(form: &DropOff) -> String {
    // A form consists of strings, numbers and flags, so it can always be serialised.
    serde_json::to_string(form).unwrap_or_default()
}

fn fresh(session: Session) -> String {
    let id = session
        .phone()
        .map(|phone| phone.surroundings().new_subject().to_string());
    format!("{PREFIX}{}", id.unwrap_or_default())
}

/// The list of the other interrupted drop-offs, each to be continued or discarded.
#[component]
pub(super) fn HalfFinished(keeper: Keeper) -> impl IntoView {
    let kept = use_live_query(move |phone| {
        // Read again whenever another drop-off is on the screen.
        keeper.name.track();
        async move { Ok(phone.drafts(PREFIX).await?) }
    });
    let rows = move || {
        let here = keeper.name.get();
        let others = kept
            .get()
            .unwrap_or_default()
            .into_iter()
            .filter(|(name, _)| *name != here);
        let readable = others.filter_map(|(name, text)| Some((name, serde_json::from_str(&text).ok()?)));
        readable
            .map(|(name, form)| row(keeper, name, form))
            .collect_view()
    };
    view! { <ul class="plain" aria-label=words::drop_off::half_finished()>{rows}</ul> }
}

fn row(keeper: Keeper, name: String, form: DropOff) -> AnyView {
    let thrown = RwSignal::new(false);
    let title = form.title();
    let half = StoredValue::new((name, form));
    let go_on = move |_| {
        let (name, form) = half.get_value();
        keeper.turn_to(name, form);
    };
    let write = move |text: Option<String>| {
        let session = keeper.session;
        spawn_local(async move {
            let Some(phone) = session.phone() else { return };
            let (name, _) = half.get_value();
            if let Err(error) = phone.keep_draft(&name, text).await {
                session.complain(error);
            }
        });
    };
    let throw = move |_| {
        thrown.set(true);
        write(None);
    };
    let back = move |_| {
        thrown.set(false);
        write(Some(half.with_value(|(_, form)| written(form))));
    };
    let going_on = words::drop_off::go_on_with(&title);
    let throwing = words::drop_off::delete_drop_off(&title);
    view! {
        <li class="card row between">
            <Show when=move || !thrown.get() fallback=move || view! {
                <span>{words::drop_off::deleted()}</span><button type="button" class="quiet" on:click=back>{words::drop_off::undo()}</button>
            }>
                <strong>{words::drop_off::half_finished_drop_off(&title)}</strong>
                <span class="row">
                    <button type="button" aria-label=going_on.clone() on:click=go_on>{words::drop_off::go_on()}</button>
                    <button type="button" class="quiet" aria-label=throwing.clone() on:click=throw>{words::drop_off::delete()}</button>
                </span>
            </Show>
        </li>
    }    .into_any()
}
