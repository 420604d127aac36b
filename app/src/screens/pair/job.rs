//! One visit of the pair, with everything about its job.

mod remarks;

use leptos::prelude::*;
use shared::log::body::{Damage, Photo, Step, TakenOut};
use shared::log::fold::{Item, JobLine, JobState, PairHistory, bench};
use shared::log::{EntryId, MadeAt, PersonId, SubjectId};
use shared::price::bill;
use shared::trade::component::Component;
use shared::trade::final_check;
use shared::trade::line_name;

use super::super::calc::measured;
use super::super::collect::paid_words;
use super::super::job::makes_good;
use super::super::with_it::with_it;
use super::fitted::the_day;
use super::lines::{self, Said};
use super::ways::of_job;
use crate::parts::{Face, Photograph, kept_fold, on_day, promised_for};
use crate::shop::ShopContext;
use app_core::commands::counted_goods;
use app_core::pair_history::{before_and_after, caption};
use remarks::{loose, remarked};

/// How a visit is shown.
#[derive(Debug, Clone, Copy)]
pub(super) struct VisitShown {
    /// With its pictures; else as a line.
    pub(super) pictured: bool,
    /// With the links about its job.
    pub(super) ways: bool,
}

/// One visit: the pair before and after, its number, and what was done; a tap unfolds everything about the job.
pub(super) fn one(
    line: &JobLine,
    job: &JobState,
    life: &PairHistory,
    shop: ShopContext,
    shown: VisitShown,
) -> impl IntoView + use<> {
    let named = if line.tag.is_empty() {
        words::pair::job_without_number().to_owned()
    } else {
        words::pair::job(&line.tag)
    };
    let summary = in_short(line, job, life, shown);
    let whole = whole(line, job, life, shop, shown);
    let fold = kept_fold(line.id.to_string(), "unfolds", summary, whole);
    let disputed = line
        .disputed
        .then(|| view! { <p class="bad">{words::pair::agreed_differently()}</p> });
    view! { <section class="job visit" class:brief={!shown.pictured} aria-label=named>{fold} {disputed}</section> }
}

/// What is seen of a visit until it is tapped.
fn in_short(line: &JobLine, job: &JobState, life: &PairHistory, shown: VisitShown) -> AnyView {
    let number = if line.tag.is_empty() {
        words::pair::without_number().to_owned()
    } else {
        line.tag.clone()
    };
    let (before, after) = before_and_after(job);
    let after = after.filter(|_| shown.pictured);
    let thumb = |photo: &Photo| photo.thumb.sha256.clone();
    let goods = life.pair.goods_code().unwrap_or_default().to_owned();
    let first = view! { <Face of=before.map(thumb) on=Some(line.id) alt="" goods/> };
    let second = after.map(|photo| view! { <Face of=Some(thumb(photo)) on=Some(line.id) alt=""/> });
    let work: Vec<String> = bench::agreed(job).map(|line| line_name(&line.body)).collect();
    let day = job
        .opened
        .as_ref()
        .map(|slot| the_day(slot.current.at))
        .unwrap_or_default();
    let brought = words::pair::brought_for(&day, &work.join(", "));
    view! {
        <summary>
            <span class="both">{first} {second}</span>
            <h2>{number}" "<span class="quiet">{where_it_is(line)}</span></h2>
            <span class="quiet brought">{brought}</span>
        </summary>
    }
    .into_any()
}

