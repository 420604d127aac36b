//! The plain fields this version shows: what a [`Detail`](super::Detail) may set.

/// Customer or shop: the name.
pub const NAME: &str = "name";
/// Customer or shop: a telephone number.
pub const PHONE: &str = "phone";
/// Pair: maker's name on the sock or sole.
pub const MAKER: &str = "maker";
/// Pair: colour in the repairer's words.
pub const COLOUR: &str = "colour";
/// Pair: what it is (derby, walking boot, belt).
pub const LOOK: &str = "look";
/// Pair: which kind of shoe or other goods, a word of the price list.
pub const GOODS: &str = "goods";
/// Pair: materials, a list of words.
pub const MATERIALS: &str = "materials";
/// Job: the number hung on the pair.
pub const TAG: &str = "tag";
/// Job: where it stands when ready.
pub const SHELF: &str = "shelf";
/// Job: what came with the pair, a list of words.
pub const CAME_WITH: &str = "came_with";
/// Job: the construction as guessed at the counter.
pub const CONSTRUCTION_GUESSED: &str = "construction_guessed";
/// Job: the construction as it was when opened.
pub const CONSTRUCTION_OPENED: &str = "construction_opened";
/// Job: the construction as the pair left the shop.
pub const CONSTRUCTION_LEFT: &str = "construction_left";
/// Ticket: the day promised, `YYYY-MM-DD`.
pub const DAY: &str = "day";
/// Ticket: from when on that day it is promised to be ready, `HH:MM` on the shop's clock; absent: by its end.
pub const READY_FROM: &str = "ready_from";
/// Ticket: wanted sooner than the shop would promise; `true` or absent.
pub const RUSH: &str = "rush";
/// Ticket: the customer waits in the shop; `true` or absent.
pub const WHILE_WAITING: &str = "while_waiting";
/// Ticket: what may be done if something hidden turns up: `nothing`, `ask`, or the most it may cost in minor units.
pub const IF_HIDDEN: &str = "if_hidden";
/// Shop: terms of guarantee printed on the card.
pub const TERMS: &str = "terms";
/// Shop: the currency, ISO 4217.
pub const CURRENCY: &str = "currency";
/// Shop and ticket: tax in the prices, in thousandths (190 for 19 %), or negative for tax that is added to them.
pub const TAX: &str = "tax";
/// Shop: what lengths are given in: `mm` or `in`; absent for millimetres.
pub const LENGTHS: &str = "lengths";
/// Shop: the lengths of nails on its shelf, a list of numbers in mm.
pub const NAIL_LENGTHS: &str = "nail_lengths";
/// Shop: the final check, a list of lines.
pub const FINAL_CHECK: &str = "final_check";

/// Job: the bench does it before anything else.
pub const FIRST: &str = "first";
/// Shop: days on which nobody works, a list of first and last day.
pub const CLOSED: &str = "closed";
/// Shop: percent of the opening hours that go to the counter.
pub const COUNTER_SHARE: &str = "counter_share";
/// Shop: how many work at the bench at a time.
pub const HANDS: &str = "hands";
/// Shop: the zone of its clock, a name of the IANA time zone database.
pub const TIME_ZONE: &str = "time_zone";
/// Shop: in so many of a hundred cases a suggested day should be kept.
pub const KEPT_SHARE: &str = "kept_share";

/// Shop: the field that holds when work is done on a day of the week, 1 for Monday (ISO 8601): a list of from and until, in
/// minutes of the day.
pub fn hours(weekday: usize) -> String {
    format!("hours/{weekday}")
}

/// Shop: what an hour of attended work should earn, without tax, in minor units.
pub const HOURLY_TARGET: &str = "hourly_target";

/// Shop: the field that holds what an operation uses: a list of what
/// [`Stock`](crate::price::materials::Stock) says, last used first.
pub fn stock(operation: &str) -> String {
    let mut name = String::from("stock/");
    name.push_str(operation);
    name
}

/// Shop: the field that holds the repairer's own answer to how often work on a construction, as guessed, meets a damaged
/// part: of ten such pairs, how many?
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

/// The operation in the name of a [`price`] field; `None` for any other field.
pub fn priced_operation(field: &str) -> Option<&str> {
    let (operation, _) = field.strip_prefix("price/")?.rsplit_once('/')?;
    Some(operation)
}
