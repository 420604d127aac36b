//! Pickup: the customer gets the pair back, with a care card.

use std::rc::Rc;

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::SubjectId;
use shared::log::body::Section;
use shared::log::fold::{Card, State};

use super::job::{JobLife, use_job};
use crate::acts;
use crate::card::{CardView, card_body, self_contained};
use crate::device::Phone;
use crate::device::network::public_url;
use crate::device::picture::ObjectUrl;
use crate::device::pictures::fetched;
use crate::device::share;
use crate::device::store::Size;
use crate::parts::{Face, today};
use crate::workshop::{Stored, Workshop, use_stored, use_workshop};

/// Choosing photographs, seeing the card as the customer will, publishing it, handing over.
#[component]
pub fn Pickup() -> impl IntoView {
    let found = use_job();
    let shop = use_stored(|phone| async move { phone.shop_state().await });
    let left_out = RwSignal::new(Vec::<String>::new());
    move || {
        let (found, shop) = (found.get()?, shop.get()?);
        Some(match found {
            Some(found) => view! { <OneJob found shop left_out/> }.into_any(),
            None => view! { <h1>"Pickup"</h1> <p>"There is no such job on this device."</p> }.into_any(),
        })
    }
}

#[component]
fn OneJob(found: JobLife, shop: State, left_out: RwSignal<Vec<String>>) -> impl IntoView {
    let workshop = use_workshop();
    let open = found.state().is_some_and(|job| job.handed_over.is_none());
    let job = found.job;
    let stored = StoredValue::new_local((found.clone(), shop));
    let shown = use_previews(&found);
    let section = move || -> Section {
        stored.with_value(|(found, shop)| {
            let chosen = |hash: &str| !left_out.with(|left| left.iter().any(|one| one == hash));
            acts::compose(&found.life, found.job, shop, &today(), chosen)
        })
    };
    let publish = move |_| {
        let draft = stored.with_value(|(found, _)| acts::publish(&found.life, found.job, section()));
        workshop.save_and(vec![draft], move |_| {
            workshop.tell("Published. The page appears when the server has it.")
        });
    };
    let hand_over = move |_| {
        workshop.save_and(vec![acts::hand_over(job)], move |_| workshop.tell("Handed over."));
    };
    view! {
        <h1>"Pickup"</h1>
        <PhotoChoice found=found.clone() left_out/>
        <section class="preview" aria-label="The card as the customer will see it">
            {move || {
                let section = section();
                card_body(CardView::new([&section], |hash| address(shown.get().as_deref(), hash)))
            }}
        </section>
        <div class="stack">
            <button class="bench" on:click=publish>"Publish this section"</button>
            <button class="quiet" on:click=move |_| save_as_file(workshop, job, section())>"Save the card as a file"</button>
            <Show when=move || open>
                <button class="bench" on:click=hand_over>"Hand over"</button>
            </Show>
        </div>
        <CardLink found workshop/>
    }
}

/// Addresses of the job's photographs for the preview, by the SHA-256 of the full picture.
type Previews = Rc<Vec<(String, ObjectUrl)>>;

fn use_previews(found: &JobLife) -> Stored<Previews> {
    let job = found.job;
    let photos: Vec<_> = found
        .state()
        .map(|job| job.photos.iter().map(|item| item.body.clone()).collect())
        .unwrap_or_default();
    use_stored(move |phone| {
        let photos = photos.clone();
        async move {
            let mut shown = Vec::with_capacity(photos.len());
            for photo in photos {
                let bytes = fetched(&phone, &photo.thumb.sha256, job, Size::Thumb).await?;
                let url = bytes.and_then(|bytes| ObjectUrl::of(&bytes, "image/jpeg"));
                shown.extend(url.map(|url| (photo.full.sha256, url)));
            }
            Ok(Rc::new(shown))
        }
    })
}

