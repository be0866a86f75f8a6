"""Invented growers whose true values are drawn from the priors of the mathematics (sections 1 and 2), and the table that
each of them would have kept for ten seasons. Nothing here comes from the program: priors are those of the mathematics
and of assets/starting_values.json.
"""
import csv
import datetime
import json
import math
import os

import numpy as np

GENUS = "Hippeastrum"
CLONE, OTHER = "Harbour Lamp", "Pale Moth"  # invented
SEASONS = 10
BOUNDS = [2 * i for i in range(0, 18)]  # 0-2, 2-4, ..., 32-34, 34+
K = len(BOUNDS)
WIDTH = 2.0
GROWN, SALEABLE = 20, 22
BENCHES = ["House, bench 1", "House, bench 2"]


def assets():
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "assets", "starting_values.json")
    with open(path, encoding="utf-8") as file:
        return next(one for one in json.load(file)["genera"] if one["genus"] == GENUS)


START = assets()
MIDDLES = np.array([low + WIDTH / 2 for low in BOUNDS])
IS_GROWN = MIDDLES >= GROWN
FOR_SALE = np.array([low >= SALEABLE for low in BOUNDS])
BELOW = np.vectorize(lambda z: 0.5 * math.erfc(-z / math.sqrt(2)))


def grade(which):
    if which == 0:
        return "-2"
    return f"{BOUNDS[which]}+" if which == K - 1 else f"{BOUNDS[which]}-{BOUNDS[which + 1]}"


def shares_by_girth(below):
    """Shares by class from the chance to be smaller than a girth."""
    ends = [0.0] + [float(below(low)) for low in BOUNDS[1:]] + [1.0]
    return np.diff(ends)


def sizes(median, spread):
    return shares_by_girth(lambda girth: BELOW(math.log(girth / median) / spread))


def prior_growth():
    """Columns of the kernel of section 2, averaged over each class by 400 points."""
    full, approach, spread = (START["growth"][name] for name in ("full_girth_cm", "approach", "spread"))
    columns = []
    for low in BOUNDS:
        girths = low + WIDTH * (np.arange(400) + 0.5) / 400

        def below(girth):
            if girth >= full:
                return np.mean(np.where(girths < full, 1.0, girths < girth))
            left = np.maximum(full - girths, 1e-12) * math.exp(-approach)
            chance = 1 - BELOW(np.log((full - girth) / left) / spread)
            return np.mean(np.where(girths < full, chance, 0.0))

        columns.append(shares_by_girth(below))
    return columns


PRIOR_GROWTH = prior_growth()
OFFSET_SIZES = sizes(START["bulblet_girth_cm"]["value"], 0.4)


class Way:
    """What is true of one way of cutting, of the genus."""

    def __init__(self, chance, published):
        self.method = published["method"]
        self.propagules = self.method in ("twin-scaling", "scaling")
        power = 1.0 if self.propagules else 0.45
        middle = (math.log(published["per_mother"]) - power * math.log(published["sections"] / 8)
                  - math.log(published["girth_cm"] / 26))
        self.u = chance.normal(middle, published["sd"])
        self.b = 1.0
        while not self.propagules:
            self.b = chance.normal(0.45, 0.15)
            if 0 < self.b < 1:
                break
        self.d = chance.normal(1, 0.5)
        self.f = math.exp(chance.normal(math.log(3), 0.7))
        self.t = abs(chance.normal(0, 0.4))

    def mean(self, k, girth, h):
        return math.exp(self.u + h) * (k / 8) ** self.b * (girth / 26) ** self.d


def negative_binomial(chance, mean, size):
    return int(chance.poisson(chance.gamma(size, mean / size))) if mean > 0 else 0


