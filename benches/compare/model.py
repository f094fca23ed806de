"""A problem as a constraint model for CP-SAT."""

from itertools import combinations

from ortools.sat.python import cp_model

import kitchen


class Model:
    """The whole problem as a constraint model."""

    def __init__(self, problem):
        self.problem = problem
        self.model = cp_model.CpModel()
        self.start, self.end, self.chosen, self.interval = {}, {}, {}, {}
        self.first, self.before, self.groups = {}, {}, {}
        self.waits = []
        for step in problem.steps:
            self.add_step(step)
        self.served = {}
        for course in problem.courses.values():
            self.add_course(course)
        for link in problem.links:
            self.add_link(link)
        self.add_hands()
        self.add_pools()
        for place in problem.places.values():
            self.add_place(place)
        self.lateness = sum(
            c["weight"] * (self.served[c["id"]] - c["serve"]) for c in problem.courses.values()
        )
        self.waiting = sum(self.waits)
        self.hot = None

    def add_step(self, step):
        problem, model = self.problem, self.model
        low, high = problem.earliest(step), problem.latest[step]
        modes = problem.legal[step]
        if not modes or low > high:
            model.add_bool_or([])
            high = max(low, high)
        self.start[step] = model.new_int_var(low, high, f"start {step}")
        self.end[step] = model.new_int_var(low, high, f"end {step}")
        literals = [model.new_bool_var(f"{step} {m}") for m in modes]
        if modes:
            model.add_exactly_one(literals)
        spare = {m: problem.mode(step, m)["max"] - problem.mode(step, m)["min"] for m in modes}
        extra = model.new_int_var(0, max([0, *(min(minutes, high - low) for minutes in spare.values())]), "")
        shortest = sum(problem.mode(step, m)["min"] * literal for m, literal in zip(modes, literals))
        model.add(self.end[step] - self.start[step] == shortest + extra)
        model.add(extra <= sum(min(spare[m], high - low) * literal for m, literal in zip(modes, literals)))
        waits = []
        for m, literal in zip(modes, literals):
            self.chosen[step, m] = literal
            mode = problem.mode(step, m)
            size = mode["min"] if spare[m] == 0 else mode["min"] + extra
            self.interval[step, m] = model.new_optional_interval_var(
                self.start[step], size, self.end[step], literal, f"{step} {m}"
            )
            self.waits.append(mode.get("cost", 0) * literal)
            if spare[m] > 0:
                waits.append((problem.wait_of(step, m), min(spare[m], high - low), literal))
        if all(wait == waits[0][0] for wait, _, _ in waits):
            waits = [(wait, max(most for _, most, _ in waits), None) for wait, _, _ in waits[:1]]
        for wait, most, literal in waits:
            self.add_wait(wait, extra, most, literal)

    def add_wait(self, wait, minutes, most, literal=None):
        """The cost of waiting up to `most` minutes, if the literal holds; it is exact where it is minimised."""
        rate, soft, after = wait["rate"], wait["soft"], wait["rate_after"]
        if most <= 0 or (rate == 0 and (soft is None or after == 0)):
            return
        past_soft = soft is not None and after > rate and most > soft
        if literal is None:
            self.waits.append(rate * minutes)
            if past_soft:
                over = self.model.new_int_var(0, most - soft, "")
                self.model.add(over >= minutes - soft)
                self.waits.append((after - rate) * over)
            return
        cost = self.model.new_int_var(0, max(rate, after) * most, "")
        self.model.add(cost >= rate * minutes).only_enforce_if(literal)
        if past_soft:
            self.model.add(cost >= after * minutes - (after - rate) * soft).only_enforce_if(literal)
        self.waits.append(cost)

    def add_course(self, course):
        served = self.model.new_int_var(course["serve"], course["serve"] + course["max_slip"], f"served {course['id']}")
        self.served[course["id"]] = served
        for sink in course["sinks"]:
            stands = served - self.end[sink["step"]]
            self.model.add_linear_constraint(stands, 0, course["together"])
            self.add_wait(sink["wait"], stands, course["together"])

    def add_link(self, link):
        gap = self.start[link["to"]] - self.end[link["from"]]
        self.model.add(gap >= link["min"])
        if link["max"] is not None:
            self.model.add(gap <= link["max"])
        most = self.problem.latest[link["to"]] - self.problem.earliest(link["from"]) - link["min"]
        if link["max"] is not None:
            most = min(most, link["max"] - link["min"])
        self.add_wait(link["wait"], gap - link["min"], most)
        if link.get("stay"):
            problem = self.problem
            for a in problem.legal[link["from"]]:
                for b in problem.legal[link["to"]]:
                    place = problem.mode(link["from"], a)["place"]
                    together = place == problem.mode(link["to"], b)["place"] and place is not None
                    if not together or problem.places[place]["kind"] != "cavity":
                        self.model.add_bool_or([~self.chosen[link["from"], a], ~self.chosen[link["to"], b]])

    def add_courses_in_turn(self):
        for course in self.problem.courses.values():
            if course["after"]:
                between = self.served[course["id"]] - self.served[course["after"]["course"]]
                self.model.add(between >= course["after"]["min"])
                if course["after"]["max"] is not None:
                    self.model.add(between <= course["after"]["max"])

    def add_hands(self):
        self.add_courses_in_turn()
        shifts = sorted(self.problem.data["shifts"], key=lambda shift: shift["start"])
        most = max((shift["hands"] for shift in shifts), default=0)
        intervals, demands = [], []
        for (step, m), literal in self.chosen.items():
            for piece in self.problem.pieces(step, m):
                if piece.hands > most:
                    self.model.add(literal == 0)
                elif piece.minutes is None:
                    intervals.append(self.interval[step, m])
                    demands.append(piece.hands)
                else:
                    base = self.start[step] if piece.origin == "start" else self.end[step]
                    begun = base + piece.first
                    intervals.append(self.model.new_optional_fixed_size_interval_var(begun, piece.minutes, literal, ""))
                    demands.append(piece.hands)
        # Where there are fewer hands, or none, something fixed takes the rest.
        now = 0
        for shift in [*shifts, {"start": 100_000, "end": 100_000, "hands": most}]:
            for start, end, free in ((now, shift["start"], 0), (shift["start"], shift["end"], shift["hands"])):
                if start < end and free < most:
                    intervals.append(self.model.new_fixed_size_interval_var(start, end - start, ""))
                    demands.append(most - free)
            now = shift["end"]
        if most:
            self.add_capacity(intervals, demands, most)

    def add_capacity(self, intervals, demands, capacity):
        if demands and all(2 * demand > capacity for demand in demands):
            self.model.add_no_overlap(intervals)
        elif intervals:
            self.model.add_cumulative(intervals, demands, capacity)

    def add_pools(self):
        for pool, capacity in self.problem.data["pools"].items():
            intervals, demands = [], []
            for (step, m), literal in self.chosen.items():
                demand = self.problem.mode(step, m).get("pools", {}).get(pool, 0)
                if demand > capacity:
                    self.model.add(literal == 0)
                elif demand > 0:
                    intervals.append(self.interval[step, m])
                    demands.append(demand)
            self.add_capacity(intervals, demands, capacity)

    def add_place(self, place):
        inside = self.problem.in_place(place["id"])
        if place["kind"] == "hob":
            self.add_capacity([self.interval[pair] for pair in inside], [1] * len(inside), place["count"])
            return
        if place["kind"] == "cavity":
            self.add_cavity(place, inside)
        else:
            for first, second in self.pairs(inside):
                if not kitchen.fits_top(place, (self.problem.mode(*first), self.problem.mode(*second))):
                    self.keep_apart(first[0], second[0], [self.chosen[first], self.chosen[second]], 0, 0)
        for crowd in self.problem.crowds(place, 5):
            self.forbid(crowd)

    @staticmethod
    def pairs(inside):
        return [(a, b) for i, a in enumerate(inside) for b in inside[i + 1 :] if a[0] != b[0]]

    def add_cavity(self, place, inside):
        problem = self.problem
        modes = {}
        for step, m in inside:
            heated = problem.first_heat(place, problem.mode(step, m))
            self.model.add(self.start[step] >= heated).only_enforce_if(self.chosen[step, m])
            modes.setdefault(step, []).append(m)
        apart = {(x, y): problem.apart(place, x, y) for x in inside for y in inside if x[0] != y[0]}
        for a, b in combinations(modes, 2):
            # Modes of a with the same gaps to the same modes of b are one case.
            cases = {}
            for i in modes[a]:
                gaps = {}
                for j in modes[b]:
                    gaps.setdefault(apart[(a, i), (b, j)], []).append(j)
                for gap, alike in gaps.items():
                    cases.setdefault((gap, tuple(alike)), []).append(i)
            for (gap, alike), i in cases.items():
                if gap:
                    self.keep_apart(a, b, self.among(a, i) + self.among(b, alike), *gap)
        for step, m in inside:
            if problem.mode(step, m).get("shut", 0) > 0:
                for other in modes:
                    if other != step:
                        free = [j for j in modes[other] if not apart[(step, m), (other, j)]]
                        self.add_shut((step, m), other, free, modes[other])
        self.add_cliques(inside, apart)

    def add_cliques(self, inside, apart):
        """Modes of which no two may run together, said once more as one constraint, for stronger propagation."""
        seen = set()
        for seed in inside:
            clique = [seed]
            for other in inside:
                if other != seed and all(other[0] == member[0] or apart[other, member] for member in clique):
                    clique.append(other)
            if len({step for step, _ in clique}) > 2 and frozenset(clique) not in seen:
                seen.add(frozenset(clique))
                self.model.add_no_overlap([self.interval[pair] for pair in clique])

    def add_shut(self, pair, other, free, modes):
        """No event of `other` strictly between the start of `pair` and the moment its door may open again.

        Only the modes in `free` may run beside `pair`; the others start and end outside it anyway.
        """
        if free:
            both = [self.chosen[pair], *self.among(other, free)]
            self.keep_outside(pair, self.start[other], both)
            self.keep_outside(pair, self.end[other], both)
        for m in modes:
            for piece in self.problem.door_events(other, m):
                self.keep_outside(pair, self.start[other] + piece.first, [self.chosen[pair], self.chosen[other, m]])

    def keep_outside(self, pair, moment, condition):
        start, later = self.start[pair[0]], self.model.new_bool_var("")
        self.model.add(moment <= start).only_enforce_if([*condition, ~later])
        self.model.add(moment >= start + self.problem.mode(*pair)["shut"]).only_enforce_if([*condition, later])

    def among(self, step, modes):
        """Literals that together say that the step is done in one of these modes."""
        if set(modes) == set(self.problem.legal[step]):
            return []
        if len(modes) == 1:
            return [self.chosen[step, modes[0]]]
        key = step, frozenset(modes)
        if key not in self.groups:
            self.groups[key] = self.model.new_bool_var("")
            self.model.add(sum(self.chosen[step, m] for m in modes) == self.groups[key])
        return [self.groups[key]]

    def keep_apart(self, a, b, condition, minutes, minutes_back):
        """Steps that may not run together under a condition: one literal for each pair says which of them comes first."""
        if (a, b) not in self.first:
            self.first[a, b] = self.model.new_bool_var(f"{a} first, not {b}")
            self.first[b, a] = ~self.first[a, b]
        self.model.add(self.start[b] >= self.end[a] + minutes).only_enforce_if([self.first[a, b], *condition])
        self.model.add(self.start[a] >= self.end[b] + minutes_back).only_enforce_if([self.first[b, a], *condition])

    def ended(self, a, b):
        """A literal that holds only if step a has ended when step b starts."""
        if (a, b) not in self.before:
            self.before[a, b] = self.model.new_bool_var(f"{a} before {b}")
            self.model.add(self.start[b] >= self.end[a]).only_enforce_if(self.before[a, b])
        return self.before[a, b]

    def forbid(self, crowd):
        """Intervals on a line have a minute in common if every two of them have: some two must be apart."""
        clause = []
        for i, (a, modes) in enumerate(crowd):
            clause += [self.ended(x, y) for b, _ in crowd[i + 1 :] for x, y in ((a, b), (b, a))]
            clause += [~literal for literal in self.among(a, modes)]
        self.model.add_bool_or(clause)

    def add_hot(self):
        """Hot minutes: each spell lengthened by `cool_off`, the union of all, less the one `cool_off` at the end.

        Steps are strung up by their starts; `until` is when the heat of those so far ends.
        """
        hot = []
        for place in self.problem.places.values():
            if place["kind"] == "cavity":
                hot += self.hot_minutes(place)
        self.hot = sum(hot)

    def hot_minutes(self, place):
        model, cool_off = self.model, place["cool_off"]
        modes = {}
        for step, m in self.problem.in_place(place["id"]):
            modes.setdefault(step, []).append(self.chosen[step, m])
        if not modes:
            return []
        horizon = max(self.problem.latest[step] for step in modes) + cool_off
        used = model.new_bool_var("")
        arcs = [(0, 0, ~used)]
        until, hot = {}, [-cool_off * used]
        for number, (step, literals) in enumerate(modes.items(), 1):
            here = model.new_bool_var("")
            model.add(sum(literals) == here)
            model.add_implication(here, used)
            until[step] = model.new_int_var(0, horizon, "")
            model.add(until[step] >= self.end[step] + cool_off).only_enforce_if(here)
            hot.append(model.new_int_var(0, horizon, ""))
            first = model.new_bool_var("")
            model.add(hot[-1] >= until[step] - self.start[step]).only_enforce_if(first)
            arcs += [(number, number, ~here), (0, number, first), (number, 0, model.new_bool_var(""))]
        for i, a in enumerate(modes, 1):
            for j, b in enumerate(modes, 1):
                if a == b:
                    continue
                follows, joins = model.new_bool_var(""), model.new_bool_var("")
                arcs.append((i, j, follows))
                model.add(self.start[b] >= self.start[a]).only_enforce_if(follows)
                model.add(until[b] >= until[a]).only_enforce_if(follows)
                model.add(hot[j] >= until[b] - until[a]).only_enforce_if([follows, joins])
                model.add(hot[j] >= until[b] - self.start[b]).only_enforce_if([follows, ~joins])
        model.add_circuit(arcs)
        return hot

    def plan(self, value):
        steps = {}
        for (step, m), literal in self.chosen.items():
            if value(literal):
                steps[step] = {"mode": m, "start": value(self.start[step]), "end": value(self.end[step])}
        return {"steps": steps, "served": {course: value(served) for course, served in self.served.items()}}
