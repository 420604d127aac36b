//! What remains of an entry in which several people were mentioned, if each was erased by a device that did not know of the
//! other erasures: each of them has left the names of the others.

use serde_json::Value;

use super::body::Body;
use super::mentions::{GONE, or_nothing, says_anything, texts};

/// The most pairs of pieces that are compared to align two texts, so that no entry costs much time or memory. What would
/// take more is left out.
const MOST_PAIRS: usize = 250_000;

/// The most different contents left of one entry whose texts are aligned, each time with up to [`MOST_PAIRS`] pairs. Of
/// more, the texts are left out, so that no number of erasures makes one entry costly to align.
const MOST_LEFT: usize = 16;

/// What remains of an entry of this kind once everything is applied that erasures have left of it; `left` is in the order
/// of the log. The first one decides about all but the texts. Of these, what every erasure has left remains; a text
/// of which that cannot be told is left out as a whole. With more than 16 different contents all texts are left out, in
/// whatever order they are. `None` if nothing remains.
pub fn left_by_all(kind: &str, left: &[Value]) -> Option<Value> {
    let (first, others) = left.split_first()?;
    let mut others: Vec<&Value> = others
        .iter()
        .filter(|other| *other != first && is_of_same_entry(kind, first, other))
        .collect();
    if others.is_empty() {
        return Some(first.clone());
    }
    // The texts of three do not depend on which of them came first.
    others.sort_by_cached_key(|other| other.to_string());
    others.dedup();
    let mut remains = first.clone();
    // The first one is another one.
    if others.len() >= MOST_LEFT {
        texts(kind, true, &mut remains)
            .into_iter()
            .for_each(String::clear);
    } else {
        for other in others {
            keep_common(kind, &mut remains, &mut other.clone());
        }
    }
    says_anything(kind, &remains).then_some(remains)
}

/// Whether both can have been left of one entry of this kind. Of an entry that erases a mention, both have to say the
/// same of what it erases; of any other, neither may be one that erases a mention.
fn is_of_same_entry(kind: &str, first: &Value, other: &Value) -> bool {
    let is_readable = Body::of_value(kind, other) != Body::Unknown;
    is_readable
        && (kind == "mention_erased" || other.get("entry").is_none())
        && targets(first) == targets(other)
}

/// The entries in which a mention is erased by what is left, the outermost first.
fn targets(left: &Value) -> Vec<&Value> {
    let levels = std::iter::successors(Some(left), |level| level.get("left"));
    levels.filter_map(|level| level.get("entry")).collect()
}

/// Takes out of the texts of one body what is not in those of the other.
fn keep_common(kind: &str, body: &mut Value, other: &mut Value) {
    let (ours, theirs) = (texts(kind, true, body), texts(kind, true, other));
    if ours.len() == theirs.len() {
        for (text, other) in ours.into_iter().zip(theirs) {
            *text = common(text, other);
        }
    } else {
        ours.into_iter().for_each(String::clear);
    }
}

/// What two texts have in common that are one text from which different mentions were taken out. Empty if they cannot
/// be.
fn common(one: &str, other: &str) -> String {
    if one == other {
        return one.to_owned();
    }
    let (ours, theirs) = (pieces(one), pieces(other));
    let before = alike(ours.iter(), theirs.iter());
    let (ours_on, theirs_on) = (&ours[before..], &theirs[before..]);
    let after = alike(ours_on.iter().rev(), theirs_on.iter().rev());
    let (between, end) = ours_on.split_at(ours_on.len() - after);
    let Some(middle) = Alignment::of(between, &theirs_on[..theirs_on.len() - after]) else {
        return String::new();
    };
    or_nothing([ours[..before].concat(), middle.common(), end.concat()].concat())
}

/// The pieces of a text: words, what stands where a mention was, and every other character by itself.
fn pieces(text: &str) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let word = rest.find(|letter: char| !letter.is_alphanumeric());
        let end = match first.is_alphanumeric() {
            true => word.unwrap_or(rest.len()),
            false => first.len_utf8(),
        };
        let (piece, after) = rest.split_at(end);
        pieces.push(piece);
        rest = after;
    }
    pieces
}

/// How many pieces are the same, up to the first place where a mention was.
fn alike<'p>(ours: impl Iterator<Item = &'p &'p str>, theirs: impl Iterator<Item = &'p &'p str>) -> usize {
    ours.zip(theirs)
        .take_while(|(our, their)| our == their && **our != GONE)
        .count()
}

/// A step through two texts at once.
#[derive(Clone, Copy)]
enum Step {
    /// Over a piece that both have.
    Both,
    /// Over a piece of the first, which is taken out of the second.
    Ours,
    /// Over a piece of the second, which is taken out of the first.
    Theirs,
}

/// Two texts, aligned so that as many pieces as possible are in both. A piece that only one of them has must stand where
/// the other one has had a mention.
struct Alignment<'t> {
    ours: &'t [&'t str],
    theirs: &'t [&'t str],
    /// How many pieces can be kept after so many of the first and so many of the second; `None` if no alignment leads
    /// through there. One row for each piece of the first.
    kept: Vec<Option<u32>>,
}

