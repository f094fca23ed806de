"""Proves small problems a second time: a time-indexed integer program for HiGHS, one goal after the other.

    pip install highspy
    python highs.py ANSWERS [--time SECONDS] [--record FILE]

ANSWERS is what the project's `answers` writes: on each line a problem, and our verdict on it with the values of the three
goals. Each is solved again here and compared. Exit code 1 if any answer differs. FILE gets each problem with the values found
here, null where there is no plan.

Every minute of every mode has two binaries: it has started by then, it has ended by then. All else is linear in these, and
what may not overlap is said minute by minute.
"""

import argparse
import copy
import json
import sys
import time

import highspy

import kitchen


class Program:
    """Rows and columns, and the bounds of integer arithmetic."""

    def __init__(self, limit):
        self.solver = highspy.Highs()
        self.solver.setOptionValue("output_flag", False)
        self.solver.setOptionValue("threads", 1)
        self.solver.setOptionValue("mip_rel_gap", 0.0)
        self.solver.setOptionValue("mip_abs_gap", 0.5)
        self.solver.setOptionValue("mip_feasibility_tolerance", 1e-7)
        self.solver.setOptionValue("time_limit", float(limit))
        self.columns = 0

    def column(self, low, high):
        self.solver.addVar(low, high)
        self.solver.changeColIntegrality(self.columns, highspy.HighsVarType.kInteger)
        self.columns += 1
        return self.columns - 1

    def row(self, low, high, *terms):
        """low <= sum of terms <= high; a term is a dictionary from column to factor, or a pair of factor and such."""
        total = add(*terms)
        constant = total.pop(None, 0)
        low = -highspy.kHighsInf if low is None else low - constant
        high = highspy.kHighsInf if high is None else high - constant
        if not total and not low <= 0 <= high:
            total = {self.column(0, 0): 1}
            low = high = 1
        self.solver.addRow(low, high, len(total), list(total), [float(factor) for factor in total.values()])

    def minimise(self, objective):
        """The least value, None if there is no solution, or TimeoutError."""
        objective = dict(objective)
        constant = objective.pop(None, 0)
        for column in range(self.columns):
            self.solver.changeColCost(column, float(objective.get(column, 0)))
        self.solver.run()
        status = self.solver.getModelStatus()
        if status == highspy.HighsModelStatus.kSolveError:
            self.solver.clearSolver()
            self.solver.setOptionValue("presolve", "off")
            self.solver.run()
            status = self.solver.getModelStatus()
        if status == highspy.HighsModelStatus.kOptimal:
            return round(self.solver.getInfo().objective_function_value) + constant
        if status in (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible):
            return None
        raise TimeoutError(str(status))


def add(*terms):
    """The sum of linear terms; the key None holds the constant."""
    total = {}
    for term in terms:
        factor, part = term if isinstance(term, tuple) else (1, term)
        for column, value in part.items():
            total[column] = total.get(column, 0) + factor * value
    return {column: value for column, value in total.items() if value}


class Moment:
    """When something happens, if it does: for each minute of a window a binary that says whether it has happened by then."""

    def __init__(self, program, low, high):
        self.low, self.high = low, high
        self.columns = [program.column(0, 1) for _ in range(low, high + 1)]

    def minutes(self):
        return range(self.low, self.high + 1)

    def by(self, minute):
        """1 if it has happened by this minute."""
        if minute < self.low or not self.columns:
            return {}
        return {self.columns[min(minute, self.high) - self.low]: 1}

    def within(self, first, last):
        """1 if it happens in one of these minutes."""
        return add(self.by(last), (-1, self.by(first - 1))) if first <= last else {}

    def minute(self):
        """The minute in which it happens, or 0."""
        return add((self.high, self.by(self.high)), *((-1, self.by(t)) for t in range(self.low, self.high)))


