//! The words of what was logged, which the search looks through: each once, in every usage, and never more than a phone
//! keeps for every pair.

use crate::support::{detail, entry, pair, subject_id};
use shared::log::body::{Agreed, Damage, Measured, Opened, Seen, Side, Sold, field};
use shared::log::fold::summary::LOGGED_FROM;
use shared::log::fold::{PairHistoryLoader, Summary};
use shared::log::{Body, ReceivedEntry, Subject, SubjectKind, about};
use shared::price::minor::Minor;

fn job(n: u8) -> Subject {
    Subject::new(SubjectKind::Job, subject_id(n))
}

fn ticket() -> Subject {
    Subject::new(SubjectKind::Ticket, subject_id(90))
}

fn opened() -> Body {
    Body::Opened(Opened {
        pair: Some(subject_id(1)),
        ticket: Some(ticket().id),
        customer: None,
    })
}

fn finding(part: &str, condition: &str) -> Body {
    Body::Damage(Damage {
        part: part.to_owned(),
        condition: condition.to_owned(),
        side: Side::Left,
        seen: Seen::Inside,
        decision: None,
        pays: None,
        note: String::new(),
    })
}

/// The summary of pair 1 after these entries, made one after the other.
fn summary(said: Vec<(Subject, Body)>) -> Summary {
    let made = (0..)
        .zip(said)
        .map(|(n, (subject, body))| ReceivedEntry::unsent(entry(n, subject, i64::from(n), 0, &body)));
    let entries: Vec<ReceivedEntry> = made.collect();
    let mut loader = PairHistoryLoader::pair(subject_id(1));
    loop {
        let wanted = loader.wanted();
        if wanted.is_empty() {
            return Summary::of(&loader.finish());
        }
        for id in wanted {
            let about_it = entries.iter().filter(|held| about(&held.entry).contains(&id));
            loader.give(id, about_it.cloned());
        }
    }
}

#[test]
fn what_was_found_agreed_measured_and_sold_is_in_the_text_in_either_usage() {
    let line = Agreed {
        variant: Some("leather".to_owned()),
        ..Agreed::at("top_piece_replacement", Minor(1_600))
    };
    let measured = Measured {
        what: "level".to_owned(),
        operation: None,
        say: String::new(),
        given: [("left_back_mm".to_owned(), 12.into())].into_iter().collect(),
    };
    let sold = Sold {
        what: "Laces 90".to_owned(),
        count: 1,
        price_minor: Minor(400),
    };
    let summary = summary(vec![
        (pair(1), detail(field::LOOK, "Derby")),
        (job(2), opened()),
        (job(2), finding("counter", "crushed")),
        (job(2), finding("zz-bell", "zz-humming")),
        (job(2), Body::Agreed(line)),
        (job(2), Body::Measured(measured)),
        (ticket(), Body::Opened(Opened::default())),
        (ticket(), Body::Sold(sold)),
    ]);
    let text = summary.search_text();
    let (tells, logged) = text.split_once(LOGGED_FROM).unwrap();
    assert!(
        tells.starts_with("derby") && !tells.contains("stiffener"),
        "{tells}"
    );
    let wanted = "stiffener counter crushed zz-bell zz-humming heels pieces caps lifts leather heel height 12 mm laces 90";
    for word in wanted.split(' ') {
        assert!(logged.contains(word), "{word}: {logged}");
    }
    assert_eq!(logged.matches("leather").count(), 1, "each word once: {logged}");
    assert_eq!(text, text.to_lowercase());
}

#[test]
fn the_text_of_a_pair_with_a_long_history_is_bounded_and_keeps_the_newest() {
    let mut said = vec![(pair(1), detail(field::LOOK, "Derby"))];
    for n in 2..80 {
        said.push((job(n), opened()));
        said.push((
            job(n),
            finding(&format!("zz{n:02}part"), "zz-humming and much more of it"),
        ));
    }
    let logged = summary(said).logged;
    assert!(logged.len() <= 600, "{}", logged.len());
    assert!(
        logged.contains("zz79part") && !logged.contains("zz02part"),
        "{logged}"
    );
}
