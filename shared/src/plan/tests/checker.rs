//! Checks a plan against the statement of the problem. It uses nothing of the solver.

use std::collections::BTreeMap;

use crate::plan::{Instance, Plan, PlannedOperation};

/// Every rule that a plan breaks.
pub(super) fn wrong(instance: &Instance, plan: &Plan) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut say = |is_wrong: bool, what: String| {
        if is_wrong {
            wrong.push(what);
        }
    };
    let mut of_pair: BTreeMap<usize, Vec<&PlannedOperation>> = BTreeMap::new();
    let mut of_worker: BTreeMap<usize, Vec<&PlannedOperation>> = BTreeMap::new();
    for block in &plan.blocks {
        of_pair.entry(block.pair).or_default().push(block);
        of_worker.entry(block.worker).or_default().push(block);
        let name = format!("{}.{}", block.tag, block.operation);
        say(block.start < instance.now, format!("{name} before now"));
        say(
            block.worker >= instance.workers as usize,
            format!("{name} no such worker"),
        );
        if let Some(windows) = &instance.windows {
            let inside = |w: &[i64; 2]| w[0] <= block.start && block.end <= w[1];
            say(!windows.iter().any(inside), format!("{name} in no window"));
        }
        let operation = &instance.pairs[block.pair].operations[block.operation];
        say(
            block.name != operation.name || block.tag != instance.pairs[block.pair].tag,
            name,
        );
    }
    // Set-ups, and one operation of a worker at a time.
    let mut setting_up: BTreeMap<(usize, usize), u32> = BTreeMap::new();
    for blocks in of_worker.values() {
        for two in blocks.windows(2) {
            say(two[1].start < two[0].end, format!("{two:?} overlap"));
            let setup = |b: &PlannedOperation| instance.pairs[b.pair].operations[b.operation].setup.clone();
            let minutes = instance.pairs[two[1].pair].operations[two[1].operation].setup_minutes;
            if setup(two[1]).is_some() && setup(two[1]) != setup(two[0]) {
                setting_up.insert((two[1].pair, two[1].operation), minutes);
            }
        }
    }
    // Chains: order, waits and join windows.
    let (mut late_sum, mut done_sum) = (0, 0);
    for (pair, blocks) in &of_pair {
        let data = &instance.pairs[*pair];
        let operations: Vec<usize> = blocks.iter().map(|block| block.operation).collect();
        say(
            operations != (0..data.operations.len()).collect::<Vec<_>>(),
            format!("{} chain", data.tag),
        );
        say(
            data.ready.is_some_and(|ready| blocks[0].start < ready),
            format!("{} ready", data.tag),
        );
        let missed = data.join_by.is_some_and(|by| blocks[0].start > by);
        for (index, block) in blocks.iter().enumerate() {
            let operation = &data.operations[index];
            let mut minutes =
                operation.minutes + setting_up.get(&(*pair, index)).copied().unwrap_or_default();
            if index == 0 && missed {
                minutes += data.rejoin_minutes;
            }
            if index > 0 {
                let before = &data.operations[index - 1];
                let passed = block.start - blocks[index - 1].end;
                say(
                    passed < i64::from(before.wait_min),
                    format!("{}.{index} wait", data.tag),
                );
                if before.join_within.is_some_and(|join| passed > i64::from(join)) {
                    say(
                        before.rejoin_minutes.is_none(),
                        format!("{}.{index} join window", data.tag),
                    );
                    minutes += before.rejoin_minutes.unwrap_or_default();
                }
            }
            say(
                block.end - block.start != i64::from(minutes),
                format!("{}.{index} {minutes} minutes", data.tag),
            );
        }
        let done = blocks[blocks.len() - 1].end + i64::from(data.operations[operations.len() - 1].wait_min);
        let late = data.due.map_or(0, |due| (done - due).max(0)) as u64;
        let told = plan.pairs.iter().find(|told| told.pair == *pair);
        say(
            told.is_none_or(|told| told.done != done || told.late != late),
            format!("{} done", data.tag),
        );
        late_sum += u64::from(data.weight) * late;
        done_sum += done;
    }
    say(
        (plan.weighted_tardiness, plan.sum_completion) != (late_sum, done_sum),
        "sums".to_owned(),
    );
    let mut seen: Vec<usize> = of_pair.keys().copied().collect();
    seen.extend(plan.left_out.iter().map(|left| left.pair));
    seen.sort_unstable();
    say(
        seen != (0..instance.pairs.len()).collect::<Vec<_>>(),
        "each pair once".to_owned(),
    );
    say(plan.lower_bound > late_sum, "lower bound".to_owned());
    wrong
}
