//! What a line of work costs by the price list: the shop's own prices first, then the trade's norms.
//!
//! A price that follows from another one is rounded to a whole unit of the currency; to a minor unit if that other one
//! is itself no whole number of units.

use super::currency::Currency;
use super::minor::Minor;
use crate::log::body::Side;
use crate::log::fold::ShopState;
use crate::text::unless_empty;
use crate::trade::amount::LineSize;
use crate::trade::operations::{Priced, operation};
use crate::trade::packages::{Package, shares, usual_price};
use crate::trade::prices::{ONE_SHOE_PERCENT, norm_of};
use crate::trade::{Class, Goods};

/// Norms are in hundredths of a unit.
const HUNDREDTHS: i64 = 100;

/// What a line costs on a kind of goods, in minor units; `None` if neither the shop nor the trade has a price.
///
/// The price of a variant is the shop's own, else its share of the operation's price, else the norm. One shoe of a pair
/// has the shop's own price of one, else 60 % of the pair's, rounded up to a whole unit. Several pieces cost so many
/// times as much. Goods that were not stated (empty) count as a shoe.
pub fn listed(shop: &ShopState, goods: &str, line: LineSize<'_>) -> Option<Minor> {
    let goods = Goods::from(unless_empty(goods).unwrap_or(Goods::LowShoe.as_str()));
    let all = price(shop, &goods, line.operation, line.variant);
    let each = if is_one_of_two(&goods, line) {
        one_shoe(shop, &goods, line.operation, all)
    } else {
        all
    }?;
    Some(Minor(each.0.saturating_mul(i64::from(line.count.max(1)))))
}

/// The trade's price of an operation in a currency, in minor units; the figure of the norm is used for any currency
/// alike.
pub fn norm_in(currency: Currency, operation: &str, goods: &Goods, variant: Option<&str>) -> Option<Minor> {
    let Minor(hundredths) = norm_of(operation, goods, variant)?;
    Some(Minor(hundredths * currency.minor_units() / HUNDREDTHS))
}

