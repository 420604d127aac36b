//! The sizes of the build, and the budgets for what a phone has to load.

use std::fmt::Write;

use crate::dist::Weight;
use crate::error::BundleError;

/// The most bytes of wasm and JavaScript together, compressed with brotli, that the first screen may need.
pub const BUDGET: usize = 374 * 1024;
/// The same for the other screens. The first screen does not wait for them, but a phone stores them.
pub const PIECES_BUDGET: usize = 1_140 * 1024;

/// The same for the reader of tags. The first screen does not wait for it, but a phone stores it.
pub const READER_BUDGET: usize = 80 * 1024;
/// The same for the analytics worker.
pub const ANALYTICS_BUDGET: usize = 606 * 1024;

/// The sizes as a table, one file a line, with the sums that the budgets limit at the end.
pub fn table(weights: &[Weight]) -> String {
    let mut table = format!("{:<44} {:>10} {:>10} {:>10}\n", "file", "raw", "gzip", "brotli");
    for weight in weights {
        line(&mut table, &weight.path, weight.raw, weight.gzip, weight.brotli);
    }
    for module in [Module::App, Module::Pieces, Module::Reader, Module::Analytics] {
        let code: Vec<&Weight> = weights.iter().filter(|weight| module.holds(weight)).collect();
        let sum = |of: fn(&Weight) -> usize| code.iter().map(|weight| of(weight)).sum();
        let gzip = sum(|weight| weight.gzip.unwrap_or(weight.raw));
        line(
            &mut table,
            module.words(),
            sum(|weight| weight.raw),
            Some(gzip),
            Some(sum(Weight::sent)),
        );
    }
    table
}

/// Checks that no module is over its budget.
pub fn check(weights: &[Weight]) -> Result<(), BundleError> {
    for (module, budget) in [
        (Module::App, BUDGET),
        (Module::Pieces, PIECES_BUDGET),
        (Module::Reader, READER_BUDGET),
        (Module::Analytics, ANALYTICS_BUDGET),
    ] {
        let actual = module.sent(weights);
        if actual > budget {
            return Err(BundleError::OverBudget {
                what: module.words(),
                actual,
                budget,
            });
        }
    }
    Ok(())
}

/// A compiled module: a wasm file with its bindings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Module {
    /// What the first screen needs.
    App,
    /// The other screens.
    Pieces,
    /// The reader of tags, loaded at the first scan.
    Reader,
    /// The analytics worker, loaded at the first question.
    Analytics,
}

impl Module {
    fn words(self) -> &'static str {
        match self {
            Self::App => "wasm + JS of the first screen",
            Self::Pieces => "the other screens",
            Self::Reader => "reader, at the first scan",
            Self::Analytics => "analytics, at the first figures",
        }
    }

    fn holds(self, weight: &Weight) -> bool {
        let begins: &[&str] = match self {
            Self::App => &["/pkg/app-", "/pkg/link-"],
            Self::Pieces => &["/pkg/piece-"],
            Self::Reader => &["/pkg/reader-"],
            Self::Analytics => &["/pkg/analytics-"],
        };
        begins.iter().any(|begins| weight.path.starts_with(begins))
            && (weight.path.ends_with(".wasm") || weight.path.ends_with(".js"))
    }

    /// The bytes that are sent to a browser.
    fn sent(self, weights: &[Weight]) -> usize {
        weights
            .iter()
            .filter(|weight| self.holds(weight))
            .map(Weight::sent)
            .sum()
    }
}

fn line(table: &mut String, name: &str, raw: usize, gzip: Option<usize>, brotli: Option<usize>) {
    let size = |bytes: Option<usize>| bytes.map_or_else(|| "-".into(), |bytes| bytes.to_string());
    // Writing to a String cannot fail.
    let _ = writeln!(
        table,
        "{name:<44} {raw:>10} {:>10} {:>10}",
        size(gzip),
        size(brotli)
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weight(path: &str, brotli: usize) -> Weight {
        Weight {
            path: path.into(),
            raw: brotli * 3,
            gzip: Some(brotli * 2),
            brotli: Some(brotli),
        }
    }

    #[test]
    fn the_budget_counts_code_and_nothing_else() {
        let code = [
            weight("/pkg/app-1.wasm", BUDGET - 10),
            weight("/pkg/app-1.js", 9),
            weight("/pkg/link-1.js", 1),
            weight("/pkg/piece-split_screens-1.wasm", 999),
            weight("/pkg/reader-1.wasm", 999),
            weight("/sw.js", 999),
        ];
        assert!(check(&code).is_ok());
    }

    #[test]
    fn one_byte_over_the_budget_fails() {
        let code = [
            weight("/pkg/app-1.wasm", BUDGET - 10),
            weight("/pkg/app-1.js", 10),
            weight("/pkg/link-1.js", 1),
        ];
        assert!(matches!(check(&code), Err(BundleError::OverBudget { actual, .. }) if actual == BUDGET + 1));
    }

    #[test]
    fn the_reader_has_a_budget_and_a_line_of_its_own() {
        let reader = [
            weight("/pkg/reader-1.wasm", READER_BUDGET),
            weight("/pkg/reader-1.js", 1),
        ];
        assert!(
            matches!(check(&reader), Err(BundleError::OverBudget { actual, .. }) if actual == READER_BUDGET + 1)
        );
        let table = table(&reader);
        let app = table.lines().find(|line| line.starts_with("wasm + JS ")).unwrap();
        assert!(app.ends_with(" 0"), "the reader is counted with the app: {app}");
    }

    #[test]
    fn the_other_screens_have_a_budget_of_their_own() {
        let pieces = [
            weight("/pkg/piece-chunk_3-1.wasm", PIECES_BUDGET),
            weight("/pkg/piece-split_screens-1.wasm", 1),
        ];
        assert!(
            matches!(check(&pieces), Err(BundleError::OverBudget { actual, .. }) if actual == PIECES_BUDGET + 1)
        );
    }

    #[test]
    fn a_file_that_does_not_compress_is_counted_raw() {
        let plain = Weight {
            path: "/pkg/app-1.wasm".into(),
            raw: BUDGET + 1,
            gzip: None,
            brotli: None,
        };
        assert!(check(&[plain]).is_err());
    }
}
