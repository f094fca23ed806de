"""What a problem and a plan mean, for the solvers that Rangewright is compared with.

Written from the description of the planning model alone: it shares no code with the library, so that agreement says something.
"""

import json
import os
from functools import lru_cache
from itertools import combinations
from typing import NamedTuple


class Piece(NamedTuple):
    """Work that needs hands: begun at an offset from `first` to `last` after one end of its step."""

    kind: str
    hands: int
    origin: str
    first: int
    last: int
    # None for the whole step.
    minutes: int | None
    passing: bool
    # Cooks by their ids; None where hands are counted.
    who: list | None

    def floats(self):
        return self.first < self.last


class Problem:
    """A problem in the project's JSON form, with what follows from it at once."""

    def __init__(self, data):
        self.data = data
        self.name = data["name"]
        self.opening = data["opening"]
        self.steps = {step["id"]: step for step in data["steps"]}
        self.places = {place["id"]: place for place in data["places"]}
        self.courses = {course["id"]: course for course in data["courses"]}
        self.links = data["links"]
        self.legal = {
            step["id"]: [m for m, mode in enumerate(step["modes"]) if self.is_legal(mode)] for step in data["steps"]
        }
        self.latest = self.latest_ends()
        self.soonest = self.earliest_starts()

    def is_legal(self, mode):
        place = self.places.get(mode["place"])
        if place is None:
            return True
        if place["kind"] == "cavity":
            low, high = mode["t"]
            return (
                low <= place["t_max"]
                and high >= place["t_min"]
                and mode["heat"] in place["heats"]
                and fits_cavity(place, (mode,))
            )
        low, high = mode["level"]
        if low > place["scale"][1] or high < place["scale"][0]:
            return False
        if place["kind"] == "hob":
            return place["count"] > 0 and place["min_diameter"] <= mode["diameter"] <= place["max_diameter"]
        return fits_top(place, (mode,))

    def latest_ends(self):
        """The latest end of each step that the servings leave, by the longest way to a sink."""
        latest = {}
        after = {}
        for link in self.links:
            after.setdefault(link["from"], []).append(link)
        sinks = {}
        for course in self.courses.values():
            for sink in course["sinks"]:
                sinks[sink["step"]] = course["serve"] + course["max_slip"]

        def latest_end(step):
            if step not in latest:
                ends = [sinks[step]] if step in sinks else []
                for link in after.get(step, []):
                    shortest = min((self.mode(link["to"], m)["min"] for m in self.legal[link["to"]]), default=0)
                    ends.append(latest_end(link["to"]) - shortest - link["min"])
                if self.steps[step]["latest"] is not None:
                    ends.append(self.steps[step]["latest"])
                latest[step] = min(ends)
            return latest[step]

        for step in self.steps:
            latest_end(step)
        return latest

    def earliest_starts(self):
        """The earliest start of each step that the opening and the links leave."""
        before, earliest = {}, {}
        for link in self.links:
            before.setdefault(link["to"], []).append(link)

        def earliest_start(step):
            if step not in earliest:
                starts = [self.opening, self.steps[step]["earliest"] or 0]
                for link in before.get(step, []):
                    shortest = min((self.mode(link["from"], m)["min"] for m in self.legal[link["from"]]), default=0)
                    starts.append(earliest_start(link["from"]) + shortest + link["min"])
                earliest[step] = max(starts)
            return earliest[step]

        for step in self.steps:
            earliest_start(step)
        return earliest

    def earliest(self, step):
        return self.soonest[step]

    def mode(self, step, index):
        return self.steps[step]["modes"][index]

    def wait_of(self, step, index):
        return self.mode(step, index).get("wait") or self.steps[step]["wait"]

    def in_place(self, place):
        """All legal (step, mode) pairs of a place."""
        return [(s, m) for s in self.steps for m in self.legal[s] if self.mode(s, m)["place"] == place]

    def stays(self):
        return {(link["from"], link["to"]) for link in self.links if link.get("stay")}

    def pieces(self, step, index):
        """What needs hands: `Piece`s, in the order of the planning model."""
        mode = self.mode(step, index)
        who = self.who(mode)
        if mode.get("hands", 0) > 0:
            yield Piece("whole", mode["hands"], "start", 0, 0, None, False, who)
        if mode.get("load", 0) > 0:
            yield Piece("load", 1, "start", 0, 0, mode["load"], False, who)
        if mode.get("unload", 0) > 0:
            yield Piece("unload", 1, "end", -mode["unload"], -mode["unload"], mode["unload"], False, who)
        for touch in mode.get("touches", []):
            if isinstance(touch, list):
                touch = {"at": touch[0], "minutes": touch[1]}
            first = max(touch["at"] - touch.get("early", 0), 0)
            last = touch["at"] + touch.get("late", 0)
            if touch["minutes"] > 0:
                yield Piece("touch", 1, "start", first, last, touch["minutes"], touch.get("passing", False), who)

    def who(self, mode):
        """The cooks who may do the work of a mode; None where hands are counted instead of named."""
        cooks = self.data.get("cooks")
        return None if cooks is None else mode.get("who", [cook["id"] for cook in cooks])

    def has_second_edition(self):
        """Whether people are named, work floats or is done in passing, or what waits needs something."""
        pieces = [piece for s in self.steps for m in self.legal[s] for piece in self.pieces(s, m)]
        waiting = [*self.links, *(sink for course in self.courses.values() for sink in course["sinks"])]
        return (
            self.data.get("cooks") is not None
            or any(piece.floats() or piece.passing for piece in pieces)
            or any(wait.get("pools") for wait in waiting)
        )

    def first_heat(self, place, mode):
        """The minute before which a mode cannot start in a cavity that has yet to heat up or cool down."""
        degrees = [place["t_open"], place["t_open"]]
        if windows_meet(degrees, mode["t"]):
            return self.opening
        return self.opening + changeover(place, degrees, mode["t"])

    def apart(self, place, first, second):
        """Minutes from the end of `first` to the start of `second`, and the other way round; None if they may overlap."""
        (s1, m1), (s2, m2) = first, second
        a, b = self.mode(s1, m1), self.mode(s2, m2)
        if not windows_meet(a["t"], b["t"]):
            stays = self.stays()
            return (
                0 if (s1, s2) in stays else changeover(place, a["t"], b["t"]),
                0 if (s2, s1) in stays else changeover(place, b["t"], a["t"]),
            )
        clash = a["heat"] != b["heat"] or (a.get("wet") and b.get("dry")) or (a.get("dry") and b.get("wet"))
        if clash or not fits_cavity(place, (a, b)):
            return 0, 0
        return None

    def door_events(self, step, index):
        """Pieces that open a door in their first minute besides the start and the end of the step."""
        return [piece for piece in self.pieces(step, index) if piece.kind == "touch"]

    def crowds(self, place, limit):
        """Minimal sets of at least three steps in a cavity or on a top whose pans never fit together, up to `limit` steps.

        Each is a list of (step, modes): it is forbidden that all those steps run at once, each in one of those modes.
        """
        fits = fits_cavity if place["kind"] == "cavity" else fits_top
        items = {}
        for s, m in self.in_place(place["id"]):
            items.setdefault((s, pan_key(self.mode(s, m))), []).append(m)
        keys = list(items)
        pan = {key: self.mode(key[0], modes[0]) for key, modes in items.items()}
        fitting = {(key,) for key in keys}
        for size in range(2, limit + 1):
            larger = set()
            for chosen in sorted(fitting):
                for key in keys[keys.index(chosen[-1]) + 1 :]:
                    grown = chosen + (key,)
                    if key[0] in {s for s, _ in chosen}:
                        continue
                    if any(part not in fitting for part in combinations(grown, size - 1)):
                        continue
                    if size == 2 and self.never_meet(place, items, *grown):
                        continue
                    if fits(place, tuple(pan[k] for k in grown)):
                        larger.add(grown)
                    elif size > 2:
                        yield [(key[0], items[key]) for key in grown]
            fitting = larger

    def never_meet(self, place, items, first, second):
        return place["kind"] == "cavity" and all(
            self.apart(place, (first[0], a), (second[0], b)) for a in items[first] for b in items[second]
        )

    def cost(self, plan):
        """Lateness, waiting and hot minutes of a plan."""
        lateness = sum(c["weight"] * (plan["served"][c["id"]] - c["serve"]) for c in self.courses.values())
        waiting = 0
        for s, planned in plan["steps"].items():
            mode = self.mode(s, planned["mode"])
            waiting += mode.get("cost", 0)
            waiting += wait_cost(self.wait_of(s, planned["mode"]), planned["end"] - planned["start"] - mode["min"])
        for link in self.links:
            gap = plan["steps"][link["to"]]["start"] - plan["steps"][link["from"]]["end"]
            waiting += wait_cost(link["wait"], gap - link["min"])
        for course in self.courses.values():
            for sink in course["sinks"]:
                waiting += wait_cost(sink["wait"], plan["served"][course["id"]] - plan["steps"][sink["step"]]["end"])
        return [lateness, waiting, sum(self.hot(place, plan) for place in self.places.values())]

    def hot(self, place, plan):
        if place["kind"] != "cavity":
            return 0
        spells = sorted(
            (planned["start"], planned["end"])
            for s, planned in plan["steps"].items()
            if self.mode(s, planned["mode"])["place"] == place["id"]
        )
        minutes, until = 0, None
        for start, end in spells:
            if until is None:
                minutes, until = end - start, end
                continue
            minutes += min(max(0, start - until), place["cool_off"])
            minutes += max(0, end - max(start, until))
            until = max(until, end)
        return minutes

    def too_full(self, plan):
        """Sets of steps that a plan lets share a place in which their pans do not fit."""
        for place in self.places.values():
            if place["kind"] == "hob":
                continue
            fits = fits_cavity if place["kind"] == "cavity" else fits_top
            inside = [
                (s, planned) for s, planned in plan["steps"].items()
                if self.mode(s, planned["mode"])["place"] == place["id"]
            ]
            for minute in sorted({planned["start"] for _, planned in inside}):
                together = [(s, p["mode"]) for s, p in inside if p["start"] <= minute < p["end"]]
                if fits(place, tuple(self.mode(s, m) for s, m in together)):
                    continue
                # Shrink it to a minimal one, so that it forbids more.
                for item in list(together):
                    fewer = [other for other in together if other != item]
                    if not fits(place, tuple(self.mode(s, m) for s, m in fewer)):
                        together = fewer
                yield [(s, [m]) for s, m in together]


