"""What is compared: for each calculation a generator of (ours, theirs)."""

import datetime
import math
import random
import subprocess
import warnings
from dataclasses import dataclass
from typing import Callable

import colour
import cv2
import numpy as np
from lifelines import KaplanMeierFitter, WeibullFitter
from scipy import stats
from scipy.optimize import minimize
from shapely.geometry import LineString, Point, Polygon

# Libraries warn of bounds that a correct answer never reaches.
warnings.filterwarnings("ignore")

ALL = []


@dataclass
class Compare:
    what: str
    against: str
    tolerance: float
    relative: bool
    pairs: Callable


def against(what, library, tolerance, relative=False):
    def keep(pairs):
        ALL.append(Compare(what, library, tolerance, relative, pairs))
        return pairs

    return keep


UNITS = {
    "mm": "mm", "cm": "cm", "in": "inch", "iron": "shoeiron", "ounce": "shoeounce", "line": "line",
    "eighth": "(1|8) inch", "point": "europeshoesize", "barleycorn": "barleycorn",
    "mm2": "mm^2", "dm2": "dm^2", "ft2": "ft^2",
}


# GNU units has the barleycorn in the historic UK inch, two parts in a million shorter.
@against("`unit`", "GNU units", 1e-5, relative=True)
def unit(calc):
    for one in UNITS:
        for other in UNITS:
            if one.endswith("2") != other.endswith("2"):
                continue
            value = round(random.uniform(0.5, 300), 3)
            ours = calc("unit", {"value": value, "from": one, "to": other})["value"]
            run = ["units", "--terse", "--output-format", "%.15g", f"{value} {UNITS[one]}", UNITS[other]]
            yield ours, float(subprocess.run(run, capture_output=True, text=True, check=True).stdout)


def star(points=24):
    """An outline seen from its middle, hollow in places."""
    turns = sorted(random.uniform(0, 2 * math.pi) for _ in range(points))
    spokes = [(random.uniform(20, 60), turn) for turn in turns]
    return [[far * math.cos(turn) + 70, far * math.sin(turn) + 70] for far, turn in spokes]


def heel(points=25):
    """A convex outline: straight breast, half an ellipse behind."""
    wide, deep, long = random.uniform(20, 40), random.uniform(20, 40), random.uniform(20, 50)
    turns = [math.pi * (1 + at / (points - 1)) for at in range(points)]
    return [[wide * math.cos(t), deep * math.sin(t)] for t in turns] + [[wide, long], [-wide, long]]


@against("`area`: area, perimeter, centroid", "shapely", 1e-9, relative=True)
def area(calc):
    for _ in range(60):
        outline = star()
        theirs = Polygon(outline)
        if not theirs.is_valid:
            continue
        ours = calc("area", {"outline_mm": outline, "yield": 0.75, "count": 2})
        yield ours["area_mm2"], theirs.area
        yield ours["perimeter_mm"], theirs.length
        yield ours["centroid_mm"][0], theirs.centroid.x
        yield ours["centroid_mm"][1], theirs.centroid.y
        yield ours["buy_dm2"], 2 * theirs.area / 0.75 / 10_000


@against("`nails`: off the drawn-in outline", "shapely", 1e-7)
def nails(calc):
    for _ in range(40):
        outline, inset = heel(), random.uniform(3, 12)
        question = {
            "direction": "inside", "clearance_mm": 3, "stock_mm": [16, 19], "outline_mm": outline, "inset_mm": inset,
            "count": 9, "layers_mm": {"insole": 3, "midsole": 0, "seat": 5, "block": 20, "top_piece": 6},
        }
        line = Polygon(outline).buffer(-inset, join_style="mitre", mitre_limit=1e6).exterior
        for place in calc("nails", question)["positions_mm"]:
            yield line.distance(Point(place)), 0.0


