//! The entries of one stay that use every kind of entry and every field, for fixtures and for tests that must read all
//! of them.

mod asking;
mod erasing;
mod shelf;

use serde_json::{Map, Value, json};
use shared::log::body::{
    Agreed, Blob, CardLink, CardPhoto, Cause, Checked, Complaint, Damage, Decision, Detail, Gift, GiftWhy,
    HandedOver, KeptFor, Measured, Note, Opened, Order, Paid, Payment, Pays, Person, Photo, Published,
    PutBack, Redo, Retracted, Role, Section, Seen, Shows, Side, Skipped, Sold, Spent, Step, TakenOut, Used,
    Wait, WaitFor, WaitOver, Withdrawn, field,
};
use shared::log::{Body, EntryId, PersonId, Subject, SubjectId};
use shared::price::minor::Minor;

/// The subjects of the stay, and what its entries refer to.
#[derive(Debug, Clone)]
pub struct Stay {
    pub shop: Subject,
    pub customer: Subject,
    pub pair: Subject,
    pub ticket: Subject,
    pub job: Subject,
    /// The pair's earlier job, about which this one is a complaint.
    pub earlier: SubjectId,
    /// The person who works on it.
    pub person: PersonId,
    /// The secret of the pair's card.
    pub secret: String,
    pub full: Blob,
    pub thumb: Blob,
    pub voice: Blob,
}

/// Writes an entry of every kind except `same_as` and `erased`, which concern more than one stay. `write` makes an
/// entry from a subject, a body and the entries it replaces, and returns its id.
pub fn every_kind(stay: &Stay, mut write: impl FnMut(&Subject, Body, Vec<EntryId>) -> EntryId) {
    arrive(stay, &mut write);
    let step = work(stay, &mut write);
    asking::ask(stay, &mut write);
    erasing::erase(&stay.customer, &stay.job, &mut write);
    leave(stay, step, &mut write);
    shelf::keep(&stay.material(), &mut write);
}

type Write<'a> = &'a mut dyn FnMut(&Subject, Body, Vec<EntryId>) -> EntryId;

fn detail(field: impl Into<String>, value: impl Into<Value>) -> Body {
    let (field, value) = (field.into(), value.into());
    Body::Detail(Detail { field, value })
}

/// The entries of the drop-off.
fn arrive(stay: &Stay, write: Write<'_>) {
    let Stay {
        shop,
        customer,
        pair,
        ticket,
        job,
        ..
    } = stay;
    let customer_of = Opened {
        customer: Some(customer.id),
        ..Opened::default()
    };
    let stays = Opened {
        pair: Some(pair.id),
        ticket: Some(ticket.id),
        customer: None,
    };
    for (subject, opened) in [
        (customer, Opened::default()),
        (pair, customer_of.clone()),
        (ticket, customer_of),
        (job, stays),
    ] {
        write(subject, Body::Opened(opened), Vec::new());
    }
    let person = Person {
        person: stay.person,
        name: "Example, at the bench".to_owned(),
        role: Role::Repairer,
        left: false,
    };
    let once = write(shop, Body::Person(person.clone()), Vec::new());
    write(
        shop,
        Body::Person(Person {
            role: Role::Helper,
            left: true,
            ..person
        }),
        vec![once],
    );
    let stock = json!([{"material": "rubber sheet", "unit": "pair", "cost_minor": 640, "quantity": 1.5, "waste": 0.1}]);
    let settings = [
        (field::NAME.to_owned(), json!("Corner bench")),
        (
            field::TERMS.to_owned(),
            json!("A year on the stitching.\nUmlauts: äöü, \u{1F97F}"),
        ),
        (field::CURRENCY.to_owned(), json!("EUR")),
        (field::TAX.to_owned(), json!(190)),
        (field::hours(1), json!([[540, 780], [840, 1080]])),
        (field::CLOSED.to_owned(), json!([["2026-12-24", "2027-01-06"]])),
        (field::TIME_ZONE.to_owned(), json!("Europe/Vienna")),
        (field::HOURLY_TARGET.to_owned(), json!(6000)),
        (
            field::FINAL_CHECK.to_owned(),
            json!(["Feel inside for points", "Heels level"]),
        ),
        (field::price("half_sole", "low_shoe"), json!(4200)),
        (field::stock("half_sole"), stock),
        (field::of_ten("half_sole", "welted", "heel_base"), json!(3)),
    ];
    for (name, value) in settings {
        write(shop, detail(name, value), Vec::new());
    }
    write(customer, detail(field::NAME, "Ada Example"), Vec::new());
    write(customer, detail(field::PHONE, "+00 000 0000"), Vec::new());
    let plain = write(pair, detail(field::LOOK, "derby"), Vec::new());
    write(pair, detail(field::LOOK, "brown derby"), vec![plain]);
    write(
        pair,
        detail(field::MATERIALS, json!(["leather", "rubber"])),
        Vec::new(),
    );
    write(
        pair,
        Body::CardLink(CardLink {
            secret: stay.secret.clone(),
        }),
        Vec::new(),
    );
    write(ticket, detail(field::DAY, "2026-03-06"), Vec::new());
    write(ticket, detail(field::RUSH, true), Vec::new());
    write(ticket, detail(field::IF_HIDDEN, 2000), Vec::new());
    write(
        ticket,
        Body::Payment(Payment {
            minor: Minor(1000),
            what: Paid::Deposit,
        }),
        Vec::new(),
    );
    let laces = Sold {
        what: "Laces, 75 cm".to_owned(),
        count: 2,
        price_minor: Minor(700),
    };
    write(ticket, Body::Sold(laces), Vec::new());
    write(
        job,
        detail(field::CAME_WITH, json!(["laces", "trees"])),
        Vec::new(),
    );
    let complaint = Complaint {
        job: stay.earlier,
        step: None,
        operation: "half_sole".into(),
        cause: Some(Cause::Material),
        note: "Came off in the rain".to_owned(),
    };
    write(job, Body::Complaint(complaint), Vec::new());
}

