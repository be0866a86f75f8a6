#!/usr/bin/python3
"""The plan to a target as soon as can be, for every clone of the demo, against HiGHS (by SciPy's milp): no plan of fewer
seasons reaches it, and of those that reach it then none takes fewer hours. The task is the one that the program hands
out, written here as rows from section 5 of the mathematics; its bulbs grow by size models, whose gives lie sixteen powers
of ten apart. No code of ours in it.
"""
import json
import os
import subprocess
import sys
import tempfile

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp

sys.dont_write_bytecode = True  # nothing is left behind among the sources
from plan_check import check_rules  # noqa: E402: stands beside this

BINARY = os.environ["MOTHERBULB_BINARY"]
CLONES = ["Eighth Buoy", "Grey Selkie", "Harbour Ember", "Kittiwake Ledge", "Tallow Window"]
TARGETS = [40, 80, 150]
AGREES = 1e-5  # of the hours; HiGHS is content with less than that


def least_hours(task, seasons, target):
    """The fewest hours in which so many stand after so many seasons; None where none do."""
    place = {one["name"]: i for i, one in enumerate(task["classes"])}
    acts = task["acts"]
    rows, low, high = [], [], []
    for season in range(seasons):
        for name, c in place.items():
            row = numpy.zeros(seasons * len(acts))
            for a, act in enumerate(acts):
                if act["class"] == name:
                    row[season * len(acts) + a] = 1
                if season > 0:
                    row[(season - 1) * len(acts) + a] -= sum(mean for to, mean in act["gives"] if to == name)
            # HiGHS, too, takes cells as small as a model's outermost tail for zero.
            row[abs(row) < 1e-9] = 0
            rows.append(row)
            low.append(task["start"][c] if season == 0 else 0)
            high.append(low[-1])
    saleable = {one["name"] for one in task["classes"] if one["saleable"]}
    reached = numpy.zeros(seasons * len(acts))
    for a, act in enumerate(acts):
        reached[(seasons - 1) * len(acts) + a] = sum(mean for to, mean in act["gives"] if to in saleable)
    rows.append(reached)
    low.append(target)
    high.append(numpy.inf)
    hours = numpy.array([act["hours"] for _ in range(seasons) for act in acts])
    whole = numpy.array([1] * len(acts) + [0] * (len(acts) * (seasons - 1)))
    found = milp(hours, constraints=LinearConstraint(numpy.array(rows), low, high), integrality=whole,
                 bounds=Bounds(0, numpy.inf), options={"mip_rel_gap": 1e-7})
    assert found.status in (0, 2), found.message
    return found.fun if found.status == 0 else None


def keeps_the_rules(task, plan):
    """Every rule of section 5, and the target, as plan_check looks at them; says what does not hold."""
    classes = {act["name"]: act["class"] for act in task["acts"]}
    try:
        check_rules(task, {**plan, "acts": [{**one, "grade": classes[one["act"]]} for one in plan["acts"]]})
    except AssertionError as fault:
        print(f"  {fault}")
        return False
    return True


def main():
    with tempfile.TemporaryDirectory() as folder:
        book, model = os.path.join(folder, "demo.book"), os.path.join(folder, "task.json")
        subprocess.run([BINARY, "demo", book, "--on", "2026-11-20"], check=True, stdout=subprocess.DEVNULL)
        wrong = compared = 0
        for clone in CLONES:
            for target in TARGETS:
                said = subprocess.run([BINARY, "plan", book, "--clone", clone, "--target", str(target), "--save-model",
                                       model, "--time-limit", "300", "--format", "json"], check=True, stdout=subprocess.PIPE).stdout
                plan = json.loads(said)
                with open(model, encoding="utf-8") as file:
                    task = json.load(file)
                if plan["seasons"] == 0:  # so many stand already
                    continue
                compared += 1
                takes = {act["name"]: act["hours"] for act in task["acts"]}
                hours = sum(one["count"] * takes[one["act"]] for one in plan["acts"])
                least = least_hours(task, plan["seasons"], target)
                sooner = [n for n in range(1, plan["seasons"]) if least_hours(task, n, target) is not None]
                good = (keeps_the_rules(task, plan) and not sooner and least is not None
                        and hours <= least * (1 + AGREES))
                wrong += not good
                print(f"{clone}, {target}: {plan['seasons']} seasons, {hours:.6f} hours; HiGHS {least}"
                      f"{f', and sooner: {sooner}' if sooner else ''}{'' if good else '  <-- not the least'}")
        sys.exit(1 if wrong or compared < 10 else 0)


if __name__ == "__main__":
    main()
