"""Measures the pages of a built becket and prints a report (Markdown).

Usage: measure.py BECKET BENCH, where BENCH is the program of benches/web.rs.
In a folder of its own: the demo order, 100,000 pieces put into the store, then
start, weight of each page, 20 clients at once, and the splice bench in a real
browser (chromium and chromedriver). Loopback only.
"""

import json
import pathlib
import re
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request

BECKET, BENCH = sys.argv[1:3]
PIECES = """
    INSERT INTO pieces (code, boat, line, rope, colour, batch, cut_mm, purpose, state, card, next_due, note, revision, at, who)
    WITH RECURSIVE numbers (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM numbers WHERE n < 100000)
    SELECT 'P' || CAST(1000000 + n AS TEXT), 'Boat ' || CAST(n % 997 AS TEXT), 'halyard', 'rope ' || CAST(n % 40 AS TEXT),
        'blue', 'B1', 10000 + n % 5000, 'running', CASE WHEN n % 10 = 0 THEN 'retired' ELSE 'in_service' END, '{}',
        CASE WHEN n % 10 = 0 THEN NULL ELSE
            CAST(2026 + n % 5 AS TEXT) || '-0' || CAST(1 + n % 9 AS TEXT) || '-1' || CAST(n % 10 AS TEXT) END,
        '', 1, '2026-11-25T00:00:00Z', 'Ada'
    FROM numbers"""
WEIGHED = [
    "/", "/orders", "/orders/new", "/orders/26-041", "/orders/26-041/boat", "/orders/26-041/lines",
    "/orders/26-041/lines/main%20halyard", "/splice", "/splice?compare=1", "/bench", "/pieces/26-041/01", "/rack",
    "/cut?order=26-041", "/service", "/tests", "/prices", "/settings",
]
REDRAW = """
    const done = arguments[arguments.length - 1];
    const field = document.getElementById('bury'), into = document.getElementById('answer');
    const times = []; let left = 40;
    const next = () => {
      field.value = (50 + left) + 'd';
      const begun = performance.now();
      const seen = new MutationObserver(() => { seen.disconnect(); requestAnimationFrame(() => {
        times.push(performance.now() - begun);
        if (--left) setTimeout(next, 150); else done(times.sort((a, b) => a - b));
      }); });
      seen.observe(into, { childList: true });
      field.dispatchEvent(new Event('input', { bubbles: true }));
    };
    next();"""


class Served:
    """The pages of a store, up; how long that took is in `took`, in ms."""

    def __init__(self, store):
        begun = time.perf_counter()
        self.child = subprocess.Popen([BECKET, "pages", "--store", store, "--port", "0"], stdout=subprocess.PIPE)
        self.at = self.child.stdout.readline().decode().strip().rstrip("/")
        self.get("/health")
        self.took = (time.perf_counter() - begun) * 1000

    def get(self, path):
        with urllib.request.urlopen(self.at + path, timeout=60) as answer:
            return answer.read()

    def end(self):
        self.child.terminate()
        self.child.wait()


def ask(address, body=None, method=None):
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(address, data, {"content-type": "application/json"}, method=method)
    with urllib.request.urlopen(request, timeout=90) as answer:
        return json.load(answer)["value"]


def redraw(at):
    """Times from key to picture, sorted, ms."""
    driver = subprocess.Popen(["chromedriver", "--port=0"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    try:
        for line in driver.stdout:
            if found := re.search(rb"successfully on port (\d+)", line):
                break
        port = int(found.group(1))
        flags = ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"]
        wanted = {"capabilities": {"alwaysMatch": {"timeouts": {"script": 120000}, "goog:chromeOptions": {"args": flags}}}}
        here = f"http://127.0.0.1:{port}/session"
        here += "/" + ask(here, wanted)["sessionId"]
        ask(f"{here}/url", {"url": f"{at}/splice"})
        times = ask(f"{here}/execute/async", {"script": REDRAW, "args": []})
        ask(here, method="DELETE")
        return times
    finally:
        driver.kill()
        driver.wait()


def percentile(times, share):
    return times[min(int(len(times) * share), len(times) - 1)]


def main():
    with tempfile.TemporaryDirectory() as folder:
        store = str(pathlib.Path(folder) / "loft.becket")
        served = Served(store)
        request = urllib.request.Request(served.at + "/begin", b"with=demo", {"origin": served.at})
        urllib.request.urlopen(request, timeout=60).read()
        served.end()
        with sqlite3.connect(store) as loft:
            loft.execute(PIECES)
        starts = []
        for _ in range(7):
            served = Served(store)
            starts.append(served.took)
            served.end()
        served = Served(store)
        print("## Start, with 100,000 pieces in the store\n")
        print(f"From the command to the first answer: median {statistics.median(starts):.0f} ms, ", end="")
        print(f"worst of {len(starts)} {max(starts):.0f} ms. Goal: 200 ms.\n")
        print("## Pages: weight, and the first and second answer\n")
        print("Goal: 150 kB. The first answer works everything out; what is held answers the second.\n")
        print("| page | kB | first, ms | second, ms |\n|---|---:|---:|---:|")
        for path in WEIGHED:
            took = []
            for _ in range(2):
                begun = time.perf_counter()
                try:
                    size = len(served.get(path))
                except urllib.error.HTTPError as why:
                    size = -1000 * why.code
                took.append((time.perf_counter() - begun) * 1000)
            print(f"| `{path}` | {size / 1000:.0f} | {took[0]:.0f} | {took[1]:.1f} |")
        print("\n## 20 clients at once for 20 s\n")
        print("Goal: 50 ms at the 99th percentile. Milliseconds; one draft is written among eight requests.\n\n```text")
        host = served.at.removeprefix("http://")
        load = subprocess.run([BENCH, host, "20", "20"], capture_output=True, text=True, check=True)
        print(load.stdout.rstrip() + "\n```\n")
        times = redraw(served.at)
        print("## Splice bench, from key to picture\n")
        print(f"In headless Chromium, {len(times)} changes of the bury, none asked for before: median ", end="")
        print(f"{statistics.median(times):.0f} ms, 99 % {percentile(times, 0.99):.0f} ms. Goal: 100 ms.")
        served.end()


main()