/// Everything about a job.
fn whole(
    line: &JobLine,
    job: &JobState,
    life: &PairHistory,
    shop: ShopContext,
    shown: VisitShown,
) -> AnyView {
    let shelf = line.shelf.as_deref().map(words::pair::shelf);
    let since = [Some(on_day(line.opened_at)), promised_for(line), shelf];
    let since: Vec<String> = since.into_iter().flatten().collect();
    view! {
        <div class="unfolded">
            <p class="quiet">{since.join(", ")}</p>
            {makes_good(job, life)}
            {with_it(job, life)}
            {list(words::pair::agreed_work(), lines::agreed(job, (!shop.helper()).then(|| shop.money_kind())))}
            {list(words::pair::what_it_is_made_like(), construction(job))}
            {remarked(words::pair::what_was_seen(), seen(job), (line.id, job))}
            {list(words::pair::must_go_back_in(), bench::parts_out(job).map(part).collect())}
            {dated(words::pair::taken_off_and_put_back(), put_back(job, shop))}
            {list(words::pair::kept_for_the_customer(), bench::parts_for_customer(job).map(part).collect())}
            {dated(words::pair::questions(), questions(job))}
            {(!shop.helper()).then(|| dated(words::pair::money(), money(job, life, shop)))}
            {remarked(words::pair::work(), steps(job, shop), (line.id, job))}
            {(!job.measured.is_empty()).then(|| view! { <h3>{words::pair::measured()}</h3> {measured(line.id, &job.measured)} })}
            {loose(line.id, job, life)}
            <div class="photographs">{job.photos.iter().map(|item| photograph(line.id, item)).collect_view()}</div>
            {dated(words::pair::destroyed_photographs(), destroyed(job, shop))}
            {list(words::pair::checked_before_it_left(), checked(job))}
            {newer(job)}
            {shown.ways.then(|| ways_on(line))}
        </div>
    }
    .into_any()
}

fn where_it_is(line: &JobLine) -> &'static str {
    match (line.open, line.ready_at.is_some(), line.unrepaired) {
        (true, true, _) => words::pair::ready_to_collect(),
        (true, false, _) => words::pair::in_the_shop(),
        (false, _, true) => words::pair::given_back_as_it_was(),
        (false, _, false) => words::pair::handed_over(),
    }
}

/// The lines of the final check that were ticked.
fn checked(job: &JobState) -> Vec<String> {
    let lines = job.checked.iter().flat_map(|slot| &slot.current.body.ticked);
    lines.map(|line| final_check::shown(line).to_owned()).collect()
}

/// The construction as guessed, as found when opened, and as it left, as far as noted; and the accessories.
fn construction(job: &JobState) -> Vec<String> {
    let guessed = job.construction_guessed();
    let opened = job.construction_opened();
    let left = job.construction_left();
    let said = [
        guessed.map(|construction| words::pair::as_guessed(construction.words())),
        opened.map(|construction| words::pair::as_opened(construction.words())),
        left.map(|construction| words::pair::as_it_left(construction.words())),
    ];
    let mut all: Vec<String> = said.into_iter().flatten().collect();
    let came: Vec<String> = job.came_with().map(|one| one.words().to_owned()).collect();
    if !came.is_empty() {
        all.push(words::pair::came_with(&came.join(", ")));
    }
    all
}

/// The questions, each followed by the attempts to get an answer.
fn questions(job: &JobState) -> Vec<Said> {
    let of_each = job.questions.iter().flat_map(|question| {
        let tries = job
            .answers
            .iter()
            .filter(|answer| answer.body.question == question.entry);
        let tries = tries.map(|answer| Said {
            text: lines::came_of(&answer.body.outcome).to_owned(),
            quiet: on_day(answer.at.utc),
        });
        let asked = Said {
            text: lines::question(job, question),
            quiet: on_day(question.at.utc),
        };
        std::iter::once(asked).chain(tries)
    });
    of_each.collect()
}

/// The goods sold on the ticket of a job, and the payments on it.
fn money(job: &JobState, life: &PairHistory, shop: ShopContext) -> Vec<Said> {
    let ticket = life.ticket_of(job);
    let sold = ticket.into_iter().flat_map(|ticket| &ticket.sold);
    let sold = sold.map(|item| {
        let goods = counted_goods(&item.body.what, item.body.count);
        Said {
            text: words::pair::sold_on_its_ticket(&goods, &shop.money(bill::goods(&item.body))),
            quiet: when_and_who(item.at, item.person, shop),
        }
    });
    let payments = ticket.into_iter().flat_map(|ticket| &ticket.payments);
    let said = payments.map(|item| Said {
        text: words::pair::paid_for_its_ticket(paid_words(&item.body.what), &shop.money(item.body.minor)),
        quiet: when_and_who(item.at, item.person, shop),
    });
    sold.chain(said).collect()
}

