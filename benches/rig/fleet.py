"""Sends tables of made-up boats through `becket boats` and tells how long it took
and how much memory it had at most.

    python3 fleet.py PROGRAM [COUNT ...]

The draw is fixed by its seed. Memory is the peak of the resident set of the
process that was waited for, so each count is run by a process of its own."""

import os
import random
import subprocess
import sys
import tempfile
import time

HEAD = "name,hull,rig,loa,displacement,beam,I,J,P,E,spinnaker,wind_upwind,wind_downwind"
RIGS = ["fractional-sloop", "masthead-sloop", "cutter", "ketch", "yawl", "gaff", "cat"]


def table(path, count):
    draw = random.Random(20261125)
    with open(path, "w", encoding="utf-8") as out:
        out.write(HEAD + "\n")
        for number in range(count):
            loa = draw.uniform(6.0, 18.0)
            rig = draw.choice(RIGS)
            kite = draw.choice(["", "symmetric", "asymmetric"]) if rig in RIGS[:3] else ""
            mass = 6.0 * loa**2.75
            full = rig in RIGS[:2] and draw.random() < 0.5
            i = f"{loa * 1.25:.2f} m,{loa * 0.36:.2f} m,{loa * 1.22:.2f} m,{loa * 0.42:.2f} m" if full else ",,,"
            beam = f"{loa * draw.uniform(0.28, 0.36):.2f} m"
            out.write(f"Boat {number},monohull,{rig},{loa:.2f} m,{mass:.0f} kg,{beam},{i},{kite},16 kn,18 kn\n")


def run(program, count):
    with tempfile.TemporaryDirectory() as folder:
        boats, loads = os.path.join(folder, "boats.csv"), os.path.join(folder, "loads.csv")
        table(boats, count)
        began = time.monotonic()
        with open(os.devnull, "wb") as nowhere:
            child = subprocess.Popen([program, "boats", boats, "--out", loads], stderr=nowhere, stdout=nowhere)
            _, status, used = os.wait4(child.pid, 0)
        took = time.monotonic() - began
        assert status == 0, status
        with open(loads, encoding="utf-8") as rows:
            answered = sum(1 for _ in rows) - 1
        print(f"{count:>6} boats  {answered:>7} loads  {took:6.1f} s  {used.ru_maxrss:>7} kB at most")


if __name__ == "__main__":
    for count in [int(text) for text in sys.argv[2:]] or [100, 1000, 10000]:
        run(sys.argv[1], count)
