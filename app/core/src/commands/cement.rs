//! The shop's own cements and ways to cement, from what was typed; and the cement of a step, named afterwards.

use serde_json::Value;
use shared::log::body::{Spent, Step};
use shared::log::fold::{Item, JobState, bench};
use shared::log::{Draft, SubjectId};
use shared::trade::Material;
use shared::trade::cement_guide::{
    CementKind, MOST_COATS, MOST_MINUTES, OwnCement, OwnCements, OwnWay, cement_field, cement_way_field,
};

use super::work::{spent, spent_before};

/// Names the cement of a step that was noted without it or with another one: a word of the guide or the name of a product;
/// an empty text names none. The step, its time and all that was said of it stay. `None` if nothing would change.
pub fn name_cement(job: SubjectId, state: &JobState, step: &Item<Step>, cement: &str) -> Option<Draft> {
    let cement = cement.trim();
    if bench::cement_of(state, step).unwrap_or_default() == cement {
        return None;
    }
    // Said once more, because this entry takes the place of what was said of the step before.
    let said = bench::spent_on(state, step.entry);
    let named = Spent {
        step: step.entry,
        minutes: bench::noted_minutes(state, step),
        used: said.map_or(&step.body.used, |said| &said.used).clone(),
        cement: Some(cement.to_owned()),
    };
    Some(spent(job, named).over(spent_before(state, step.entry)))
}

/// The product of a kind of cement, as typed; empty texts for the usual.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TypedCement {
    /// What the shop calls it.
    pub product: String,
    /// Minutes that a coat dries.
    pub wait: String,
    /// Minutes after that in which it can be joined.
    pub open: String,
    /// Coats on each side.
    pub coats: String,
}

impl TypedCement {
    /// What is stored, as it would be typed.
    pub fn of(own: Option<&OwnCement>) -> Self {
        let Some(own) = own else {
            return Self::default();
        };
        let number = |number: Option<u32>| number.map_or_else(String::new, |number| number.to_string());
        Self {
            product: own.product.clone().unwrap_or_default(),
            wait: number(own.wait_min),
            open: number(own.open_min),
            coats: number(own.coats),
        }
    }

    fn read(&self, kind: CementKind) -> Result<OwnCement, String> {
        let minutes = |typed: &str, label: fn(&str) -> String| {
            let not_one = |typed: &str| words::cement::not_minutes(&label(kind.words()), typed, MOST_MINUTES);
            whole(typed, 0, MOST_MINUTES).map_err(not_one)
        };
        let not_coats = |typed: &str| {
            let label = words::cement::product_coats(kind.words());
            words::cement::not_coats(&label, typed, MOST_COATS)
        };
        Ok(OwnCement {
            product: said(&self.product),
            wait_min: minutes(&self.wait, words::cement::product_wait)?,
            open_min: minutes(&self.open, words::cement::product_open)?,
            coats: whole(&self.coats, 1, MOST_COATS).map_err(not_coats)?,
        })
    }
}

/// The fields of the shop that say what was typed for each kind of cement. Kinds for which nothing changes are left
/// out.
///
/// # Errors
/// What cannot be read, in words.
pub fn cement_fields(
    typed: &[(CementKind, TypedCement)],
    own: &OwnCements,
) -> Result<Vec<(String, Value)>, String> {
    let mut fields = Vec::new();
    for (kind, typed) in typed {
        let read = typed.read(*kind)?;
        if own.product(*kind).cloned().unwrap_or_default() != read {
            fields.push((cement_field(*kind), read.value()));
        }
    }
    Ok(fields)
}

/// The shop's own way to cement one material on another, as typed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TypedWay {
    /// The cement; `None` for the guide's.
    pub kind: Option<CementKind>,
    /// The primer; empty for the guide's.
    pub prime: String,
    /// What else there is to say.
    pub note: String,
}

/// The field of the shop that says how it cements one material on another; its value is `null` if nothing was typed,
/// which gives the pair back to the guide.
pub fn cement_way_value(sole: &Material, upper: &Material, typed: &TypedWay) -> (String, Value) {
    let way = OwnWay {
        kind: typed.kind,
        prime: said(&typed.prime),
        note: said(&typed.note),
    };
    (cement_way_field(sole, upper), way.value())
}

/// A text; `None` if it is blank.
fn said(typed: &str) -> Option<String> {
    let text = typed.trim();
    (!text.is_empty()).then(|| text.to_owned())
}