@against("`corner_line`: rubber, and ends on the outline", "shapely", 1e-6)
def corner_line(calc):
    for _ in range(60):
        outline, keep = heel(), random.uniform(0, 3)
        across, along, deep = random.uniform(-0.15, 0.15), random.uniform(0.02, 0.15), random.uniform(2, 6)
        height = lambda x, y: across * x + along * y - deep
        facet = [[x, y, height(x, y)] for x, y in [(0, 0), (30, 2), (-3, 25)]]
        ours = calc("corner_line", {"outline_mm": outline, "facet_mm": facet, "keep_mm": keep})
        # The half plane that is worn deeper, as a square large enough: its edge where the height is -keep.
        slope = math.hypot(across, along)
        (ux, uy), off = (across / slope, along / slope), (deep - keep) / slope
        corner = lambda s, t: (ux * (off + t) - uy * s, uy * (off + t) + ux * s)
        worn = Polygon([corner(-1e3, 0), corner(1e3, 0), corner(1e3, -1e3), corner(-1e3, -1e3)])
        yield ours["rubber_mm2"], Polygon(outline).intersection(worn).area
        for end in ours["ends_mm"] or []:
            yield Polygon(outline).exterior.distance(Point(end)), 0.0
            yield LineString([corner(-1e3, 0), corner(1e3, 0)]).distance(Point(end)), 0.0


@against("`wear_plane`: slopes", "NumPy `linalg.solve`", 1e-12)
def wear_plane(calc):
    for _ in range(60):
        points = [[10 * a + random.uniform(-3, 3), 10 * b + random.uniform(-3, 3), random.uniform(-6, 0)] for a, b in [(0, 0), (4, 0), (1, 5)]]
        ours = calc("wear_plane", {"points_mm": points})
        theirs = np.linalg.solve([[x, y, 1] for x, y, _ in points], [height for *_, height in points])
        yield ours["slope_x"], theirs[0]
        yield ours["slope_y"], theirs[1]


# Corners on quarters of a pixel, which the library's single precision holds exactly.
@against("`rectify`: lengths in mm", "OpenCV `getPerspectiveTransform`", 1e-6)
def rectify(calc):
    card = [[0, 0], [85.5, 0], [85.5, 54], [0, 54]]
    for _ in range(60):
        seen = [[x + random.randrange(-240, 240) / 4, y + random.randrange(-240, 240) / 4] for x, y in [(220, 180), (1010, 205), (1035, 712), (190, 690)]]
        points = [[random.uniform(100, 1200), random.uniform(100, 800)] for _ in range(5)]
        ours = calc("rectify", {"image_px": seen, "plane_mm": card, "points_px": points})
        matrix = cv2.getPerspectiveTransform(np.float32(seen), np.float32(card))
        theirs = cv2.perspectiveTransform(np.float64([points]), matrix)[0]
        for length, one, other in zip(ours["distances_mm"], theirs, theirs[1:]):
            yield length, float(np.linalg.norm(other - one))


def lab():
    return [random.uniform(0, 100), random.uniform(-90, 90), random.uniform(-90, 90)]


# The Rust library leaves a mean hue of just over 360 degrees where the paper takes 360 off: 0.00002 at most.
@against("`colour`: CIEDE2000", "colour-science", 5e-5)
def difference(calc):
    for _ in range(200):
        a, b = lab(), lab()
        yield calc("colour", {"a": {"lab": a}, "b": {"lab": b}})["delta_e00"], float(colour.delta_E(a, b, method="CIE 2000"))


# Libraries write the white point with different decimals.
@against("`colour`: Lab of sRGB", "colour-science", 0.02)
def lab_of_srgb(calc):
    white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    for _ in range(100):
        rgb = [random.randrange(256) for _ in range(3)]
        ours = calc("colour", {"a": {"srgb": rgb}, "b": {"lab": [50, 0, 0]}})["lab_a"]
        xyz = colour.RGB_to_XYZ(np.array(rgb) / 255, "sRGB", apply_cctf_decoding=True)
        yield from zip(ours, colour.XYZ_to_Lab(xyz, white))


@against("`wait`: minutes", "Python `datetime`", 0)
def wait(calc):
    for _ in range(40):
        zone = datetime.timezone(datetime.timedelta(minutes=random.randrange(-600, 840, 15)))
        started = datetime.datetime(2024, 1, 1, tzinfo=zone) + datetime.timedelta(minutes=random.randrange(2_000_000))
        low, more = random.randrange(3000), random.randrange(3000)
        question = {"kind": "contact_cement", "started": started.isoformat(), "min": low, "max": low + more}
        ours = calc("wait", question)
        for name, minutes in [("ready_at", low), ("join_by", low + more)]:
            yield (datetime.datetime.fromisoformat(ours[name]) - started).total_seconds() / 60, minutes


