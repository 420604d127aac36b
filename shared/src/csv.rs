//! Fields of a file for a spreadsheet (RFC 4180).

/// A field, quoted where necessary, and escaped where a spreadsheet would read it as a formula.
pub(crate) fn field(text: &str) -> String {
    let safe = if text.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        ["'", text].concat()
    } else {
        text.to_owned()
    };
    if safe.contains([',', '"', '\n', '\r']) {
        ["\"", &safe.replace('"', "\"\""), "\""].concat()
    } else {
        safe
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4180, 2.6 and 2.7: fields with commas or quotes are quoted, and quotes are doubled. A spreadsheet reads a
    /// text that begins with one of `=+-@` as a formula (OWASP, CSV injection).
    #[test]
    fn fields_are_kept_whole_and_are_no_formulas() {
        for (text, wanted) in [
            ("Half soles", "Half soles"),
            ("Sole, rubber", "\"Sole, rubber\""),
            ("12\" zip", "\"12\"\" zip\""),
            ("=1+1", "'=1+1"),
        ] {
            assert_eq!(field(text), wanted);
        }
    }
}
