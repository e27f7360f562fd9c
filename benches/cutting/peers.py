"""Peers of the cut plan: general solvers on the same instances.

    cargo bench -p benches --bench cutting -- --export FOLDER
    python3 -m venv VENV && VENV/bin/pip install highspy ortools numpy
    VENV/bin/python benches/cutting/peers.py FOLDER [--limit SECONDS]

Each instance is solved by arc-flow and by an assignment model in HiGHS, and by
the assignment model in OR-tools CP-SAT, with one thread and with two. Equal
lengths are merged, arcs are those that pieces in falling order can reach, the
assignment opens no more reels than our quick plan and opens them in order; all
start from our quick plan. Building the model and solving it are timed apart,
as time on the wall and as time of the processor. The limit is time of the
processor, for each thread, for the peers as for us. The least rope opened is
sought; for one reel length that is the fewest reels.
"""

import json
import multiprocessing
import pathlib
import resource
import sys
import time

LIMIT = 10.0
# On the wall a solver may take so many times its limit; others use the machine.
WALL = 30


def load(path):
    """An instance with its quick plan's loads, widest piece first."""
    case = json.loads(path.read_text())
    case["loads"] = [(reel, sorted(lengths, reverse=True)) for reel, lengths in case["quick"]]
    case["quick_opened"] = sum(case["reels"][reel][0] for reel, _ in case["loads"])
    return case


def arcs_of(case):
    """Nodes and arcs that pieces, widest first, can reach: (from, to, kind)."""
    longest = max(length for length, _ in case["reels"])
    reached = {0}
    arcs = set()
    for kind, (width, demand) in enumerate(case["pieces"]):
        added = set()
        for start in reached:
            at = start
            for _ in range(demand):
                if at + width > longest:
                    break
                arcs.add((at, at + width, kind))
                at += width
                added.add(at)
        reached |= added
    return sorted(reached | {length for length, _ in case["reels"]}), arcs


class Rows:
    """A linear model collected column by column."""

    def __init__(self):
        self.lower, self.upper = [], []
        self.cost, self.most, self.starts, self.index, self.value = [], [], [0], [], []

    def row(self, lower, upper):
        self.lower.append(lower)
        self.upper.append(upper)
        return len(self.lower) - 1

    def column(self, cost, most, entries):
        self.cost.append(cost)
        self.most.append(most)
        for row, value in entries:
            self.index.append(row)
            self.value.append(value)
        self.starts.append(len(self.index))
        return len(self.cost) - 1

    def solver(self, start):
        """HiGHS with the model, all columns whole numbers, and a start."""
        import highspy
        import numpy

        model = highspy.HighsLp()
        model.num_col_, model.num_row_ = len(self.cost), len(self.lower)
        model.col_cost_ = numpy.array(self.cost, dtype=float)
        model.col_lower_ = numpy.zeros(len(self.cost))
        model.col_upper_ = numpy.array(self.most, dtype=float)
        model.row_lower_ = numpy.array(self.lower, dtype=float)
        model.row_upper_ = numpy.array(self.upper, dtype=float)
        model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
        model.a_matrix_.start_ = numpy.array(self.starts)
        model.a_matrix_.index_ = numpy.array(self.index)
        model.a_matrix_.value_ = numpy.array(self.value, dtype=float)
        model.integrality_ = [highspy.HighsVarType.kInteger] * len(self.cost)
        highs = highspy.Highs()
        highs.setOptionValue("output_flag", False)
        highs.passModel(model)
        if start is not None:
            solution = highspy.HighsSolution()
            solution.col_value = [float(value) for value in start]
            highs.setSolution(solution)
        return highs


def solve_highs(highs, threads, limit):
    highs.setOptionValue("time_limit", limit)
    highs.setOptionValue("threads", threads)
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", 0.999)
    highs.run()
    proven = str(highs.getModelStatus()) == "HighsModelStatus.kOptimal"
    return proven, round(highs.getInfo().objective_function_value)


def arc_flow(case):
    """Flow along a reel: piece arcs, arcs of waste, and an end for each length."""
    nodes, arcs = arcs_of(case)
    model = Rows()
    balance = {node: model.row(0, 0) for node in nodes}
    wanted = [model.row(demand, demand) for _, demand in case["pieces"]]
    place = {}
    for start, end, kind in sorted(arcs):
        entries = [(balance[start], -1), (balance[end], 1), (wanted[kind], 1)]
        place[start, end, kind] = model.column(0, case["pieces"][kind][1], entries)
    for start, end in zip(nodes, nodes[1:]):
        if start > 0:
            place[start, end] = model.column(0, 1e6, [(balance[start], -1), (balance[end], 1)])
    for at, (length, supply) in enumerate(case["reels"]):
        place["reel", at] = model.column(length, supply, [(balance[length], -1), (balance[0], 1)])
    kinds = {width: kind for kind, (width, _) in enumerate(case["pieces"])}
    start = [0] * len(model.cost)
    order = {node: at for at, node in enumerate(nodes)}
    for reel, lengths in case["loads"]:
        at = 0
        for length in lengths:
            start[place[at, at + length, kinds[length]]] += 1
            at += length
        for step in range(order[at], order[case["reels"][reel][0]]):
            start[place[nodes[step], nodes[step + 1]]] += 1
        start[place["reel", reel]] += 1
    return model, start


