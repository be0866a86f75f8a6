#!/usr/bin/python3
"""10,000 paths of 10 seasons and 8 classes: CPU seconds of ours, of NumPy's vectorised draws, and of a bare C++ loop by
inversion, for one model in one run; and the exact chance of loss. MOTHERBULB_BINARY names the program. Ours is outlook
with so many paths less outlook with one. mathematics.md, section 8, wants at most 0.3 s, half of NumPy's and 1.5 times the
bare loop's; the chance of loss under 0.01 s.
"""
import json
import os
import resource
import subprocess
import sys
import tempfile
import time

import numpy as np

BINARY = os.environ["MOTHERBULB_BINARY"]
K, PATHS, SEASONS, PLACES = 8, 10_000, 10, 4
CHANCE, TAKES = 0.05, 0.4


def model():
    years = []
    for name, weight, loss in (("ordinary", 9, 0.1), ("bad", 1, 0.3)):
        survival = [[0.0] * K for _ in range(K)]
        increase = [[0.0] * K for _ in range(K)]
        for j in range(K):
            for i, share in ((j, 0.5), (min(j + 1, K - 1), 0.3), (min(j + 2, K - 1), 0.2)):
                survival[i][j] += (1 - loss) * share
        for j in (6, 7):
            increase[0][j], increase[1][j] = 0.5, 0.3
        years.append({"name": name, "weight": weight, "survival": survival, "increase": increase})
    return {"name": "bench", "classes": [{"name": str(i), "saleable": i >= 6} for i in range(K)],
            "start": [20, 10, 10, 8, 8, 6, 6, 4], "years": years, "increase_law": "poisson",
            "places": [1 / PLACES] * PLACES, "bad_event": {"chance": CHANCE, "takes": TAKES}}


def numpy_paths(of):
    chance = np.random.default_rng(1)
    survival = [np.array(year["survival"]).T for year in of["years"]]
    increase = [np.array(year["increase"]).T for year in of["years"]]
    stock = np.tile(np.array(of["start"]), (PATHS, 1))
    for _ in range(SEASONS):
        bad = chance.random(PATHS) < 0.1
        struck = chance.binomial(PLACES, CHANCE, PATHS) / PLACES
        stock = stock - chance.binomial(stock, (struck * TAKES)[:, None])
        following = np.zeros_like(stock)
        for year, rows in ((0, ~bad), (1, bad)):
            for j in range(K):
                column = survival[year][j]
                drawn = chance.multinomial(stock[rows, j], np.append(column, 1 - column.sum()))
                following[rows] += drawn[:, :K]
                for i in np.flatnonzero(increase[year][j]):
                    following[rows, i] += chance.poisson(stock[rows, j] * increase[year][j][i])
        stock = following
    return stock


BARE = """
#include <cmath>
#include <cstdio>
#include <ctime>
#include <random>
const int K = 8;
std::mt19937_64 random_bits(1);
double part() { return static_cast<double>(random_bits() >> 11) * 0x1.0p-53; }
long binomial(long n, double p) {
  if (n == 0 || p <= 0) return 0;
  if (p >= 1) return n;
  bool turned = p > 0.5;
  double q = turned ? 1 - p : p, odds = q / (1 - q), chance = std::exp(n * std::log1p(-q)), left = part();
  long count = 0;
  while (count < n && left >= chance) { left -= chance; chance *= odds * (n - count) / (count + 1); ++count; }
  return turned ? n - count : count;
}
long poisson(double mean) {
  double chance = std::exp(-mean), left = part();
  long count = 0;
  while (left >= chance && count < 1000) { left -= chance; ++count; chance *= mean / count; }
  return count;
}
int main() {
  SURVIVAL INCREASE START
  clock_t begun = clock();
  double total = 0;
  for (int path = 0; path < PATHS; ++path) {
    long stock[K], next[K];
    for (int i = 0; i < K; ++i) stock[i] = start[i];
    for (int season = 0; season < SEASONS; ++season) {
      int year = part() < 0.1, struck = 0;
      for (int place = 0; place < PLACES; ++place) struck += part() < CHANCE;
      for (int i = 0; i < K; ++i) next[i] = 0;
      for (int j = 0; j < K; ++j) {
        long bulbs = stock[j];
        if (struck) bulbs -= binomial(bulbs, TAKES * struck / PLACES);
        long left = bulbs;
        double whole = 1;
        for (int i = 0; i < K; ++i) {
          double p = survival[year][j][i];
          if (p <= 0) continue;
          long count = binomial(left, p / whole);
          next[i] += count; left -= count; whole -= p;
        }
        for (int i = 0; i < K; ++i) if (increase[year][j][i] > 0) next[i] += poisson(bulbs * increase[year][j][i]);
      }
      for (int i = 0; i < K; ++i) stock[i] = next[i];
    }
    for (int i = 0; i < K; ++i) total += stock[i];
  }
  std::printf("%g %g\\n", static_cast<double>(clock() - begun) / CLOCKS_PER_SEC, total / PATHS);
}
"""