def wait_cost(wait, minutes):
    over = 0 if wait["soft"] is None else max(0, minutes - wait["soft"])
    return wait["rate"] * minutes + (wait["rate_after"] - wait["rate"]) * over


def windows_meet(a, b):
    return a[0] <= b[1] and b[0] <= a[1]


def changeover(place, before, after):
    if after[0] > before[1]:
        degrees, rate = after[0] - before[1], place["rise"]
    else:
        degrees, rate = before[0] - after[1], place["fall"]
    return place["settle"] + -(-10 * degrees // rate)


def pan_key(mode):
    return tuple(mode["pan"]) + (mode["weight"],) if mode.get("pan") else (mode["diameter"],)


def fits_cavity(place, modes):
    if sum(mode["weight"] for mode in modes) > place["max_weight"]:
        return False
    pans = tuple(sorted(tuple(mode["pan"]) for mode in modes))
    return stacks(pans, place["width"], place["depth"], place["height"], place["racks"], place["clearance"])


def fits_top(place, modes):
    return packs(tuple(sorted((mode["diameter"],) * 2 for mode in modes)), place["width"], place["depth"])


@lru_cache(maxsize=None)
def stacks(pans, width, depth, height, racks, clearance):
    """Whether pans (width, depth, height) can be spread over racks."""
    if not pans:
        return True
    if racks == 0 or height < 0:
        return False
    # The tallest pan is on some rack: try every set of companions, none of them taller.
    tallest = max(pans, key=lambda pan: pan[2])
    rest = list(pans)
    rest.remove(tallest)
    for size in range(len(rest), -1, -1):
        for companions in set(combinations(rest, size)):
            left = list(rest)
            for pan in companions:
                left.remove(pan)
            rack = tuple(sorted(pan[:2] for pan in (tallest, *companions)))
            below = height - tallest[2] - clearance
            if below >= 0 and stacks(tuple(left), width, depth, below, racks - 1, clearance) and packs(rack, width, depth):
                return True
    return False


@lru_cache(maxsize=None)
def packs(rectangles, width, depth):
    """Whether rectangles, each turned as wanted, fit side by side.

    In some packing, if there is any, each rectangle is pushed left and down as far as it goes: its corner lies at a sum of
    sides of others.
    """
    if sum(w * d for w, d in rectangles) > width * depth:
        return False
    sides = [side for rectangle in rectangles for side in rectangle]
    sums = {0}
    for side in sides:
        sums |= {s + side for s in sums if s + side <= max(width, depth)}
    order = sorted(rectangles, key=lambda r: -r[0] * r[1])
    placed = []

    def place(index):
        if index == len(order):
            return True
        for w, d in set((order[index], order[index][::-1])):
            for x in sorted(s for s in sums if s + w <= width):
                for y in sorted(s for s in sums if s + d <= depth):
                    if all(x + w <= px or px + pw <= x or y + d <= py or py + pd <= y for px, py, pw, pd in placed):
                        placed.append((x, y, w, d))
                        if place(index + 1):
                            return True
                        placed.pop()
        return False

    return place(0)


def find(folder, part=""):
    """Names and paths of the problems below a folder, in order."""
    found = []
    for path, folders, files in os.walk(folder):
        folders.sort()
        for file in files:
            if file.endswith(".json") and not file.endswith(".plan.json"):
                full = os.path.join(path, file)
                name = os.path.relpath(full, folder)[: -len(".json")].replace(os.sep, "/")
                if part in name:
                    found.append((name, full))
    return sorted(found)


def load(path):
    with open(path, encoding="utf-8") as file:
        return Problem(json.load(file))
