"""Weeks at a bench, drawn from a seed: instances for `waxend plan`.

A pair gets one of the jobs below. Attended minutes are drawn from 70 to 140 % of those given, waits stay. After
cementing the next operation must begin within the open time (a hard join window), or, where asked for, may miss it and
costs reheating. Weights are 1 to 5, due days are drawn evenly over the days
that the work takes (`ease` times as many where that is asked for), each at its closing time. Two windows a day, five
days a week, and enough of them. Times and waits: common practice, no source.

Usage: weeks.py SEED PAIRS [soft] [setups] prints one instance.
"""

import json
import random
import sys

# Station, attended minutes, wait, open time after the wait (0: none).
JOBS = {
    "top pieces": [
        ("strip", 8, 0, 0), ("strip", 6, 0, 0), ("cement", 5, 12, 35), ("heel", 12, 0, 0), ("trim", 8, 0, 0),
        ("ink", 5, 20, 0), ("finish", 6, 0, 0),
    ],
    "half soles": [
        ("strip", 15, 0, 0), ("strip", 12, 0, 0), ("cement", 8, 15, 40), ("cement", 6, 12, 35), ("press", 12, 120, 0),
        ("trim", 15, 0, 0), ("ink", 6, 25, 0), ("finish", 10, 0, 0),
    ],
    "cemented resole": [
        ("strip", 25, 0, 0), ("strip", 15, 0, 0), ("cement", 10, 15, 40), ("press", 15, 720, 0), ("trim", 20, 0, 0),
        ("ink", 8, 25, 0), ("finish", 12, 0, 0),
    ],
    "welted resole": [
        ("strip", 30, 0, 0), ("bottom", 20, 240, 0), ("cement", 10, 15, 45), ("press", 15, 60, 0), ("stitch", 45, 0, 0),
        ("heel", 20, 0, 0), ("trim", 25, 90, 0), ("ink", 10, 30, 0), ("finish", 15, 0, 0),
    ],
    "heel block": [
        ("strip", 15, 0, 0), ("heel", 25, 0, 0), ("cement", 6, 15, 40), ("heel", 20, 720, 0), ("trim", 15, 0, 0),
        ("ink", 6, 20, 0), ("finish", 8, 0, 0),
    ],
    "counter": [
        ("strip", 20, 0, 0), ("bottom", 35, 960, 0), ("stitch", 20, 0, 0), ("cement", 6, 12, 40), ("bottom", 15, 0, 0),
        ("finish", 10, 0, 0),
    ],
    "seam and patch": [
        ("cement", 8, 12, 45), ("stitch", 25, 0, 0), ("stitch", 15, 0, 0), ("finish", 8, 0, 0),
    ],
    "strip and dye": [
        ("finish", 30, 60, 0), ("ink", 12, 45, 0), ("ink", 10, 720, 0), ("finish", 15, 20, 0), ("finish", 10, 0, 0),
    ],
}
DAY = 1440
WINDOWS = ((540, 780), (840, 1080))
REHEATING = 8
SETTING_UP = 5


def operation(draw, job, soft, setups):
    station, minutes, wait, open_time = job
    made = {"name": station, "minutes": round(minutes * draw.uniform(0.7, 1.4))}
    if wait:
        made["wait_min"] = wait
    if open_time:
        made["join_within"] = wait + open_time
        if soft:
            made["rejoin_minutes"] = REHEATING
    if setups:
        made |= {"setup": station, "setup_minutes": SETTING_UP}
    return made


def week(seed, pairs, soft=False, setups=False, ease=1.0):
    draw = random.Random(seed)
    made = []
    for number in range(1, pairs + 1):
        work = draw.choice(list(JOBS.values()))
        operations = [operation(draw, job, soft, setups) for job in work]
        made.append({"tag": f"A-{number}", "weight": draw.randint(1, 5), "operations": operations})
    attended = sum(job["minutes"] for pair in made for job in pair["operations"])
    days = attended / sum(end - start for start, end in WINDOWS)
    open_days = [day for day in range(int(4 * days) + 14) if day % 7 < 5]
    for pair in made:
        pair["due"] = open_days[int(draw.uniform(0, ease * days))] * DAY + WINDOWS[-1][1]
    windows = [[day * DAY + start, day * DAY + end] for day in open_days for start, end in WINDOWS]
    return {"now": WINDOWS[0][0], "windows": windows, "workers": 1, "pairs": made}


if __name__ == "__main__":
    json.dump(week(int(sys.argv[1]), int(sys.argv[2]), "soft" in sys.argv, "setups" in sys.argv), sys.stdout)
