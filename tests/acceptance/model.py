"""A second, plain reckoning of a grower's table, written from the design's "Counting", "Merging" and "Command line"
alone, so that the program can be compared with something that shares no line with it. It works from the rows a person
wrote, knows nothing of entries, stores or parcels, and folds everything from the start, in order, one fact at a time."""

import collections
import csv
import datetime
import io

HEADER = "when,helper,event,clone,genus,batch,pot,parent,method,sections,grade,count,cause,place,note".split(",")
CUTTING = {"halving", "quartering", "chipping", "twin-scaling", "scaling", "cross-cutting", "scoring", "scooping"}
LEFT_WHOLE = {"cross-cutting", "scoring", "scooping"}
TAKES = {"lost", "sold", "given", "discarded"}
# What says something about a pot as a whole or about paper, not work on what stands in it.
NOT_WORK = {"note", "tested", "held", "cleared"}
# How long bulbs dry off before they rest, by what the growing plans say of growing on (common practice).
DRYING_WEEKS = {"Galanthus": 3, "Hippeastrum": 3, "Hyacinthus": 4, "Lachenalia": 3, "Lilium": 2, "Lycoris": 3,
                "Narcissus": 3, "Nerine": 3}


def facts_of(rows, device="A"):
    """Rows with the same when, helper, event, batch and pot are one fact."""
    together = collections.OrderedDict()
    for row in rows:
        key = tuple(row.get(name, "") for name in ("when", "helper", "event", "batch", "pot"))
        together.setdefault(key, []).append(row)
    return [Fact(device, parts) for parts in together.values()]


def read_table(text, separator=","):
    return [dict(row) for row in csv.DictReader(io.StringIO(text), delimiter=separator)]


def write_table(rows, separator=",", end="\r\n"):
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator, lineterminator=end)
    writer.writerow(HEADER)
    for row in rows:
        writer.writerow([row.get(name, "") for name in HEADER])
    return out.getvalue()


class Fact:
    def __init__(self, device, parts):
        first = parts[0]
        self.device, self.parts = device, parts
        self.when, self.helper, self.event = first["when"], first["helper"], first["event"]
        self.batch, self.pot = first["batch"], first.get("pot", "")
        self.day = self.when[:10]

    def order(self):
        """A bare day's begun and potted come before the timed facts of that day, its other facts after them. The
        tables here keep to hours and offsets in which the helper's own offset makes no difference."""
        if len(self.when) > 10:
            return (datetime.datetime.fromisoformat(self.when).timestamp(),)
        start = datetime.datetime.fromisoformat(self.day + "T00:00:00+00:00").timestamp()
        return (start,) if self.event in ("begun", "potted") else (start + 86400,)


def grade_of(part):
    text = part.get("grade", "").replace(" to ", "-").replace("/", "-").replace("–", "-")
    return text


def lower_end(grade):
    if grade == "":
        return -1
    return 0 if grade.startswith("-") else float(grade.rstrip("+").split("-")[0])


class Bin:
    """What stands somewhere: in a pot, or waiting in a batch."""

    def __init__(self):
        self.pieces, self.bulbs, self.open, self.pieces_short = 0, collections.Counter(), 0, 0

    def total(self):
        return sum(self.bulbs.values())

    def put(self, grade, count):
        self.bulbs[grade] += count

    def take(self, grade, count):
        """Takes bulbs; returns what was taken by grade. Never below 0: what is missing makes open negative."""
        taken = collections.Counter()
        left = count
        while left > 0:
            name = grade
            if grade == "":
                standing = [(-number, lower_end(key), key) for key, number in self.bulbs.items() if number > 0]
                if not standing:
                    break
                name = min(standing)[2]
            part = min(left, self.bulbs[name])
            self.bulbs[name] -= part
            taken[name] += part
            left -= part
            if grade != "":
                break
        self.open -= left
        taken[grade] += left
        return taken

    def take_pieces(self, count):
        part = min(count, self.pieces)
        self.pieces -= part
        self.pieces_short += count - part


class Pot(Bin):
    def __init__(self):
        super().__init__()
        self.emptied_by, self.place, self.stage = None, "", "growing"
        self.of_pieces = False
        self.damage, self.held, self.looked = 0, False, ""
        self.looks, self.moves, self.gradings = [], [], []


class Batch(Bin):
    def __init__(self, clone):
        super().__init__()
        self.clone, self.pots, self.cut = clone, {}, False


class Clone:
    def __init__(self):
        self.begun = self.increase = self.made = self.unpotted = self.alive = 0
        self.out, self.lost, self.pieces_lost = collections.Counter(), collections.Counter(), collections.Counter()