/// What was found, each with its entry.
fn seen(job: &JobState) -> Vec<(Said, EntryId)> {
    let said = |item: &Item<Damage>| Said {
        text: lines::damage(&item.body),
        quiet: String::new(),
    };
    job.damage.iter().map(|item| (said(item), item.entry)).collect()
}

/// The parts that were taken off and put back, each with when, and by whom.
fn put_back(job: &JobState, shop: ShopContext) -> Vec<Said> {
    let back = bench::parts_put_back(job).map(|(out, back)| Said {
        text: part(out),
        quiet: when_and_who(back.at, back.person, shop),
    });
    back.collect()
}

/// A part that is or was out, and of which shoe.
fn part(out: &Item<TakenOut>) -> String {
    let part = Component::from(out.body.part.as_str());
    [part.words(), out.body.side.after()].concat()
}

/// What was done, each with its entry.
fn steps(job: &JobState, shop: ShopContext) -> Vec<(Said, EntryId)> {
    let said = |item: &Item<Step>| Said {
        text: lines::step(job, item),
        quiet: when_and_who(item.at, item.person, shop),
    };
    job.steps.iter().map(|item| (said(item), item.entry)).collect()
}

fn when_and_who(at: MadeAt, person: Option<PersonId>, shop: ShopContext) -> String {
    let when = on_day(at.utc);
    match person.and_then(|person| shop.name_of(person)) {
        Some(name) => words::pair::when_and_who(&when, &name),
        None => when,
    }
}

/// A list under its heading; nothing when it is empty.
fn list(heading: &'static str, lines: Vec<String>) -> impl IntoView {
    let plain = lines.into_iter().map(|text| Said {
        text,
        quiet: String::new(),
    });
    dated(heading, plain.collect())
}

fn dated(heading: &'static str, lines: Vec<Said>) -> impl IntoView {
    (!lines.is_empty()).then(|| {
        let items = lines
            .into_iter()
            .map(|one| view! { <li>{one.text}" "<span class="quiet">{one.quiet}</span></li> });
        view! { <h3>{heading}</h3> <ul class="plain" aria-label=heading>{items.collect_view()}</ul> }
    })
}

fn photograph(job: SubjectId, item: &Item<Photo>) -> impl IntoView + use<> {
    let caption = caption(&item.body).to_owned();
    view! { <Photograph photo=item.body.clone() job caption/> }
}

/// Destroyed photographs: only the entry that they were taken is left.
fn destroyed(job: &JobState, shop: ShopContext) -> Vec<Said> {
    let said = |item: &Item<Photo>| Said {
        text: words::pair::destroyed(caption(&item.body)),
        quiet: words::pair::taken(&when_and_who(item.at, item.person, shop)),
    };
    job.destroyed_photos.iter().map(said).collect()
}

fn newer(job: &JobState) -> impl IntoView + use<> {
    let count = job.newer.len();
    (count > 0).then(|| view! { <p class="quiet">{words::pair::newer_entries(count)}</p> })
}

/// Links to what can be done with it: while it is in the shop, and once it has left.
fn ways_on(line: &JobLine) -> impl IntoView + use<> {
    let id = line.id;
    let camera = (words::pair::camera(), format!("/camera/{id}"));
    let complaint = (words::pair::complaint(), format!("/complaint/{id}"));
    let [first, last] = if line.open {
        [Some(camera), None]
    } else {
        [None, Some(complaint)]
    };
    let links = first.into_iter().chain(of_job(line)).chain(last);
    let links =
        links.map(|(label, address)| view! { <a class="button bench quiet" href=address>{label}</a> });
    view! { <p class="row ways">{links.collect_view()}</p> }
}
