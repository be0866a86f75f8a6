#!/usr/bin/python3
"""motherbulb yields from outside: the fields that scripts rely on, counts that add up, the model file that gives the same
figures again, and what is refused. No code of ours in it."""
import csv
import json
import os
import subprocess
import sys
import tempfile
import unittest

BINARY = os.environ["MOTHERBULB_BINARY"]


def run(*words):
    return subprocess.run([BINARY, *words], capture_output=True, text=True, timeout=120)


class Yields(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.book = os.path.join(cls.folder.name, "demo.book")
        assert run("demo", cls.book, "--on", "2026-11-26").returncode == 0
        cls.rows = json.loads(run("yields", cls.book, "--format", "json").stdout)

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def path(self, name, text=None):
        path = os.path.join(self.folder.name, name)
        if text is not None:
            with open(path, "w", encoding="utf-8") as file:
                file.write(text)
        return path

    def test_rows(self):
        self.assertGreater(len(self.rows), 0)
        keys = [(row["clone"].casefold(), row["genus"].casefold(), row["method"], row["sections"]) for row in self.rows]
        self.assertEqual(keys, sorted(keys))
        for row in self.rows:
            self.assertEqual(row["bulblets"], sum(one["bulblets"] for one in row["by_grade"]))
            self.assertGreaterEqual(row["pots"], 1)
            self.assertLessEqual(row["per_mother"]["p5"], row["per_mother"]["p95"])
            self.assertTrue(0 <= row["from_records"] <= 1)
            self.assertAlmostEqual(row["per_mother"]["mean"], row["clone_mean"]["mean"])

    def test_ways_are_compared_by_bulbs_that_can_be_sold(self):
        five = json.loads(run("yields", self.book, "--by-season", "5", "--format", "json").stdout)
        for row, later in zip(self.rows, five):
            self.assertAlmostEqual(sum(one["share"] for one in row["bulblet_sizes"]["shares"]), 1)
            self.assertTrue(0.5 < row["bulblet_sizes"]["girth_cm"] < 40)
            self.assertEqual((len(row["saleable_per_mother"]), len(later["saleable_per_mother"])), (3, 5))
            self.assertEqual(later["saleable_per_mother"][:3], row["saleable_per_mother"])
            # Never more than all bulblets and their daughters, and a mother left whole is about one, and hers.
            self.assertTrue(0 <= row["saleable_per_mother"][0] <= row["per_mother"]["mean"] + 1e-9)
            self.assertTrue(0 <= row["saleable_if_whole"][0] < 2)
        self.assertIn("Saleable by 5", run("yields", self.book, "--by-season", "5").stdout)
        self.assertEqual(run("yields", self.book, "--by-season", "0").returncode, 2)

    def test_bulblets_are_those_of_the_table(self):
        """What export says was unpotted first out of pots of sections; later such batches have pots of bulbs too."""
        path = self.path("all.csv")
        self.assertEqual(run("export", self.book, path).returncode, 0)
        with open(path, encoding="utf-8-sig", newline="") as file:
            table = list(csv.DictReader(file))
        whole = {"offsets", "growing-on"}
        cut = {row["batch"] for row in table if row["event"] == "begun" and row["method"] not in whole}
        pieces = {(row["batch"], row["pot"]) for row in table
                  if row["event"] == "potted" and row["batch"] in cut and not row["grade"]}
        first = {}
        for row in table:
            pot = (row["batch"], row["pot"])
            if row["event"] == "unpotted" and pot in pieces:
                first[pot] = min(first.get(pot, row["when"]), row["when"])
        bulblets = sum(int(row["count"]) for row in table
                       if row["event"] == "unpotted" and row["when"] == first.get((row["batch"], row["pot"]))
                       and row["grade"] != "alive" and not row["cause"])
        self.assertEqual(bulblets, sum(row["bulblets"] for row in self.rows))

    def test_the_model_gives_the_same_figures(self):
        path = self.path("model.json")
        of_clone = run("yields", self.book, "--clone", "harbour ember", "--method", "chipping", "--save-model", path,
                       "--format", "json")
        self.assertEqual(of_clone.returncode, 0, of_clone.stderr)
        again = json.loads(run("yields", "--model", path, "--format", "json").stdout)
        self.assertEqual([(row["clone"], row["sections"], row["per_mother"], row["clone_mean"], row["from_records"])
                          for row in json.loads(of_clone.stdout)],
                         [(one["clone"], one["k"], one["per_mother"], one["clone_mean"], one["from_records"])
                          for one in again])
        second = self.path("second.json")
        self.assertEqual(run("yields", "--model", path, "--save-model", second).returncode, 0)
        with open(path, encoding="utf-8") as one, open(second, encoding="utf-8") as other:
            self.assertEqual(one.read(), other.read())

    def refused(self, *words):
        ran = run("yields", *words)
        self.assertEqual(ran.returncode, 2, ran.stderr)
        self.assertEqual(len(ran.stderr.splitlines()), 1, ran.stderr)
        self.assertEqual(ran.stdout, "")
        return ran.stderr

    def test_refused(self):
        self.assertIn("--method", self.refused(self.book, "--save-model", self.path("none.json")))
        self.assertFalse(os.path.exists(self.path("none.json")))
        self.assertIn("Nobody", self.refused(self.book, "--clone", "Nobody"))
        self.assertIn("no way of cutting", self.refused(self.book, "--method", "offsets"))
        self.refused(self.path("missing.book"))
        self.assertFalse(os.path.exists(self.path("missing.book")))
        self.refused()
        self.refused(self.book, "--model", self.path("model.json"))
        bad = self.path("bad.json", '{"priors": {}, "pots": [], "ask": []}')
        self.assertIn("bad.json: priors.u: ", self.refused("--model", bad))

    def test_text(self):
        ran = run("yields", self.book)
        self.assertEqual(ran.returncode, 0)
        self.assertLess(ran.stdout.index("Counted"), ran.stdout.index("Estimated"))


if __name__ == "__main__":
    sys.exit(0 if unittest.main(exit=False).result.wasSuccessful() else 1)
