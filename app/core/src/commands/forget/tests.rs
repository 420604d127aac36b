use serde_json::json;
use shared::log::body::{Detail, Note, Retracted};
use shared::log::{Entry, SubjectId};
use support::sample::{Pen, WholeJob, unsent};
use uuid::Uuid;

use super::*;

fn detail(field: &str, value: &str) -> Body {
    Body::Detail(Detail {
        field: field.to_owned(),
        value: value.into(),
    })
}

/// The records of a customer with these jobs, and further entries about the same subjects.
fn records(jobs: &[&WholeJob], more: Vec<Entry>) -> CustomerRecords {
    let of = |kind: SubjectKind, id: SubjectId| Subject::new(kind, id);
    let subjects = jobs.iter().flat_map(|job| {
        [
            of(SubjectKind::Customer, job.customer),
            of(SubjectKind::Pair, job.pair),
            of(SubjectKind::Job, job.job),
            of(SubjectKind::Ticket, job.ticket),
        ]
    });
    let entries = jobs.iter().flat_map(|job| job.entries.clone());
    CustomerRecords {
        subjects: subjects.collect(),
        entries: unsent(&entries.chain(more).collect::<Vec<_>>()),
    }
}

#[test]
fn every_name_and_number_that_the_customer_ever_had_is_looked_for() {
    let mut pen = Pen::new(1);
    let (job, entered_twice) = (pen.whole_job(b"1"), pen.whole_job(b"2"));
    let mut of_customer = |customer, field, value| {
        let body = detail(field, value);
        pen.entry(SubjectKind::Customer, customer, &body)
    };
    let renamed = Entry {
        over: vec![job.entries[1].id],
        ..of_customer(job.customer, field::NAME, "Ottoline Brack")
    };
    let mistaken = of_customer(job.customer, field::PHONE, "030 555 0199");
    let phone = of_customer(entered_twice.customer, field::PHONE, "030 555 0142");
    let remark = of_customer(job.customer, field::LOOK, "tall");
    let retracts = Body::Retracted(Retracted { entry: mistaken.id });
    let retraction = pen.entry(SubjectKind::Customer, job.customer, &retracts);
    // What is called a name of something else is nobody's.
    let of_pair = pen.entry(SubjectKind::Pair, job.pair, &detail(field::NAME, "Sunday best"));
    let more = vec![renamed, mistaken, phone, remark, retraction, of_pair];
    let expected = PersonNames::new(
        ["Ada Example", "Ottoline Brack"],
        ["030 555 0199", "030 555 0142"],
    );
    assert_eq!(names_of(&records(&[&job, &entered_twice], more)), expected);
}

#[test]
fn of_a_customer_who_is_erased_already_nothing_is_looked_for() {
    let mut pen = Pen::new(1);
    let mut job = pen.whole_job(b"");
    for entry in &mut job.entries {
        if entry.subject.id == job.customer {
            entry.body.clear();
        }
    }
    assert!(names_of(&records(&[&job], Vec::new())).is_empty());
}

#[test]
fn the_jobs_whose_sections_were_published_are_on_cards() {
    let mut pen = Pen::new(1);
    let [shown, mut never, hidden] = [b"1", b"2", b"3"].map(|picture| pen.whole_job(picture));
    never.entries.retain(|entry| entry.kind != "published");
    let section = hidden.entries.iter().find(|entry| entry.kind == "published");
    let retracts = Retracted {
        entry: section.unwrap().id,
    };
    let retraction = pen.entry(SubjectKind::Job, hidden.job, &Body::Retracted(retracts));
    let found = on_cards(&records(&[&shown, &never, &hidden], vec![retraction]));
    assert_eq!(found, [Subject::new(SubjectKind::Job, shown.job)]);
}

#[test]
fn the_customer_the_sections_and_the_mentions_are_erased_by_one_save() {
    let mut pen = Pen::new(1);
    let (theirs, other) = (pen.whole_job(b"1"), pen.whole_job(b"2"));
    let said = Note {
        of: None,
        text: "as Ada asked".to_owned(),
        voice: None,
    };
    let said = pen.entry(SubjectKind::Ticket, other.ticket, &Body::Note(said));
    let left = Some(json!({ "text": "as … asked" }));
    let mention = Mention {
        text: "as Ada asked".to_owned(),
        certain: false,
        left: left.clone(),
    };
    let customers =
        [theirs.customer, pen.subject()].map(|customer| Subject::new(SubjectKind::Customer, customer));
    let jobs = [Subject::new(SubjectKind::Job, theirs.job)];
    let mentions = [(ReceivedEntry::unsent(said.clone()), mention)];
    let person = Some(PersonId(Uuid::from_u128(9)));
    let of_mention = MentionErased { entry: said.id, left };
    let [one, again] = customers.clone();
    let erased = Body::Erased(Erased { blob: None });
    let expected = [
        Draft::new(jobs[0].clone(), Body::Withdrawn(Withdrawn {})),
        Draft::new(said.subject, Body::MentionErased(of_mention)),
        Draft::new(one, erased.clone()),
        Draft::new(again, erased),
    ];
    let drafts = erase(&customers, &jobs, &mentions, person);
    assert_eq!(drafts, expected.map(|draft| draft.by(person)));
}
