//! A drop-off as it is being typed: kept half-finished, reckoned as it grows, and at last taken in.

use serde::{Deserialize, Serialize};
use shared::log::SubjectId;
use shared::log::body::Side;
use shared::price::currency::Currency;
use shared::price::tax::{Due, due};
use shared::trade::{Component, Condition, Construction, operations};

/// Everything asked at the counter for one ticket. Empty text means "not said" and writes nothing; amounts stand as
/// they were typed.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct DropOff {
    /// Who brings it; a customer already known, if chosen.
    pub known_customer: Option<SubjectId>,
    /// Their name.
    pub name: String,
    /// Their telephone number.
    pub phone: String,
    /// What they bring.
    pub pairs: Vec<PairIn>,
    /// The day promised, `YYYY-MM-DD`.
    pub day: String,
    /// From when on that day, `HH:MM`; empty for by its end.
    pub ready_from: String,
    /// Wanted sooner than the shop would promise.
    pub rush: bool,
    /// The customer waits in the shop.
    pub while_waiting: bool,
    /// What may be done if something hidden turns up.
    pub if_hidden: Option<IfHidden>,
    /// The most it may cost then, for [`IfHidden::UpTo`].
    pub up_to: String,
    /// What is paid now.
    pub paying: Paying,
    /// How much is left, for [`Paying::Deposit`].
    pub deposit: String,
}

/// One pair, or a single, or another item.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct PairIn {
    /// The pair, if it has been here before.
    pub known: Option<KnownPair>,
    /// Its kind, a word of the price list.
    pub goods: String,
    /// What it is.
    pub look: String,
    /// Its colour.
    pub colour: String,
    /// Its maker.
    pub maker: String,
    /// The work.
    pub lines: Vec<LineIn>,
    /// How it is put together, if that can be seen.
    pub construction: Option<Construction>,
    /// What came with it.
    pub came_with: Vec<String>,
    /// What else came with it, in the person's words.
    pub came_with_else: String,
    /// Damage already there, accepted as it is.
    pub damage: Vec<SeenDamage>,
    /// The shop's own tag number; empty to take the app's next.
    pub tag: String,
}

/// A pair that has been here before, as it was found.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KnownPair {
    /// Which.
    pub id: SubjectId,
    /// What it is, in words.
    pub title: String,
    /// Its kind as recorded; empty if nobody has said.
    pub goods: String,
}

/// One line of work.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LineIn {
    /// The operation, a word of the trade list or the shop's own.
    pub operation: String,
    /// Which shoe.
    pub side: Side,
    /// Its price as it stands in the field.
    pub price: String,
    /// Whether a person has written that price: the list then leaves it alone.
    pub by_hand: bool,
}

/// Damage seen at the counter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SeenDamage {
    /// The part.
    pub part: Component,
    /// What is wrong with it.
    pub condition: Condition,
    /// Which shoe.
    #[serde(default = "both")]
    pub side: Side,
}

fn both() -> Side {
    Side::Both
}

/// What may be done if something hidden turns up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum IfHidden {
    /// Nothing that costs more.
    Nothing,
    /// What costs no more than an amount.
    UpTo,
    /// The customer is asked first.
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
    /// One pair, nothing said.
    pub fn blank() -> Self {
        Self {
            pairs: vec![PairIn::default()],
            ..Self::default()
        }
    }

    /// Whether nothing has been said at all.
    pub fn is_blank(&self) -> bool {
        *self == Self::blank()
    }

    /// The sum of the prices as far as they can be read, in minor units.
    pub fn sum_minor(&self, currency: Currency) -> i64 {
        self.pairs.iter().map(|pair| pair.sum_minor(currency)).sum()
    }

    /// How many prices are typed and cannot be read: the sum is without them.
    pub fn unread(&self, currency: Currency) -> usize {
        let lines = self.pairs.iter().flat_map(|pair| &pair.lines);
        lines.filter(|line| line.is_unread(currency)).count()
    }

    /// What the ticket comes to at a rate of tax.
    pub fn due(&self, rate: Option<i64>, currency: Currency) -> Due {
        due(self.sum_minor(currency), rate)
    }

    /// How a half-finished one is told from the others: "2 pairs, Ottoline Brack".
    pub fn title(&self) -> String {
        let mut title = match self.pairs.len() {
            1 => "1 pair".to_owned(),
            count => format!("{count} pairs"),
        };
        let looks = self.pairs.iter().map(PairIn::title).find(|look| !look.is_empty());
        let said = [
            self.name.trim(),
            self.phone.trim(),
            looks.as_deref().unwrap_or(""),
        ];
        if let Some(said) = said.into_iter().find(|word| !word.is_empty()) {
            title.push_str(", ");
            title.push_str(said);
        }
        title
    }
}

impl LineIn {
    /// Whether something stands where the price belongs that is none.
    pub fn is_unread(&self, currency: Currency) -> bool {
        !self.price.trim().is_empty() && currency.parse(&self.price).is_none()
    }
}

impl PairIn {
    /// The sum of its prices as far as they can be read, in minor units.
    pub fn sum_minor(&self, currency: Currency) -> i64 {
        let prices = self.lines.iter().filter_map(|line| currency.parse(&line.price));
        prices.sum()
    }

    /// What it is, in words; empty if nobody has said.
    pub fn title(&self) -> String {
        if let Some(known) = &self.known {
            return known.title.clone();
        }
        let words = [&self.maker, &self.colour, &self.look].map(|word| word.trim());
        let said: Vec<_> = words.into_iter().filter(|word| !word.is_empty()).collect();
        said.join(" ")
    }

    /// Its work, in words.
    pub fn work(&self) -> String {
        let names = self.lines.iter().map(|line| operations::name(&line.operation));
        names.collect::<Vec<_>>().join(", ")
    }

    /// Whether an operation is among its work.
    pub fn has(&self, operation: &str) -> bool {
        self.lines.iter().any(|line| line.operation == operation)
    }

    /// Adds an operation at its listed price, as it would be typed, or takes it off again.
    pub fn toggle(&mut self, operation: &str, listed: Option<String>) {
        let before = self.lines.len();
        self.lines.retain(|line| line.operation != operation);
        if self.lines.len() == before {
            self.lines.push(LineIn {
                operation: operation.to_owned(),
                side: Side::Both,
                price: listed.unwrap_or_default(),
                by_hand: false,
            });
        }
    }

    /// Says what kind it is; prices that nobody wrote by hand follow the list.
    pub fn is_a(&mut self, goods: &str, listed: impl Fn(&str) -> Option<String>) {
        goods.clone_into(&mut self.goods);
        for line in self.lines.iter_mut().filter(|line| !line.by_hand) {
            line.price = listed(&line.operation).unwrap_or_default();
        }
    }
}
