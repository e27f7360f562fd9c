#!/usr/bin/env python3
"""Times the splice benches and scipy's collocation in one run.

Solves the bench's two cases (tail of even thickness, common taper) with
scipy.integrate.solve_bvp, from the same generator as the stored reference
answers, runs `cargo bench --bench splice`, and writes REPORT.md beside this
file with medians and their ratios. Needs Python 3 with numpy and scipy:

    python3 benches/splice/compare.py
"""
import datetime
import importlib.util
import os
import pathlib
import re
import resource
import statistics
import subprocess
import sys
import time

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
MICRO = {"ns": 1e-3, "µs": 1.0, "ms": 1e3, "s": 1e6}
# angle, inflation, friction, bury, pairs, cut, rho, strain, bedding
CASES = {"elastic_even": (14.0, 1.66, 0.08, 72.0, 0, 0.0, 0.5, 0.0036, 0.2),
         "elastic_tapered": (14.0, 1.66, 0.08, 72.0, 3, 3.0, 0.5, 0.0036, 0.2)}
GOALS = {"elastic_even": "50 µs", "elastic_tapered": "50 µs", "taper_choice 5": "1 ms", "million_draws": "3 s"}


def generator():
    path = ROOT / "validation" / "generators" / "elastic_splice.py"
    spec = importlib.util.spec_from_file_location("elastic_splice", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def peers(repeats=15):
    """Median microseconds of solve_bvp at its default tolerance, 1e-3."""
    module = generator()
    loose = lambda *a, **k: module_solve(*a, **{**k, "tol": 1e-3})
    module_solve, module.solve_bvp = module.solve_bvp, loose
    times = {}
    for name, case in CASES.items():
        took = []
        for _ in range(repeats):
            took.append(1e6 * module.solve(*case)[-1])
        times[name] = statistics.median(took)
    return times


def benches():
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = ["cargo", "bench", "--locked", "-q", "-p", "benches", "--bench", "splice"]
    text = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    medians, parent = {}, ""
    for line in text.splitlines():
        found = re.match(r"^([│ ]*)[├╰]─ (\S+)(.*)$", line)
        if not found:
            continue
        depth, name, rest = found.groups()
        cells = re.findall(r"([\d.]+) (ns|µs|ms|s)\b", rest)
        name = f"{parent} {name}" if depth.strip() or len(depth) > 0 else name
        if len(cells) < 4:
            parent = name
            continue
        value = lambda cell: float(cell[0]) * MICRO[cell[1]]
        medians[name] = (value(cells[0]), value(cells[2]))
    return text, medians, after.ru_utime - before.ru_utime


def shown(micro):
    for unit, size in (("s", 1e6), ("ms", 1e3)):
        if micro >= size:
            return f"{micro / size:.3g} {unit}"
    return f"{micro:.3g} µs"


def main():
    subprocess.run(["cargo", "bench", "--locked", "-q", "-p", "benches", "--bench", "splice", "--no-run"], cwd=ROOT, check=True)
    load = os.getloadavg()[0]
    peer = peers()
    text, medians, _ = benches()
    import scipy
    lines = ["# How long splices take", "",
             "Written by `benches/splice/compare.py`: the benches and scipy's collocation, one after the other in",
             "one run. The fastest of a hundred is what the code takes where the machine is shared; goals are",
             "for a machine of two cores that does nothing else.", "",
             "| bench | fastest | median | goal | scipy `solve_bvp`, median | ratio of medians |",
             "|---|---|---|---|---|---|"]
    for name, (fastest, median) in medians.items():
        other = peer.get(name)
        cells = [f"`{name}`", shown(fastest), shown(median), GOALS.get(name, ""),
                 shown(other) if other else "", f"{other / median:.0f}" if other else ""]
        lines.append("| " + " | ".join(cells) + " |")
    lines += ["", "`elastic_*` is one solve of about 400 cells on a grid that is there; scipy solves the same two-point",
              "problem at its default tolerance of a thousandth, which is what 400 cells are good to.",
              "`taper_choice` is by pairs taken out, in a bury of 72 diameters. `million_draws` runs on all cores.", "",
              f"Measured on {datetime.date.today()}, {os.cpu_count()} cores, load when it began {load:.1f}, "
              f"Python {sys.version.split()[0]}, scipy {scipy.__version__}.", ""]
    (HERE / "REPORT.md").write_text("\n".join(lines), encoding="utf-8")
    print(text)
    print(f"written: {HERE / 'REPORT.md'}")


if __name__ == "__main__":
    main()
