#!/usr/bin/python3
"""The command line from outside: words, exit codes, JSON by name, files whole or not at all. No code of ours in it.

Expected figures are worked out by hand from the rules of counting that stand beside each; nothing is copied from the
program's own output.
"""
import csv
import io
import json
import os
import resource
import shutil
import sqlite3
import stat
import subprocess
import tempfile
import unittest

BINARY = os.environ["MOTHERBULB_BINARY"]
COLUMNS = "when,helper,event,clone,genus,batch,pot,parent,method,sections,grade,count,cause,place,note".split(",")


def table(*rows, columns=COLUMNS, separator=","):
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([row.get(column, "") for column in columns])
    return out.getvalue()


def begun(**other):
    return {"when": "2026-03-01", "helper": "Runa", "event": "begun", "clone": "Island Star", "genus": "Hippeastrum",
            "batch": "B1", "method": "chipping", "sections": "8", "grade": "26-28", "count": "2", **other}


def act(event, when="2026-04-01", **other):
    return {"when": when, "helper": "Ivo", "event": event, "batch": "B1", **other}


class CommandLine(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.mkdtemp(prefix="motherbulb-cli-")
        self.addCleanup(self.clear)
        self.environment = {**os.environ, "XDG_STATE_HOME": os.path.join(self.folder, "state")}
        self.environment.pop("DISPLAY", None)
        self.environment.pop("WAYLAND_DISPLAY", None)

    def clear(self):
        for root, folders, _ in os.walk(self.folder):
            for name in folders:
                os.chmod(os.path.join(root, name), 0o700)
        shutil.rmtree(self.folder)

    def path(self, name):
        return os.path.join(self.folder, name)

    def write(self, name, text):
        with open(self.path(name), "wb") as file:
            file.write(text if isinstance(text, bytes) else text.encode())
        return name

    def read(self, name):
        with open(self.path(name), "rb") as file:
            return file.read()

    def run_it(self, *words, code=0, **how):
        done = subprocess.run([BINARY, *words], cwd=self.folder, env=how.pop("environment", self.environment),
                              stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=120, **how)
        self.assertEqual(done.returncode, code, (words, done.stdout, done.stderr))
        if code in (2, 3):
            self.assertEqual(done.stdout, b"", words)
            self.assertTrue(done.stderr.strip(), words)
        return done

    def ask(self, *words, code=0):
        return json.loads(self.run_it(*words, "--format", "json", code=code).stdout)

    def take_in(self, store, *rows, **how):
        self.write("rows.csv", table(*rows))
        return self.ask("import", store, "rows.csv", **how)

    def names(self):
        return sorted(name for name in os.listdir(self.folder) if name != "state")


class Answers(CommandLine):
    SEASON = [
        begun(),
        act("potted", "2026-03-02", pot="1", count="10", place="House 1"),
        act("potted", "2026-03-02", pot="2", count="6"),
        act("looked", "2026-04-01", pot="1", count="9"),
        act("lost", "2026-05-01", pot="1", count="1", cause="rot"),
        act("damage", "2026-05-02", pot="2", cause="pest:thrips", note="on top"),
        act("unpotted", "2026-09-01", pot="1", grade="2-4", count="7"),
        act("unpotted", "2026-09-01", pot="1", grade="4-6", count="2"),
        act("unpotted", "2026-09-01", pot="1", grade="alive", count="8"),
        act("sold", "2026-09-02", grade="4-6", count="1"),
        act("held", "2026-09-03", pot="2", note="awaits a test"),
    ]

    def test_import_counts_rows_and_stock_balances_by_clone(self):
        report = self.take_in("a.book", *self.SEASON)
        self.assertEqual({k: report[k] for k in ("rows", "new", "known", "matters")},
                         {"rows": 11, "new": 11, "known": 0, "matters": 0})
        self.assertRegex(report["digest"], r"^[0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4}$")
        stock = self.ask("stock", "a.book", "--on", "2026-12-31")
        self.assertEqual(stock["on"], "2026-12-31")
        rows = [{k: row[k] for k in ("clone", "genus", "grade", "bulbs")} for row in stock["rows"]]
        self.assertEqual(rows, [
            {"clone": "Island Star", "genus": "Hippeastrum", "grade": "2-4", "bulbs": 7},
            {"clone": "Island Star", "genus": "Hippeastrum", "grade": "4-6", "bulbs": 1}])
        balance = stock["balance"][0]
        # 2 mothers, new to the book, were cut into 8: 16 pieces, 10 and 6 potted. Of pot 1: 1 lost, 9 unpotted, 8 of
        # them alive; 9 bulbs, 1 of them sold.
        self.assertEqual(balance["in"], {"begun": 2, "increase": 9})
        self.assertEqual(balance["there"], 8)
        self.assertEqual(balance["out"], {"cut": 2, "sold": 1, "given": 0, "discarded": 0, "lost": {}})
        self.assertEqual(balance["open"], 0)
        self.assertEqual(balance["pieces"], {"made": 16, "growing": 6, "waiting": 0, "unpotted": 9, "alive": 8,
                                             "lost": {"rot": 1}, "open": 1})

    def test_stock_of_an_earlier_day_knows_nothing_later(self):
        self.take_in("a.book", *self.SEASON)
        early = self.ask("stock", "a.book", "--on", "2026-08-31")
        self.assertEqual(early["rows"], [])
        self.assertEqual(early["balance"][0]["pieces"]["growing"], 15)
        self.assertEqual(self.ask("stock", "a.book", "--on", "2026-02-28")["balance"], [])

    def test_pots_say_stage_contents_last_look_and_damage(self):
        self.take_in("a.book", *self.SEASON)
        pots = self.ask("pots", "a.book")
        self.assertEqual(len(pots), 1)
        pot = pots[0]
        self.assertEqual(pot["pot"], pot["batch"] + "/2")
        self.assertEqual((pot["clone"], pot["mark"], pot["stage"], pot["place"]), ("Island Star", "B1", "forming", ""))
        self.assertEqual((pot["pieces"], pot["bulbs"], pot["last_looked"], pot["on_hold"]), (6, 0, None, True))
        self.assertEqual([{k: d[k] for k in ("when", "cause", "helper", "note")} for d in pot["damage"]],
                         [{"when": "2026-05-02", "cause": "pest", "helper": "Ivo", "note": "on top"}])
        every = self.ask("pots", "a.book", "--all")
        self.assertEqual([(p["stage"], p["last_looked"]) for p in every], [("emptied", "2026-04-01"), ("forming", None)])
        self.assertEqual(self.ask("pots", "a.book", "--batch", pot["batch"].lower()), pots)
        self.assertEqual(self.ask("pots", "a.book", "--batch", "B1"), pots)

    def test_check_finds_a_sound_book_sound(self):
        self.take_in("a.book", *self.SEASON)
        check = self.ask("check", "a.book")
        # 11 rows, of which three are one unpotting.
        self.assertEqual((check["entries"], check["folded_equal"], check["chains_ok"]), (9, True, True))
        self.assertEqual((check["balances_open"], check["matters"]), (0, 0))

    def test_lists_come_as_csv_too(self):
        self.take_in("a.book", *self.SEASON)
        rows = list(csv.DictReader(io.StringIO(self.run_it("stock", "a.book", "--format", "csv").stdout.decode())))
        self.assertEqual([(r["clone"], r["grade"], r["bulbs"]) for r in rows],
                         [("Island Star", "2-4", "7"), ("Island Star", "4-6", "1")])
        rows = list(csv.DictReader(io.StringIO(self.run_it("pots", "a.book", "--format", "csv").stdout.decode())))
        self.assertEqual(rows[0]["pieces"], "6")
        self.run_it("import", "a.book", "rows.csv", "--format", "csv", code=2)

    def test_odd_names_come_through_every_answer(self):
        name = 'Ру́на "the\n2nd" 🌷 ‮نجمة ' + "x" * 10000
        self.take_in("a.book", begun(clone=name, helper=name, batch="=B,1\r\n2"), {**act("note", note="=1+1\ttab"),
                                                                                    "batch": "=B,1\r\n2"})
        self.assertEqual(self.ask("stock", "a.book")["balance"][0]["clone"], name)
        self.run_it("stock", "a.book")
        self.run_it("pots", "a.book", "--all")
        self.run_it("export", "a.book", "out.csv")
        self.assertEqual(self.ask("import", "b.book", "out.csv")["new"], 2)
        self.assertEqual(self.ask("stock", "b.book"), self.ask("stock", "a.book"))

    def test_the_machine_s_language_changes_nothing(self):
        self.take_in("a.book", *self.SEASON)
        answers = set()
        for language in ("C", "de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8", "tr_TR.UTF-8", "ar_EG.UTF-8", "hi_IN.UTF-8"):
            environment = {**self.environment, "LC_ALL": language, "LANG": language}
            self.run_it("export", "a.book", "out.csv", environment=environment)
            answers.add(self.read("out.csv"))
            store = language + ".book"
            self.run_it("import", store, "out.csv", environment=environment)
            answers.add(self.run_it("stock", store, "--on", "2026-12-31", "--format", "json",
                                    environment=environment).stdout)
        self.assertEqual(len(answers), 2)


class ThreeDevices(CommandLine):
    def test_books_meet_in_any_order_and_show_the_same(self):
        self.take_in("a.book", begun(), act("potted", "2026-03-02", pot="1", count="16"))
        self.run_it("parcel", "a.book", "a.parcel")
        for store in ("b.book", "c.book"):
            self.run_it("merge", store, "a.parcel")
        self.take_in("b.book", act("lost", "2026-05-01", pot="1", count="2", cause="rot"))
        self.take_in("c.book", act("looked", "2026-05-01", pot="1", count="11"))
        for store in ("a", "b", "c"):
            self.run_it("parcel", store + ".book", store + ".parcel")
        digests, answers = set(), set()
        for store, order in (("a", "bc"), ("a2", "abc"), ("a3", "cba"), ("b", "ca"), ("c", "ab")):
            report = self.ask("merge", store + ".book", *[name + ".parcel" for name in order])
            digests.add(report["digest"])
            again = self.ask("merge", store + ".book", *[name + ".parcel" for name in order])
            self.assertEqual((again["new"], again["parked"], again["digest"]), (0, 0, report["digest"]))
            answers.add((self.run_it("stock", store + ".book", "--on", "2026-12-31", "--format", "json").stdout,
                         self.run_it("pots", store + ".book", "--format", "json").stdout))
        self.assertEqual((len(digests), len(answers)), (1, 1))
        balance = self.ask("stock", "a.book")["balance"][0]["pieces"]
        self.assertEqual((balance["growing"], balance["lost"]), (14, {"rot": 2}))

    def test_a_parcel_for_a_book_holds_what_it_lacks(self):
        self.take_in("a.book", begun(), act("potted", "2026-03-02", pot="1", count="16"))
        self.run_it("parcel", "a.book", "all.parcel")
        self.run_it("merge", "b.book", "all.parcel")
        self.take_in("a.book", act("looked", "2026-05-01", pot="1", count="11"))
        self.assertEqual(self.ask("parcel", "a.book", "new.parcel", "--for", "b.book")["entries"], 1)
        self.assertEqual(self.ask("parcel", "a.book", "new2.parcel", "--for", "all.parcel")["entries"], 1)
        self.assertEqual(self.ask("merge", "b.book", "new.parcel")["new"], 1)
        parked = self.ask("merge", "c.book", "new.parcel", code=1)
        self.assertEqual((parked["new"], parked["parked"]), (0, 1))
        filled = self.ask("merge", "c.book", "all.parcel")
        self.assertEqual(filled["parked"], 0)
        self.assertEqual(self.ask("check", "c.book")["entries"], 3)

    def test_a_pot_counted_twice_is_a_matter_until_one_device_settles_it_for_all(self):
        self.take_in("a.book", begun(), act("potted", "2026-03-02", pot="1", count="16"))
        self.run_it("parcel", "a.book", "a.parcel")
        self.run_it("merge", "b.book", "a.parcel")
        self.take_in("a.book", act("unpotted", "2026-09-01T09:00+01:00", pot="1", grade="2-4", count="12", helper="Ana"))
        self.take_in("b.book", act("unpotted", "2026-09-01T10:00+01:00", pot="1", grade="2-4", count="14", helper="Ben"))
        self.run_it("parcel", "a.book", "a.parcel")
        self.run_it("parcel", "b.book", "b.parcel")
        self.assertEqual(self.ask("merge", "a.book", "b.parcel", code=1)["matters"], 1)
        matters = self.ask("matters", "a.book", code=1)
        self.assertEqual([m["kind"] for m in matters], ["counted-twice"])
        self.assertEqual([(s["helper"], s["bulbs"]) for s in matters[0]["sides"]], [("Ana", 12), ("Ben", 14)])
        self.assertTrue(matters[0]["pot"].endswith("/1"))
        # Until it is settled the first counts.
        self.assertEqual(self.ask("stock", "a.book")["rows"][0]["bulbs"], 12)
        for take, bulbs in (("second", 14), ("both", 26), ("first", 12)):
            self.run_it("merge", take + ".book", "a.parcel", "b.parcel", code=1)
            self.assertEqual(self.ask("matters", take + ".book", "--settle", matters[0]["id"], "--take", take), [])
            self.assertEqual(self.ask("stock", take + ".book")["rows"][0]["bulbs"], bulbs)
            self.run_it("parcel", take + ".book", take + ".parcel")
            self.run_it("merge", take + "-there.book", take + ".parcel")
            self.assertEqual(self.ask("matters", take + "-there.book"), [])
            self.assertEqual(self.ask("stock", take + "-there.book")["rows"][0]["bulbs"], bulbs)
        self.run_it("matters", "first.book", "--settle", matters[0]["id"], "--take", "first", code=2)

    def test_what_only_another_device_s_parcel_knows_is_asked_for_in_words(self):
        self.take_in("a.book", begun())
        self.write("rows.csv", table(act("lost", pot="1", count="1")))
        fault = self.run_it("import", "b.book", "rows.csv", code=2).stderr.decode()
        self.assertIn('rows.csv, line 2, column batch: no batch "B1"', fault)
        self.assertIn("merge the parcel", fault)
        self.assertFalse(os.path.exists(self.path("b.book")))
        self.run_it("parcel", "a.book", "a.parcel")
        self.run_it("merge", "b.book", "a.parcel")
        self.run_it("import", "b.book", "rows.csv")

    def test_a_table_is_withdrawn_on_one_device_whoever_imported_it(self):
        rows = [begun(), act("potted", "2026-03-02", pot="1", count="16")]
        self.take_in("a.book", *rows)
        self.take_in("b.book", *rows)
        self.run_it("parcel", "b.book", "b.parcel")
        report = self.ask("withdraw", "a.book", "rows.csv")
        self.assertEqual((report["rows"], report["withdrawn"], report["known"]), (2, 2, 0))
        self.ask("merge", "a.book", "b.parcel")
        self.assertEqual(self.ask("stock", "a.book")["balance"], [])
        self.assertEqual(self.ask("pots", "a.book", "--all"), [])
        self.assertEqual(self.ask("withdraw", "a.book", "rows.csv")["withdrawn"], 0)
        self.assertEqual(self.ask("import", "a.book", "rows.csv")["new"], 2)
        self.assertEqual(self.ask("stock", "a.book")["balance"][0]["pieces"]["growing"], 16)


class Trace(CommandLine):
    def book(self):
        """One clone with a child; then cuts of three others by the same hand, a blade made clean before the last."""
        def cut(batch, hour, **other):
            return begun(batch=batch, when="2026-03-01T%02d:00+01:00" % hour, clone="Clone " + batch, count="1", **other)

        def potted(batch, pot, place=""):
            return {**act("potted", "2026-03-02", pot=str(pot), count="8", place=place), "batch": batch}
        rows = [cut("B1", 8, helper="Ivo"), potted("B1", 1, "Skerry House, bench 2, no. 4"),
                cut("B2", 9, parent="B1", pot="", helper="Sunna"), potted("B2", 1),
                cut("M1", 10, helper="Ivo"), potted("M1", 1), cut("M2", 11, helper="Ivo"), potted("M2", 1),
                cut("M3", 12, helper="Ivo", more='{"blade":"per-batch"}'), potted("M3", 1),
                cut("N1", 13, helper="Runa"), potted("N1", 1, "Skerry House, bench 2, no. 5"),
                cut("F1", 14, helper="Runa"), potted("F1", 1, "Skerry House, bench 2, no. 7")]
        for row in rows:
            if row["batch"] == "B2":
                row["clone"] = "Clone B1"
        self.write("rows.csv", table(*rows, columns=COLUMNS + ["more"]))
        self.ask("import", "a.book", "rows.csv")
        return {row["mark"]: row for row in self.ask("pots", "a.book", "--all")}

    def test_a_trace_ranks_descent_before_blade_before_bench_and_names_the_entries(self):
        pots = self.book()
        found = self.ask("trace", "a.book", "B1/1", code=1)
        self.assertEqual([(row["pot"], row["reason"], row["steps"]) for row in found],
                         [(pots["B2"]["pot"], "descent", 1), (pots["M1"]["pot"], "blade", 1),
                          (pots["M2"]["pot"], "blade", 2), (pots["N1"]["pot"], "bench", 1)])
        self.assertEqual([row["clone"] for row in found], ["Clone B1", "Clone M1", "Clone M2", "Clone N1"])
        self.assertEqual([row["batch"] for row in found], [pots[mark]["batch"] for mark in ("B2", "M1", "M2", "N1")])
        for row in found:
            for entry in row["entries"]:
                self.assertRegex(entry, "^[0-9a-f]{32}-[1-9][0-9]*$")
        # What began the child; the bad cut and the one after it; the two pottings.
        self.assertEqual([len(row["entries"]) for row in found], [1, 2, 2, 2])
        self.assertEqual(found[1]["entries"][0], found[2]["entries"][0])
        # By label as by mark, and a whole batch likewise.
        for pot in (pots["B1"]["pot"], pots["B1"]["batch"], pots["B1"]["batch"].lower() + "/1", "B1"):
            self.assertEqual(self.ask("trace", "a.book", pot, code=1), found)

    def test_a_trace_in_words_tells_why_where_the_blade_s_trail_ends_and_what_is_not_cut(self):
        self.book()
        text = self.run_it("trace", "a.book", "B1/1", code=1).stdout.decode()
        for words in ("clone-mate by descent", "cut 2nd after it with the same blade, not disinfected between",
                      "neighbour on Skerry House, bench 2", "2 plants cut after; the trail ends where it was disinfected",
                      "A mother that shows virus or basal rot is not cut", "plant-health service"):
            self.assertIn(words, text)

    def test_a_trace_that_finds_nothing_is_done_and_an_unknown_pot_is_refused(self):
        pots = self.book()
        self.assertEqual(self.ask("trace", "a.book", "M3"), [])
        self.assertIn(b"is not cut", self.run_it("trace", "a.book", "M3").stdout)
        for pot in ("B1/2", "B9/1", "B9", pots["B1"]["batch"] + "/9", "B1/", "B1/0", "/1"):
            with self.subTest(pot):
                self.assertTrue(self.run_it("trace", "a.book", pot, code=2).stderr)
        self.run_it("trace", "a.book", code=2)


class Sample(CommandLine):
    def ask_for(self, *words, code=0):
        return self.ask("sample", *words, code=code)

    def test_shares_are_understood_as_parts_and_as_percents(self):
        # One in twenty of 20 is 1 bulb; 19 of the 20 find it with 95 %.
        for share, confidence in (("0.05", "0.95"), ("5%", "95%"), ("5 %", "95.0 %"), (".05", "0.950")):
            answer = self.ask_for("--lot", "20", "--share", share, "--confidence", confidence)
            self.assertEqual((answer["infected"], answer["tests"], answer["bulbs"]), (1, 19, 19))
            self.assertEqual((answer["lot"], answer["share"], answer["confidence"], answer["sensitivity"],
                              answer["pool"]), (20, 0.05, 0.95, 1.0, 1))
            self.assertAlmostEqual(answer["reached"], 0.95)

    def test_it_says_in_words_how_many_to_take(self):
        text = self.run_it("sample", "--lot", "20", "--share", "5%", "--confidence", "95%").stdout.decode()
        self.assertIn("Test 19 bulbs", text)
        # Pools of 6 of 20: three whole ones and one of 2, which is wanted for a chance of 95 % to find the only one.
        text = self.run_it("sample", "--lot", "20", "--share", "5%", "--confidence", "95%", "--pool", "6").stdout.decode()
        self.assertIn("Test 20 bulbs in 4 pools of 6, the last of 2", text)
        # A test that finds 80 % finds a single infected bulb with no more than that.
        short = ("--lot", "20", "--share", "5%", "--confidence", "95%", "--sensitivity", "0.8")
        self.assertIn(b"80.00 % only", self.run_it("sample", *short).stdout)
        self.assertIsNone(self.ask_for(*short)["tests"])

    def test_what_is_out_of_range_or_no_number_is_refused_with_the_option_s_name(self):
        right = {"--lot": "20", "--share": "5%", "--confidence": "95%", "--sensitivity": "0.9", "--pool": "2"}
        for option, values in {"--lot": ("0", "-3", "many", "100000001", "9" * 30, "2.5"),
                               "--share": ("0", "101%", "1.01", "x", "%", "1e-3", "nan", "0.1.1", "-5%"),
                               "--confidence": ("0", "1", "100%", "certain"),
                               "--sensitivity": ("0", "1.2", "y"), "--pool": ("0", "21", "a")}.items():
            for value in values:
                with self.subTest(option=option, value=value):
                    words = [word for pair in {**right, option: value}.items() for word in pair]
                    self.assertIn(option, self.run_it("sample", *words, code=2).stderr.decode())
        for option in ("--lot", "--share", "--confidence"):
            words = [word for pair in right.items() if pair[0] != option for word in pair]
            self.assertIn(option, self.run_it("sample", *words, code=2).stderr.decode())


class BadInput(CommandLine):
    def test_a_wrong_table_takes_nothing_in_and_makes_no_store(self):
        self.write("rows.csv", table(begun(), act("potted", pot="1", count="x"), act("lost", count="1", cause="slugs")))
        done = self.run_it("import", "new.book", "rows.csv", code=2)
        lines = done.stderr.decode().splitlines()
        self.assertEqual(len(lines), 2)
        self.assertTrue(lines[0].startswith('rows.csv, line 3, column count: "x"'))
        self.assertTrue(lines[1].startswith('rows.csv, line 4, column cause: "slugs"'))
        self.assertEqual(self.names(), ["rows.csv"])
        self.take_in("a.book", begun())
        before = self.ask("check", "a.book")
        self.write("rows.csv", table(act("potted", pot="1", count="3"), act("potted", pot="2", count="-1")))
        self.run_it("import", "a.book", "rows.csv", code=2)
        self.assertEqual(self.ask("check", "a.book"), before)

    def test_tables_as_spreadsheets_write_them_are_understood(self):
        rows = [begun(), act("potted", pot="1", count="3", note="a; b, \"c\"\nd")]
        for number, text in enumerate([table(*rows), "\ufeff" + table(*rows, separator=";"),
                                       table(*rows).replace("\r\n", "\n")]):
            self.write("rows.csv", text)
            self.assertEqual(self.ask("import", "%d.book" % number, "rows.csv")["new"], 2)

    def test_words_that_mean_nothing_are_usage_errors(self):
        self.take_in("a.book", begun())
        for words in (["frobnicate"], ["stoc", "a.book"], ["stock"], ["stock", "a.book", "more"], ["stock", "--nope"],
                      ["stock", "a.book", "--on"], ["stock", "a.book", "--on", "2026-02-30"], ["--nope"],
                      ["stock", "a.book", "--format", "xml"], ["import", "a.book"], ["merge", "a.book"],
                      ["matters", "a.book", "--take", "first"], ["matters", "a.book", "--settle", "012345678901"],
                      ["matters", "a.book", "--settle", "012345678901", "--take", "third"],
                      ["matters", "a.book", "--settle", "012345678901", "--take", "first"],
                      ["pots", "a.book", "--batch", "B7"], ["import", "b.book", "rows.csv", "--device", "AB"],
                      ["", "a.book"], ["rows.csv"]):
            with self.subTest(words):
                before = self.names()
                self.run_it(*words, code=2)
                self.assertEqual(self.names(), before)

    def test_without_a_word_and_a_display_it_says_so_and_makes_no_book(self):
        data = os.path.join(self.folder, "data")
        self.environment["XDG_DATA_HOME"] = data
        self.environment["SDL_VIDEODRIVER"] = "x11"
        self.assertTrue(self.run_it(code=3).stderr.strip())
        self.assertEqual(os.listdir(os.path.join(data, "motherbulb")), [])
        # Nor does it remember one; and a store that is named and missing is refused.
        self.assertEqual(os.listdir(self.path("state/motherbulb")) if os.path.isdir(self.path("state/motherbulb")) else [],
                         [])
        self.run_it("no.book", code=2)
        self.assertFalse(os.path.exists(self.path("no.book")))

    def test_commands_that_are_not_built_say_so(self):
        self.take_in("a.book", begun())
        for command in ("labels", "report"):
            fault = self.run_it(command, "a.book", "--weeks", "3", code=2).stderr.decode()
            self.assertIn("not built yet", fault)

    def test_help_is_an_answer(self):
        self.assertIn(b"motherbulb import STORE FILE.csv", self.run_it("--help").stdout)
        self.assertIn(b"motherbulb stock STORE", self.run_it("stock", "--help").stdout)


class BadStores(CommandLine):
    LOOKING = (["stock"], ["pots"], ["matters"], ["check"], ["export", "out.csv"], ["parcel", "out.parcel"],
               ["withdraw", "rows.csv"], ["backup", "out.backup"], ["trace", "B1/1"])

    def each(self, store, code):
        self.write("rows.csv", table(begun()))
        before = self.names()
        for command, *rest in self.LOOKING:
            with self.subTest(command):
                self.run_it(command, store, *rest, code=code)
                self.assertEqual(self.names(), before)

    def test_a_missing_store_is_refused_and_not_made(self):
        self.each("missing.book", 2)
        self.run_it("restore", "missing.book", "new.book", code=2)
        self.run_it("import", "new.book", "missing.csv", code=2)
        self.run_it("merge", "new.book", "missing.parcel", code=2)
        self.write("not.parcel", b"hello")
        self.run_it("merge", "new.book", "not.parcel", code=2)
        self.assertEqual(self.names(), ["not.parcel", "rows.csv"])

    def test_a_foreign_file_is_refused_and_left_as_it_is(self):
        self.write("text.book", b"my grandmother's recipes\n")
        with sqlite3.connect(self.path("other.book")) as other:
            other.execute("CREATE TABLE recipe(name TEXT)")
        other.close()
        for store in ("text.book", "other.book"):
            before = self.read(store)
            self.each(store, 2)
            self.run_it("import", store, "rows.csv", code=2)
            self.run_it("merge", store, "rows.csv", code=2)
            self.run_it("demo", store, code=2)
            self.assertEqual(self.read(store), before)

    def test_a_store_in_use_is_refused_in_words(self):
        self.take_in("a.book", begun())
        holder = sqlite3.connect(self.path("a.book"), isolation_level=None)
        holder.execute("PRAGMA locking_mode=EXCLUSIVE")
        holder.execute("BEGIN EXCLUSIVE")
        fault = self.run_it("import", "a.book", "rows.csv", code=2).stderr.decode()
        holder.execute("ROLLBACK")
        holder.close()
        self.assertNotIn("SQL", fault)
        self.assertEqual(self.ask("import", "a.book", "rows.csv")["known"], 1)

    def test_no_file_is_ever_written_over_a_store(self):
        self.take_in("a.book", begun())
        self.take_in("b.book", begun(batch="B2"))
        before = self.ask("check", "b.book")
        for command in ("export", "parcel", "backup"):
            for target in ("a.book", "b.book"):
                self.run_it(command, "a.book", target, code=2)
        self.run_it("backup", "a.book", "kept.backup")
        self.run_it("restore", "kept.backup", "b.book", code=2)
        self.run_it("demo", "b.book", code=2)
        self.assertEqual(self.ask("check", "b.book"), before)

    def test_a_backup_comes_back_as_it_was(self):
        self.take_in("a.book", begun(), act("potted", pot="1", count="16"))
        self.run_it("backup", "a.book", "kept.backup")
        self.run_it("restore", "kept.backup", "b.book")
        self.assertEqual(self.ask("stock", "b.book"), self.ask("stock", "a.book"))
        self.assertEqual(self.ask("check", "b.book")["digest"], self.ask("check", "a.book")["digest"])

    def test_a_file_comes_whole_or_not_at_all(self):
        self.take_in("a.book", *[begun(batch="B%d" % i, note="n" * 500) for i in range(400)])
        self.write("out.csv", b"yesterday's table")
        limit = 60_000  # bytes; as a disk that is full there

        def small_disk():
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
            import signal
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)

        self.run_it("export", "a.book", "out.csv", code=3, preexec_fn=small_disk)
        self.assertEqual(self.read("out.csv"), b"yesterday's table")
        self.run_it("export", "a.book", "new.csv", code=3, preexec_fn=small_disk)
        self.assertEqual([n for n in self.names() if n.startswith(".motherbulb") or n == "new.csv"], [])
        self.run_it("export", "a.book", "out.csv")
        self.assertGreater(len(self.read("out.csv")), 200_000)

    def test_an_answer_that_cannot_be_written_is_no_success(self):
        self.take_in("a.book", begun())
        with open("/dev/full", "wb") as full:
            done = subprocess.run([BINARY, "stock", "a.book"], cwd=self.folder, env=self.environment, stdout=full,
                                  stderr=subprocess.PIPE, timeout=60)
        self.assertEqual(done.returncode, 3)

    def test_a_file_keeps_its_link_and_its_permissions(self):
        self.take_in("a.book", begun())
        os.mkdir(self.path("shelf"))
        self.write("shelf/real.csv", b"old")
        os.chmod(self.path("shelf/real.csv"), 0o640)
        os.symlink("shelf/real.csv", self.path("link.csv"))
        self.run_it("export", "a.book", "link.csv")
        self.assertTrue(os.path.islink(self.path("link.csv")))
        self.assertNotEqual(self.read("shelf/real.csv"), b"old")
        self.assertEqual(stat.S_IMODE(os.stat(self.path("shelf/real.csv")).st_mode), 0o640)

    @unittest.skipIf(os.geteuid() == 0, "whoever may do everything meets no read-only folder")
    def test_a_read_only_folder_is_told_in_words(self):
        self.take_in("a.book", begun())
        os.mkdir(self.path("closed"))
        os.chmod(self.path("closed"), 0o500)
        self.run_it("export", "a.book", "closed/out.csv", code=3)
        self.run_it("import", "closed/new.book", "rows.csv", code=3)


class Demo(CommandLine):
    def test_the_demo_goes_through_a_table_into_an_equal_book(self):
        self.run_it("demo", "d.book", "--on", "2026-11-01")
        self.run_it("export", "d.book", "d.csv")
        self.run_it("import", "e.book", "d.csv")
        self.run_it("export", "e.book", "e.csv")
        self.assertEqual(self.read("d.csv"), self.read("e.csv"))
        for command in (["stock", "--on", "2026-11-01"], ["pots", "--all"]):
            self.assertEqual(self.ask(command[0], "d.book", *command[1:]), self.ask(command[0], "e.book", *command[1:]))
        self.assertEqual(self.ask("import", "d.book", "d.csv")["new"], 0)


if __name__ == "__main__":
    unittest.main(verbosity=1)