/// The entries of the work at the bench. Returns the step that is neither replaced nor retracted.
fn work(stay: &Stay, write: Write<'_>) -> EntryId {
    let job = &stay.job;
    let line = write(
        job,
        Body::Agreed(Agreed::at("half_sole", Minor(4200))),
        Vec::new(),
    );
    write(
        job,
        Body::Agreed(Agreed {
            side: Side::Left,
            variant: Some("rubber".to_owned()),
            count: Some(2),
            package: Some("half_soles_and_heels".to_owned()),
            ..Agreed::at("half_sole", Minor(2100))
        }),
        vec![line],
    );
    write(job, Body::Agreed(Agreed::at("stretch", Minor(900))), Vec::new());
    let left_out = Skipped {
        line: None,
        operation: "stretch".into(),
        note: "Fits after all".to_owned(),
    };
    write(job, Body::Skipped(left_out), Vec::new());
    let order = vec!["sole_off".into(), "half_sole".into()];
    write(job, Body::Order(Order { operations: order }), Vec::new());
    let found = Damage {
        part: "heel_base".to_owned(),
        condition: "board".to_owned(),
        side: Side::Right,
        seen: Seen::Inside,
        decision: Some(Decision::Replace),
        pays: Some(Pays::ShopNeeded),
        note: "Under the leather wrap".to_owned(),
    };
    let damage = write(job, Body::Damage(found), Vec::new());
    let gift = Some(Gift {
        why: GiftWhy::Needed,
        worth_minor: Minor(1800),
    });
    let extra = Agreed {
        damage: Some(damage),
        gift,
        ..Agreed::at("heel_block", Minor(0))
    };
    write(job, Body::Agreed(extra), Vec::new());
    let brought = Photo::new(stay.full.clone(), stay.thumb.clone(), Shows::DropOff);
    write(job, Body::Photo(brought.clone()), Vec::new());
    let shown = Photo {
        operation: Some("half_sole".into()),
        of: Some(damage),
        shows: Shows::Damage,
        ..brought
    };
    write(job, Body::Photo(shown), Vec::new());
    let out = write(
        job,
        Body::TakenOut(TakenOut {
            kept_for: Some(KeptFor::Customer),
            part: "insole".to_owned(),
            side: Side::Both,
        }),
        Vec::new(),
    );
    write(job, Body::PutBack(PutBack { out }), Vec::new());
    let used = vec![Used {
        material: "rubber sheet".to_owned(),
        thousandths: 750,
        material_id: Some(stay.material().id),
    }];
    let step = Step {
        cement: Some("contact".to_owned()),
        line: Some(line),
        operation: "half_sole".into(),
        side: Side::Left,
        note: "Roughed twice".to_owned(),
        minutes: Some(25),
        used: used.clone(),
    };
    let first = write(job, Body::Step(step.clone()), Vec::new());
    write(
        job,
        Body::Redo(Redo {
            step: first,
            scrap: "one half sole".to_owned(),
        }),
        Vec::new(),
    );
    let stands = write(job, Body::Step(step), Vec::new());
    write(
        job,
        Body::Spent(Spent {
            step: stands,
            minutes: Some(20),
            used,
            cement: Some("neoprene".to_owned()),
        }),
        Vec::new(),
    );
    let wait = Wait {
        dries: Some("cement_touch_dry".to_owned()),
        what: WaitFor::Drying,
        minutes: Some(15),
        note: "half_sole".to_owned(),
        material: Some(stay.material().id),
    };
    let wait = write(job, Body::Wait(wait), Vec::new());
    write(job, Body::WaitOver(WaitOver { wait }), Vec::new());
    let given: Map<String, Value> = [
        ("block_mm".to_owned(), json!(24.5)),
        ("shank".to_owned(), json!("threaded")),
    ]
    .into_iter()
    .collect();
    let measured = Measured {
        what: "nails".to_owned(),
        operation: Some("heel_block".into()),
        say: "22 mm, seven".to_owned(),
        given,
    };
    write(job, Body::Measured(measured), Vec::new());
    let spoken = Note {
        of: Some(stands),
        text: "Said aloud".to_owned(),
        voice: Some(stay.voice.clone()),
    };
    write(job, Body::Note(spoken), Vec::new());
    let mistaken = write(
        &stay.pair,
        Body::Note(Note {
            of: None,
            text: "On the wrong pair".to_owned(),
            voice: None,
        }),
        Vec::new(),
    );
    write(
        &stay.pair,
        Body::Retracted(Retracted { entry: mistaken }),
        Vec::new(),
    );
    stands
}

