//! Sentences of the file with everything of one customer.

use crate::sentence::sentences;

// The button on the pair's page.
sentences! {
    save_everything_of_theirs() { "Save everything of theirs as a file" }
    being_made() { "The file is being made." }
}

// The head of the file, and the headings in it.
sentences! {
    everything_of(customer: &str) { "Everything stored about {customer}" }
    this_customer() { "this customer" }
    made_by_on(shop: &str, day: &str) { "{shop}, {day}" }
    for_machines() {
        "This file also has every entry exactly as it is stored, as JSON, in the element “entries” at its end."
    }
    customer() { "Customer" }
    drop_off() { "Drop-off" }
    /// What was opened, and on which day.
    heading_and_day(heading: &str, day: &str) { "{heading}, {day}" }
}

// The lines of an entry.
sentences! {
    a_repairer() { "a repairer" }
    a_helper() { "a helper" }
    the_shop() { "the shop" }
    replaced_later() { "replaced later" }
    withdrawn_later() { "withdrawn later" }
    content_erased() { "Its content was erased." }
    entry_number(number: usize) { "entry {number}" }
    /// In the place of a photograph or a voice note.
    not_on_this_device() { "not on this device" }
    /// A link to a photograph that stands elsewhere in the file.
    shown_already() { "shown already" }
    colour() { british "colour", american "color" }
    sold() { british "Sundries sold", american "Accessories sold" }
    /// Goods that were sold: their name and number, what was paid for them, and the day.
    goods_sold(goods: &str, price: &str, day: &str) { "{goods}: {price}, {day}" }
    goods_sold_with_tax(goods: &str, price: &str, tax: &str, day: &str) { "{goods}: {price}, of which tax {tax}, {day}" }
}

/// What an entry of a kind is, by the kind's code; a code that this version does not know is returned unchanged.
#[must_use]
pub fn kind(code: &str) -> &str {
    match code {
        "opened" => "Opened",
        "detail" => "Noted",
        "agreed" => "Work agreed",
        "skipped" => "Agreed work that was not done",
        "order" => "Order of the work",
        "photo" => "Photograph",
        "step" => "Work done",
        "redo" => "Work to be made again",
        "spent" => "Time and material",
        "wait" => "Waiting",
        "wait_over" => "Waiting is over",
        "damage" => "Damage",
        "taken_out" => "Part taken out",
        "put_back" => "Part put back",
        "question" => "Question to the customer",
        "answer" => "Answer of the customer",
        "measured" => "Measured",
        "note" => "Remark",
        "payment" => "Payment",
        "sold" => sold(),
        "complaint" => "Complaint",
        "checked" => "Final check",
        "handed_over" => "Handed over",
        "counted" => "Material counted",
        "ordered" => "Material ordered",
        "arrived" => "Material has arrived",
        "card_link" => "Link to the care card",
        "published" => "Published on the care card",
        "withdrawn" => "Care card withdrawn",
        "retracted" => "Withdrawn",
        "same_as" => "Joined with another record of the same",
        "erased" => "Erased",
        "erasure_asked" => "Erasure asked for",
        "mention_erased" => "A mention was erased",
        other => other,
    }
}

/// What a field of an entry is, by its name. A name that says it itself, or that this version does not know, is returned
/// unchanged.
#[must_use]
pub fn field(name: &str) -> &str {
    match name {
        "phone" => "telephone",
        "phone_second" => "further telephone numbers",
        "email" => "e-mail",
        "look" => "what it is",
        "colour" => colour(),
        "tag" => "number",
        "if_hidden" => "for hidden damage, without a call",
        "minor" => "amount",
        "price_minor" => "price",
        "worth_minor" => "worth",
        "gift" => "at no charge",
        "why" => "reason",
        "side" => "which shoe",
        "full" => "photograph",
        "thumb" => "small photograph",
        "of" => "belongs to",
        "say" => "in words",
        "given" => "values",
        "seen" => "was seen",
        "out" => "taken out",
        "note" => "remark",
        "kept_for" => "kept for",
        "life_months" => "lasts, in months",
        "call_at" => "to be called",
        "voice" => "spoken",
        "left" => "what is left",
        "vouched" => "work not noted is done",
        "secret" => "secret part of its address",
        other => other,
    }
}