impl<'t> Alignment<'t> {
    /// `None` if they cannot be aligned, or are too long.
    fn of(ours: &'t [&'t str], theirs: &'t [&'t str]) -> Option<Self> {
        let pairs = (ours.len() + 1).checked_mul(theirs.len() + 1)?;
        if pairs > MOST_PAIRS {
            return None;
        }
        let kept = vec![None; pairs];
        let mut aligned = Self { ours, theirs, kept };
        for our in (0..=ours.len()).rev() {
            for their in (0..=theirs.len()).rev() {
                let most = aligned.most_after(our, their);
                let place = aligned.place(our, their);
                aligned.kept[place] = most;
            }
        }
        aligned.kept(0, 0).is_some().then_some(aligned)
    }

    fn place(&self, our: usize, their: usize) -> usize {
        our * (self.theirs.len() + 1) + their
    }

    fn kept(&self, our: usize, their: usize) -> Option<u32> {
        self.kept.get(self.place(our, their)).copied().flatten()
    }

    fn most_after(&self, our: usize, their: usize) -> Option<u32> {
        if our == self.ours.len() && their == self.theirs.len() {
            return Some(0);
        }
        let steps = self.steps(our, their);
        steps.filter_map(|step| self.kept_with(step, our, their)).max()
    }

    /// The steps that can be taken from there.
    fn steps(&self, our: usize, their: usize) -> impl Iterator<Item = Step> {
        let (one, other) = (self.ours.get(our), self.theirs.get(their));
        let is_gap = one == Some(&GONE) || other == Some(&GONE);
        let both = (one.is_some() && one == other).then_some(Step::Both);
        let ours = (one.is_some() && is_gap).then_some(Step::Ours);
        let theirs = (other.is_some() && is_gap).then_some(Step::Theirs);
        [both, ours, theirs].into_iter().flatten()
    }

    /// How many pieces can be kept from there with this step.
    fn kept_with(&self, step: Step, our: usize, their: usize) -> Option<u32> {
        let (our_next, their_next) = after(step, our, their);
        let gain = u32::from(self.keeps(step, our));
        Some(self.kept(our_next, their_next)? + gain)
    }

    /// Whether this step keeps a piece.
    fn keeps(&self, step: Step, our: usize) -> bool {
        matches!(step, Step::Both) && self.ours.get(our) != Some(&GONE)
    }

    /// What both have, with one sign for each place where either has had a mention.
    fn common(&self) -> String {
        let mut text = String::new();
        let (mut our, mut their) = (0, 0);
        let best = |our, their| {
            let most = self.kept(our, their);
            let mut steps = self.steps(our, their);
            steps.find(|step| self.kept_with(*step, our, their) == most)
        };
        while let Some(step) = best(our, their) {
            match self.ours.get(our) {
                Some(piece) if self.keeps(step, our) => text.push_str(piece),
                _ if text.ends_with(GONE) => {}
                _ => text.push_str(GONE),
            }
            (our, their) = after(step, our, their);
        }
        text
    }
}

/// Where a step leads.
fn after(step: Step, our: usize, their: usize) -> (usize, usize) {
    match step {
        Step::Both => (our + 1, their + 1),
        Step::Ours => (our + 1, their),
        Step::Theirs => (our, their + 1),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_both_have_remains() {
        for (one, other, both) in [
            ("… and Thorn share", "Brack and … share", "… and … share"),
            ("Brack and … share", "… and Thorn share", "… and … share"),
            ("…, Thorn", "Brack, …", ""),
            ("for … or Thorn, dark", "for Brack or …, dark", "for … or …, dark"),
            ("… … calls", "Ada Thorn calls", "… … calls"),
            ("as … asked", "as … asked", "as … asked"),
            (
                "… met Thorn, … paid",
                "Brack met …, Brack paid",
                "… met …, … paid",
            ),
            ("…", "Brack … Thorn", ""),
            ("say … or Li", "say Ann or …", "say … or …"),
        ] {
            assert_eq!(common(one, other), both, "{one} | {other}");
        }
    }

    #[test]
    fn of_more_than_sixteen_no_text_remains_in_any_order() {
        let without = |gone: usize| {
            let words: Vec<String> = (0..17)
                .map(|word| match word == gone {
                    true => GONE.to_owned(),
                    false => format!("w{word}"),
                })
                .collect();
            serde_json::json!({ "text": words.join(" ") })
        };
        let mut left: Vec<Value> = (0..16).chain(0..16).map(without).collect();
        let remains = left_by_all("note", &left).unwrap();
        let text = remains["text"].as_str().unwrap();
        assert!(text.ends_with(" w16") && !text.contains("w3"), "{text}");
        left.push(without(16));
        assert_eq!(left_by_all("note", &left), None);
        left.reverse();
        assert_eq!(left_by_all("note", &left), None);
    }

    /// Neither can be what is left of the other one's text, or it is too long to find out.
    #[test]
    fn what_cannot_be_one_text_is_left_out() {
        assert_eq!(common("… calls", "Brack pays"), "");
        assert_eq!(common("Brack calls", "Thorn calls"), "");
        let long = "a ".repeat(1_000);
        assert_eq!(common(&format!("…{long}x"), &format!("{long}…")), "");
    }
}