def lives():
    count = random.randrange(10, 60)
    law = stats.weibull_min(random.uniform(0.7, 3), scale=random.uniform(50, 500))
    times = np.ceil(law.rvs(count, random_state=random.randrange(2**31)))
    observed = [random.random() < 0.6 for _ in times]
    observed[:3] = [True] * 3
    return [float(time) for time in times], observed


@against("`kaplan_meier`: share that holds", "lifelines", 1e-12)
def kaplan_meier(calc):
    for _ in range(40):
        times, observed = lives()
        theirs = KaplanMeierFitter().fit(times, observed)
        for row in calc("kaplan_meier", {"times": times, "observed": observed})["table"]:
            yield row["survival"], float(theirs.predict(row["t"]))


@against("`kaplan_meier`: standard error", "SciPy `ecdf`", 1e-9)
def greenwood(calc):
    for _ in range(40):
        times, observed = lives()
        data = stats.CensoredData.right_censored(times, [not one for one in observed])
        holds = stats.ecdf(data).sf
        high = holds.confidence_interval(0.95, method="linear").high
        rows = {row["t"]: row for row in calc("kaplan_meier", {"times": times, "observed": observed})["table"]}
        for t, share, top in zip(holds.quantiles, holds.probabilities, high.probabilities):
            # The library cuts its interval at 1, and has none where nothing is left.
            if t in rows and share > 0 and top < 1:
                yield rows[t]["se"], (top - share) / stats.norm.ppf(0.975)


@against("`weibull`: scale, shape, likelihood", "lifelines", 1e-4, relative=True)
def weibull(calc):
    for _ in range(40):
        times, observed = lives()
        failures = [t for t, failed in zip(times, observed) if failed]
        ours = calc("weibull", {"failures": failures, "censored": [t for t, failed in zip(times, observed) if not failed]})
        theirs = WeibullFitter().fit(times, observed)
        yield ours["scale"], theirs.lambda_
        yield ours["shape"], theirs.rho_
        yield ours["log_likelihood"], theirs.log_likelihood_


@against("`weibull`: mean, median, B10 of its law", "SciPy `weibull_min`", 1e-9, relative=True)
def law(calc):
    for _ in range(40):
        times, _ = lives()
        ours = calc("weibull", {"failures": times, "censored": []})
        theirs = stats.weibull_min(ours["shape"], scale=ours["scale"])
        yield ours["mean"], theirs.mean()
        yield ours["median"], theirs.median()
        yield ours["b10"], theirs.ppf(0.1)
        yield ours["log_likelihood"], theirs.logpdf(times).sum()


