//! Whole pairs put one after another into the gaps of the windows.
//!
//! The list of pairs is the rank in which they choose. A pair that can still be in time is put as late as its due time
//! allows, which leaves the earlier gaps to those that need them; any other is put where it is done first, and all of
//! it but its end as late as that allows (serial generation and justification of project scheduling: Kolisch 1996,
//! Valls et al. 2005; from memory). What comes later in the list never moves what came before.
//!
//! It is an estimate to search with: join windows are kept wherever they can be, and every set-up is paid for. The order
//! of the operations is timed afterwards.

use super::calendar::FOREVER;
use super::problem::Problem;
use super::value::Value;

/// Free time of a worker inside one window.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Gap {
    start: i64,
    end: i64,
}

type Gaps = Vec<Vec<Gap>>;

/// An operation as it is reckoned with here.
#[derive(Debug, Clone, Copy)]
struct Piece {
    minutes: i64,
    wait: i64,
    /// [`FOREVER`] where the next one may follow whenever.
    join: i64,
}

/// Where an operation lies.
#[derive(Debug, Clone, Copy, Default)]
struct Place {
    start: i64,
    worker: usize,
    gap: usize,
}

/// Pairs in gaps: the list that stands, and room to try another.
pub(super) struct Placing<'p> {
    problem: &'p Problem,
    pieces: Vec<Piece>,
    /// The list to be tried. Where nothing is being tried it is the one that stands.
    pub(super) trial: Vec<u32>,
    /// The list that stands.
    pub(super) list: Vec<u32>,
    places: Vec<Place>,
    gaps: Gaps,
    /// The gaps before each place of the list, and what it costs up to there.
    marks: Vec<Gaps>,
    tried_marks: Vec<Gaps>,
    values: Vec<Value>,
    tried_values: Vec<Value>,
    from: usize,
    until: usize,
    /// What is shorter than any operation is no gap.
    shortest: i64,
    /// Which pairs would be late even alone.
    never: Vec<bool>,
}

/// How much a trial may cost.
#[derive(Debug, Clone, Copy)]
pub(super) struct Most {
    pub(super) value: Value,
    /// It is given up where it is worse by more than this than the list that stands, as far as the same pairs have been
    /// put in both.
    pub(super) margin: u64,
    /// The pair at the last changed place has come to the first, and the others have moved down by so many places.
    pub(super) up_past: Option<usize>,
}

impl<'p> Placing<'p> {
    /// Nothing is reckoned yet.
    pub(super) fn new(problem: &'p Problem) -> Self {
        let pieces = pieces(problem);
        let alone: Vec<i64> = (0..problem.pairs.len())
            .map(|pair| problem.alone(pair).unwrap_or(0))
            .collect();
        let gaps = vec![windows(problem, &pieces, &alone); problem.workers];
        let never = problem
            .pairs
            .iter()
            .zip(&alone)
            .map(|(pair, alone)| *alone > pair.due);
        let count = problem.pairs.len();
        let list: Vec<u32> = (0..count as u32).collect();
        let marks = vec![gaps.clone(); count + 1];
        Self {
            problem,
            never: never.collect(),
            shortest: pieces.iter().map(|piece| piece.minutes).min().unwrap_or(0).max(1),
            places: vec![Place::default(); pieces.len()],
            pieces,
            trial: list.clone(),
            list,
            gaps,
            tried_marks: marks.clone(),
            marks,
            values: vec![Value::default(); count + 1],
            tried_values: vec![Value::default(); count + 1],
            from: 0,
            until: 0,
        }
    }

    /// What the list that stands costs.
    pub(super) fn value(&self) -> Value {
        self.values.last().copied().unwrap_or_default()
    }

    /// What the pair at a place of it is late.
    pub(super) fn cost(&self, place: usize) -> u64 {
        self.values[place + 1].guide - self.values[place].guide
    }

    /// What the trial costs, which is the list that stands but between `first` and `last`. None if that is too much.
    pub(super) fn reckon(&mut self, (first, last): (usize, usize), most: Option<&Most>) -> Option<Value> {
        self.from = first;
        self.until = self.trial.len();
        copy(&self.marks[first], &mut self.gaps);
        let mut value = self.values[first];
        for place in first..self.trial.len() {
            value = self.put(self.trial[place] as usize, value);
            self.tried_values[place + 1] = value;
            if let Some(most) = most {
                if value > most.value || self.is_worse((first, last), place, most) {
                    return None;
                }
                if place >= last && self.gaps == self.marks[place + 1] {
                    // From here on it is the list that stands.
                    self.until = place;
                    let total = value.plus(&self.value().less(&self.values[place + 1]));
                    return (total <= most.value).then_some(total);
                }
            }
            copy(&self.gaps, &mut self.tried_marks[place + 1]);
        }
        Some(value)
    }

