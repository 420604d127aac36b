//! Currencies: their codes, and how many decimals their amounts have.
//!
//! ISO 4217, list one, without metals, funds and test codes. The tests compare both tables with a library of that list.

use super::minor::Minor;

/// Every currency in use, three letters each.
const CODES: &str = "\
AEDAFNALLAMDANGAOAARSAUDAWGAZNBAMBBDBDTBGNBHDBIFBMDBNDBOBBRLBSDBTNBWPBYNBZDCADCDFCHFCLPCNYCOPCRCCUPCVECZK\
DJFDKKDOPDZDEGPERNETBEURFJDFKPGBPGELGHSGIPGMDGNFGTQGYDHKDHNLHTGHUFIDRILSINRIQDIRRISKJMDJODJPYKESKGSKHRKMF\
KPWKRWKWDKYDKZTLAKLBPLKRLRDLSLLYDMADMDLMGAMKDMMKMNTMOPMRUMURMVRMWKMXNMYRMZNNADNGNNIONOKNPRNZDOMRPABPENPGK\
PHPPKRPLNPYGQARRONRSDRUBRWFSARSBDSCRSDGSEKSGDSHPSLESOSSRDSSPSTNSVCSYPSZLTHBTJSTMTTNDTOPTRYTTDTWDTZSUAHUGX\
USDUYUUZSVEDVESVNDVUVWSTXAFXCDXCGXOFXPFYERZARZMWZWG";
/// The codes of currencies without decimals.
const NONE: &str = "BIFCLPDJFGNFISKJPYKMFKRWPYGRWFUGXVNDVUVXAFXOFXPF";
/// The codes of currencies with three decimals.
const THREE: &str = "BHDIQDJODKWDLYDOMRTND";

/// The greatest amount that can be typed, in whole units: 10 million; a thousand times more for a currency without
/// decimals.
const MOST_UNITS: i64 = 10_000_000;

/// A currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Currency {
    code: &'static str,
    decimals: u8,
}

/// Two decimals and no code: before the shop has set its currency.
impl Default for Currency {
    fn default() -> Self {
        Self {
            code: "",
            decimals: 2,
        }
    }
}

