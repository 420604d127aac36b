use super::*;
use crate::trade::cautions::Caution;
use crate::trade::construction_key::{GUESSES, QUESTIONS};
use crate::trade::dangers::hazards;
use crate::trade::final_check::{shown, usual_list};
use crate::trade::operations::operations;
use crate::trade::waits::WaitKind;
use crate::trade::{
    CameWith, Component, Condition, Construction, Goods, Material, Station, advice, packages,
};
use std::collections::BTreeSet;
use words::speaking;

/// What only a British reader says: a part of a text in small letters.
const BRITISH: &[&str] = &[
    "boot leg",
    "burnt",
    "colour",
    "court shoe",
    "fibre",
    "gusset",
    "levelled",
    "levelling",
    "long boot",
    "long sole",
    "mould",
    "mulling",
    "odour",
    "orthopaedic",
    "press stud",
    "re-stick",
    "refix",
    "sock lining",
    "stiffener",
    "toe puff",
    "top piece",
    "trainer",
    "vapour",
    "vulcanis",
    "waist",
    "walking boot",
];
/// The same of an American reader.
const AMERICAN_ONLY: &[&str] = &[
    "box toe",
    "color",
    "counter",
    "fiber",
    "full sole",
    "heel cap",
    "hiking boot",
    "leveled",
    "mold",
    "odor",
    "orthopedic",
    "reattach",
    "reglue",
    "shaft",
    "shank area",
    "shank piece",
    "sneaker",
    "sock liner",
    "tall boot",
    "tempering",
    "vapor",
    "vulcaniz",
    "zipper",
];
/// What only a British reader says: a whole word.
const BRITISH_WORDS: &[&str] = &["round", "zip", "zips"];
/// The same of an American reader.
const AMERICAN_WORDS: &[&str] = &[
    "around", "burned", "gore", "gores", "pump", "pumps", "snap", "snaps",
];

/// Every text of the tables that a person may read, in the language that this thread speaks.
fn every_text() -> Vec<&'static str> {
    let mut all: Vec<&'static str> = Vec::new();
    for known in operations() {
        all.extend([known.name(), known.tile_name(), known.plain(), known.plain_one()]);
        all.extend(known.variants.iter().map(|one| one.name()));
        for hazard in hazards(known.code, Material::KNOWN) {
            all.extend([hazard.source(), hazard.does(), hazard.protection()]);
            all.extend(hazard.codes.iter().map(|code| code.words()));
        }
    }
    all.extend(packages().iter().map(|one| one.name()));
    all.extend(Component::KNOWN.iter().flat_map(|one| [one.words(), one.plain()]));
    all.extend(
        Construction::KNOWN
            .iter()
            .flat_map(|one| [one.words(), one.plain()]),
    );
    all.extend(Condition::KNOWN.iter().map(Condition::words));
    all.extend(Material::KNOWN.iter().map(Material::words));
    all.extend(Goods::KNOWN.iter().map(Goods::words));
    all.extend(CameWith::KNOWN.iter().map(CameWith::words));
    all.extend(Station::KNOWN.iter().map(Station::words));
    all.extend(WaitKind::ALL.iter().map(|kind| kind.words()));
    all.extend(Caution::ALL.iter().flat_map(|one| [one.line(), one.full()]));
    all.extend(advice::all().flat_map(|one| [one.say(), one.because()]));
    all.extend(usual_list().map(shown));
    for question in QUESTIONS {
        all.push(question.ask());
        all.extend(question.answers.iter().map(|answer| answer.say()));
    }
    for guess in GUESSES {
        all.extend([
            guess.speaks_for(),
            guess.speaks_against(),
            guess.resole(),
            guess.before_opening(),
        ]);
    }
    all
}

/// What of `parts` and whole `words` a text contains.
fn says(text: &str, parts: &[&'static str], words: &[&'static str]) -> Vec<&'static str> {
    let text = text.to_lowercase();
    let whole: Vec<&str> = text.split(|c: char| !c.is_alphabetic()).collect();
    let parts = parts.iter().filter(|part| text.contains(**part));
    let words = words.iter().filter(|word| whole.contains(*word));
    parts.chain(words).copied().collect()
}

#[test]
fn each_text_is_there_once_and_in_order() {
    for pair in AMERICAN.windows(2) {
        assert!(pair[0].0 < pair[1].0, "{} before {}", pair[0].0, pair[1].0);
    }
    let british: BTreeSet<_> = AMERICAN.iter().map(|(text, _)| *text).collect();
    for (text, american) in AMERICAN {
        assert!(!british.contains(american), "{text}: {american} is British too");
        let sided = |text: &&str| text.matches("{side}").count();
        assert_eq!(sided(text), sided(american), "{text}");
        assert_eq!(text.ends_with('.'), american.ends_with('.'), "{text}");
    }
}

#[test]
fn every_key_is_a_text_of_the_tables() {
    let all: BTreeSet<_> = every_text().into_iter().collect();
    for (text, _) in AMERICAN {
        assert!(all.contains(text), "{text}: no table says so any more");
    }
}

#[test]
fn british_texts_have_no_american_words() {
    for text in every_text() {
        assert_eq!(
            says(text, AMERICAN_ONLY, AMERICAN_WORDS),
            Vec::<&str>::new(),
            "{text}"
        );
    }
}

#[test]
fn american_texts_have_no_british_words() {
    let american = speaking(Language::American, every_text);
    assert_eq!(american.len(), every_text().len());
    for text in american {
        assert_eq!(says(text, BRITISH, BRITISH_WORDS), Vec::<&str>::new(), "{text}");
    }
}

/// The waist of a sole is the American's shank, and so is the strip inside it: each has a name of its own.
#[test]
fn things_of_one_kind_keep_different_names() {
    fn distinct<'a>(all: impl Iterator<Item = &'a str>) {
        let all: Vec<_> = all.collect();
        let once: BTreeSet<_> = all.iter().collect();
        assert_eq!(once.len(), all.len(), "{all:?}");
    }
    speaking(Language::American, || {
        distinct(Component::KNOWN.iter().map(Component::words));
        distinct(Goods::KNOWN.iter().map(Goods::words));
        distinct(Construction::KNOWN.iter().map(Construction::words));
        distinct(WaitKind::ALL.iter().map(|kind| kind.words()));
        distinct(operations().map(|known| known.name()));
        distinct(operations().map(|known| known.tile_name()));
        distinct(packages().iter().map(|one| one.name()));
    });
}

#[test]
fn the_shops_own_words_stay_as_they_are() {
    let said = || {
        (
            Component::from("Zip ").words().to_owned(),
            in_usage("Bell rung").to_owned(),
        )
    };
    assert_eq!(
        speaking(Language::American, said),
        ("Zip ".to_owned(), "Bell rung".to_owned())
    );
}
