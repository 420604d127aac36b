//! Short texts that people type, scan or set: codes, hashes, amounts, rates, times, numbers of tags, settings of the
//! shop.

use app_core::stations::number_meant;
use serde_json::{Map, Value, json};
use server_core::store::BlobHash;
use shared::analytics::ShopSettings;
use shared::log::UnixMs;
use shared::log::body::field;
use shared::log::fold::{ShopState, TicketState};
use shared::price::currency::Currency;
use shared::price::materials::{stock, usual_cost};
use shared::price::minor::Minor;
use shared::price::tax;
use shared::trade::formulas::day::Day;
use shared::trade::formulas::instant::Instant;
use shared::week::{Hours, Week};

use crate::{headed, text};

/// The input: a text, which is given to every function that reads a short text.
pub(crate) fn words(data: &[u8]) {
    for kind in shared::sync::messages::MEDIA_TYPES {
        let told = server_core::photos::agrees(kind, data);
        assert!(!told || !data.is_empty());
    }
    assert!(!server_core::photos::agrees("text/html", data));
    let Some(text) = text(data) else { return };
    let typed = server_core::shop::typed(text);
    assert_eq!(
        server_core::shop::typed(&typed),
        typed,
        "a code in its one form stays so"
    );
    assert_eq!(server_core::shop::typed(&text.to_ascii_lowercase()), typed);
    assert!(typed.len() <= 16);
    if let Ok(hash) = text.parse::<BlobHash>() {
        assert_eq!(hash.to_string(), text, "a hash has one spelling");
    }
    for code in ["EUR", "JPY", "KWD"] {
        let currency = Currency::of(code).unwrap();
        if let Some(minor) = currency.parse(text) {
            assert_eq!(
                currency.parse(&currency.typed(minor)),
                Some(minor),
                "{code} {text}"
            );
        }
    }
    Currency::of(text);
    if let Some(rate) = tax::parse_rate(text) {
        assert_eq!(tax::parse_rate(&tax::format_rate(rate)), Some(rate), "{text}");
    }
    if let Some(day) = Day::parse(text) {
        let (year, month, date) = day.date();
        assert_eq!(Day::of(year, month, date), Some(day));
        assert_eq!(Day::counted(day.count()), Some(day));
        day.words();
    }
    if let Some(instant) = Instant::parse(text) {
        instant.after(60);
    }
    if let Some(value) = Hours::read(text) {
        let mut fields = Map::new();
        fields.insert(field::hours(1), value.clone());
        let hours = Hours::of(&ShopState::of_values(&fields));
        assert_eq!(
            Hours::read(&hours.typed(0)),
            Some(value),
            "hours are read as they are shown"
        );
    }
    app::card::in_words(text);
    assert_eq!(number_meant(Vec::new(), text), number_meant(Vec::new(), text));
}

/// The input: a time in ms since 1970 and a time zone on the first line, then a JSON object with any value under any
/// field, as another version of the app may have written the shop's settings.
pub(crate) fn settings(data: &[u8]) {
    let Some((head, fields)) = headed(data) else {
        return;
    };
    let Ok(fields) = serde_json::from_str::<Map<String, Value>>(fields) else {
        return;
    };
    let shop = ShopState::of_values(&fields);
    let known = ShopSettings::of(&shop);
    let written = serde_json::to_string(&known).unwrap();
    serde_json::from_str::<ShopSettings>(&written).unwrap();
    let hours = Hours::of(&shop);
    for spans in &hours.week {
        assert!(
            spans.windows(2).all(|two| two[0][1] <= two[1][0]),
            "no span lies over another"
        );
    }
    let (now, zone) = head.split_once(' ').unwrap_or((head, ""));
    let now = UnixMs(now.parse().unwrap_or(1_795_680_000_000));
    let week = Week::new(hours.clone(), zone, 60, now);
    let windows = week.windows(10);
    assert!(windows.iter().all(|[from, until]| from <= until));
    for minute in [0, 600, i64::from(i32::MAX)] {
        week.words(minute);
        week.time(minute);
        week.day(minute);
        week.at(minute);
    }
    let ticket = TicketState {
        details: shop.details.clone(),
        ..TicketState::default()
    };
    if let Some(day) = ticket.day().and_then(Day::parse) {
        week.due(day, ticket.ready_from());
        week.closes(day);
    }
    hours.stretched(90.0);
    let rate = shop.tax();
    for sum in [0, 1, 4_200, -4_200, i64::MAX, i64::MIN].map(Minor) {
        tax::due(sum, rate);
    }
    for operation in ["half_sole", ""] {
        usual_cost(&stock(&shop, operation));
        shop.price(operation, "low_shoe");
    }
    shop.hourly_target();
    let currency = Currency::of(shop.currency().unwrap_or_default());
    if let Some(currency) = currency {
        for minor in [0, -1, 4_200, i64::MAX, i64::MIN].map(Minor) {
            currency.words(minor);
        }
    }
}

pub(crate) fn seeds() -> Vec<Vec<u8>> {
    [
        "K7QM-2RTX",
        "45,50",
        "1999999999.99",
        "19",
        "7.25",
        "2026-03-02",
        "2025-03-01T18:00:00+01:00",
        "09:00-13:00, 14:00-18:00",
        "9-12;13:30–18",
        "01936f2a-7b1c-7e44-9d0a-3c5b8e1f2a60",
        "A-17",
        "EUR",
        "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08",
        "\u{89}PNG\r\n",
    ]
    .map(|seed| seed.as_bytes().to_vec())
    .into_iter()
    .chain([
        b"\xff\xd8\xff\xe0\0\x10JFIF".to_vec(),
        b"\x1a\x45\xdf\xa3\x9f".to_vec(),
        b"\0\0\0\x1cftypM4A ".to_vec(),
    ])
    .collect()
}

pub(crate) fn settings_seeds() -> Vec<Vec<u8>> {
    let fields = json!({
        "hours/1": [[540, 780], [840, 1080]], "hours/7": [], "closed": [["2026-12-24", "2027-01-06"]], "counter_share": 20,
        "hands": 2, "time_zone": "Europe/Vienna", "kept_share": 90, "tax": 190, "currency": "EUR", "hourly_target": 6000,
        "day": "2026-03-06", "ready_from": "15:00", "price/half_sole/low_shoe": 4200, "lengths": "in", "nail_lengths": [22, 25.5],
        "of_ten/half_sole/welted/board": 3,
        "stock/half_sole": [{"material": "rubber", "unit": "pair", "cost_minor": 640, "quantity": 1, "waste": 0.1}],
    });
    [
        "1795680000000 Europe/Vienna",
        "1774746000000 America/New_York",
        "0 ",
    ]
    .map(|head| format!("{head}\n{fields}").into_bytes())
    .to_vec()
}