def reels_to_open(case):
    """Reels that a plan no worse than the quick one can open, by type."""
    most = case["quick_opened"]
    return [(at, min(supply, most // length)) for at, (length, supply) in enumerate(case["reels"])]


def assignment(case):
    """How many of each length on each reel, and which reels are opened."""
    model = Rows()
    wanted = [model.row(demand, demand) for _, demand in case["pieces"]]
    opened, placed = {}, {}
    for reel, count in reels_to_open(case):
        length = case["reels"][reel][0]
        before = None
        for copy in range(count):
            room = model.row(-1e9, 0)
            entries = [(room, -length)]
            if before is not None:
                entries.append((before, 1))
            # A row between two copies: the later is not opened before the earlier.
            before = model.row(-1e9, 0) if copy + 1 < count else None
            if before is not None:
                entries.append((before, -1))
            opened[reel, copy] = model.column(length, 1, entries)
            for kind, (width, demand) in enumerate(case["pieces"]):
                most = min(demand, length // width)
                if most:
                    placed[reel, copy, kind] = model.column(0, most, [(wanted[kind], 1), (room, width)])
    return model, warm(case, len(model.cost), opened, placed)


def warm(case, size, opened, placed):
    kinds = {width: kind for kind, (width, _) in enumerate(case["pieces"])}
    start, used = [0] * size, {}
    for reel, lengths in case["loads"]:
        copy = used.get(reel, 0)
        used[reel] = copy + 1
        if (reel, copy) not in opened:
            return None
        start[opened[reel, copy]] = 1
        for length in lengths:
            start[placed[reel, copy, kinds[length]]] += 1
    return start


def constraint_model(case):
    """The assignment for CP-SAT."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    opened, placed = {}, {}
    by_kind = [[] for _ in case["pieces"]]
    for reel, count in reels_to_open(case):
        length = case["reels"][reel][0]
        for copy in range(count):
            opened[reel, copy] = model.new_bool_var("")
            terms = []
            for kind, (width, demand) in enumerate(case["pieces"]):
                most = min(demand, length // width)
                if most:
                    placed[reel, copy, kind] = model.new_int_var(0, most, "")
                    by_kind[kind].append(placed[reel, copy, kind])
                    terms.append(width * placed[reel, copy, kind])
            model.add(sum(terms) <= length * opened[reel, copy])
            if copy:
                model.add_implication(opened[reel, copy], opened[reel, copy - 1])
    for (_, demand), terms in zip(case["pieces"], by_kind):
        model.add(sum(terms) == demand)
    model.minimize(sum(case["reels"][reel][0] * var for (reel, _), var in opened.items()))
    used, values = {}, {}
    kinds = {width: kind for kind, (width, _) in enumerate(case["pieces"])}
    for reel, lengths in case["loads"]:
        copy = used.get(reel, 0)
        used[reel] = copy + 1
        for length in lengths:
            key = (reel, copy, kinds[length])
            values[key] = values.get(key, 0) + 1
    for (reel, copy), var in opened.items():
        model.add_hint(var, copy < used.get(reel, 0))
    for key, var in placed.items():
        model.add_hint(var, values.get(key, 0))
    return model


def solve_constraints(model, threads, limit):
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = limit
    solver.parameters.num_workers = threads
    status = solver.solve(model)
    value = round(solver.objective_value) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    return status == cp_model.OPTIMAL, value


def work(case, peer, threads, limit, answer):
    """One solve in a process of its own; libraries are loaded before the clock."""
    import highspy  # noqa: F401
    from ortools.sat.python import cp_model  # noqa: F401

    used = resource.getrusage(resource.RUSAGE_SELF)
    most = int(used.ru_utime + used.ru_stime + limit * threads) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (most, most))
    begun, own = time.perf_counter(), time.process_time()
    if peer == "cp-sat":
        model = constraint_model(case)
    else:
        rows, start = arc_flow(case) if peer == "arc-flow" else assignment(case)
        model = rows.solver(start)
    built, own_built = time.perf_counter(), time.process_time()
    solve = solve_constraints if peer == "cp-sat" else solve_highs
    proven, value = solve(model, threads, WALL * limit)
    done, own_done = time.perf_counter(), time.process_time()
    answer.send((built - begun, own_built - own, done - built, own_done - own_built, proven, value))


def run(case, peer, threads, limit):
    """The answer of `work`, or None where its limit ended it."""
    here, there = multiprocessing.Pipe(duplex=False)
    process = multiprocessing.Process(target=work, args=(case, peer, threads, limit, there))
    process.start()
    there.close()
    answer = None
    if here.poll(2 * WALL * limit):
        try:
            answer = here.recv()
        except EOFError:
            answer = None
    process.terminate()
    process.join()
    return answer


def main():
    folder = pathlib.Path(sys.argv[1])
    limit = float(sys.argv[sys.argv.index("--limit") + 1]) if "--limit" in sys.argv else LIMIT
    print("class,name,peer,threads,build_s,build_cpu_s,solve_s,solve_cpu_s,proven,opened,ours_cpu_s,ours_wall_s,ours_proven,ours_opened", flush=True)
    for threads in [1, 2]:
        for path in sorted(folder.glob("*.json")):
            case = load(path)
            for peer in ["arc-flow", "assignment", "cp-sat"]:
                answer = run(case, peer, threads, limit)
                cells = ["", "", "", "", False, ""] if answer is None else [
                    *(f"{seconds:.4f}" for seconds in answer[:4]), answer[4], answer[5]]
                ours = [f"{case['seconds']:.5f}", f"{case['wall']:.5f}", case["proven"], case["opened"]]
                print(",".join(str(cell) for cell in [case["class"], case["name"], peer, threads, *cells, *ours]), flush=True)


if __name__ == "__main__":
    main()
