//! The form of a drop-off: stored unfinished while it is typed, with a running total, and finally taken in.

use serde::{Deserialize, Serialize};
use shared::log::SubjectId;
use shared::log::body::OperationCode;
use shared::log::body::Side;
use shared::log::fold::{PairHistory, summary};
use shared::price::bill;
use shared::price::currency::Currency;
use shared::price::minor::Minor;
use shared::price::tax::Due;
use shared::trade::{Component, Condition, Construction};

use super::goods::GoodsIn;
use super::made_of::{MadeOf, MadeOfEntries};

/// All inputs at the counter for one ticket. An empty text means "not stated" and writes nothing; amounts are kept as
/// they were typed.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct DropOff {
    /// The customer, if a known one was chosen.
    pub known_customer: Option<SubjectId>,
    /// The customer's name.
    pub name: String,
    /// The customer's telephone number.
    pub phone: String,
    /// The pairs that are brought.
    pub pairs: Vec<PairIn>,
    /// The promised day, `YYYY-MM-DD`.
    pub day: String,
    /// The time on that day from which it is promised to be ready, `HH:MM`; empty if it is promised for the end of the
    /// day.
    pub ready_from: String,
    /// Whether the customer wants it sooner than the shop would promise.
    pub rush: bool,
    /// Whether the customer waits in the shop.
    pub while_waiting: bool,
    /// What may be done about hidden damage without a call.
    pub if_hidden: Option<IfHidden>,
    /// For [`IfHidden::UpTo`], the most it may cost.
    pub up_to: String,
    /// What is paid at drop-off.
    pub paying: Paying,
    /// For [`Paying::Deposit`], the amount.
    pub deposit: String,
    /// Goods sold over the counter.
    pub goods: Vec<GoodsIn>,
}

/// One pair, or a single, or another item.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct PairIn {
    /// The pair, if it was in the shop before.
    pub known: Option<KnownPair>,
    /// Its kind of goods, by its word in [`Goods`](shared::trade::Goods).
    pub goods: String,
    /// What it is, for example derby, walking boot or belt.
    pub look: String,
    /// Its colour.
    pub colour: String,
    /// Its maker.
    pub maker: String,
    /// What it is made of.
    pub made_of: MadeOf,
    /// The lines of work.
    pub lines: Vec<LineIn>,
    /// Its construction, if it can be seen or is known from an earlier job.
    pub construction: Option<Construction>,
    /// What came with it.
    pub came_with: Vec<String>,
    /// What else came with it, as typed.
    pub came_with_else: String,
    /// Damage it already has, accepted as it is.
    pub damage: Vec<SeenDamage>,
    /// What the customer wishes, in words.
    pub wish: String,
    /// The shop's own tag number; empty for the app's next number.
    pub tag: String,
}

/// A pair that was in the shop before, as the search found it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KnownPair {
    /// The pair.
    pub id: SubjectId,
    /// What it is, in words.
    pub title: String,
    /// Its kind of goods as recorded; empty if not stated.
    pub goods: String,
    /// What it is made of as recorded.
    #[serde(default)]
    pub made_of: MadeOf,
    /// The entries that say so.
    #[serde(default)]
    pub made_of_entries: MadeOfEntries,
    /// Its construction as the shop last knew it; `None` if it never did.
    #[serde(default)]
    pub construction: Option<Construction>,
}

impl KnownPair {
    /// A pair with everything that was recorded of it.
    pub fn of(history: &PairHistory) -> Self {
        Self {
            id: history.id,
            title: summary::named(&summary::title(&history.pair)).to_owned(),
            goods: history.pair.goods_code().unwrap_or_default().to_owned(),
            made_of: MadeOf::of(&history.pair),
            made_of_entries: MadeOfEntries::of(&history.pair),
            construction: history.construction(),
        }
    }
}

/// One line of work.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LineIn {
    /// The operation, a word of [`shared::trade`] or the shop's own.
    pub operation: OperationCode,
    /// Which shoe.
    pub side: Side,
    /// Which variant of the operation; empty for none in particular.
    #[serde(default)]
    pub variant: String,
    /// How many pieces.
    #[serde(default = "one")]
    pub count: u32,
    /// The word of the [`Package`](shared::trade::Package) that it is sold in; empty if it is sold by itself.
    #[serde(default)]
    pub package: String,
    /// The height of a raise in whole millimeters, as prescribed; 0 where it was not stated.
    #[serde(default)]
    pub height_mm: u32,
    /// Its price, as typed.
    pub price: String,
    /// Whether a person typed that price: a change of the line or of the goods then leaves it as it is.
    pub by_hand: bool,
}

fn one() -> u32 {
    1
}

/// Damage seen at the counter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SeenDamage {
    /// The part.
    pub part: Component,
    /// The kind of damage.
    pub condition: Condition,
    /// Which shoe.
    #[serde(default = "both")]
    pub side: Side,
}

fn both() -> Side {
    Side::Both
}

/// What may be done about hidden damage without a call.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum IfHidden {
    /// Nothing that costs extra.
    Nothing,
    /// Work up to an amount.
    UpTo,
    /// The customer must be asked first.
    Ask,
}

/// What is paid at drop-off.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Paying {
    /// Nothing yet.
    #[default]
    Later,
    /// A part.
    Deposit,
    /// All of it.
    All,
}

impl DropOff {
    /// A form with one pair and no other input.
    pub fn blank() -> Self {
        Self {
            pairs: vec![PairIn::default()],
            ..Self::default()
        }
    }

