#!/usr/bin/python3
"""Outlook, plan and yields from a book: what they reckoned with is written into a file, and the file alone gives the
same figures; so anyone can check a book's figures with other software. And nonsense is refused in one line."""
import json
import os
import subprocess
import tempfile
import unittest

BINARY = os.environ["MOTHERBULB_BINARY"]


def run(*words):
    return subprocess.run([BINARY, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=240, check=False)


class FromABook(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory(prefix="motherbulb-mathematics-")
        cls.book = os.path.join(cls.folder.name, "demo.book")
        done = run("demo", cls.book)
        if done.returncode != 0:
            raise RuntimeError(done.stderr.decode())
        rows = json.loads(run("stock", cls.book, "--format", "json").stdout)["rows"]
        cls.clones = sorted({row["clone"] for row in rows})

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def path(self, name):
        return os.path.join(self.folder.name, name)

    def answer(self, *words):
        done = run(*words, "--format", "json")
        self.assertEqual(done.returncode, 0, done.stderr.decode())
        return json.loads(done.stdout)

    def test_an_outlook_is_the_one_of_its_file(self):
        for clone in self.clones:
            file = self.path("model.json")
            options = ["--target", "50", "--seasons", "5", "--paths", "500"]
            of_book = self.answer("outlook", self.book, "--clone", clone, "--save-model", file, *options)
            of_file = self.answer("outlook", "--model", file, *options)
            self.assertEqual(of_book["clone"], clone)
            self.assertGreaterEqual(of_book["from_records"], 0)
            self.assertLessEqual(of_book["from_records"], 1)
            self.assertTrue(of_book["missing"])  # no book tells how seasons differ
            self.assertIsNone(of_file["from_records"])
            for field in of_file:
                if field not in ("from_records", "missing"):
                    self.assertEqual(of_book[field], of_file[field], field)
            with open(file, encoding="utf-8") as model:
                self.assert_is_first_season(json.load(model), of_file)

    def assert_is_first_season(self, model, outlook):
        """The mean after one season, by the matrices of the file alone."""
        weights = [year["weight"] for year in model["years"]]
        expected = 0
        for to, row in enumerate(model["classes"]):
            if not row["saleable"]:
                continue
            for year in model["years"]:
                part = year["weight"] / sum(weights)
                for begun, count in enumerate(model["start"]):
                    expected += part * count * (year["survival"][to][begun] + year["increase"][to][begun])
        bad = model.get("bad_event", {"chance": 0, "takes": 0})
        expected *= 1 - bad["chance"] * bad["takes"]
        self.assertAlmostEqual(outlook["seasons"][0]["saleable"]["mean"], expected, delta=1e-9 * max(1, expected))

    def test_a_plan_is_the_one_of_its_file(self):
        for words in (["--by-season", "3"], ["--by-season", "3", "--clone", self.clones[0], "--space", "400"]):
            file = self.path("task.json")
            of_book = self.answer("plan", self.book, "--save-model", file, *words)
            of_file = self.answer("plan", "--model", file)
            self.assertTrue(of_book["feasible"])
            self.assertAlmostEqual(of_book["objective"], of_file["objective"], delta=1e-8 * of_file["objective"] + 1e-9)
            self.assertEqual([row["name"] for row in of_book["beside"]], ["cut all", "cut none", "as last year"])
            for row in of_book["beside"]:
                if row["within_limits"] and row["name"] != "as last year":
                    self.assertLessEqual(row["saleable"], of_book["objective"] * (1 + 1e-8) + 1e-9)
            self.assertTrue(of_book["advice"])
            # Every bulb of today has one act in season 1, in whole bulbs.
            with open(file, encoding="utf-8") as task:
                start = sum(json.load(task)["start"])
            first = [act["count"] for act in of_book["acts"] if act["season"] == 1]
            self.assertEqual(sum(first), start)
            self.assertTrue(all(count == int(count) for count in first))

    def test_a_target_has_a_chance_and_more_certainty_takes_no_less_time(self):
        clone = self.clones[0]
        plain = self.answer("plan", self.book, "--clone", clone, "--target", "200")
        sure = self.answer("plan", self.book, "--clone", clone, "--target", "200", "--sure", "0.9")
        for plan in (plain, sure):
            self.assertTrue(0 <= plan["chance"] <= 1)
            for row in plan["beside"]:
                self.assertTrue(0 <= row["chance"] <= 1)
        self.assertGreaterEqual(sure["chance"], plain["chance"])
        self.assertGreaterEqual(sure["chance"], 0.9)
        self.assertGreaterEqual(sure["seasons"], plain["seasons"])

    def test_a_table_that_names_no_unit_tells_how_bulbs_grow_and_what_cuts_gave(self):
        """Rows of `potted` say sizes or nothing, as a grower writes them; the year after, all is counted by size."""
        rows = ["when,helper,event,clone,genus,batch,pot,parent,method,sections,grade,count",
                "2024-01-10,Ann,begun,Sea Holm,Hippeastrum,M,,,growing-on,,24-26,16",
                "2024-01-12,Ann,begun,Sea Holm,Hippeastrum,C,,M,chipping,8,24-26,4"]
        rows += [f"2024-01-12,Ann,potted,,,M,{pot},,,,24-26,6" for pot in (1, 2)]
        rows += [f"2024-01-12,Ann,potted,,,C,{pot},,,,,16" for pot in (1, 2)]
        for pot in (1, 2):
            rows += [f"2025-01-05,Ann,unpotted,,,M,{pot},,,,26-28,6", f"2025-01-05,Ann,unpotted,,,C,{pot},,,,6-8,30"]
        rows += ["2025-01-06,Ann,potted,,,C,3,,,,6-8,60", "2025-01-06,Ann,potted,,,M,3,,,,26-28,12",
                 "2026-01-05,Ann,unpotted,,,C,3,,,,12-14,60"]
        table, book = self.path("holm.csv"), self.path("holm.book")
        with open(table, "w", encoding="utf-8") as file:
            file.write("\n".join(rows) + "\n")
        done = run("import", book, table)
        self.assertIn(done.returncode, (0, 1), done.stderr)
        row, = self.answer("yields", book, "--clone", "Sea Holm")
        self.assertEqual((row["pots"], row["sections_in"], row["bulblets"]), (2, 32, 60))
        file = self.path("holm.json")
        outlook = self.answer("outlook", book, "--clone", "Sea Holm", "--seasons", "2", "--save-model", file)
        # What stands are 60 bulbs of 12 to 14 cm and 12 of 26 to 28; 60 grew from 6-8 to 12-14.
        self.assertEqual(outlook["projection"][0][7 - 1], 60)
        with open(file, encoding="utf-8") as model:
            model = json.load(model)
        names = [one["name"] for one in model["classes"]]
        column = [row[names.index("6-8")] for row in model["years"][0]["survival"]]
        self.assertGreater(column[names.index("12-14")], 0.8 * sum(column))

    def test_the_first_release_is_the_one_of_the_stated_chance(self):
        """The counts against the quantiles that the outlook states itself, and against a model without chance."""
        sure = self.answer("outlook", self.book, "--clone", self.clones[0], "--seasons", "6", "--wanted", "1",
                           "--sure", "0.95")
        release = sure["release"]
        by = {one["season"]: one["saleable"]["p5"] for one in sure["seasons"]}
        self.assertEqual(len(release["counts"]), min(5, 7 - release["season"]))
        for i, count in enumerate(release["counts"]):
            # 95 of 100 have so many or more: the next above the 5 % that do not exceed p5.
            self.assertGreaterEqual(count, by[release["season"] + i])
        file = self.path("sure.json")
        with open(file, "w", encoding="utf-8") as model:
            json.dump({"classes": [{"name": "any", "saleable": True}], "start": [9],
                       "years": [{"survival": [[1]], "increase": [[0]]}]}, model)
        asked = ["outlook", "--model", file, "--seasons", "7", "--wanted"]
        self.assertEqual(self.answer(*asked, "7", "--reserve", "2")["release"],
                         {"season": 1, "counts": [7, 7, 7, 7, 7]})
        self.assertIsNone(self.answer(*asked, "8", "--reserve", "2")["release"])
        self.assertIn(b"In none of these seasons", run(*asked, "10").stdout)
        for words in (["--wanted", "0"], ["--wanted", "5", "--sure", "1"], ["--sure", "0.5"]):
            self.assertEqual(run("outlook", "--model", file, *words).returncode, 2, words)

    def test_what_cannot_be_says_what_is_in_the_way(self):
        done = run("plan", self.book, "--by-season", "2", "--space", "0", "--format", "json")
        self.assertEqual(done.returncode, 1, done.stderr)
        plan = json.loads(done.stdout)
        self.assertFalse(plan["feasible"])
        self.assertIsNone(plan["objective"])
        self.assertTrue(plan["in_the_way"])
        done = run("plan", self.book, "--target", "999999999", "--clone", self.clones[0])
        self.assertEqual(done.returncode, 1, done.stderr)
        self.assertIn(b"In the way", done.stdout)

    def test_nonsense_is_refused_in_one_line(self):
        for words in (["outlook", self.book], ["outlook", self.book, "--clone", "Nobody"],
                      ["outlook", self.book, "--clone", self.clones[0], "--seasons", "0"],
                      ["outlook", "--model", self.path("none.json")], ["outlook"],
                      ["plan", self.book, "--sure", "2"], ["plan", self.book, "--by-season", "x"],
                      ["plan", self.book, "--clone", "Nobody"], ["plan", self.path("none.book")]):
            done = run(*words)
            self.assertEqual(done.returncode, 2, (words, done.stdout))
            self.assertEqual(len(done.stderr.strip().split(b"\n")), 1, done.stderr)
            self.assertEqual(done.stdout, b"")


if __name__ == "__main__":
    unittest.main()
