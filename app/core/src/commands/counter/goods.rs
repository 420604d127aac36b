//! Goods sold over the counter: laces, trees, polish, a sharpened knife; beside the work of a ticket or alone.
//!
//! A price that nobody typed follows the shop's price list with the number of pieces. A price that was typed stays.

use serde::{Deserialize, Serialize};
use shared::log::body::{Body, Sold, field};
use shared::log::fold::ShopState;
use shared::log::{Draft, Subject, SubjectId, SubjectKind};
use shared::price::currency::Currency;
use shared::price::minor::Minor;
use shared::price::records::SoldGoods;

use super::missing::{DropOffField, Missing};

/// The most pieces that are sold as one line.
pub const MOST_GOODS: u32 = 999;

/// Goods as they are typed in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct GoodsIn {
    /// What, in the shop's words.
    pub what: String,
    /// How many.
    pub count: u32,
    /// The price of all of them, as typed.
    pub price: String,
    /// Whether a person typed that price: a change of the number then leaves it as it is.
    pub by_hand: bool,
}

impl Default for GoodsIn {
    fn default() -> Self {
        Self {
            what: String::new(),
            count: 1,
            price: String::new(),
            by_hand: false,
        }
    }
}

/// Goods that can be added with one tap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OfferedGoods {
    /// What, in the shop's words.
    pub what: String,
    /// The price of one piece, in minor units, if it is known.
    pub each: Option<Minor>,
}

impl OfferedGoods {
    /// What is offered with one tap: what was sold `lately`, as
    /// [`sold_lately`](crate::store::KvStore::sold_lately) knows it, then whatever else is on the shop's list, by name. A
    /// price on the list goes before the last one that was charged.
    pub fn all(shop: &ShopState, lately: &[SoldGoods]) -> Vec<Self> {
        let mut rest = listed_goods(shop);
        let mut all: Vec<Self> = Vec::new();
        for sold in lately {
            let on_list = rest.iter().position(|(what, _)| *what == sold.what);
            let each = match on_list {
                Some(at) => Some(rest.remove(at).1),
                None => price_of_one(sold),
            };
            all.push(Self {
                what: sold.what.clone(),
                each,
            });
        }
        let rest = rest.into_iter();
        all.extend(rest.map(|(what, each)| Self {
            what,
            each: Some(each),
        }));
        all
    }

    /// Adds one piece to these goods, or takes them off again.
    pub fn toggle(&self, goods: &mut Vec<GoodsIn>, currency: Currency) {
        let before = goods.len();
        goods.retain(|one| one.what != self.what);
        if goods.len() == before {
            let mut one = GoodsIn {
                what: self.what.clone(),
                ..GoodsIn::default()
            };
            one.set_count(1, self.each, currency);
            goods.push(one);
        }
    }
}

/// The price of one piece of what was sold; `None` if it is no whole amount.
fn price_of_one(sold: &SoldGoods) -> Option<Minor> {
    let count = i64::from(sold.count.max(1));
    (sold.minor.0 % count == 0).then(|| Minor(sold.minor.0 / count))
}

/// The goods on the shop's list with the price of one piece, by name.
pub fn listed_goods(shop: &ShopState) -> Vec<(String, Minor)> {
    let fields = shop.details.iter();
    let priced = fields.filter_map(|(name, slot)| {
        let what = field::priced_goods(name)?;
        Some((what.to_owned(), Minor(slot.current.body.as_i64()?)))
    });
    priced.collect()
}

impl GoodsIn {
    /// The price of all of them, in minor units; `None` if none is typed, or it cannot be read.
    pub fn minor(&self, currency: Currency) -> Option<Minor> {
        currency.parse(&self.price)
    }

    /// Whether the price is typed but cannot be read.
    pub fn is_unread(&self, currency: Currency) -> bool {
        !self.price.trim().is_empty() && self.minor(currency).is_none()
    }

    /// Sets how many there are; unless somebody typed the price, it follows that of one piece.
    pub fn set_count(&mut self, count: u32, each: Option<Minor>, currency: Currency) {
        self.count = count.clamp(1, MOST_GOODS);
        if !self.by_hand {
            let all = each.map(|Minor(each)| Minor(each.saturating_mul(i64::from(self.count))));
            self.price = all.map(|minor| currency.typed(minor)).unwrap_or_default();
        }
    }
}

/// Goods and their number in words: "Laces", "2 × Laces".
pub fn counted_goods(what: &str, count: u32) -> String {
    if count > 1 {
        words::commands::counted_goods(count, what)
    } else {
        what.to_owned()
    }
}

