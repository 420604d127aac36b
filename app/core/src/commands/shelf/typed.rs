//! Materials and amounts as they are typed.

use std::collections::BTreeMap;

use shared::log::SubjectId;
use shared::log::body::OperationCode;
use shared::price::currency::Currency;
use shared::price::minor::Minor;
use shared::shelf::{KeptMaterial, OrderLine, amount_words, thousandths};

use super::MaterialForm;
use crate::calc::number;

/// The most units that can be typed.
const MOST_UNITS: f64 = 1_000_000.0;
/// One unit, in thousandths.
const ONE: i64 = 1_000;

/// A material as it is typed; an empty text for what is not said.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TypedMaterial {
    /// Its name.
    pub name: String,
    /// The unit it is counted in.
    pub unit: String,
    /// How much is there, of a new material.
    pub on_hand: String,
    /// The least that should be there.
    pub least: String,
    /// The cost of one unit, without tax.
    pub cost: String,
    /// What kind of material it is.
    pub kind: String,
    /// Its size.
    pub size: String,
    /// Its thickness, mm.
    pub thickness: String,
    /// Its colour.
    pub colour: String,
    /// Who supplies it.
    pub supplier: String,
    /// How much a pair takes in an operation.
    pub takes: Vec<(OperationCode, String)>,
}

impl TypedMaterial {
    /// A new material, of which nothing is said but the usual unit.
    pub fn new() -> Self {
        Self {
            unit: words::shop::materials::usual_unit().to_owned(),
            ..Self::default()
        }
    }

    /// What is known of a material, as it would be typed.
    pub fn of(material: &KeptMaterial, money: Currency) -> Self {
        let known = MaterialForm::of(material);
        let takes = known.takes.into_iter();
        Self {
            name: known.name,
            unit: known.unit,
            on_hand: String::new(),
            least: known.least.map(amount_words).unwrap_or_default(),
            cost: known.cost.map(|cost| money.typed(cost)).unwrap_or_default(),
            kind: known.kind,
            size: known.size,
            thickness: known.thickness_mm.map(|mm| mm.to_string()).unwrap_or_default(),
            colour: known.colour,
            supplier: known.supplier,
            takes: takes
                .map(|(operation, amount)| (operation, amount_words(amount)))
                .collect(),
        }
    }

    /// How much a pair is said to take in an operation; `None` if nothing is said.
    pub fn takes(&self, operation: &str) -> Option<&str> {
        let said = self.takes.iter().find(|(code, _)| *code == operation)?;
        Some(&said.1)
    }

    /// Says how much a pair takes in an operation.
    pub fn set_takes(&mut self, operation: &str, amount: String) {
        match self.takes.iter_mut().find(|(code, _)| *code == operation) {
            Some((_, said)) => *said = amount,
            None => self.takes.push((operation.into(), amount)),
        }
    }

    /// The form that was typed. An operation whose amount is empty no longer takes the material.
    ///
    /// # Errors
    /// What is missing or cannot be read, in words.
    pub fn read(&self, money: Currency) -> Result<MaterialForm, String> {
        if self.name.trim().is_empty() {
            return Err(words::shelf::name_is_wanted().to_owned());
        }
        let mut takes = Vec::new();
        for (operation, typed) in &self.takes {
            let amount = read_amount(words::shelf::a_pair_takes(), typed)?;
            takes.push((operation.clone(), amount.unwrap_or(0)));
        }
        Ok(MaterialForm {
            name: self.name.clone(),
            kind: self.kind.clone(),
            unit: self.unit.clone(),
            size: self.size.clone(),
            thickness_mm: self.thickness()?,
            colour: self.colour.clone(),
            supplier: self.supplier.clone(),
            cost: self.cost(money)?,
            least: read_amount(words::shelf::least(), &self.least)?,
            takes,
        })
    }

    fn thickness(&self) -> Result<Option<f64>, String> {
        let typed = self.thickness.trim();
        if typed.is_empty() {
            return Ok(None);
        }
        let read = number(typed).filter(|mm| *mm > 0.0 && *mm <= 1_000.0);
        read.map(Some)
            .ok_or_else(|| words::shelf::not_an_amount(words::shelf::thickness_in_mm(), typed))
    }

    fn cost(&self, money: Currency) -> Result<Option<Minor>, String> {
        let typed = self.cost.trim();
        if typed.is_empty() {
            return Ok(None);
        }
        let read = money.parse(typed);
        read.map(Some)
            .ok_or_else(|| words::shop::materials::cost_is_not_an_amount(typed))
    }
}

/// The amount that was typed, in thousandths of the unit; `None` if the text is blank.
///
/// # Errors
/// If it is not an amount, in words with the label of its field.
pub fn read_amount(label: &str, typed: &str) -> Result<Option<i64>, String> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Ok(None);
    }
    let read = number(typed).filter(|units| (0.0..=MOST_UNITS).contains(units));
    read.map(|units| Some(thousandths(units)))
        .ok_or_else(|| words::shelf::not_an_amount(label, typed))
}

