//! What a pair is made of: chips for upper, sole and lining.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::fold::PairState;
use shared::log::{Subject, SubjectId, SubjectKind};
use shared::trade::{Class, Material};

use super::Toggle;
use crate::device::DeviceError;
use crate::session::{Session, use_session};
use app_core::commands::MadeOf;

/// The uppers that are brought most. Common practice, no source.
const USUAL_UPPERS: &[Material] = &[
    Material::SmoothLeather,
    Material::Suede,
    Material::Patent,
    Material::Textile,
];
/// The soles that are brought most. Common practice, no source.
const USUAL_SOLES: &[Material] = &[Material::LeatherSole, Material::RubberSole];
/// What linings are made of. Common practice, no source.
const LININGS: &[Material] = &[
    Material::SmoothLeather,
    Material::Suede,
    Material::Textile,
    Material::Coated,
];

/// A group of chips.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum MadeOfPart {
    Upper,
    Sole,
    Lining,
}

impl MadeOfPart {
    fn label(self) -> &'static str {
        match self {
            MadeOfPart::Upper => words::parts::upper(),
            MadeOfPart::Sole => words::parts::sole(),
            MadeOfPart::Lining => words::parts::lining(),
        }
    }

    /// What can be chosen: the usual ones, or all.
    fn offered(self, all: bool) -> Vec<Material> {
        let of_soles = self == MadeOfPart::Sole;
        match (self, all) {
            (MadeOfPart::Lining, true) => LININGS.to_vec(),
            (MadeOfPart::Lining, false) => Vec::new(),
            (MadeOfPart::Upper, false) => USUAL_UPPERS.to_vec(),
            (MadeOfPart::Sole, false) => USUAL_SOLES.to_vec(),
            (_, true) => Material::offered()
                .filter(|one| one.of_sole() == of_soles)
                .cloned()
                .collect(),
        }
    }

    /// What is chosen.
    fn chosen(self, made_of: &MadeOf) -> Vec<Material> {
        let (codes, of_soles) = match self {
            MadeOfPart::Lining => (&made_of.lining, None),
            MadeOfPart::Upper => (&made_of.materials, Some(false)),
            MadeOfPart::Sole => (&made_of.materials, Some(true)),
        };
        let known = codes.iter().map(|code| Material::from(code.as_str()));
        known
            .filter(|one| of_soles.is_none_or(|soles| one.of_sole() == soles))
            .collect()
    }

    fn toggle(self, made_of: &mut MadeOf, material: &Material) {
        match self {
            MadeOfPart::Lining => made_of.toggle_lining(material.as_str()),
            MadeOfPart::Upper | MadeOfPart::Sole => made_of.toggle(material.as_str()),
        }
    }

    fn words(self, material: &Material) -> String {
        match self {
            MadeOfPart::Lining => words::parts::lining_of(material.words()),
            MadeOfPart::Upper | MadeOfPart::Sole => material.words().to_owned(),
        }
    }
}

/// Chips for what a pair is made of: the usual uppers and soles, and what was chosen; all others and the lining once
/// they are asked for. Nothing has to be chosen.
#[component]
pub fn Materials(
    /// What is known.
    made_of: Signal<MadeOf>,
    /// Called with what is known after a tap.
    choose: Callback<MadeOf>,
    /// Whether it has soles.
    #[prop(into)]
    footwear: Signal<bool>,
    /// Whether all of them are shown. From the caller, where this is drawn anew after a tap.
    #[prop(optional)]
    more: Option<RwSignal<bool>>,
) -> impl IntoView {
    let more = more.unwrap_or_else(|| RwSignal::new(false));
    let group = move |part: MadeOfPart| {
        // Drawn anew only when other chips are to be shown, not with every choice.
        let shown = Memo::new(move |_| {
            let mut shown = part.offered(more.get());
            for one in made_of.with(|made_of| part.chosen(made_of)) {
                if !shown.contains(&one) {
                    shown.push(one);
                }
            }
            shown
        });
        let chips = move || {
            shown
                .get()
                .into_iter()
                .map(|one| chip(made_of, choose, part, one))
                .collect_view()
        };
        let some = Memo::new(move |_| {
            let fits = part != MadeOfPart::Sole || footwear.get();
            fits && shown.with(|shown| !shown.is_empty())
        });
        view! {
            <Show when=move || some.get()>
                <div class="chips" role="group" aria-label=part.label()>{chips}</div>
            </Show>
        }
    };
    view! {
        <div class="chips made-of" role="group" aria-label=words::parts::made_of()>
            <span>{words::parts::made_of()}</span>
            {group(MadeOfPart::Upper)}
            {group(MadeOfPart::Sole)}
            {group(MadeOfPart::Lining)}
            <button type="button" class="quiet" aria-expanded=move || if more.get() { "true" } else { "false" }
                on:click=move |_| more.update(|more| *more = !*more)>
                {move || if more.get() { words::parts::fewer_materials() } else { words::parts::more_materials() }}
            </button>
        </div>
    }
}

fn chip(
    made_of: Signal<MadeOf>,
    choose: Callback<MadeOf>,
    part: MadeOfPart,
    material: Material,
) -> impl IntoView {
    let this = material.clone();
    let on = Signal::derive(move || made_of.with(|made_of| part.chosen(made_of).contains(&this)));
    let label = part.words(&material);
    let press = Callback::new(move |()| {
        let mut now = made_of.get_untracked();
        part.toggle(&mut now, &material);
        choose.run(now);
    });
    view! { <Toggle label on press/> }
}

/// The same for a pair that is in the records: each tap is saved. `more`: whether all materials are shown.
pub fn pair_materials(pair: SubjectId, state: &PairState, more: RwSignal<bool>) -> impl IntoView + use<> {
    let session = use_session();
    let made_of = RwSignal::new(MadeOf::of(state));
    let choose = Callback::new(move |now: MadeOf| {
        made_of.set(now.clone());
        spawn_local(async move {
            if let Err(error) = correct(session, pair, &now).await {
                session.complain(error);
            }
        });
    });
    view! { <Materials made_of=made_of.into() choose footwear=Signal::stored(has_soles(state)) more/> }
}

/// Whether a pair has soles, as far as is known.
pub fn has_soles(pair: &PairState) -> bool {
    pair.goods().is_none_or(|goods| goods.is_any_of(Class::FOOTWEAR))
}

/// Saves what a pair is made of. It is read afresh, because another tap may have been saved since it was shown.
async fn correct(session: Session, pair: SubjectId, now: &MadeOf) -> Result<(), DeviceError> {
    let life = session.opened()?.pair_history(pair).await?;
    let drafts = now.corrected(&Subject::new(SubjectKind::Pair, life.id), &life.pair);
    if !drafts.is_empty() {
        session.save(drafts, Vec::new()).await?;
    }
    Ok(())
}
