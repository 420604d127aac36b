//! Unfinished input of a screen, stored as it is typed.

use leptos::prelude::*;
use leptos::task::spawn_local;
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::use_session;

/// A value that is stored under `name`: read when the screen opens, stored whenever it changes, and removed from the
/// store when it equals the default.
#[must_use]
pub fn use_kept<T>(name: String) -> RwSignal<T>
where
    T: Clone + Default + PartialEq + Serialize + DeserializeOwned + Send + Sync + 'static,
{
    let session = use_session();
    let made = RwSignal::new(T::default());
    let read = name.clone();
    spawn_local(async move {
        let Some(phone) = session.phone() else { return };
        match phone.draft(&read).await {
            Ok(text) => {
                let kept = text.and_then(|text| serde_json::from_str(&text).ok());
                // Unless it was changed, or the screen was left, before it was read.
                if let Some(kept) = kept
                    && made.try_with_untracked(|made| *made == T::default()) == Some(true)
                {
                    made.set(kept);
                }
            }
            Err(error) => session.complain(error),
        }
    });
    Effect::new(move |before: Option<T>| {
        let now = made.get();
        if before.is_some_and(|before| before != now) {
            let left = Some(&now).filter(|now| **now != T::default());
            let (name, text) = (name.clone(), left.and_then(|now| serde_json::to_string(now).ok()));
            spawn_local(async move {
                let Some(phone) = session.phone() else { return };
                if let Err(error) = phone.keep_draft(&name, text).await {
                    session.complain(error);
                }
            });
        }
        now
    });
    made
}
