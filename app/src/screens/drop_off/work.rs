//! The work on a pair: packages and operations to tap, and what they ask for.

use leptos::prelude::*;
use shared::log::body::OperationCode;
use shared::trade::operations::{self, operations, operations_on};
use shared::trade::packages::packages_for;
use shared::trade::usual_work::{is_meant, usual_work_on};
use shared::trade::{Condition, Goods, Material, Package, package};

use super::counter::CounterForm;
use super::lines::Line;
use crate::parts::{Toggle, Typed, WorkToo};
use crate::shop::ShopContext;
use app_core::commands::{PairIn, work_id};

/// The work on one pair: buttons for packages and operations, and the lines they add.
#[component]
pub(super) fn Work(counter: CounterForm, place: usize) -> impl IntoView {
    let known = Memo::new(move |_| counter.form.with(|form| KnownOfPair::of(form.pairs.get(place))));
    let (more, sought) = (RwSignal::new(false), RwSignal::new(String::new()));
    let said = Memo::new(move |_| if more.get() { sought.get() } else { String::new() });
    // Joined into one text for the memo to compare, so that the list is redrawn only when it differs.
    let bundles = Memo::new(move |_| {
        let bundled = known.with(|known| bundled(known, more.get(), &said.get()));
        bundled.join("\n")
    });
    let shown = Memo::new(move |_| {
        let offered = known.with(|known| offered(counter.shop, known, more.get(), &said.get()));
        offered.join("\n")
    });
    let bundles = move || {
        let codes = bundles.get();
        let known = codes.lines().filter_map(package);
        known.map(|one| package_chip(counter, place, one)).collect_view()
    };
    let chips = move || {
        let codes = shown.get();
        let all = codes.lines();
        all.map(|operation| chip(counter, place, operation.into()))
            .collect_view()
    };
    let count = Memo::new(move |_| counter.of_pair(place, |pair| pair.lines.len()).get());
    let typed = Callback::new(move |text| sought.set(text));
    let nothing = move || more.get() && shown.with(String::is_empty);
    view! {
        <Show when=move || more.get()>
            <Typed label=words::drop_off::find_work().to_owned() kind="search" value=sought.into() typed/>
        </Show>
        <div class="chips" role="group" aria-label=words::drop_off::work() id=work_id(place) tabindex="-1">
            {bundles}
            {chips}
            <button type="button" class="quiet" aria-expanded=move || if more.get() { "true" } else { "false" }
                on:click=move |_| more.update(|more| *more = !*more)>
                {move || if more.get() { words::drop_off::less_work() } else { words::drop_off::more_work() }}
            </button>
        </div>
        <Show when=nothing><p class="quiet" role="status">{words::drop_off::no_such_work()}</p></Show>
        <Show when=move || more.get()><OtherWork counter place/></Show>
        <ul class="plain lines">
            <For each=move || 0..count.get() key=|at| *at let:at><Line counter place at/></For>
        </ul>
        <AsksFor counter place/>
    }
}

/// What is known of a pair that decides which work is usual on it.
#[derive(Clone, Default, PartialEq)]
struct KnownOfPair {
    /// The code of its kind of goods.
    goods: String,
    materials: Vec<Material>,
    /// The conditions of its visible damage.
    seen: Vec<Condition>,
}

impl KnownOfPair {
    /// That of a pair of the form; nothing once it has been removed.
    fn of(pair: Option<&PairIn>) -> Self {
        let Some(pair) = pair else {
            return Self::default();
        };
        let materials = pair.made_of.materials.iter();
        Self {
            goods: pair.goods.clone(),
            materials: materials.map(|code| Material::from(code.as_str())).collect(),
            seen: pair.damage.iter().map(|one| one.condition.clone()).collect(),
        }
    }

    /// The work to offer first.
    fn usual(&self) -> Vec<&'static str> {
        usual_work_on(&Goods::from(self.goods.as_str()), &self.materials, &self.seen)
    }
}