@against("`weibull_interval`: scale, shape, likelihood", "lifelines", 1e-4, relative=True)
def weibull_interval(calc):
    for _ in range(40):
        times, _ = lives()
        seen = [(60.0 * int(time // 60), 60.0 * int(time // 60) + 60) for time in times]
        seen = [(low, high if high <= 420 else math.inf) for low, high in seen]
        seen = [(min(low, 420.0), high) for low, high in seen]
        if len({pair for pair in seen if pair[1] < math.inf}) < 3:
            continue
        ours = calc("weibull_interval", {"intervals": [[low, None if high == math.inf else high] for low, high in seen]})
        theirs = WeibullFitter().fit_interval_censoring(*map(np.array, zip(*seen)))
        yield ours["scale"], theirs.lambda_
        yield ours["shape"], theirs.rho_
        yield ours["log_likelihood"], theirs.log_likelihood_


@against("`wear_forecast`: rate and its interval, mm a month", "SciPy `linregress`", 1e-9)
def wear_forecast(calc):
    start = datetime.date(2025, 1, 1)
    for _ in range(40):
        days = sorted(random.sample(range(400), random.randrange(4, 12)))
        thick = [8 - 0.01 * day + random.gauss(0, 0.1) for day in days]
        measured = [{"date": str(start + datetime.timedelta(day)), "thickness_mm": mm} for day, mm in zip(days, thick)]
        ours = calc("wear_forecast", {"measurements": measured, "limit_mm": 2})
        theirs = stats.linregress(days, thick)
        month, half = 365.2425 / 12, stats.t.ppf(0.975, len(days) - 2) * theirs.stderr
        yield ours["rate_mm_per_month"], -theirs.slope * month
        yield ours["rate_interval"][0], (-theirs.slope - half) * month
        yield ours["rate_interval"][1], (-theirs.slope + half) * month


def groups(count=40):
    """Pairs found damaged of pairs opened, by groups whose rates differ."""
    rates = stats.beta(random.uniform(0.8, 4), random.uniform(3, 20))
    for rate in rates.rvs(count, random_state=random.randrange(2**31)):
        opened = random.randint(3, 60)
        yield [int(stats.binom.rvs(opened, rate, random_state=random.randrange(2**31))), opened]


@against("`allowance`: prior's mean and weight", "SciPy `betabinom`, `minimize`", 1e-4, relative=True)
def prior(calc):
    for _ in range(40):
        data = list(groups())
        found, opened = np.array(data).T
        ours = calc("allowance", {"groups": data})
        if ours["prior_from"] != "fitted":
            continue
        # The negative logarithm of the likelihood, by the logarithms of both numbers.
        lost = lambda at: -stats.betabinom(opened, *np.exp(at)).logpmf(found).sum()
        start = np.log([1.0, 8.0])
        best = minimize(lost, start, method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-12, "maxiter": 10_000})
        alpha, beta = np.exp(best.x)
        prior = ours["prior"]
        yield prior["alpha"] / (prior["alpha"] + prior["beta"]), alpha / (alpha + beta)
        yield prior["alpha"] + prior["beta"], alpha + beta


@against("`allowance`: posterior's mean, deviation, quantiles", "SciPy `beta`", 1e-9)
def posterior(calc):
    for _ in range(60):
        alpha, beta, opened = random.uniform(0.2, 20), random.uniform(0.2, 60), random.randint(0, 300)
        found = random.randint(0, opened)
        question = {"groups": [], "prior": {"alpha": alpha, "beta": beta}, "own": [found, opened]}
        ours = calc("allowance", question)["posterior"]
        theirs = stats.beta(alpha + found, beta + opened - found)
        yield ours["mean"], theirs.mean()
        yield ours["sd"], theirs.std()
        for name, share in [("q025", 0.025), ("q50", 0.5), ("q90", 0.9), ("q975", 0.975)]:
            yield ours[name], theirs.ppf(share)


def spread():
    p50 = random.uniform(5, 120)
    return {"p50": p50, "p90": p50 * random.uniform(1.1, 2.2)}


def lognormal(minutes, per_minute):
    sigma = math.log(minutes["p90"] / minutes["p50"]) / stats.norm.ppf(0.9)
    return stats.lognorm(sigma, scale=minutes["p50"] * per_minute)


@against("`estimate`: mean and allowance", "SciPy `lognorm`, `betabinom`", 1e-9, relative=True)
def estimate_mean(calc):
    for _ in range(60):
        rate = random.uniform(10, 90)
        lines = [{"minutes": spread(), "materials": random.uniform(0, 30)} for _ in range(random.randint(0, 4))]
        hidden = [
            {"alpha": random.uniform(0.5, 9), "beta": random.uniform(0.5, 30), "minutes": spread(), "materials": random.uniform(0, 9)}
            for _ in range(random.randint(0, 4))
        ]
        ours = calc("estimate", {"rate_per_hour": rate, "lines": lines, "hidden": hidden, "draws": 10})
        cost = lambda one: lognormal(one["minutes"], rate / 60).mean() + one["materials"]
        allowance = sum(stats.betabinom(1, one["alpha"], one["beta"]).mean() * cost(one) for one in hidden)
        yield ours["allowance_mean"], allowance
        yield ours["mean"], sum(map(cost, lines)) + allowance


# Of a million draws: the quantiles of one line, its mean, and how often it is dearer than its own quantile. The largest
# sampling error among them, five times over, is below the tolerance.
@against("`estimate`: quantiles, drawn mean, chance of loss", "SciPy `lognorm`", 1e-2, relative=True)
def estimate_drawn(calc):
    for _ in range(10):
        minutes, rate, share = spread(), random.uniform(10, 90), random.uniform(0.2, 0.95)
        theirs = lognormal(minutes, rate / 60)
        question = {"rate_per_hour": rate, "lines": [{"minutes": minutes, "materials": 0}], "hidden": []}
        price, seed = theirs.ppf(share), random.randrange(2**31)
        ours = calc("estimate", question | {"price": price, "seed": seed, "draws": 1_000_000})
        for name, at in [("p50", 0.5), ("p80", 0.8), ("p95", 0.95)]:
            yield ours[name], theirs.ppf(at)
        yield ours["drawn_mean"], theirs.mean()
        yield ours["loss_chance"], 1 - share