/// What a package costs whose operations are done as `lines` say, in minor units. The shop's own price is for the usual
/// variants on both shoes; for other ones it changes as the sum of the list prices does. `None` if a line has no price.
pub fn package_price(
    shop: &ShopState,
    goods: &str,
    package: &Package,
    lines: &[LineSize<'_>],
) -> Option<Minor> {
    let goods = unless_empty(goods).unwrap_or(Goods::LowShoe.as_str());
    let unit = shop.money_kind().minor_units();
    let sum = list_sum(shop, goods, lines)?;
    if let Some(own) = shop.package_price(package.code, goods) {
        return Some(match list_sum(shop, goods, &usual_lines(package)) {
            Some(usual) => scaled(own, sum, usual, unit),
            None => own,
        });
    }
    // An operation may have a line for each shoe.
    let in_hundredths = |code: &str| {
        let of_code = lines.iter().filter(|line| line.operation == code);
        let of_code: Vec<LineSize<'_>> = of_code.copied().collect();
        let sum = list_sum(shop, goods, &of_code).filter(|_| !of_code.is_empty())?;
        Some(Minor(sum.0.saturating_mul(HUNDREDTHS) / unit))
    };
    let Minor(hundredths) = usual_price(package, &goods.into(), in_hundredths)?;
    Some(Minor(hundredths.saturating_mul(unit) / HUNDREDTHS))
}

/// The price of each line of a package, in minor units: together they are its price. They are whole units of the currency
/// if that is one, see [`shares`].
pub fn package_prices(
    shop: &ShopState,
    goods: &str,
    package: &Package,
    lines: &[LineSize<'_>],
) -> Option<Vec<Minor>> {
    let list: Vec<Minor> = lines
        .iter()
        .map(|line| listed(shop, goods, *line))
        .collect::<Option<_>>()?;
    let unit = shop.money_kind().minor_units();
    Some(shares(package_price(shop, goods, package, lines)?, &list, unit))
}

/// The operations of a package as they are usually done.
pub fn usual_lines(package: &Package) -> Vec<LineSize<'static>> {
    package.operations.iter().copied().map(LineSize::usual).collect()
}

/// The sum of the list prices; `None` if a line has none.
fn list_sum(shop: &ShopState, goods: &str, lines: &[LineSize<'_>]) -> Option<Minor> {
    lines.iter().map(|line| listed(shop, goods, *line)).sum()
}

/// The price of an operation on a pair, or on one piece.
fn price(shop: &ShopState, goods: &Goods, code: &str, variant: Option<&str>) -> Option<Minor> {
    let currency = shop.money_kind();
    let row = || {
        shop.price(code, goods.as_str())
            .or_else(|| norm_in(currency, code, goods, None))
    };
    let Some(variant) = variant else { return row() };
    if let Some(own) = shop.variant_price(code, variant, goods.as_str()) {
        return Some(own);
    }
    // A variant that the trade does not know changes nothing.
    let Some(known) = operation(code).and_then(|known| known.variant(variant)) else {
        return row();
    };
    match shop.price(code, goods.as_str()) {
        Some(own) => {
            let percent = Minor(i64::from(known.price_percent));
            Some(scaled(own, percent, Minor(100), currency.minor_units()))
        }
        None => norm_in(currency, code, goods, Some(variant)),
    }
}

/// Whether a line is work on one shoe of a pair that has a price for both. Of the shop's own operations it is not known
/// what their price is for; only a price of its own makes them cheaper on one shoe.
fn is_one_of_two(goods: &Goods, line: LineSize<'_>) -> bool {
    let each = operation(line.operation).is_some_and(|known| known.priced == Priced::Each);
    matches!(line.side, Side::Left | Side::Right) && !each && goods.is_any_of(Class::FOOTWEAR)
}

/// The price of one shoe, where both cost `both`.
fn one_shoe(shop: &ShopState, goods: &Goods, code: &str, both: Option<Minor>) -> Option<Minor> {
    let unit = shop.money_kind().minor_units();
    let Some(own) = shop.one_shoe_price(code, goods.as_str()) else {
        return both.map(|both| {
            if operation(code).is_some() {
                up_to_a_unit(both, unit)
            } else {
                both
            }
        });
    };
    // The shop's own price is for the usual variant; another one costs more or less as it does on both shoes.
    Some(match (both, price(shop, goods, code, None)) {
        (Some(both), Some(usual)) => scaled(own, both, usual, unit).min(both.max(own)),
        _ => own,
    })
}

/// The usual share of a pair's price, rounded up to a whole unit, and no more than the pair's price.
fn up_to_a_unit(both: Minor, unit: i64) -> Minor {
    let share = i128::from(both.0) * i128::from(ONE_SHOE_PERCENT);
    let whole = i128::from(unit) * 100;
    let units = (share + whole - 1).div_euclid(whole);
    minor(units * i128::from(unit)).min(both)
}

/// `amount` times `of` by `whole`. What is more than nothing stays so; `amount` itself where there is nothing to
/// compare.
fn scaled(amount: Minor, of: Minor, whole: Minor, unit: i64) -> Minor {
    if of == whole || !whole.is_positive() || !of.is_positive() || !amount.is_positive() {
        return amount;
    }
    let step = i128::from(if amount.0 % unit == 0 { unit } else { 1 });
    let whole = i128::from(whole.0) * step;
    let twice = i128::from(amount.0) * i128::from(of.0) * 2;
    let steps = twice.saturating_add(whole).div_euclid(whole * 2).max(1);
    minor(steps.saturating_mul(step))
}

fn minor(amount: i128) -> Minor {
    Minor(i64::try_from(amount).unwrap_or(i64::MAX))
}

#[cfg(test)]
mod tests;
