//! Which parts were put on a pair, and until when each was on.

use crate::log::body::Side;
use crate::trade::Component;
use crate::trade::operations::PartFit;
use crate::trade::part_effects::{PartEffects, part_effects};

/// Work done on a pair. The caller leaves out work that had to be made again, because it fits nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DoneWork<'a> {
    /// The operation.
    pub operation: &'a str,
    /// Which shoe.
    pub side: &'a Side,
    /// When, in ms of UTC since 1970. Of two with the same time, the later one in the list was done later.
    pub at_ms: i64,
}

/// A part on one shoe, from the work that put it on until the work that took it off.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PutOn {
    /// The part.
    pub part: Component,
    /// The shoe it is on: left, right, or a word this version does not know.
    pub shoe: Side,
    /// The work that put it on: an index into the given list.
    pub by: usize,
    /// The work that took it off, likewise; `None` while it is on.
    pub until: Option<usize>,
}

/// The parts that work has put on a pair, in the order they were put on; each shoe has its own.
///
/// A part is on until a later operation puts another on the same part of the same shoe that lies as far in or farther, or
/// takes it off (see [`part_effects()`]).
pub fn put_on(done: &[DoneWork<'_>]) -> Vec<PutOn> {
    let mut order: Vec<usize> = (0..done.len()).collect();
    order.sort_by_key(|at| (done[*at].at_ms, *at));
    let mut all: Vec<(u8, PutOn)> = Vec::new();
    for at in order {
        let work = part_effects(done[at].operation);
        for shoe in shoes(done[at].side) {
            let on = all
                .iter_mut()
                .filter(|(_, one)| one.until.is_none() && one.shoe == shoe);
            on.filter(|(layer, one)| comes_off(&work, &one.part, *layer))
                .for_each(|(_, one)| one.until = Some(at));
            all.extend(work.on.iter().map(|fit| {
                let one = PutOn {
                    part: fit.part.clone(),
                    shoe: shoe.clone(),
                    by: at,
                    until: None,
                };
                (fit.layer, one)
            }));
        }
    }
    all.into_iter().map(|(_, one)| one).collect()
}

/// Whether work takes off a part that lies over so many layers.
pub(super) fn comes_off(work: &PartEffects, part: &Component, layer: u8) -> bool {
    let replaced = |fit: &PartFit| fit.part == *part && fit.layer <= layer;
    work.off.contains(part) || work.on.iter().any(replaced)
}

/// The shoes that a side stands for, each separately.
fn shoes(side: &Side) -> Vec<Side> {
    match side {
        Side::Both => vec![Side::Left, Side::Right],
        one => vec![one.clone()],
    }
}

#[cfg(test)]
mod tests;
