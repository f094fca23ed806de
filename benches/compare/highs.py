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

    def total(self):
        """1 if it happens at all."""
        return self.by(self.high)


class Shifted(Moment):
    """A moment some minutes after another."""

    def __init__(self, moment, minutes):
        self.low, self.high = moment.low + minutes, moment.high + minutes
        self.columns = moment.columns


def active_at(piece, begun, done, minute):
    """1 if a piece is being done in a minute."""
    if piece.minutes is None:
        return add(begun.by(minute), (-1, done.by(minute)))
    return begun.within(minute - piece.minutes + 1, minute)


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
        self.served, self.servings = {}, {}
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

    def add_hands(self):
        """Who is busy when: by counted hands, or cook by cook."""
        self.begun = {}
        work = []
        for step, m in self.chosen:
            for number, piece in enumerate(self.problem.pieces(step, m)):
                begun, done = self.moments_of(step, m, piece)
                self.begun[step, m, number] = begun
                work.append((piece, begun, done))
        last = self.finish + max(
            [0, *(piece.last + piece.minutes for piece, _, _ in work if piece.minutes and piece.origin == "start")]
        )
        if self.problem.data.get("cooks") is None:
            shifts = self.problem.data["shifts"]
            for minute in range(self.begin, last):
                free = sum(shift["hands"] for shift in shifts if shift["start"] <= minute < shift["end"])
                self.add_busy(minute, free, [(piece, piece.hands, begun, done) for piece, begun, done in work])
            return
        mine = {cook["id"]: [] for cook in self.problem.data["cooks"]}
        for piece, begun, done in work:
            self.share_out(piece, begun, done, mine)
        for cook in self.problem.data["cooks"]:
            for minute in range(self.begin, last):
                there = any(shift["start"] <= minute < shift["end"] for shift in cook["shifts"])
                self.add_busy(minute, int(there), mine[cook["id"]])

    def add_busy(self, minute, free, work):
        """Work in passing is done beside that of a whole step, but never beside other short work."""
        active = [
            (piece, factor, active_at(piece, begun, done, minute)) for piece, factor, begun, done in work
        ]
        self.program.row(None, free, *((factor, part) for piece, factor, part in active if not piece.passing))
        self.program.row(None, free, *((factor, part) for piece, factor, part in active if piece.kind != "whole"))

    def moments_of(self, step, m, piece):
        """When a piece begins; and when it ends if that does not follow from it."""
        start, end = self.starts[step, m], self.ends[step, m]
        if piece.minutes is None:
            return start, end
        if not piece.floats():
            return Shifted(start if piece.origin == "start" else end, piece.first), None
        begun = self.add_moment(start.low + piece.first, end.high - piece.minutes)
        self.program.row(0, 0, begun.total(), (-1, self.chosen[step, m]))
        for t in range(start.low, end.high + 1):
            self.program.row(None, 0, begun.by(t), (-1, start.by(t - piece.first)))
            self.program.row(None, 0, start.by(t - piece.last), (-1, begun.by(t)))
            self.program.row(None, 0, end.by(t), (-1, begun.by(t - piece.minutes)))
        return begun, None

    def share_out(self, piece, begun, done, mine):
        """As many different cooks as the piece needs hands take it up when it begins, and put it down when it ends."""
        taken = {cook: self.copy_of(begun) for cook in piece.who}
        left = {cook: self.copy_of(done) for cook in piece.who} if done else {}
        for whole, parts in ((begun, taken), (done, left)):
            for t in whole.minutes() if whole else ():
                self.program.row(0, 0, *(part.by(t) for part in parts.values()), (-piece.hands, whole.by(t)))
            if whole and not parts:
                self.program.row(0, 0, (piece.hands, whole.total()))
        for cook in piece.who:
            if done:
                self.program.row(0, 0, taken[cook].total(), (-1, left[cook].total()))
            mine[cook].append((piece, 1, taken[cook], left.get(cook)))

    def copy_of(self, moment):
        return self.add_moment(moment.low, moment.high)

    def add_pools(self):
        """What steps need while they run, and food while it waits for the next step or for its serving."""
        for pool, capacity in self.problem.data["pools"].items():
            needs = {
                pair: self.problem.mode(*pair)["pools"][pool]
                for pair in self.chosen
                if self.problem.mode(*pair).get("pools", {}).get(pool, 0) > 0
            }
            for minute in self.minutes():
                running = [(need, self.running(*pair, minute)) for pair, need in needs.items()]
                self.program.row(None, capacity, *running, *self.waiting_in(pool, minute))

    def waiting_in(self, pool, minute):
        """What waits in a pool at a minute: the step before it has ended, what it waits for has not begun."""
        waits = [
            (link["pools"][pool], link["from"], lambda t, to=link["to"]: self.started(to, t))
            for link in self.links_with(pool)
        ]
        waits += [
            (sink["pools"][pool], sink["step"], self.serving(course).by)
            for course in self.problem.courses.values()
            for sink in course["sinks"]
            if sink.get("pools", {}).get(pool, 0) > 0
        ]
        for need, step, over in waits:
            stands = {self.program.column(0, 1): 1}
            ended = [self.ends[step, m].by(minute) for m in self.problem.legal[step]]
            self.program.row(None, 0, *ended, (-1, over(minute)), (-1, stands))
            yield need, stands

    def links_with(self, pool):
        return [link for link in self.problem.links if link.get("pools", {}).get(pool, 0) > 0]

    def started(self, step, minute):
        return add(*(self.starts[step, m].by(minute) for m in self.problem.legal[step]))

    def serving(self, course):
        """The serving of a course as a moment; made where something asks for it."""
        if course["id"] not in self.servings:
            moment = self.add_moment(course["serve"], course["serve"] + course["max_slip"])
            self.program.row(1, 1, moment.total())
            self.program.row(0, 0, moment.minute(), (-1, self.served[course["id"]]))
            self.servings[course["id"]] = moment
        return self.servings[course["id"]]

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
        if shut <= 1:
            return
        opened = [
            self.begun[*b, number] for number, piece in enumerate(self.problem.pieces(*b)) if piece.kind == "touch"
        ]
        for moment in (self.starts[b], self.ends[b], *opened):
            for t in moment.minutes():
                self.program.row(None, 1, moment.within(t, t), self.starts[a].within(t - shut + 1, t - 1))

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
