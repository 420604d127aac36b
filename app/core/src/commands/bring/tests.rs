//! Tests of what files say, and of what would be brought in.

use proptest::prelude::*;
use serde_json::json;
use shared::log::body::{Body, field};
use shared::log::fold::ShopState;
use shared::log::{Draft, Subject, SubjectKind};
use shared::price::minor::Minor;

use super::*;
use crate::commands::scene::{shop, subject};

fn customers(text: &str) -> CustomersFile {
    let kind = FileKind::of(text, &ShopState::default());
    customers_in(text, kind)
}

/// The customers of a file in which everything is understood.
fn understood(text: &str) -> Vec<ReadCustomer> {
    let file = customers(text);
    assert_eq!((&file.unread, &file.unknown), (&Vec::new(), &Vec::new()));
    file.customers
}

fn card(lines: &[&str]) -> ReadCustomer {
    let all = [&["BEGIN:VCARD", "VERSION:4.0"][..], lines, &["END:VCARD"][..]].concat();
    let [customer]: [ReadCustomer; 1] = understood(&all.join("\r\n")).try_into().expect("one card");
    customer
}

fn preview(text: &str, known: &[(&str, &str)]) -> CustomersPreview {
    let known = known
        .iter()
        .map(|(name, numbers)| ((*name).to_owned(), (*numbers).to_owned()));
    CustomersPreview::of(customers(text), &known.collect::<Vec<_>>())
}

proptest! {
    /// Whatever a file has, it is read to its end, and who would be brought in is somebody.
    #[test]
    fn any_file_is_read(
        bytes in prop::collection::vec(any::<u8>(), 0..200),
        cards in "(BEGIN:VCARD\r\n|END:VCARD\n|N;|FN:|TEL:|;ENCODING=QUOTED-PRINTABLE:|[=A-F0-9;:\"\n ,]){0,40}",
    ) {
        for text in [decoded(&bytes), cards] {
            for kind in FileKind::ALL {
                let file = customers_in(&text, kind);
                prop_assert!(file.customers.iter().all(|one| one.refused().is_none()));
                prop_assert!(file.unread.iter().all(|line| (1..=text.len() + 1).contains(&line.line)));
            }
            let prices = PricesPreview::of(&text, &ShopState::default());
            prop_assert!(prices.new.iter().all(|price| field::is_price(&price.field)));
        }
    }
}

#[test]
fn bytes_are_read_as_they_were_written() {
    let text = "Größe €5";
    let wide: Vec<u16> = text.encode_utf16().collect();
    let little: Vec<u8> = wide.iter().flat_map(|unit| unit.to_le_bytes()).collect();
    let big: Vec<u8> = wide.iter().flat_map(|unit| unit.to_be_bytes()).collect();
    for bytes in [
        text.as_bytes().to_vec(),
        [&b"\xef\xbb\xbf"[..], text.as_bytes()].concat(),
        b"Gr\xf6\xdfe \x805".to_vec(),
        [vec![0xff, 0xfe], little].concat(),
        [vec![0xfe, 0xff], big].concat(),
    ] {
        assert_eq!(decoded(&bytes), text, "{bytes:?}");
    }
    assert_eq!(decoded(b""), "");
}

#[test]
fn headings_are_understood_in_many_words() {
    for text in [
        "First name,Last name,Phone,E-mail\nLea,Example,555 0142,lea@shop.example",
        "\u{feff}Nachname;Vorname;Telefon;E-Mail-Adresse\r\nExample;Lea;555 0142;lea@shop.example\r\n",
        "Prénom\tNom\tTéléphone\tCourriel\nLea\tExample\t555 0142\tlea@shop.example",
        "NAME,tel.,mail\nLea Example,555 0142,lea@shop.example",
    ] {
        let [one]: [ReadCustomer; 1] = understood(text).try_into().expect("one customer");
        let said = (one.name.as_str(), one.phone.as_str(), one.email.as_str());
        assert_eq!(said, ("Lea Example", "555 0142", "lea@shop.example"), "{text}");
        assert_eq!(one.line, 2);
    }
}

