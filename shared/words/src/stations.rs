//! Sentences of where a pair stands, and what its line on a list says.

use crate::sentence::sentences;

sentences! {
    other_work() { "Other work" }
    final_check() { "Final check" }
    drying() { "Drying" }
    waiting_for_customer() { "Waiting for the customer" }
    waiting_for_material() { "Waiting for material" }
    ready_to_collect() { "Ready to collect" }
    days_late(days: i64) { one "1 day late", many "{days} days late" }
    due_today() { "today" }
    due_tomorrow() { "tomorrow" }
    ready_since_today() { "Ready since today" }
    ready_for_days(days: i64) { one "Ready for 1 day", many "Ready for {days} days" }
    time_left(time: &str) { "{time} left" }
}
