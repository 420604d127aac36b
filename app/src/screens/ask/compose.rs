//! The next question: prepared from what was found, sent through the phone's own ways.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::body::{Choice, Question, field};
use shared::log::fold::{Item, State, Summary};
use shared::log::{EntryId, SubjectId};
use shared::price::{format_minor, parse_minor};

use crate::acts::inside::{ask, sentence, unasked, ways};
use crate::device::picture::letter;
use crate::device::pictures::fetched;
use crate::device::share::{NewFile, Passed, share_files};
use crate::device::store::Size;
use crate::parts::{Face, Field};
use crate::screens::job::JobLife;
use crate::shop::use_shop;
use crate::workshop::{Workshop, use_workshop};

/// The most ways a customer is given to choose from.
const MOST: usize = 3;

/// A choice as it is written.
#[derive(Clone)]
struct Way {
    say: RwSignal<String>,
    price: RwSignal<String>,
    operation: String,
}

impl Way {
    fn of(choice: &Choice) -> Self {
        Self {
            say: RwSignal::new(choice.say.clone()),
            price: RwSignal::new(match choice.price_minor {
                0 => String::new(),
                minor => format_minor(minor),
            }),
            operation: choice.operation.clone(),
        }
    }
}

/// What will be sent, as it stands now.
#[derive(Clone)]
struct Letter {
    text: RwSignal<String>,
    ways: Vec<Way>,
    /// SHA-256 of the photograph's full picture and its small copy.
    photo: Option<(String, String)>,
    damage: Option<EntryId>,
}

impl Letter {
    fn question(&self) -> Question {
        let written = self
            .ways
            .iter()
            .filter(|way| !way.say.get_untracked().trim().is_empty());
        let choices = written.map(|way| Choice {
            say: way.say.get_untracked().trim().to_owned(),
            operation: way.operation.clone(),
            price_minor: parse_minor(&way.price.get_untracked()).unwrap_or(0),
        });
        Question {
            text: self.text.get_untracked().trim().to_owned(),
            choices: choices.collect(),
            photo: self.photo.as_ref().map(|(full, _)| full.clone()),
            damage: self.damage,
        }
    }
}

/// What the customer reads: the question, then the ways to choose from.
fn lines(question: &Question, money: impl Fn(i64) -> String) -> Vec<String> {
    let mut lines = vec![question.text.clone()];
    for (n, choice) in (1..).zip(&question.choices) {
        let price = match choice.price_minor {
            0 => "no charge".to_owned(),
            minor => money(minor),
        };
        lines.push([&n.to_string(), ". ", &choice.say, ": ", &price].concat());
    }
    lines
}

/// The question about `about`, or about the first finding nobody has asked about.
pub(super) fn compose(life: &JobLife, summary: &Summary, about: Option<EntryId>) -> impl IntoView + use<> {
    let workshop = use_workshop();
    let shop = use_shop();
    let job = life.job;
    let state = life.state().cloned().unwrap_or_default();
    let goods = life.life.pair.text(field::GOODS).to_owned();
    let letter = prepare(&state, about, &summary.title, |code| {
        shop.listed(code, &goods).unwrap_or(0)
    });
    let phone = summary.phone.clone();
    let face = letter.photo.as_ref().map(|(_, thumb)| thumb.clone());
    let shown = letter.ways.clone().into_iter().enumerate().map(|(n, way)| {
        let (choice, price) = LABELS[n.min(MOST - 1)];
        view! {
            <div class="row way">
                <Field label=choice value=way.say/>
                <Field label=price value=way.price inputmode="decimal"/>
            </div>
        }
    });
    let shown = shown.collect_view();
    let text = letter.text;
    let letter = StoredValue::new(letter);
    let written = move || {
        let question = letter.with_value(Letter::question);
        let text = lines(&question, |minor| shop.money(minor));
        (question, text)
    };
    let send = move |_| {
        let (question, text) = written();
        spawn_local(async move { pass_on(workshop, job, question, text).await });
    };
    let note = move |_| {
        let (question, _) = written();
        workshop.save_and(vec![ask(job, question)], move |_| {
            workshop.tell("Asked. The pair is held until there is an answer.")
        });
    };
    let message = move || {
        [
            "sms:",
            &phone,
            "?body=",
            &String::from(js_sys::encode_uri_component(&written().1.join("\n"))),
        ]
        .concat()
    };
    let message = StoredValue::new(message);
    view! {
        <section class="card" aria-label="The next question">
            <h2>"Ask"</h2>
            <div class="row">
                <Face of=face on=Some(job) alt="The photograph that goes with it"/>
            </div>
            <label class="field">
                <span>"What is asked"</span>
                <textarea rows="3" prop:value=move || text.get() on:input=move |event| text.set(event_target_value(&event))></textarea>
            </label>
            {shown}
            <div class="stack">
                <button class="bench" on:click=send>"Send picture and text"</button>
                <button class="bench quiet" on:click=move |ev| {
                    note(ev);
                    // Nothing to do about a browser without messages: the question is noted all the same.
                    drop(window().location().set_href(&message.with_value(|make| make())));
                }>"Write a message"</button>
                <button class="bench quiet" on:click=note>"I have asked"</button>
            </div>
        </section>
    }
}