/// A whole number within a range; `None` for a blank text. The error is what was typed.
fn whole(typed: &str, least: u32, most: u32) -> Result<Option<u32>, &str> {
    let text = typed.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let number = text.parse().ok().filter(|number| (least..=most).contains(number));
    number.map(Some).ok_or(text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::scene::{self, shop};
    use serde_json::json;
    use shared::log::Body;
    use shared::log::body::{Agreed, Side, Used};
    use shared::log::fold::Summary;
    use shared::price::minor::Minor;
    use shared::price::records::JobFacts;

    fn typed(product: &str, wait: &str, open: &str, coats: &str) -> TypedCement {
        TypedCement {
            product: product.to_owned(),
            wait: wait.to_owned(),
            open: open.to_owned(),
            coats: coats.to_owned(),
        }
    }

    /// A job of which the left half sole is done in 25 minutes with material of the list, and nobody named the cement.
    fn half_done() -> JobState {
        let mut state = scene::job(&[Agreed::at("half_sole", Minor(4_000))]);
        let mut step = scene::step(1, "half_sole", 5);
        step.body.side = Side::Left;
        step.body.minutes = Some(25);
        step.body.used = vec![Used {
            material: "Rubber sheet".to_owned(),
            thousandths: 160,
            material_id: None,
        }];
        state.steps = vec![step];
        state
    }

    /// The state after a save of this draft as entry `n`.
    fn after(mut state: JobState, n: u128, draft: Draft) -> JobState {
        let Body::Spent(spent) = draft.body else {
            panic!("not about a step")
        };
        state.spent.retain(|said| !draft.over.contains(&said.entry));
        state.spent.push(scene::said(n, 10, spent));
        state
    }

    #[test]
    fn a_cement_is_named_later_and_nothing_else_of_the_step_changes() {
        let job = scene::subject(scene::JOB);
        let history = |state: &JobState| scene::history(scene::pair(&[]), state.clone(), scene::ticket(&[]));
        let fact = |state: &JobState| JobFacts::of(job, state, None, &scene::pair(&[])).steps[0].clone();
        let before = half_done();
        let name = |state: &JobState, cement: &str| name_cement(job, state, &state.steps[0], cement);
        assert_eq!(name(&before, " "), None, "none was named before");

        let draft = name(&before, "polyurethane").unwrap();
        let named = after(before.clone(), 2, draft);
        assert_eq!(fact(&named).cement.as_deref(), Some("polyurethane"));
        let as_before = |state: &JobState| {
            let mut now = fact(state);
            now.cement = None;
            now == fact(&before)
        };
        assert!(as_before(&named), "{:?}", fact(&named));
        assert_eq!(name(&named, "polyurethane"), None);
        // The right shoe is still to do, with the cement of the left one.
        let line = &Summary::of(&history(&named)).jobs[0];
        assert_eq!(
            line.cements.get("half_sole").map(String::as_str),
            Some("polyurethane")
        );

        let draft = name(&named, "").unwrap();
        assert_eq!(draft.over, [scene::entry(2)]);
        let none = after(named, 3, draft);
        assert_eq!(fact(&none).cement, None);
        assert!(as_before(&none));
        assert!(Summary::of(&history(&none)).jobs[0].cements.is_empty());
    }

    #[test]
    fn a_step_that_named_its_cement_wrongly_can_be_given_the_right_one() {
        let job = scene::subject(scene::JOB);
        let mut state = half_done();
        state.steps[0].body.cement = Some("neoprene".to_owned());
        let draft = name_cement(job, &state, &state.steps[0], "Grey tin").unwrap();
        let state = after(state, 2, draft);
        assert_eq!(bench::cement_of(&state, &state.steps[0]), Some("Grey tin"));
        assert_eq!(bench::noted_minutes(&state, &state.steps[0]), Some(25));
    }

    #[test]
    fn what_is_typed_is_stored_and_shown_again() {
        let one = typed(" Grey tin ", "12", "", "2");
        let none = OwnCements::default();
        let fields = cement_fields(&[(CementKind::Neoprene, one)], &none).unwrap();
        let value = json!({"product": "Grey tin", "wait_min": 12, "coats": 2});
        assert_eq!(fields, [("cement/neoprene".to_owned(), value.clone())]);

        let own = OwnCements::of(&shop(&[("cement/neoprene", value)]));
        let shown = TypedCement::of(own.product(CementKind::Neoprene));
        assert_eq!(shown, typed("Grey tin", "12", "", "2"));
        let again = cement_fields(&[(CementKind::Neoprene, shown)], &own).unwrap();
        assert_eq!(again, [], "nothing changes");
        let emptied = [(CementKind::Neoprene, TypedCement::default())];
        assert_eq!(cement_fields(&emptied, &own).unwrap()[0].1, Value::Null);
        assert_eq!(cement_fields(&emptied, &none).unwrap(), [], "nothing to unset");
    }

    #[test]
    fn what_is_no_number_is_named_with_its_field() {
        for (wrong, named) in [
            (typed("", "soon", "", ""), "dries for"),
            (typed("", "", "1441", ""), "open after that"),
            (typed("", "", "", "0"), "coats"),
        ] {
            let refused = cement_fields(&[(CementKind::WaterBased, wrong)], &OwnCements::default());
            let refused = refused.unwrap_err();
            assert!(refused.contains(named), "{refused}");
            assert!(refused.contains("Water-based contact cement"), "{refused}");
        }
    }

    #[test]
    fn a_way_is_stored_for_its_pair_and_given_back_when_it_is_empty() {
        let (sole, upper) = (Material::RubberSole, Material::Suede);
        let way = TypedWay {
            kind: Some(CementKind::Polyurethane),
            prime: String::new(),
            note: "Slowly".to_owned(),
        };
        let (name, value) = cement_way_value(&sole, &upper, &way);
        assert_eq!(name, "cement_way/rubber_sole/suede");
        assert_eq!(value, json!({"kind": "polyurethane", "note": "Slowly"}));
        let empty = cement_way_value(&sole, &upper, &TypedWay::default());
        assert_eq!(empty, (name, Value::Null));
    }
}
