#!/usr/bin/python3
"""Growth rates, stable stages, reproductive values, damping, periods and elasticities of 1,000 random matrices, as the
program says them, against reckonings that share nothing with it but the definitions:

- stable stages and values from powers of the whole matrix by squaring, A^(2^160) or A^(2^60), in mpmath's long
  numbers. All terms are 0 or more, so nothing cancels; chains of blocks of one rate and periodic matrices are as true as
  others.
- blocks from the closure of who leads to whom (Warshall), rates and damping from their eigenvalues by mpmath's QR in 300
  digits, periods from how many of them stand on the circle of the rate.

Reducible, periodic, nilpotent, nearly defective matrices and chains of thirty classes are among them; then all primitive
ones of ordinary entries once more by SciPy. The seed is printed; MOTHERBULB_SEED repeats it.
"""
import json
import math
import os
import random
import subprocess
import tempfile
import unittest

import numpy
import scipy.linalg
from mpmath import mp, mpf

BINARY = os.environ["MOTHERBULB_BINARY"]
SEED = int(os.environ.get("MOTHERBULB_SEED", random.SystemRandom().randrange(1 << 32)))
RELATIVE = 1e-8
MATRICES = 1000

mp.dps = 50


def ask(folder, matrix, start):
    path = os.path.join(folder, "model.json")
    size = len(matrix)
    with open(path, "w") as file:
        json.dump({"name": "random", "classes": [{"name": f"c{i}", "saleable": True} for i in range(size)],
                   "start": start, "years": [{"name": "every", "weight": 1, "matrix": matrix}],
                   "increase_law": "poisson"}, file)
    done = subprocess.run([BINARY, "outlook", "--model", path, "--seasons", "1", "--format", "json"],
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=120)
    if done.returncode != 0:
        raise AssertionError(done.stderr.decode())
    return json.loads(done.stdout)


# ---------------------------------------------------------------------------------------------- the matrices

def dense(chance, size):
    return [[chance.uniform(0, 1.2) for _ in range(size)] for _ in range(size)]


def sparse(chance, size):
    return [[chance.uniform(0, 2) if chance.random() < 0.35 else 0.0 for _ in range(size)] for _ in range(size)]


def wide(chance, size):
    """Entries from 1e-12 to 1e3 in one matrix."""
    return [[10 ** chance.uniform(-12, 3) if chance.random() < 0.5 else 0.0 for _ in range(size)] for _ in range(size)]


def grades(chance, size):
    """As bulbs are: most stay or grow by one grade, the large ones increase."""
    made = [[0.0] * size for _ in range(size)]
    for i in range(size):
        made[i][i] = chance.uniform(0, 0.9)
        if i + 1 < size:
            made[i + 1][i] = chance.uniform(0, 0.9)
        if i > size // 2:
            made[0][i] = chance.uniform(0, 12)
    return made


def nilpotent(chance, size):
    order = list(range(size))
    chance.shuffle(order)
    made = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(i):
            if chance.random() < 0.6:
                made[order[i]][order[j]] = 10 ** chance.uniform(-6, 2)
    return made


