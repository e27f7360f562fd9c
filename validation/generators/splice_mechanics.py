"""Braids round tails by roads of their own: a strand as points in space,
virtual work, marching along the bury, eyes as polygons. Prints the numbers
that cases marked generators/splice_mechanics.py hold. Plain Python."""

from math import asin, atan2, cos, degrees, exp, hypot, log, pi, radians, sin, sqrt, tan


def inward_force(pull, angle, radius, strands=12, parts=3600):
    """Force of twelve polygonal strands on their core, per metre of axis."""
    tension = pull / (strands * cos(angle))
    pitch = 2 * pi * radius / tan(angle)
    turn = 2 * pi / parts
    point = lambda k: (radius * cos(k * turn), radius * sin(k * turn), pitch * k / parts)
    into, out = [], []
    for k in (-1, 0):
        a, b = point(k), point(k + 1)
        run = [q - p for p, q in zip(a, b)]
        size = sqrt(sum(r * r for r in run))
        (into if k == -1 else out).extend(r / size for r in run)
    inward = -tension * sum((o - i) * e for i, o, e in zip(into, out, (1, 0, 0)))
    return strands * inward / (pitch / parts)


def sleeve(pressure, angle, radius):
    """Outside force of a braided sleeve under pressure, by virtual work: its
    strands keep their length, its volume changes with its length."""
    strand = 2 * pi * radius / sin(angle)

    def volume(length):
        square = strand * strand - length * length
        return square * length / (4 * pi)

    length = strand * cos(angle)
    step = 1e-6 * length
    outside = -pressure * (volume(length + step) - volume(length - step)) / (2 * step)
    return outside, outside + pressure * pi * radius * radius


def critical_bury(friction, angle, radius, share, step=1e-6):
    """March the braid's load from the throat to the tail's end, in metres."""
    load, at = 1 - share, 0.0
    while load < 1:
        middle = load + 0.5 * step * friction * load * tan(angle) ** 2 / radius
        load += step * friction * middle * tan(angle) ** 2 / radius
        at += step
    return at


def tapered_end(angle, inflation, friction, over_enough, parts=200000):
    """Least share of strength over a taper: march up from the tail's end."""
    free, sine = 1.0, sin(angle)
    stretch = over_enough * (inflation**2 - 1) * free / (2 * friction)
    if stretch == 0:
        return cos(asin(inflation * sine)) / cos(angle)
    load, least, step = 1.0, 1.0, stretch / parts
    for part in range(parts):
        share = (part + 0.5) / parts
        radius = sqrt(1 + share * (inflation**2 - 1))
        opened = asin(sine * radius)
        load *= exp(-friction * tan(opened) ** 2 / radius * step)
        least = min(least, cos(opened) / cos(angle) / load)
    return least


def bury_with_falling_friction(tension, exponent, step=1e-5):
    """Bury for a friction force a N^n: march from half the tension to all."""
    load, at = tension / 2, 0.0
    while load < tension:
        middle = load + 0.5 * step * tension ** (1 - exponent) * load**exponent
        load += step * tension ** (1 - exponent) * middle**exponent
        at += step * tension ** (1 - exponent)
    return at


def eye(length_over_pin, parts=200000):
    """A loop round a pin of diameter one, its throat so far from its crown:
    half the loop's inside, and the angle between its legs, from a polygon."""
    throat = length_over_pin - 0.5
    tangent = asin(0.5 / throat)
    # From the tangent point to the crown along the pin, then straight to the throat.
    start, end = pi / 2 - tangent, pi
    points = [(0.5 * cos(end + (start - end) * k / parts), 0.5 * sin(end + (start - end) * k / parts)) for k in range(parts + 1)]
    half = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(points, points[1:]))
    last = points[-1]
    side = hypot(throat - last[0], last[1])
    legs = 2 * atan2(last[1], throat - last[0])
    return half + side, degrees(legs), side


if __name__ == "__main__":
    force = inward_force(10e3, radians(20), 5e-3)
    print("inward force, 10 kN, 20 deg, 5 mm:", force, "N/m, pressure", force / (2 * pi * 5e-3), "Pa")
    for angle in (20, 30, 54.7356103172):
        print("sleeve, 1 MPa, 5 mm at", angle, ": outside, braid", sleeve(1e6, radians(angle), 5e-3), "N")
    print("critical bury 0.10, 20 deg, 6 mm, half:", critical_bury(0.10, radians(20), 6e-3, 0.5) * 1e3, "mm")
    print("critical bury 0.07, 15 deg, 6 mm, 0.6:", critical_bury(0.07, radians(15), 6e-3, 0.6) * 1e3, "mm")
    for inflation, angle in ((1.414, 15), (1.828, 12)):
        opened = asin(inflation * sin(radians(angle)))
        print("opened", inflation, angle, ":", degrees(opened), 1 - cos(opened) / cos(radians(angle)))
    for over in (0, 0.25, 0.5, 1.0):
        print("tapered end at", over, ":", tapered_end(radians(15), 1.414, 0.07, over))
    print("friction 3/4 power: at 16 times", 16 ** (0.75 - 1), "bury at 10 times",
          bury_with_falling_friction(1.0, 0.75) / bury_with_falling_friction(0.1, 0.75))
    print("legs at pin friction 0.10:", exp(pi * 0.10) / (1 + exp(pi * 0.10)), "ln(1/(1-0.6)):", log(1 / 0.4))
    for over in (1.5, 2, 3, 5):
        flat, legs, side = eye(over)
        print("eye, crown to throat", over, "D: flat", flat, "D, legs", legs, "deg")