def bare(of, folder):
    def table(name, field):
        rows = [[list(column) for column in zip(*year[field])] for year in of["years"]]
        text = json.dumps(rows).replace("[", "{").replace("]", "}")
        return f"static const double {name}[2][K][K] = {text};"

    text = BARE
    for word, value in (("SURVIVAL", table("survival", "survival")), ("INCREASE", table("increase", "increase")),
                        ("START", "static const long start[K] = {" + ",".join(map(str, of["start"])) + "};"),
                        ("PATHS", PATHS), ("SEASONS", SEASONS), ("PLACES", PLACES), ("CHANCE", CHANCE),
                        ("TAKES", TAKES)):
        text = text.replace(word, str(value))
    source, program = os.path.join(folder, "bare.cpp"), os.path.join(folder, "bare")
    with open(source, "w", encoding="ascii") as file:
        file.write(text)
    subprocess.run(["g++", "-O2", "-std=c++20", source, "-o", program], check=True)
    seconds, mean = subprocess.run([program], capture_output=True, text=True, check=True).stdout.split()
    return float(seconds), float(mean)


def ours(path, paths):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run([BINARY, "outlook", "--model", path, "--seasons", str(SEASONS), "--paths", str(paths), "--format",
                           "json"], capture_output=True, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    seconds = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return seconds, json.loads(done.stdout)["seasons"][-1]["total"]["mean"]


def main():
    of = model()
    with tempfile.TemporaryDirectory(prefix="motherbulb-bench-") as folder:
        path = os.path.join(folder, "model.json")
        with open(path, "w", encoding="ascii") as file:
            json.dump(of, file)
        rounds = []
        for _ in range(3):
            many, mean = ours(path, PATHS)
            one, _ = ours(path, 1)
            begun = time.process_time()
            stock = numpy_paths(of)
            by_numpy = time.process_time() - begun
            by_loop, mean_by_loop = bare(of, folder)
            rounds.append((many - one, by_numpy, by_loop, one))
        mine, by_numpy, by_loop, rest = (sorted(column)[1] for column in zip(*rounds))
        print(f"10,000 paths x 10 seasons x 8 classes: {mine:.3f} s of CPU; NumPy {by_numpy:.3f} s (ours is "
              f"{mine / by_numpy:.2f} of it, wanted 0.5), bare loop {by_loop:.3f} s ({mine / by_loop:.2f} of it, wanted 1.5)")
        print(f"all of outlook but its paths, with eleven chances of loss: {rest:.3f} s")
        print(f"bulbs in the mean: {mean:.2f} exact, {stock.sum(axis=1).mean():.2f} NumPy, {mean_by_loop:.2f} bare loop")
        sys.exit(0 if mine <= 0.3 and mine <= 0.5 * by_numpy and mine <= 1.5 * by_loop else "a bar is missed")


if __name__ == "__main__":
    main()
