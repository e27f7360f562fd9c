#!/usr/bin/env python3
"""Reference numbers for the elastic buried splice, by scipy's collocation.

Solves, with scipy.integrate.solve_bvp, the two-point problem of an elastic
tail in an elastic braid with saturating friction, for 20 cases, and prints
them as CSV. The geometry is worked out here from angle, inflation and taper;
nothing is taken from the program. Every stretch of even tail is mapped to
[0, 1] and all are solved together, so that no jump lies inside the mesh.

    python3 elastic_splice.py > ../../crates/splice/tests/splice/elastic_reference.csv

Made with Python 3.11, numpy and scipy (versions in the header of the output).
"""
import sys
import time

import numpy as np
import scipy
from scipy.integrate import solve_bvp

STRANDS = 12
FULL_RADIUS = np.sqrt(0.375)


def stretches(bury, pairs, cut):
    """(length, share of strands) from the throat to the tail's end."""
    spacing = bury / 3 / pairs if pairs else 0.0
    steps = [(spacing * i, STRANDS - 2 * (pairs + 1 - i)) for i in range(1, pairs + 1)]
    last = (STRANDS - 2 * pairs) / STRANDS
    out = []
    if cut > 0:
        out += [(cut / 8, (i + 0.5) / 8 * last) for i in range(8)]
    at = cut
    for position, left in steps:
        if position > at:
            out.append((position - at, left / STRANDS))
        at = position
    out.append((bury - at, 1.0))
    return out[::-1]


def solve(angle, inflation, friction, bury, pairs, cut, rho, strain, bedding):
    s0 = np.sin(np.radians(angle))
    r0 = FULL_RADIUS / inflation
    parts = []
    for length, share in stretches(bury, pairs, cut):
        r = np.sqrt(r0**2 + share * (FULL_RADIUS**2 - r0**2))
        s = s0 * r / r0
        grip = s**2 / (1 - s**2) / r
        ratio = np.sqrt((1 - s0**2) / (1 - s**2))
        parts.append((length, share, share * grip, ratio**3))
    n = len(parts)

    def rhs(x, y):
        dy = np.empty_like(y)
        for i, (length, share, grip, cube) in enumerate(parts):
            tail, slip = y[2 * i], y[2 * i + 1]
            g = slip / np.sqrt(slip**2 + bedding**2)
            dy[2 * i] = -length * friction * grip * (1 - tail) * g
            dy[2 * i + 1] = length * strain * ((1 - tail) * cube - tail / share)
        return dy

    def bc(a, b):
        out = [a[0] - rho, b[2 * n - 2]]
        for i in range(n - 1):
            out += [b[2 * i] - a[2 * i + 2], b[2 * i + 1] - a[2 * i + 3]]
        return np.array(out)

    x = np.linspace(0, 1, 21)
    guess = np.empty((2 * n, x.size))
    at = 0.0
    for i, (length, *_) in enumerate(parts):
        guess[2 * i] = rho * (1 - (at + x * length) / bury)
        guess[2 * i + 1] = bedding
        at += length
    start = time.perf_counter()
    answer = solve_bvp(rhs, bc, x, guess, tol=1e-9, max_nodes=200000)
    took = time.perf_counter() - start
    if not answer.success:
        raise SystemExit(f"no convergence: {answer.message}")

    def tail_at(where):
        at = 0.0
        for i, (length, *_) in enumerate(parts):
            if where <= at + length + 1e-12:
                return answer.sol((where - at) / length)[2 * i]
            at += length
        raise ValueError(where)

    loads = [tail_at(bury * quarter / 4) for quarter in (1, 2, 3)]
    return loads, answer.y[1, 0], answer.y[2 * n - 1, -1], took


CASES = [
    # angle, inflation, friction, bury, pairs, cut, rho, strain, bedding
    (14.0, 1.66, 0.080, 72, 3, 3.0, 0.5, 0.0036, 0.2),
    (14.0, 1.66, 0.080, 72, 3, 3.0, 0.5, 0.0090, 0.2),
    (14.0, 1.66, 0.080, 72, 3, 3.0, 0.5, 0.0180, 0.2),
    (14.0, 1.66, 0.050, 72, 3, 3.0, 0.5, 0.0036, 0.2),
    (14.0, 1.66, 0.100, 45, 3, 3.0, 0.5, 0.0036, 0.2),
    (12.0, 1.73, 0.080, 72, 3, 3.0, 0.5, 0.0036, 0.2),
    (12.0, 1.73, 0.080, 72, 0, 0.0, 0.5, 0.0036, 0.2),
    (12.0, 1.73, 0.080, 72, 0, 3.0, 0.5, 0.0036, 0.2),
    (12.0, 1.45, 0.100, 72, 3, 3.0, 0.5, 0.0036, 0.2),
    (10.0, 1.83, 0.090, 72, 3, 3.0, 0.5, 0.0036, 0.2),
    (16.0, 1.60, 0.060, 72, 5, 3.0, 0.5, 0.0036, 0.2),
    (16.0, 1.60, 0.060, 72, 1, 2.0, 0.5, 0.0036, 0.2),
    (15.0, 1.70, 0.070, 60, 3, 3.0, 0.578, 0.0036, 0.2),
    (15.0, 1.70, 0.070, 60, 3, 3.0, 0.652, 0.0036, 0.2),
    (15.0, 1.70, 0.070, 100, 3, 3.0, 0.4, 0.0036, 0.2),
    (14.0, 1.66, 0.080, 72, 3, 3.0, 0.5, 0.0036, 0.05),
    (14.0, 1.66, 0.080, 72, 3, 3.0, 0.5, 0.0036, 0.5),
    (18.0, 1.55, 0.150, 63, 3, 3.0, 0.5, 0.0140, 0.2),
    (18.0, 1.55, 0.150, 63, 3, 3.0, 0.5, 0.0570, 0.2),
    (14.0, 1.66, 0.120, 150, 3, 3.0, 0.5, 0.0100, 0.2),
]

if __name__ == "__main__":
    print(f"# scipy.integrate.solve_bvp {scipy.__version__}, numpy {np.__version__}, tol 1e-9; generators/elastic_splice.py")
    print("angle,inflation,friction,bury,pairs,cut,rho,strain,bedding,load_quarter,load_half,load_three_quarters,throat_slip,end_slip")
    for case in CASES:
        loads, throat, end, took = solve(*case)
        print(",".join(repr(float(v)) for v in (*case, *loads, throat, end)))
        print(f"{took * 1e3:.1f} ms", file=sys.stderr)
