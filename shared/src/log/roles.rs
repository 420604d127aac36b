//! What a device may write, by its role. The server enforces it with every push; the app offers nothing else.

use super::body::Role;
use super::entry::SubjectKind;

/// The kinds of subject that helpers work with. The shop itself (settings, price list, people and their roles) is the
/// repairers', and so is every kind of subject of a newer app.
const SUBJECTS_OF_HELPERS: [SubjectKind; 4] = [
    SubjectKind::Customer,
    SubjectKind::Pair,
    SubjectKind::Ticket,
    SubjectKind::Job,
];

/// The kinds of entry that a helper's device may write about them: whole drop-offs with their prices, the work, pickup and
/// the care card. Erasures, requests for one, people, and every kind of a newer app are the repairers'.
///
/// `retracted` and `same_as` are in the list because they also have to pass for what they name, as `over` does.
const KINDS_OF_HELPERS: [&str; 28] = [
    "opened",
    "detail",
    "agreed",
    "skipped",
    "order",
    "photo",
    "step",
    "redo",
    "spent",
    "wait",
    "wait_over",
    "damage",
    "taken_out",
    "put_back",
    "question",
    "answer",
    "measured",
    "note",
    "payment",
    "sold",
    "complaint",
    "checked",
    "handed_over",
    "card_link",
    "published",
    "withdrawn",
    "retracted",
    "same_as",
];

/// The kinds of entry that a helper's device may write about a material: what is done at the bench. Its plain fields
/// (name, cost, the least that should be there), opening and joining it are the repairers'.
const KINDS_OF_HELPERS_ON_MATERIALS: [&str; 4] = ["counted", "ordered", "arrived", "retracted"];

/// Whether a device of this role may write an entry of this kind about a subject of this kind. A role that this version
/// does not know may write nothing.
pub fn may_write(role: &Role, subject: &SubjectKind, kind: &str) -> bool {
    match role {
        Role::Repairer => true,
        Role::Helper if *subject == SubjectKind::Material => KINDS_OF_HELPERS_ON_MATERIALS.contains(&kind),
        Role::Helper => SUBJECTS_OF_HELPERS.contains(subject) && KINDS_OF_HELPERS.contains(&kind),
        Role::Other(_) => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::Body;

    #[test]
    fn a_helper_writes_everything_but_the_shop_people_and_erasures() {
        let refused = ["person", "erased", "erasure_asked", "mention_erased"];
        let of_materials = ["counted", "ordered", "arrived"];
        for kind in Body::KINDS {
            for subject in SubjectKind::KNOWN {
                let expected = match subject {
                    SubjectKind::Shop => false,
                    SubjectKind::Material => of_materials.contains(kind) || *kind == "retracted",
                    _ => !refused.contains(kind) && !of_materials.contains(kind),
                };
                assert_eq!(
                    may_write(&Role::Helper, subject, kind),
                    expected,
                    "{kind} about a {subject}"
                );
                assert!(
                    may_write(&Role::Repairer, subject, kind),
                    "{kind} about a {subject}"
                );
                assert!(
                    !may_write(&Role::from("owner"), subject, kind),
                    "{kind} about a {subject}"
                );
            }
        }
    }

    #[test]
    fn what_a_newer_app_invents_is_a_repairers() {
        assert!(!may_write(&Role::Helper, &SubjectKind::Job, "hologram"));
        assert!(!may_write(
            &Role::Helper,
            &SubjectKind::from("supplier"),
            "detail"
        ));
        assert!(may_write(
            &Role::Repairer,
            &SubjectKind::from("supplier"),
            "hologram"
        ));
    }
}
