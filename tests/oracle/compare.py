"""Feeds the same inputs to `waxend calc` and to independent libraries, and prints the largest difference of each.

Usage: compare.py WAXEND. Inputs are drawn from a fixed seed. Exit status 1 if a difference is beyond its tolerance.
"""

import json
import random
import subprocess
import sys

import cases

WAXEND = sys.argv[1]
SEED = 20250301


def calc(name, question):
    """One answer of the program under test; a refusal of a sound question is a failure of its own."""
    run = subprocess.run([WAXEND, "calc", name], input=json.dumps(question), capture_output=True, text=True)
    if run.returncode != 0:
        raise SystemExit(f"{name} refused {question}: {run.stderr}")
    return json.loads(run.stdout)


def main():
    print("| calculation | against | cases | largest difference | tolerance |")
    print("| --- | --- | --- | --- | --- |")
    wrong = False
    for compare in cases.ALL:
        random.seed(SEED)
        count, worst = 0, 0.0
        for got, expected in compare.pairs(calc):
            count += 1
            worst = max(worst, abs(got - expected) / (max(abs(expected), 1.0) if compare.relative else 1.0))
        beyond = not worst <= compare.tolerance
        wrong = wrong or beyond
        kind = " relative" if compare.relative else ""
        mark = " WRONG" if beyond else ""
        print(f"| {compare.what} | {compare.against} | {count} | {worst:.1e}{kind}{mark} | {compare.tolerance:.0e} |")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
