//! The care card before it is published: choosing its contents, and publishing, printing or saving it.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::analytics::{CheckForecast, Looks};
use shared::log::SubjectId;
use shared::log::body::Section;
use shared::log::fold::Card;
use shared::price::records::{At, PairFacts};

use super::choices::{Tick, flip};
use super::notes::{not_quite, notes};
use crate::analytics::recent;
use crate::card::{CardExtras, self_contained};
use crate::device::Phone;
use crate::device::analytics::ask_analytics;
use crate::device::build_file;
use crate::device::drawings::Drawings;
use crate::device::pictures::fetched;
use crate::device::screen::print;
use crate::device::share;
use crate::parts::{Face, Toggle, today};
use crate::screens::camera::Back;
use crate::screens::job::JobLife;
use crate::session::{Session, use_live_query, use_session};
use crate::shop::{ShopContext, use_shop};
use app_core::browser::clock::{now, offset_min};
use app_core::commands::{self, AtPickup};
use app_core::store::Size;

/// The name of the file of the build with the card's typeface.
pub(super) const TYPEFACE: &str = "card-type";

/// The form for the card's contents, and the buttons to publish, print or save it.
pub(super) fn care_card(found: &JobLife, chosen: RwSignal<AtPickup>) -> AnyView {
    let (session, shop) = (use_session(), use_shop());
    let job = found.job;
    let kept = StoredValue::new(found.clone());
    let section = move || compose(kept, shop, chosen);
    let publish = move |_| {
        let can = kept.with_value(|found| found.state().map_or(Ok(()), commands::can_tell));
        if let Err(why) = can {
            return session.complain(why);
        }
        let draft = kept.with_value(|found| commands::publish(&found.life, job, section()));
        session.save_and(vec![draft], move |_| session.tell(words::pickup::published()));
    };
    let drawings: Drawings = expect_context();
    let save = move |_| {
        let sections = with_earlier(kept, section());
        let goods = sections.first().map(|section| section.goods.as_str());
        // The preview has loaded it.
        let drawing = goods.and_then(|goods| untrack(|| drawings.named(goods)));
        save_as_file(session, job, sections, drawing);
    };
    view! {
        <section class="card stack on-card" aria-label=words::pickup::what_stands_on_the_card()>
            <h2>{words::pickup::on_the_card()}</h2>
            {photographs(found, chosen)}
            {not_quite(found, chosen)}
            {notes(found, chosen)}
            {advice(found, chosen)}
            {(!shop.helper()).then(|| price(chosen))}
            {next_check(found, chosen)}
        </section>
        <div class="stack">
            <button class="bench" on:click=publish>{words::pickup::publish_card()}</button>
            <div class="row">
                <button class="quiet" on:click=move |_| print()>{words::pickup::print_card()}</button>
                <button class="quiet" on:click=save>{words::pickup::save_card_as_file()}</button>
            </div>
        </div>
    }
    .into_any()
}

/// The section of this job as it would be published now.
pub(super) fn compose(found: StoredValue<JobLife>, shop: ShopContext, chosen: RwSignal<AtPickup>) -> Section {
    let shop = shop.state();
    found.with_value(|found| {
        chosen.with(|chosen| commands::compose(&found.life, found.job, &shop, &today(), now(), chosen))
    })
}

/// The section and those of earlier jobs without their photographs, which are on the server only.
pub(super) fn with_earlier(found: StoredValue<JobLife>, section: Section) -> Vec<Section> {
    let mut all = vec![section];
    found.with_value(|found| {
        if let Card::Sections(shown) = Card::of(&found.life) {
            let earlier = shown.into_iter().filter(|one| one.job != found.job);
            all.extend(earlier.map(|one| Section {
                photos: Vec::new(),
                ..one.section
            }));
        }
    });
    all
}

/// Makes the card a single file with its pictures, to share or print without a server.
fn save_as_file(session: Session, job: SubjectId, sections: Vec<Section>, drawing: Option<String>) {
    spawn_local(async move {
        let made = match session.phone() {
            Some(phone) => file_of(&phone, job, &sections, drawing).await,
            None => return,
        };
        let saved = made.and_then(|page| {
            share::download("care-card.html", "text/html", page.as_bytes()).map_err(|error| error.to_string())
        });
        if let Err(why) = saved {
            session.complain(why);
        }
    });
}

async fn file_of(
    phone: &Phone,
    job: SubjectId,
    sections: &[Section],
    drawing: Option<String>,
) -> Result<String, String> {
    let mut inside = Vec::new();
    for photo in sections.iter().flat_map(|section| &section.photos) {
        let hash = &photo.blob.sha256;
        let bytes = fetched(phone, hash, job, Size::Full)
            .await
            .map_err(|error| error.to_string())?;
        inside.extend(bytes.map(|bytes| (hash.clone(), bytes)));
    }
    let typeface = build_file::text(TYPEFACE).await.unwrap_or_default();
    let extras = CardExtras { drawing, typeface };
    self_contained(sections, &inside, extras).map_err(|_| words::pickup::file_could_not_be_made().to_owned())
}

