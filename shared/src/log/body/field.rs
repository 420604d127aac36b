//! The names of the plain fields that this version reads: the values of `Detail::field`, see [`Detail`](super::Detail).

/// Customer or shop: the name.
pub const NAME: &str = "name";
/// Customer or shop: a telephone number.
pub const PHONE: &str = "phone";
/// Customer: further telephone numbers, in the order in which they are tried.
pub const PHONE_SECOND: &str = "phone_second";
/// Customer: an e-mail address.
pub const EMAIL: &str = "email";
/// Customer: a postal address, its lines joined by commas.
pub const ADDRESS: &str = "address";
/// Customer: a remark that came along from another program.
pub const NOTE: &str = "note";
/// Pair: the maker's name on the sock or sole.
pub const MAKER: &str = "maker";
/// Pair: colour in the repairer's words.
pub const COLOUR: &str = "colour";
/// Pair: what it is (derby, walking boot, belt).
pub const LOOK: &str = "look";
/// Pair: which kind of shoe or other goods, by its word in [`Goods`](crate::trade::Goods).
pub const GOODS: &str = "goods";
/// Pair: what upper and sole are made of, a list of words of [`Material`](crate::trade::Material).
pub const MATERIALS: &str = "materials";
/// Pair: what the lining is made of, a list of such words.
pub const LINING: &str = "materials/lining";
/// Job: the number on the tag that hangs on the pair.
pub const TAG: &str = "tag";
/// Job: where the pair stands when it is ready.
pub const SHELF: &str = "shelf";
/// Job: what came with the pair, a list of words.
pub const CAME_WITH: &str = "came_with";
/// Job: the construction as it was guessed at the counter.
pub const CONSTRUCTION_GUESSED: &str = "construction_guessed";
/// Job: the construction as it was found when the pair was opened.
pub const CONSTRUCTION_OPENED: &str = "construction_opened";
/// Job: the construction with which the pair left the shop.
pub const CONSTRUCTION_LEFT: &str = "construction_left";
/// Ticket: the day promised, `YYYY-MM-DD`.
pub const DAY: &str = "day";
/// Ticket: the time on that day from which the pairs are promised to be ready, `HH:MM` on the shop's clock; absent if
/// they are promised for the end of the day.
pub const READY_FROM: &str = "ready_from";
/// Ticket: whether the customer wants it sooner than the shop would promise; `true` or absent.
pub const RUSH: &str = "rush";
/// Ticket: whether the customer waits in the shop; `true` or absent.
pub const WHILE_WAITING: &str = "while_waiting";
/// Ticket: what may be done about hidden damage without a call: `nothing`, `ask`, or the most it may cost in minor
/// units.
pub const IF_HIDDEN: &str = "if_hidden";
/// Shop: the terms of guarantee that are printed on the card.
pub const TERMS: &str = "terms";
/// Shop: the currency, an ISO 4217 code.
pub const CURRENCY: &str = "currency";
/// Shop and ticket: the rate of tax in thousandths (190 for 19 %). Positive if the prices include it, negative if it is
/// added to them.
pub const TAX: &str = "tax";
/// Shop: the language of the screens and of the care card, a tag of BCP 47; absent for British English.
pub const LANGUAGE: &str = "language";
/// Shop: the unit of length: `mm` or `in`; absent for millimetres.
pub const LENGTHS: &str = "lengths";
/// Shop: the lengths of the nails in stock, a list of numbers in millimetres.
pub const NAIL_LENGTHS: &str = "nail_lengths";
/// Shop: the lines of the final check, a list of texts.
pub const FINAL_CHECK: &str = "final_check";

/// Job: whether the bench does it before all other jobs; `true` or absent.
pub const FIRST: &str = "first";
/// Job: until when the bench leaves it out of its run, in milliseconds since 1970, or 0.
pub const PUT_ASIDE: &str = "put_aside";
/// Job: when somebody began the run that it belongs to, in milliseconds since 1970.
pub const RUN_BEGUN: &str = "run_begun";
/// Job: when somebody was called away from the run that it belongs to, in milliseconds since 1970.
pub const RUN_INTERRUPTED: &str = "run_interrupted";
/// Shop: the days on which nobody works, a list of ranges of first and last day.
pub const CLOSED: &str = "closed";
/// Shop: the share of the opening hours that the counter takes, in percent.
pub const COUNTER_SHARE: &str = "counter_share";
/// Shop: how many people work at the bench at one time.
pub const HANDS: &str = "hands";
/// Shop: the time zone, a name of the IANA time zone database.
pub const TIME_ZONE: &str = "time_zone";
/// Shop: the probability with which a suggested day should be kept, in percent.
pub const KEPT_SHARE: &str = "kept_share";

/// Shop: the field that holds the working hours of a day of the week (1 for Monday, ISO 8601): a list of from and
/// until, in minutes of the day.
pub fn hours(weekday: usize) -> String {
    format!("hours/{weekday}")
}

/// Shop: what an hour of attended work should earn, without tax, in minor units.
pub const HOURLY_TARGET: &str = "hourly_target";

