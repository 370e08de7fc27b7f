"""Answers the questions that the program beside this file has put to the
calculators, with libraries that know nothing of the handbook, and holds the two
against each other:

    python compare.py points.json

A likely answer may differ from the library's by half of the last digit that it
shows, or by the published accuracy of its formula where that is more. Both are
known before anything is compared; no tolerance here was made from a deviation. A
question that a calculator refuses counts, and at most a tenth may be refused.
"""

import json
import math
import sys
from dataclasses import dataclass, field

import chemistry
import hydraulics
import life

# In place of an accuracy: the value lies in the range that is shown with the likely one.
RANGE = chemistry.RANGE

MOST_REFUSED = 0.1
LEAST_POINTS = 200

# Subject: what answers it, with what. What a formula's published accuracy is stands
# with the answer, in the functions named here.
SUBJECTS = {
    "ammonia": (chemistry.ammonia, "PHREEQC"),
    "carbonate": (chemistry.carbonate, "PHREEQC"),
    "oxygen": (chemistry.oxygen, "gsw, fluids"),
    "friction": (hydraulics.friction, "fluids, gsw"),
    "manifold": (hydraulics.manifold, "SciPy root, fluids, gsw"),
    "night oxygen": (life.night, "SciPy solve_ivp, gsw, fluids"),
    "start-up": (life.start_up, "SciPy solve_ivp"),
}


@dataclass
class Worst:
    """The greatest deviation of an output, the one nearest to its tolerance, and how
    many were held to what beside the digits shown."""

    count: int = 0
    deviation: float = 0.0
    share: float = -1.0
    at: str = ""
    held: dict = field(default_factory=dict)


def half_step(value, digits):
    """Half of the last digit that a value shows; whole numbers have 0 digits."""
    if digits == 0:
        return 0.5
    if value == 0:
        return 0.0
    return 0.5 * 10.0 ** (math.floor(math.log10(abs(value))) - digits + 1)


def compare(subject, limits):
    """Compares one subject; prints what it found and returns its faults."""
    answer, library = SUBJECTS[subject["name"]]
    points = subject["points"]
    refused = [p for p in points if "refused" in p]
    worst, faults = {}, []
    for point in points:
        if "refused" in point:
            continue
        theirs = answer(point["given"], limits)
        for output, (value, accuracy, source) in theirs.items():
            known = accuracy if callable(accuracy) else lambda accuracy=accuracy: accuracy
            w = worst.setdefault(output, Worst())
            name = output.partition(", ")[0]
            if name not in point["found"]:
                if known() < math.inf:
                    faults.append(f"no {output}, {library} {value:.6g}: {subject['calculator']} {point['asked']}")
                continue
            low, ours, high = point["found"][name]
            off, tolerance = abs(ours - value), half_step(ours, subject["digits"][name])
            w.count += 1
            if not off <= tolerance:
                tolerance = max(tolerance, (high - ours if value > ours else ours - low) if accuracy is RANGE else known())
                w.held[source] = w.held.get(source, 0) + 1
            w.deviation = max(w.deviation, off / abs(value) if value else off)
            share = off / tolerance if tolerance else 0.0 if off == 0 else math.inf
            if not share <= w.share:  # a value that is no number is the worst of all
                w.share, w.at = share, f"{ours:.5g} for {value:.5g}, {subject['calculator']} {point['asked']}"
            if not share <= 1:
                faults.append(f"{output} {ours:.6g}, {library} {value:.6g}, may differ by {tolerance:.2g}: {subject['calculator']} {point['asked']}")
    print(f"{subject['name']}: {len(points)} points, {len(refused)} refused; {subject['calculator']} against {library}")
    for output, w in worst.items():
        held = "".join(f"; {times} by {source}" for source, times in sorted(w.held.items()))
        print(f"  {output}: {w.count} answers, largest deviation {100 * w.deviation:.3g} %; held to the digits shown{held}")
        print(f"    nearest to its tolerance, {100 * w.share:.0f} % of it: {w.at}")
    if len(points) < LEAST_POINTS:
        faults.append(f"{len(points)} points, expected {LEAST_POINTS} or more")
    if len(refused) > MOST_REFUSED * len(points):
        faults.append(f"{len(refused)} of {len(points)} points refused, expected a tenth at most; the first: {refused[0]['refused']}")
    return faults


def main(path):
    with open(path, encoding="utf-8") as file:
        report = json.load(file)
    print(f"seed {report['seed']}")
    missing = set(SUBJECTS) - {s["name"] for s in report["subjects"]}
    faults = [f"{name}: no questions" for name in sorted(missing)]
    for subject in report["subjects"]:
        found = compare(subject, report["limits"])
        for fault in found[:10]:
            print("  " + fault)
        faults += found
    print(f"{len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
