"""Pipes and drilled bars, by the fluids library, gsw and SciPy."""

import functools
import math

import fluids
import gsw
import numpy as np
from scipy.optimize import root
from scipy.special import wrightomega

GRAVITY = 9.80665

# What is known of the viscosity of water: 1 % (IAPWS R12-08, section 2.7). In slow
# flow the friction is in step with it.
VISCOSITY = 0.01
SOURCE = "1 % of the viscosity (IAPWS R12-08)"


# What the equations of a bar may be out, as a share of the head of its mean hole.
RESIDUAL = 1e-7


def viscosity(t):
    """Kinematic viscosity in m2/s: IAPWS SR6-08, equation 8, over gsw's density."""
    x = (t + 273.15) / 300
    dynamic = 1e-6 * (280.68 * x**-1.9 + 511.45 * x**-7.7 + 61.131 * x**-19.6 + 0.45903 * x**-40)
    return dynamic / float(gsw.rho_t_exact(0, t, 0))


def factor(reynolds, rough):
    """Darcy's factor: laminar up to 2000, Colebrook from 4000, and between them, where
    nobody knows it, on the straight line that the calculator says it takes."""
    if reynolds <= 2000:
        return fluids.friction.friction_laminar(reynolds)
    if reynolds >= 4000:
        return fluids.friction_factor(Re=reynolds, eD=rough, Method="Colebrook")
    low, high = 64 / 2000, fluids.friction_factor(Re=4000, eD=rough, Method="Colebrook")
    return low + (high - low) * (reynolds - 2000) / 2000


def friction(given, _):
    bore, length = given["bore"] / 1000, given["length"]
    speed = given["flow"] / 3.6e6 / (math.pi / 4 * bore**2)
    reynolds = fluids.Reynolds(V=speed, D=bore, nu=viscosity(given["temperature"]))
    pipe = fluids.head_from_K(K=fluids.K_from_f(fd=factor(reynolds, given["roughness"] / 1000 / bore), L=length, D=bore), V=speed, g=GRAVITY)
    fittings = fluids.head_from_K(K=fluids.fittings.exit_normal() + given["more-k"], V=speed, g=GRAVITY)
    return {
        "velocity": (speed, 0, ""),
        "reynolds": (reynolds, VISCOSITY * reynolds, SOURCE),
        "friction": (pipe, VISCOSITY * pipe, SOURCE),
        "fittings-loss": (fittings, 0, ""),
        "loss": (pipe + fittings, VISCOSITY * pipe, SOURCE),
    }


def factors(reynolds, rough):
    """factor for many flows at once. Colebrook's equation is solved by Wright's
    function, which has no steps to stop too early; check holds it against fluids."""
    turbulent = np.maximum(reynolds, 4000)
    a, b = rough / 3.7, 2.51 / turbulent
    half = math.log(10) / 2
    x = wrightomega(np.log(half / b) + half * a / b) / half - a / b
    colebrook = 1 / x**2
    between = 0.032 + (colebrook - 0.032) * (reynolds - 2000) / 2000
    return np.where(reynolds <= 2000, 64 / np.maximum(reynolds, 1e-9), np.where(reynolds >= 4000, colebrook, between))


def check():
    for reynolds, rough in ((4000, 0), (1e5, 1e-3), (1e7, 0.05), (1500, 0.01), (3000, 0.01)):
        one, many = factor(reynolds, rough), factors(np.array([float(reynolds)]), rough)[0]
        if abs(one - many) > 1e-9 * one:
            raise SystemExit(f"compare: Wright's function gives {many} where fluids gives {one}")


check()


def manifold(given, _):
    """A drilled bar; where the digits shown do not decide, again in water that is as
    much thicker as nobody knows: in long thin bars the far holes run dry, and what is
    left for them hangs on that."""
    nu = viscosity(given["temperature"])
    found = bar(given, nu)
    # Flow in L/min that the solver tells from none: heads go with its square.
    least = {"last-flow": math.sqrt(RESIDUAL) * given["flow"] / 60 / given["count"]}

    def accuracy(output):
        return max(abs(found[output] - bar(given, nu * (1 + VISCOSITY))[output]), least.get(output, 0))

    return {output: (value, functools.partial(accuracy, output), SOURCE) for output, value in found.items()}


def bar(given, nu):
    """All holes of a bar at once, as a network of as many equations.

    Unknown are the head at the feed and the flow of each hole. A hole is driven by
    the head that is left there, less the velocity head of the water that arrives.
    """
    bore, hole, count = given["bore"] / 1000, given["hole"] / 1000, int(given["count"])
    flow = given["flow"] / 3.6e6
    pipe, spacing = math.pi / 4 * bore**2, given["length"] / count
    # Likely coefficients of discharge: 0.61 of a sharp edge, 0.75 where the jet clings
    # to a wall as thick as the hole, a line between (the handbook's practice). Slime
    # is 0.05 mm rough (the same).
    thick = min(1, max(0, 2 * given["wall"] / given["hole"] - 1))
    opening = (0.61 + 0.14 * thick) * math.pi / 4 * hole**2
    scale = (flow / count / opening) ** 2 / (2 * GRAVITY)  # head of the mean hole

    def parts(unknown):
        head, outs = unknown[0] * scale, unknown[1:] * flow / count
        arriving = np.maximum(np.cumsum(outs[::-1])[::-1], 1e-15)
        speed = arriving / pipe
        lost = factors(speed * bore / nu, 0.00005 / bore) * spacing / bore * speed**2 / (2 * GRAVITY)
        return outs, head - np.cumsum(lost) - speed**2 / (2 * GRAVITY)

    def residuals(unknown):
        outs, driving = parts(unknown)
        return np.append(outs * np.abs(outs) / opening**2 / (2 * GRAVITY) / scale - driving / scale, outs.sum() / flow - 1)

    start = np.ones(count + 1)
    start[0] = 0
    start[0] = 1 - parts(start)[1].min() / scale  # equal jets, and enough head for the last
    for method in ("hybr", "lm"):
        solved = root(residuals, start, method=method, tol=1e-11)
        if np.abs(solved.fun).max() < RESIDUAL:
            break
    else:
        raise SystemExit(f"compare: no root for {given}: {solved.message}")
    outs, _ = parts(solved.x)
    return {
        "head": solved.x[0] * scale,
        "far": 100 * outs[-1] / outs[0],
        "evenness": 100 * outs.min() / outs.max(),
        "first-flow": 60000 * outs[0],
        "last-flow": 60000 * outs[-1],
    }
