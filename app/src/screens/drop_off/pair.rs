//! One pair of the drop-off: folded to a line, or unfolded to its fields.

use leptos::prelude::*;
use shared::trade::Goods;

use super::brought::{CameWith, DamageThere, HowMade};
use super::counter::CounterForm;
use super::kind::Kind;
use super::number::OwnNumber;
use super::work::Work;
use crate::parts::{Materials, Typed};
use app_core::commands::PairIn;

/// A pair's heading, which folds and unfolds it, and its fields.
#[component]
pub(super) fn Pair(counter: CounterForm, place: usize) -> impl IntoView {
    let unfolded = Memo::new(move |_| counter.open.get() == place);
    let about = counter.of_pair(place, |pair| {
        let kind = Goods::from(pair.goods.as_str());
        let title = pair.title();
        // A pair without a description is named by its kind.
        if title.is_empty() {
            kind.words().to_owned()
        } else if pair.known.is_some() || !pair.look.trim().is_empty() {
            title
        } else {
            words::drop_off::described_kind(&title, &kind.words().to_lowercase())
        }
    });
    let work = counter.of_pair(place, PairIn::work);
    let cost = move || {
        let sum = counter
            .form
            .with(|form| Some(form.pairs.get(place)?.sum(counter.shop.money_kind())))?;
        sum.is_positive().then(|| counter.shop.money(sum))
    };
    let fold = move |_| counter.open.set(if unfolded.get() { usize::MAX } else { place });
    let several = Memo::new(move |_| counter.form.with(|form| form.pairs.len() > 1));
    view! {
        <section class="card pair-in" aria-label=words::drop_off::pair_number(place + 1)>
            <h2>
                <button type="button" class="quiet fold" id=format!("pair-{place}")
                    aria-expanded=move || if unfolded.get() { "true" } else { "false" } on:click=fold>
                    <strong>{words::drop_off::pair_number(place + 1)}</strong>" "<span>{move || about.get()}</span>" "
                    <span class="quiet">{move || work.get()}</span>" "<span>{cost}</span>
                </button>
            </h2>
            <Show when=move || unfolded.get()>
                <div class="stack">
                    <Kind counter place/>
                    <Work counter place/>
                    <Looks counter place/>
                    <MadeOfWhat counter place/>
                    <Wish counter place/>
                    <CameWith counter place/>
                    <DamageThere counter place/>
                    <HowMade counter place/>
                    <Show when=move || several.get()>
                        <button type="button" class="quiet" on:click=move |_| take_off(counter, place)>
                            {words::drop_off::take_pair_off(place + 1)}
                        </button>
                    </Show>
                </div>
            </Show>
        </section>
    }
}

fn take_off(counter: CounterForm, place: usize) {
    counter.change(|form| {
        if place < form.pairs.len() {
            form.pairs.remove(place);
        }
    });
    counter.open.set(place.saturating_sub(1));
}

/// What it is made of, which nobody has to say.
#[component]
fn MadeOfWhat(counter: CounterForm, place: usize) -> impl IntoView {
    let made_of = counter.of_pair(place, |pair| pair.made_of.clone());
    let choose = Callback::new(move |now| counter.change_pair(place, |pair| pair.made_of = now));
    view! { <Materials made_of choose footwear=counter.footwear(place)/> }
}

/// What the customer wishes: a note on the job.
#[component]
fn Wish(counter: CounterForm, place: usize) -> impl IntoView {
    let value = counter.of_pair(place, |pair| pair.wish.clone());
    let typed = Callback::new(move |text| counter.change_pair(place, |pair| pair.wish = text));
    view! { <Typed label=words::drop_off::wish().to_owned() value typed/> }
}

/// Its looks and the shop's own number; all fields are optional.
#[component]
fn Looks(counter: CounterForm, place: usize) -> impl IntoView {
    type Read = fn(&PairIn) -> String;
    type Write = fn(&mut PairIn, String);
    let field = move |label: &'static str, read: Read, write: Write| {
        let typed = Callback::new(move |text| counter.change_pair(place, |pair| write(pair, text)));
        view! { <Typed label=label.to_owned() value=counter.of_pair(place, read) typed/> }
    };
    let new = Memo::new(move |_| counter.of_pair(place, |pair| pair.known.is_none()).get());
    let unknown = move || {
        let fields = [
            field(
                words::drop_off::what_it_is(),
                |pair| pair.look.clone(),
                |pair, text| pair.look = text,
            ),
            field(
                words::drop_off::colour(),
                |pair| pair.colour.clone(),
                |pair, text| pair.colour = text,
            ),
            field(
                words::drop_off::maker(),
                |pair| pair.maker.clone(),
                |pair, text| pair.maker = text,
            ),
        ];
        new.get().then(|| fields.collect_view())
    };
    view! {
        <div class="pair-fields">
            {unknown}
            <OwnNumber counter place/>
        </div>
    }
}
