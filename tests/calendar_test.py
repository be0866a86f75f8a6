#!/usr/bin/python3
"""What is due as a calendar, read by a general library (icalendar), on books made of small tables; and `due` in JSON, text
and HTML. Days are counted by hand: hippeastrum rests 8 to 10 weeks (trade facts S13, S39)."""
import datetime
import json
import os
import subprocess
import tempfile
import unittest

import icalendar

BINARY = os.environ["MOTHERBULB_BINARY"]
HEAD = "when,helper,event,clone,genus,batch,pot,parent,method,sections,grade,count,cause,place,note\n"
ODD = "Tern, Island; blåst\\öst ☘"


def day(text):
    return datetime.date.fromisoformat(text)


class Due(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.store = os.path.join(self.folder.name, "a.book")

    def tearDown(self):
        self.folder.cleanup()

    def run_it(self, *words, code=0):
        done = subprocess.run([BINARY, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=120)
        self.assertEqual(code, done.returncode, done.stderr.decode())
        return done.stdout.decode()

    def take(self, rows):
        path = os.path.join(self.folder.name, "t.csv")
        with open(path, "w", encoding="utf-8") as table:
            table.write(HEAD + "".join(row + "\n" for row in rows))
        self.run_it("import", self.store, path)

    def rows(self, clone="Tern Island"):
        return [
            f'2025-10-01,Ines,begun,"{clone}",Hippeastrum,M1,,,growing-on,,26-28,2,,,',
            "2025-10-01,Ines,potted,,,M1,1,,,,26-28,1,,\"Skerry House, bench 2\",",
            "2025-10-01,Ines,potted,,,M1,2,,,,26-28,1,,\"Skerry House, bench 10\",",
            "2026-09-01,Ines,looked,,,M1,1,,,,,,,,",
            "2026-09-01,Ines,looked,,,M1,2,,,,,,,,",
            "2026-09-01,Ines,dried-off,,,M1,1,,,,,,,,",
            "2026-09-01,Ines,dried-off,,,M1,2,,,,,,,,",
        ]

    def due(self, on, *more, code=0):
        return json.loads(self.run_it("due", self.store, "--on", on, "--format", "json", *more, code=code))

    def events(self, on, *more, code=0):
        text = self.run_it("due", self.store, "--on", on, "--format", "ics", *more, code=code)
        for line in text.split("\r\n"):
            self.assertNotIn("\n", line)
            self.assertLessEqual(len(line.encode()), 75)
        calendar = icalendar.Calendar.from_ical(text)
        self.assertEqual("2.0", calendar["VERSION"])
        found = {str(event["UID"]): event for event in calendar.walk("VEVENT")}
        self.assertEqual(len(found), len(calendar.walk("VEVENT")), "each UID once")
        return found

    def test_a_rest_is_over_after_eight_to_ten_weeks(self):
        self.take(self.rows())
        steps = lambda rows: [row["step"] for row in rows]
        self.assertEqual([], self.due("2026-10-20"))  # 7 weeks
        rows = self.due("2026-10-27")  # 8 weeks
        self.assertEqual(["start", "start"], steps(rows))
        self.assertEqual(["2026-10-27"] * 2, [row["opens"] for row in rows])
        self.assertEqual(["2026-11-10"] * 2, [row["closes"] for row in rows])
        self.assertEqual([False] * 2, [row["overdue"] for row in rows])
        self.assertIn("8 weeks ago, plan: 8 to 10 weeks", rows[0]["why"])
        self.assertEqual([False] * 2, [row["overdue"] for row in self.due("2026-11-10")])
        self.assertEqual([True] * 2, [row["overdue"] for row in self.due("2026-11-11", code=1)])
        self.assertEqual(2, len(self.due("2026-10-20", "--weeks", "1")))

    def test_a_calendar_has_each_window_and_keeps_odd_names(self):
        self.take(self.rows(ODD))
        starts = [event for event in self.events("2026-10-20").values() if "-start-" in event["UID"]]
        self.assertEqual(2, len(starts))
        for event in starts:
            self.assertEqual(day("2026-10-27"), event["DTSTART"].dt)
            self.assertEqual(day("2026-11-11"), event["DTEND"].dt)  # the end is not part of it
            self.assertEqual("CONFIRMED", event["STATUS"])
            self.assertIn(ODD, str(event["SUMMARY"]))

    def test_what_is_done_is_cancelled_for_eight_weeks_and_the_next_round_is_another_event(self):
        self.take(self.rows())
        before = {uid for uid in self.events("2026-10-27") if "-1-start-" in uid}
        self.assertEqual(1, len(before))
        self.take(self.rows() + ["2026-11-01,Bo,started,,,M1,1,,,,,,,,"])
        after = self.events("2026-11-02")
        uid = before.pop()
        self.assertEqual("CANCELLED", after[uid]["STATUS"])
        # Ten months on it is dried off and rests again: a round of its own.
        self.take(self.rows() + ["2026-11-01,Bo,started,,,M1,1,,,,,,,,", "2027-08-01,Bo,dried-off,,,M1,1,,,,,,,,"])
        later = self.events("2027-09-20", "--weeks", "3", code=1)
        rounds = [one for one in later if "-1-start-" in one]
        self.assertEqual(1, len(rounds))
        self.assertNotEqual(uid, rounds[0])

    def test_equal_books_give_equal_bytes(self):
        self.take(self.rows())
        first = self.run_it("due", self.store, "--on", "2026-10-27", "--format", "ics")
        self.assertEqual(first, self.run_it("due", self.store, "--on", "2026-10-27", "--format", "ics"))

    def test_a_weeks_work_is_by_place_in_walking_order(self):
        self.take(self.rows("A <b> & 'c'"))
        page = self.run_it("due", self.store, "--on", "2026-10-27", "--format", "html")
        self.assertIn("Week 44, 2026", page)
        self.assertLess(page.index("bench 2<"), page.index("bench 10<"))
        self.assertNotIn("<b>", page)
        self.assertIn("A &lt;b&gt; &amp; &#39;c&#39;", page)

    def test_the_day_before_yesterday_is_told_as_it_was(self):
        self.take(self.rows())
        # By the end of August nothing was dried off: 8 to 10 months of growth were over on 1 June and 1 August.
        rows = self.due("2026-08-20", code=1)
        self.assertIn("dry-off", [row["step"] for row in rows])
        self.assertNotIn("start", [row["step"] for row in rows])

    def test_what_is_asked_wrongly_is_refused(self):
        self.take(self.rows())
        self.run_it("due", self.store, "--weeks", "many", code=2)
        self.run_it("due", self.store, "--on", "2026-02-30", code=2)
        self.run_it("stock", self.store, "--format", "ics", code=2)


if __name__ == "__main__":
    unittest.main()
