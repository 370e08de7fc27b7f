"""What lives in a pond: its oxygen over a night and the start of its filter, as
differential equations for SciPy."""

import csv
import functools
import math
import pathlib

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

import chemistry

FIGURES = pathlib.Path(__file__).parents[2] / "testdata" / "reference"

# Oxygen at saturation is known to a thousandth (Benson and Krause 1984).
SATURATION = 0.001
SOURCE = "0.1 % of saturation (Benson and Krause 1984)"
LONGEST = 48  # hours that a night is told of


def resting(weight, t):
    """Oxygen in mg/kg/h that a fish of a weight in g takes: the middle of three
    published lines (Yamanaka 2013, Cooke and Hill 2010, Winberg 1956). Where the first
    is not stated, below 15 °C, the middle of the other two; beyond 5 and 30 °C
    carried on, doubling for ten degrees."""
    held = min(max(t, 5), 30)
    bighead = 0.0053e6 / 24 * weight**-0.299 * math.exp(0.048 * held)
    # Winberg's table of every fifth degree, straight in the logarithm between.
    table = {5: 5.19, 10: 2.67, 15: 1.57, 20: 1, 25: 0.659, 30: 0.444}
    below = min(int(held // 5) * 5, 25)
    krogh = math.exp(math.log(table[below]) + (held - below) / 5 * math.log(table[below + 5] / table[below]))
    family = 1429 * 0.336 * weight**-0.20 / krogh
    middle = (bighead + family) / 2
    if held >= 15:
        middle = sorted((bighead, family, 67.4 * weight**-0.193 * math.exp(0.0562 * held)))[1]
    return middle * 2 ** ((t - held) / 10)


def demand_of(given):
    """Oxygen in g/h that fish, filter, water and bottom take."""
    weight = 10 ** (-4.639 + 2.920 * math.log10(10 * given["length"]))  # Bister 2000
    fish = given["count"] * weight / 1e6 * resting(weight, given["temperature"])
    fed = 0.5 * given["feed"] / 24  # Sea Grant, page 137
    filters = given["feed"] * 0.092 * given["protein"] / 100 * 4.57 / 24  # Timmons and Ebeling 2010
    breath = {"clear": 0.05, "green": 0.05 / 0.42, "thick": 0.3}[given["look"]]  # Boyd 1990, Madenjian 1987
    return max(fish, fed) + filters + breath * given["volume"] + given["area"] / 24


def night(given, limits):
    """Oxygen from dusk to dawn in mixed water that trades with the air."""
    t, volume = given["temperature"], given["volume"]
    pressure = chemistry.pressure_at(given["altitude"])
    full = chemistry.saturation(t, 0, pressure)
    demand = demand_of(given)
    # Delft3D-WAQ, reaeration option 9, in metres a day.
    filled = (0.30 + 0.028 * given["wind"] ** 2) * 1.024 ** (t - 20) * given["area"] / 24
    if given["tower"] == "falls":  # Delft3D-WAQ, weir option 0; dirty water, sharp edge
        drop = given["drop"]
        ratio = 1 + 0.38 * 1.0 * 0.8 * drop * (1 - 0.11 * drop) * (1 + 0.046 * t)
        filled += given["flow"] / 1000 * (1 - ratio ** -given["tiers"])
    bubbled = 0.0  # g/h for each mg/L missing
    if given["pump"] != "none":  # EPA 1989 and the ASCE standard
        taken = {"fine": 4.16, "coarse": 2.5}[given["pump"]]
        # Oxygen in a litre of air goes with its pressure (law of ideal gases).
        oxygen = 0.2793 * pressure / chemistry.ATMOSPHERE
        clean = 60 * oxygen * given["air"] * taken / 100 * given["stone-depth"]
        bubbled = clean * 0.9 * 1.024 ** (t - 20) / chemistry.saturation(20, 0, chemistry.ATMOSPHERE)

    def rate(_, oxygen):
        return [(filled * (full - oxygen[0]) + bubbled * (0.98 * full - oxygen[0]) - demand) / volume]

    def falls_to(limit):
        def event(_, oxygen):
            return oxygen[0] - limit
        event.direction = -1
        return event

    gone = falls_to(0.0)
    gone.terminal = True
    start = given["start"]

    def solve(hours, level):
        event = falls_to(level)
        return solve_ivp(rate, (0, hours), [start], method="LSODA", rtol=1e-10, atol=1e-10, events=[gone, event])

    dawn = solve(given["night"], 0)
    end = 0.0 if dawn.t_events[0].size else dawn.y[0][-1]

    def until(level):
        if start <= level:
            return 0.0
        reached = solve(2 * LONGEST, level).t_events[1]
        return min(reached[0], LONGEST) if reached.size else float(LONGEST)

    found = {
        "dawn": (end, SATURATION * full, SOURCE),
        "demand": (demand, 0, ""),
        "saturation": (full, 0, ""),
    }
    for output in ("until-act", "until-last"):
        level = limits[output]
        # Hours are as well known as the oxygen is: where it nears a limit slowly, a
        # thousandth of saturation is hours.
        def accuracy(level=level):
            spare = SATURATION * full
            return max(abs(until(level + by) - until(level)) for by in (-spare, spare))
        found[output] = (until(level), accuracy, SOURCE)
    return found


@functools.cache
def bacteria():
    """The three published sets for both kinds of bacteria, from the figures."""
    # Growth and decay per degree where a set states none: Vannecke and Volcke 2015;
    # Metcalf and Eddy 2014.
    warmth = {"AOB": 1.100, "NOB": 1.064}
    own = {("metcalf-eddy-5", "AOB"): 1.072, ("metcalf-eddy-5", "NOB"): 1.063}
    sets = {}
    with open(FIGURES / "media-nitrifier-parameters.csv", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            name, kind = row["set"], row["organism"]
            if name in ("metcalf-eddy-5", "sin-2008", "biops default"):
                numbers = [float(row[c]) for c in ("temperature [Cel]", "mu_max [/d]", "yield [g/g]", "k_nitrogen [mg/L]", "k_oxygen [mg/L]", "decay [/d]")]
                sets.setdefault(name, {})[kind] = (*numbers, own.get((name, kind), warmth[kind]))
    return list(sets.values())


GIVEN_UP = 730  # days

# The calculator states its steps to a ten-thousandth, so that it cannot tell days on
# which a level differs by less.
STEP = 1e-4
STEPS = "steps of a ten-thousandth (the calculator's formula Method)"


def peak(run, i):
    """The day of the highest level, and the level."""
    at = int(run.y[i].argmax())
    days = np.linspace(run.t[max(at - 1, 0)], run.t[min(at + 1, len(run.t) - 1)], 201)
    levels = run.sol(days)[i]
    return days[levels.argmax()], levels.max()


def spare_days(run, i):
    """How long before and after its peak a level is as high to a ten-thousandth;
    infinite where it is so to the end."""
    day, level = peak(run, i)
    high = np.nonzero(run.y[i] >= (1 - STEP) * level)[0]
    if not high.size:
        return 0
    if high[-1] == len(run.t) - 1:
        return math.inf
    return max(day - run.t[max(high[0] - 1, 0)], run.t[high[-1] + 1] - day)


def start_up(given, limits):
    """One start-up by one set of bacteria."""
    kinds = bacteria()[int(given["set"])]
    load, dilution = given["load"], -math.log(1 - given["change"] / 100) / 7
    grown = []
    for kind in ("AOB", "NOB"):
        at, growth, made, half, half_oxygen, decay, theta = kinds[kind]
        growth *= theta ** (given["temperature"] - at) * given["oxygen"] / (half_oxygen + given["oxygen"])
        grown.append((growth, made, half, decay * 1.029 ** (given["temperature"] - at)))
    (ga, ya, ka, ba), (gn, yn, kn, bn) = grown

    def rate(_, y):
        a = ga * y[0] / (ka + y[0]) * y[2]
        n = gn * y[1] / (kn + y[1]) * y[3]
        return [load - dilution * y[0] - a / ya, a / ya - dilution * y[1] - n / yn, a - ba * y[2], n - bn * y[3]]

    start = [0, 0, given["moved"] * ya * load / ba, given["moved"] * yn * load / bn]
    run = solve_ivp(rate, (0, GIVEN_UP), start, method="LSODA", rtol=1e-8, atol=[1e-9, 1e-9, 1e-14, 1e-14], dense_output=True)
    found = {}
    peaked = [peak(run, i) for i in (0, 1)]
    for i, name in enumerate(("tan", "nitrite")):
        found[name + "-day"] = peaked[i][0], lambda i=i: spare_days(run, i), STEPS
        found[name + "-peak"] = peaked[i][1], STEP * peaked[i][1], STEPS
    # Down is at the limit, or as low as the bacteria can make it, and a tenth.
    low_a = max(limits["tan-peak"], 1.1 * ka * ba / (ga - ba))
    low_n = max(limits["nitrite-peak"], 1.1 * kn * bn / (gn - bn))

    def over(day):
        y = run.sol(day)
        return max(y[0] - low_a, y[1] - low_n)

    # After both peaks: where the later one is none, there is no such day.
    later = int(peaked[1][0] > peaked[0][0])
    day = peaked[later][0]
    if over(day) <= 0:
        found["down"] = day, lambda: spare_days(run, later), STEPS
        return found
    nodes = [day] + [t for t in run.t if t > day]
    after = next((i for i, t in enumerate(nodes) if over(t) <= 0), None)
    if after is not None:
        found["down"] = brentq(over, nodes[after - 1], nodes[after]), lambda: math.inf if spare_days(run, later) == math.inf else 0, STEPS
    return found