class Evening:
    """A problem as a time-indexed program."""

    def __init__(self, problem, limit):
        self.problem, self.program = problem, Program(limit)
        self.begin = problem.opening
        self.finish = max([self.begin, *problem.latest.values()])
        self.waits = []
        self.starts, self.ends, self.chosen = {}, {}, {}
        for step in problem.steps:
            self.add_step(step)
        self.served = {}
        for course in problem.courses.values():
            self.add_course(course)
        for link in problem.links:
            self.add_link(link)
        for course in problem.courses.values():
            if course["after"]:
                other = self.served[course["after"]["course"]]
                self.program.row(
                    course["after"]["min"], course["after"]["max"], self.served[course["id"]], (-1, other)
                )
        self.add_hands()
        self.add_pools()
        self.hot = []
        for place in problem.places.values():
            self.add_place(place)

    def add_step(self, step):
        """The binaries of each mode, and that exactly one mode starts once and ends once."""
        problem, program = self.problem, self.program
        low, high = problem.earliest(step), problem.latest[step]
        extra, waits = {}, []
        for m in problem.legal[step]:
            mode = problem.mode(step, m)
            shortest, longest = mode["min"], mode["max"]
            self.starts[step, m] = self.add_moment(low, high - shortest)
            self.ends[step, m] = self.add_moment(low + shortest, high)
            self.chosen[step, m] = self.starts[step, m].by(high)
            program.row(0, 0, self.chosen[step, m], (-1, self.ends[step, m].by(high)))
            for t in range(low, high + 1):
                start, end = self.starts[step, m], self.ends[step, m]
                program.row(None, 0, end.by(t), (-1, start.by(t - shortest)))
                program.row(None, 0, start.by(t), (-1, end.by(t + longest)))
            length = add(self.ends[step, m].minute(), (-1, self.starts[step, m].minute()))
            extra = add(length, (-shortest, self.chosen[step, m]))
            self.waits.append((mode.get("cost", 0), self.chosen[step, m]))
            waits.append((problem.wait_of(step, m), extra))
        program.row(1, 1, *(self.chosen[step, m] for m in problem.legal[step]))
        for wait, minutes in waits:
            self.add_wait(wait, minutes)

    def add_moment(self, low, high):
        moment = Moment(self.program, low, high)
        for t in range(low, high):
            self.program.row(None, 0, moment.by(t), (-1, moment.by(t + 1)))
        return moment

    def running(self, step, m, minute):
        return add(self.starts[step, m].by(minute), (-1, self.ends[step, m].by(minute)))

    def start_of(self, step):
        return add(*(self.starts[step, m].minute() for m in self.problem.legal[step]))

    def end_of(self, step):
        return add(*(self.ends[step, m].minute() for m in self.problem.legal[step]))

    def add_wait(self, wait, minutes):
        self.waits.append((wait["rate"], minutes))
        if wait["soft"] is not None and wait["rate_after"] > wait["rate"]:
            over = {self.program.column(0, self.finish): 1}
            self.program.row(-wait["soft"], None, over, (-1, minutes))
            self.waits.append((wait["rate_after"] - wait["rate"], over))

    def add_course(self, course):
        slip = self.program.column(0, course["max_slip"])
        self.served[course["id"]] = {slip: 1, None: course["serve"]}
        for sink in course["sinks"]:
            stands = add(self.served[course["id"]], (-1, self.end_of(sink["step"])))
            self.program.row(0, course["together"], stands)
            self.add_wait(sink["wait"], stands)

    def add_link(self, link):
        gap = add(self.start_of(link["to"]), (-1, self.end_of(link["from"])))
        self.program.row(link["min"], link["max"], gap)
        self.add_wait(link["wait"], add(gap, {None: -link["min"]}))
        if link.get("stay"):
            cavities = {p["id"] for p in self.problem.places.values() if p["kind"] == "cavity"}
            for a in self.problem.legal[link["from"]]:
                there = self.problem.mode(link["from"], a)["place"]
                matching = [
                    self.chosen[link["to"], b]
                    for b in self.problem.legal[link["to"]]
                    if there in cavities and self.problem.mode(link["to"], b)["place"] == there
                ]
                self.program.row(None, 0, self.chosen[link["from"], a], *((-1, other) for other in matching))

    def minutes(self):
        return range(self.begin, self.finish)

    def busy(self, step, m, minute):
        """Hands a mode keeps busy in a minute."""
        parts = []
        for hands, origin, offset, length in self.problem.pieces(step, m):
            if length is None:
                parts.append((hands, self.running(step, m, minute)))
                continue
            moment = (self.starts if origin == "start" else self.ends)[step, m]
            parts.append((hands, moment.within(minute - offset - length + 1, minute - offset)))
        return add(*parts)

    def add_hands(self):
        for minute in range(self.begin, self.finish + max(self.overhang(), 0)):
            shifts = (s for s in self.problem.data["shifts"] if s["start"] <= minute < s["end"])
            free = sum(shift["hands"] for shift in shifts)
            self.program.row(None, free, *(self.busy(step, m, minute) for step, m in self.chosen))

    def overhang(self):
        """How far a touch may reach beyond the end of its step."""
        ends = [
            offset + length
            for step, m in self.chosen
            for _, origin, offset, length in self.problem.pieces(step, m)
            if length is not None and origin == "start"
        ]
        return max(ends, default=0)

    def add_pools(self):
        for pool, capacity in self.problem.data["pools"].items():
            needs = {
                pair: self.problem.mode(*pair)["pools"][pool]
                for pair in self.chosen
                if self.problem.mode(*pair).get("pools", {}).get(pool, 0) > 0
            }
            for minute in self.minutes():
                self.program.row(None, capacity, *((need, self.running(*pair, minute)) for pair, need in needs.items()))

    def add_place(self, place):
        inside = self.problem.in_place(place["id"])
        if place["kind"] == "hob":
            for minute in self.minutes():
                self.program.row(None, place["count"], *(self.running(*pair, minute) for pair in inside))
            return
        pairs = [(a, b) for i, a in enumerate(inside) for b in inside[i + 1 :] if a[0] != b[0]]
        for a, b in pairs:
            if place["kind"] == "cavity":
                apart = self.problem.apart(place, a, b)
                if apart:
                    self.never_together([(a[0], [a[1]]), (b[0], [b[1]])])
                    self.add_changeover(a, b, apart[0])
                    self.add_changeover(b, a, apart[1])
            elif not kitchen.fits_top(place, (self.problem.mode(*a), self.problem.mode(*b))):
                self.never_together([(a[0], [a[1]]), (b[0], [b[1]])])
        for crowd in self.problem.crowds(place, len(self.problem.steps)):
            self.never_together(crowd)
        if place["kind"] == "cavity":
            for a in inside:
                heated = self.problem.first_heat(place, self.problem.mode(*a))
                self.program.row(0, 0, self.starts[a].by(heated - 1))
                for b in inside:
                    if a[0] != b[0]:
                        self.add_shut(a, b)
            self.add_hot(place, inside)

    def never_together(self, crowd):
        for minute in self.minutes():
            parts = [self.running(step, m, minute) for step, modes in crowd for m in modes]
            self.program.row(None, len(crowd) - 1, *parts)

    def add_changeover(self, a, b, gap):
        """b does not start in the minutes after a has ended."""
        for minute in self.starts[b].minutes():
            self.program.row(
                None, 1, self.starts[b].within(minute, minute), self.ends[a].within(minute - gap + 1, minute)
            )

    def add_shut(self, a, b):
        """No event of b strictly between the start of a and the moment its door may open again."""
        shut = self.problem.mode(*a).get("shut", 0)
        for origin, offset in self.problem.door_events(*b) if shut > 1 else ():
            moment = (self.starts if origin == "start" else self.ends)[b]
            for t in moment.minutes():
                event = t + offset
                self.program.row(None, 1, moment.within(t, t), self.starts[a].within(event - shut + 1, event - 1))

    def add_hot(self, place, inside):
        """A minute counts if something is in the cavity or was within `cool_off`; the last `cool_off` does not count."""
        cool_off = place["cool_off"]
        for minute in range(self.begin, self.finish + cool_off):
            hot = {self.program.column(0, 1): 1}
            self.hot.append(hot)
            for pair in inside:
                cooling = add(self.starts[pair].by(minute), (-1, self.ends[pair].by(minute - cool_off)))
                self.program.row(None, 0, cooling, (-1, hot))
        used = {self.program.column(0, 1): 1}
        self.program.row(None, 0, used, *((-1, self.chosen[pair]) for pair in inside))
        self.hot.append((-cool_off, used))

    def lateness(self):
        return add(
            *(
                (course["weight"], add(self.served[course["id"]], {None: -course["serve"]}))
                for course in self.problem.courses.values()
            )
        )