fn find(table: &'static str, code: &str) -> Option<&'static str> {
    let mut at = 0;
    while let Some(known) = table.get(at..at + 3) {
        if known == code {
            return Some(known);
        }
        at += 3;
    }
    None
}

impl Currency {
    /// The currency of a code, in upper or lower case; `None` if there is no such currency.
    pub fn of(code: &str) -> Option<Self> {
        let code = code.trim().to_ascii_uppercase();
        let known = (code.len() == 3).then(|| find(CODES, &code)).flatten()?;
        let decimals = match (find(NONE, known), find(THREE, known)) {
            (Some(_), _) => 0,
            (_, Some(_)) => 3,
            _ => 2,
        };
        Some(Self {
            code: known,
            decimals,
        })
    }

    /// All codes.
    pub fn codes() -> impl Iterator<Item = &'static str> {
        (0..CODES.len()).step_by(3).filter_map(|at| CODES.get(at..at + 3))
    }

    /// Its code of three letters; empty if the shop has not set its currency.
    pub fn code(self) -> &'static str {
        self.code
    }

    /// How many decimals its amounts have.
    pub fn decimals(self) -> u8 {
        self.decimals
    }

    /// How many minor units make one whole unit.
    pub fn minor_units(self) -> i64 {
        10_i64.pow(u32::from(self.decimals))
    }

    /// Reads an amount as people type it, in minor units: `45`, `45.5`, `45,50`. `None` if it is not an amount, has
    /// more decimals than the currency, or is above 10 million whole units (10 thousand million without decimals).
    pub fn parse(self, text: &str) -> Option<Minor> {
        let text = text.trim();
        let (whole, part) = text.split_once(['.', ',']).unwrap_or((text, ""));
        let digits = |text: &str| text.chars().all(|c| c.is_ascii_digit());
        let decimals = usize::from(self.decimals);
        let point_alone = part.is_empty() && text.ends_with(['.', ',']) && decimals == 0;
        if whole.is_empty()
            || whole.len() > 11
            || part.len() > decimals
            || !digits(whole)
            || !digits(part)
            || point_alone
        {
            return None;
        }
        let most = if decimals == 0 {
            MOST_UNITS * 1_000
        } else {
            MOST_UNITS
        };
        let whole: i64 = whole.parse().ok().filter(|whole| *whole < most)?;
        let part: i64 = if decimals == 0 {
            0
        } else {
            format!("{part:0<decimals$}").parse().ok()?
        };
        Some(Minor(whole * self.minor_units() + part))
    }

    /// Reads an amount as it stands in a price list: as in [`parse`](Self::parse), also with the symbol or the code of the
    /// currency before or behind it, and with blanks around each: `€45`, `45.50 €`, `EUR 45`.
    pub fn parse_listed(self, text: &str) -> Option<Minor> {
        let text = text.trim();
        self.parse(self.without_mark(text).unwrap_or(text))
    }

    /// Whether a text names this currency alone, by its code in upper or lower case or by its symbol.
    pub fn is_named(self, text: &str) -> bool {
        self.without_mark(text.trim()).is_some_and(str::is_empty)
    }

    /// A text without the symbol or the code of the currency at one of its ends; `None` if neither stands there.
    fn without_mark(self, text: &str) -> Option<&str> {
        let by_symbol = self
            .symbol()
            .and_then(|symbol| text.strip_prefix(symbol).or_else(|| text.strip_suffix(symbol)));
        if by_symbol.is_some() || self.code.is_empty() {
            return by_symbol;
        }
        let length = self.code.len();
        let before = text.split_at_checked(length);
        let behind = text
            .len()
            .checked_sub(length)
            .and_then(|at| text.split_at_checked(at))
            .map(|(rest, code)| (code, rest));
        let mut ends = before.into_iter().chain(behind);
        ends.find(|(code, _)| code.eq_ignore_ascii_case(self.code))
            .map(|(_, rest)| rest)
    }

    /// An amount of minor units as a person would type it: `38`, `18.50`.
    pub fn typed(self, minor: Minor) -> String {
        match minor.0 % self.minor_units() {
            0 => (minor.0 / self.minor_units()).to_string(),
            _ => self.format(minor),
        }
    }

    /// An amount of minor units as people write it: `£45.50`, `45.50 CHF`; without either if the shop has not set its
    /// currency.
    pub fn words(self, minor: Minor) -> String {
        let mut text = self.format(minor);
        if let Some(symbol) = self.symbol() {
            // The sign stands before the symbol: `-£45.50`.
            text.insert(usize::from(minor < Minor::ZERO), symbol);
            return text;
        }
        if !self.code.is_empty() {
            text.push('\u{a0}');
            text.push_str(self.code);
        }
        text
    }

    /// The symbol that people write before an amount; `None` where the code tells more, as with the many dollars.
    fn symbol(self) -> Option<char> {
        match self.code {
            "EUR" => Some('€'),
            "GBP" => Some('£'),
            "USD" => Some('$'),
            _ => None,
        }
    }

    /// Writes an amount of minor units with its decimals: `45.50`, `4550`, `45.500`.
    pub fn format(self, minor: Minor) -> String {
        let sign = if minor < Minor::ZERO { "-" } else { "" };
        let (all, unit) = (minor.0.unsigned_abs(), self.minor_units().unsigned_abs());
        let decimals = usize::from(self.decimals);
        match decimals {
            0 => format!("{sign}{all}"),
            _ => format!("{sign}{}.{:0decimals$}", all / unit, all % unit),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Compares with the `iso_currency` library's tables of ISO 4217. A code that only one side has was added or
    /// withdrawn since the other was written; a few such codes are allowed, but the common ones must be on both sides.
    #[test]
    fn the_tables_are_those_of_the_standard() {
        let mut unknown = Vec::new();
        for code in Currency::codes() {
            match iso_currency::Currency::from_code(code) {
                Some(theirs) => {
                    let ours = Currency::of(code).unwrap();
                    assert_eq!(Some(u16::from(ours.decimals())), theirs.exponent(), "{code}");
                }
                None => unknown.push(code),
            }
        }
        assert!(unknown.len() <= 3, "{unknown:?}");
        assert!(CODES.len() / 3 > 150 && CODES.len().is_multiple_of(3));
    }

    #[test]
    fn amounts_as_people_type_them() {
        let of = |code: &str| Currency::of(code).unwrap();
        for (code, text, minor) in [
            ("EUR", "45.5", Some(4550)),
            ("eur", " 45,05 ", Some(4505)),
            ("JPY", "4550", Some(4550)),
            ("JPY", "4550.5", None),
            ("JPY", "4550.", None),
            ("KRW", "9999999999", Some(9_999_999_999)),
            ("KWD", "4.5", Some(4500)),
            ("KWD", "4.005", Some(4005)),
            ("USD", "4.005", None),
            ("USD", "-4", None),
            ("USD", "10000000", None),
            ("USD", "", None),
            ("USD", "four", None),
        ] {
            assert_eq!(of(code).parse(text), minor.map(Minor), "{code} {text}");
        }
        assert_eq!(of("JPY").format(Minor(4550)), "4550");
        assert_eq!(of("KWD").format(Minor(-4005)), "-4.005");
        assert_eq!(
            Currency::default().format(Minor(i64::MIN)),
            "-92233720368547758.08"
        );
    }

    #[test]
    fn amounts_as_price_lists_have_them() {
        let of = |code: &str| Currency::of(code).unwrap();
        for (code, text, minor) in [
            ("EUR", "€45", Some(4500)),
            ("EUR", "45\u{a0}€", Some(4500)),
            ("EUR", "eur 45,50", Some(4550)),
            ("EUR", "45", Some(4500)),
            ("GBP", " £ 45.50", Some(4550)),
            ("CHF", "45\u{202f}CHF", Some(4500)),
            ("EUR", "£45", None),
            ("EUR", "45 CHF", None),
            ("EUR", "€45€", None),
            ("EUR", "€", None),
            ("EUR", "4é5", None),
        ] {
            assert_eq!(of(code).parse_listed(text), minor.map(Minor), "{code} {text}");
        }
        assert_eq!(Currency::default().parse_listed("45"), Some(Minor(4500)));
        assert!(of("EUR").is_named(" eur ") && of("EUR").is_named("€"));
        assert!(!of("EUR").is_named("GBP") && !of("EUR").is_named("EUR 4") && !of("EUR").is_named(""));
    }

    #[test]
    fn what_is_no_currency_is_none() {
        for code in ["", "EU", "EURO", "XXX", "XAU", "AEF", "éé", "123"] {
            assert_eq!(Currency::of(code), None, "{code}");
        }
    }

    #[test]
    fn an_amount_is_typed_without_needless_decimals_and_told_as_people_write_it() {
        let euro = Currency::of("eur").unwrap();
        assert_eq!(
            (euro.typed(Minor(3_800)), euro.typed(Minor(1_850))),
            ("38".to_owned(), "18.50".to_owned())
        );
        assert_eq!(Currency::of("JPY").unwrap().typed(Minor(4_500)), "4500");
        assert_eq!(euro.words(Minor(3_800)), "€38.00");
        assert_eq!(Currency::of("GBP").unwrap().words(Minor(-450)), "-£4.50");
        assert_eq!(Currency::of("CHF").unwrap().words(Minor(3_800)), "38.00\u{a0}CHF");
        assert_eq!(Currency::default().words(Minor(3_800)), "38.00");
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back(at in 0usize..150, minor in 0i64..900_000_000) {
            let currency = Currency::of(Currency::codes().nth(at).unwrap()).unwrap();
            prop_assert_eq!(currency.parse(&currency.format(Minor(minor))), Some(Minor(minor)));
        }
    }
}
