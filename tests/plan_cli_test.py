#!/usr/bin/python3
"""motherbulb plan from a file, from outside: exit codes, fields, options over the file, words. Figures by hand: a mother is
kept, or cut for 3 small bulbs, of which half are large a season later; a cut takes an hour.
"""
import copy
import json
import os
import subprocess
import tempfile
import unittest

BINARY = os.environ["MOTHERBULB_BINARY"]

TASK = {
    "name": "mothers",
    "classes": [{"name": "small", "saleable": False, "price": None}, {"name": "big", "saleable": True, "price": 4}],
    "start": [0, 4],
    "acts": [
        {"name": "grow on", "class": "small", "space": 0.5, "hours": 0, "gives": [["small", 0.5], ["big", 0.5]]},
        {"name": "grow on", "class": "big", "space": 1, "hours": 0, "gives": [["big", 1]]},
        {"name": "cut in 4", "class": "big", "space": 1, "hours": 1, "gives": [["small", 3]]}],
    "seasons": 2,
    "limits": {"space": None, "hours": None},
    "goal": {"kind": "most_saleable_by"},
    "reserve": None}


class PlanOfAFile(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory(prefix="motherbulb-plan-")
        self.addCleanup(folder.cleanup)
        self.folder = folder.name

    def plan(self, *options, task=None, json_format=True):
        path = os.path.join(self.folder, "task.json")
        with open(path, "w", encoding="utf-8") as file:
            json.dump(task or TASK, file)
        words = [BINARY, "plan", "--model", path, *options] + (["--format", "json"] if json_format else [])
        return subprocess.run(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=60, check=False)

    def answer(self, *options, task=None):
        done = self.plan(*options, task=task)
        self.assertIn(done.returncode, (0, 1), done.stderr)
        answer = json.loads(done.stdout)
        self.assertEqual(done.returncode, 0 if answer["feasible"] else 1)
        return answer

    def test_a_plan_has_its_fields(self):
        answer = self.answer()  # all cut: 4 * 3 / 2
        self.assertAlmostEqual(answer["objective"], 6, delta=1e-9)
        self.assertEqual((answer["feasible"], answer["gap"], answer["seasons"]), (True, 0, 2))
        self.assertEqual([answer[name] for name in ("chance", "release", "advice", "in_the_way")], [None, None, [], []])
        self.assertEqual(answer["acts"][0], {"season": 1, "clone": None, "grade": "big", "act": "cut in 4", "method": None,
                                             "sections": None, "count": 4})
        self.assertEqual(answer["acts"][1]["season"], 2)
        self.assertEqual(len(answer["saleable"]), 2)
        self.assertAlmostEqual(answer["saleable"][1], 6, delta=1e-9)
        self.assertEqual([(row["name"], row["saleable"], row["chance"]) for row in answer["beside"]],
                         [("cut all", 6, None), ("cut none", 4, None)])

    def test_the_command_line_goes_over_the_file(self):
        self.assertAlmostEqual(self.answer("--by-season", "3")["objective"], 9, delta=1e-9)  # 6 + 3 of the small left
        self.assertEqual(self.answer("--target", "5")["objective"], 2)
        self.assertEqual(self.answer("--target", "4")["objective"], 0)
        self.assertAlmostEqual(self.answer("--hours", "2.5")["objective"], 5, delta=1e-9)  # 2 cut, no half one
        self.assertAlmostEqual(self.answer("--reserve", "1")["objective"], 5.5, delta=1e-9)  # 3 cut
        # 12 small want 6 in season 2; c cut want 1.5 c + 4 - c: c = 2 in 5.
        self.assertAlmostEqual(self.answer("--space", "5")["objective"], 5, delta=1e-9)
        task = copy.deepcopy(TASK)
        task["reserve"] = {"class": "small", "count": 4}  # its class stays: 4 of any size, in season 1 the mothers
        self.assertAlmostEqual(self.answer("--reserve", "4", task=task)["objective"], 4, delta=1e-9)

    def test_without_a_plan_it_exits_1_and_says_why(self):
        answer = self.answer("--target", "7")  # 6 is the most
        self.assertEqual((answer["feasible"], answer["objective"], answer["acts"]), (False, None, []))
        self.assertEqual(answer["in_the_way"][0]["limit"], "target")
        self.assertAlmostEqual(answer["in_the_way"][0]["by"], 1, delta=1e-6)
        answer = self.answer("--space", "3", "--by-season", "1")  # 4 mothers want 4
        self.assertEqual([(one["limit"], one["season"]) for one in answer["in_the_way"]], [("space", 1)])
        self.assertAlmostEqual(answer["in_the_way"][0]["by"], 1, delta=1e-6)
        task = copy.deepcopy(TASK)
        del task["acts"][0]
        task["start"] = [2, 4]
        answer = self.answer(task=task)
        self.assertEqual((answer["in_the_way"][0]["limit"], answer["in_the_way"][0]["class"]), ("no act", "small"))
        done = self.plan("--space", "3", json_format=False)
        self.assertEqual(done.returncode, 1)
        self.assertIn("In the way", done.stdout.decode())
        self.assertIn("season 1 it takes 1 more", done.stdout.decode())

    def test_in_words_it_says_what_to_do(self):
        text = self.plan(json_format=False).stdout.decode()
        self.assertIn("Saleable after season 2: 6. No plan gives more.", text)
        self.assertRegex(text, r"4 +big +cut in 4")
        self.assertIn("cut none: 4", text)
        # The class stands beside the act: where the act's name closes with it, it is not said twice.
        task = copy.deepcopy(TASK)
        for act, name in zip(task["acts"], ("grow on small", "grow on big", "cut in 4, big")):
            act["name"] = name
        text = self.plan(task=task, json_format=False).stdout.decode()
        self.assertRegex(text, r"(?m)^ *4 +big +cut in 4$")
        self.assertRegex(text, r"(?m)^ *[0-9]+ +\w+ +grow on$")

    def test_bad_words_exit_2_in_one_line(self):
        for options in (("--by-season", "0"), ("--by-season", "61"), ("--target", "0"), ("--target", "2", "--by-season", "2"),
                        ("--space", "-1"), ("--hours", "many"), ("--reserve", "1.5"), ("--sure", "2"), ("--clone", "Ilo"),
                        ("--time-limit", "soon")):
            done = self.plan(*options)
            self.assertEqual((done.returncode, done.stdout), (2, b""), options)
            self.assertEqual(done.stderr.decode().count("\n"), 1, options)
        task = copy.deepcopy(TASK)
        task["acts"][0]["class"] = "tiny"
        done = self.plan(task=task)
        self.assertEqual(done.returncode, 2)
        self.assertRegex(done.stderr.decode(), r"task\.json: acts\[0\]\.class: .*tiny")
        done = subprocess.run([BINARY, "plan"], stderr=subprocess.PIPE, timeout=60, check=False)
        self.assertEqual(done.returncode, 2)

    def test_what_is_saved_is_the_task_with_the_command_line_s_words(self):
        saved = os.path.join(self.folder, "saved.json")
        first = self.answer("--hours", "2.5", "--save-model", saved)
        with open(saved, encoding="utf-8") as file:
            task = json.load(file)
        self.assertEqual(task["limits"], {"space": None, "hours": 2.5})
        self.assertEqual(task["acts"][2]["gives"], TASK["acts"][2]["gives"])
        self.assertEqual(self.answer(task=task), first)


if __name__ == "__main__":
    unittest.main()
