//! What a pair is made of, as it is chosen on a screen.

use serde::{Deserialize, Serialize};
use serde_json::Value;
use shared::log::body::{Body, Detail, field};
use shared::log::fold::PairState;
use shared::log::{Draft, EntryId, Subject};
use shared::trade::Material;

/// The materials of a pair by their words in the log; empty where nobody said.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct MadeOf {
    /// Of upper and sole.
    pub materials: Vec<String>,
    /// Of the lining.
    pub lining: Vec<String>,
}

/// The entries that say what a pair is made of: new ones replace them.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct MadeOfEntries {
    materials: Vec<EntryId>,
    lining: Vec<EntryId>,
}

impl MadeOfEntries {
    /// Those of a pair.
    pub fn of(pair: &PairState) -> Self {
        Self {
            materials: pair.details.over(field::MATERIALS),
            lining: pair.details.over(field::LINING),
        }
    }
}

impl MadeOf {
    /// What is known of a pair.
    pub fn of(pair: &PairState) -> Self {
        let said = |name| pair.details.words(name).map(str::to_owned).collect();
        Self {
            materials: said(field::MATERIALS),
            lining: said(field::LINING),
        }
    }

    /// What is known, in words: `Suede or nubuck, Rubber sole, Textile lining`; empty if nothing is.
    pub fn words(&self) -> String {
        let name = |code: &String| Material::from(code.as_str()).words().to_owned();
        let lining = self
            .lining
            .iter()
            .map(|code| words::parts::lining_of(&name(code)));
        let all = self.materials.iter().map(name).chain(lining);
        all.collect::<Vec<_>>().join(", ")
    }

    /// Adds a material of upper or sole, or takes it away.
    pub fn toggle(&mut self, material: &str) {
        toggle(&mut self.materials, material);
    }

    /// Adds a material of the lining, or takes it away.
    pub fn toggle_lining(&mut self, material: &str) {
        toggle(&mut self.lining, material);
    }

    /// The drafts that correct a stored pair to this; none if it says so already.
    pub fn corrected(&self, pair: &Subject, state: &PairState) -> Vec<Draft> {
        self.drafts(pair, &Self::of(state), &MadeOfEntries::of(state))
    }

    /// The drafts that say this of a pair of which `before` is known, from these entries.
    pub(super) fn drafts(&self, pair: &Subject, before: &Self, entries: &MadeOfEntries) -> Vec<Draft> {
        let fields = [
            (
                field::MATERIALS,
                &self.materials,
                &before.materials,
                &entries.materials,
            ),
            (field::LINING, &self.lining, &before.lining, &entries.lining),
        ];
        let changed = fields.into_iter().filter(|(_, now, before, _)| now != before);
        let draft = |(name, now, _, over): (&str, &Vec<String>, _, &Vec<EntryId>)| {
            let detail = Detail {
                field: name.to_owned(),
                value: Value::from(now.clone()),
            };
            Draft::new(pair.clone(), Body::Detail(detail)).over(over.clone())
        };
        changed.map(draft).collect()
    }
}

fn toggle(materials: &mut Vec<String>, material: &str) {
    let before = materials.len();
    materials.retain(|known| known != material);
    if materials.len() == before {
        materials.push(material.to_owned());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::scene;
    use serde_json::json;
    use shared::log::SubjectKind;

    #[test]
    fn a_material_is_chosen_with_one_tap_and_taken_back_with_another() {
        let mut made_of = MadeOf::default();
        made_of.toggle("suede");
        made_of.toggle("crepe_sole");
        made_of.toggle_lining("textile");
        made_of.toggle("suede");
        assert_eq!(made_of.materials, ["crepe_sole"]);
        assert_eq!(made_of.lining, ["textile"]);
        assert_eq!(made_of.words(), "Crepe sole, Textile lining");
        assert_eq!(MadeOf::default().words(), "");
    }

    #[test]
    fn only_what_changes_is_written() {
        let state = scene::pair(&[(field::LINING, json!(["textile"]))]);
        let pair = Subject::new(SubjectKind::Pair, scene::subject(scene::PAIR));
        let mut made_of = MadeOf::of(&state);
        assert!(made_of.corrected(&pair, &state).is_empty());
        made_of.toggle("suede");
        let drafts = made_of.corrected(&pair, &state);
        let said: Vec<_> = drafts
            .iter()
            .map(|draft| (&draft.body, draft.over.len()))
            .collect();
        let suede = Body::Detail(Detail {
            field: field::MATERIALS.to_owned(),
            value: json!(["suede"]),
        });
        assert_eq!(said, [(&suede, 0)]);
        made_of.toggle_lining("textile");
        let lining = made_of.corrected(&pair, &state).pop().map(|draft| draft.over);
        assert_eq!(
            lining,
            Some(state.details.over(field::LINING)),
            "it replaces what was known"
        );
    }
}