    /// Whether nothing has been entered.
    pub fn is_blank(&self) -> bool {
        *self == Self::blank()
    }

    /// Whether goods are sold and nothing is brought: no work and no day is needed then.
    pub fn is_sale(&self) -> bool {
        !self.goods.is_empty() && self.pairs.iter().all(|pair| *pair == PairIn::default())
    }

    /// The pairs to take in.
    pub fn brought(&self) -> &[PairIn] {
        if self.is_sale() { &[] } else { &self.pairs }
    }

    /// The sum of the prices that can be read, in minor units.
    pub fn sum(&self, currency: Currency) -> Minor {
        self.prices(currency).sum()
    }

    /// The prices of pairs and goods, as far as they can be read.
    fn prices(&self, currency: Currency) -> impl Iterator<Item = Minor> {
        let goods = self.goods.iter().filter_map(move |one| one.minor(currency));
        self.pairs.iter().map(move |pair| pair.sum(currency)).chain(goods)
    }

    /// How many typed prices cannot be read, and so are missing in the sum.
    pub fn unread(&self, currency: Currency) -> usize {
        let lines = self.pairs.iter().flat_map(|pair| &pair.lines);
        let goods = self.goods.iter().filter(|one| one.is_unread(currency));
        lines.filter(|line| line.is_unread(currency)).count() + goods.count()
    }

    /// The total of the ticket at a rate of tax.
    pub fn due(&self, rate: Option<i64>, currency: Currency) -> Due {
        bill::due(self.prices(currency), rate)
    }

    /// A title that distinguishes unfinished forms: "2 pairs, Ottoline Brack"; of a sale, its goods.
    pub fn title(&self) -> String {
        if self.is_sale() {
            let goods = self.goods.iter().map(|one| one.what.as_str());
            return goods.collect::<Vec<_>>().join(", ");
        }
        let pairs = self.pairs.len();
        let looks = self.pairs.iter().map(PairIn::title).find(|look| !look.is_empty());
        let said = [
            self.name.trim(),
            self.phone.trim(),
            looks.as_deref().unwrap_or(""),
        ];
        match said.into_iter().find(|word| !word.is_empty()) {
            Some(said) => words::commands::unfinished_of(pairs, said),
            None => words::commands::unfinished(pairs),
        }
    }
}

impl LineIn {
    /// Whether its price is typed but cannot be read.
    pub fn is_unread(&self, currency: Currency) -> bool {
        !self.price.trim().is_empty() && currency.parse(&self.price).is_none()
    }
}

impl PairIn {
    /// The pair with which the form begins when it is brought again: as it was recorded, and made as it last left.
    pub fn again(known: KnownPair) -> Self {
        Self {
            goods: known.goods.clone(),
            made_of: known.made_of.clone(),
            construction: known.construction.clone(),
            known: Some(known),
            ..Self::default()
        }
    }

    /// The sum of its prices that can be read, in minor units.
    pub fn sum(&self, currency: Currency) -> Minor {
        let prices = self.lines.iter().filter_map(|line| currency.parse(&line.price));
        prices.sum()
    }

    /// What it is, in words; empty if nothing was stated.
    pub fn title(&self) -> String {
        if let Some(known) = &self.known {
            return known.title.clone();
        }
        let words = [&self.maker, &self.colour, &self.look].map(|word| word.trim());
        let said: Vec<_> = words.into_iter().filter(|word| !word.is_empty()).collect();
        said.join(" ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::scene::{self, history, job, subject};
    use serde_json::{Value, json};
    use shared::log::body::field;
    use shared::log::fold::{JobState, TicketState};

    /// A job of which these plain fields are known.
    fn made(fields: &[(&str, Value)]) -> JobState {
        JobState {
            details: scene::details(fields),
            ..job(&[])
        }
    }

    #[test]
    fn a_pair_that_is_brought_again_is_made_as_the_last_job_left_it() {
        let guessed = (field::CONSTRUCTION_GUESSED, json!("cemented"));
        let opened = (field::CONSTRUCTION_OPENED, json!("blake"));
        let left = (field::CONSTRUCTION_LEFT, json!("blake_rapid"));
        let mut life = history(scene::pair(&[]), made(&[]), TicketState::default());
        let begun = |life: &PairHistory| PairIn::again(KnownPair::of(life));
        assert_eq!(begun(&life).construction, None, "not known yet");
        for (last, wanted) in [
            (vec![guessed.clone()], "cemented"),
            (vec![guessed.clone(), opened.clone()], "blake"),
            (vec![guessed.clone(), opened, left], "blake_rapid"),
            // Nothing is known of the last job: as an earlier one left it.
            (Vec::new(), "blake_rapid"),
        ] {
            let number = scene::JOB + life.jobs.len() as u128;
            life.jobs.insert(subject(number), made(&last));
            let pair = begun(&life);
            assert_eq!(pair.construction, Some(Construction::from(wanted)));
            assert_eq!(pair.known.map(|known| known.id), Some(life.id));
        }
        // A later job's word counts, although an earlier one says how it left.
        life.jobs.insert(subject(scene::JOB + 9), made(&[guessed]));
        assert_eq!(begun(&life).construction, Some(Construction::Cemented));
    }

    #[test]
    fn a_form_of_an_older_app_says_nothing_of_a_known_construction() {
        let older = r#"{"id": "00000000-0000-0000-0000-000000000063", "title": "derby", "goods": ""}"#;
        let older: KnownPair = serde_json::from_str(older).expect("it is read");
        assert_eq!(older.construction, None);
    }
}
