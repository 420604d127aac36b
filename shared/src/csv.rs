//! Files for spreadsheets (RFC 4180): writing fields and lines, and reading a text.

/// The byte order mark. A file that begins with it is read as UTF-8 also by programs that would guess otherwise.
pub const BYTE_ORDER_MARK: &str = "\u{feff}";

/// The letters with which a text begins that a spreadsheet would read as a formula.
const FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];
/// The letters inside a text after which a program with other settings may begin a new field or line.
const BREAKS: [char; 4] = [';', '\t', '\r', '\n'];
/// The letters that begin a formula there.
const SIGNS: [char; 4] = ['=', '+', '-', '@'];

/// A field, quoted where necessary, with an apostrophe before each place where a spreadsheet would read a formula: at the
/// beginning, and after a semicolon, a tab or a line break. [`unescaped`] gives the text back.
pub fn field(text: &str) -> String {
    let safe = escaped(text);
    if safe.contains([',', '"', '\n', '\r']) {
        ["\"", &safe.replace('"', "\"\""), "\""].concat()
    } else {
        safe
    }
}

/// One line with these fields, and its end.
pub fn line<T: AsRef<str>>(fields: &[T]) -> String {
    let fields: Vec<String> = fields.iter().map(|one| field(one.as_ref())).collect();
    let mut line = fields.join(",");
    line.push_str("\r\n");
    line
}

/// A text with an apostrophe before each formula, and before each formula that has apostrophes in front already, so that
/// none of those is lost when the text is read.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    let mut before = None;
    for (at, letter) in text.char_indices() {
        let (_, rest) = text.split_at(at);
        if is_formula(before, rest) {
            safe.push('\'');
        }
        safe.push(letter);
        before = Some(letter);
    }
    safe
}

/// The text of a field without the apostrophes that [`field`] puts before what would be read as a formula.
pub fn unescaped(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut before = None;
    for (at, letter) in text.char_indices() {
        let (_, rest) = text.split_at(at);
        if letter != '\'' || !is_formula(before, rest) {
            plain.push(letter);
        }
        before = Some(letter);
    }
    plain
}

/// Whether a formula begins with `rest`, after any apostrophes. `before` is the letter in front; `None` at the beginning
/// of a field.
fn is_formula(before: Option<char>, rest: &str) -> bool {
    let signs: &[char] = match before {
        None => &FORMULA,
        Some(letter) if BREAKS.contains(&letter) => &SIGNS,
        Some(_) => return false,
    };
    rest.trim_start_matches('\'').starts_with(signs)
}

/// A record of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CsvRecord {
    /// The line on which it begins, counted from 1.
    pub line: usize,
    /// Its fields. The error is the text of its line, where quotes stand as RFC 4180 does not allow.
    pub fields: Result<Vec<String>, String>,
}

/// The separator of a file: comma, semicolon or tab, whichever its first line has most often outside of quotes; a comma
/// if it has none of them.
pub fn separator(text: &str) -> char {
    let mut counts = [(',', 0), (';', 0), ('\t', 0)];
    let mut quoted = false;
    for letter in text.trim_start_matches(['\u{feff}', '\r', '\n']).chars() {
        match letter {
            '"' => quoted = !quoted,
            '\r' | '\n' if !quoted => break,
            _ if quoted => {}
            other => {
                let known = counts.iter_mut().filter(|(separator, _)| *separator == other);
                known.for_each(|(_, count)| *count += 1);
            }
        }
    }
    // Of equal counts the last one is taken, so the comma comes last.
    let most = counts.into_iter().rev().max_by_key(|(_, count)| *count);
    most.map_or(',', |(separator, _)| separator)
}

/// The records of a text as in RFC 4180, with this separator. Lines may also end with LF or CR alone; empty lines are
/// left out. A record with wrong quotes ends with its first line, so that the records after it are read.
pub fn read(text: &str, separator: char) -> Vec<CsvRecord> {
    let mut rest = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (mut records, mut line) = (Vec::new(), 1);
    while !rest.is_empty() {
        let (fields, after) = match record(rest, separator) {
            Some((fields, after)) => (Ok(fields), after),
            None => {
                let (bad, after) = rest.split_at(rest.find(['\r', '\n']).unwrap_or(rest.len()));
                (Err(bad.to_owned()), without_break(after))
            }
        };
        let is_empty = fields
            .as_ref()
            .is_ok_and(|fields| fields.iter().all(String::is_empty) && fields.len() == 1);
        if !is_empty {
            records.push(CsvRecord { line, fields });
        }
        let (done, _) = rest.split_at(rest.len() - after.len());
        line += breaks(done);
        rest = after;
    }
    records
}

/// The fields of the first record of a text, and what follows it; `None` if its quotes are wrong.
fn record(text: &str, separator: char) -> Option<(Vec<String>, &str)> {
    let mut fields = Vec::new();
    let mut rest = text;
    loop {
        let (field, after) = first_field(rest, separator)?;
        fields.push(field);
        match after.strip_prefix(separator) {
            Some(next) => rest = next,
            None => return Some((fields, without_break(after))),
        }
    }
}

/// The first field of a text, and what follows it: a separator, a line break or nothing.
fn first_field(text: &str, separator: char) -> Option<(String, &str)> {
    let ends = [separator, '\r', '\n'];
    let Some(mut quoted) = text.strip_prefix('"') else {
        let (field, after) = text.split_at(text.find(ends).unwrap_or(text.len()));
        return (!field.contains('"')).then(|| (field.to_owned(), after));
    };
    let mut field = String::new();
    loop {
        let (part, after) = quoted.split_once('"')?;
        field.push_str(part);
        match after.strip_prefix('"') {
            Some(next) => {
                field.push('"');
                quoted = next;
            }
            None => return (after.is_empty() || after.starts_with(ends)).then_some((field, after)),
        }
    }
}

