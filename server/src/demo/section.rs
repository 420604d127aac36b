//! Makes a section of the care card, which the customer reads, from what was done.

use shared::log::UnixMs;
use shared::log::body::{CardPhoto, Decision, Pays, Section, Seen, Shows};
use shared::trade::{
    Component, Condition, Construction, Facts, Goods, Material, advice, operation, worked_parts,
};

use super::story::{Find, StoryPair};

/// What was done on a job so far, as the section needs it.
#[derive(Debug, Default)]
pub(super) struct SectionProgress {
    pub(super) steps: Vec<(&'static str, UnixMs)>,
    pub(super) found: Vec<&'static Find>,
    pub(super) gifts: Vec<&'static str>,
    /// The notes that were ticked for the card.
    pub(super) notes: Vec<&'static str>,
    pub(super) construction: Option<&'static str>,
}

impl SectionProgress {
    /// The caption of a photograph taken now.
    pub(super) fn caption(&self, shows: &Shows) -> String {
        match shows {
            Shows::Damage => self.found.last().map_or("", |find| find.note).to_owned(),
            Shows::Step => self
                .steps
                .last()
                .and_then(|(code, _)| operation(code))
                .map_or("", |known| known.plain())
                .to_owned(),
            _ => String::new(),
        }
    }

    /// The codes of the operations done, each once, in the order in which they were first done.
    fn operations(&self) -> Vec<&'static str> {
        let mut once: Vec<&'static str> = Vec::new();
        for (code, _) in &self.steps {
            if !once.contains(code) {
                once.push(code);
            }
        }
        once
    }
}

/// The section. The day, the next check, the terms and the shop are filled in by the caller.
pub(super) fn section(pair: &StoryPair, done: &SectionProgress, photos: Vec<CardPhoto>) -> Section {
    let operations = done.operations();
    let paid = operations.iter().filter(|code| !done.gifts.contains(code));
    let inside = done.found.iter().filter(|find| find.seen == Seen::Inside);
    let wait = operations
        .iter()
        .filter_map(|code| operation(code))
        .map(|known| known.wear_after_h)
        .max();
    let worked = worked_parts(operations.iter().copied());
    let codes = |parts: Vec<&Component>| parts.into_iter().map(|part| part.as_str().to_owned()).collect();
    Section {
        title: [pair.colour, pair.look].join(" "),
        done: paid.filter_map(|code| plain(code)).collect(),
        found: inside.map(|find| decided(find)).collect(),
        gifts: done.gifts.iter().filter_map(|code| plain(code)).collect(),
        notes: done.notes.iter().map(|note| (*note).to_owned()).collect(),
        advice: advised(pair, done, &operations),
        wait_hours: wait.filter(|hours| *hours > 0),
        photos,
        goods: pair.goods.to_owned(),
        new_parts: codes(worked.new),
        mended_parts: codes(worked.mended),
        ..Section::default()
    }
}

fn plain(code: &str) -> Option<String> {
    operation(code).map(|known| known.plain().to_owned())
}

/// What was found, and what was decided about it.
fn decided(find: &Find) -> String {
    let done = match &find.decided {
        Some((Decision::Mend, _)) => "Mended",
        Some((Decision::Replace, _)) => "Replaced",
        Some((Decision::Keep, _)) => return format!("{} It was good enough to stay.", find.note),
        _ => return format!("{} Left as it is.", find.note),
    };
    let free = matches!(find.decided, Some((_, Pays::ShopNeeded | Pays::ShopChoice)));
    let cost = if free { ", at no charge" } else { "" };
    format!("{} {done}{cost}.", find.note)
}

fn advised(pair: &StoryPair, done: &SectionProgress, operations: &[&str]) -> Vec<String> {
    let goods = Goods::from(pair.goods);
    let construction = done.construction.map(Construction::from);
    let materials: Vec<Material> = pair.materials.iter().copied().map(Material::from).collect();
    let damages: Vec<(Component, Condition)> = done
        .found
        .iter()
        .map(|find| (Component::from(find.part), Condition::from(find.condition)))
        .collect();
    let facts = Facts {
        goods: Some(&goods),
        construction: construction.as_ref(),
        materials: &materials,
        damages: &damages,
        operations,
    };
    let said = advice::advice(&facts);
    said.map(|one| [one.say(), one.because()].join(" ")).collect()
}
