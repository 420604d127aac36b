//! What the build weighs, and whether that is still within what a phone should have to fetch.

use std::fmt::Write;

use crate::dist::Weight;
use crate::error::BundleError;

/// Bytes of wasm and JavaScript together, in brotli, that the app should have. It has more; the table says how much.
pub const GOAL: usize = 350 * 1024;
/// What it may not outgrow meanwhile. It was 480 KiB for the thinnest whole job, 720 with the screens of a whole working
/// day, and was set anew with the trade's arithmetic at the bench, of which the sums are the least part and the screens
/// the most.
pub const BUDGET: usize = 800 * 1024;

/// The sizes as a table, one file a line, with the sum that the budget counts at the end.
pub fn table(weights: &[Weight]) -> String {
    let mut table = format!("{:<44} {:>10} {:>10} {:>10}\n", "file", "raw", "gzip", "brotli");
    for weight in weights {
        line(&mut table, &weight.path, weight.raw, weight.gzip, weight.brotli);
    }
    let code: Vec<&Weight> = weights.iter().filter(|weight| is_code(weight)).collect();
    let sum = |of: fn(&Weight) -> usize| code.iter().map(|weight| of(weight)).sum();
    let gzip = sum(|weight| weight.gzip.unwrap_or(weight.raw));
    line(
        &mut table,
        "wasm + JS",
        sum(|weight| weight.raw),
        Some(gzip),
        Some(sum(Weight::sent)),
    );
    let over = sum(Weight::sent).saturating_sub(GOAL);
    if over > 0 {
        let _infallible = writeln!(table, "wasm + JS are {over} bytes over the goal of {GOAL}");
    }
    table
}

/// Fails when the code is over [`BUDGET`].
pub fn check(weights: &[Weight]) -> Result<(), BundleError> {
    let actual = weights
        .iter()
        .filter(|weight| is_code(weight))
        .map(Weight::sent)
        .sum();
    if actual > BUDGET {
        Err(BundleError::OverBudget {
            actual,
            budget: BUDGET,
        })
    } else {
        Ok(())
    }
}

/// What must be there before the first screen: the module and its bindings.
fn is_code(weight: &Weight) -> bool {
    weight.path.starts_with("/pkg/") && (weight.path.ends_with(".wasm") || weight.path.ends_with(".js"))
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
            weight("/pkg/app-1.js", 10),
            weight("/sw.js", 999),
        ];
        assert!(check(&code).is_ok());
    }

    #[test]
    fn one_byte_over_the_budget_fails() {
        let code = [
            weight("/pkg/app-1.wasm", BUDGET - 10),
            weight("/pkg/app-1.js", 11),
        ];
        assert!(matches!(check(&code), Err(BundleError::OverBudget { actual, .. }) if actual == BUDGET + 1));
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
