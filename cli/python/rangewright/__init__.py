"""Plans a whole feast for one moment in a kitchen that is too small for it.

This asks the command ``rangewright batch`` and hands out its answers as plain data, so nothing has to be compiled for Python,
and an answer is the command's own, byte for byte. Searching is done by that process: Python's own threads go on meanwhile.

>>> from rangewright import Rangewright
>>> with Rangewright() as range:                                # doctest: +SKIP
...     supper = range.plan("Menu(...)", work=20_000)
...     print(supper["titles"])
"""

from __future__ import annotations

import json
import subprocess
import threading
from os import PathLike, fspath
from typing import Any, Mapping, Sequence, Union

__all__ = ["Impossible", "Rangewright", "Refused", "Undecided"]

#: A menu: its text in RON or JSON, the same as data, or the path of its file.
Menu = Union[str, Mapping[str, Any], "PathLike[str]"]
#: An answer, as ``cli/schema/answer.schema.json`` describes it.
Answer = dict


class Refused(ValueError):
    """The question cannot be answered as it stands. ``faults`` holds every fault of a menu, each with its place."""

    def __init__(self, words: str, faults: Sequence[Mapping[str, Any]] = ()) -> None:
        super().__init__(words)
        self.faults = list(faults)


class _NoPlan(Exception):
    def __init__(self, words: str, answer: Answer) -> None:
        super().__init__(words)
        self.answer = answer


class Impossible(_NoPlan):
    """It is proved that it cannot be done. ``answer`` says why, and what would make it possible."""


class Undecided(_NoPlan):
    """A limit came before any plan. ``answer`` says how far the search came."""


class Rangewright:
    """A process of the command that is kept, and asked as often as you like; from several threads one after the other.

    ``command`` is the command with its path. ``read_files`` lets questions name files of this machine; paths need it.
    """

    def __init__(self, command: str = "rangewright", *, read_files: bool = True) -> None:
        options = ["--read-files"] if read_files else []
        self._process = subprocess.Popen(
            [command, "batch", *options], stdin=subprocess.PIPE, stdout=subprocess.PIPE, encoding="utf-8"
        )
        self._one_at_a_time = threading.Lock()

    def __enter__(self) -> Rangewright:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Ends the process."""
        if self._process.stdin and not self._process.stdin.closed:
            self._process.stdin.close()
        if self._process.stdout:
            self._process.stdout.close()
        self._process.wait()

    def ask(self, what: str, **fields: Any) -> Any:
        """The answer to a question: data, or a text if another ``format`` is asked for.

        The fields are the arguments and options of the command ``what``, with ``_`` for ``-`` (and ``in_`` for ``in``).

        Raises ``Refused`` where the question is wrong. That something cannot be done is an answer here.
        """
        question = {"ask": what, **{_field(name): value for name, value in fields.items() if value is not None}}
        with self._one_at_a_time:
            if self._process.stdin is None or self._process.stdout is None:
                raise RuntimeError("the command has no pipes")
            self._process.stdin.write(json.dumps(question, default=fspath) + "\n")
            self._process.stdin.flush()
            line = self._process.stdout.readline()
        if not line:
            raise RuntimeError("the command has ended")
        reply = json.loads(line)
        answer = reply.get("answer")
        if reply["exit"] in (0, 1, 3) and answer is not None:
            return answer
        told = answer if isinstance(answer, dict) else {}
        faults = told.get("faults", [])
        words = "; ".join(f"{fault['cause']}: {fault['remedy']}" for fault in faults)
        raise Refused(words or told.get("error") or reply.get("complaint", "no answer"), faults)

    def _about(self, what: str, menu: Menu | None, files: Mapping[str, Any] | None, fields: Mapping[str, Any]) -> Any:
        held = dict(files or {})
        if isinstance(menu, str):
            held["menu"], menu = menu, "menu"
        elif isinstance(menu, PathLike):
            menu = fspath(menu)
        return self.ask(what, menu=menu, files=held, **fields)

    def plan(self, menu: Menu | None = None, *, files: Mapping[str, Any] | None = None, **options: Any) -> Any:
        """A plan of a menu; of the built-in supper without one. ``files`` are the kitchens and dishes that it names.

        Raises ``Impossible`` or ``Undecided`` where there is none, ``Refused`` where the menu has faults.
        """
        answer = self._about("plan", menu, files, options)
        outcome = answer["outcome"] if isinstance(answer, dict) else "planned"
        if outcome == "undecided":
            raise Undecided("a limit came before any plan", answer)
        if outcome != "planned":
            raise Impossible("there is no such plan", answer)
        return answer

    def show(
        self, plan: Answer, menu: Menu | None = None, *, files: Mapping[str, Any] | None = None, **options: Any
    ) -> Any:
        """The answer of ``plan`` again, unchanged, in another ``format``. Raises ``Refused`` if it is of another menu."""
        return self._about("show", menu, files, {"plan": plan, **options})

    def share(self, menu: Menu, dishes: Sequence[str], *, files: Mapping[str, Any] | None = None, **options: Any) -> Answer:
        """Whether dishes can share an oven: in which ways and at what cost, or why not."""
        return self._about("share", menu, files, {"dishes": list(dishes), **options})

    def soonest(self, menu: Menu | None = None, *, files: Mapping[str, Any] | None = None, **options: Any) -> Answer:
        """How soon everything can be on the table."""
        return self._about("soonest", menu, files, options)

    def why(self, menu: Menu, step: str, *, files: Mapping[str, Any] | None = None, **options: Any) -> Answer:
        """What it would cost to do a step otherwise."""
        return self._about("why", menu, files, {"step": step, **options})

    def worth(self, menu: Menu | None = None, *, files: Mapping[str, Any] | None = None, **options: Any) -> Answer:
        """What a second oven, more hands or a dish made ahead would bring."""
        return self._about("worth", menu, files, options)

    def odds(self, menu: Menu | None = None, *, files: Mapping[str, Any] | None = None, **options: Any) -> Answer:
        """How likely the hour is to be kept."""
        return self._about("odds", menu, files, options)

    def check(self, menu: Menu, *, files: Mapping[str, Any] | None = None, **options: Any) -> Answer:
        """That a menu has no faults, and which limits of food safety it breaks in any case."""
        return self._about("check", menu, files, options)

    def replan(
        self,
        menu: Menu | None,
        plan: Answer,
        log: Sequence[Mapping[str, Any]],
        now: str,
        *,
        files: Mapping[str, Any] | None = None,
        **options: Any,
    ) -> Answer:
        """A new plan of the rest of the day from the answer of ``plan`` and what has happened since."""
        return self._about("replan", menu, files, {"plan": plan, "log": list(log), "now": now, **options})


def _field(name: str) -> str:
    return name.rstrip("_")
