//! Calculations at the bench: one on each screen, with its result at the top.

mod compare;
mod dye;
mod form;
mod keep;
mod kept;
mod photo;
mod picture;
mod sketch;

use leptos::prelude::*;
use leptos_router::hooks::{use_params_map, use_query_map};
use shared::log::SubjectId;
use shared::log::body::Wait;
use shared::log::fold::JobState;

use super::job::{JobLife, pair_head, use_job};
use crate::device::screen::print;
use crate::selection::use_selection;
use crate::shop::{ShopContext, use_shop};
use app_core::browser::clock;
use app_core::calc::{
    COMPARE, CalcAnswer, CalcInput, CalcPair, DYE, Helper, Lengths, PHOTO, WallClock, helper,
};
use app_core::commands;
use app_core::stations::minutes_in_words;

use compare::Compare;
use dye::Dye;
use form::Form;
use keep::{Keep, KeptCalculation};
use photo::OnPhoto;
use sketch::sketch;

pub(super) use kept::measured;

/// The job in the address; changes only when an entry about it or its pair does.
type CalcJob = Memo<Option<JobLife>>;

/// The calculation in the address, for the operation it is needed for.
#[component]
pub fn Calc() -> impl IntoView {
    let (found, params) = (use_job(), use_params_map());
    let query = use_query_map();
    let what = Memo::new(move |_| params.read().get("what").unwrap_or_default());
    let operation = Memo::new(move |_| query.read().get("operation").unwrap_or_default());
    let known: CalcJob = Memo::new(move |_| found.get().flatten());
    let job = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.job)));
    let missing = move || matches!(found.get(), Some(None));
    let body = move || {
        let job = job.get()?;
        let what = what.get();
        Some(match helper(&what) {
            Some(helper) => view! { <Helping known job operation helper/> }.into_any(),
            None if what == PHOTO => view! { <OnPhoto known job operation/> }.into_any(),
            None if what == COMPARE => view! { <Compare known job operation/> }.into_any(),
            None if what == DYE => view! { <Dye known job operation/> }.into_any(),
            None => view! { <h1>{words::calc_screens::no_such_calculation()}</h1> }.into_any(),
        })
    };
    view! {
        <Show when=missing><h1>{words::calc_screens::calculation()}</h1> <p>{words::calc_screens::no_such_job()}</p></Show>
        <div class="reckon">{body}</div>
    }
}

/// The inputs of a calculation. Cheap to copy.
#[derive(Clone, Copy)]
struct CalcForm {
    helper: &'static Helper,
    shop: ShopContext,
    /// The text typed for each number.
    texts: RwSignal<Vec<String>>,
    /// Whether each number was typed or is known to be measured.
    touched: RwSignal<Vec<bool>>,
    chosen: RwSignal<Vec<usize>>,
    /// Whether it began with the inputs of an earlier visit.
    from_before: bool,
    /// What is known of the pair.
    pair: StoredValue<CalcPair>,
}

impl CalcForm {
    /// Begins with the inputs kept for this pair last, else with the usual ones.
    fn new(helper: &'static Helper, known: CalcJob, operation: &str) -> Self {
        let shop = use_shop();
        let (last, pair) = known.with_untracked(|known| {
            let found = known.as_ref();
            let last = found.and_then(|known| kept::last(known, helper.what, operation));
            (
                last,
                found.map(|known| CalcPair::of(&known.life)).unwrap_or_default(),
            )
        });
        let (given, here) = last.map(|last| (last.given, last.here)).unwrap_or_default();
        let start = helper.begin(&given, here, &pair);
        let lengths = lengths_of(shop);
        let texts = helper
            .numbers
            .iter()
            .zip(start.numbers)
            .map(|(asked, number)| lengths.field(asked.of, number));
        Self {
            helper,
            shop,
            texts: RwSignal::new(texts.collect()),
            touched: RwSignal::new(start.touched),
            chosen: RwSignal::new(start.chosen),
            from_before: start.from_before,
            pair: StoredValue::new(pair),
        }
    }