/// The labels of the choices; no screen asks the same thing twice.
const LABELS: [(&str, &str); MOST] = [
    ("First choice", "Price of the first"),
    ("Second choice", "Price of the second"),
    ("Third choice", "Price of the third"),
];

/// Prepared: the finding in a sentence, its remedies at the shop's prices, and to leave it as it is.
fn prepare(state: &State, about: Option<EntryId>, title: &str, price: impl Fn(&str) -> i64) -> Letter {
    let named = state.damage.iter().find(|item| Some(item.entry) == about);
    let damage = named.or_else(|| unasked(state).next());
    let mut choices = damage.map(|item| ways(&item.body, price)).unwrap_or_default();
    choices.push(Choice {
        say: "Leave it as it is".to_owned(),
        operation: String::new(),
        price_minor: 0,
    });
    while choices.len() < MOST {
        choices.push(Choice {
            say: String::new(),
            operation: String::new(),
            price_minor: 0,
        });
    }
    let text = damage.map_or_else(
        || ["About your ", title, ": "].concat(),
        |item| {
            [
                "About your ",
                title,
                ". ",
                &sentence(&item.body),
                " What shall we do?",
            ]
            .concat()
        },
    );
    Letter {
        text: RwSignal::new(text),
        ways: choices.iter().map(Way::of).collect(),
        photo: picture(state, damage.map(|item| item.entry)),
        damage: damage.map(|item| item.entry),
    }
}

/// The photograph of the damage, else the latest of any damage, else the latest.
fn picture(state: &State, damage: Option<EntryId>) -> Option<(String, String)> {
    let photos = || state.photos.iter().rev();
    let of_it = |item: &&Item<shared::log::body::Photo>| damage.is_some() && item.body.of == damage;
    let of_any = |item: &&Item<shared::log::body::Photo>| item.body.shows == shared::log::body::Shows::Damage;
    let found = photos()
        .find(of_it)
        .or_else(|| photos().find(of_any))
        .or_else(|| photos().next())?;
    Some((found.body.full.sha256.clone(), found.body.thumb.sha256.clone()))
}

/// Makes one picture of photograph and words, hands it to the phone's share sheet, and notes that it was asked.
async fn pass_on(workshop: Workshop, job: SubjectId, question: Question, text: Vec<String>) {
    let Some(phone) = workshop.phone() else { return };
    let photo = match &question.photo {
        Some(hash) => fetched(&phone, hash, job, Size::Full).await.ok().flatten(),
        None => None,
    };
    let made = match letter(photo.as_deref(), &text).await {
        Ok(made) => made,
        Err(error) => return workshop.complain(error),
    };
    let file = NewFile {
        name: "question.jpg",
        media_type: "image/jpeg",
        bytes: &made,
    };
    match share_files(&[file], &text.join("\n")).await {
        Ok(Passed::Cancelled) => {}
        Ok(_) => workshop.save_and(vec![ask(job, question)], move |_| {
            workshop.tell("Asked. The pair is held until there is an answer.");
        }),
        Err(error) => workshop.complain(error),
    }
}