#[test]
fn an_address_is_joined_and_the_mobile_number_comes_first() {
    let text = "name,phone,mobile,street,postcode,city,note\n\
        Lea,555 0142,'+00 170 1,High Street 1,1234,Anytown,\"calls\nback\"\n";
    let [one]: [ReadCustomer; 1] = understood(text).try_into().expect("one customer");
    assert_eq!(
        (one.phone.as_str(), one.phone_second.as_str()),
        ("+00 170 1", "555 0142")
    );
    assert_eq!(one.address, "High Street 1, 1234, Anytown");
    assert_eq!(one.note, "calls, back");
}

#[test]
fn what_is_not_understood_is_named_with_its_line() {
    let file = customers("name,phone,loyalty\nLea,555 0142,3\n,,7\nBen,12\" heel\nIda,1,2,3\n\nJo,,\n");
    let names: Vec<_> = file.customers.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(names, ["Lea", "Jo"]);
    assert_eq!(file.unknown, ["loyalty"]);
    let unread: Vec<_> = file.unread.iter().map(|line| (line.line, line.why)).collect();
    assert_eq!(
        unread,
        [
            (3, words::shop::bring::no_name_and_no_number()),
            (4, words::shop::bring::quotes_do_not_match()),
            (5, words::shop::bring::more_fields_than_headings()),
        ]
    );
    assert_eq!(file.unread[1].text, "Ben,12\" heel");
    let file = customers("Lea,555 0142\nBen,555 0143\n");
    assert!(file.customers.is_empty());
    assert_eq!(file.unread[0].why, words::shop::bring::no_headings());
}

#[test]
fn no_more_are_brought_in_than_one_save_takes() {
    let lines = (0..read::MOST_CUSTOMERS + 2).map(|number| format!("Customer {number}\n"));
    let file = customers(&["name\n".to_owned(), lines.collect()].concat());
    assert_eq!(file.customers.len(), read::MOST_CUSTOMERS);
    assert_eq!(file.unread.len(), 2);
}

/// The examples of RFC 6350, by section.
#[test]
fn the_examples_of_the_standard() {
    let folded = card(&[
        "FN:A",
        "NOTE:This is a long description",
        "  that exists on a long line.",
    ]);
    assert_eq!(
        folded.note, "This is a long description that exists on a long line.",
        "3.2"
    );
    assert_eq!(
        card(&["FN:Mr. John Q. Public\\, Esq."]).name,
        "Mr. John Q. Public, Esq.",
        "6.2.1"
    );
    for (name, wanted) in [
        ("N:Public;John;Quinlan;Mr.;Esq.", "John Quinlan Public"),
        (
            "N:Stevenson;John;Philip,Paul;Dr.;Jr.,M.D.,A.C.P.",
            "John Philip Paul Stevenson",
        ),
    ] {
        assert_eq!(card(&[name]).name, wanted, "6.2.2");
    }
    let address = card(&[
        "FN:A",
        "ADR;GEO=\"geo:12.3457,78.910\";LABEL=\"Mr. John Q. Public, Esq.\\n",
        " Mail Drop: TNE QB\\n123 Main Street\\nAny Town, CA  91921-1234\\n",
        " U.S.A.\":;;123 Main Street;Any Town;CA;91921-1234;U.S.A.",
    ]);
    assert_eq!(
        address.address, "123 Main Street, Any Town, CA, 91921-1234, U.S.A.",
        "6.3.1"
    );
    let numbers = card(&[
        "FN:A",
        "TEL;VALUE=uri;PREF=1;TYPE=\"voice,home\":tel:+1-555-555-5555;ext=5555",
        "TEL;VALUE=uri;TYPE=home:tel:+33-01-23-45-67",
    ]);
    assert_eq!(numbers.phone, "+1-555-555-5555 x5555", "6.4.1");
    assert_eq!(numbers.phone_second, "+33-01-23-45-67", "6.4.1");
    let mail = card(&["FN:A", "EMAIL;TYPE=work:jqpublic@xyz.example.com"]);
    assert_eq!(mail.email, "jqpublic@xyz.example.com", "6.4.2");
    let note = card(&[
        "FN:A",
        "NOTE:This fax number is operational 0800 to 1715",
        "  EST\\, Mon-Fri.",
    ]);
    assert_eq!(
        note.note, "This fax number is operational 0800 to 1715 EST, Mon-Fri.",
        "6.7.2"
    );
}

