#!/usr/bin/python3
"""Plans of random tasks against two general solvers, glpsol and cbc, which are handed the same task as an LP file that is
written here from section 5 of the mathematics; and every plan against each of its rules, one by one. No code of ours in
it. The seed is printed; PLAN_CHECK_SEED gives it again.
"""
import concurrent.futures
import json
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile

BINARY = os.environ["MOTHERBULB_BINARY"]
HOW_MANY = 2000 if os.environ.get("MOTHERBULB_LONG") else 200
AGREES = 1e-8  # of the objective
# Thousands of bulbs and few acts make a knapsack whose last bits take longer than a grower waits: then the plan says how
# much may be missing, and it is next to nothing. Such are few.
NEXT_TO_NOTHING = 1e-6
# Tasks that once showed a fault, ours or a solver's, looked at each time. 595754710268: the cuts of cbc's preprocessing
# find no plan where there is one.
ONCE_AT_FAULT = [595754710268]


# ---------------------------------------------------------------------------------------------------- random tasks

def random_task(chance):
    clones = 25 if chance.random() < 0.05 else chance.choice([1, 1, 1, 2, 3])
    sizes = chance.randint(4, 6) if clones == 25 else chance.randint(2, 8 // clones + 1)
    seasons = chance.randint(2, 6) if clones < 3 else chance.randint(2, 4)
    scale = chance.choice([3, 30, 30, 300, 100_000]) if clones < 25 else 30
    classes, start, acts = [], [], []
    for clone in range(clones):
        names = [f"{clone}:{size}" for size in range(sizes)]
        for size in range(sizes):
            classes.append({"name": names[size], "saleable": size >= sizes - chance.randint(1, 2),
                            "price": round(chance.uniform(1, 20) * (size + 1), 2)})
            start.append(chance.choice([0, chance.randint(0, 5), chance.randint(0, scale)]))
            kept = [[names[size], round(chance.uniform(0.2, 0.7), 3)]]
            if size + 1 < sizes:
                kept.append([names[size + 1], round(chance.uniform(0.2, 0.5), 3)])
            acts.append({"name": "grow on", "class": names[size], "space": round(0.3 * (size + 1), 2),
                         "hours": round(chance.uniform(0.01, 0.05), 3), "gives": kept})
            for way in range(chance.randint(0, 3) if size >= sizes // 2 else 0):
                acts.append({"name": f"cut in {4 * (way + 1)}", "class": names[size],
                             "space": round(chance.uniform(0.3, 1.2) * (way + 1), 3),
                             "hours": round(chance.uniform(0.05, 0.2) * (way + 1), 3),
                             "cost": round(chance.uniform(0, 0.5), 2),
                             "gives": [[names[0], round(chance.uniform(1, 4) * (way + 1) ** 0.5, 3)],
                                       [names[1], round(chance.uniform(0, 2), 3)]]})
            if chance.random() < 0.8:
                acts.append({"name": "sell", "class": names[size], "space": 0, "hours": 0.01, "gives": []})
    if chance.random() < 0.08:  # a class that nothing is named for
        gone = chance.choice(classes)["name"]
        acts = [act for act in acts if act["class"] != gone]
    bulbs = sum(start)
    limits = {"space": chance.choice([None, round(bulbs * chance.uniform(0.1, 2), 2)]),
              "hours": chance.choice([None, round(bulbs * chance.uniform(0.005, 0.3), 3)])}
    if chance.random() < 0.1:
        limits["space"] = [round(bulbs * chance.uniform(0.3, 2), 2) for _ in range(seasons)]
    goal = chance.choice([{"kind": "most_saleable_by"}, {"kind": "most_saleable_by"},
                          {"kind": "fewest_seasons_to", "target": max(1, int(bulbs * chance.uniform(0.05, 1)))},
                          {"kind": "most_money", "interest": round(chance.uniform(0, 0.2), 3),
                           "wage": round(chance.uniform(0, 30), 2), "rent": round(chance.uniform(0, 2), 2)}])
    if clones == 25:
        goal = {"kind": "most_saleable_by"}
    reserve = None
    if chance.random() < 0.4:
        reserve = {"class": chance.choice(classes)["name"], "count": chance.randint(0, max(1, bulbs // 8))}
    return {"name": "random", "classes": classes, "start": start, "acts": acts, "seasons": seasons, "limits": limits,
            "goal": goal, "reserve": reserve}


# ------------------------------------------------------------------------------------------- the rules, in LP's words

def limit_in(limit, season):
    return limit[season - 1] if isinstance(limit, list) else limit


def kind_of(act):
    return "cut" if act["name"].startswith("cut") else "sell" if act["name"].startswith("sell") else "keep"


def kept_for_reserve(task):
    """The acts that the reserve counts: neither cut nor sold, of its class or a later one."""
    order = [one["name"] for one in task["classes"]]
    first = order.index(task["reserve"]["class"])
    return [a for a, act in enumerate(task["acts"])
            if kind_of(act) == "keep" and order.index(act["class"]) >= first]


def money(task, act):
    goal = task["goal"]
    price = {one["name"]: one["price"] for one in task["classes"]}[act["class"]] if kind_of(act) == "sell" else 0
    return price - goal["wage"] * act["hours"] - goal["rent"] * act["space"] - act.get("cost", 0)


def terms(pairs):
    text = "".join(f" {'-' if number < 0 else '+'} {abs(number)!r} {name}\n" for number, name in pairs if number != 0)
    return text or " 0 x_1_0\n"


def lp_of(task, seasons, lacking=False):
    """The task for so many seasons; with `lacking`, what is missing of each limit is made least, each by its limit."""
    names = [one["name"] for one in task["classes"]]
    rows, weights, bounds = [], [], []

    def row(pairs, sign, bound):
        if any(number for number, _ in pairs) or bound:
            rows.append(terms(pairs) + f" {sign} {bound!r}\n")

    for t in range(1, seasons + 1):
        for c, name in enumerate(names):
            there = [(1, f"x_{t}_{a}") for a, act in enumerate(task["acts"]) if act["class"] == name]
            row(there + [(-1, f"n_{t}_{c}")], "=", 0)
            row([(1, f"n_{t + 1}_{c}")] + [(-mean, f"x_{t}_{a}") for a, act in enumerate(task["acts"])
                                           for to, mean in act["gives"] if to == name], "=", 0)
        for what in ("space", "hours"):
            bound = limit_in(task["limits"][what], t)
            used = [(act[what], f"x_{t}_{a}") for a, act in enumerate(task["acts"])]
            if bound is not None and any(number for number, _ in used):
                if lacking:
                    used.append((-1, f"lack_{what}_{t}"))
                    weights.append((1 / max(1, bound), f"lack_{what}_{t}"))
                row(used, "<=", bound)
        if task["reserve"] and task["reserve"]["count"] > 0:
            kept = [(1, f"x_{t}_{a}") for a in kept_for_reserve(task)]
            if lacking:
                kept.append((1, f"lack_reserve_{t}"))
                weights.append((1 / max(1, task["reserve"]["count"]), f"lack_reserve_{t}"))
            row(kept, ">=", task["reserve"]["count"])
    for c, count in enumerate(task["start"]):
        bounds.append(f" n_1_{c} = {count}\n")
    if lacking:
        goal = weights
    elif task["goal"]["kind"] == "most_money":
        worth = 1 / (1 + task["goal"]["interest"])
        goal = [(worth ** t * money(task, act), f"x_{t}_{a}")
                for t in range(1, seasons + 1) for a, act in enumerate(task["acts"])]
    else:
        goal = [(1, f"n_{seasons + 1}_{c}") for c, one in enumerate(task["classes"]) if one["saleable"]]
    whole = "".join(f" x_1_{a}\n" for a in range(len(task["acts"])))
    return (f"{'Minimize' if lacking else 'Maximize'}\n goal:\n{terms(goal)}Subject To\n"
            + "".join(f" r{i}:\n{text}" for i, text in enumerate(rows))
            + "Bounds\n" + "".join(bounds) + "Generals\n" + whole + "End\n")


# ----------------------------------------------------------------------------------------------------- the solvers

def run(words, seconds=120):
    return subprocess.run(words, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=seconds, check=False).stdout.decode()


def glpsol(path, seconds):
    """(status, objective): optimal, found, infeasible or unknown."""
    answer = path + ".glpsol"
    said = run(["glpsol", "--lp", path, "--mipgap", "0", "--tmlim", str(seconds), "-w", answer])
    if "NO PRIMAL FEASIBLE" in said or "NO INTEGER FEASIBLE" in said or "NO FEASIBLE SOLUTION" in said:
        return "infeasible", None
    try:
        with open(answer, encoding="ascii") as file:
            line = next(line for line in file if line.startswith("s mip"))
    except (OSError, StopIteration):
        return "unknown", None
    status, objective = line.split()[4], float(line.split()[5])
    return {"o": "optimal", "f": "found", "n": "infeasible"}.get(status, "unknown"), objective


def cbc(path, seconds, ratio="0", preprocess=True):
    said = run(["cbc", path, "-primalT", "1e-9", "-dualT", "1e-9", "-integerT", "1e-9", "-ratioGap", ratio,
                "-allowableGap", "0", "-increment", "1e-11", "-sec", str(seconds),
                *([] if preprocess else ["-preprocess", "off"]), "-solve", "-quit"])
    if re.search(r"infeasible", said, re.IGNORECASE) and "Objective value:" not in said:
        # Its preprocessing alone is not taken at its word.
        return cbc(path, seconds, ratio, preprocess=False) if preprocess else ("infeasible", None)
    found = re.search(r"^Objective value:\s+(\S+)", said, re.MULTILINE)
    if not found:
        return "unknown", None
    best = "optimal" if "Result - Optimal solution found" in said and ratio == "0" else "found"
    return best, abs(float(found.group(1)))


# ------------------------------------------------------------------------------------------------------- our plan

def ask(path, *options):
    done = subprocess.run([BINARY, "plan", "--model", path, "--format", "json", *options], stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, timeout=120, check=False)
    if done.returncode not in (0, 1):
        raise AssertionError(f"exit {done.returncode}: {done.stderr.decode()}")
    answer = json.loads(done.stdout)
    assert done.returncode == (0 if answer["feasible"] else 1), "exit code and answer differ"
    return answer


def expect(true, what):
    if not true:
        raise AssertionError(what)


def near(a, b, part):
    return abs(a - b) <= part * max(1, abs(a), abs(b))


def check_rules(task, answer):
    """Every rule of section 5, of the acts as printed; gives the objective that they earn."""
    index = {(act["name"], act["class"]): a for a, act in enumerate(task["acts"])}
    names = [one["name"] for one in task["classes"]]
    given = [[0.0] * len(task["acts"]) for _ in range(answer["seasons"])]
    for one in answer["acts"]:
        given[one["season"] - 1][index[one["act"], one["grade"]]] += one["count"]
    stock, earned = list(map(float, task["start"])), 0.0
    for t, acts in enumerate(given, 1):
        expect(min(acts, default=0) >= 0, "fewer than no bulbs")
        expect(t > 1 or all(count == int(count) for count in acts), "parts of bulbs in season 1")
        for c, name in enumerate(names):
            parted = sum(count for count, act in zip(acts, task["acts"]) if act["class"] == name)
            expect(near(parted, stock[c], 1e-9), f"season {t}: {parted} of {stock[c]} bulbs of {name} have an act")
        for what in ("space", "hours"):
            bound = limit_in(task["limits"][what], t)
            used = sum(act[what] * count for count, act in zip(acts, task["acts"]))
            expect(bound is None or used <= bound + 2e-9 * max(1, bound), f"season {t}: {what} {used} above {bound}")
        if task["reserve"]:
            kept = sum(acts[a] for a in kept_for_reserve(task))
            least = task["reserve"]["count"]
            expect(kept >= least - 2e-9 * max(1, least), f"season {t}: reserve {kept} below {least}")
        if task["goal"]["kind"] == "most_money":
            earned += sum(money(task, act) * count for count, act in zip(acts, task["acts"])) \
                / (1 + task["goal"]["interest"]) ** t
        stock = [sum(mean * count for count, act in zip(acts, task["acts"]) for to, mean in act["gives"] if to == name)
                 for name in names]
    saleable = sum(count for count, one in zip(stock, task["classes"]) if one["saleable"])
    if answer["seasons"]:
        expect(near(answer["saleable"][-1], saleable, 1e-10), "the saleable are not those of the acts")
    if task["goal"]["kind"] == "most_money":
        return earned
    if task["goal"]["kind"] == "fewest_seasons_to":
        expect(saleable >= task["goal"]["target"] * (1 - 1e-9), f"{saleable} do not reach the target")
        return answer["seasons"]
    return saleable


# ----------------------------------------------------------------------------------------------------- comparing

def solve_both(task, path, seasons, seconds):
    with open(path, "w", encoding="ascii") as file:
        file.write(lp_of(task, seasons))
    return [glpsol(path, seconds), cbc(path, seconds)]


def compare(task, answer, best, seconds):
    """`best` are the solvers' answers. Where one has proven its own, ours is the same, or nearer to the true one."""
    proven = [objective for status, objective in best if status == "optimal"]
    found = [objective for status, objective in best if status in ("optimal", "found")]
    if any(status == "infeasible" for status, _ in best):
        expect(not found, f"the solvers disagree: {best}")
        expect(not answer["feasible"], f"infeasible says {best}, ours is {answer['objective']}")
        return
    expect(answer["feasible"], f"a plan of {best} is called infeasible: {answer['in_the_way']}")
    objective = answer["objective"]
    for other in found:
        other_is = abs(other) * (1 if objective >= 0 else -1)
        short = other_is - objective
        expect(short <= (AGREES + answer["gap"]) * max(1, abs(other)), f"ours {objective!r}, theirs {other!r}")
    if proven:
        # A solver's own tolerance (1e-7) may let it stop short of the best; a plan that keeps every rule may not pass
        # what both allow by more than that.
        most = max(abs(one) for one in proven) * (1 if objective >= 0 else -1)
        expect(objective - most <= 3e-7 * max(1, abs(most)), f"ours {objective!r} beyond theirs {most!r}")
        if objective - most > AGREES * max(1, abs(most)):
            print(f"note: ours {objective!r} is better than both, {proven}")


def check_fewest(task, answer, path, seconds):
    target = task["goal"]["target"]
    if sum(count for count, one in zip(task["start"], task["classes"]) if one["saleable"]) >= target:
        expect(answer["feasible"] and answer["objective"] == 0, "the target stands already")
        return
    for seasons in range(1, task["seasons"] + 1):
        best = solve_both(task, path, seasons, seconds)
        if any(status == "infeasible" for status, _ in best):
            break
        most = max(objective for _, objective in best)
        if most >= target * (1 - 1e-9):
            expect(answer["feasible"] and answer["objective"] == seasons,
                   f"{seasons} seasons reach {most} of {target}; ours says {answer['objective']}")
            return
    expect(not answer["feasible"] and answer["objective"] is None, "no number of seasons reaches the target")


def check_in_the_way(task, answer, path, seconds):
    """What is missing is enough, and as little as can be, each by its limit; a class without an act is named first."""
    expect(answer["in_the_way"], "nothing is said to be in the way")
    kinds = {one["limit"] for one in answer["in_the_way"]}
    if kinds & {"target", "no act"}:
        return
    with open(path, "w", encoding="ascii") as file:
        file.write(lp_of(task, answer["seasons"], lacking=True))
    status, least = glpsol(path, seconds)
    if status != "optimal":
        return
    whole = {"space": lambda t: limit_in(task["limits"]["space"], t), "hours": lambda t: limit_in(task["limits"]["hours"], t),
             "reserve": lambda _: task["reserve"]["count"]}
    said = sum(one["by"] / max(1, whole[one["limit"]](one["season"])) for one in answer["in_the_way"])
    expect(near(said, least, 1e-5), f"{said} is said to be missing, {least} is")


def check_one(seed, folder):
    chance = random.Random(seed)
    task = random_task(chance)
    large = len(task["classes"]) >= 100
    path = os.path.join(folder, f"{seed}.json")
    with open(path, "w", encoding="ascii") as file:
        json.dump(task, file)
    answer = ask(path)
    kind = task["goal"]["kind"]
    seconds = 4 if large else 20
    if answer["feasible"]:
        earned = check_rules(task, answer)
        expect(near(earned, answer["objective"], 1e-10), f"the acts earn {earned!r}, not {answer['objective']!r}")
        expect(answer["proven"] == (answer["gap"] == 0), f"proven, with gap {answer['gap']}")
        expect(answer["gap"] <= (0.01 if large else NEXT_TO_NOTHING), f"gap {answer['gap']}")
    if kind == "fewest_seasons_to":
        check_fewest(task, answer, path + ".lp", seconds)
    else:
        compare(task, answer, solve_both(task, path + ".lp", task["seasons"], seconds), seconds)
    if not answer["feasible"]:
        check_in_the_way(task, answer, path + ".lp", seconds)
    return kind, answer["feasible"], large, answer["feasible"] and not large and not answer["proven"]


def main():
    for solver in ("glpsol", "cbc"):
        if not shutil.which(solver):
            sys.exit(f"{solver} is missing; tests/packages names its package")
    seed = int(os.environ.get("PLAN_CHECK_SEED", 0)) or random.SystemRandom().randrange(1 << 32)
    print("seed", seed)
    seeds = ONCE_AT_FAULT + random.Random(seed).sample(range(1 << 40), HOW_MANY)
    faults, seen, unproven = [], {}, 0
    with tempfile.TemporaryDirectory(prefix="motherbulb-plan-") as folder, \
            concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as workers:
        waiting = {workers.submit(check_one, one, folder): one for one in seeds}
        for done in concurrent.futures.as_completed(waiting):
            try:
                *sort, left_open = done.result()
                sort = tuple(sort)
                unproven += left_open
                seen[sort] = seen.get(sort, 0) + 1
            except Exception as fault:  # one that fails must not hide the others
                faults.append(f"task {waiting[done]}: {fault}")
    for sort, count in sorted(seen.items()):
        print(f"{count:5} {sort[0]}, {'with' if sort[1] else 'without'} a plan{', 25 clones' if sort[2] else ''}")
    print("\n".join(faults))
    feasible = sum(count for sort, count in seen.items() if sort[1])
    enough = feasible >= HOW_MANY // 4 and HOW_MANY - feasible >= HOW_MANY // 20
    if not enough:
        print("the tasks are too much alike: few with, or few without a plan")
    if unproven > HOW_MANY // 50:
        faults.append("too many plans are not proven")
        print(f"{unproven} plans of few clones are not proven")
    sys.exit(1 if faults or not enough else 0)


if __name__ == "__main__":
    if len(sys.argv) == 3:  # one task again, with its files kept: SEED FOLDER
        print(check_one(int(sys.argv[1]), sys.argv[2]))
    else:
        main()
