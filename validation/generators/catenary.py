"""Lines hanging between two points, by a road of its own: the pull across and
the pull at one end are found so that dx = H/T ds and dz = V/T ds, integrated
numerically along the line, end at the other point; no hyperbolic function is
used. Over a deck the end's pull is found so that two hanging pieces and a
straight one fill the span.

    python3 catenary.py > ../../crates/rig/tests/rig/catenary_oracle.csv

Needs scipy; checked with 1.17. The draw is fixed by its seed."""

import random
from math import asinh, hypot, sqrt

from scipy.integrate import quad
from scipy.optimize import brentq, least_squares

G = 9.80665


def end(across, block_down, weight, length):
    """Where a line ends that leaves the block with these pulls."""
    tension = lambda s: hypot(across, weight * s - block_down)
    lowest = block_down / weight
    points = [lowest] if 0 < lowest < length else None
    dx = quad(lambda s: across / tension(s), 0, length, epsabs=1e-13, epsrel=1e-13, limit=500, points=points)[0]
    dz = quad(lambda s: (weight * s - block_down) / tension(s), 0, length, epsabs=1e-13, epsrel=1e-13, limit=500, points=points)[0]
    return dx, dz


def hang(span, rise, length, weight):
    """Pull across and down at the block, by least squares on the end's place."""
    total = weight * length

    def miss(unknown):
        x, z = end(abs(unknown[0]) * total, unknown[1] * total, weight, length)
        return [x - span, z - rise]

    best = None
    for across in (0.02, 0.2, 1.0, 4.0):
        fit = least_squares(miss, [across, 0.5 * (1 - rise / length)], xtol=1e-15, ftol=1e-15, gtol=1e-15)
        if best is None or fit.cost < best.cost:
            best = fit
    assert best.cost < 1e-18, (span, rise, length, best)
    across, down = abs(best.x[0]) * total, best.x[1] * total
    return across, down, total - down


def over_deck(span, rise, length, weight, deck):
    """Pull across when what is too much lies on a deck below the block."""
    heights = [deck, deck + rise]

    def half(height, across):
        # Arc of a piece that leaves the deck level and ends at a height.
        arc = brentq(lambda s: sqrt(across**2 + (weight * s) ** 2) / weight - across / weight - height, 0, 1e4, xtol=1e-13)
        reach = quad(lambda s: across / hypot(across, weight * s), 0, arc, epsabs=1e-13, epsrel=1e-13, limit=500)[0]
        return arc, reach

    def gap(across):
        pieces = [half(height, across) if height > 0 else (0.0, 0.0) for height in heights]
        return sum(arc for arc, _ in pieces) - sum(reach for _, reach in pieces) - (length - span)

    if length - span >= sum(heights):
        return 0.0, weight * heights[1], weight * heights[0]
    across = brentq(gap, 1e-9, 1e6, xtol=1e-12)
    arcs = [half(height, across)[0] if height > 0 else 0.0 for height in heights]
    return across, weight * arcs[1], weight * arcs[0]


def main():
    draw = random.Random(20261125)
    print("# Written by validation/generators/catenary.py: numerical integration, scipy. Forces in N, lengths in m.")
    print("case,span_m,rise_m,length_m,kg_per_m,deck_m,across_n,clew_down_n,block_down_n")
    kinds = ["common"] * 20 + ["nearly taut"] * 8 + ["slack"] * 8 + ["steep"] * 8 + ["deck"] * 12
    for number, kind in enumerate(kinds, 1):
        span, rise = draw.uniform(1, 12), draw.uniform(-2, 4)
        slack = draw.uniform(1.01, 1.4)
        if kind == "nearly taut":
            slack = 1 + 10 ** draw.uniform(-6, -3)
        if kind == "slack":
            slack = draw.uniform(2, 8)
        if kind == "steep":
            span, rise = draw.uniform(0.05, 0.5), draw.uniform(4, 16) * draw.choice([1, -1])
        length = slack * hypot(span, rise)
        mass = draw.uniform(0.01, 0.3)
        deck = ""
        if kind == "deck":
            rise = abs(rise)
            deck = draw.uniform(0, 0.5)
            length = hypot(span, rise) + draw.uniform(0.3, 1.4) * (2 * deck + rise)
            free = hang(span, rise, length, mass * G)
            lowest = free[1] / (mass * G)
            dips = (hypot(free[0], free[1]) - free[0]) / (mass * G) if lowest > 0 else 0.0
            across, clew, block = free if dips <= deck else over_deck(span, rise, length, mass * G, deck)
            if dips <= deck:
                across, clew, block = free[0], free[2], free[1]
        else:
            across, block, clew = hang(span, rise, length, mass * G)
        fields = [span, rise, length, mass]
        print(f"{number} {kind}", *(repr(v) for v in fields), deck if deck == "" else repr(deck), *(f"{v:.10g}" for v in (across, clew, block)), sep=",")


if __name__ == "__main__":
    main()
