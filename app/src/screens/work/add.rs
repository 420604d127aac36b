//! Adding work to a job: at a price, or at no charge and why.

use leptos::prelude::*;
use shared::log::body::OperationCode;
use shared::log::body::{Agreed, GiftWhy, Side};
use shared::price::minor::Minor;
use shared::trade::amount::LineSize;
use shared::trade::{Class, Goods, line_name, operations};

use super::WorkJob;
use crate::parts::{HowMany, OperationChoice, PrescribedHeight, Sides, Typed, Variants, WorkToo};
use crate::screens::job::JobLife;
use crate::selection::use_selection;
use crate::session::use_session;
use crate::shop::{ShopContext, use_shop};
use app_core::commands::{self, LineIn, asked_line, asked_with};

/// Who pays: label, and reason if it is at no charge.
fn who_pays() -> [(&'static str, Option<GiftWhy>); 3] {
    [
        (words::work::at_this_price(), None),
        (words::work::no_charge_needed(), Some(GiftWhy::Needed)),
        (words::work::on_the_house(), Some(GiftWhy::MyChoice)),
    ]
}

/// The line that is being added. Cheap to copy.
#[derive(Clone, Copy)]
struct NewLine {
    operation: RwSignal<Option<OperationCode>>,
    line: RwSignal<LineIn>,
    goods: Memo<String>,
    shop: ShopContext,
}

impl NewLine {
    fn of(known: WorkJob) -> Self {
        let goods = Memo::new(move |_| {
            let goods = known.with(|known| known.as_ref()?.life.pair.goods_code().map(str::to_owned));
            goods.unwrap_or_default()
        });
        let usual = OperationCode::from("clean_condition_polish");
        let new = Self {
            operation: RwSignal::new(Some(usual.clone())),
            line: RwSignal::new(LineIn::usual(usual)),
            goods,
            shop: use_shop(),
        };
        // Another operation begins a new line.
        Effect::new(move |_| {
            if let Some(code) = new.operation.get() {
                new.line.set(LineIn::usual(code));
            }
        });
        // The price follows the line until somebody writes one.
        Effect::new(move |_| {
            let listed = new.line.with(|line| {
                (!line.by_hand).then(|| {
                    let asked = line.agreed(Minor::ZERO);
                    new.shop.listed_work(LineSize::from(&asked), &new.goods.get())
                })
            });
            let Some(listed) = listed else { return };
            let price = listed.map(|minor| new.shop.typed(minor)).unwrap_or_default();
            if new.line.with_untracked(|line| line.price != price) {
                new.line.update(|line| line.price = price);
            }
        });
        new
    }

    fn said<T: Send + Sync + 'static>(self, read: fn(&LineIn) -> T) -> Signal<T> {
        Signal::derive(move || self.line.with(read))
    }

    /// The line to agree on, or `None` if its price cannot be read. A gift without a worth counts as worth nothing in
    /// the figures.
    fn agreed(self, why: Option<GiftWhy>) -> Option<Agreed> {
        let line = self.line.get_untracked();
        let minor = match (self.shop.reads(&line.price), &why) {
            (Some(minor), _) => minor,
            (None, Some(_)) if line.price.trim().is_empty() => Minor::ZERO,
            _ => return None,
        };
        let paid = line.agreed(minor);
        Some(match why {
            None => paid,
            Some(why) => Agreed {
                side: paid.side,
                variant: paid.variant,
                count: paid.count,
                height_mm: paid.height_mm,
                ..Agreed::given(paid.operation, why, minor)
            },
        })
    }
}

/// The form: the operation and how it is done, then who pays. The amount is its price, or the worth of the gift. A
/// helper sees no amounts; the price of the price list applies.
#[component]
pub fn AddWork(known: WorkJob) -> impl IntoView {
    let (bench, session, shop) = (use_selection(), use_session(), use_shop());
    let new = NewLine::of(known);
    let added = RwSignal::new(None::<Agreed>);
    let add = move |why: Option<GiftWhy>| {
        let Some(job) = known.with_untracked(|known| known.as_ref().map(|known| known.job)) else {
            return;
        };
        let Some(line) = new.agreed(why) else {
            return session.ask_to_correct(words::work::not_an_amount());
        };
        let said = words::work::added(&line_name(&line));
        added.set(Some(line.clone()));
        bench.act(vec![commands::agree(job, line)], said);
    };
    // What has to be asked for with the work that was added, and is not on the job.
    let asked = Memo::new(move |_| {
        let (added, goods) = (added.get(), new.goods.get());
        known.with(|known| {
            let job = known.as_ref().and_then(JobLife::state);
            added.zip(job).map_or_else(Vec::new, |(added, job)| {
                asked_with(&added.operation, job, &goods, &shop.state())
            })
        })
    });
    let add_asked = Callback::new(move |code: &'static str| {
        let Some(job) = known.with_untracked(|known| known.as_ref().map(|known| known.job)) else {
            return;
        };
        let goods = new.goods.get_untracked();
        let with = added.get_untracked();
        if let Some(line) = with.and_then(|with| asked_line(code, &with, &goods, &shop.state())) {
            let said = words::work::added(&line_name(&line));
            bench.act(vec![commands::agree(job, line)], said);
        }
    });
    let ways = who_pays().map(|(label, why)| {
        view! { <button class="bench" on:click=move |_| add(why.clone())>{label}</button> }
    });
    let price = Callback::new(move |text| {
        new.line.update(|line| {
            line.price = text;
            line.by_hand = true;
        });
    });
    view! {
        <details class="card">
            <summary>{words::work::add_work()}</summary>
            <div class="stack">
                <OperationChoice label=words::work::work_to_add() value=new.operation/>
                <HowDone line=new/>
                <Show when=move || !shop.helper()>
                    <Typed label=words::work::price_or_worth().to_owned() value=new.said(|line| line.price.clone()) inputmode="decimal" typed=price/>
                </Show>
                <div class="choices">{ways.into_iter().collect_view()}</div>
                <WorkToo asked add=add_asked/>
            </div>
        </details>
    }
}

/// Which shoe, in what, how many and how high: as far as the goods and the operation have them.
#[component]
fn HowDone(line: NewLine) -> impl IntoView {
    let footwear = Memo::new(move |_| Goods::from(line.goods.get().as_str()).is_any_of(Class::FOOTWEAR));
    let operation = line.said(|line| line.operation.to_string());
    let name = line.said(|line| operations::name(&line.operation).to_owned());
    let side = Callback::new(move |side: Side| line.line.update(|line| line.side = side));
    let vary = Callback::new(move |variant| line.line.update(|line| line.variant = variant));
    let number = Callback::new(move |count| line.line.update(|line| line.count = count));
    let raise = Callback::new(move |height| line.line.update(|line| line.height_mm = height));
    view! {
        <Show when=move || footwear.get()>
            <Sides label=words::work::on_which_shoe().to_owned() side=line.said(|line| line.side.clone()) choose=side/>
        </Show>
        <Variants operation name variant=line.said(|line| line.variant.clone()) choose=vary/>
        <HowMany operation name count=line.said(|line| line.count) choose=number/>
        <PrescribedHeight operation name height_mm=line.said(|line| line.height_mm) choose=raise/>
    }
}