    /// Whether the pairs put up to `place` have become dearer than may be.
    fn is_worse(&self, (first, last): (usize, usize), place: usize, most: &Most) -> bool {
        let (tried, standing) = (&self.tried_values, &self.values);
        if place >= last {
            let (tried, standing) = (tried[place + 1], standing[place + 1]);
            return tried.out == standing.out && tried.guide > standing.guide + most.margin;
        }
        let Some(past) = most.up_past.filter(|_| place > first) else {
            return false;
        };
        // What has come up may gain what it costs now.
        let others = tried[place + 1].guide - tried[first + 1].guide;
        let before = standing[place + 1 - past].guide - standing[first + 1 - past].guide;
        let gain = standing[last + 1].guide - standing[last].guide;
        let cost = tried[first + 1].guide - standing[first].guide;
        others + cost > before + gain + most.margin
    }

    /// The trial, just reckoned, is the list that stands.
    pub(super) fn accept(&mut self) {
        let end = (self.until + 1).min(self.trial.len());
        self.list[self.from..end].copy_from_slice(&self.trial[self.from..end]);
        for place in self.from + 1..=self.until {
            std::mem::swap(&mut self.marks[place], &mut self.tried_marks[place]);
        }
        let before = self.values[end];
        self.values[self.from + 1..=end].copy_from_slice(&self.tried_values[self.from + 1..=end]);
        let now = self.values[end];
        for value in &mut self.values[end + 1..] {
            *value = value.less(&before).plus(&now);
        }
    }

    /// All operations by start.
    pub(super) fn order(&mut self, list: &[u32]) -> Vec<u32> {
        copy(&self.marks[0], &mut self.gaps);
        for pair in list {
            self.put(*pair as usize, Value::default());
        }
        let mut order: Vec<u32> = (0..self.places.len() as u32).collect();
        order.sort_by_key(|id| (self.places[*id as usize].start, *id));
        order
    }

    /// Puts a pair, and adds what it costs.
    fn put(&mut self, pair: usize, mut value: Value) -> Value {
        let data = &self.problem.pairs[pair];
        let in_time = !data.pinned && data.due < FOREVER && !self.never[pair] && self.latest(pair, data.due);
        let done = if in_time {
            data.due
        } else {
            let done = self.earliest(pair);
            // With more than one worker the gaps taken from behind may not do.
            if !data.pinned && !self.latest(pair, done) {
                self.earliest(pair);
            }
            done
        };
        for id in (data.first_op as usize..=data.last_op as usize).rev() {
            self.occupy(id);
        }
        if done - self.pieces[data.last_op as usize].wait >= self.problem.calendar.overflow {
            value.out += data.weight.max(1);
        } else {
            let late = data.weight * (done - data.due).max(0) as u64;
            value.guide += late;
            value.late += late;
            value.sum += done.max(0) as u64;
        }
        value
    }

    /// Finds places where the pair is done first, and says when. An operation that comes too late for the join window
    /// before it moves that one later.
    fn earliest(&mut self, pair: usize) -> i64 {
        let data = &self.problem.pairs[pair];
        let (first, last) = (data.first_op as usize, data.last_op as usize);
        let (mut id, mut floor, mut hint) = (first, data.ready, 0);
        loop {
            let place = self.first_gap(id, floor, hint);
            if id > first {
                let (before, at) = (&self.pieces[id - 1], self.places[id - 1]);
                if place.start > at.start + before.minutes + before.join {
                    floor = (place.start - before.join - before.minutes).max(at.start + 1);
                    id -= 1;
                    hint = at.gap;
                    continue;
                }
            }
            self.places[id] = place;
            floor = place.start + self.pieces[id].minutes + self.pieces[id].wait;
            if id == last {
                return floor;
            }
            id += 1;
            hint = place.gap;
        }
    }

    /// Finds the latest places at which the pair is done by then; false if there are none.
    fn latest(&mut self, pair: usize, by: i64) -> bool {
        let data = &self.problem.pairs[pair];
        let (first, last) = (data.first_op as usize, data.last_op as usize);
        let (mut id, mut ceiling, mut hint) = (last, by - self.pieces[last].wait, usize::MAX);
        loop {
            let Some(place) = self.last_gap(id, ceiling, hint) else {
                return false;
            };
            if place.start < data.ready {
                return false;
            }
            let piece = self.pieces[id];
            if id < last && self.places[id + 1].start > place.start + piece.minutes + piece.join {
                id += 1;
                ceiling = place.start + piece.minutes + piece.join + self.pieces[id].minutes;
                hint = self.places[id].gap;
                continue;
            }
            self.places[id] = place;
            if id == first {
                return true;
            }
            id -= 1;
            ceiling = place.start - self.pieces[id].wait;
            hint = place.gap;
        }
    }