def periodic(chance, size):
    """Classes in turns: each leads to those of the next turn only; and some that only lead there or come from there."""
    turns = chance.randint(2, max(2, size // 2))
    turn = [i % turns for i in range(size)]
    chance.shuffle(turn)
    return [[10 ** chance.uniform(-3, 2) if turn[to] == (turn[of] + 1) % turns and chance.random() < 0.8 else 0.0
             for of in range(size)] for to in range(size)]


def of_one_rate(chance, size):
    """Blocks whose rates are the same double, one after the other and side by side."""
    made = [[0.0] * size for _ in range(size)]
    rate = chance.choice([0.5, 0.9, 0.123, 1.75])
    for i in range(size):
        made[i][i] = rate if chance.random() < 0.5 else chance.uniform(0, 0.95) * rate
        for j in range(i):
            if chance.random() < 0.4:
                made[i][j] = chance.uniform(0, 3)
    return made


def nearly_defective(chance, size):
    """A chain of classes of nearly one rate, with now and then a hair of a way back."""
    made = [[0.0] * size for _ in range(size)]
    rate = chance.uniform(0.3, 1.1)
    for i in range(size):
        made[i][i] = rate * (1 + 10 ** chance.uniform(-9, -5))
        if i > 0:
            made[i][i - 1] = chance.uniform(0.1, 2)
    if chance.random() < 0.5:
        made[0][size - 1] = 10 ** chance.uniform(-25, -10)
    return made


def with_zeros(chance, size):
    """Products of a tall and a flat table of small whole numbers: exact zeros among the eigenvalues."""
    rank = chance.randint(1, max(1, size - 1))
    tall = [[chance.randint(0, 3) for _ in range(rank)] for _ in range(size)]
    flat = [[chance.randint(0, 3) for _ in range(size)] for _ in range(rank)]
    return [[sum(tall[i][r] * flat[r][j] for r in range(rank)) / 8 for j in range(size)] for i in range(size)]


KINDS = [dense, sparse, wide, grades, nilpotent, periodic, of_one_rate, nearly_defective, with_zeros]


def ring_of_thirty(chance, _):
    made = [[0.0] * 30 for _ in range(30)]
    stays = chance.choice([0.0, chance.uniform(0.1, 0.9)])
    for i in range(30):
        made[(i + 1) % 30][i] = 10 ** chance.uniform(-12, 3)
        made[i][i] = stays
    return made


def chain_of_thirty(chance, _):
    made = [[0.0] * 30 for _ in range(30)]
    for i in range(30):
        made[i][i] = chance.uniform(0, 0.9)
        if i + 1 < 30:
            made[i + 1][i] = 10 ** chance.uniform(-12, 0)
        if i > 20:
            made[0][i] = 10 ** chance.uniform(-3, 3)
    return made


# ---------------------------------------------------------------------------------------------- the reckoning

def product(a, b):
    columns = [[(i, row[j]) for i, row in enumerate(b) if row[j]] for j in range(len(b))]
    return [[sum((row[i] * number for i, number in column if row[i]), mpf(0)) for column in columns] for row in a]


def times(matrix, vector):
    return [sum((a * x for a, x in zip(row, vector) if a and x), mpf(0)) for row in matrix]


def transposed(matrix):
    return [list(row) for row in zip(*matrix)]


def closure(matrix):
    size = len(matrix)
    leads = [[to == of or matrix[to][of] > 0 for of in range(size)] for to in range(size)]
    for by in range(size):
        for to in range(size):
            if leads[to][by]:
                for of in range(size):
                    if leads[by][of]:
                        leads[to][of] = True
    return leads


def moduli_of_block(matrix, block):
    if len(block) == 1:
        return [mpf(matrix[block[0]][block[0]])]
    with mp.workdps(300):
        table = mp.matrix([[matrix[i][j] for j in block] for i in block])
        return sorted((abs(value) for value in mp.eig(table, left=False, right=False)), reverse=True)


class Reckoned:
    def __init__(self, matrix, start, squarings):
        size = len(matrix)
        self.leads = closure(matrix)
        self.reached = [any(start[of] and self.leads[to][of] for of in range(size)) for to in range(size)]
        self.blocks(matrix)
        part = [[mpf(matrix[to][of]) if self.reached[to] and self.reached[of] else mpf(0) for of in range(size)]
                for to in range(size)]
        if self.rate > 0:
            self.vectors(part, [mpf(1 if one else 0) for one in start], squarings)

    def blocks(self, matrix):
        size = len(matrix)
        blocks = {tuple(j for j in range(size) if self.leads[i][j] and self.leads[j][i]) for i in range(size)}
        moduli = {block: moduli_of_block(matrix, block) for block in blocks}
        self.rate_all = max(found[0] for found in moduli.values())
        here = {block: found for block, found in moduli.items() if self.reached[block[0]]}
        self.rate = max((found[0] for found in here.values()), default=mpf(0))
        if self.rate == 0:
            return
        carriers = [block for block, found in here.items() if found[0] > self.rate * (1 - mpf(10) ** -14)]
        self.shared = len(carriers) > 1
        circle = [sum(1 for one in here[block] if one > here[block][0] * (1 - mpf(10) ** -25)) for block in carriers]
        self.period = math.lcm(*circle)
        everything = sorted((one for found in here.values() for one in found), reverse=True)
        self.damping = None
        # A sixfold defective 0 comes out of 300 digits as 1e-50.
        if self.period == 1 and not self.shared and len(everything) > 1 and everything[1] > self.rate * mpf(10) ** -40:
            self.damping = self.rate / everything[1]

    def vectors(self, part, start, squarings):
        power = part
        for _ in range(squarings):
            power = product(power, power)
            scale = max(max(row) for row in power)
            power = [[cell / scale for cell in row] for row in power]
        self.stable = self.averaged(part, times(power, start))
        total = sum(self.stable)
        self.stable = [one / total for one in self.stable]
        self.value = self.averaged(transposed(part),
                                   times(transposed(power), [mpf(1 if one else 0) for one in self.reached]))
        # What is 0 in the limit is 2^-160 in a chain of blocks of one rate, and else below all that entries can make.
        behind = max(self.value) * (mpf(2) ** -100 if self.shared else mpf(10) ** -5000)
        first = next(one for one in self.value if one > behind)
        self.value = [one / first for one in self.value]
        self.elasticity = None
        if not self.shared:
            rests = [[self.value[to] * part[to][of] * self.stable[of] for of in range(len(part))]
                     for to in range(len(part))]
            whole = sum(sum(row) for row in rests)
            self.elasticity = [[cell / whole for cell in row] for row in rests]

    def averaged(self, matrix, stands):
        """Over a period."""
        mean = list(stands)
        for _ in range(1, self.period):
            stands = [one / self.rate for one in times(matrix, stands)]
            mean = [a + b for a, b in zip(mean, stands)]
        return mean


class GrowthRates(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        print("seed", SEED)

    def close(self, found, right, what):
        if right is None or found is None:
            self.assertEqual(found is None, right is None, (what, found, right))
            return
        if isinstance(right, list):
            self.assertEqual(len(found), len(right), what)
            for a, b in zip(found, right):
                self.close(a, b, what)
            return
        self.assertLessEqual(abs(found - right), RELATIVE * right + mpf(10) ** -290, (what, found, mp.nstr(right, 20)))

    def compare(self, kind, matrix, start, squarings):
        reckoned = Reckoned(matrix, start, squarings)
        found = ask(self.folder.name, matrix, start)
        with self.subTest(kind=kind.__name__, seed=SEED, matrix=matrix, start=start):
            self.close(found["growth_rate"], reckoned.rate, "growth_rate")
            self.close(found["growth_rate_all"], reckoned.rate_all, "growth_rate_all")
            if reckoned.rate == 0:
                self.assertEqual(found["growth_rate"], 0)
                for key in ("stable", "reproductive_value", "damping_ratio", "period", "elasticity"):
                    self.assertIsNone(found[key], key)
                return
            self.assertEqual(found["period"], reckoned.period)
            self.close(found["damping_ratio"], reckoned.damping, "damping_ratio")
            for key, right in (("stable", reckoned.stable), ("reproductive_value", reckoned.value)):
                self.falls_behind(found[key], right, key)
            self.close(found["elasticity"] and [sum(row) for row in found["elasticity"]],
                       reckoned.elasticity and [sum(row) for row in reckoned.elasticity], "elasticity by row")
            for row, right in zip(found["elasticity"] or [], reckoned.elasticity or []):
                self.falls_behind(row, right, "elasticity")

    def falls_behind(self, found, right, what):
        """What is 0 in the limit is next to nothing in a power."""
        for a, b in zip(found, right):
            if a == 0:
                self.assertLess(b, mpf(2) ** -40, what)
            else:
                self.close(a, b, what)

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def test_random_matrices_agree_with_powers_and_with_eigenvalues_of_long_numbers(self):
        chance = random.Random(SEED)
        for number in range(MATRICES):
            kind = KINDS[number % len(KINDS)]
            size = chance.randint(1, 6)
            matrix = kind(chance, size)
            start = [1 if chance.random() < 0.5 else 0 for _ in range(size)]
            self.compare(kind, matrix, start, 160)

    def test_chains_of_thirty_classes(self):
        chance = random.Random(SEED + 1)
        for kind in (ring_of_thirty, chain_of_thirty) * 2:
            matrix = kind(chance, 30)
            self.compare(kind, matrix, [1] + [0] * 29, 60)

    def test_ordinary_matrices_agree_with_scipy(self):
        chance = random.Random(SEED + 2)
        for _ in range(100):
            size = chance.randint(2, 12)
            matrix = dense(chance, size)
            found = ask(self.folder.name, matrix, [1] * size)
            values, left, right = scipy.linalg.eig(numpy.array(matrix), left=True, right=True)
            order = numpy.argsort(-abs(values))
            w, v = abs(right[:, order[0]].real), abs(left[:, order[0]].real)
            with self.subTest(seed=SEED, matrix=matrix):
                numpy.testing.assert_allclose(found["growth_rate"], values[order[0]].real, rtol=1e-9)
                numpy.testing.assert_allclose(found["damping_ratio"], abs(values[order[0]]) / abs(values[order[1]]),
                                              rtol=1e-7)
                numpy.testing.assert_allclose(found["stable"], w / w.sum(), rtol=1e-8)
                numpy.testing.assert_allclose(found["reproductive_value"], v / v[0], rtol=1e-8)
                rests = numpy.array(matrix) * numpy.outer(v, w)
                numpy.testing.assert_allclose(found["elasticity"], rests / rests.sum(), rtol=1e-8)


if __name__ == "__main__":
    unittest.main()
