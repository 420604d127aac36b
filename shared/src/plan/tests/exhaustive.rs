//! The optimal plan of a small instance by complete enumeration: every interleaving of the chains, every worker, every
//! choice of join windows to keep and to miss, and for each the earliest schedule, found by raising starts until no
//! rule is broken. It uses nothing of the solver.

use crate::plan::{Instance, PlanOperation};

/// No operation starts after this minute.
const END: i64 = 6_000;

struct Trial<'a> {
    instance: &'a Instance,
    ops: Vec<(usize, usize)>,
    sequence: Vec<(usize, usize)>,
    held: Vec<bool>,
    best: Option<(u64, i64)>,
}

/// The least weighted tardiness and, among those plans, the least sum of completion times. None if no schedule has all
/// pairs.
pub(super) fn best(instance: &Instance) -> Option<(u64, i64)> {
    let pairs = instance.pairs.iter().enumerate();
    let ops: Vec<(usize, usize)> = pairs
        .flat_map(|(pair, data)| (0..data.operations.len()).map(move |index| (pair, index)))
        .collect();
    let mut trial = Trial {
        instance,
        held: vec![false; ops.len()],
        ops,
        sequence: Vec::new(),
        best: None,
    };
    trial.hold(0);
    trial.best
}

impl Trial<'_> {
    fn operation(&self, op: usize) -> &PlanOperation {
        let (pair, index) = self.ops[op];
        &self.instance.pairs[pair].operations[index]
    }

    fn has_next(&self, op: usize) -> bool {
        self.ops.get(op + 1).is_some_and(|next| next.0 == self.ops[op].0)
    }

    fn hold(&mut self, op: usize) {
        if op == self.ops.len() {
            return self.extend();
        }
        let operation = self.operation(op);
        let window = operation.join_within.is_some() && self.has_next(op);
        let must = window && operation.rejoin_minutes.is_none();
        if !must {
            self.held[op] = false;
            self.hold(op + 1);
        }
        if window {
            self.held[op] = true;
            self.hold(op + 1);
            self.held[op] = false;
        }
    }

    fn extend(&mut self) {
        let Some(cost) = self.schedule() else {
            return;
        };
        // Placing more operations never makes a placed one earlier.
        if self.best.is_some_and(|best| cost >= best) {
            return;
        }
        if self.sequence.len() == self.ops.len() {
            self.best = Some(cost);
            return;
        }
        for op in 0..self.ops.len() {
            let placed = |op: usize| self.sequence.iter().any(|(other, _)| *other == op);
            let (_, index) = self.ops[op];
            if placed(op) || (index > 0 && !placed(op - 1)) {
                continue;
            }
            // Workers who have done nothing are all alike.
            let used = self
                .sequence
                .iter()
                .map(|(_, worker)| worker + 1)
                .max()
                .unwrap_or(0);
            for worker in 0..(used + 1).min(self.instance.workers as usize) {
                self.sequence.push((op, worker));
                self.extend();
                self.sequence.pop();
            }
        }
    }

    /// The cost of the sequence so far in its earliest schedule.
    fn schedule(&self) -> Option<(u64, i64)> {
        let mut start = vec![i64::MIN; self.ops.len()];
        let mut end = vec![i64::MIN; self.ops.len()];
        loop {
            let mut changed = false;
            let mut last: Vec<Option<usize>> = vec![None; self.instance.workers as usize];
            for (op, worker) in &self.sequence {
                let (begin, finish) = self.place(*op, last[*worker], &start, &end)?;
                changed |= (start[*op], end[*op]) != (begin, finish);
                (start[*op], end[*op]) = (begin, finish);
                last[*worker] = Some(*op);
            }
            for (op, _) in &self.sequence {
                let placed = self.has_next(*op) && start[op + 1] > i64::MIN;
                let join = self.operation(*op).join_within.map(i64::from);
                if let (true, true, Some(join)) = (self.held[*op], placed, join) {
                    let least = start[op + 1] - join - (end[*op] - start[*op]);
                    if start[*op] < least {
                        // An operation moved past its `join_by` takes longer, and needs to be moved less.
                        let pair = &self.instance.pairs[self.ops[*op].0];
                        start[*op] = match pair.join_by.filter(|_| self.ops[*op].1 == 0) {
                            Some(by) if start[*op] <= by && least > by => {
                                (least - i64::from(pair.rejoin_minutes)).max(by + 1)
                            }
                            _ => least,
                        };
                        end[*op] = END;
                        changed = true;
                    }
                }
            }
            if !changed {
                return Some(self.cost(&end));
            }
        }
    }

    fn place(&self, op: usize, last: Option<usize>, start: &[i64], end: &[i64]) -> Option<(i64, i64)> {
        let (pair, index) = self.ops[op];
        let operation = self.operation(op);
        let data = &self.instance.pairs[pair];
        let mut from = self
            .instance
            .now
            .max(data.ready.unwrap_or(i64::MIN))
            .max(start[op]);
        let mut minutes = operation.minutes;
        if let Some(last) = last {
            from = from.max(end[last]);
            if operation.setup.is_some() && self.operation(last).setup != operation.setup {
                minutes += operation.setup_minutes;
            }
        }
        if index > 0 {
            let before = self.operation(op - 1);
            from = from.max(end[op - 1] + i64::from(before.wait_min));
            // A join window that is not to be kept is missed, if necessary on purpose.
            if let (false, Some(join)) = (self.held[op - 1], before.join_within) {
                from = from.max(end[op - 1] + i64::from(join) + 1);
                minutes += before.rejoin_minutes.unwrap_or(0);
            }
        }
        let mut begin = self.fit(from, minutes)?;
        if index == 0 && data.join_by.is_some_and(|by| begin > by) {
            minutes += data.rejoin_minutes;
            begin = self.fit(from, minutes)?;
        }
        Some((begin, begin + i64::from(minutes)))
    }

    fn fit(&self, from: i64, minutes: u32) -> Option<i64> {
        let minutes = i64::from(minutes);
        let start = match &self.instance.windows {
            None => Some(from),
            Some(windows) => windows
                .iter()
                .filter(|window| from.max(window[0]) + minutes <= window[1])
                .map(|window| from.max(window[0]))
                .min(),
        };
        start.filter(|start| *start < END)
    }

    fn cost(&self, end: &[i64]) -> (u64, i64) {
        let mut cost = (0, 0);
        for (op, _) in &self.sequence {
            if !self.has_next(*op) {
                let data = &self.instance.pairs[self.ops[*op].0];
                let done = end[*op] + i64::from(self.operation(*op).wait_min);
                let late = data.due.map_or(0, |due| (done - due).max(0)) as u64;
                cost.0 += u64::from(data.weight) * late;
                cost.1 += done;
            }
        }
        cost
    }
}