    /// The inputs, as far as they can be read.
    fn given(self) -> Option<CalcInput<'static>> {
        let lengths = self.shop.lengths();
        let now = clock::now();
        let numbers = self.texts.with(|texts| {
            let read = texts.iter().zip(self.helper.numbers);
            let read = read.map(|(text, asked)| lengths.read_as(asked.of, text).unwrap_or(f64::NAN));
            read.collect()
        });
        Some(CalcInput {
            helper: self.helper,
            numbers,
            touched: self.touched.get(),
            from_before: self.from_before,
            chosen: self.chosen.get(),
            lengths,
            nail_lengths: self.shop.nail_lengths(),
            clock: WallClock::at(now.0, clock::offset_min().into())?,
            pair: self.pair.get_value(),
        })
    }

    /// The result, or why there is none, in words.
    fn answer(self) -> Result<CalcAnswer, String> {
        match self.given() {
            Some(given) => self.helper.answer(&given),
            None => Err(words::calc_screens::clock_unreadable().to_owned()),
        }
    }
}

/// The screen of one calculation: the pair, the result, the inputs, a drawing, and the button that keeps it.
#[component]
fn Helping(
    known: CalcJob,
    job: SubjectId,
    operation: Memo<String>,
    helper: &'static Helper,
) -> impl IntoView {
    let desk = CalcForm::new(helper, known, &operation.get_untracked());
    let answer = Memo::new(move |_| desk.answer());
    let drawn = move || {
        let drawing = answer.get().ok()?.sketch?;
        Some(view! {
            {sketch(&drawing, desk.shop.lengths())}
            <button class="quiet" on:click=move |_| print()>{words::calc_screens::print_to_scale()}</button>
        })
    };
    let offered =
        Signal::derive(move || answer.with(|answer| answer.as_ref().is_ok_and(CalcAnswer::is_measured)));
    let keep = Callback::new(move |()| {
        let say = answer.get_untracked().ok().filter(CalcAnswer::is_measured)?.say;
        let given = untrack(|| desk.given())?.kept();
        Some(KeptCalculation {
            what: helper.what,
            say,
            given,
        })
    });
    view! {
        {move || known.get().map(|found| pair_head(helper.title(), &found))}
        {move || said(answer.get())}
        {(!helper.mind().is_empty()).then(|| view! { <p class="caution">{helper.mind()}</p> })}
        {move || answer.get().ok().and_then(|answer| begin_wait(job, operation, answer.wait?))}
        <Keep known job operation keep offered/>
        <Form desk/>
        <div class="sketches">{drawn}</div>
    }
}

/// A button that begins a wait of the calculated length, which the Bench then counts down.
fn begin_wait(job: SubjectId, operation: Memo<String>, minutes: u32) -> Option<AnyView> {
    let bench = use_selection();
    let start = words::calc_screens::start_wait(&minutes_in_words(minutes.into()));
    let begin = move |_| {
        let wait = Wait::drying(minutes, operation.get_untracked(), None);
        bench.act(vec![commands::wait(job, wait)], words::calc_screens::waiting());
    };
    Some(view! { <p><button class="bench" on:click=begin>{start}</button></p> }.into_any())
}

/// The result, large, or small where nothing was measured; or why there is none.
fn said(answer: Result<CalcAnswer, String>) -> AnyView {
    match answer {
        Ok(answer) => {
            let say = match answer.rests_on.caveat() {
                None => view! { <p><strong>{answer.say}</strong></p> }.into_any(),
                Some(caveat) => view! { <p class="quiet">{caveat}</p> <p class="quiet">{answer.say}</p> }.into_any(),
            };
            let more = answer.more.into_iter().map(|line| view! { <p class="quiet">{line}</p> });
            view! { <section class="card answer" aria-label=words::calc_screens::result() aria-live="polite">{say}{more.collect_view()}</section> }
                .into_any()
        }
        Err(why) => view! { <section class="card answer" aria-label=words::calc_screens::result() aria-live="polite"><p class="bad">{why}</p></section> }.into_any(),
    }
}

/// The state of the job; the default if it has none.
fn state_of(known: &JobLife) -> JobState {
    known.state().cloned().unwrap_or_default()
}

/// The unit in which the shop gives lengths.
fn lengths_of(shop: ShopContext) -> Lengths {
    untrack(|| shop.lengths())
}
