//! What helpers' devices have sent that their role may not write: the server keeps it aside until a repairer takes it or
//! drops it.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::EntryId;
use shared::sync::messages::{
    Device, KeptAside as KeptEntry, KeptAsideDecided, KeptAsideDecision, MAX_ASKED, PushOutcome,
};

use super::entry_words::{about, said_by};
use crate::device::network::Remote;
use crate::parts::on_day;
use crate::server_functions;
use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};
use app_core::store::Membership;

/// The most entries that are listed at a time.
const LISTED: usize = 50;

/// The server's answer, in words.
#[derive(Debug, Clone)]
struct KeptList {
    /// What "all" means: as many as can be decided at once.
    all: Vec<EntryId>,
    lines: Vec<KeptLine>,
    /// Whether the server has more.
    more: bool,
}

/// An entry that is kept aside, in words.
#[derive(Debug, Clone)]
struct KeptLine {
    id: EntryId,
    what: String,
    of: String,
    sent: String,
}

/// The list, asked for when it is opened and by a button, with ways to take and to drop each entry and all of them.
#[component]
pub fn KeptAside(membership: StoredValue<Membership>) -> impl IntoView {
    let (session, shop) = (use_session(), use_shop());
    let kept = RwSignal::new(None::<KeptList>);
    let ask = move |by_hand: bool| {
        let membership = membership.get_value();
        spawn_local(async move {
            match asked(session, shop, &membership).await {
                Ok(list) => drop(kept.try_set(Some(list))),
                Err(why) if by_hand => session.complain(why),
                // Nobody has asked, and perhaps there is no network.
                Err(_) => {}
            }
        });
    };
    ask(false);
    let decide = move |decision: KeptAsideDecision, said: &'static str| {
        let remote = membership.with_value(Remote::of);
        spawn_local(async move {
            match remote.decide_kept_aside(&decision).await {
                Ok(decided) => {
                    match refusal(decided) {
                        Some(why) => session.complain(why),
                        None => session.tell(said),
                    }
                    session.sync().now();
                    ask(true);
                }
                Err(failure) => session.complain(failure),
            }
        });
    };
    let take = Callback::new(move |take| {
        let drop = Vec::new();
        let decision = KeptAsideDecision { take, drop };
        decide(decision, words::shop::kept_aside::taken());
    });
    let let_go = Callback::new(move |drop| {
        let take = Vec::new();
        let decision = KeptAsideDecision { take, drop };
        decide(decision, words::shop::kept_aside::dropped());
    });
    let list = move || kept.get().map(|list| listed(list, take, let_go));
    view! {
        <section class="stack" aria-label=words::shop::kept_aside::kept_aside()>
            <h3>{words::shop::kept_aside::kept_aside()}</h3>
            <p class="quiet">{words::shop::kept_aside::what_is_kept()}</p>
            {list}
            <button class="quiet" on:click=move |_| ask(true)>{words::shop::kept_aside::ask_what_is_kept()}</button>
        </section>
    }
}

/// The entries, and what can be done with all of them at once.
fn listed(list: KeptList, take: Callback<Vec<EntryId>>, let_go: Callback<Vec<EntryId>>) -> AnyView {
    let KeptList { all, lines, more } = list;
    if all.is_empty() {
        return view! { <p>{words::shop::kept_aside::nothing_is_kept()}</p> }.into_any();
    }
    let others = all.len() - lines.len();
    let at_once = (all.len() > 1).then(|| {
        let (taken, dropped) = (all.clone(), all.clone());
        view! {
            <div class="row">
                <button on:click=move |_| take.run(taken.clone())>{words::shop::kept_aside::take_all()}</button>
                <button class="quiet" on:click=move |_| let_go.run(dropped.clone())>{words::shop::kept_aside::drop_all()}</button>
            </div>
        }
    });
    let rows = lines.into_iter().map(|line| {
        let KeptLine { id, what, of, sent } = line;
        let take_it = words::shop::kept_aside::take_what(&what, &of);
        let drop_it = words::shop::kept_aside::drop_what(&what, &of);
        view! {
            <li class="row between line">
                <span><strong>{what}</strong>" "{of}" "<span class="quiet">{sent}</span></span>
                <span class="row">
                    <button aria-label=take_it on:click=move |_| take.run(vec![id])>{words::shop::kept_aside::take()}</button>
                    <button class="quiet" aria-label=drop_it on:click=move |_| let_go.run(vec![id])>{words::shop::kept_aside::drop_it()}</button>
                </span>
            </li>
        }
    });
    view! {
        <ul class="plain stack">{rows.collect_view()}</ul>
        {(others > 0).then(|| view! { <p>{words::shop::kept_aside::not_all_are_shown(others)}</p> })}
        {more.then(|| view! { <p>{words::shop::kept_aside::there_is_more()}</p> })}
        {at_once}
    }
    .into_any()
}

/// Asks the server, and puts its answer in words; the error too.
async fn asked(session: Session, shop: ShopContext, membership: &Membership) -> Result<KeptList, String> {
    let answer = Remote::of(membership).kept_aside().await;
    let answer = answer.map_err(|failure| failure.to_string())?;
    let devices = match answer.entries.is_empty() {
        true => Vec::new(),
        false => names(membership).await,
    };
    let all: Vec<EntryId> = answer.entries.iter().map(|one| one.entry.entry.id).collect();
    let mut lines = Vec::new();
    for one in answer.entries.iter().take(LISTED) {
        lines.push(line(session, shop, one, &devices).await?);
    }
    Ok(KeptList {
        more: answer.more || all.len() > MAX_ASKED,
        all: all.into_iter().take(MAX_ASKED).collect(),
        lines,
    })
}

/// The devices of the shop; none if they cannot be had.
async fn names(membership: &Membership) -> Vec<Device> {
    server_functions::ask_at(
        membership.url.as_deref().unwrap_or_default(),
        membership.token.clone(),
    );
    server_functions::devices().await.unwrap_or_default()
}

async fn line(
    session: Session,
    shop: ShopContext,
    kept: &KeptEntry,
    devices: &[Device],
) -> Result<KeptLine, String> {
    let entry = &kept.entry.entry;
    let phone = session.opened().map_err(|error| error.to_string())?;
    let of = about(&phone, &entry.subject)
        .await
        .map_err(|error| error.to_string())?;
    let sender = devices.iter().find(|device| device.id == kept.device);
    let unknown = words::shop::kept_aside::a_device_of_the_shop();
    let sender = sender.map_or(unknown, |device| device.name.as_str());
    Ok(KeptLine {
        id: entry.id,
        what: said_by(entry, shop),
        of,
        sent: words::shop::kept_aside::sent_by(sender, &on_day(kept.arrived)),
    })
}

/// Why one of the taken entries was refused after all.
fn refusal(decided: KeptAsideDecided) -> Option<String> {
    let refused = |(_, outcome): (EntryId, PushOutcome)| match outcome {
        PushOutcome::Refused(problem) => Some(problem.message),
        PushOutcome::Accepted { .. } => None,
    };
    decided.taken.into_iter().find_map(refused)
}