def solve(data, limit):
    """The values of the three goals; None if there is no plan."""
    evening = Evening(kitchen.Problem(data), limit)
    lateness = evening.program.minimise(evening.lateness())
    if lateness is None:
        return None
    # No course can be later than the sum allows: less time to look at from here on.
    data = copy.deepcopy(data)
    for course in data["courses"]:
        if course["weight"] > 0:
            course["max_slip"] = min(course["max_slip"], lateness // course["weight"])
    evening = Evening(kitchen.Problem(data), limit)
    evening.program.row(None, lateness, evening.lateness())
    waiting = evening.program.minimise(add(*evening.waits))
    evening.program.row(None, waiting, *evening.waits)
    return [lateness, waiting, evening.program.minimise(add(*evening.hot))]


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("answers")
    parser.add_argument("--time", type=float, default=60, help="seconds for each goal")
    parser.add_argument("--record")
    options = parser.parse_args()
    record = open(options.record, "w", encoding="utf-8") if options.record else None
    agreed, differing, silent = 0, 0, 0
    begin = time.monotonic()
    with open(options.answers, encoding="utf-8") as file:
        for line in file:
            answer = json.loads(line)
            name, ours = answer["problem"]["name"], answer["values"]
            if answer["status"] not in ("optimal", "impossible"):
                silent += 1
                print(f"{name}: ours is {answer['status']}, nothing to compare")
                continue
            try:
                started = time.monotonic()
                theirs = solve(answer["problem"], options.time)
            except TimeoutError as error:
                silent += 1
                print(f"{name}: HiGHS gave up: {error}")
                continue
            if record:
                line = {"problem": answer["problem"], "values": theirs}
                record.write(json.dumps(line, separators=(",", ":")) + "\n")
            if theirs == ours:
                agreed += 1
                print(f"{name}: agree, {time.monotonic() - started:.1f} s")
            else:
                differing += 1
                print(f"{name}: DIFFERENT: ours {ours}, HiGHS {theirs}")
            sys.stdout.flush()
    seconds = time.monotonic() - begin
    print(
        f"HiGHS {highspy.Highs().version()}, {time.strftime('%Y-%m-%d', time.gmtime())}: {agreed} problems agree in all goals, "
        f"{differing} differ, {silent} were not compared; {seconds:.0f} s"
    )
    sys.exit(1 if differing else 0)


if __name__ == "__main__":
    main()