class Model:
    """settled: {(kind, batch, pot): "first" | "second" | "both"} for doubts about one pot."""

    def __init__(self, facts, settled=None, on=None):
        self.batches, self.clones, self.matters = {}, {}, set()
        self.settled = settled or {}
        ordered = sorted((fact for fact in facts if on is None or fact.day <= on), key=Fact.order)
        for fact in self._without_the_doubted(ordered):
            self._take(fact)
        self._observations()
        self._balances()
        self._names()

    # -- facts ---------------------------------------------------------------------------------------------------

    def _without_the_doubted(self, ordered):
        """A doubt settled for the second side is a fold without the first."""
        dropped, standing, doubts = set(), {}, {}
        for number, fact in enumerate(ordered):
            key = (fact.batch, fact.pot)
            if fact.event == "unpotted" and fact.pot:
                if key in standing:
                    doubts[key] = (standing[key], number)
                    take = self.settled.get(("counted-twice",) + key)
                    if take == "second":
                        dropped.add(standing[key])
                    elif take == "first":
                        dropped.add(number)
                else:
                    standing[key] = number
            elif fact.event == "potted":
                standing.pop(key, None)
        return [fact for number, fact in enumerate(ordered) if number not in dropped]

    def _take(self, fact):
        if fact.event == "begun":
            return self._begun(fact)
        batch = self.batches[fact.batch]
        clone = self.clones[batch.clone]
        if not fact.pot:
            if fact.event in TAKES:
                self._goes(fact, batch, clone)
            return None
        pot = batch.pots.setdefault(fact.pot, Pot())
        if fact.event == "potted":
            return self._potted(fact, batch, pot)
        if pot.emptied_by is not None and fact.event not in NOT_WORK:
            kind = "counted-twice" if fact.event == "unpotted" else "after-unpotting"
            self.matters.add((kind, fact.batch, fact.pot))
            return None
        if fact.event in TAKES:
            self._goes(fact, pot, clone)
        elif fact.event == "unpotted":
            self._count_anew(fact, pot, clone)
            for part in fact.parts:
                if part["grade"] != "alive":
                    batch.put(grade_of(part), int(part["count"]))
            pot.emptied_by, pot.stage = fact, "emptied"
            pot.bulbs.clear()
        elif fact.event in ("graded", "repotted"):
            if any(part.get("count") for part in fact.parts):
                self._count_anew(fact, pot, clone)
                pot.bulbs.clear()
                for part in fact.parts:
                    if part["grade"] != "alive":
                        pot.put(grade_of(part), int(part["count"]))
                if fact.event == "graded":
                    pot.gradings.append(fact)
            if fact.event == "repotted":
                pot.place = fact.parts[0].get("place") or pot.place
                pot.stage = "forming" if pot.of_pieces else "growing"
        elif fact.event == "moved":
            pot.place = fact.parts[0]["place"]
            pot.moves.append(fact)
        elif fact.event == "looked":
            pot.looked = fact.when
            if fact.parts[0].get("count"):
                pot.looks.append(fact)
        elif fact.event == "damage":
            pot.damage += 1
        elif fact.event in ("held", "cleared"):
            pot.held = fact.event == "held"
        elif fact.event == "dried-off":
            pot.stage = "drying-off"
            weeks = DRYING_WEEKS.get(batch.clone[1])
            if weeks is not None and not pot.of_pieces:
                rests_from = datetime.date.fromisoformat(fact.day) + datetime.timedelta(weeks=weeks)
                if rests_from <= datetime.date.today():
                    pot.stage = "resting"
        elif fact.event == "started":
            pot.stage = "started"
        return None

    def _begun(self, fact):
        first = fact.parts[0]
        name = (first["clone"], first["genus"])
        clone = self.clones.setdefault(name, Clone())
        batch = self.batches[fact.batch] = Batch(name)
        parent = self.batches[first["parent"]] if first.get("parent") else None
        cutting = batch.cut = first["method"] in CUTTING
        for part in fact.parts:
            count, grade = int(part["count"]), grade_of(part)
            leaving = collections.Counter({grade: count})
            if parent is not None:
                source = parent.pots[fact.pot] if fact.pot else parent
                leaving = source.take(grade, count)
            else:
                clone.begun += count
            if cutting:
                clone.out["cut"] += count
                pieces = count if first["method"] in LEFT_WHOLE else count * int(part["sections"])
                clone.made += pieces
                batch.pieces += pieces
            else:
                for name, number in leaving.items():
                    batch.put(name, number)

    def _potted(self, fact, batch, pot):
        if pot.emptied_by is not None:
            pot.damage = 0  # a new filling starts clean; the design leaves it open
        pot.emptied_by, pot.stage = None, "growing"
        pot.place = fact.parts[0].get("place") or pot.place
        for part in fact.parts:
            count, grade = int(part["count"]), grade_of(part)
            if grade == "" and (batch.pieces > 0 or (batch.cut and batch.total() == 0)):
                batch.take_pieces(count)
                pot.pieces += count
                pot.stage, pot.of_pieces = "forming", True
                if batch.pieces_short:
                    self.matters.add(("balance", fact.batch, ""))
            else:
                pot.of_pieces = False
                for name, number in batch.take(grade, count).items():
                    pot.put(name, number)

    def _goes(self, fact, source, clone):
        for part in fact.parts:
            count, grade = int(part["count"]), grade_of(part)
            cause = (part.get("cause") or "unknown").split(":")[0]
            of_pieces = source.pieces > 0 and grade == "" if isinstance(source, Batch) else source.of_pieces
            if fact.event == "lost" and of_pieces:
                source.take_pieces(count)
                clone.pieces_lost[cause] += count
                continue
            source.take(grade, count)
            if fact.event == "lost":
                clone.lost[cause] += count
            else:
                clone.out[fact.event] += count

    def _count_anew(self, fact, pot, clone):
        counted = sum(int(part["count"]) for part in fact.parts if part["grade"] != "alive")
        if pot.of_pieces:
            said = [int(part["count"]) for part in fact.parts if part["grade"] == "alive"]
            clone.unpotted += pot.pieces
            clone.alive += sum(said) if said else pot.pieces
            clone.increase += counted
            pot.pieces, pot.of_pieces = 0, False
            return
        standing = pot.total()
        clone.increase += max(0, counted - standing)
        pot.open += max(0, standing - counted)

    # -- what follows from all of them ---------------------------------------------------------------------------

    def _observations(self):
        for (mark, number), pot in self.each_pot():
            for kind, seen in (("observations-differ", pot.looks), ("two-places", pot.moves),
                               ("observations-differ", pot.gradings)):
                for one in seen:
                    for two in seen:
                        if one.day == two.day and one.device != two.device and self._said(one) != self._said(two):
                            self.matters.add((kind, mark, number))

    @staticmethod
    def _said(fact):
        return sorted((grade_of(part), part.get("count", ""), part.get("place", "")) for part in fact.parts)

    def _balances(self):
        for (mark, number), pot in self.each_pot():
            if pot.open:
                self.matters.add(("balance", mark, number))
        for mark, batch in self.batches.items():
            if batch.open:
                self.matters.add(("balance", mark, ""))

    def _names(self):
        names = sorted(self.clones)
        for one in names:
            for two in names:
                if one < two and one[1] == two[1] and a_letter_apart(one[0].casefold(), two[0].casefold()):
                    self.matters.add(("near-names", "", ""))

    def each_pot(self):
        for mark, batch in sorted(self.batches.items()):
            for number, pot in sorted(batch.pots.items()):
                yield (mark, number), pot

    # -- as the program prints it --------------------------------------------------------------------------------

    def stock(self):
        rows = collections.Counter()
        for batch in self.batches.values():
            for source in [batch] + list(batch.pots.values()):
                for grade, count in source.bulbs.items():
                    if count:
                        rows[batch.clone + (grade,)] += count
        return dict(rows)

    def balance(self):
        result = {}
        for name, clone in self.clones.items():
            mine = [batch for batch in self.batches.values() if batch.clone == name]
            bins = mine + [pot for batch in mine for pot in batch.pots.values()]
            there = sum(source.total() for source in bins)
            growing = sum(pot.pieces for batch in mine for pot in batch.pots.values())
            waiting = sum(batch.pieces for batch in mine)
            lost, pieces_lost = positive(clone.lost), positive(clone.pieces_lost)
            out = sum(clone.out.values()) + sum(lost.values())
            opened = clone.begun + clone.increase - there - out
            assert opened == sum(source.open for source in bins), (name, opened)
            result[name] = {
                "in": {"begun": clone.begun, "increase": clone.increase}, "there": there,
                "out": {"cut": clone.out["cut"], "sold": clone.out["sold"], "given": clone.out["given"],
                        "discarded": clone.out["discarded"], "lost": lost},
                "open": opened,
                "pieces": {"made": clone.made, "growing": growing, "waiting": waiting, "unpotted": clone.unpotted,
                           "alive": clone.alive, "lost": pieces_lost,
                           "open": clone.made - growing - waiting - sum(pieces_lost.values()) - clone.alive}}
        return result

    def pots(self):
        result = {}
        for key, pot in self.each_pot():
            result[key] = {"stage": pot.stage, "pieces": pot.pieces, "bulbs": pot.total(), "place": pot.place,
                           "damage": pot.damage, "on_hold": pot.held}
        return result


def positive(counter):
    return {key: number for key, number in counter.items() if number}


def a_letter_apart(one, two):
    if len(one) > len(two):
        one, two = two, one
    if len(two) - len(one) > 1 or one == two:
        return False
    for at in range(len(two)):
        if at >= len(one) or one[at] != two[at]:
            return one[at + 1:] == two[at + 1:] if len(one) == len(two) else one[at:] == two[at + 1:]
    return False
