"""Judges small days by another solver: `python3 judge.py DIR`, with `ortools` installed (PyPI).

DIR holds days that `cargo bench --bench days -- small DIR 100` wrote, or
`ASSIZE_SMALL_DAYS=DIR cargo test --release --test all another_solver`. For each, CP-SAT finds, and
proves, how few batches must be left out, and how few minutes the rest must be late. That goes to
standard output, as `verdicts.tsv` keeps it for the tests; how the planner did, by the last line `X`
of each day, goes to standard error.
"""

import datetime
import pathlib
import sys

import ortools
from ortools.sat.python import cp_model


def read(path):
    lines = {}
    for line in path.read_text().splitlines():
        kind, *rest = line.split()
        lines.setdefault(kind, []).append([int(w) if w.lstrip("-").isdigit() else w for w in rest])
    return lines


def solve(day):
    model = cp_model.CpModel()
    horizon = day["H"][0][0]
    batch_of = {task: batch for task, batch in day["N"]}
    present = {batch: model.new_bool_var("") for batch in set(batch_of.values())}
    starts, ends, spans = {}, {}, {}
    for task, low, high, first, last, _ in day["T"]:
        starts[task] = model.new_int_var(first, last, "")
        ends[task] = model.new_int_var(first, last, "")
        length = model.new_int_var(low, high, "")
        here = present[batch_of[task]]
        spans[task] = model.new_optional_interval_var(starts[task], length, ends[task], here, "")

    def point(number):
        return (ends if number % 2 else starts)[number // 2]

    for a, b, low, high in day["L"]:
        one, two = batch_of[a // 2], batch_of[b // 2]
        both = [present[one], present[two]]
        model.add(point(b) - point(a) >= low).only_enforce_if(both)
        if high >= 0:
            model.add(point(b) - point(a) <= high).only_enforce_if(both)
        if one >= 1000 and one != two:
            model.add_implication(present[two], present[one])
    for pool, most in day["R"]:
        users = [(spans[task], many) for task, of, many in day.get("Q", []) if of == pool]
        for of, first, last in day.get("B", []):
            if of == pool:
                users.append((model.new_fixed_size_interval_var(first, last - first, ""), most))
        model.add_cumulative([span for span, _ in users], [many for _, many in users], most)
    change = {(g, a, b): minutes for g, a, b, minutes in day.get("C", [])}
    on = {}
    for task, group, state, mask in day.get("A", []):
        choices = {m: model.new_bool_var("") for m in range(32) if mask >> m & 1}
        model.add_exactly_one(choices.values())
        on[task] = (group, state, choices)
    tasks = sorted(on)
    for at, one in enumerate(tasks):
        for two in tasks[at + 1 :]:
            (group, enters, mine), (other, leaves, yours) = on[one], on[two]
            if group != other:
                continue
            first = model.new_bool_var("")
            here = [present[batch_of[one]], present[batch_of[two]]]
            for machine in mine.keys() & yours.keys():
                both = here + [mine[machine], yours[machine]]
                there = change.get((group, enters, leaves), 0)
                back = change.get((group, leaves, enters), 0)
                model.add(ends[one] + there <= starts[two]).only_enforce_if(both + [first])
                model.add(ends[two] + back <= starts[one]).only_enforce_if(both + [~first])
    late = []
    for task, due, weight in day["D"]:
        minutes = model.new_int_var(0, horizon, "")
        model.add(minutes >= ends[task] - due).only_enforce_if(present[batch_of[task]])
        late.append(weight * minutes)
    out = [1 - here for batch, here in present.items() if batch < 1000]
    model.minimize(1_000_000 * sum(out) + sum(late))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = 30
    status = solver.solve(model)
    worth = round(solver.objective_value)
    return status == cp_model.OPTIMAL, worth // 1_000_000, worth % 1_000_000


def main():
    same, better, worse, open_ = 0, [], [], 0
    today = datetime.date.today().isoformat()
    print(f"# OR-Tools CP-SAT {ortools.__version__}, {today}: day, batches left out, minutes late")
    for path in sorted(pathlib.Path(sys.argv[1]).glob("*.txt"), key=lambda path: int(path.stem)):
        day = read(path)
        proven, out, late = solve(day)
        mine = tuple(day["X"][0]) if "X" in day else (out, late)
        if not proven:
            open_ += 1
            continue
        print(path.stem, out, late, sep="\t")
        if mine == (out, late):
            same += 1
        else:
            (worse if mine > (out, late) else better).append((path.name, mine, (out, late)))
    told = f"{same} alike, {len(worse)} worse, {len(better)} better than proven, {open_} not proven"
    print(told, file=sys.stderr)
    for line in worse + better:
        print(*line, file=sys.stderr)


if __name__ == "__main__":
    main()
