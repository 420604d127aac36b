//! One program for every target: `FUZZ_TARGET` names the one that runs; without it the seeds are written and the
//! targets listed. `tests/fuzz/run` does both. See the README beside it.

#![no_main]
// The entry point that libFuzzer calls is an exported function, which counts as unsafe.
#![allow(unsafe_code)]
#![allow(clippy::unwrap_used, reason = "a property that does not hold stops the run")]

mod brought;
mod card;
mod entries;
mod figures;
mod frame;
mod ledger;
mod messages;
mod phone;
mod phone_rows;
mod requests;
mod restore;
mod seeds;
mod sums;
mod words;

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;

/// A decoder that is fuzzed.
struct Target {
    /// Its name.
    name: &'static str,
    /// Runs it on one input and panics if a property is violated.
    holds: fn(&[u8]),
    /// The first inputs, from which others are derived.
    seeds: fn() -> Vec<Vec<u8>>,
}

const fn target(name: &'static str, holds: fn(&[u8]), seeds: fn() -> Vec<Vec<u8>>) -> Target {
    Target { name, holds, seeds }
}

/// Every target.
const TARGETS: &[Target] = &[
    target("entry", entries::entry, seeds::entries),
    target("body", entries::body, seeds::bodies),
    target("fold", entries::fold, seeds::logs),
    target("push", messages::push, seeds::pushes),
    target("messages", messages::message, seeds::messages),
    target("requests", requests::request, requests::seeds),
    target("words", words::words, words::seeds),
    target("settings", words::settings, words::settings_seeds),
    target("card", card::card, card::seeds),
    target("brought", brought::file, brought::seeds),
    target("calc", sums::calc, sums::calc_seeds),
    target("plan", sums::plan, sums::plan_seeds),
    target("figures", figures::question, figures::seeds),
    target("phone_backup", phone::backup, phone::backup_seeds),
    target("phone_rows", phone_rows::rows, phone_rows::seeds),
    target("restore", restore::restore, restore::seeds),
    target("ledger", ledger::ledger, ledger::seeds),
    target("frame", frame::frame, frame::seeds),
];

static CHOSEN: LazyLock<fn(&[u8])> = LazyLock::new(|| {
    let name = std::env::var("FUZZ_TARGET").unwrap_or_default();
    let chosen = TARGETS.iter().find(|target| target.name == name);
    chosen
        .unwrap_or_else(|| panic!("no target is called `{name}`"))
        .holds
});

fuzz_target!(
    init: {
        if std::env::var_os("FUZZ_TARGET").is_none() {
            seeds::write(TARGETS.iter().map(|target| (target.name, (target.seeds)())));
            std::process::exit(0);
        }
    },
    |data: &[u8]| CHOSEN(data)
);

/// The input as text, or `None` if it is not UTF-8.
fn text(data: &[u8]) -> Option<&str> {
    std::str::from_utf8(data).ok()
}

/// The first line of the input, and the rest of it.
fn headed(data: &[u8]) -> Option<(&str, &str)> {
    let text = text(data)?;
    Some(text.split_once('\n').unwrap_or((text, "")))
}
