//! A schedule, and its conversion into a plan.

use super::answer::{LeftOut, PairOutcome, Plan, PlannedOperation, Reason};
use super::bound::lagrangian;
use super::instance::Instance;
use super::problem::{NOTHING_YET, PairData, PlanProblem, Spot};

/// Where every operation lies, and an order in which each worker does them.
#[derive(Debug, Clone, Default)]
pub(super) struct Schedule {
    pub(super) order: Vec<u32>,
    pub(super) spots: Vec<Spot>,
}

impl Schedule {
    fn spot(&self, id: u32) -> Spot {
        self.spots.get(id as usize).copied().unwrap_or_default()
    }

    /// Whether a pair is done before the windows end.
    pub(super) fn is_planned(&self, problem: &PlanProblem, pair: &PairData) -> bool {
        self.spot(pair.last_op).end < problem.calendar.overflow
    }

    /// Whether any pair is not done before the windows end.
    pub(super) fn leaves_any(&self, problem: &PlanProblem) -> bool {
        problem.pairs.iter().any(|pair| !self.is_planned(problem, pair))
    }

    /// The pairs that are not done before the windows end, and why.
    pub(super) fn left_out(&self, instance: &Instance, problem: &PlanProblem) -> Vec<LeftOut> {
        let pairs = problem.pairs.iter();
        let left = pairs.filter(|pair| !self.is_planned(problem, pair));
        left.map(|pair| self.too_much(instance, problem, pair)).collect()
    }

    /// The plan of a schedule that leaves no pair out. `proven`: it is optimal. `bound`: a lower bound is asked for.
    pub(super) fn to_plan(
        &self,
        instance: &Instance,
        problem: &PlanProblem,
        proven: bool,
        bound: bool,
    ) -> Plan {
        let mut plan = Plan::default();
        for data in &problem.pairs {
            let done = self.spot(data.last_op).end + problem.ops[data.last_op as usize].wait;
            let late = (done - data.due).max(0) as u64;
            plan.weighted_tardiness += data.weight * late;
            plan.sum_completion += done + instance.now;
            plan.pairs.push(PairOutcome {
                tag: instance.pairs[data.index].tag.clone(),
                done: done + instance.now,
                late,
                pair: data.index,
            });
        }
        plan.lower_bound = match (proven, bound) {
            (true, _) => plan.weighted_tardiness,
            (_, true) => lagrangian::lower_bound(problem, plan.weighted_tardiness),
            (_, false) => 0,
        };
        plan.blocks = self.blocks(instance, problem);
        plan
    }

    /// The operations in order of start.
    fn blocks(&self, instance: &Instance, problem: &PlanProblem) -> Vec<PlannedOperation> {
        let mut setups = vec![NOTHING_YET; problem.workers];
        let mut blocks = Vec::with_capacity(problem.ops.len());
        for id in &self.order {
            let (op, spot) = (&problem.ops[*id as usize], self.spot(*id));
            let data = &problem.pairs[op.pair as usize];
            let previous = std::mem::replace(&mut setups[spot.worker as usize], op.setup);
            let pair = &instance.pairs[data.index];
            let operation = (id - data.first_op) as usize;
            let setting_up = op.setting_up(previous);
            blocks.push(PlannedOperation {
                tag: pair.tag.clone(),
                operation,
                name: pair.operations[operation].name.clone(),
                worker: spot.worker as usize,
                start: spot.start + instance.now,
                end: spot.end + instance.now,
                pair: data.index,
                setup_minutes: setting_up as u32,
                rejoin_minutes: (spot.end - spot.start - op.minutes - setting_up).max(0) as u32,
            });
        }
        blocks.sort_by_key(|block| (block.start, block.worker));
        blocks
    }

    /// Why a pair that fits alone is not in the plan.
    fn too_much(&self, instance: &Instance, problem: &PlanProblem, data: &PairData) -> LeftOut {
        let longest = problem.calendar.longest();
        let chain = &problem.ops[data.first_op as usize..=data.last_op as usize];
        let too_long = chain
            .iter()
            .position(|op| op.minutes + op.setup_minutes > longest);
        let mut ids = data.first_op..=data.last_op;
        let beyond = ids.position(|id| self.spot(id).start >= problem.calendar.overflow);
        LeftOut {
            tag: instance.pairs[data.index].tag.clone(),
            operation: too_long.or(beyond).unwrap_or(0),
            reason: match too_long {
                Some(_) => Reason::TooLong,
                None => Reason::Horizon,
            },
            pair: data.index,
        }
    }
}
