"""Plans problems with CP-SAT of Google OR-Tools, one goal after the other, and writes what `yardstick` writes.

    pip install ortools
    python cpsat.py --data DIR [--time SECONDS] [--workers N] [--plans OUTDIR] [--csv FILE] [--trace FILE] [--filter PART]

DIR holds problems in the project's JSON form. The time is for the whole problem: each goal has what those before it left.
Plans are not checked here; the project's own checker does that.
"""

import argparse
import csv
import json
import os
import sys
import threading
import time

from ortools.sat.python import cp_model

import kitchen
from model import Model

GOALS = ("lateness", "waiting", "hot")
FIELDS = (
    "name,kind,status,lateness,lateness_bound,waiting,waiting_bound,hot,hot_bound,seconds,peak_mb,stopped_by".split(",")
)
MOMENT = "name,seconds,lateness,waiting,hot,lateness_bound,waiting_bound,hot_bound".split(",")


class Watch(cp_model.CpSolverSolutionCallback):
    """Puts down every better plan and every better bound with its time."""

    def __init__(self, search):
        super().__init__()
        self.search = search

    def on_solution_callback(self):
        self.search.found(self.search.model.plan(self.value))


class Search:
    """One problem against the clock."""

    def __init__(self, name, path, limit, workers):
        self.begin = time.monotonic()
        self.name, self.limit, self.workers = name, limit, workers
        self.problem = kitchen.load(path)
        if self.problem.has_second_edition():
            raise ValueError("named cooks, work that floats and what waiting needs are not in this model")
        self.model = Model(self.problem)
        self.best, self.costs, self.bounds = None, None, [0, 0, 0]
        self.moments, self.lock = [], threading.Lock()
        self.impossible = self.proved = False

    def seconds(self):
        return time.monotonic() - self.begin

    def note(self):
        costs = self.costs or ["", "", ""]
        self.moments.append([self.name, f"{self.seconds():.4f}", *costs, *self.bounds])

    def found(self, plan):
        if any(True for _ in self.problem.too_full(plan)):
            return
        with self.lock:
            costs = self.problem.cost(plan)
            if self.costs is None or costs < self.costs:
                self.best, self.costs = plan, costs
                self.note()

    def bounded(self, goal, bound):
        with self.lock:
            bound = max(0, int(bound))
            if bound > self.bounds[goal]:
                self.bounds[goal] = bound
                self.note()

    def run(self):
        for goal in range(3):
            if goal == 2:
                self.model.add_hot()
            objective = getattr(self.model, GOALS[goal])
            if not self.reach(goal, objective):
                return
            self.model.model.add(objective <= self.costs[goal])
        self.proved = True

    def reach(self, goal, objective):
        """Minimises one goal; whether it is proved."""
        self.model.model.minimize(objective)
        while True:
            left = self.limit - self.seconds()
            if left <= 0:
                return False
            solver = cp_model.CpSolver()
            solver.parameters.max_time_in_seconds = left
            solver.parameters.num_workers = self.workers
            solver.best_bound_callback = lambda bound: self.bounded(goal, bound)
            self.hint()
            status = solver.solve(self.model.model, Watch(self))
            if status == cp_model.INFEASIBLE:
                self.impossible = self.best is None
                return False
            if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                self.bounded(goal, solver.best_objective_bound)
                return False
            plan = self.model.plan(solver.value)
            crowds = list(self.problem.too_full(plan))
            if not crowds:
                self.found(plan)
                self.bounded(goal, round(solver.best_objective_bound))
                return status == cp_model.OPTIMAL
            for crowd in crowds:
                self.model.forbid(crowd)

    def hint(self):
        self.model.model.clear_hints()
        if self.best:
            for (step, m), literal in self.model.chosen.items():
                self.model.model.add_hint(literal, self.best["steps"][step]["mode"] == m)
            for step, planned in self.best["steps"].items():
                self.model.model.add_hint(self.model.start[step], planned["start"])
                self.model.model.add_hint(self.model.end[step], planned["end"])
            for course, served in self.model.served.items():
                self.model.model.add_hint(served, self.best["served"][course])

    def row(self):
        if self.proved:
            status, stopped = "optimal", "proof"
        elif self.impossible:
            status, stopped = "impossible", "proof"
        else:
            status, stopped = "feasible" if self.best else "undecided", "time"
        pairs = ["", "", "", "", "", ""]
        if self.best:
            pairs = [x for pair in zip(self.costs, self.bounds) for x in pair]
        elif status == "undecided":
            pairs[1] = self.bounds[0]
        return [self.name, "problem", status, *pairs, f"{self.seconds():.4f}", peak_mb(), stopped]

    def written_plan(self):
        costs = dict(zip(GOALS, self.costs))
        return {**self.best, **costs, "bounds": self.bounds, "status": "optimal" if self.proved else "feasible"}


def reset_peak():
    try:
        with open("/proc/self/clear_refs", "w", encoding="ascii") as file:
            file.write("5")
    except OSError:
        pass


def peak_mb():
    try:
        with open("/proc/self/status", encoding="ascii") as file:
            return next(f"{int(line.split()[1]) / 1024:.1f}" for line in file if line.startswith("VmHWM"))
    except (OSError, StopIteration):
        return ""


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--data", required=True)
    parser.add_argument("--time", type=float, default=20)
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--plans")
    parser.add_argument("--csv")
    parser.add_argument("--trace")
    parser.add_argument("--filter", default="")
    options = parser.parse_args()
    outputs = [csv.writer(sys.stdout, lineterminator="\n")]
    if options.csv:
        outputs.append(csv.writer(open(options.csv, "w", encoding="utf-8", buffering=1), lineterminator="\n"))
    for output in outputs:
        output.writerow(FIELDS)
    trace = None
    if options.trace:
        trace = csv.writer(open(options.trace, "w", encoding="utf-8", buffering=1), lineterminator="\n")
        trace.writerow(MOMENT)
    for name, path in kitchen.find(options.data, options.filter):
        reset_peak()
        try:
            search = Search(name, path, options.time, options.workers)
        except (KeyError, TypeError, ValueError) as error:
            print(f"{name}: skipped: {error!r}", file=sys.stderr)
            continue
        search.run()
        for output in outputs:
            output.writerow(search.row())
        sys.stdout.flush()
        if trace:
            trace.writerows(search.moments)
        if options.plans and search.best:
            target = os.path.join(options.plans, f"{name}.plan.json")
            os.makedirs(os.path.dirname(target), exist_ok=True)
            with open(target, "w", encoding="utf-8") as file:
                json.dump(search.written_plan(), file, indent=1)


if __name__ == "__main__":
    main()
