//! Sentences of currency, tax and hourly target.

use crate::sentence::sentences;

sentences! {
    money() { "Money" }
    currency() { "Currency, three letters" }
    tax_rate() { british "Tax in per cent; empty for none", american "Tax in percent; empty for none" }
    hourly_target() { "Hourly target, without tax" }
    where_tax_is() { "Where the tax is" }
    tax_in_prices() { "In the prices" }
    tax_added_to_prices() { "Added to them" }
    save_money() { "Save money" }
    not_a_tax_rate(typed: &str) { "“{typed}” is not a rate of tax. For example 19 or 8.1." }
    not_a_currency(typed: &str) { "“{typed}” is not a currency of ISO 4217. For example EUR." }
    currency_is_fixed() { "The currency is fixed once there is a price: all amounts are in it." }
    not_an_amount(typed: &str) { "“{typed}” is not an amount. For example 45 or 45.50." }
}
