"""Cut plans by a general-purpose solver: every way of cutting a reel is listed,
and HiGHS (scipy.optimize.milp) chooses how often each is used. Instances are
drawn here; the cases keep the instance and the optimum.

    python cutting_oracle.py ../cases     (numpy, scipy)
"""

import random
import sys
from pathlib import Path

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp


def patterns(widths, demand, room):
    """Every combination of widths that fits into room, the empty one too."""
    found, counts = [], [0] * len(widths)

    def place(at, left):
        if at == len(widths):
            found.append(tuple(counts))
            return
        for count in range(min(demand[at], left // widths[at]), -1, -1):
            counts[at] = count
            place(at + 1, left - count * widths[at])
        counts[at] = 0

    place(0, room)
    return found


def optimum(columns, costs, demand, supplies):
    """Least cost of columns (kind of reel, counts) that meet the demand just."""
    matrix = np.array([[counts[row] for _, counts in columns] for row in range(len(demand))], dtype=float)
    limits = [LinearConstraint(matrix, demand, demand)]
    if supplies:
        use = np.array([[1.0 if kind == row else 0.0 for kind, _ in columns] for row in range(len(supplies))])
        limits.append(LinearConstraint(use, -np.inf, supplies))
    options = {"mip_rel_gap": 0.0, "time_limit": 300}
    answer = milp(costs, constraints=limits, integrality=np.ones(len(costs)), bounds=Bounds(0, np.inf), options=options)
    assert answer.status == 0, answer.message
    return round(answer.fun)


def fewest_reels(lengths, counts, reel):
    columns = [(0, counts_) for counts_ in patterns(lengths, counts, reel) if any(counts_)]
    return optimum(columns, np.ones(len(columns)), counts, [])


def least_loss(lengths, counts, reels, supplies, loss, smallest, value):
    """Leftovers below `smallest` are lost, longer ones cost `value`; each cut
    loses `loss`, the last one of a reel no more than is left."""
    columns, costs = [], []
    for kind, reel in enumerate(reels):
        for cut in patterns([length + loss for length in lengths], counts, reel + loss):
            if any(cut):
                left = max(0, reel - sum(n * (length + loss) for n, length in zip(cut, lengths)))
                columns.append((kind, cut))
                costs.append(left if left < smallest else value)
    return optimum(columns, np.array(costs, dtype=float), counts, supplies)


def listed(values, unit):
    quoted = [f'"{value} {unit}"' if unit else str(value) for value in values]
    return "[" + ", ".join(quoted) + "]"


CASE = """source = "{source}"
locator = "{locator}"
asks = "{asks}"
room = "cutting"
computes = true
obtained = "generators/cutting_oracle.py"
confidence = "high"
mutation = "{mutation}"
note = "{note}"

[given]
{given}
[expect]
{expect}
"""


def write(folder, name, **parts):
    path = Path(folder) / parts["source"] / f"{name}.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(CASE.format(**parts))
    print(path)


def draw(rng, kinds, low, high, most, step=1):
    lengths = sorted(rng.sample(range(low // step, high // step + 1), kinds), reverse=True)
    return [length * step for length in lengths], [rng.randint(1, most) for _ in range(kinds)]


def equal_reels(folder):
    for seed, (kinds, low, high, most, reel, step) in enumerate(
        [(20, 20, 100, 4, 150, 1), (25, 20, 100, 4, 150, 1), (10, 3000, 15000, 6, 40000, 10),
         (12, 5000, 30000, 5, 70000, 1), (14, 2500, 9000, 4, 22000, 5), (8, 7000, 33000, 9, 100000, 1)], 1):
        rng = random.Random(seed)
        lengths, counts = draw(rng, kinds, low, high, most, step)
        reels = fewest_reels(lengths, counts, reel)
        write(folder, f"fewest-reels-{seed}", source="scipy-highs", locator=f"equal reels, draw {seed}",
              asks="fewest-reels", mutation="factor-of-two of reel", note=f"{sum(counts)} pieces of {kinds} lengths",
              given=f'reel = "{reel} mm"\nlengths = {listed(lengths, "mm")}\ncounts = {listed(counts, "")}\n',
              expect=f'reels = {reels}\nproven = "yes"')


def unequal_reels(folder):
    for seed, (kinds, low, high, most, reels, supplies, loss, smallest, value) in enumerate(
        [(6, 3000, 14000, 4, [50000, 20000, 12000], [4, 3, 3], 10, 1500, 1500),
         (7, 2500, 12000, 3, [40000, 17000, 9000], [5, 3, 4], 20, 2000, 800),
         (8, 4000, 16000, 3, [60000, 25000], [6, 4], 0, 3000, 3000),
         (6, 1800, 7000, 4, [25000, 11000, 8000], [5, 4, 4], 15, 1000, 600),
         (9, 3000, 11000, 2, [33000, 15000, 10000], [4, 4, 3], 5, 1200, 1200),
         (7, 5000, 18000, 3, [70000, 30000, 21000], [3, 3, 3], 25, 2500, 1000)], 1):
        rng = random.Random(100 + seed)
        lengths, counts = draw(rng, kinds, low, high, most)
        cost = least_loss(lengths, counts, reels, supplies, loss, smallest, value)
        given = (f'lengths = {listed(lengths, "mm")}\ncounts = {listed(counts, "")}\nreels = {listed(reels, "mm")}\n'
                 f'reel_counts = {listed(supplies, "")}\nloss_per_cut = "{loss} mm"\n'
                 f'smallest_remnant = "{smallest} mm"\nremnant_value = "{value} mm"\n')
        write(folder, f"least-loss-{seed}", source="scipy-highs", locator=f"unequal reels, draw {seed}",
              asks="least-loss", mutation="factor-of-two of remnant_value",
              note=f"{sum(counts)} pieces of {kinds} lengths from {len(reels)} kinds of reel", given=given,
              expect=f'loss = "{cost} mm"\nbound = "{cost} mm"\nproven = "yes"')


def triplets(folder):
    """Three pieces fill a reel just, and no reel is filled just by two or four."""
    for seed, reels in enumerate((10, 20, 30), 1):
        rng, pieces = random.Random(200 + seed), []
        for _ in range(reels):
            first = rng.randint(380, 490)
            rest = 1000 - first
            second = rng.randint(250, rest // 2)
            pieces += [first, second, rest - second]
        kinds = sorted(set(pieces), reverse=True)
        counts = [pieces.count(kind) for kind in kinds]
        write(folder, f"triplets-{3 * reels}", source="falkenauer-1996", locator=f"triplets, {3 * reels} pieces",
              asks="fewest-reels", mutation="unit of reel",
              note="own draw by the published rule; the optimum is a third of the pieces, without waste",
              given=f'reel = "1000 mm"\nlengths = {listed(kinds, "mm")}\ncounts = {listed(counts, "")}\n',
              expect=f'reels = {reels}\nmaterial = {reels}\nproven = "yes"')


if __name__ == "__main__":
    equal_reels(sys.argv[1])
    unequal_reels(sys.argv[1])
    triplets(sys.argv[1])
