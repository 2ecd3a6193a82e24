"""How plates settle on bores, by scipy's general-purpose optimisers, against the program's own solver.

    python check_settle.py CASES.json

CASES.json: a list of {"stations": [[x, y]...], "bores": [{"centre": [x, y], "slope": [x, y], "diameter": d}...],
"barrel": d, "grip": g, "gap": the program's}. The gap of a case is the largest least distance, over a shift and a turn, between
barrel's and bore's rim at both ends of the grip.
"""

import json
import sys

import numpy as np
from scipy.optimize import minimize

from reporting import Checks

AGREE = 1e-6        # mm, as issue and contract ask; SLSQP itself ends near 1e-9


def discs(case):
    stations = np.array(case["stations"], dtype=float)
    away = stations - stations.mean(axis=0)
    turned = np.stack([-away[:, 1], away[:, 0]], axis=1)
    reach = np.abs(turned).max() or 1.0
    offsets, arms, clearances = [], [], []
    for station, arm, bore in zip(stations, turned / reach, case["bores"]):
        for depth in (0.0, case["grip"]):
            offsets.append(station - np.array(bore["centre"]) - depth * np.array(bore["slope"]))
            arms.append(arm)
            clearances.append((bore["diameter"] - case["barrel"]) / 2)
    return np.array(offsets), np.array(arms), np.array(clearances)


def least_excess(case):
    """Minimises t, where every offset may be as long as its clearance and t: squared, so that all is smooth."""
    offsets, arms, clearances = discs(case)

    def moved(x):
        return offsets + x[:2] + np.outer(x[2], arms).reshape(arms.shape)

    def excess(x):
        return (np.linalg.norm(moved(x), axis=1) - clearances).max()

    def room(x):
        return (x[3] + clearances) ** 2 - (moved(x) ** 2).sum(axis=1)

    def room_slope(x):
        at = moved(x)
        return np.column_stack([-2 * at, -2 * (at * arms).sum(axis=1), 2 * (x[3] + clearances)])

    start = np.concatenate([-offsets.mean(axis=0), [0.0]])
    best = np.inf
    for spread in (0.0, 0.05, -0.05):
        x = start + spread
        for _ in range(4):
            x0 = np.append(x, excess(x) + 1e-3)
            found = minimize(lambda x: x[3], x0, jac=lambda x: np.array([0.0, 0.0, 0.0, 1.0]), method="SLSQP",
                             constraints=[{"type": "ineq", "fun": room, "jac": room_slope},
                                          {"type": "ineq", "fun": lambda x: x[3] + clearances.min(),
                                           "jac": lambda x: np.array([0.0, 0.0, 0.0, 1.0])}],
                             options={"ftol": 1e-15, "maxiter": 500})
            x = found.x[:3]
            best = min(best, excess(x))
    return best


def main():
    checks = Checks()
    cases = json.loads(open(sys.argv[1], encoding="utf-8").read())
    inside = 0
    for number, case in enumerate(cases):
        gap = -least_excess(case)
        checks.below(f"case {number}, {len(case['bores'])} bores: gap", abs(gap - case["gap"]), AGREE, "mm")
        if min(abs(gap), abs(case["gap"])) > AGREE:
            checks.equal(f"case {number}: goes in", bool(case["gap"] >= 0), bool(gap >= 0))
        inside += gap >= 0
    share = inside / max(len(cases), 1)
    checks.truth("cases of both kinds", 0.1 < share < 0.9, f"{inside} of {len(cases)} go in")
    return checks.finish()


if __name__ == "__main__":
    sys.exit(main())
