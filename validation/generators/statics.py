"""Statics of sails, booms, stays and blocks, each by a road of its own:
forces as vectors, moments as sums, lengths between points. Prints the numbers
that cases marked generators/statics.py hold. Plain Python, no packages."""

from math import acos, cos, hypot, pi, radians, sin, sqrt


def solve(matrix, right):
    """Gauss with row exchange."""
    size = len(right)
    rows = [list(row) + [value] for row, value in zip(matrix, right)]
    for at in range(size):
        best = max(range(at, size), key=lambda row: abs(rows[row][at]))
        rows[at], rows[best] = rows[best], rows[at]
        for row in range(size):
            if row != at:
                factor = rows[row][at] / rows[at][at]
                rows[row] = [a - factor * b for a, b in zip(rows[row], rows[at])]
    return [rows[at][-1] / rows[at][at] for at in range(size)]


def sagging_edge(load_per_metre, length, sag, parts=20000):
    """Bending moment at the middle of a beam under many point loads, over sag."""
    point = load_per_metre * length / parts
    moment = point * parts / 2 * length / 2
    for part in range(parts):
        at = (part + 0.5) * length / parts
        if at < length / 2:
            moment -= point * (length / 2 - at)
    return moment / sag


def tapered_edge(load_at_foot, length, sag, parts=20000):
    """Tension and place of the greatest bending moment under many point loads
    that grow evenly from nothing at the head."""
    step = length / parts
    loads = [(load_at_foot * (part + 0.5) / parts * step, (part + 0.5) * step) for part in range(parts)]
    shear = sum(load * (length - at) for load, at in loads) / length
    moment, place, most = 0.0, 0.0, (0.0, 0.0)
    for load, at in loads:
        moment += shear * (at - place)
        place = at
        most = max(most, (moment, at))
        shear -= load
    return most[0] / sag, most[1]


def boom(luff, foot, leech, pull_from, pull_to):
    """Pull along a line from a point of the boom to another, against the leech
    at the boom's end: moments about the gooseneck, forces as vectors."""
    size = hypot(luff, foot)
    up = leech * luff / size
    moment = foot * up
    dx, dz = pull_to[0] - pull_from[0], pull_to[1] - pull_from[1]
    run = hypot(dx, dz)
    return moment / -(pull_from[0] * dz / run)


def arc_chord_pull(camber):
    """Pull along the chord of a true arc under pressure, over pressure x chord."""
    radius = (0.25 + camber * camber) / (2 * camber)
    return radius * cos(acos(1 - camber / radius))


def block(before, after, wrap):
    """Sum of the two legs as vectors; the rope is turned by wrap."""
    x = -before + after * cos(wrap)
    y = after * sin(wrap)
    return hypot(x, y)


def mainsheet(along, drop, turned):
    """Boom block swung out, to its place below the boom amidships."""
    return sqrt((along - along * cos(turned)) ** 2 + (along * sin(turned)) ** 2 + drop * drop)


def righting_moment_1993(mass, lwl, bwl, canoe, centre, heel, froude):
    """Regression of Gerritsma et al. 1993, centre of mass above canoe bottom."""
    beam = bwl / canoe
    d2 = -0.0406 + 0.0109 * beam - 0.00105 * beam * beam
    d3 = 0.0636 - 0.0196 * beam
    arm = (0.664 * canoe + 0.111 * bwl * bwl / canoe - centre) * sin(heel)
    return mass * 9.80665 * (arm + lwl * (d2 * heel * froude + d3 * heel * heel))


if __name__ == "__main__":
    print("edge 100 N/m, 15 m, 0.15 m:", sagging_edge(100, 15, 0.15), "N")
    print("edge 0 to 100 N/m, 15 m, 0.15 m:", tapered_edge(100, 15, 0.15), "N, m from the head")
    print("end of the uniform one:", hypot(sagging_edge(100, 15, 0.15), 100 * 15 / 2), "N")
    print("sheet at 4.5 m:", boom(13, 4.5, 3000, (4.5, 0), (4.5, -1)), "N")
    print("sheet at 2.25 m:", boom(13, 4.5, 3000, (2.25, 0), (2.25, -1)), "N")
    print("vang 1.5 m along, 1.2 m down:", boom(13, 4.5, 3000, (1.5, 0), (0, -1.2)), "N")
    print("outhaul:", 3000 * 4.5 / hypot(13, 4.5), "N")
    fore, aft, height = 5.0, 5.5, 16.0
    unit = lambda x: (x / hypot(x, height), -height / hypot(x, height))
    matrix = [[-unit(aft)[0], 0], [unit(aft)[1], 1]]
    print("backstay, compression:", solve(matrix, [-20000 * unit(fore)[0], -20000 * unit(fore)[1]]), "N")
    tack, guy = radians(70), radians(20)
    pulls = solve([[sin(guy), 0], [cos(guy), -1]], [2000 * sin(tack), -2000 * cos(tack)])
    print("guy, compression (tack 2000 N at 70, guy at 20 deg):", pulls, "N")
    slant = radians(45)
    lines = [(sin(slant) * cos(t), sin(slant) * sin(t), -cos(slant)) for t in (0, 2 * pi / 3, 4 * pi / 3)]
    print("three lines at 45 deg, 1500 N:", solve(list(zip(*lines)), [0, 0, -1500]), "N")
    for camber in (0.08, 0.10, 0.12):
        print("arc chord pull at", camber, ":", arc_chord_pull(camber))
    for wrap in (30, 60, 90, 135, 180):
        print("block at", wrap, "deg:", block(1, 1, radians(wrap)))
    print("block, 1000 and 1100 N, 120 deg:", block(1000, 1100, radians(120)), "N")
    print("mainsheet:", mainsheet(4.5, 1.2, radians(85)), "m, four parts", 4 * mainsheet(4.5, 1.2, radians(85)))
    x = 0.15 * 0.16
    y = x * sin(radians(45))
    print("pin friction: half turn", (1 - x) / (1 + x), "quarter", (1 - y) / (1 + y))
    print("apparent, heeled 20:", hypot(12 * cos(radians(45)) + 6, 12 * sin(radians(45)) * cos(radians(20))) * 1852 / 3600)
    print("righting moment:", righting_moment_1993(6500, 11.9, 3.18, 0.60, 0.40, radians(30), 0.35), "N m")
