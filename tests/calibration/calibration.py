#!/usr/bin/python3
"""Do the bands hold what they promise? Invented growers (growers.py), each with a book of ten seasons, are asked for
`yields`, `outlook` and `plan`; then their future is drawn under what is true of them, and counted how often it lies in
the bands of 90 %, and how often a plan is met beside the chance that it states.

    calibration.py GROWERS [SEED]      the long form: writes README.md beside this file
    calibration.py                     a few: only fails where a band is absurd

MOTHERBULB_BINARY names the program. Seasons are few, so a season on the end of its band counts by chance (the
randomised transform of Czado, Gneiting & Held, Biometrics 65, 2009); bulbs and bulblets count whole.
"""
import datetime
import json
import math
import multiprocessing
import os
import subprocess
import sys
import tempfile

import numpy as np

import growers

BINARY = os.environ.get("MOTHERBULB_BINARY", "build/motherbulb")
HORIZON = 6      # seasons of the outlook
OUTLOOKS = 20    # futures of each outlook, under what is true
FUTURES = 100    # of each plan
SHORT = 8        # growers
SURE = 0.8


def ask(*words):
    done = subprocess.run([BINARY, *map(str, words)], capture_output=True, text=True, check=False,
                          env={**os.environ, "TZ": "UTC"})
    if done.returncode not in (0, 1):
        raise RuntimeError(f"{' '.join(map(str, words))}: {done.stderr}")
    return done.stdout


def asked(*words):
    return json.loads(ask(*words, "--format", "json"))


class Tally:
    """How often bands held; what chances were stated, and how often they came true."""

    def __init__(self):
        self.bands, self.stated, self.met = {}, {}, {}

    def add(self, other):
        for own, more in ((self.bands, other.bands), (self.stated, other.stated), (self.met, other.met)):
            for name, values in more.items():
                own.setdefault(name, []).extend(values)

    def band(self, name, low, truth, high):
        self.bands.setdefault(name, []).append((low <= truth <= high, truth < low, truth > high))

    def part(self, name, part):
        self.bands.setdefault(name, []).append((0.05 <= part <= 0.95, part < 0.05, part > 0.95))

    def chance(self, name, stated, met):
        self.stated.setdefault(name, []).append(stated)
        self.met.setdefault(name, []).append(met)


def yields(store, truth, chance, tally):
    for row in asked("yields", store, "--clone", growers.CLONE):
        way, h = truth.ways[row["method"]], truth.h[row["method"]]
        mean = way.mean(row["sections"], row["girth_cm"], h)
        band = row["clone_mean"]
        tally.band("yield: the clone's mean", band["p5"], mean, band["p95"])
        band = row["per_mother"]
        tally.band("yield: the next mother", band["p5"],
                   growers.negative_binomial(chance, mean, row["sections"] * way.f), band["p95"])


def outlook(store, diary, chance, tally):
    target = int(diary.stock()[growers.FOR_SALE].sum() * chance.uniform(2, 12)) + 3
    seasons = asked("outlook", store, "--clone", growers.CLONE, "--seasons", HORIZON, "--paths", 2000, "--target",
                    target)["seasons"]
    shares = {j: cut / stood for j, (cut, stood) in diary.cut_last.items() if stood > 0 and cut > 0}

    def acts(_, j):
        share = shares.get(j, 0)
        return [(share, ("chipping", diary.k)), (1 - share, None)] if share else [(1, None)]

    for _ in range(OUTLOOKS):
        stocks = diary.truth.future(chance, diary.stock(), HORIZON, acts, carried=True)
        for season in (1, 3, 5):
            of = seasons[season - 1]
            stock = stocks[season - 1]
            tally.band(f"stock: all bulbs, season {season}", of["total"]["p5"], stock.sum(), of["total"]["p95"])
            sale = stock[growers.FOR_SALE].sum()
            tally.band(f"stock: saleable, season {season}", of["saleable"]["p5"], sale, of["saleable"]["p95"])
        reached = [stock[growers.FOR_SALE].sum() >= target for stock in stocks]
        when = reached.index(True) if any(reached) else HORIZON
        by = np.maximum.accumulate([of["p_target"] for of in seasons])
        before = by[when - 1] if when > 0 else 0
        until = by[when] if when < HORIZON else 1
        tally.part("time to a target", before + chance.random() * (until - before))
        for season in (2, 4):
            tally.chance(f"outlook: the target met in season {season}", seasons[season - 1]["p_target"],
                         reached[season - 1])


