//! Naming the part and the condition of a finding that was entered in the shop's own words.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Damage;
use shared::log::fold::Item;
use shared::trade::component::Component;
use shared::trade::condition::Condition;

use crate::selection::use_selection;
use app_core::commands::inside::name_finding;

/// Two lists to choose the names from, folded until they are wanted.
#[component]
pub fn NameIt(
    /// The job.
    job: SubjectId,
    /// The finding.
    finding: Item<Damage>,
    /// What it is called now.
    #[prop(into)]
    called: String,
) -> impl IntoView {
    let bench = use_selection();
    let part = RwSignal::new(finding.body.part.clone());
    let condition = RwSignal::new(finding.body.condition.clone());
    let id = |field: &str| [field, "-of-", &finding.entry.to_string()].concat();
    let parts = Component::KNOWN.iter().map(|one| (one.as_str(), one.words()));
    let conditions = Condition::KNOWN.iter().filter(|one| one.is_damage());
    let conditions = conditions.map(|one| (one.as_str(), one.words()));
    let part_is = choice(words::open_up::part_is(), id("part"), part, parts);
    let wrong_is = choice(words::open_up::wrong_is(), id("condition"), condition, conditions);
    let keep = move |_| {
        let part = Component::from(part.get_untracked().as_str());
        let condition = Condition::from(condition.get_untracked().as_str());
        if let Some(draft) = name_finding(job, &finding, &part, &condition) {
            let condition = condition.words().to_lowercase();
            bench.act(
                vec![draft],
                words::open_up::finding_named(part.words(), &condition),
            );
        }
    };
    view! {
        <details>
            <summary aria-label=move || words::open_up::name_finding(&called)>{words::open_up::name_it()}</summary>
            <div class="stack">
                {part_is}
                {wrong_is}
                <button class="bench" on:click=keep>{words::open_up::save_the_name()}</button>
            </div>
        </details>
    }
}

/// A list of names (word in the log, name); the word that is chosen now comes first if it is not among them.
fn choice<'a>(
    label: &'static str,
    id: String,
    value: RwSignal<String>,
    known: impl Iterator<Item = (&'a str, &'a str)>,
) -> AnyView {
    let now = value.get_untracked();
    let known: Vec<(&str, &str)> = known.collect();
    let own = (!known.iter().any(|(word, _)| *word == now)).then(|| {
        view! { <option value=now.clone() selected>{now.clone()}</option> }
    });
    let options = known.into_iter().map(|(word, name)| {
        view! { <option value=word.to_owned() selected=word == now>{name.to_owned()}</option> }
    });
    let options = options.collect_view();
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <select id=id on:change=move |event| value.set(event_target_value(&event))>{own}{options}</select>
        </div>
    }
    .into_any()
}
