//! The condition of a pair as it was brought: accessories, damage, and construction as far as it can be seen.

use leptos::prelude::*;
use shared::log::body::Side;
use shared::text::unless_empty;
use shared::trade::{CameWith as With, Component, Condition, Construction, PartView, conditions};

use super::counter::CounterForm;
use crate::parts::{Sides, Toggle, Typed};
use app_core::commands::{PairIn, SeenDamage};

/// A section that unfolds, with a summary of its values. Its contents are not mounted while it is folded, because most
/// pairs need none of it.
#[component]
fn Fold(label: &'static str, said: Signal<String>, children: ChildrenFn) -> impl IntoView {
    let unfolded = RwSignal::new(false);
    view! {
        <div>
            <button type="button" class="quiet fold" aria-expanded=move || if unfolded.get() { "true" } else { "false" }
                on:click=move |_| unfolded.update(|unfolded| *unfolded = !*unfolded)>
                <strong>{label}</strong>" "<span class="quiet">{move || said.get()}</span>
            </button>
            <Show when=move || unfolded.get()><div class="stack">{children()}</div></Show>
        </div>
    }
}

/// Accessories that must go back with the pair: laces, trees, inserts, a bag.
#[component]
pub(super) fn CameWith(counter: CounterForm, place: usize) -> impl IntoView {
    let said = counter.of_pair(place, |pair| {
        let words = pair
            .came_with
            .iter()
            .map(|code| With::from(code.as_str()).words().to_owned());
        let also = unless_empty(pair.came_with_else.trim().to_owned());
        words.chain(also).collect::<Vec<_>>().join(", ")
    });
    let chips = move || {
        let named = With::KNOWN.iter().filter(|one| **one != With::SomethingElse);
        named.map(|one| came_with(counter, place, one)).collect_view()
    };
    let also = counter.of_pair(place, |pair: &PairIn| pair.came_with_else.clone());
    let typed = Callback::new(move |text| counter.change_pair(place, |pair| pair.came_with_else = text));
    view! {
        <Fold label=words::drop_off::came_with() said>
            <div class="chips" role="group" aria-label=words::drop_off::came_with()>{chips}</div>
            <Typed label=words::drop_off::something_else_that_came_with_it().to_owned() value=also typed/>
        </Fold>
    }
}

fn came_with(counter: CounterForm, place: usize, one: &'static With) -> impl IntoView {
    let code = one.as_str();
    let on = counter.of_pair(place, move |pair| {
        pair.came_with.iter().any(|known| known == code)
    });
    let press = Callback::new(move |()| {
        counter.change_pair(place, |pair| {
            let before = pair.came_with.len();
            pair.came_with.retain(|known| known != code);
            if pair.came_with.len() == before {
                pair.came_with.push(code.to_owned());
            }
        });
    });
    view! { <Toggle label=one.words() on press/> }
}

/// The construction; unknown unless somebody taps one or an earlier job of the pair knew it.
#[component]
pub(super) fn HowMade(counter: CounterForm, place: usize) -> impl IntoView {
    let said = counter.of_pair(place, |pair| {
        pair.construction
            .as_ref()
            .map_or(words::drop_off::construction_not_known_yet(), Construction::words)
            .to_owned()
    });
    let chips = move || {
        Construction::offered()
            .map(|one| {
                let on = counter.of_pair(place, move |pair| pair.construction.as_ref() == Some(one));
                let press = Callback::new(move |()| {
                    let chosen = (!on.get_untracked()).then(|| one.clone());
                    counter.change_pair(place, |pair| pair.construction = chosen);
                });
                view! { <Toggle label=one.words() on press/> }
            })
            .collect_view()
    };
    let shoe = counter.footwear(place);
    view! {
        <Show when=move || shoe.get()>
            <Fold label=words::drop_off::construction() said>
                <div class="chips" role="group" aria-label=words::drop_off::construction()>{chips()}</div>
            </Fold>
        </Show>
    }
}

/// Damage that is accepted as it is: tap the part, then what is wrong with it.
#[component]
pub(super) fn DamageThere(counter: CounterForm, place: usize) -> impl IntoView {
    let part = RwSignal::new(String::new());
    let side = RwSignal::new(Side::Both);
    let said = counter.of_pair(place, |pair| {
        pair.damage.iter().map(in_words).collect::<Vec<_>>().join(", ")
    });
    let shoe = counter.footwear(place);
    let parts = move || {
        let visible: Vec<&'static Component> = if shoe.get() {
            let above = Component::in_view(PartView::Side).chain(Component::in_view(PartView::Inside));
            std::iter::once(&Component::Upper)
                .chain(above)
                .chain(&BELOW)
                .collect()
        } else {
            Component::OF_PLAIN_ITEMS.iter().collect()
        };
        visible
            .into_iter()
            .map(|one| {
                let on = Signal::derive(move || part.get() == one.as_str());
                let press = Callback::new(move |()| part.set(one.as_str().to_owned()));
                view! { <Toggle label=one.words() on press/> }
            })
            .collect_view()
    };
    let wrong = move || {
        let part = unless_empty(part.get())?;
        let part = Component::from(part.as_str());
        let chips = conditions(&part)
            .iter()
            .map(|one| condition(counter, place, side, &part, one));
        Some(
            view! { <div class="chips" role="group" aria-label=words::drop_off::what_is_wrong_with_it()>{chips.collect_view()}</div> },
        )
    };
    view! {
        <Fold label=words::drop_off::damage_already_there() said>
            <div class="chips" role="group" aria-label=words::drop_off::part()>{parts}</div>
            <Show when=move || shoe.get()>
                <Sides label=words::drop_off::on_which_shoe().to_owned() side=side.into() choose=Callback::new(move |chosen| side.set(chosen))/>
            </Show>
            {wrong}
        </Fold>
    }
}

/// The parts of heel and sole that can be seen without opening the shoe.
static BELOW: [Component; 7] = [
    Component::Welt,
    Component::Outsole,
    Component::Edge,
    Component::HeelBase,
    Component::HeelCover,
    Component::TopPiece,
    Component::Insole,
];

fn condition(
    counter: CounterForm,
    place: usize,
    side: RwSignal<Side>,
    part: &Component,
    condition: &'static Condition,
) -> impl IntoView {
    let seen = SeenDamage {
        part: part.clone(),
        condition: condition.clone(),
        side: Side::Both,
    };
    let this = seen.clone();
    let on = counter.said(move |form| {
        let this = on_side(&this, side.get());
        form.pairs
            .get(place)
            .is_some_and(|pair| pair.damage.contains(&this))
    });
    let press = Callback::new(move |()| {
        let seen = on_side(&seen, side.get_untracked());
        counter.change_pair(place, |pair| {
            let before = pair.damage.len();
            pair.damage.retain(|known| *known != seen);
            if pair.damage.len() == before {
                pair.damage.push(seen);
            }
        });
    });
    view! { <Toggle label=condition.words() on press/> }
}

fn on_side(seen: &SeenDamage, side: Side) -> SeenDamage {
    SeenDamage { side, ..seen.clone() }
}

fn in_words(seen: &SeenDamage) -> String {
    let condition = seen.condition.words().to_lowercase();
    words::drop_off::damage_seen(seen.part.words(), &condition, seen.side.after())
}
