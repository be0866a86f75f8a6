#!/usr/bin/python3
"""How many to test, as the program says it, against reckonings that share no code with it: whole numbers of any size,
SciPy's hypergeometric and binomial distributions, and pools drawn by their definition. Random lots print their seed.
"""
import json
import math
import os
import random
import subprocess
import unittest
from fractions import Fraction

from scipy.stats import binom, hypergeom

BINARY = os.environ["MOTHERBULB_BINARY"]


def ask(lot, share, confidence, sensitivity=None, pool=None):
    words = [BINARY, "sample", "--lot", str(lot), "--share", share, "--confidence", confidence, "--format", "json"]
    if sensitivity is not None:
        words += ["--sensitivity", sensitivity]
    if pool is not None:
        words += ["--pool", str(pool)]
    done = subprocess.run(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=120, check=True)
    return json.loads(done.stdout)


def miss_exactly(lot, infected, tested):
    return Fraction(math.comb(lot - tested, infected), math.comb(lot, infected))


def miss_of_pools(lot, infected, sensitivity, pool, tests):
    """The infected bulbs fall into the pools one pool after the other; what is left goes on to the next. Chances are
    fractions, so the answer is exact."""
    left = {infected: Fraction(1)}  # infected bulbs among those not yet taken, with no test positive so far
    bulbs = lot
    for _ in range(tests):
        size = min(pool, bulbs)
        after = {}
        for there, chance in left.items():
            for taken in range(max(0, size - (bulbs - there)), min(there, size) + 1):
                drawn = Fraction(math.comb(there, taken) * math.comb(bulbs - there, size - taken),
                                 math.comb(bulbs, size))
                missed = 1 if taken == 0 else 1 - sensitivity
                after[there - taken] = after.get(there - taken, 0) + chance * drawn * missed
        left = after
        bulbs -= size
    return sum(left.values())


class Sampling(unittest.TestCase):
    # ISPM 31, hypergeometric table for 95 %. Those of lots from 25 to 10 000 are from memory; each is proved below.
    TABLE = [(100, "5%", 45), (100, "2%", 78), (100, "1%", 95), (200, "5%", 51), (200, "2%", 105), (200, "1%", 155),
             (500, "5%", 56), (500, "2%", 129), (500, "1%", 225), (1000, "5%", 57), (1000, "2%", 138),
             (1000, "1%", 258), (10000, "5%", 59), (10000, "2%", 148), (10000, "1%", 294)]

    def test_the_published_sizes_are_right_in_whole_numbers_and_the_program_says_them(self):
        for lot, share, tested in self.TABLE:
            with self.subTest(lot=lot, share=share):
                infected = lot * int(share[:-1]) // 100
                self.assertLessEqual(miss_exactly(lot, infected, tested), Fraction(1, 20))
                self.assertGreater(miss_exactly(lot, infected, tested - 1), Fraction(1, 20))
                answer = ask(lot, share, "95%")
                self.assertEqual((answer["infected"], answer["tests"], answer["bulbs"]), (infected, tested, tested))
                self.assertAlmostEqual(answer["reached"], float(1 - miss_exactly(lot, infected, tested)), delta=1e-12)

    def test_random_lots_agree_with_scipy_s_hypergeometric(self):
        seed = random.SystemRandom().randrange(1 << 32)
        print("seed", seed)
        chance = random.Random(seed)
        for _ in range(60):
            lot = int(10 ** chance.uniform(1, 8))
            thousandths = chance.randint(1, 400)
            confidence = chance.choice(["0.8", "0.9", "0.95", "0.99", "0.999"])
            answer = ask(lot, f"{thousandths / 1000:.3f}", confidence)
            with self.subTest(seed=seed, lot=lot, thousandths=thousandths, confidence=confidence):
                infected = -(-lot * thousandths // 1000)
                self.assertEqual(answer["infected"], infected)
                tested = answer["tests"]
                may_miss = 1 - float(confidence)
                # SciPy's own digits are fewer than ours in large lots, where its log-gammas cancel.
                self.assertAlmostEqual(1 - answer["reached"], hypergeom.pmf(0, lot, infected, tested), delta=1e-6)
                self.assertLessEqual(hypergeom.pmf(0, lot, infected, tested), may_miss * (1 + 1e-5))
                if tested > 1:
                    self.assertGreater(hypergeom.pmf(0, lot, infected, tested - 1), may_miss * (1 - 1e-5))

    def test_tests_that_miss_agree_with_the_number_of_infected_bulbs_drawn(self):
        # By the other way round: x of the infected bulbs are drawn, hypergeometrically, and each is missed.
        for lot, percents, sensitivity in ((500, 2, 0.9), (5000, 1, 0.6), (40000, 3, 0.75), (300, 10, 0.3)):
            with self.subTest(lot=lot, sensitivity=sensitivity):
                answer = ask(lot, f"{percents}%", "95%", str(sensitivity))
                infected = lot * percents // 100

                def miss(tested):
                    return sum(hypergeom.pmf(x, lot, infected, tested) * (1 - sensitivity) ** x
                               for x in range(min(infected, tested) + 1))

                self.assertLessEqual(miss(answer["tests"]), 0.05)
                self.assertGreater(miss(answer["tests"] - 1), 0.05)
                self.assertAlmostEqual(1 - answer["reached"], miss(answer["tests"]), delta=1e-9)

    def test_pools_agree_with_drawing_them_one_after_the_other(self):
        for lot, infected, sensitivity, pool in ((60, 3, Fraction(9, 10), 4), (61, 6, Fraction(1), 7),
                                                 (100, 5, Fraction(7, 10), 3), (47, 9, Fraction(1, 2), 5),
                                                 (20, 2, Fraction(1), 6)):
            with self.subTest(lot=lot, infected=infected, pool=pool):
                answer = ask(lot, f"{infected / lot:.14f}", "0.8", f"{float(sensitivity)}", pool)
                self.assertEqual(answer["infected"], infected)
                tests = answer["tests"]
                self.assertIsNotNone(tests)
                self.assertEqual(answer["bulbs"], min(tests * pool, lot))
                self.assertLessEqual(miss_of_pools(lot, infected, sensitivity, pool, tests), Fraction(1, 5))
                self.assertGreater(miss_of_pools(lot, infected, sensitivity, pool, tests - 1), Fraction(1, 5))
                self.assertAlmostEqual(1 - answer["reached"],
                                       float(miss_of_pools(lot, infected, sensitivity, pool, tests)), delta=1e-12)

    def test_large_lots_come_near_to_drawing_with_replacement(self):
        for percents, sensitivity, pool, confidence in ((1, 1, 1, 0.95), (5, 1, 1, 0.95), (2, 0.8, 10, 0.99),
                                                        (1, 0.95, 25, 0.9)):
            with self.subTest(percents=percents, pool=pool):
                answer = ask(100_000_000, f"{percents}%", str(confidence), str(sensitivity), pool)
                hit = sensitivity * (1 - (1 - percents / 100) ** pool)  # of one test
                fewest = math.ceil(math.log(1 - confidence) / math.log(1 - hit))
                self.assertEqual(answer["tests"], fewest)
                self.assertAlmostEqual(1 - answer["reached"], binom.pmf(0, fewest, hit), delta=1e-5)

    def test_where_all_tests_together_are_not_enough_none_is_named(self):
        answer = ask(80, "1%", "0.95", "0.9")
        self.assertIsNone(answer["tests"])
        self.assertAlmostEqual(answer["reached"], 0.9, delta=1e-12)


if __name__ == "__main__":
    unittest.main()
