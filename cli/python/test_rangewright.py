"""The module against the command: ``python3 -m unittest`` in this folder, with the command in ``RANGEWRIGHT``."""

import json
import os
import subprocess
import threading
import unittest
from pathlib import Path

from rangewright import Impossible, Rangewright, Refused, Undecided

COMMAND = os.environ.get("RANGEWRIGHT", "rangewright")
EXAMPLES = Path(__file__).resolve().parents[2] / "models" / "examples"
SUPPER = EXAMPLES / "supper.menu.ron"
SOUP = {
    "name": "Soup night",
    "date": "2026-11-08",
    "zone": "Europe/London",
    "serve": "19:00",
    "kitchen": {"places": [{"Burners": ["burner", 2]}]},
    "dishes": [
        {"name": "Leek soup", "steps": [{"Prep": ["Slice the leeks", "15 min"]}, {"Simmer": ["Simmer them", "40 min"]}]}
    ],
}


def alone(*args):
    told = subprocess.run([COMMAND, *args, "--format", "json"], capture_output=True, encoding="utf-8", check=False)
    return json.loads(told.stdout)


class TestRangewright(unittest.TestCase):
    def setUp(self):
        self.range = Rangewright(COMMAND)
        self.addCleanup(self.range.close)

    def test_a_plan_is_that_of_the_command(self):
        planned = self.range.plan(SUPPER, work=20_000)
        self.assertEqual(planned, alone("plan", str(SUPPER), "--work", "20000"))

    def test_a_menu_may_be_data_or_text(self):
        kitchen = (EXAMPLES / "shed.kitchen.ron").read_text(encoding="utf-8")
        text = self.range.plan(SUPPER.read_text(encoding="utf-8"), files={"shed.kitchen.ron": kitchen}, work=20_000)
        self.assertEqual(text["plan"], self.range.plan(SUPPER, work=20_000)["plan"])
        soup = self.range.plan(SOUP)
        self.assertEqual(soup["titles"]["leek-soup/simmer"], "Simmer them")
        self.assertIn("Slice the leeks", self.range.plan(SOUP, format="markdown"))

    def test_questions(self):
        menu = EXAMPLES / "one-oven.menu.ron"
        self.assertEqual(self.range.share(menu, ["roots", "meringue"], in_="oven")["command"], "share")
        self.assertEqual(self.range.soonest(SOUP, begin="16:00")["outcome"], "planned")
        self.assertEqual(self.range.why(SOUP, "simmer")["outcome"], "answered")
        self.assertEqual(self.range.odds(SOUP, evenings=200)["odds"]["evenings"], 200)
        self.assertEqual(self.range.check(SOUP)["outcome"], "sound")
        self.assertEqual(self.range.ask("chill", depth="5 cm")["command"], "chill")

    def test_a_plan_is_shown_again(self):
        planned = self.range.plan(SOUP)
        self.assertEqual(self.range.show(planned, SOUP), planned)
        self.assertEqual(self.range.show(planned, SOUP, format="markdown"), self.range.plan(SOUP, format="markdown"))
        with self.assertRaises(Refused):
            self.range.show(planned, SUPPER)

    def test_the_rest_of_a_day(self):
        planned = self.range.plan(SOUP)
        log = [{"at": planned["plan"]["steps"]["leek-soup/prep"]["start"], "event": "started", "step": "leek-soup/prep"}]
        self.assertEqual(self.range.replan(SOUP, planned, log, "18:15")["outcome"], "replanned")

    def test_a_no_and_faults_are_told_apart(self):
        with self.assertRaises(Impossible) as no:
            self.range.plan(EXAMPLES / "one-oven.menu.ron")
        self.assertTrue(no.exception.answer["facts"])
        with self.assertRaises(Undecided):
            self.range.plan(EXAMPLES.parents[1] / "tests/data/kitchens/instances/small-1.json", work=0)
        with self.assertRaises(Refused) as faults:
            self.range.plan({"name": "Nothing"})
        self.assertTrue(all(fault["code"].startswith("RW") for fault in faults.exception.faults))
        with self.assertRaises(Refused):
            self.range.ask("plan", menus=[])
        # And it still answers.
        self.assertEqual(self.range.check(SOUP)["outcome"], "sound")

    def test_several_threads_may_ask(self):
        answers = []
        threads = [threading.Thread(target=lambda: answers.append(self.range.plan(SOUP))) for _ in range(4)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.assertEqual([answer["outcome"] for answer in answers], ["planned"] * 4)


if __name__ == "__main__":
    unittest.main()
