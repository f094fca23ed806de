"""Reads answers with the types that were generated: each is of one kind, and nothing in it is unknown to the schema."""

import json
import sys
from pathlib import Path

from answers import Answer, FaultsAnswer, ImpossibleAnswer, PlanAnswer


def lost(said, read, at=""):
    """What an answer says that did not come through the types, and what came through otherwise."""
    if isinstance(said, dict) and isinstance(read, dict):
        for key, part in said.items():
            yield from lost(part, read[key], f"{at}/{key}") if key in read else [f"{at}/{key}"]
    elif isinstance(said, list) and isinstance(read, list) and len(said) == len(read):
        for number, (one, other) in enumerate(zip(said, read)):
            yield from lost(one, other, f"{at}/{number}")
    elif said != read:
        yield f"{at}: {said!r} came through as {read!r}"


kinds, holes = set(), set()
for file in sorted(Path(sys.argv[1]).glob("*.json")):
    said = json.loads(file.read_text(encoding="utf-8"))
    answer = Answer.model_validate(said).root
    kinds.add(type(answer).__name__)
    for hole in lost(said, answer.model_dump(mode="json", by_alias=True, exclude_unset=True)):
        holes.add(f"{file.stem}: {hole}")
    # The types are of use: what is in an answer is reached by names.
    if isinstance(answer, PlanAnswer):
        assert all(step.start <= step.end for step in answer.plan.steps.values())
        assert answer.deference
    if isinstance(answer, ImpossibleAnswer):
        assert answer.reasons
    if isinstance(answer, FaultsAnswer):
        assert all(fault.code.startswith("RW") for fault in answer.faults)
for hole in sorted(holes):
    print(hole)
print(f"Python: answers of {len(kinds)} kinds read")
sys.exit(1 if holes or len(kinds) < 20 else 0)