/// As telephones write them: groups, parameters without a name, quoted-printable with soft line breaks, pictures.
#[test]
fn older_cards_are_read() {
    let text = "BEGIN:VCARD\nVERSION:3.0\nN:Example;Lea;;;\nFN:Lea Example\nitem1.TEL;type=CELL;type=pref:555 0142\n\
        TEL;TYPE=HOME:555 0143\nEND:VCARD\n\
        begin:vcard\nVERSION:2.1\nN;CHARSET=UTF-8;ENCODING=QUOTED-PRINTABLE:Gr=C3=\n=BCn;Jo;;;\n\
        TEL;HOME:555 0145\nTEL;CELL:555 0144\nNOTE;ENCODING=QUOTED-PRINTABLE:two=0D=0Alines\n\
        PHOTO;ENCODING=BASE64;JPEG:/9j/4AAQ\nSkZJRgABAQ==\n\nEND:VCARD\n";
    let file = customers(text);
    assert_eq!(
        (file.unread, file.unknown),
        (Vec::new(), vec!["PHOTO".to_owned()])
    );
    let said = file
        .customers
        .iter()
        .map(|one| [one.name.as_str(), &one.phone, &one.phone_second, &one.note].map(str::to_owned));
    assert_eq!(
        said.collect::<Vec<_>>(),
        [
            ["Lea Example", "555 0142", "555 0143", ""].map(str::to_owned),
            ["Jo Grün", "555 0144", "555 0145", "two, lines"].map(str::to_owned),
        ]
    );
}

#[test]
fn a_card_without_end_or_without_anybody_is_named() {
    let file = customers("BEGIN:VCARD\nFN:\nBDAY:1990\nEND:VCARD\nstray\nBEGIN:VCARD\nFN:Ben\n");
    assert!(file.customers.is_empty());
    let unread: Vec<_> = file.unread.iter().map(|line| (line.line, line.why)).collect();
    assert_eq!(
        unread,
        [
            (1, words::shop::bring::no_name_and_no_number()),
            (5, words::shop::bring::not_a_line_of_a_card()),
            (6, words::shop::bring::card_does_not_end()),
        ]
    );
    assert_eq!(file.unknown, ["BDAY"]);
}

#[test]
fn who_is_known_already_is_told_by_number_or_name() {
    let text = "name,phone\n\
        Lea E.,+49 170 5550142\n\
        Example Ben,\n\
        Ben Example,555 0999\n\
        Ida,555 0177\n\
        Ida,5550177\n";
    let preview = preview(
        text,
        &[("Lea Example", "0170 555-0142"), ("Ben Example", "555 0143")],
    );
    let new: Vec<_> = preview.new.iter().map(|one| one.line).collect();
    assert_eq!(new, [4, 5], "one name, but another number; the first of two");
    let doubles = preview
        .doubles
        .iter()
        .map(|one| (one.customer.line, one.known.as_str(), one.by));
    assert_eq!(
        doubles.collect::<Vec<_>>(),
        [
            (2, "Lea Example", SameBy::Number),
            (3, "Ben Example", SameBy::Name),
            (6, "Ida", SameBy::Number),
        ]
    );
    let mut next = 0;
    let mut count = |doubles| {
        let drafts = preview.drafts(doubles, || {
            next += 1;
            subject(next)
        });
        drafts
            .iter()
            .filter(|draft| matches!(draft.body, Body::Opened(_)))
            .count()
    };
    assert_eq!((count(false), count(true)), (2, 5));
}

#[test]
fn a_customer_becomes_entries_of_what_is_stated() {
    let preview = preview("name,phone,email\nLea,,lea@shop.example\n", &[]);
    let drafts = preview.drafts(false, || subject(7));
    let fields = drafts.iter().filter_map(|draft| match &draft.body {
        Body::Detail(detail) => Some((detail.field.as_str(), detail.value.clone())),
        _ => None,
    });
    assert_eq!(
        fields.collect::<Vec<_>>(),
        [
            (field::NAME, json!("Lea")),
            (field::EMAIL, json!("lea@shop.example"))
        ]
    );
    assert!(
        drafts
            .iter()
            .all(|draft| draft.subject == Subject::new(SubjectKind::Customer, subject(7)))
    );
}