/// The packages for a pair: those of usual work, or all; of these, what is meant by what was typed.
fn bundled(known: &KnownOfPair, all: bool, sought: &str) -> Vec<&'static str> {
    let usual = known.usual();
    let is_usual = |one: &Package| one.operations.iter().all(|code| usual.contains(code));
    packages_for(&Goods::from(known.goods.as_str()))
        .filter(|one| (all || is_usual(one)) && is_meant(one.name(), sought))
        .map(|one| one.code)
        .collect()
}

/// The operations for a pair: the usual ones, or all, then the shop's own; of these, what is meant by what was typed.
fn offered(shop: ShopContext, known: &KnownOfPair, all: bool, sought: &str) -> Vec<String> {
    let goods = known.goods.as_str();
    let kind = Goods::from(goods);
    let usual = known.usual();
    let rest = operations_on(&kind).map(|one| one.code);
    let rest = rest.filter(|code| all && !usual.contains(code));
    let mut own = shop.own_operations();
    own.retain(|one| shop.price(one, goods).is_some());
    let trade = usual.iter().copied().chain(rest).map(str::to_owned);
    trade
        .chain(own.into_iter().map(String::from))
        .filter(|code| is_meant(code, sought))
        .collect()
}

/// A chip for an operation; it cannot be chosen while it is part of other work on the pair.
fn chip(counter: CounterForm, place: usize, operation: OperationCode) -> AnyView {
    let name = operations::name(&operation).to_owned();
    let code = operation.clone();
    let on = counter.of_pair(place, move |pair| pair.has(&code));
    let code = operation.clone();
    let press = Callback::new(move |()| {
        let shop = counter.shop.state();
        counter.change_pair(place, |pair| pair.toggle(&code, &shop));
    });
    if !operations().any(|one| one.includes.contains(&operation.as_str())) {
        return view! { <Toggle label=name on press/> }.into_any();
    }
    let other = counter.of_pair(place, move |pair| {
        let other = pair.includes(&operation)?;
        Some(operations::name(&other.operation).to_owned())
    });
    let other = Memo::new(move |_| other.get());
    let chip = move || match other.get() {
        Some(other) => {
            let label = words::drop_off::part_of_other_work(&name, &other);
            view! { <button type="button" class="chip" disabled=true>{label}</button> }.into_any()
        }
        None => view! { <Toggle label=name.clone() on press/> }.into_any(),
    };
    chip.into_any()
}

fn package_chip(counter: CounterForm, place: usize, package: &'static Package) -> impl IntoView {
    let on = counter.of_pair(place, move |pair| pair.has_package(package));
    let press = Callback::new(move |()| {
        let shop = counter.shop.state();
        counter.change_pair(place, |pair| pair.toggle_package(package, &shop));
    });
    view! { <Toggle label=package.name() on press/> }
}

/// Work that is in no list, described in words.
#[component]
fn OtherWork(counter: CounterForm, place: usize) -> impl IntoView {
    let words = RwSignal::new(String::new());
    let add = move |_| {
        let operation = words.get().trim().to_owned();
        if !operation.is_empty() {
            let shop = counter.shop.state();
            counter.change_pair(place, |pair| pair.toggle(&operation, &shop));
            words.set(String::new());
        }
    };
    let typed = Callback::new(move |text| words.set(text));
    view! {
        <div class="row">
            <Typed label=words::drop_off::other_work().to_owned() value=words.into() typed/>
            <button type="button" class="quiet" on:click=add>{words::drop_off::add_other_work()}</button>
        </div>
    }
}

/// One line for each operation that has to be asked for with the work that was chosen: heels with a full sole.
#[component]
fn AsksFor(counter: CounterForm, place: usize) -> impl IntoView {
    let asked = Memo::new(move |_| {
        let shop = counter.shop.state();
        let asked = counter
            .form
            .with(|form| form.pairs.get(place).map(|pair| pair.asks_for(&shop)));
        asked.unwrap_or_default()
    });
    let add = Callback::new(move |code: &'static str| {
        let shop = counter.shop.state();
        counter.change_pair(place, |pair| pair.add_asked(code, &shop));
    });
    view! { <WorkToo asked add/> }
}
