#!/usr/bin/python3
"""The growing plans that come with the program against their written schema (JSON Schema draft 7), by a general library,
and against what a schema cannot say. With no code of ours."""
import copy
import json
import pathlib
import re
import unittest

import jsonschema

PLANS = pathlib.Path(__file__).resolve().parent.parent / "assets" / "plans"
CHECK = jsonschema.Draft7Validator(json.loads((PLANS / "schema.json").read_text()))


def plans():
    return {path.stem: json.loads(path.read_text()) for path in sorted(PLANS.glob("*-*.json"))}


def lengths(plan):
    for step in plan["steps"]:
        for key in ("opens", "closes", "every", "season"):
            if key in step:
                yield step[key]
    if "drying" in plan:
        yield plan["drying"]


class Plans(unittest.TestCase):
    def test_the_schema_is_one(self):
        jsonschema.Draft7Validator.check_schema(CHECK.schema)

    def test_every_plan_keeps_to_the_schema(self):
        self.assertGreaterEqual(len(plans()), 8)
        for name, plan in plans().items():
            with self.subTest(name):
                self.assertEqual([], [error.message for error in CHECK.iter_errors(plan)])

    def test_a_file_is_named_after_its_plan_genus_and_method(self):
        for name, plan in plans().items():
            self.assertEqual(plan["plan"], name)
            self.assertEqual(f"{plan['genus'].lower()}-{plan['method']}", name)

    def test_all_eight_genera_have_a_way_to_cut_and_a_way_to_grow_on(self):
        genera = {"Hippeastrum", "Narcissus", "Hyacinthus", "Lachenalia", "Lilium", "Galanthus", "Nerine", "Lycoris"}
        methods = {}
        for plan in plans().values():
            methods.setdefault(plan["genus"], set()).add(plan["method"])
        self.assertEqual(genera, set(methods))
        for genus in genera:
            self.assertIn("growing-on", methods[genus])
            self.assertGreaterEqual(len(methods[genus]), 2)

    def test_every_source_is_named_and_no_name_stands_without_use(self):
        for name, plan in plans().items():
            used = {one["source"] for one in lengths(plan)} - {"common practice"}
            self.assertEqual(used, set(plan["sources"]), name)
            for key in used:
                self.assertTrue(re.fullmatch(r"S\d+[a-z]?", key), key)

    def test_what_is_wrong_is_refused(self):
        good = plans()["hippeastrum-growing-on"]
        start = next(i for i, step in enumerate(good["steps"]) if step["step"] == "start")
        season = plans()["nerine-growing-on"]
        dry = next(i for i, step in enumerate(season["steps"]) if step["step"] == "dry-off")

        def spoilt(plan, change):
            bad = copy.deepcopy(plan)
            change(bad)
            return bad

        wrong = {
            "an unknown unit": spoilt(good, lambda p: p["steps"][start]["opens"].update(years=1)),
            "two units": spoilt(good, lambda p: p["steps"][start]["opens"].update(days=1)),
            "a time before": spoilt(good, lambda p: p["steps"][start]["opens"].update(weeks=-1)),
            "half a week": spoilt(good, lambda p: p["steps"][start]["opens"].update(weeks=8.5)),
            "no source": spoilt(good, lambda p: p["steps"][start]["opens"].pop("source")),
            "an unknown step": spoilt(good, lambda p: p["steps"][start].update(step="sing")),
            "counted from nothing": spoilt(good, lambda p: p["steps"][start].pop("after")),
            "week 54": spoilt(season, lambda p: p["steps"][dry]["season"].update(to=54)),
            "a season beside closes": spoilt(season, lambda p: p["steps"][dry].update(closes={"weeks": 1, "source": "grower"})),
            "an unknown field": spoilt(good, lambda p: p.update(colour="red")),
            "an unknown method": spoilt(good, lambda p: p.update(method="guessing")),
        }
        for what, plan in wrong.items():
            with self.subTest(what):
                self.assertFalse(CHECK.is_valid(plan))


if __name__ == "__main__":
    unittest.main()