/// The fields that the drafts set, with their values.
fn set(drafts: &[Draft]) -> Vec<(String, serde_json::Value)> {
    let fields = drafts.iter().filter_map(|draft| match &draft.body {
        Body::Detail(detail) => Some((detail.field.clone(), detail.value.clone())),
        _ => None,
    });
    fields.collect()
}

#[test]
fn prices_are_read_by_code_or_name_in_either_usage() {
    let state = shop(&[("currency", json!("EUR")), ("price/Bell repair/boot", json!(700))]);
    let text = "Work;Shoe;boot;Sneaker;Room\n\
        half_sole;38,50;40;;x\n\
        Heels (top pieces);22;;;\n\
        bell repair;;8;;\n\
        Flying;1;;;\n\
        Half soles;cheap;;;\n";
    assert_eq!(FileKind::of(text, &state), FileKind::Prices);
    let preview = PricesPreview::of(text, &state);
    let read: Vec<_> = preview
        .new
        .iter()
        .map(|price| (price.field.as_str(), price.minor, price.before))
        .collect();
    assert_eq!(
        read,
        [
            ("price/half_sole/low_shoe", Minor(3850), None),
            ("price/half_sole/boot", Minor(4000), None),
            ("price/top_piece_replacement/low_shoe", Minor(2200), None),
            ("price/Bell repair/boot", Minor(800), Some(Minor(700))),
        ]
    );
    assert_eq!(preview.unknown, ["Room"]);
    let unread: Vec<_> = preview.unread.iter().map(|line| (line.line, line.why)).collect();
    assert_eq!(
        unread,
        [
            (5, words::shop::bring::no_such_work()),
            (6, words::shop::bring::not_a_price())
        ]
    );
    let drafts = preview.drafts(&Subject::new(SubjectKind::Shop, subject(9)), &state);
    assert_eq!(
        set(&drafts)[0],
        ("price/half_sole/low_shoe".to_owned(), json!(3850))
    );
    assert_eq!(drafts.len(), 4);
}

#[test]
fn a_price_that_is_there_already_is_only_counted() {
    let state = shop(&[("price/half_sole/boot", json!(4000))]);
    let preview = PricesPreview::of("operation,boot,belt\nhalf_sole,40.00,9\nhalf_sole,41,\n", &state);
    assert!(preview.new.is_empty());
    assert_eq!(preview.same, 1);
    let unread: Vec<_> = preview.unread.iter().map(|line| (line.line, line.why)).collect();
    assert_eq!(
        unread,
        [
            (2, words::shop::bring::not_done_on_such_goods()),
            (3, words::shop::bring::stands_there_twice()),
        ]
    );
}

#[test]
fn a_table_of_one_price_a_line_has_every_kind_of_price() {
    let text = "price_for,code,name,variant,goods,goods_name,price,currency\r\n\
        operation,half_sole,Half soles,,boot,Boot,40.00,EUR\r\n\
        variant,half_sole,Half soles,leather,boot,Boot,50.00,EUR\r\n\
        one_shoe,half_sole,Half soles,,boot,Boot,25.00,EUR\r\n\
        package,half_soles_and_heels,Half soles and heels,,boot,Boot,55.00,EUR\r\n\
        piece,Laces,,,,,4.00,EUR\r\n\
        variant,half_sole,Half soles,cheese,boot,Boot,1.00,EUR\r\n";
    let preview = PricesPreview::of(text, &ShopState::default());
    let read: Vec<_> = preview
        .new
        .iter()
        .map(|price| (price.field.as_str(), price.minor.0))
        .collect();
    assert_eq!(
        read,
        [
            ("price/half_sole/boot", 4000),
            ("price_of/half_sole/leather/boot", 5000),
            ("price_one/half_sole/boot", 2500),
            ("price_package/half_soles_and_heels/boot", 5500),
            ("goods/Laces", 400),
        ]
    );
    assert_eq!(preview.unread.len(), 1);
    assert!(preview.unknown.is_empty());
}