/// The drafts that sell goods on a ticket, for one save.
///
/// # Errors
/// [`Missing`] for the first price that is missing or cannot be read.
pub fn sell(ticket: SubjectId, goods: &[GoodsIn], currency: Currency) -> Result<Vec<Draft>, Missing> {
    let ticket = Subject::new(SubjectKind::Ticket, ticket);
    let draft = |(at, one): (usize, &GoodsIn)| -> Result<Draft, Missing> {
        let missing = || {
            Missing::on_ticket(DropOffField::GoodsPrice {
                at,
                what: one.what.clone(),
                typed: one.price.clone(),
            })
        };
        let sold = Sold {
            what: one.what.trim().to_owned(),
            count: one.count,
            price_minor: one.minor(currency).ok_or_else(missing)?,
        };
        Ok(Draft::new(ticket.clone(), Body::Sold(sold)))
    };
    goods.iter().enumerate().map(draft).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::counter::{DropOff, LineIn, Paying, goods_price_id, take_in};
    use crate::commands::scene;
    use serde_json::json;
    use shared::log::body::{Paid, Payment};
    use shared::price::records::At;

    fn sold(what: &str, count: u32, minor: i64) -> SoldGoods {
        SoldGoods {
            what: what.to_owned(),
            count,
            minor: Minor(minor),
            at: At(0, 0),
            person: None,
        }
    }

    fn offered(what: &str, each: Option<i64>) -> OfferedGoods {
        OfferedGoods {
            what: what.to_owned(),
            each: each.map(Minor),
        }
    }

    #[test]
    fn what_was_sold_last_is_offered_first_at_the_price_on_the_list() {
        let [laces, insoles, trees] = ["Laces", "Insoles", "Trees"].map(field::goods_price);
        let work = field::price("half_sole", "boot");
        let shop = scene::shop(&[
            (laces.as_str(), json!(450)),
            (insoles.as_str(), json!(700)),
            // Taken off the list.
            (trees.as_str(), json!(null)),
            (work.as_str(), json!(3_800)),
        ]);
        let lately = [
            sold("Polish", 2, 1_800),
            sold("Laces", 1, 400),
            sold("Key", 3, 1_000),
        ];
        assert_eq!(
            OfferedGoods::all(&shop, &lately),
            [
                offered("Polish", Some(900)),
                offered("Laces", Some(450)),
                offered("Key", None),
                offered("Insoles", Some(700)),
            ]
        );
    }

    #[test]
    fn a_price_that_nobody_typed_follows_the_number() {
        let euro = Currency::default();
        let mut goods = Vec::new();
        offered("Laces", Some(450)).toggle(&mut goods, euro);
        assert_eq!(goods[0].price, "4.50");
        goods[0].set_count(2, Some(Minor(450)), euro);
        assert_eq!(goods[0].minor(euro), Some(Minor(900)));
        (goods[0].price, goods[0].by_hand) = ("8".to_owned(), true);
        goods[0].set_count(3, Some(Minor(450)), euro);
        assert_eq!((goods[0].count, goods[0].minor(euro)), (3, Some(Minor(800))));
        goods[0].set_count(0, None, euro);
        assert_eq!(goods[0].count, 1);
        offered("Laces", Some(450)).toggle(&mut goods, euro);
        assert!(goods.is_empty());
    }

    #[test]
    fn goods_are_sold_at_their_price() {
        let ticket = scene::subject(scene::TICKET);
        let mut goods = vec![GoodsIn {
            what: " Laces ".to_owned(),
            count: 2,
            price: "9".to_owned(),
            by_hand: true,
        }];
        let drafts = sell(ticket, &goods, Currency::default()).unwrap();
        let laces = Sold {
            what: "Laces".to_owned(),
            count: 2,
            price_minor: Minor(900),
        };
        assert_eq!(drafts[0].body, Body::Sold(laces));
        assert_eq!(drafts[0].subject, Subject::new(SubjectKind::Ticket, ticket));
        goods.push(GoodsIn {
            what: "Polish".to_owned(),
            ..GoodsIn::default()
        });
        let missing = sell(ticket, &goods, Currency::default()).unwrap_err();
        assert_eq!(missing.element(), goods_price_id(1));
    }

    /// Laces for 4.50 are sold, and paid with the tax of 8.1 % that is added to it.
    #[test]
    fn a_sale_needs_neither_a_pair_nor_a_day() {
        let mut form = DropOff {
            goods: vec![GoodsIn {
                what: "Laces".to_owned(),
                price: "4.50".to_owned(),
                ..GoodsIn::default()
            }],
            paying: Paying::All,
            ..DropOff::blank()
        };
        let taken = |form: &DropOff| {
            let mut ids = 0;
            let new_id = || {
                ids += 1;
                scene::subject(ids)
            };
            take_in(form, (Some(-81), Currency::default()), new_id, String::new)
        };
        let (sold, drafts) = taken(&form).unwrap();
        assert!(sold.jobs.is_empty() && form.is_sale());
        let kinds: Vec<_> = drafts.iter().filter_map(|draft| draft.body.kind()).collect();
        assert_eq!(kinds, ["opened", "detail", "sold", "payment"]);
        let paid = Payment {
            minor: Minor(486),
            what: Paid::Balance,
        };
        assert_eq!(drafts[3].body, Body::Payment(paid));
        assert_eq!(form.title(), "Laces");

        // With a pair they are a part of the ticket, which needs all the rest.
        form.pairs[0].lines.push(LineIn::usual("half_sole"));
        assert!(taken(&form).is_err());
        form.pairs[0].lines[0].price = "38".to_owned();
        assert!(taken(&form).is_err(), "the day is missing");
        form.day = "2027-01-15".to_owned();
        assert_eq!(taken(&form).unwrap().0.jobs.len(), 1);
        assert_eq!(form.sum(Currency::default()), Minor(4_250));
    }
}
