"""Plans of `waxend plan` against OR-Tools CP-SAT, on the weeks of weeks.py.

Usage: plan.py WAXEND. Exit status 1 where a plan is worse than it may be:
- 12 pairs: within 1 % on average of the optimum, over the instances for which CP-SAT proves one within 60 s;
- 30 pairs, hard join windows: at most 0.6 on average of what CP-SAT has after 120 s on two cores.
- the same: within 2 % on average of our own plan after a minute.
"""

import json
import subprocess
import sys
import time

from ortools.sat.python import cp_model

import weeks

WAXEND = sys.argv[1]
SMALL, LARGE = range(8), range(100, 103)
# With the days as near as for 30 pairs CP-SAT proves one in five.
EASE = 1.5
PROVING, THINKING, CORES = 60, 120, 2
# As many changes as there is time for in a second where there are few pairs, and in 100 ms in a browser where there are thirty.
SMALL_CHANGES = 200_000
QUICK, LONG = 16_000, 60_000


def ours(instance, *options):
    begun = time.monotonic()
    run = subprocess.run([WAXEND, "plan", *options], input=json.dumps(instance), capture_output=True, text=True)
    if run.returncode != 0:
        raise SystemExit(run.stderr)
    plan = json.loads(run.stdout)
    if plan["left_out"]:
        raise SystemExit(f"left out: {plan['left_out']}")
    return plan["weighted_tardiness"], plan["lower_bound"], 1000 * (time.monotonic() - begun)


def cp_sat(instance, seconds):
    """Status, weighted tardiness and bound. One worker, no set-ups, hard join windows."""
    model = cp_model.CpModel()
    now, windows = instance["now"], instance["windows"]
    horizon = max(end for _, end in windows)
    intervals, costs = [], []
    for pair in instance["pairs"]:
        end, before = None, None
        for operation in pair["operations"]:
            minutes = operation["minutes"]
            starts = [[max(opens, now), closes - minutes] for opens, closes in windows if max(opens, now) + minutes <= closes]
            start = model.new_int_var_from_domain(cp_model.Domain.from_intervals(starts), "")
            intervals.append(model.new_fixed_size_interval_var(start, minutes, ""))
            if before is not None:
                model.add(start >= end + before.get("wait_min", 0))
                if "join_within" in before:
                    model.add(start <= end + before["join_within"])
            end, before = start + minutes, operation
        late = model.new_int_var(0, horizon, "")
        model.add(late >= end + before.get("wait_min", 0) - pair["due"])
        costs.append(pair["weight"] * late)
    model.add_no_overlap(intervals)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = CORES
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return status, None, None
    return status, round(solver.objective_value), round(solver.best_objective_bound)


def small():
    print("| seed | operations | CP-SAT | proven | plan | at least | ms |")
    print("| --- | --- | --- | --- | --- | --- | --- |")
    excess = []
    for seed in SMALL:
        instance = weeks.week(seed, 12, ease=EASE)
        status, best, _ = cp_sat(instance, PROVING)
        proven = status == cp_model.OPTIMAL
        plan, bound, took = ours(instance, "--iterations", str(SMALL_CHANGES))
        if proven:
            excess.append(plan / best - 1 if best else float(plan > 0))
            if plan < best or bound > best:
                raise SystemExit(f"seed {seed}: below a proven optimum, or a bound above it")
        count = sum(len(pair["operations"]) for pair in instance["pairs"])
        print(f"| {seed} | {count} | {best} | {'yes' if proven else 'no'} | {plan} | {bound} | {took:.0f} |", flush=True)
    mean = sum(excess) / len(excess) if excess else 0.0
    print(f"\n{len(excess)} proven; the plan is {100 * mean:.2f} % above on average\n")
    return mean <= 0.01


def large():
    print("| seed | operations | CP-SAT after 120 s | quick plan | ms | ratio | after a minute | quick above it | at least |")
    print("| --- | --- | --- | --- | --- | --- | --- | --- | --- |")
    ratios, excess = [], []
    for seed in LARGE:
        instance = weeks.week(seed, 30)
        _, best, _ = cp_sat(instance, THINKING)
        plan, bound, took = ours(instance, "--iterations", str(QUICK))
        long, _, _ = ours(instance, "--time-ms", str(LONG))
        ratio = plan / best if best else float(plan > 0)
        ratios.append(ratio)
        count = sum(len(pair["operations"]) for pair in instance["pairs"])
        excess.append(plan / long - 1 if long else float(plan > 0))
        print(f"| {seed} | {count} | {best} | {plan} | {took:.0f} | {ratio:.2f} | {long} | {100 * excess[-1]:.1f} % | {bound} |", flush=True)
    ratio, above = sum(ratios) / len(ratios), sum(excess) / len(excess)
    print(f"\nthe quick plan has {ratio:.2f} of it on average, and {100 * above:.1f} % more than ours after a minute")
    return ratio <= 0.6 and above <= 0.02


if __name__ == "__main__":
    sys.exit(0 if all([small(), large()]) else 1)