/// The amount that was typed and so many units more, or less if it is negative, but not less than none. What cannot be
/// read counts as none.
pub fn stepped(typed: &str, units: i64) -> String {
    let now = read_amount("", typed).ok().flatten().unwrap_or(0);
    amount_words(now.saturating_add(units.saturating_mul(ONE)).max(0))
}

/// An order list with the amounts that were typed in place of its own; of what none is typed, none is ordered.
///
/// # Errors
/// The first amount that cannot be read, in words.
pub fn with_amounts(
    lines: &[OrderLine],
    typed: &BTreeMap<SubjectId, String>,
) -> Result<Vec<OrderLine>, String> {
    let mut all = Vec::new();
    for line in lines {
        let said = typed.get(&line.material);
        let amount = match said {
            Some(typed) => read_amount(&line.name, typed)?.unwrap_or(0),
            None => line.thousandths,
        };
        if amount > 0 {
            all.push(OrderLine {
                thousandths: amount,
                ..line.clone()
            });
        }
    }
    Ok(all)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use serde_json::json;
    use shared::log::fold::{Details, MaterialState};

    use super::*;
    use crate::commands::scene::subject;

    fn euro() -> Currency {
        Currency::of("EUR").unwrap()
    }

    fn typed() -> TypedMaterial {
        TypedMaterial {
            name: "Rubber sheet".to_owned(),
            unit: "sheet".to_owned(),
            least: "2,5".to_owned(),
            cost: "24.50".to_owned(),
            thickness: "6".to_owned(),
            takes: vec![("half_sole".into(), "0.125".to_owned())],
            ..TypedMaterial::default()
        }
    }

    #[test]
    fn what_is_typed_is_read_and_shown_again() {
        let form = typed().read(euro()).unwrap();
        assert_eq!(form.least, Some(2_500));
        assert_eq!((form.cost, form.thickness_mm), (Some(Minor(2_450)), Some(6.0)));
        assert_eq!(form.takes, [("half_sole".into(), 125)]);
        let fields = json!({
            "name": "Rubber sheet", "unit": "sheet", "least": 2_500, "cost_minor": 2_450, "thickness_mm": 6.0,
            "takes/half_sole": 125,
        });
        let material = KeptMaterial {
            id: subject(1),
            same: BTreeSet::from([subject(1)]),
            state: MaterialState {
                details: Details::of_values(fields.as_object().unwrap()),
                ..MaterialState::default()
            },
        };
        let shown = TypedMaterial::of(&material, euro());
        let wanted = TypedMaterial {
            least: "2.5".to_owned(),
            ..typed()
        };
        assert_eq!(shown, wanted);
    }

    #[test]
    fn what_cannot_be_read_is_said() {
        let wrong = |change: fn(&mut TypedMaterial)| {
            let mut one = typed();
            change(&mut one);
            one.read(euro()).unwrap_err()
        };
        assert_eq!(
            wrong(|one| one.name = " ".to_owned()),
            words::shelf::name_is_wanted()
        );
        assert!(wrong(|one| one.least = "some".to_owned()).contains("some"));
        assert!(wrong(|one| one.least = "-1".to_owned()).contains("-1"));
        assert!(wrong(|one| one.cost = "dear".to_owned()).contains("dear"));
        assert!(wrong(|one| one.thickness = "0 mm".to_owned()).contains("0 mm"));
        assert!(wrong(|one| one.takes[0].1 = "half".to_owned()).contains("half"));
    }

    #[test]
    fn an_operation_whose_amount_is_emptied_no_longer_takes_it() {
        let mut one = typed();
        one.set_takes("half_sole", String::new());
        one.set_takes("heel_block", "1".to_owned());
        assert_eq!(
            (one.takes("half_sole"), one.takes("heel_block")),
            (Some(""), Some("1"))
        );
        let form = one.read(euro()).unwrap();
        assert_eq!(
            form.takes,
            [("half_sole".into(), 0), ("heel_block".into(), 1_000)]
        );
    }

    #[test]
    fn a_tap_is_one_unit_and_there_is_never_less_than_nothing() {
        let taps = [("2", 1), ("0,5", -1), ("", 1), ("1.25", -1), ("much", 1)];
        let after = taps.map(|(text, by)| stepped(text, by));
        assert_eq!(after, ["3", "0", "1", "0.25", "1"]);
    }

    #[test]
    fn typed_amounts_replace_those_of_the_list() {
        let line = |n: u128, amount| OrderLine {
            material: subject(n),
            name: "Felt".to_owned(),
            kind: String::new(),
            size: String::new(),
            thickness: String::new(),
            colour: String::new(),
            supplier: String::new(),
            unit: "m".to_owned(),
            thousandths: amount,
            cost_minor: None,
        };
        let lines = [line(1, 1_000), line(2, 2_000), line(3, 3_000)];
        let typed = BTreeMap::from([(subject(2), "0".to_owned()), (subject(3), "3.5".to_owned())]);
        assert_eq!(
            with_amounts(&lines, &typed).unwrap(),
            [line(1, 1_000), line(3, 3_500)]
        );
        let typed = BTreeMap::from([(subject(1), "lots".to_owned())]);
        assert!(with_amounts(&lines, &typed).unwrap_err().contains("Felt"));
    }
}
