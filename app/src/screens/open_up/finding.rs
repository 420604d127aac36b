//! Noting a finding in four taps: the part, what is wrong, what is done, who pays.

mod own_words;

use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_navigate;
use shared::log::EntryId;
use shared::log::body::{Agreed, Decision, Pays, Side};
use shared::price::minor::Minor;
use shared::trade::amount::LineSize;
use shared::trade::component::Component;
use shared::trade::condition::{Condition, conditions};
use shared::trade::line_name;

use crate::device::DeviceError;
use crate::parts::{Sides, WorkToo};
use crate::screens::camera::Back;
use crate::screens::job::JobLife;
use crate::screens::ticket::of_ticket;
use crate::selection::{Selection, use_selection};
use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};
use app_core::commands::inside::{self, FollowUp, PartFinding, remedy};
use app_core::commands::{agree, asked_line, asked_with};
use app_core::store::StoreError;
use own_words::OwnWords;

/// The values chosen so far.
#[derive(Clone, Copy)]
pub(super) struct Tapped {
    pub(super) part: RwSignal<Option<Component>>,
    condition: RwSignal<Option<Condition>>,
    decision: RwSignal<Option<Decision>>,
    side: RwSignal<Side>,
}

impl Tapped {
    pub(super) fn new() -> Self {
        let tapped = Self {
            part: RwSignal::new(None),
            condition: RwSignal::new(None),
            decision: RwSignal::new(None),
            side: RwSignal::new(Side::Both),
        };
        // When another part is chosen, the values chosen for the former one are cleared.
        Effect::new(move |_| {
            tapped.part.track();
            tapped.condition.set(None);
            tapped.decision.set(None);
        });
        tapped
    }

    fn found(self, decision: Decision, pays: Option<Pays>) -> Option<PartFinding> {
        Some(PartFinding {
            part: self.part.get_untracked()?,
            condition: self.condition.get_untracked()?,
            side: self.side.get_untracked(),
            decision,
            pays,
        })
    }

    fn clear(self) {
        self.part.set(None);
        self.side.set(Side::Both);
    }
}

/// What saving a finding needs.
#[derive(Clone, Copy)]
struct FindingSheet {
    session: Session,
    bench: Selection,
    shop: ShopContext,
    known: Memo<Option<JobLife>>,
    /// The damage noted last, of which a photograph can be taken.
    last: RwSignal<Option<EntryId>>,
    /// The work that was agreed for it.
    added: RwSignal<Option<Agreed>>,
}

impl FindingSheet {
    /// Saves the finding, then what follows from it. Returns its entry, and what followed.
    async fn write(self, found: &PartFinding) -> Result<(EntryId, FollowUp), DeviceError> {
        let life = self
            .known
            .try_get_untracked()
            .flatten()
            .ok_or(StoreError::Empty)?;
        // Read before anything is saved, so that what was found and what follows from it are saved one after the other.
        let allowance = self.allowance(&life).await?;
        let condition = found.condition.words().to_lowercase();
        let said = words::open_up::finding_noted(found.part.words(), &condition);
        let mut saved = self
            .session
            .save(inside::found(life.job, found), Vec::new())
            .await?;
        let damage = saved
            .entries
            .first()
            .map(|held| held.entry.id)
            .ok_or(StoreError::Empty)?;
        let goods = life.life.pair.goods_code().unwrap_or_default().to_owned();
        let operation = remedy(found, life.life.pair.goods().as_ref());
        let price = operation.and_then(|operation| {
            let work = LineSize {
                side: &found.side,
                ..LineSize::usual(operation)
            };
            self.shop.listed_work(work, &goods)
        });
        let follow = inside::follow(found, operation, damage, price, allowance);
        if let FollowUp::Agreed(line) = &follow {
            let more = self
                .session
                .save(vec![agree(life.job, line.clone())], Vec::new())
                .await?;
            saved.entries.extend(more.entries);
        }
        self.bench.remember(&saved, said);
        Ok((damage, follow))
    }