/// Choosing the photographs that the customer may see.
fn photographs(found: &JobLife, chosen: RwSignal<AtPickup>) -> AnyView {
    let job = found.job;
    let photos = found.state().map(|job| job.photos.clone()).unwrap_or_default();
    let choices = photos.into_iter().enumerate().map(|(n, item)| {
        let hash = StoredValue::new(item.body.full.sha256);
        let on = move || {
            let out = |hash: &String| chosen.with(|made| made.photos_left_out.contains(hash));
            !hash.with_value(out)
        };
        let press =
            move |_| hash.with_value(|hash| chosen.update(|made| flip(&mut made.photos_left_out, hash)));
        view! {
            <label class="tick">
                <Face of=Some(item.body.thumb.sha256) on=Some(job) alt=words::pickup::photograph(n + 1)/>
                <input type="checkbox" prop:checked=on on:change=press/>
                <span>{words::pickup::show_photograph(n + 1)}</span>
            </label>
        }
    });
    let choices = choices.collect_view();
    view! {
        <div class="photographs">{choices}</div>
        <a class="button quiet" href=Back::Pickup.camera(job, Some("finished"), None)>{words::pickup::photograph_it_finished()}</a>
    }
    .into_any()
}

/// The advice for the customer; every line is included unless it is taken off.
fn advice(found: &JobLife, chosen: RwSignal<AtPickup>) -> AnyView {
    let all = found
        .state()
        .map(|job| commands::advised(&found.life, job))
        .unwrap_or_default();
    let lines = all.into_iter().map(|one| {
        let on = Signal::derive(move || {
            !chosen.with(|made| made.advice_left_out.iter().any(|out| out == one.key()))
        });
        let press = Callback::new(move |()| chosen.update(|made| flip(&mut made.advice_left_out, one.key())));
        view! { <li><Tick label=one.say().to_owned() on press/></li> }
    });
    view! {
        <h3>{words::pickup::advice()}</h3>
        <ul class="plain ticks">{lines.collect_view()}</ul>
    }
    .into_any()
}

fn price(chosen: RwSignal<AtPickup>) -> AnyView {
    let on = Signal::derive(move || chosen.with(|made| made.price_on_card));
    let press = Callback::new(move |()| chosen.update(|made| made.price_on_card = !made.price_on_card));
    view! { <Tick label=words::pickup::the_price().to_owned() on press/> }.into_any()
}

/// Choosing when the pair should be looked at again.
fn next_check(found: &JobLife, chosen: RwSignal<AtPickup>) -> AnyView {
    let chips = [Some(3), Some(6), Some(12), None].map(|months| {
        let label = match months {
            Some(months) => words::pickup::months_until_check(months),
            None => words::pickup::no_next_check().to_owned(),
        };
        let on = Signal::derive(move || {
            chosen.with(|made| made.next_check == months && made.check_as_worn.is_none())
        });
        let press = Callback::new(move |()| {
            chosen.update(|made| {
                made.next_check = months;
                made.check_as_worn = None;
            });
        });
        view! { <Toggle label on press/> }
    });
    let as_worn = as_worn(found, chosen);
    view! {
        <div class="chips" role="group" aria-label=words::pickup::next_check()>
            <span>{words::pickup::next_check_is()}</span>{chips.collect_view()}{as_worn}
        </div>
    }
    .into_any()
}

/// A button for the next check that the wear forecast gives; nothing while there is no forecast.
fn as_worn(found: &JobLife, chosen: RwSignal<AtPickup>) -> impl IntoView + use<> {
    let (facts, job) = (PairFacts::of(&found.life), found.job);
    let looks = use_live_query(move |phone| {
        let asked = Looks {
            own: facts.jobs.clone(),
            leaving: Some((job, At(now().0, offset_min()))),
            today: today(),
        };
        async move { ask_analytics::<_, Vec<CheckForecast>>(&asked, &recent(&phone).await?).await }
    });
    move || {
        let day = today();
        let known = looks.get()?.into_iter();
        let mut later = known.filter_map(|look| Some((look.on.clone().filter(|on| on.day > day)?, look)));
        let (on, look) = later.next()?;
        let told = (on.day, on.when);
        let this = told.clone();
        let on = Signal::derive(move || chosen.with(|made| made.check_as_worn.as_ref() == Some(&this)));
        let label = words::pickup::check_as_it_wears(&told.1);
        let press = Callback::new(move |()| chosen.update(|made| made.check_as_worn = Some(told.clone())));
        let why = words::pickup::part_and_why(&look.part, &look.rests_on);
        Some(view! { <Toggle label on press/> <span class="quiet">{why}</span> })
    }
}