class Truth:
    def __init__(self, chance):
        self.growth = np.array([dirichlet(chance, 8 * column) for column in PRIOR_GROWTH])  # [from][to]
        means = np.where(IS_GROWN, START["loss_grown"]["value"], START["loss_young"]["value"])
        self.loss = np.array([chance.beta(20 * mean, 20 * (1 - mean)) for mean in means])
        self.offsets = np.where(IS_GROWN, chance.gamma(8 * START["offsets"]["value"], 1 / 8, K), 0)
        self.offset_sizes = dirichlet(chance, 8 * OFFSET_SIZES)
        self.event, self.takes = chance.beta(1, 19), chance.beta(2, 2)
        self.ways = {one["method"]: Way(chance, one) for one in START["yields"]}
        self.h = {method: chance.normal(0, way.t) for method, way in self.ways.items()}
        self.other_h = {method: chance.normal(0, way.t) for method, way in self.ways.items()}
        self.z = chance.normal(math.log(START["bulblet_girth_cm"]["value"]), 0.35)
        self.r = chance.normal(1, 0.4)
        self.v = math.exp(chance.normal(math.log(0.4), 0.3))

    def bulblet_sizes(self, method, k):
        way = self.ways[method]
        ratio = 0 if way.propagules else way.b * math.log(k / 8)
        return sizes(math.exp(self.z - self.r * ratio / 3), self.v)

    def losses(self, bad):
        """Of each class in a season; one season in ten is bad and takes twice as many."""
        ordinary = self.loss * 10 / 11
        return np.minimum(1, 2 * ordinary) if bad else ordinary

    def cut(self, chance, method, k, girth, sections, h=None):
        """Bulblets by class of so many sections."""
        way = self.ways[method]
        mean = way.mean(k, girth, self.h[method] if h is None else h)
        count = negative_binomial(chance, sections * mean / k, sections * way.f)
        return chance.multinomial(count, self.bulblet_sizes(method, k))

    def kept(self, chance, bulbs, bad):
        """(survivors by class, losses by class, daughters by class) of a season of bulbs that are not cut."""
        lost = chance.binomial(bulbs, self.losses(bad))
        after = np.zeros(K, dtype=np.int64)
        for j in np.flatnonzero(bulbs - lost):
            after += chance.multinomial(bulbs[j] - lost[j], self.growth[j])
        daughters = chance.multinomial(chance.poisson(np.dot(bulbs, self.offsets)), self.offset_sizes)
        return after, lost, daughters

    def future(self, chance, stock, seasons, acts, carried=False):
        """Stock by class after each season. acts(season, class) -> [(share, what)], shares of 1; what:
        None to grow on, "gone", or (method, k). Each class by itself to the nearest bulb, or `carried` from class to
        class, so that in all no more is cut and no less."""
        stock, told = np.array(stock), []
        for season in range(1, seasons + 1):
            bad = chance.random() < 0.1
            struck = sum(chance.random() < self.event for _ in BENCHES) / len(BENCHES)
            stands = chance.binomial(stock, 1 - struck * self.takes)
            kept, stock = np.zeros(K, dtype=np.int64), np.zeros(K, dtype=np.int64)
            over = 0.0
            for j in np.flatnonzero(stands):
                ends, given = over / stands[j], 0
                for share, way in acts(season, j):
                    ends += share
                    until = min(int(stands[j]), int(math.floor(ends * stands[j] + 0.5)))
                    count = max(0, until - given)
                    given += count
                    if carried and way is not None:
                        over = ends * stands[j] - given
                    if way is None:
                        kept[j] += count
                    elif way != "gone" and count > 0:
                        stock = stock + self.cut(chance, way[0], way[1], MIDDLES[j], count * way[1])
                kept[j] += int(stands[j]) - given
            after, _, daughters = self.kept(chance, kept, bad)
            stock = stock + after + daughters
            told.append(stock)
        return told


def dirichlet(chance, weights):
    drawn = np.where(weights > 0, chance.gamma(np.maximum(weights, 1e-12)), 0)
    return drawn / drawn.sum() if drawn.sum() > 0 else weights / weights.sum()


COLUMNS = ["when", "helper", "event", "clone", "genus", "batch", "pot", "parent", "method", "sections", "grade", "count",
           "cause", "place"]


