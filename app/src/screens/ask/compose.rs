//! The form for the next question to the customer: filled in from the findings, and sent by the phone's share sheet or
//! as a message.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::body::{Choice, Damage, Question};
use shared::log::fold::{Item, JobState, Summary};
use shared::log::{EntryId, SubjectId};
use shared::price::minor::Minor;
use shared::shelf::Materials;
use shared::text::unless_empty;
use shared::trade::Goods;
use shared::trade::amount::LineSize;

use super::way::{ChoiceForm, MOST, fields};
use crate::device::picture::letter;
use crate::device::pictures::fetched;
use crate::device::share::{NewFile, Passed, share_files};
use app_core::commands::inside::{ask, sentence, unasked, ways};
use app_core::commands::ways::{Hour, a_year, sentences};
use app_core::store::Size;

use crate::parts::Face;
use crate::screens::job::JobLife;
use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};

/// The question as it is typed.
#[derive(Clone)]
struct Letter {
    text: RwSignal<String>,
    ways: Vec<ChoiceForm>,
    /// SHA-256 of the photograph's full picture and its small copy.
    photo: Option<(String, String)>,
    damage: Option<EntryId>,
}

impl Letter {
    /// The question that the form holds now.
    ///
    /// # Errors
    /// What is wrong in the form, in words for the person.
    fn question(&self) -> Result<Question, &'static str> {
        let mut choices = Vec::new();
        for way in &self.ways {
            choices.extend(way.read()?);
        }
        Ok(Question {
            text: self.text.get().trim().to_owned(),
            choices,
            photo: self.photo.as_ref().map(|(full, _)| full.clone()),
            damage: self.damage,
        })
    }
}

/// The text for the customer: the question, then the choices.
fn lines(question: &Question, money: impl Fn(Minor) -> String) -> Vec<String> {
    let ways = sentences(&question.choices, money);
    let ways = (1..)
        .zip(ways)
        .map(|(n, say): (u32, String)| format!("{n}. {say}"));
    std::iter::once(question.text.clone()).chain(ways).collect()
}

/// The shop's hourly target and its tax rate; `None` while no target is set.
fn hour(shop: ShopContext) -> Option<Hour> {
    let minor = shop.state().hourly_target()?;
    Some(Hour {
        minor,
        tax: shop.tax(),
    })
}

/// The form for a question about the damage entry `about`, or else about the first finding that nobody has asked about.
pub(super) fn compose(
    life: &JobLife,
    summary: &Summary,
    about: Option<EntryId>,
    materials: &Materials,
) -> impl IntoView + use<> {
    let session = use_session();
    let shop = use_shop();
    let job = life.job;
    let state = life.state().cloned().unwrap_or_default();
    let goods = life.life.pair.goods_code().unwrap_or_default().to_owned();
    let letter = prepare(&state, about, (&summary.title, &goods), shop, materials);
    let phone = summary.phone.clone();
    let face = letter.photo.as_ref().map(|(_, thumb)| thumb.clone());
    let hour = hour(shop);
    let shown = letter
        .ways
        .iter()
        .enumerate()
        .map(|(n, way)| fields(n, way, hour));
    let shown = shown.collect_view();
    let text = letter.text;
    let letter = StoredValue::new(letter);
    let written = move || {
        let question = untrack(|| letter.with_value(Letter::question));
        // If the form cannot be read, it stays as it is and nothing is sent.
        question.map_err(|wrong| session.complain(wrong)).ok()
    };
    let money = move |minor| shop.money(minor);
    let send = move |_| {
        let Some(question) = written() else { return };
        let text = lines(&question, money);
        spawn_local(async move { pass_on(session, job, question, text).await });
    };
    let note = move |question: Question| {
        session.save_and(vec![ask(job, question)], move |_| {
            session.tell(words::ask::asked_and_held())
        });
    };
    let by_message = move |_| {
        let Some(question) = written() else { return };
        let body = String::from(js_sys::encode_uri_component(&lines(&question, money).join("\n")));
        note(question);
        // On a device that cannot send messages nothing happens; the question is noted all the same.
        drop(
            window()
                .location()
                .set_href(&["sms:", &phone, "?body=", &body].concat()),
        );
    };
    view! {
        <section class="card" aria-label=words::ask::next_question()>
            <h2>{words::ask::ask()}</h2>
            <div class="row">
                <Face of=face on=Some(job) alt=words::ask::photograph_that_goes_with_it()/>
            </div>
            <label class="field">
                <span>{words::ask::what_is_asked()}</span>
                <textarea rows="3" prop:value=move || text.get() on:input=move |event| text.set(event_target_value(&event))></textarea>
            </label>
            {shown}
            <Read letter hour/>
            <div class="stack">
                <button class="bench" on:click=send>{words::ask::send_picture_and_text()}</button>
                <button class="bench quiet" on:click=by_message>{words::ask::write_a_message()}</button>
                <button class="bench quiet" on:click=move |_| { written().map(note); }>{words::ask::i_have_asked()}</button>
            </div>
        </section>
    }
}