fn address(shown: Option<&Vec<(String, ObjectUrl)>>, hash: &str) -> String {
    let found = shown.into_iter().flatten().find(|(known, _)| known == hash);
    found.map_or_else(String::new, |(_, url)| url.as_str().to_owned())
}

/// The card without any server: one file with its pictures, to share or print here and now.
fn save_as_file(workshop: Workshop, job: SubjectId, section: Section) {
    spawn_local(async move {
        let made = match workshop.phone() {
            Some(phone) => file_of(&phone, job, &section).await,
            None => return,
        };
        let saved = made.and_then(|page| {
            share::download("care-card.html", "text/html", page.as_bytes()).map_err(|error| error.to_string())
        });
        if let Err(why) = saved {
            workshop.complain(why);
        }
    });
}

async fn file_of(phone: &Phone, job: SubjectId, section: &Section) -> Result<String, String> {
    let mut inside = Vec::with_capacity(section.photos.len());
    for photo in &section.photos {
        let hash = &photo.blob.sha256;
        let bytes = fetched(phone, hash, job, Size::Full)
            .await
            .map_err(|error| error.to_string())?;
        inside.extend(bytes.map(|bytes| (hash.clone(), bytes)));
    }
    self_contained(section, &inside).map_err(|_| "This browser could not make the file.".to_owned())
}

/// Which photographs the customer may see.
#[component]
fn PhotoChoice(found: JobLife, left_out: RwSignal<Vec<String>>) -> impl IntoView {
    let photos = found.state().map(|job| job.photos.clone()).unwrap_or_default();
    let choices = photos.into_iter().enumerate().map(|(n, item)| {
        let hash = StoredValue::new(item.body.full.sha256);
        let shown = move || !left_out.with(|left| left.contains(&hash.get_value()));
        let flip = move |_| {
            left_out.update(
                |left| match left.iter().position(|one| *one == hash.get_value()) {
                    Some(at) => drop(left.remove(at)),
                    None => left.push(hash.get_value()),
                },
            );
        };
        view! {
            <label class="tick">
                <Face of=Some(item.body.thumb.sha256) on=Some(found.job) alt=format!("Photograph {}", n + 1)/>
                <input type="checkbox" prop:checked=shown on:change=flip/>
                <span>"Show photograph "{n + 1}</span>
            </label>
        }
    });
    view! { <div class="photographs">{choices.collect_view()}</div> }
}

/// The card's address: to share, to open, to take back.
#[component]
fn CardLink(found: JobLife, workshop: Workshop) -> impl IntoView {
    let card = Card::of(&found.life);
    let secret = found.life.pair.links.first().map(|link| link.body.secret.clone());
    let base = use_stored(|phone| async move { phone.membership().await });
    let pair = found.life.id;
    let withdraw = move |_| {
        workshop.save_and(vec![acts::withdraw(pair)], move |_| workshop.tell("Taken back."));
    };
    let state = match card {
        Card::NotYet => "Nothing has been published yet.",
        Card::Withdrawn => "The card has been taken back.",
        Card::Sections(_) => "The card is published.",
    };
    let shown = matches!(card, Card::Sections(_));
    let address = move || {
        Some(format!(
            "{}/card/{}",
            public_url(base.get()?.url.as_deref()),
            secret.clone()?
        ))
    };
    let address = Signal::derive_local(address);
    let pass_on = move |_| {
        let Some(url) = address.get_untracked() else {
            return;
        };
        spawn_local(async move {
            match share::share_link("The care card of your pair", &url).await {
                Ok(_) => {}
                Err(error) => workshop.complain(error),
            }
        });
    };
    view! {
        <section class="card">
            <h2>"Care card"</h2>
            <p>{state}</p>
            <Show when=move || shown>
                <p class="address"><a href=move || address.get() target="_blank" rel="noopener">{move || address.get()}</a></p>
                <div class="row">
                    <button on:click=pass_on>"Pass the link on"</button>
                    <button class="quiet" on:click=withdraw>"Take the card back"</button>
                </div>
            </Show>
        </section>
    }
}