/// The entries of final check, card, payment and hand-over.
fn leave(stay: &Stay, step: EntryId, write: Write<'_>) {
    let Stay {
        pair, ticket, job, ..
    } = stay;
    let photo = |caption: &str, shows| CardPhoto {
        blob: stay.full.clone(),
        caption: caption.to_owned(),
        shows,
    };
    let section = Section {
        title: "Brown derby".to_owned(),
        day: "2026-03-05".to_owned(),
        done: vec!["New half soles".to_owned()],
        found: vec!["Board under the leather wrap: replaced".to_owned()],
        gifts: vec!["A new heel block".to_owned()],
        advice: vec!["Dry flat, away from heat".to_owned()],
        notes: vec!["The left toe was worn more".to_owned()],
        wait_hours: Some(24),
        next_check: Some("2026-10-01".to_owned()),
        next_check_words: "autumn".to_owned(),
        terms: "A year on the stitching.".to_owned(),
        price: Some("42.00 EUR".to_owned()),
        shop: "Corner bench".to_owned(),
        shop_name: "Corner bench".to_owned(),
        goods: "low_shoe".to_owned(),
        new_parts: vec!["outsole".to_owned()],
        mended_parts: vec!["welt".to_owned()],
        photos: vec![photo("Before", None), photo("After", Some(Shows::Finished))],
        language: Some("en-US".to_owned()),
    };
    let publish = |seen| {
        Body::Published(Published {
            pair: pair.id,
            section: Box::new(section.clone()),
            seen,
        })
    };
    write(job, publish(Vec::new()), Vec::new());
    let withdrawn = write(job, Body::Withdrawn(Withdrawn {}), Vec::new());
    write(job, publish(vec![withdrawn]), Vec::new());
    write(
        job,
        Body::Checked(Checked {
            ticked: vec!["Feel inside for points".to_owned(), "Heels level".to_owned()],
            vouched: true,
        }),
        Vec::new(),
    );
    write(
        ticket,
        Body::Payment(Payment {
            minor: Minor(3200),
            what: Paid::Balance,
        }),
        Vec::new(),
    );
    write(
        job,
        Body::HandedOver(HandedOver { unrepaired: false }),
        Vec::new(),
    );
    write(
        job,
        Body::Spent(Spent {
            step,
            minutes: None,
            used: Vec::new(),
            cement: None,
        }),
        Vec::new(),
    );
}

#[cfg(test)]
mod tests;
