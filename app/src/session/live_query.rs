//! What a screen reads from the store, kept up to date.

use std::any::Any;
use std::future::Future;
use std::marker::PhantomData;
use std::pin::Pin;
use std::rc::Rc;

use leptos::prelude::*;
use leptos::task::spawn_local;

use super::{Opening, use_session};
use crate::device::DeviceError;
use crate::device::Phone;
use crate::device::screen::when_lifted;

/// An answer of the store that is kept up to date; `None` until the first one. Cheap to copy.
///
/// The answer is type-erased so that the framework's signal code is in the wasm once, not once for every type of
/// answer.
pub struct LiveQuery<T> {
    answer: ReadSignal<Option<Rc<dyn Any>>, LocalStorage>,
    of: PhantomData<fn() -> T>,
}

impl<T> Clone for LiveQuery<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for LiveQuery<T> {}

impl<T: Clone + 'static> LiveQuery<T> {
    /// The latest answer. Tracked: the caller is run again when it changes.
    #[must_use]
    pub fn get(self) -> Option<T> {
        read(self.answer.get())
    }

    /// The latest answer, not tracked.
    #[must_use]
    pub fn get_untracked(self) -> Option<T> {
        read(self.answer.get_untracked())
    }
}

fn read<T: Clone + 'static>(answer: Option<Rc<dyn Any>>) -> Option<T> {
    answer?.downcast_ref::<T>().cloned()
}

/// The answer of `ask`, read again whenever something in the store changes.
///
/// The former answer stays while the next is being read, and is kept if the next is equal to it: a sync that changes
/// nothing here does not disturb the screen or what is being typed on it. Signals that `ask` reads are followed too. A
/// new answer is set only when no finger is down, because a redraw would make a tap miss or hit another row.
#[must_use]
pub fn use_live_query<T, F>(ask: impl Fn(Phone) -> F + 'static) -> LiveQuery<T>
where
    T: PartialEq + 'static,
    F: Future<Output = Result<T, DeviceError>> + 'static,
{
    let asked = move |phone| -> PendingQuery {
        let asked = ask(phone);
        Box::pin(async move { Ok(Rc::new(asked.await?) as Rc<dyn Any>) })
    };
    LiveQuery {
        answer: follow(Box::new(asked), same::<T>),
        of: PhantomData,
    }
}

/// Whether two answers to one query are equal.
fn same<T: PartialEq + 'static>(one: &dyn Any, other: &dyn Any) -> bool {
    one.downcast_ref::<T>() == other.downcast_ref::<T>()
}

/// A query under way.
type PendingQuery = Pin<Box<dyn Future<Output = Result<Rc<dyn Any>, DeviceError>>>>;

fn follow(
    ask: Box<dyn Fn(Phone) -> PendingQuery>,
    same: fn(&dyn Any, &dyn Any) -> bool,
) -> ReadSignal<Option<Rc<dyn Any>>, LocalStorage> {
    let session = use_session();
    let (answer, set_answer) = signal_local(None);
    let turn = StoredValue::new(0_u32);
    Effect::new(move |_| {
        session.revision.track();
        if session.opening.get() != Opening::Open {
            return;
        }
        let Some(phone) = session.phone() else { return };
        turn.update_value(|turn| *turn += 1);
        let this_turn = turn.get_value();
        let asked = ask(phone);
        spawn_local(async move {
            let answered = asked.await;
            // The screen must not change while a finger is about to tap it.
            when_lifted(move || {
                // A later query has begun, or the screen has gone.
                if turn.try_get_value() != Some(this_turn) {
                    return;
                }
                match answered {
                    Ok(value) => {
                        let known = answer.get_untracked();
                        if !known.is_some_and(|known: Rc<dyn Any>| same(known.as_ref(), value.as_ref())) {
                            set_answer.set(Some(value));
                        }
                    }
                    Err(error) => session.complain(error),
                }
            });
        });
    });
    answer
}