def plan(store, diary, chance, tally, sure):
    stock = diary.stock()
    target = int(stock[growers.FOR_SALE].sum() * chance.uniform(3, 12)) + 5
    pots = int(chance.integers(80, 400))
    words = ["plan", store, "--clone", growers.CLONE, "--target", target, "--space", pots, "--time-limit", 20]
    found = asked(*words, *(["--sure", SURE] if sure else []))
    if not found["feasible"] or found["chance"] is None or not found["acts"]:
        return
    counts = {}
    for act in found["acts"]:
        # What is sold or thrown away is gone: nothing comes of it.
        way = (act["method"], act["sections"]) if act["act"].startswith("cut") else None
        way = "gone" if act["act"].startswith("sell") else way
        counts.setdefault((act["season"], act["grade"]), []).append((act["count"], way))
    seasons = max(act["season"] for act in found["acts"])

    def acts(season, j):
        all_of = counts.get((season, growers.grade(j)), [])
        whole = sum(count for count, _ in all_of)
        return [(count / whole, way) for count, way in all_of] if whole > 0 else [(1, None)]

    met = 0
    for _ in range(FUTURES):
        last = diary.truth.future(chance, stock, seasons, acts)[-1]
        met += last[growers.FOR_SALE].sum() >= target
    tally.chance("plan" + (f", asked to be sure by {SURE}" if sure else ""), found["chance"], met / FUTURES)


def grower(of):
    """What one grower's book tells, beside the truth. Each has a stream of numbers of its own."""
    number, seed = of
    tally = Tally()
    chance = np.random.default_rng([seed, number])
    truth = growers.Truth(chance)
    end = datetime.datetime.now(datetime.timezone.utc).date() - datetime.timedelta(days=1)
    diary = growers.Diary(chance, truth, end)
    diary.keep()
    with tempfile.TemporaryDirectory(prefix="motherbulb-grower-") as folder:
        store, table = os.path.join(folder, "grower.book"), os.path.join(folder, "grower.csv")
        diary.save(table)
        ask("import", store, table)
        yields(store, truth, chance, tally)
        if diary.stock().sum() > 0:
            outlook(store, diary, chance, tally)
            plan(store, diary, chance, tally, sure=False)
            plan(store, diary, chance, tally, sure=True)
    return tally


def report(tally):
    lines = ["| band of 90 % | truths | holds | truth below | truth above |", "| --- | --- | --- | --- | --- |"]
    for name, held in tally.bands.items():
        n = len(held)
        inside, below, above = (100 * sum(one[i] for one in held) / n for i in range(3))
        lines.append(f"| {name} | {n} | {inside:.1f} % | {below:.1f} % | {above:.1f} % |")
    lines += ["", "| chance | stated | mean of them | met | apart |", "| --- | --- | --- | --- | --- |"]
    for name, stated in tally.stated.items():
        said, came = 100 * np.mean(stated), 100 * np.mean(tally.met[name])
        lines.append(f"| {name} | {len(stated)} | {said:.1f} % | {came:.1f} % | {came - said:+.1f} |")
    return "\n".join(lines)


HEAD = """# Calibration

What the bands and chances of `yields`, `outlook` and `plan` are worth, written by `calibration.py {count} {seed}` on {date}.
{count} invented growers: what is true of each is drawn from the priors (mathematics.md, sections 1 and 2), then ten seasons
of its records are, with pots that nobody took up, losses that nobody wrote down, and a bench that is struck. The program
has only the records. What comes after is drawn under the truth, cut as in the last year ({outlooks} futures of each
outlook), or as the plan says ({futures} futures of each plan). Wanted: bands of 90 % hold 85 to 95 % of the truths; a
stated chance is within 5 points of how often it is met.

"""


def chance_of_so_few(held, count, chance):
    """Of a band that holds with this chance: that it holds so few of so many."""
    return sum(math.comb(count, i) * chance ** i * (1 - chance) ** (count - i) for i in range(held + 1))


def absurd(tally, growers_asked):
    """Bands that hold far less than they promise: by chance once in ten thousand, were it 80 %. Futures of one grower
    count as one truth: they hold or fail together.
    """
    for name, held in tally.bands.items():
        inside = math.ceil(sum(one[0] for one in held) / len(held) * growers_asked)
        if chance_of_so_few(inside, growers_asked, 0.8) < 1e-4:
            yield f"{name}: holds {inside} of {growers_asked}"


def write_table(tally, count, seed):
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "README.md")
    date = datetime.date.today().isoformat()
    with open(path, "w", encoding="utf-8") as file:
        file.write(HEAD.format(count=count, seed=seed, date=date, outlooks=OUTLOOKS, futures=FUTURES) + report(tally) + "\n")


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else SHORT
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    print(f"{count} growers, seed {seed}", flush=True)
    tally = Tally()
    with multiprocessing.Pool(os.cpu_count() or 1) as pool:
        for done, one in enumerate(pool.imap(grower, [(number, seed) for number in range(count)]), 1):
            tally.add(one)
            # A run that is ended early leaves what it found.
            if len(sys.argv) > 1 and (done % 20 == 0 or done == count):
                write_table(tally, done, seed)
    print(report(tally))
    wrong = list(absurd(tally, count))
    sys.exit("\n".join(wrong) if wrong else 0)


if __name__ == "__main__":
    main()