    /// What may still be charged without asking the customer, in minor units. It is read afresh, because other pairs of
    /// the ticket may be open on other devices.
    async fn allowance(self, life: &JobLife) -> Result<Minor, DeviceError> {
        let opened = life.state().and_then(|job| job.opened.as_ref());
        let ticket = opened.and_then(|slot| slot.current.body.ticket);
        let (Some(phone), Some(ticket)) = (self.session.phone(), ticket) else {
            return Ok(Minor::ZERO);
        };
        let found = of_ticket(&phone, ticket).await?;
        Ok(found.map_or(Minor::ZERO, |ticket| {
            let jobs = ticket.jobs.iter().filter_map(JobLife::state);
            ticket
                .state()
                .map_or(Minor::ZERO, |state| inside::allowance(state, jobs))
        }))
    }
}

/// The questions about the chosen part, one after another.
#[component]
pub(super) fn Finding(tapped: Tapped, known: Memo<Option<JobLife>>) -> impl IntoView {
    let navigate = StoredValue::new_local(use_navigate());
    let desk = FindingSheet {
        session: use_session(),
        bench: use_selection(),
        shop: use_shop(),
        known,
        last: RwSignal::new(None),
        added: RwSignal::new(None),
    };
    let finish = move |decision: Decision, pays: Option<Pays>| {
        let job = known.with_untracked(|known| known.as_ref().map(|known| known.job));
        let Some((found, job)) = tapped.found(decision, pays).zip(job) else {
            return;
        };
        tapped.clear();
        spawn_local(async move {
            match desk.write(&found).await {
                Ok((damage, FollowUp::Ask)) => navigate.with_value(|go| {
                    go(
                        &format!("/ask/{job}?damage={damage}"),
                        leptos_router::NavigateOptions::default(),
                    );
                }),
                Ok((damage, follow)) => {
                    desk.last.try_set(Some(damage));
                    desk.added.try_set(match follow {
                        FollowUp::Agreed(line) => Some(line),
                        _ => None,
                    });
                }
                Err(error) => desk.session.complain(error),
            }
        });
    };
    let decide = move |decision: Decision| match decision {
        Decision::Mend | Decision::Replace => tapped.decision.set(Some(decision)),
        settled => finish(settled, None),
    };
    let questions = move || {
        let part = tapped.part.get()?;
        let asked = match (tapped.condition.get(), tapped.decision.get()) {
            (None, _) => wrong(&part, tapped).into_any(),
            (Some(_), None) => choices(words::open_up::what_is_done(), decisions(), decide).into_any(),
            (Some(_), Some(decision)) => choices(words::open_up::who_pays(), who_pays(), move |pays| {
                finish(decision.clone(), Some(pays))
            })
            .into_any(),
        };
        let called = called(&part, tapped.condition.get().as_ref());
        Some(view! {
            <div class="row between">
                <h2>{called}</h2>
                <button class="quiet" on:click=move |_| tapped.clear()>{words::open_up::not_this_part()}</button>
            </div>
            {asked}
        })
    };
    let photograph = move || {
        let damage = desk.last.get().filter(|_| tapped.part.get().is_none())?;
        // It may have been withdrawn since.
        let job = known.with(|known| {
            let known = known.as_ref()?;
            let mut all = known.state()?.damage.iter();
            all.any(|item| item.entry == damage).then_some(known.job)
        })?;
        let camera = Back::OpenUp.camera(job, Some("damage"), Some(damage));
        Some(view! { <a class="button bench" href=camera>{words::open_up::photograph_it()}</a> })
    };
    let own_part = Callback::new(move |text: String| tapped.part.set(Some(Component::from(text.as_str()))));
    view! {
        <OwnWords summary=words::open_up::part_not_in_the_list() label=words::open_up::what_you_call_it()
            button=words::open_up::take_this_part() take=own_part/>
        <section class="asked" aria-live="polite" class:open=move || tapped.part.get().is_some()>
            {questions}
            {photograph}
            <AddedToo desk tapped/>
        </section>
    }
}

