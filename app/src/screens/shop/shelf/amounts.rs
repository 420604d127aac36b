//! Amounts on the screen of the shelf.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::shelf::{ShelfRow, amount_words};

use crate::parts::Typed;
use crate::session::Session;
use crate::shelf::ShelfQuery;
use app_core::commands::shelf::{WaitingJob, read_amount};

/// What a material is called, and what it is counted in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct NamedMaterial {
    pub(super) id: SubjectId,
    pub(super) name: String,
    /// The unit; empty if it was not noted.
    pub(super) unit: String,
}

impl NamedMaterial {
    pub(super) fn of(row: &ShelfRow) -> Self {
        let name = match row.name() {
            "" => words::shelf::no_name(),
            name => name,
        };
        Self {
            id: row.id,
            name: name.to_owned(),
            unit: row.state.unit().unwrap_or_default().to_owned(),
        }
    }
}

/// The row of a material, as it is now.
pub(super) fn row_of(shelf: ShelfQuery, id: SubjectId) -> Option<ShelfRow> {
    let shown = shelf.get().flatten()?;
    shown.uses.shelf.row(id).cloned()
}

/// How much is there, in words.
pub(super) fn there(row: &ShelfRow) -> String {
    let unit = row.state.unit().unwrap_or_default();
    match row.shown() {
        None => words::shelf::not_counted_yet().to_owned(),
        Some(amount) if amount < 0 => {
            words::shelf::taken_too_often(&amount_words(amount.saturating_neg()), unit)
        }
        Some(amount) => words::shelf::there(&amount_words(amount), unit),
    }
}

/// The jobs by name, each once.
pub(super) fn names(waiting: &[&WaitingJob]) -> String {
    let mut names: Vec<&str> = Vec::new();
    for one in waiting {
        if !names.contains(&one.name.as_str()) {
            names.push(&one.name);
        }
    }
    words::lists::and(&names)
}

/// The amount that was typed, in thousandths of the unit. `None`, after saying so, if it is missing or cannot be read.
pub(super) fn asked(session: Session, label: &str, typed: &str) -> Option<i64> {
    match read_amount(label, typed) {
        Ok(Some(amount)) => Some(amount),
        Ok(None) => {
            session.ask_to_correct(words::shelf::amount_is_wanted());
            None
        }
        Err(why) => {
            session.ask_to_correct(why);
            None
        }
    }
}

/// The same as an amount that is ordered or comes, which is more than none.
pub(super) fn asked_some(session: Session, label: &str, typed: &str) -> Option<u32> {
    let amount = asked(session, label, typed)?;
    let some = u32::try_from(amount).ok().filter(|amount| *amount > 0);
    if some.is_none() {
        session.ask_to_correct(words::shelf::not_an_amount(label, typed));
    }
    some
}

/// A field for an amount.
pub(super) fn amount_field(label: String, text: RwSignal<String>) -> AnyView {
    let typed = Callback::new(move |typed| text.set(typed));
    view! { <Typed label inputmode="decimal" value=text.into() typed/> }.into_any()
}
