//! The version of the app on a device, and whether it is too old.

/// The version of this app, which it sends with every pull.
pub const APP_VERSION: &str = env!("CARGO_PKG_VERSION");

/// The first version that sends its version with a pull, sends an erasure before the entries it blanks, and lets no
/// blank copy destroy a full one.
pub const PROTECTS_FROM: &str = "0.2.0";

/// The longest version that is stored, in characters.
const LONGEST: usize = 32;

/// The version as it is stored: digits, letters, points, plus and minus. `None` for any other text: the pull is
/// answered all the same, and its app counts as one without a version.
pub fn noted(app: &str) -> Option<&str> {
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '.' | '+' | '-');
    Some(app).filter(|app| (1..=LONGEST).contains(&app.len()) && app.chars().all(plain))
}

/// Whether an app of this version is older than [`PROTECTS_FROM`]; an app without a version is older.
pub fn is_too_old(app: Option<&str>) -> bool {
    app.map(parts) < Some(parts(PROTECTS_FROM))
}

/// Major, minor and patch (Semantic Versioning 2.0.0, 2); a part that cannot be read is 0.
fn parts(version: &str) -> [u64; 3] {
    let plain = version.split(['-', '+']).next().unwrap_or_default();
    let mut numbers = plain.split('.').map(|part| part.parse().unwrap_or_default());
    std::array::from_fn(|_| numbers.next().unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_app_that_says_nothing_or_an_earlier_version_is_too_old() {
        for old in [None, Some("0.1.0"), Some("0.1.99"), Some("0"), Some("nightly")] {
            assert!(is_too_old(old), "{old:?}");
        }
        for kept in [
            PROTECTS_FROM,
            APP_VERSION,
            "0.2.1",
            "0.10.0",
            "1.0.0",
            "0.2.0+build.7",
        ] {
            assert!(!is_too_old(Some(kept)), "{kept}");
        }
    }

    #[test]
    fn only_what_can_be_a_version_is_noted() {
        assert_eq!(noted("0.2.0"), Some("0.2.0"));
        assert_eq!(noted("1.0.0-rc.1+b7"), Some("1.0.0-rc.1+b7"));
        for odd in ["", "<b>", "0.2.0 ", "ä", &"1".repeat(33)] {
            assert_eq!(noted(odd), None, "{odd}");
        }
    }
}
