#!/usr/bin/python3
"""Plans of 25 clones at once, 10 seasons: ours beside cbc and glpsol called by hand to a gap of 1 %; and one clone of 8
classes with 8 acts each. Seconds of wall clock, in one run. MOTHERBULB_BINARY names the program. mathematics.md, section
8, wants 25 clones within 5 times the better of the two and always a plan with its gap, and one clone within 2 s.
"""
import json
import os
import random
import sys
import tempfile
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "published"))
import plan_check  # noqa: E402: stands beside the tests


def task_of(chance, clones, sizes, ways, seasons):
    classes, start, acts = [], [], []
    for clone in range(clones):
        names = [f"{clone}:{size}" for size in range(sizes)]
        for size, name in enumerate(names):
            classes.append({"name": name, "saleable": size >= sizes - 2})
            start.append(chance.choice([0, chance.randint(0, 40), chance.randint(0, 5)]))
            kept = [[name, round(chance.uniform(0.1, 0.5), 3)]]
            if size + 1 < sizes:
                kept.append([names[size + 1], round(chance.uniform(0.3, 0.5), 3)])
            acts.append({"name": "grow on", "class": name, "space": round(0.1 * (size + 1), 2), "hours": 0.02,
                         "gives": kept})
            for way in range(ways if size >= sizes // 2 else 0):
                acts.append({"name": f"cut in {4 * (way + 1)}", "class": name,
                             "space": round(0.5 * (way + 1) * chance.uniform(0.8, 1.2), 3),
                             "hours": round(0.05 * (way + 1) * chance.uniform(0.8, 1.2), 3),
                             "gives": [[names[0], round(chance.uniform(2, 4) * (way + 1) ** 0.6, 3)],
                                       [names[1], round(chance.uniform(0.5, 2), 3)]]})
            acts.append({"name": "sell", "class": name, "space": 0, "hours": 0.01, "gives": []})
    bulbs = sum(start)
    return {"name": "bench", "classes": classes, "start": start, "acts": acts, "seasons": seasons,
            "limits": {"space": round(bulbs * chance.uniform(0.3, 2), 2), "hours": round(bulbs * chance.uniform(0.05, 0.3), 2)},
            "goal": {"kind": "most_saleable_by"}, "reserve": None}


def seconds_of(call):
    begun = time.perf_counter()
    answer = call()
    return time.perf_counter() - begun, answer


def main():
    chance = random.Random(25)
    missed = 0
    print("      task     ours      cbc   glpsol    ratio to the better      gap of ours")
    with tempfile.TemporaryDirectory(prefix="motherbulb-bench-") as folder:
        for name, clones, ways in [("25 clones", 25, 5)] * 6 + [("8 x 8", 1, 6)] * 6:
            task = task_of(chance, clones, 8, ways, 10)
            path = os.path.join(folder, "task.json")
            with open(path, "w", encoding="ascii") as file:
                json.dump(task, file)
            with open(path + ".lp", "w", encoding="ascii") as file:
                file.write(plan_check.lp_of(task, task["seasons"]))
            ours, answer = seconds_of(lambda: plan_check.ask(path))
            cbc, _ = seconds_of(lambda: plan_check.cbc(path + ".lp", 60, "0.01"))
            glpsol, _ = seconds_of(lambda: plan_check.run(
                ["glpsol", "--lp", path + ".lp", "--mipgap", "0.01", "--tmlim", "60"]))
            gap = f"{answer['gap']:.1e}" if answer["feasible"] else "no plan"
            ratio = ours / min(cbc, glpsol)
            missed += not answer["feasible"] or answer["gap"] > 0.01 or (ratio > 5 if clones > 1 else ours > 2)
            print(f"{name:>10} {ours:8.3f} {cbc:8.3f} {glpsol:8.3f} {ratio:15.2f} {gap:>20}")
    sys.exit(f"{missed} plans miss a bar" if missed else 0)


if __name__ == "__main__":
    main()