/// A text without the line break that it begins with.
fn without_break(text: &str) -> &str {
    let without = text
        .strip_prefix("\r\n")
        .or_else(|| text.strip_prefix(['\r', '\n']));
    without.unwrap_or(text)
}

/// How many line breaks a text has.
fn breaks(text: &str) -> usize {
    let count = |what: &str| text.matches(what).count();
    count("\n") + count("\r") - count("\r\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// RFC 4180, 2.6 and 2.7: fields with commas or quotes are quoted, and quotes are doubled. A spreadsheet reads a
    /// text that begins with one of `=+-@` as a formula (OWASP, CSV injection), also where it takes another letter than the
    /// comma for the end of a field.
    #[test]
    fn fields_are_kept_whole_and_are_no_formulas() {
        for (text, wanted) in [
            ("Half soles", "Half soles"),
            ("Sole, rubber", "\"Sole, rubber\""),
            ("12\" zip", "\"12\"\" zip\""),
            ("=1+1", "'=1+1"),
            ("a;=1", "a;'=1"),
            ("a\t+1", "a\t'+1"),
            ("a\n-1", "\"a\n'-1\""),
            ("'=1", "''=1"),
            ("a=1; b", "a=1; b"),
        ] {
            assert_eq!(field(text), wanted);
            assert_eq!(unescaped(&escaped(text)), text);
        }
        assert_eq!(unescaped("'=1+1"), "=1+1");
        assert_eq!(unescaped("'s heel"), "'s heel");
    }

    /// The records of a text, each with its line; all of them must be sound.
    fn sound(text: &str) -> Vec<(usize, Vec<String>)> {
        let records = read(text, ',').into_iter();
        records
            .map(|record| (record.line, record.fields.expect("sound quotes")))
            .collect()
    }

    fn fields(of: &[&str]) -> Vec<String> {
        of.iter().map(|one| (*one).to_owned()).collect()
    }

    /// The examples of RFC 4180, section 2, by the number of their rule.
    #[test]
    fn the_examples_of_the_standard() {
        let plain = [
            (1, fields(&["aaa", "bbb", "ccc"])),
            (2, fields(&["zzz", "yyy", "xxx"])),
        ];
        let head = (1, fields(&["field_name", "field_name", "field_name"]));
        let later = |line: usize| {
            plain
                .clone()
                .map(|(_, fields)| fields)
                .map(move |fields| (line, fields))
        };
        assert_eq!(sound("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), plain, "1");
        assert_eq!(sound("aaa,bbb,ccc\r\nzzz,yyy,xxx"), plain, "2");
        let [second, _] = later(2);
        let [_, third] = later(3);
        assert_eq!(
            sound("field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"),
            [head, second, third],
            "3"
        );
        assert_eq!(sound("aaa,bbb,ccc"), plain[..1], "4");
        assert_eq!(sound("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), plain, "5");
        assert_eq!(
            sound("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            [
                (1, fields(&["aaa", "b\r\nbb", "ccc"])),
                (3, fields(&["zzz", "yyy", "xxx"]))
            ],
            "6"
        );
        assert_eq!(
            sound("\"aaa\",\"b\"\"bb\",\"ccc\""),
            [(1, fields(&["aaa", "b\"bb", "ccc"]))],
            "7"
        );
    }

    /// RFC 4180, 2.4: spaces belong to a field, and what follows the last separator is a field, too.
    #[test]
    fn nothing_is_added_to_a_field_or_taken_from_it() {
        assert_eq!(
            sound("\u{feff} a , b,\n\n\r\nc"),
            [(1, fields(&[" a ", " b", ""])), (4, fields(&["c"]))]
        );
        assert_eq!(sound("\"\",\"\""), [(1, fields(&["", ""]))]);
        assert!(sound("").is_empty());
    }

    /// RFC 4180, 2.5: without quotes around a field there are none in it.
    #[test]
    fn wrong_quotes_cost_one_line_and_not_the_file() {
        for bad in ["a,12\" heel,b", "a,\"b\"c,d", "a,\"never closed"] {
            let records = read(&format!("x\n{bad}\ny\n"), ',');
            let lines: Vec<_> = records.iter().map(|record| record.line).collect();
            assert_eq!(lines, [1, 2, 3], "{bad}");
            assert_eq!(records[1].fields, Err(bad.to_owned()));
            assert_eq!(records[2].fields, Ok(fields(&["y"])));
        }
    }

    #[test]
    fn the_separator_is_found_in_the_first_line() {
        for (text, wanted) in [
            ("name;phone;note\na,b;1;2", ';'),
            ("name\tphone\n", '\t'),
            ("\u{feff}\"a;b;c\",d\n", ','),
            ("name\nphone;x", ','),
            ("a,b;c", ','),
        ] {
            assert_eq!(separator(text), wanted, "{text}");
        }
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back(records in prop::collection::vec(prop::collection::vec("[a\"',; =\t\r\n]{0,4}", 2..5), 0..6)) {
            let text: String = records.iter().map(|fields| line(fields)).collect();
            let read: Vec<Vec<String>> = sound(&text)
                .into_iter()
                .map(|(_, fields)| fields.iter().map(|field| unescaped(field)).collect())
                .collect();
            prop_assert_eq!(read, records);
        }
    }
}
