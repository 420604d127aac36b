//! Which photograph is looked at in full. The dialog that shows it is in `viewer_dialog.rs`, loaded with the first one.

use std::cmp::Ordering;

use leptos::html::Button;
use leptos::prelude::*;
use leptos::web_sys::{Element, Node};
use shared::log::SubjectId;
use shared::log::body::Blob;

use crate::zoom::Onward;

/// The elements that hold the photographs of one list. Those outside of any count as one list.
const LIST: &str = "ol, ul, .photographs";

/// A photograph to look at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Looked {
    /// The full picture.
    pub full: Blob,
    /// The small one.
    pub thumb: Blob,
    /// The job it was taken on.
    pub job: SubjectId,
    /// What it shows.
    pub caption: String,
}

/// A small photograph on the page that can be looked at in full.
struct LookedPlace {
    /// Tells it from the others.
    number: u32,
    button: NodeRef<Button>,
    looked: Looked,
}

/// The photograph shown in full, if any, and the list in which it stands. Provided as a context; cheap to copy.
#[derive(Clone, Copy)]
pub struct Viewer {
    looked: RwSignal<Option<Looked>>,
    list: RwSignal<Vec<Looked>>,
    /// The photographs on the page, in the order in which they were drawn.
    places: StoredValue<Vec<LookedPlace>>,
    used: RwSignal<bool>,
}

impl Viewer {
    /// With no photograph shown.
    #[must_use]
    pub fn new() -> Self {
        Self {
            looked: RwSignal::new(None),
            list: RwSignal::new(Vec::new()),
            places: StoredValue::new(Vec::new()),
            used: RwSignal::new(false),
        }
    }

    /// Shows a photograph in full, by itself.
    pub fn show(self, looked: Looked) {
        self.list.set(vec![looked.clone()]);
        self.looked.set(Some(looked));
        self.used.set(true);
    }

    /// Shows a photograph in full, with the others of the list in which its button stands as its neighbors.
    pub fn show_among(self, looked: Looked, button: NodeRef<Button>) {
        let list = self.beside(button);
        self.show(looked);
        if !list.is_empty() {
            self.list.set(list);
        }
    }

    /// Notes that a button shows this photograph, until the current reactive owner is disposed of.
    pub fn place(self, looked: Looked, button: NodeRef<Button>) {
        let number = self.places.try_update_value(|all| {
            let number = all.last().map_or(0, |last| last.number + 1);
            all.push(LookedPlace {
                number,
                button,
                looked,
            });
            number
        });
        on_cleanup(move || {
            // All of the page may be gone.
            self.places
                .try_update_value(|all| all.retain(|place| Some(place.number) != number));
        });
    }

    /// The photographs of the list in which this button stands, in the order of the page.
    fn beside(self, button: NodeRef<Button>) -> Vec<Looked> {
        let Some(this) = button.get_untracked() else {
            return Vec::new();
        };
        let list = list_of(&this);
        let mut all: Vec<(Element, Looked)> = self.places.with_value(|all| {
            let placed = all.iter().filter_map(|place| {
                let element = Element::from(place.button.get_untracked()?);
                Some((element, place.looked.clone()))
            });
            placed.filter(|(element, _)| list_of(element) == list).collect()
        });
        all.sort_by(|(one, _), (other, _)| in_page_order(one, other));
        // A photograph that stands in the list twice, as of two steps, is turned to once.
        let mut list: Vec<Looked> = Vec::new();
        for (_, looked) in all {
            if !list.contains(&looked) {
                list.push(looked);
            }
        }
        list
    }

    /// The photograph that is shown.
    #[must_use]
    pub fn looked(self) -> Option<Looked> {
        self.looked.get()
    }

    /// Whether a photograph was shown since the page was loaded.
    #[must_use]
    pub fn is_used(self) -> bool {
        self.used.get()
    }

    /// The place of the photograph in its list, counted from 0, and the length of the list; `None` if none is shown.
    #[must_use]
    pub fn position(self) -> Option<(usize, usize)> {
        self.looked.with(|looked| {
            let looked = looked.as_ref()?;
            self.list.with(|list| {
                let at = list.iter().position(|one| one == looked)?;
                Some((at, list.len()))
            })
        })
    }

    /// The photograph beside the one shown; `None` past the ends of the list.
    #[must_use]
    pub fn neighbor(self, onward: Onward) -> Option<Looked> {
        let (at, length) = self.position()?;
        let to = onward.beside(at, length)?;
        self.list.with(|list| list.get(to).cloned())
    }

    /// Turns to the photograph beside the one shown, if there is one.
    pub fn turn(self, onward: Onward) {
        if let Some(next) = untrack(|| self.neighbor(onward)) {
            self.looked.set(Some(next));
        }
    }

    /// Shows none any more.
    pub fn close(self) {
        self.looked.set(None);
    }
}

impl Default for Viewer {
    fn default() -> Self {
        Self::new()
    }
}

/// The element that holds the list in which an element stands.
fn list_of(element: &Element) -> Option<Element> {
    element.closest(LIST).ok().flatten()
}

/// Which of two elements comes first on the page.
fn in_page_order(one: &Element, other: &Element) -> Ordering {
    let position = one.compare_document_position(other);
    if position & Node::DOCUMENT_POSITION_FOLLOWING != 0 {
        Ordering::Less
    } else if position & Node::DOCUMENT_POSITION_PRECEDING != 0 {
        Ordering::Greater
    } else {
        Ordering::Equal
    }
}