/// Shop: the field that holds the material an operation uses: a list of [`Stock`](crate::price::materials::Stock),
/// the usual one first.
pub fn stock(operation: &str) -> String {
    let mut name = String::from("stock/");
    name.push_str(operation);
    name
}

/// Shop: the field that holds the repairer's own estimate of how often work on a construction (as guessed) finds a
/// certain part damaged: in how many of ten such pairs.
pub fn of_ten(operation: &str, guessed: &str, part: &str) -> String {
    ["of_ten", operation, guessed, part].join("/")
}

/// Shop: the field that holds the price of an operation on a kind of goods, in minor units.
pub fn price(operation: &str, goods: &str) -> String {
    let mut name = String::from("price/");
    name.push_str(operation);
    name.push('/');
    name.push_str(goods);
    name
}

/// Shop: the field that holds the price of an operation in one of its variants on a kind of goods, in minor units.
pub fn variant_price(operation: &str, variant: &str, goods: &str) -> String {
    ["price_of", operation, variant, goods].join("/")
}

/// Shop: the field that holds the price of an operation on one shoe of a pair, in minor units.
pub fn one_shoe_price(operation: &str, goods: &str) -> String {
    ["price_one", operation, goods].join("/")
}

/// Shop: the field that holds the price of a package of operations on a kind of goods, in minor units.
pub fn package_price(package: &str, goods: &str) -> String {
    ["price_package", package, goods].join("/")
}

/// Whether a field of the shop holds a price of its price list.
pub fn is_price(field: &str) -> bool {
    let kinds = ["price", "price_of", "price_one", "price_package", "goods"];
    field
        .split_once('/')
        .is_some_and(|(kind, _)| kinds.contains(&kind))
}

/// What a price of the shop's price list is for, by the words that its field names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PriceIsFor<'a> {
    /// An operation on a kind of goods: operation, goods.
    Operation(&'a str, &'a str),
    /// One variant of an operation: operation, variant, goods.
    Variant(&'a str, &'a str, &'a str),
    /// An operation on one shoe of a pair: operation, goods.
    OneShoe(&'a str, &'a str),
    /// A package of operations: package, goods.
    Package(&'a str, &'a str),
    /// One piece of goods that are sold over the counter.
    Piece(&'a str),
}

/// What the price in a field of the shop is for; `None` for a field without a price of the price list.
pub fn price_is_for(field: &str) -> Option<PriceIsFor<'_>> {
    let (kind, of) = field.split_once('/')?;
    if kind == "goods" {
        return Some(PriceIsFor::Piece(of));
    }
    let (work, goods) = of.rsplit_once('/')?;
    match kind {
        "price" => Some(PriceIsFor::Operation(work, goods)),
        "price_one" => Some(PriceIsFor::OneShoe(work, goods)),
        "price_package" => Some(PriceIsFor::Package(work, goods)),
        "price_of" => {
            let (operation, variant) = work.rsplit_once('/')?;
            Some(PriceIsFor::Variant(operation, variant, goods))
        }
        _ => None,
    }
}

/// The operation that a [`price`] field names; `None` for any other field.
pub fn priced_operation(field: &str) -> Option<&str> {
    let (operation, _) = field.strip_prefix("price/")?.rsplit_once('/')?;
    Some(operation)
}

/// Shop: the field that holds the price of one piece of goods that are sold over the counter, in minor units.
pub fn goods_price(goods: &str) -> String {
    let mut name = String::from("goods/");
    name.push_str(goods);
    name
}

/// The goods that a [`goods_price`] field names; `None` for any other field.
pub fn priced_goods(field: &str) -> Option<&str> {
    field.strip_prefix("goods/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_told_from_other_fields() {
        let prices = [
            price("half_sole", "boot"),
            variant_price("half_sole", "leather", "boot"),
            one_shoe_price("half_sole", "boot"),
            package_price("half_soles_and_heels", "boot"),
            goods_price("laces"),
        ];
        for (at, name) in prices.iter().enumerate() {
            assert!(is_price(name), "{name}");
            assert!(!prices[..at].contains(name), "{name}");
            assert_eq!(priced_operation(name).is_some(), at == 0, "{name}");
        }
        let are_for = prices.each_ref().map(|name| price_is_for(name));
        assert_eq!(
            are_for,
            [
                Some(PriceIsFor::Operation("half_sole", "boot")),
                Some(PriceIsFor::Variant("half_sole", "leather", "boot")),
                Some(PriceIsFor::OneShoe("half_sole", "boot")),
                Some(PriceIsFor::Package("half_soles_and_heels", "boot")),
                Some(PriceIsFor::Piece("laces")),
            ]
        );
        assert_eq!(priced_goods(&goods_price("laces 5/8")), Some("laces 5/8"));
        for name in [GOODS, HOURLY_TARGET, "price", &hours(1), &stock("half_sole")] {
            assert!(!is_price(name) && price_is_for(name).is_none(), "{name}");
        }
    }
}
