"""Statistics by a general-purpose library: tolerance factors from the noncentral
t, fits with right-censored results, Anderson and Darling's statistic.

    python break_statistics.py ../cases     (numpy, scipy)
"""

import random
import sys
from pathlib import Path

import numpy as np
from scipy import stats

HEAD = """source = "scipy-stats"
locator = "{locator}"
asks = "{asks}"
room = "proving"
computes = true
obtained = "generators/break_statistics.py"
confidence = "high"
mutation = "{mutation}"
{tolerance}
[given]
{given}
[expect]
{expect}
"""



def quoted(values):
    return "[" + ", ".join(f'"{value}"' for value in values) + "]"


def write(folder, name, locator, asks, given, expect, mutation, tolerance=""):
    lines = lambda items: "\n".join(f"{key} = {value}" for key, value in items.items())
    text = HEAD.format(
        locator=locator, asks=asks, mutation=mutation, tolerance=tolerance, given=lines(given), expect=lines(expect)
    )
    (folder / f"{name}.toml").write_text(text)


def factors(folder):
    for n, coverage, confidence in [(2, 0.90, 0.95), (5, 0.90, 0.95), (10, 0.90, 0.95), (5, 0.99, 0.95), (30, 0.95, 0.75), (1000, 0.90, 0.95)]:
        root = n**0.5
        k = stats.nct.ppf(confidence, n - 1, stats.norm.ppf(coverage) * root) / root
        write(
            folder,
            f"factor-{n}-{round(100 * coverage)}-{round(100 * confidence)}",
            f"noncentral t, n {n}",
            "tolerance-factor",
            {"n": n, "coverage": f'"{coverage}"', "confidence": f'"{confidence}"'},
            {"factor": f'"{k:.6f}"'},
            "factor-of-two of n",
        )


def draws(seed, count):
    random.seed(seed)
    return [f"{50 + 2 * random.gauss(0, 1):.2f}" for _ in range(count)]


def fits(folder):
    values = draws(1, 12)
    held = ["52.00", "53.50", "47.00", "51.00"]
    numbers = [float(value) for value in values]
    plain = np.array(numbers)
    censored = stats.CensoredData.right_censored(
        numbers + [float(value) for value in held], [False] * len(values) + [True] * len(held)
    )
    mean, deviation = stats.norm.fit(censored)
    given = {"values": quoted(values), "held": quoted(held), "scale": '"1"'}
    write(
        folder, "normal-censored", "censored fits, normal", "normal-fit", given,
        {"mean": f'"{mean:.4f}"', "likeliest": f'"{deviation:.4f}"'}, "factor-of-two of scale",
        'tolerance = "0.02 %"\ntolerance_reason = "the library stops its search at about four figures"\n',
    )
    shape, _, scale = stats.weibull_min.fit(censored, floc=0)
    write(
        folder, "weibull-censored", "censored fits, Weibull", "weibull-fit", given,
        {"scale": f'"{scale:.4f}"', "shape": f'"{shape:.4f}"'}, "factor-of-two of scale",
        'tolerance = "0.02 %"\ntolerance_reason = "the library stops its search at about four figures"\n',
    )
    shape, _, scale = stats.weibull_min.fit(plain, floc=0)
    write(
        folder, "weibull-plain", "fits, Weibull", "weibull-fit", {"values": quoted(values), "scale": '"1"'},
        {"scale": f'"{scale:.4f}"', "shape": f'"{shape:.4f}"'}, "factor-of-two of scale",
        'tolerance = "0.02 %"\ntolerance_reason = "the library stops its search at about four figures"\n',
    )
    for seed, count in [(1, 12), (2, 30)]:
        values = draws(seed, count)
        numbers = np.array([float(value) for value in values])
        z = np.sort((numbers - numbers.mean()) / numbers.std(ddof=1))
        i = np.arange(1, count + 1)
        # The definition, with the library's normal: what `anderson` prints.
        own = -count - np.sum((2 * i - 1) / count * (stats.norm.logcdf(z) + stats.norm.logsf(z[::-1])))
        write(
            folder, f"anderson-{count}", f"Anderson-Darling, {count} draws", "normal-goodness",
            {"values": quoted(values), "power": '"1"'}, {"statistic": f'"{own:.6f}"'}, "factor-of-two of power",
        )


if __name__ == "__main__":
    folder = Path(sys.argv[1]) / "scipy-stats"
    folder.mkdir(exist_ok=True)
    factors(folder)
    fits(folder)
