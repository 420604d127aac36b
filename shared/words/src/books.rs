//! Sentences of the books, job statistics and profitability.

use crate::sentence::sentences;

sentences! {
    books() { "Books" }
    books_are_for_repairers() { "The books are for repairers." }
    twelve_months_earlier() { "Twelve months earlier" }
    later() { "Later" }
    by_what() { "By what" }
    by_month() { "By month" }
    by_operation() { "By operation" }
    by_construction() { "By construction" }
    by_person() { "By person" }
    undated(count: u32) { "{count} entries bear a day that cannot be right and are in no month." }
    paid_beforehand(amounts: &str) { "Paid beforehand for pairs that are still here: {amounts}." }
    when_jobs_and_money_count() {
        "A job counts in the month in which it left the shop, goods in the month in which they were sold, without tax. \
        Money counts when it changed hands. Hours are worked out from when photographs and steps were noted; goods are not \
        in what an hour earned."
    }
    file_is_among_downloads() { "books.csv is among the downloads." }
    as_a_file() { "As a file (CSV)" }
}

// The plot of the months.
sentences! {
    plot_in_words(most: &str) {
        "Charged, needed and on the house, month by month; the most in one: {most}"
    }
    charged() { "Charged" }
    needed_at_no_charge() { "No charge, needed" }
    given_by_choice() { "On the house" }
    most_a_month(most: &str) { "Up to {most} a month" }
}

// Profitability.
sentences! {
    what_each_job_earns() { "What each job earns" }
    what_figures_rest_on(pairs: usize) {
        "From the last {pairs} pairs at most. Minutes are worked out from when photographs and steps were noted, not \
        stopped by a watch. Hidden damage that had to be made good for nothing is in what an hour earned."
    }
    lines() { "Lines" }
    none_finished() { "No job of this kind is finished yet. Hand the first one over, then look again." }
    only_what_was_done() { "Only what was done" }
    also_what_rests_on_norms() { "Also what rests on norms only" }
    /// The amount follows in an element, then [`without_tax_and_material`].
    hourly_target_is() { "Hourly target: " }
    /// Follows the amount, after [`hourly_target_is`].
    without_tax_and_material() { ", without tax and material." }
    /// The link [`shop_money`] follows, then [`an_hourly_target`].
    set_in() { "Set in " }
    /// A link, after [`set_in`].
    shop_money() { "Shop, Money" }
    /// Follows the link [`shop_money`].
    an_hourly_target() { " an hourly target: then each line says which price meets it." }
    norm(price: &str) { "{price}, the norm" }
    no_price() { "no price" }
    meets_target() { "Its price meets the target in 4 of 5 jobs." }
    /// The price follows in an element.
    price_that_meets_target() { "The price that meets the target in 4 of 5 jobs: " }
    take_from_today(price: &str) { "Take {price} from today on" }
    take_from_today_for(price: &str, operation: &str) { "Take {price} from today on, for {operation}" }
    from_today_on(operation: &str, goods: &str, price: &str) { "{operation}, {goods}: {price} from today on." }
}