/// Shows the text for the customer, and below it the figures that only the repairer sees.
#[component]
fn Read(letter: StoredValue<Letter>, hour: Option<Hour>) -> impl IntoView {
    let shop = use_shop();
    let read = move || {
        let Ok(Question { choices, .. }) = letter.with_value(Letter::question) else {
            return ().into_any();
        };
        let cheapest = a_year(&choices).1.and_then(|at| choices.get(at));
        let cheapest =
            cheapest.map(|choice| view! { <p>{words::ask::year_of_wear_costs_least_with(&choice.say)}</p> });
        let ways = sentences(&choices, |minor| shop.money(minor)).into_iter();
        view! {
            <ol aria-label=words::ask::what_the_customer_reads()>{ways.map(|say| view! { <li>{say}</li> }).collect_view()}</ol>
            {cheapest}
        }
        .into_any()
    };
    let from = match hour {
        Some(hour) => words::ask::prices_worked_out_at(&shop.money(hour.minor)),
        None => words::ask::prices_of_the_list().to_owned(),
    };
    view! {
        <div class="read">{read}<p class="quiet">{from}</p></div>
    }
}

/// The damage that is asked about: the one with the entry `about`, else the first that nobody has asked about.
pub(super) fn asked_about(state: &JobState, about: Option<EntryId>) -> Option<&Item<Damage>> {
    let named = state.damage.iter().find(|item| Some(item.entry) == about);
    named.or_else(|| unasked(state).next())
}

/// Fills in the form: the finding in a sentence, its remedies at the shop's prices, and the choice to leave it as it
/// is.
fn prepare(
    state: &JobState,
    about: Option<EntryId>,
    (title, goods): (&str, &str),
    shop: ShopContext,
    materials: &Materials,
) -> Letter {
    let damage = asked_about(state, about);
    let kind = unless_empty(goods).map(Goods::from);
    let mut choices = damage
        .map(|item| {
            ways(&item.body, kind.as_ref(), |code| {
                // On one shoe where only one is damaged.
                let work = LineSize {
                    side: &item.body.side,
                    ..LineSize::usual(code)
                };
                shop.listed_work(work, goods).unwrap_or_default()
            })
        })
        .unwrap_or_default();
    choices.push(plain(words::ask::leave_as_it_is()));
    choices.resize(MOST.max(choices.len()), plain(""));
    let text = damage.map_or_else(
        || words::ask::question_about(title),
        |item| words::ask::question_about_finding(title, &sentence(&item.body)),
    );
    Letter {
        text: RwSignal::new(text),
        ways: choices
            .iter()
            .map(|choice| ChoiceForm::of(choice, shop, materials))
            .collect(),
        photo: picture(state, damage.map(|item| item.entry)),
        damage: damage.map(|item| item.entry),
    }
}

/// A choice without work from the list of operations.
fn plain(say: &str) -> Choice {
    Choice {
        say: say.to_owned(),
        operation: None,
        price_minor: Minor::ZERO,
        life_months: None,
    }
}

/// The photograph to send, by SHA-256 of the full picture and its small copy: the latest of this damage, else of any
/// damage, else the latest of the job.
fn picture(state: &JobState, damage: Option<EntryId>) -> Option<(String, String)> {
    let photos = || state.photos.iter().rev();
    let of_it = |item: &&Item<shared::log::body::Photo>| damage.is_some() && item.body.of == damage;
    let of_any = |item: &&Item<shared::log::body::Photo>| item.body.shows == shared::log::body::Shows::Damage;
    let found = photos()
        .find(of_it)
        .or_else(|| photos().find(of_any))
        .or_else(|| photos().next())?;
    Some((found.body.full.sha256.clone(), found.body.thumb.sha256.clone()))
}

/// Makes one picture of the photograph and the text, passes it to the phone's share sheet, and notes the question.
async fn pass_on(session: Session, job: SubjectId, question: Question, text: Vec<String>) {
    let Some(phone) = session.phone() else { return };
    let photo = match &question.photo {
        Some(hash) => fetched(&phone, hash, job, Size::Full).await.ok().flatten(),
        None => None,
    };
    let made = match letter(photo.as_deref(), &text).await {
        Ok(made) => made,
        Err(error) => return session.complain(error),
    };
    let file = NewFile {
        name: "question.jpg",
        media_type: "image/jpeg",
        bytes: &made,
    };
    match share_files(&[file], &text.join("\n")).await {
        Ok(Passed::Cancelled) => {}
        Ok(passed) => session.save_and(vec![ask(job, question)], move |_| {
            session.tell(if passed == Passed::Downloaded {
                words::ask::send_from_downloads_and_held()
            } else {
                words::ask::asked_and_held()
            });
        }),
        Err(error) => session.complain(error),
    }
}