/// What usually goes with the work that was agreed last, until another part is tapped: heels with a full sole.
#[component]
fn AddedToo(desk: FindingSheet, tapped: Tapped) -> impl IntoView {
    let FindingSheet {
        bench, shop, known, ..
    } = desk;
    let asked = Memo::new(move |_| {
        let added = desk.added.get().filter(|_| tapped.part.with(Option::is_none));
        let shop = shop.state();
        known
            .with(|known| {
                let (added, known) = (added?, known.as_ref()?);
                let goods = known.life.pair.goods_code().unwrap_or_default();
                Some(asked_with(&added.operation, known.state()?, goods, &shop))
            })
            .unwrap_or_default()
    });
    let add = Callback::new(move |code: &'static str| {
        let shop = shop.state();
        let line = known.with_untracked(|known| {
            let (added, known) = (desk.added.get_untracked()?, known.as_ref()?);
            let goods = known.life.pair.goods_code().unwrap_or_default();
            Some((known.job, asked_line(code, &added, goods, &shop)?))
        });
        if let Some((job, line)) = line {
            let said = words::work::added(&line_name(&line));
            bench.act(vec![agree(job, line)], said);
        }
    });
    view! { <WorkToo asked add/> }
}

/// The part, and what is wrong with it as far as that is chosen.
fn called(part: &Component, condition: Option<&Condition>) -> String {
    match condition {
        Some(condition) => {
            words::open_up::part_and_condition(part.words(), &condition.words().to_lowercase())
        }
        None => part.words().to_owned(),
    }
}

/// A possible answer: label and value.
type DamageAnswer<T> = (&'static str, T);

fn decisions() -> Vec<DamageAnswer<Decision>> {
    vec![
        (words::open_up::keep(), Decision::Keep),
        (words::open_up::mend(), Decision::Mend),
        (words::open_up::replace(), Decision::Replace),
        (words::open_up::leave(), Decision::Leave),
    ]
}

fn who_pays() -> Vec<DamageAnswer<Pays>> {
    vec![
        (words::open_up::customer_pays(), Pays::Customer),
        (words::work::no_charge_needed(), Pays::ShopNeeded),
        (words::work::on_the_house(), Pays::ShopChoice),
    ]
}

/// What is wrong with the part, likely conditions first, and on which shoe.
fn wrong(part: &Component, tapped: Tapped) -> impl IntoView + use<> {
    let known = conditions(part).iter().map(|condition| {
        let choose = move |_| tapped.condition.set(Some(condition.clone()));
        view! { <button class="bench" on:click=choose>{condition.words()}</button> }
    });
    let own = Callback::new(move |text: String| tapped.condition.set(Some(Condition::from(text.as_str()))));
    view! {
        <Sides label=words::open_up::on_which_shoe().to_owned() side=tapped.side.into() choose=Callback::new(move |side| tapped.side.set(side))/>
        <h3>{words::open_up::what_is_wrong()}</h3>
        <div class="answers">{known.collect_view()}</div>
        <OwnWords summary=words::open_up::something_else() label=words::open_up::wrong_in_your_words()
            button=words::open_up::take_these_words() take=own/>
    }
}

/// One question with a button for each answer.
fn choices<T: Clone + 'static>(
    question: &'static str,
    answers: Vec<DamageAnswer<T>>,
    choose: impl Fn(T) + Clone + 'static,
) -> impl IntoView {
    let buttons = answers.into_iter().map(|(label, answer)| {
        let choose = choose.clone();
        view! { <button class="bench" on:click=move |_| choose(answer.clone())>{label}</button> }
    });
    view! { <h3>{question}</h3> <div class="answers">{buttons.collect_view()}</div> }
}
