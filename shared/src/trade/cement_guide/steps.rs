//! An answer of the guide in words: what to know first, and the steps in order.

use super::kinds::{CementKind, FILM_C};
use super::{CementAnswer, CementVerdict, CementWay, FindOut, SideWay};
use crate::trade::waits::Minutes;

/// A step in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GuideStep {
    /// Its name.
    pub name: &'static str,
    /// What to do.
    pub text: String,
}

impl GuideStep {
    fn of(name: &'static str, text: String) -> Self {
        Self { name, text }
    }
}

impl FindOut {
    /// What to find out.
    pub fn words(&self) -> String {
        match self {
            FindOut::GluedOn => words::cement::find_out_glued_on().to_owned(),
            FindOut::GluedTo => words::cement::find_out_glued_to().to_owned(),
            FindOut::Unlisted(material) => words::cement::find_out_unlisted(material.words()),
            FindOut::PuOrEva => words::cement::find_out_pu_or_eva().to_owned(),
        }
    }
}

impl CementAnswer {
    /// How far it can be relied on.
    pub fn verdict(&self) -> CementVerdict {
        match &self.way {
            Some(way) if self.find_out.is_empty() && way.against.is_empty() => CementVerdict::Sure,
            None if self.find_out.is_empty() => CementVerdict::NotAdvised,
            _ => CementVerdict::AskFirst,
        }
    }

    /// What to know before the steps: what the answer is worth, what to find out or to try, and the shop's note.
    pub fn first(&self) -> Vec<String> {
        let mut all: Vec<String> = self.find_out.iter().map(FindOut::words).collect();
        if let Some(way) = &self.way {
            let against = way.against.iter();
            all.extend(against.map(|side| words::cement::own_against(side.words(), way.cement.words())));
        }
        if self.verdict() == CementVerdict::NotAdvised
            && let [on, to] = self.sides.as_slice()
        {
            all.push(words::cement::no_cement_takes_both(
                on.material.words(),
                to.material.words(),
            ));
        }
        all.extend(self.note.as_deref().map(words::cement::own_note));
        all.push(words::cement::sheet_first().to_owned());
        all
    }

    /// The steps in order. Where no cement is named, those that make the known sides ready, and what takes on them;
    /// where none is advised, what to do instead.
    pub fn steps(&self) -> Vec<GuideStep> {
        if self.verdict() == CementVerdict::NotAdvised {
            let instead = words::cement::layer_between().to_owned();
            return vec![GuideStep::of(words::cement::step_instead(), instead)];
        }
        let mut steps = self.ready();
        match &self.way {
            Some(way) => steps.extend(joining(way, &self.sides)),
            None if self.others.is_empty() => {}
            None => {
                let both = self.find_out.iter().all(|one| *one == FindOut::PuOrEva);
                let take = match both {
                    true => words::cement::takes_on_either(&names(&self.others)),
                    false => words::cement::takes_on_known(&names(&self.others)),
                };
                steps.push(GuideStep::of(words::cement::step_cement(), take));
            }
        }
        steps
    }

    /// The other cements that take on both sides, in words; `None` if there are none or the sides are not both known.
    pub fn also(&self) -> Option<String> {
        let named = self.way.is_some() && self.find_out.is_empty() && !self.others.is_empty();
        named.then(|| words::cement::also_take(&names(&self.others)))
    }

    /// What the law says about the solvents of the cements, with its source.
    pub fn limits(&self) -> Vec<String> {
        let kinds = self
            .way
            .as_ref()
            .map_or(self.others.as_slice(), |way| std::slice::from_ref(&way.cement));
        let solvent = kinds.iter().copied().find(|kind| kind.has_solvent());
        solvent.map_or_else(Vec::new, CementKind::limits)
    }

    /// The steps that make the sides ready.
    fn ready(&self) -> Vec<GuideStep> {
        let on = |side: &SideWay, text: &str| words::cement::on_material(side.material.words(), text);
        let mut steps = Vec::new();
        for side in &self.sides {
            steps.push(GuideStep::of(
                words::cement::step_prepare(),
                on(side, side.prepare),
            ));
        }
        for side in &self.sides {
            steps.push(GuideStep::of(words::cement::step_wipe(), on(side, side.wipe)));
        }
        let prime = |text: String| GuideStep::of(words::cement::step_prime(), text);
        match &self.own_prime {
            Some(own) => steps.push(prime(own.clone())),
            None => {
                let asked = self.sides.iter().filter_map(|side| Some(on(side, side.prime?)));
                steps.extend(asked.map(prime));
            }
        }
        steps
    }
}

/// The steps from the first coat to full strength.
fn joining(way: &CementWay, sides: &[SideWay]) -> Vec<GuideStep> {
    let (wait, open) = (time(way.wait), time(way.open));
    let (low, high) = FILM_C;
    let wait = match way.cement {
        CementKind::TwoPart => words::cement::wait_mixed(&wait),
        _ => words::cement::wait_dry(&wait),
    };
    let join = match way.cement {
        CementKind::Neoprene | CementKind::WaterBased => words::cement::join_within(&open),
        CementKind::Polyurethane => words::cement::join_warm(low, high, &open),
        CementKind::RubberSolution => words::cement::join_or_coat(&open),
        CementKind::TwoPart => words::cement::join_mixed(&open),
    };
    let (from, to) = way.full_strength_h;
    vec![
        GuideStep::of(words::cement::step_cement(), coated(way, sides)),
        GuideStep::of(words::cement::step_wait(), wait),
        GuideStep::of(words::cement::step_join(), join),
        GuideStep::of(words::cement::step_press(), way.press.words()),
        GuideStep::of(
            words::cement::step_trim(),
            words::cement::trim_after(way.trim_after_min),
        ),
        GuideStep::of(
            words::cement::step_strength(),
            words::cement::full_strength(from, to),
        ),
    ]
}

/// The cement with the shop's product, its coats on each side, and what goes with them.
fn coated(way: &CementWay, sides: &[SideWay]) -> String {
    let cement = match &way.product {
        Some(product) => words::cement::with_product(way.cement.words(), product),
        None => way.cement.words().to_owned(),
    };
    let most = sides.iter().map(|side| side.coats).max().unwrap_or(1);
    let alike = sides.iter().all(|side| side.coats == most);
    let mut lines = vec![if alike {
        words::cement::cement_on_both(&cement, &words::cement::coats(most))
    } else {
        let coats = sides.iter().map(|side| {
            let coats = words::cement::coats(side.coats);
            words::cement::coats_on(side.material.words(), &coats)
        });
        words::cement::cement_on_each(&cement, &listed(&coats.collect::<Vec<_>>()))
    }];
    if most > 1 {
        lines.push(words::cement::each_coat_dries().to_owned());
    }
    if way.cement == CementKind::Polyurethane {
        lines.push(words::cement::hardener_by_sheet().to_owned());
    }
    lines.join(" ")
}

/// A range of minutes in words.
fn time(minutes: Minutes) -> String {
    if minutes.low == minutes.high {
        words::time::minutes(minutes.low.into())
    } else {
        words::cement::from_to_minutes(minutes.low, minutes.high)
    }
}

/// The names of cements, as a list.
fn names(kinds: &[CementKind]) -> String {
    let names: Vec<&str> = kinds.iter().map(|kind| kind.words()).collect();
    words::lists::and(&names)
}

fn listed(texts: &[String]) -> String {
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    words::lists::and(&texts)
}