class Diary:
    """Ten seasons of one grower, as rows. What stands is kept by batch and class; all is counted once a year."""

    def __init__(self, chance, truth, end):
        self.chance, self.truth, self.rows = chance, truth, []
        self.first = end - datetime.timedelta(days=365 * SEASONS)
        self.waits = {}      # batch: bulbs by class
        self.pots = []       # of bulbs: [batch, number, bulbs by class, bench, bulbs by class as the book has them]
        self.sections = []   # [batch, number, sections, k, grade of the mother, bench, sections there]
        self.numbers = {}
        self.k = int(chance.choice([8, 12]))
        self.cut_share = chance.uniform(0.25, 0.6)
        self.cut_last = {}   # class: [mothers cut, bulbs that stood by the book]
        self.writes_losses = chance.uniform(0.6, 1.0)
        self.skips = 0.08    # of pots that nobody takes up this year

    def write(self, season, days, time, event, **cells):
        day = self.first + datetime.timedelta(days=365 * season + days)
        row = {"when": f"{day.isoformat()}T{time}+00:00", "helper": "Ines", "event": event}
        row.update({name: str(value) for name, value in cells.items()})
        self.rows.append(row)

    def number(self, batch):
        self.numbers[batch] = self.numbers.get(batch, 0) + 1
        return self.numbers[batch]

    def keep(self):
        start = {11: 3, 12: 2, 13: 3, 8: 4, 6: 4}
        bulbs = np.zeros(K, dtype=np.int64)
        for which, count in start.items():
            bulbs[which] = count
            self.write(0, 0, "08:00", "begun", clone=CLONE, genus=GENUS, batch="M", method="growing-on",
                       grade=grade(which), count=count)
        self.waits["M"] = bulbs
        for season in range(SEASONS):
            self.cut(season)
            self.cut_other(season)
            self.pot(season, 10)
            self.year(season)
            self.take_up(season + 1, last=season + 1 == SEASONS)
            self.sell(season + 1)
        self.pot(SEASONS, 0)

    def stock(self):
        """What stands, by class."""
        return sum(pot[2] for pot in self.pots) + sum(self.waits.values(), np.zeros(K, dtype=np.int64))

    def cut(self, season):
        stand = sum(pot[4] for pot in self.pots) + sum(self.waits.values(), np.zeros(K, dtype=np.int64))
        self.cut_last = {}
        for j in np.flatnonzero(FOR_SALE):
            self.cut_last[j] = [0, int(stand[j])]
        for batch in list(self.waits):
            for j in np.flatnonzero(FOR_SALE & (self.waits[batch] > 0)):
                mothers = int(self.chance.binomial(self.waits[batch][j], self.cut_share))
                if mothers == 0:
                    continue
                self.waits[batch][j] -= mothers
                self.cut_last[j][0] += mothers
                name = f"C{season}.{batch}.{j}"
                self.write(season, 10, "09:00", "begun", clone=CLONE, genus=GENUS, batch=name, parent=batch,
                           method="chipping", sections=self.k, grade=grade(j), count=mothers)
                self.pot_sections(season, name, mothers * self.k, self.k, j)

    def pot_sections(self, season, batch, sections, k, j):
        while sections > 0:
            # Pots of half a mother to three.
            some = min(sections, int(self.chance.integers(k // 2, 3 * k + 1)))
            number, bench = self.number(batch), BENCHES[int(self.chance.integers(2))]
            self.write(season, 10, "10:00", "potted", batch=batch, pot=number, count=some, place=f"{bench}, no. {number}")
            self.sections.append([batch, number, some, k, j, bench, some])
            sections -= some

    def cut_other(self, season):
        """A clone that is bought in, cut and given away: it tells of the genus."""
        if self.chance.random() < 0.4:
            return
        mothers, j = int(self.chance.integers(1, 4)), int(self.chance.integers(11, 15))
        batch, k = f"O{season}", int(self.chance.choice([8, 12]))
        self.write(season, 10, "09:00", "begun", clone=OTHER, genus=GENUS, batch=batch, method="chipping", sections=k,
                   grade=grade(j), count=mothers)
        self.pot_sections(season, batch, mothers * k, k, j)

    def pot(self, season, days):
        time = "15:00"
        for batch, bulbs in self.waits.items():
            left = bulbs.copy()
            while left.sum() > 0:
                j = int(np.flatnonzero(left)[0])
                here = np.zeros(K, dtype=np.int64)
                here[j] = min(left[j], 8)
                if self.chance.random() < 0.2 and j + 1 < K:
                    here[j + 1] = min(left[j + 1], 4)
                left -= here
                number, bench = self.number(batch), BENCHES[int(self.chance.integers(2))]
                for i in np.flatnonzero(here):
                    self.write(season, days, time, "potted", batch=batch, pot=number, grade=grade(i), count=here[i],
                               place=f"{bench}, no. {number}")
                self.pots.append([batch, number, here, bench, here.copy()])
            bulbs[:] = 0

    def year(self, season):
        """What befalls all that stands, and what the grower writes of it."""
        truth, chance = self.truth, self.chance
        bad = chance.random() < 0.1
        struck = [bench for bench in BENCHES if chance.random() < truth.event]
        night = int(chance.integers(40, 300))
        for pot in self.sections:
            if pot[5] in struck:
                lost = int(chance.binomial(pot[6], truth.takes))
                pot[6] -= lost
                self.lose(season, night, pot[0], pot[1], lost, "frost")
        for pot in self.pots:
            bulbs = pot[2]
            if pot[3] in struck:
                lost = chance.binomial(bulbs, truth.takes)
                for j in np.flatnonzero(lost):
                    self.lose_of(season, night, pot, j, lost[j], "frost")
                bulbs = bulbs - lost
            after, lost, daughters = truth.kept(chance, bulbs, bad)
            for j in np.flatnonzero(lost):
                if chance.random() < self.writes_losses:
                    self.lose_of(season, int(chance.integers(30, 340)), pot, j, lost[j], "rot")
            pot[2] = after + daughters

    def lose(self, season, days, batch, pot, count, cause):
        if count > 0:
            self.write(season, days, "12:00", "lost", batch=batch, pot=pot, count=count, cause=cause)

    def lose_of(self, season, days, pot, j, count, cause):
        """Bulbs, by the size that they have; in a pot that nobody took up it may be another than the book's."""
        known = int(min(count, pot[4][j]))
        pot[4][j] -= known
        if known > 0:
            self.write(season, days, "12:00", "lost", batch=pot[0], pot=pot[1], count=known, cause=cause, grade=grade(j))

    def take_up(self, season, last):
        stay = []
        for pot in self.pots:
            if not last and self.chance.random() < self.skips:
                stay.append(pot)
                continue
            self.count(season, pot[0], pot[1], pot[2])
        self.pots = stay
        for batch, number, sections, k, j, _, there in self.sections:
            other = batch.startswith("O")
            if there > 0:
                bulblets = self.truth.cut(self.chance, "chipping", k, MIDDLES[j], there,
                                          self.truth.other_h["chipping"] if other else None)
                self.count(season, batch, number, bulblets)
                if other and bulblets.sum() > 0:
                    for i in np.flatnonzero(bulblets):
                        self.write(season, 0, "11:00", "given", batch=batch, grade=grade(i), count=bulblets[i])
                    self.waits.pop(batch)
        self.sections = []

    def count(self, season, batch, number, bulbs):
        for j in np.flatnonzero(bulbs):
            self.write(season, 0, "09:00", "unpotted", batch=batch, pot=number, grade=grade(j), count=bulbs[j])
        if bulbs.sum() == 0:
            self.write(season, 0, "09:00", "unpotted", batch=batch, pot=number, grade="alive", count=0)
        self.waits.setdefault(batch, np.zeros(K, dtype=np.int64))
        self.waits[batch] += bulbs

    def sell(self, season):
        """No more is kept than the benches hold: 14 that can be sold, 60 smaller ones."""
        for group, most in ((FOR_SALE, 14), (~FOR_SALE, 60)):
            counts = {batch: np.where(group, bulbs, 0) for batch, bulbs in self.waits.items()}
            over = int(sum(one.sum() for one in counts.values())) - most
            if over <= 0:
                continue
            places = [(batch, j) for batch, one in counts.items() for j in np.flatnonzero(one) for _ in range(one[j])]
            gone = {}
            for i in self.chance.choice(len(places), over, replace=False):
                gone[places[i]] = gone.get(places[i], 0) + 1
            for (batch, j), count in sorted(gone.items()):
                self.waits[batch][j] -= count
                self.write(season, 0, "12:00", "sold" if FOR_SALE[j] else "given", batch=batch, grade=grade(j),
                           count=count)

    def save(self, path):
        with open(path, "w", encoding="utf-8", newline="") as file:
            table = csv.DictWriter(file, COLUMNS, restval="")
            table.writeheader()
            table.writerows(self.rows)
