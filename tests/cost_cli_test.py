#!/usr/bin/python3
"""motherbulb cost from outside: whole cents that add up, bulbs that are those of stock, figures that say what they cost, and
what is refused. No code of ours in it."""
import json
import os
import subprocess
import tempfile
import unittest

BINARY = os.environ["MOTHERBULB_BINARY"]
PARTS = {"bought", "hours", "space", "material", "spent"}


def run(*words):
    return subprocess.run([BINARY, *words], capture_output=True, text=True, timeout=120)


class Cost(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.book = os.path.join(cls.folder.name, "demo.book")
        assert run("demo", cls.book, "--on", "2026-11-26").returncode == 0

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def rows(self, *options):
        done = run("cost", self.book, "--on", "2026-11-26", "--format", "json", *options)
        self.assertEqual(done.returncode, 0, done.stderr)
        return json.loads(done.stdout)

    def check_sums(self, row):
        self.assertEqual(set(row["parts"]), PARTS)
        self.assertEqual(sum(row["parts"].values()), row["total"])
        borne = sum(one["cents"] for one in row["classes"]) + row["pieces"]["cents"] + row["borne_by_none"]
        self.assertEqual(borne, row["total"])
        for cents in [*row["parts"].values(), *(one["cents"] for one in row["classes"])]:
            self.assertIsInstance(cents, int)
            self.assertGreaterEqual(cents, 0)

    def test_whole_cents_add_up(self):
        figures = ("--hourly", "18.50", "--space-price", "0.07", "--bulb-price", "4.33", "--potting-price", "0.21",
                   "--cut-minutes", "3", "--pot-minutes", "1.5", "--unpot-minutes", "2")
        rows = self.rows(*figures)
        self.assertGreater(len(rows), 1)
        for row in rows:
            self.check_sums(row)
            self.assertGreater(row["total"], 0)
            if row["saleable"]:
                self.assertAlmostEqual(row["per_saleable"], row["saleable_cents"] / row["saleable"], delta=0.5)
            else:
                self.assertIsNone(row["per_saleable"])
        one = self.rows("--clone", rows[0]["clone"], *figures)
        self.assertEqual(one, rows[:1])

    def test_bulbs_are_those_of_stock(self):
        stock = json.loads(run("stock", self.book, "--format", "json").stdout)["balance"]
        there = {row["clone"]: row["there"] for row in stock}
        growing = {row["clone"]: row["pieces"]["growing"] + row["pieces"]["waiting"] for row in stock}
        for row in self.rows():
            self.assertEqual(sum(one["bulbs"] for one in row["classes"]), there[row["clone"]], row["clone"])
            self.assertEqual(row["pieces"]["count"], growing[row["clone"]], row["clone"])

    def test_bulbs_bought_cost_their_price(self):
        """What came in from outside, at one each, is what stands and what was sold have cost, to the cent."""
        stock = json.loads(run("stock", self.book, "--format", "json").stdout)["balance"]
        begun = {row["clone"]: row["in"]["begun"] for row in stock}
        for row in self.rows("--bulb-price", "1"):
            self.check_sums(row)
            self.assertEqual(row["total"], row["parts"]["bought"])
            self.assertAlmostEqual(row["total"] + row["gone"]["cents"], 100 * begun[row["clone"]], delta=1)

    def test_no_price_is_invented(self):
        for row in self.rows():
            self.assertEqual(row["total"], row["parts"]["spent"])

    def test_words(self):
        told = run("cost", self.book, "--bulb-price", "4")
        self.assertEqual(told.returncode, 0)
        self.assertIn("bought", told.stdout)

    def test_refused(self):
        for options in (("--hourly", "much"), ("--hourly", "-1"), ("--space-price", "9e9"), ("--clone", "Nobody's"),
                        ("--cut-minutes", "1,5"), ("--on", "yesterday")):
            done = run("cost", self.book, *options)
            self.assertEqual(done.returncode, 2, options)
            self.assertEqual(len(done.stderr.strip().splitlines()), 1, done.stderr)
        self.assertEqual(run("cost", os.path.join(self.folder.name, "none.book")).returncode, 2)


if __name__ == "__main__":
    unittest.main()
