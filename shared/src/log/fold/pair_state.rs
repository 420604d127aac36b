//! The state of a pair.

use std::collections::BTreeSet;

use super::details::Details;
use super::item::{Item, Slot};
use super::standing::{list, slot, withdrawn};
use crate::log::body::{CardLink, Note, Opened, field};
use crate::log::entry::{EntryId, SubjectId};
use crate::log::received::ReceivedEntry;
use crate::log::supersession::Supersession;
use crate::trade::{Goods, Material};

/// Everything a pair's standing entries say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PairState {
    /// Its plain fields.
    pub details: Details,
    /// The customer it belongs to.
    pub opened: Option<Slot<Opened>>,
    /// Remarks.
    pub notes: Vec<Item<Note>>,
    /// The secrets of its card links.
    pub links: Vec<Item<CardLink>>,
    /// Standing withdrawals of the whole card.
    pub withdrawn: BTreeSet<EntryId>,
}

impl PairState {
    /// Folds the entries of one pair, or of several that are the same. Any order; no two of one id.
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> Self {
        Self::of_standing(&Supersession::of(entries))
    }

    /// Folds the standing entries. Apart from `of`, which is compiled anew for every type of iterator it is given.
    fn of_standing(standing: &Supersession<'_>) -> Self {
        Self {
            details: Details::of(standing),
            opened: slot(standing),
            notes: list(standing),
            links: list(standing),
            withdrawn: withdrawn(standing),
        }
    }

    /// The customer it belongs to, if the pair's own entries name one.
    pub fn customer(&self) -> Option<SubjectId> {
        self.opened.as_ref()?.current.body.customer
    }

    /// The maker's name on the sock or sole.
    pub fn maker(&self) -> Option<&str> {
        self.details.text(field::MAKER)
    }

    /// Its colour in the repairer's words.
    pub fn colour(&self) -> Option<&str> {
        self.details.text(field::COLOUR)
    }

    /// What it is, for example derby, walking boot or belt.
    pub fn look(&self) -> Option<&str> {
        self.details.text(field::LOOK)
    }

    /// The code of its kind of goods, as it is stored; `None` where nobody said.
    pub fn goods_code(&self) -> Option<&str> {
        self.details.text(field::GOODS)
    }

    /// Which kind of shoe or other goods; `None` where it was not stated.
    pub fn goods(&self) -> Option<Goods> {
        self.goods_code().map(Goods::from)
    }

    /// What its upper and its sole are made of.
    pub fn materials(&self) -> impl Iterator<Item = Material> {
        self.details.words(field::MATERIALS).map(Material::from)
    }

    /// What its lining is made of.
    pub fn lining(&self) -> impl Iterator<Item = Material> {
        self.details.words(field::LINING).map(Material::from)
    }

    /// Whether somebody said what its upper or its sole is made of.
    pub fn knows_materials(&self) -> bool {
        self.materials().next().is_some()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Map, json};

    fn pair(fields: &[(&str, serde_json::Value)]) -> PairState {
        let values = fields
            .iter()
            .map(|(name, value)| ((*name).to_owned(), value.clone()));
        PairState {
            details: Details::of_values(&values.collect::<Map<_, _>>()),
            ..PairState::default()
        }
    }

    #[test]
    fn the_lining_alone_does_not_tell_what_a_pair_is_made_of() {
        let lined = pair(&[(field::LINING, json!(["textile"]))]);
        assert!(!lined.knows_materials());
        assert_eq!(lined.lining().collect::<Vec<_>>(), [Material::Textile]);
        let said = pair(&[(field::MATERIALS, json!(["suede", "rubber_sole"]))]);
        assert!(said.knows_materials());
        assert_eq!(
            said.materials().collect::<Vec<_>>(),
            [Material::Suede, Material::RubberSole]
        );
        let taken_back = pair(&[(field::MATERIALS, json!([]))]);
        assert!(!taken_back.knows_materials());
    }
}
