//! What Records finds: everything that was logged of a pair, and goods that were sold without one.

use crate::common::*;
use app_core::store::memory::now;
use serde_json::{Map, json};
use shared::log::body::{Body, Damage, KeptFor, Measured, Opened, Seen, Side, Step, TakenOut, field};
use shared::log::{Draft, Subject, SubjectId, SubjectKind};

/// The pairs that Records finds for these words.
fn found(device: &Device, words: &str) -> Vec<SubjectId> {
    let pairs = now(device.store.search_logged(words, 10)).unwrap();
    pairs.into_iter().map(|summary| summary.id).collect()
}

/// The tickets without a pair that Records finds for these words.
fn found_sales(device: &Device, words: &str) -> Vec<SubjectId> {
    let sales = now(device.store.search_sales(words, 10)).unwrap();
    sales.into_iter().map(|sale| sale.ticket).collect()
}

/// A finding, a step with a cement, a part that is kept, and a measured height, on one job.
fn logged_on(job: &Subject) -> Vec<Draft> {
    let finding = Damage {
        part: "counter".to_owned(),
        condition: "zz-hummed".to_owned(),
        side: Side::Left,
        seen: Seen::Inside,
        decision: None,
        pays: None,
        note: String::new(),
    };
    let done = Step {
        operation: "top_piece_replacement".into(),
        side: Side::Both,
        note: String::new(),
        minutes: None,
        used: Vec::new(),
        line: None,
        cement: Some("Zz-stick 9".to_owned()),
    };
    let kept = TakenOut {
        part: "shank".to_owned(),
        side: Side::Left,
        kept_for: Some(KeptFor::Customer),
    };
    let mut given = Map::new();
    given.insert("now_mm".to_owned(), json!(12.5));
    let measured = Measured {
        what: "heel".to_owned(),
        operation: None,
        say: "Zz-say".to_owned(),
        given,
    };
    let bodies = [
        Body::Damage(finding),
        Body::Step(done),
        Body::TakenOut(kept),
        Body::Measured(measured),
    ];
    bodies.map(|body| Draft::new(job.clone(), body)).into()
}

#[test]
fn everything_logged_is_found_in_either_usage_until_it_is_erased() {
    let device = Device::new(1);
    let (logged, other) = (taken(&device), taken(&device));
    device.save(drop_off(&logged, "Ada Example", "derby"));
    device.save(drop_off(&other, "Ben Example", "boot"));
    device.save(logged_on(&logged.job));
    for words in [
        "stiffener",
        "counter",
        "zz-hummed",
        "top pieces",
        "heel caps",
        "Zz-stick",
        "shank",
        "heel height",
        "12.5 mm",
        "derby 12.5",
    ] {
        assert_eq!(found(&device, words), [logged.pair.id], "{words}");
    }
    // Both were agreed to have half soles, which neither is named by: a name is not looked for among them.
    assert_eq!(found(&device, "half soles"), [other.pair.id, logged.pair.id]);
    assert!(now(device.store.find("half soles")).unwrap().is_empty());

    now(device.store.erase(vec![logged.job], None)).unwrap();
    for word in ["zz-hummed", "zz-stick", "zz-say", "shank"] {
        assert!(found(&device, word).is_empty(), "{word}");
    }
    for word in ["Zz-", "zz-"] {
        assert_eq!(tables_with(&device.kv, word), [""; 0]);
    }
}

/// A ticket of a customer, on which goods are sold.
fn sale_to(device: &Device, name: &str, goods: &str) -> (Subject, Subject) {
    let (customer, ticket) = (
        device.subject(SubjectKind::Customer),
        device.subject(SubjectKind::Ticket),
    );
    let opened = |customer| {
        Body::Opened(Opened {
            customer,
            ..Opened::default()
        })
    };
    device.save(vec![
        Draft::new(customer.clone(), opened(None)),
        Draft::new(customer.clone(), detail(field::NAME, name)),
        Draft::new(customer.clone(), detail(field::PHONE, "+00 30 555-0142")),
        Draft::new(ticket.clone(), opened(Some(customer.id))),
        sell(&ticket, goods, 400),
    ]);
    (customer, ticket)
}

#[test]
fn goods_sold_alone_are_found_by_their_name_and_by_their_customer() {
    let device = Device::new(1);
    let (customer, ticket) = sale_to(&device, "Ada Example", "Laces 90");
    let nameless = device.subject(SubjectKind::Ticket);
    device.save(sale(&nameless, "Laces 120", 500));
    assert_eq!(
        found_sales(&device, "laces"),
        [nameless.id, ticket.id],
        "the last sale first"
    );
    for words in ["ada", "ada LACES", "0142", "90"] {
        assert_eq!(found_sales(&device, words), [ticket.id], "{words}");
    }
    let sale = now(device.store.search_sales("ada", 10)).unwrap().remove(0);
    assert_eq!(sale.customer.name(), Some("Ada Example"));
    assert_eq!(sale.state.sold[0].body.what, "Laces 90");
    assert!(found(&device, "laces").is_empty() && now(device.store.find("ada")).unwrap().is_empty());

    // The customer's own entries change, and none of the ticket.
    let over = now(device.store.entries_about(customer.id)).unwrap();
    let named = over
        .iter()
        .find(|held| held.entry.body.contains("Ada Example"))
        .unwrap();
    let corrected = Draft::new(customer.clone(), detail(field::NAME, "Zz-Adela")).over(vec![named.entry.id]);
    device.save(vec![corrected]);
    assert_eq!(found_sales(&device, "zz-adela"), [ticket.id]);
    assert!(found_sales(&device, "ada example").is_empty());
    now(device.store.erase(vec![customer], None)).unwrap();
    for word in ["Zz-Adela", "zz-adela"] {
        assert_eq!(tables_with(&device.kv, word), [""; 0]);
    }
    assert_eq!(
        found_sales(&device, "laces 90"),
        [ticket.id],
        "what was sold stays"
    );
}

#[test]
fn goods_sold_with_a_pair_are_found_with_the_pair_alone() {
    let device = Device::new(1);
    let (_, ticket) = sale_to(&device, "Ada Example", "Laces");
    let brought = Taken {
        ticket,
        ..taken(&device)
    };
    assert_eq!(found_sales(&device, "laces"), [brought.ticket.id]);
    // A pair is brought on the same ticket afterwards.
    let job = Opened {
        pair: Some(brought.pair.id),
        ticket: Some(brought.ticket.id),
        customer: None,
    };
    device.save(vec![
        Draft::new(brought.pair.clone(), Body::Opened(Opened::default())),
        Draft::new(brought.job.clone(), Body::Opened(job)),
    ]);
    assert!(found_sales(&device, "laces").is_empty());
    assert_eq!(found(&device, "laces"), [brought.pair.id]);
}

#[test]
fn goods_that_were_taken_back_are_not_found() {
    let device = Device::new(1);
    let ticket = device.subject(SubjectKind::Ticket);
    let saved = device.save(sale(&ticket, "Polish", 900));
    assert_eq!(found_sales(&device, "polish"), [ticket.id]);
    device.save(vec![take_back(&saved[1])]);
    assert!(found_sales(&device, "polish").is_empty());
    device.save(vec![sell(&ticket, "Brush", 700)]);
    assert_eq!(found_sales(&device, "brush"), [ticket.id]);
}