    /// Where an operation can begin first from `floor` on. One worker's gaps before `hint` are known not to do.
    #[inline]
    fn first_gap(&self, id: usize, floor: i64, hint: usize) -> Place {
        let minutes = self.pieces[id].minutes;
        let mut best = Place {
            start: i64::MAX,
            ..Place::default()
        };
        for (worker, gaps) in self.gaps.iter().enumerate() {
            let mut gap = if self.gaps.len() == 1 { hint } else { 0 };
            // The last gap has no end.
            while gap + 1 < gaps.len() && gaps[gap].start.max(floor) + minutes > gaps[gap].end {
                gap += 1;
            }
            let start = gaps[gap].start.max(floor);
            if start < best.start {
                best = Place { start, worker, gap };
            }
        }
        best
    }

    /// Where an operation can end last, no later than `ceiling`.
    #[inline]
    fn last_gap(&self, id: usize, ceiling: i64, hint: usize) -> Option<Place> {
        let minutes = self.pieces[id].minutes;
        let mut best: Option<Place> = None;
        for (worker, gaps) in self.gaps.iter().enumerate() {
            let after = if self.gaps.len() == 1 && hint < gaps.len() {
                hint + 1
            } else {
                gaps.partition_point(|gap| gap.start < ceiling)
            };
            let starts = |gap: &Gap| gap.end.min(ceiling) - minutes;
            let fits = |gap: &Gap| starts(gap) >= gap.start;
            if let Some(gap) = gaps[..after].iter().rposition(fits) {
                let start = starts(&gaps[gap]);
                if best.is_none_or(|best| start > best.start) {
                    best = Some(Place { start, worker, gap });
                }
            }
        }
        best
    }

    /// Takes the place of an operation out of its gap. A pair's are taken from the last, so that the gaps found before
    /// keep their numbers.
    fn occupy(&mut self, id: usize) {
        let (place, minutes) = (self.places[id], self.pieces[id].minutes);
        if minutes == 0 {
            return;
        }
        let gaps = &mut self.gaps[place.worker];
        // Where windows overlap the numbers may be wrong, and with them the estimate.
        let Some(gap) = gaps.get(place.gap).copied() else {
            return;
        };
        let end = place.start + minutes;
        match (
            place.start - gap.start >= self.shortest,
            gap.end - end >= self.shortest,
        ) {
            (true, true) => {
                gaps[place.gap].end = place.start;
                gaps.insert(place.gap + 1, Gap { start: end, ..gap });
            }
            (true, false) => gaps[place.gap].end = place.start,
            (false, true) => gaps[place.gap].start = end,
            (false, false) => {
                gaps.remove(place.gap);
            }
        }
    }
}

fn copy(from: &Gaps, to: &mut Gaps) {
    for (from, to) in from.iter().zip(to) {
        to.clear();
        to.extend_from_slice(from);
    }
}

/// The operations with what is always paid: setting up, and what a join window costs that cannot be kept.
fn pieces(problem: &Problem) -> Vec<Piece> {
    let mut missed = false;
    let pieces = problem.ops.iter().map(|op| {
        let again = if missed && !op.is_first { op.rejoin } else { 0 };
        missed = !op.hard && op.join < op.wait;
        Piece {
            minutes: op.minutes + op.setup_minutes + again,
            wait: op.wait,
            join: if missed { FOREVER } else { op.join },
        }
    });
    pieces.collect()
}

/// The windows that a search may need, and the overflow.
fn windows(problem: &Problem, pieces: &[Piece], alone: &[i64]) -> Vec<Gap> {
    let work: i64 = pieces.iter().map(|piece| piece.minutes).sum();
    let last = alone.iter().copied().max().unwrap_or(0);
    let mut room = 0;
    let windows = problem.calendar.windows().iter().filter(|(start, end)| {
        let is_needed = room < 2 * work || *start <= last || *start >= problem.calendar.overflow;
        room += (end - start).min(FOREVER / 64) * problem.workers as i64;
        is_needed
    });
    windows
        .map(|(start, end)| Gap {
            start: *start,
            end: *end,
        })
        .collect()
}
