#include "core/table_row.hpp"

#include <doctest/doctest.h>

#include "tests/core/tables.hpp"

using namespace motherbulb;
using namespace motherbulb::tables;

namespace {

bool fault_in(const Row& row, const std::string& column) {
  return faults_of({begun(), row}).find("line 3, column " + column + ": ") != std::string::npos;
}

// The payload of the one entry that is no beginning.
template <class Fact>
Fact fact_of(const Row& row, const std::string& more = "") {
  Site site;
  std::string text = text_of({begun(), potted(), row});
  if (!more.empty()) {
    text.insert(text.find("\r\n"), ",more");
    std::size_t at = text.find("\r\n") + 2;
    for (int i = 0; i < 3; ++i) {
      at = text.find("\r\n", at);
      std::string cell = ",";
      if (i == 2) append_cell(more, cell);
      text.insert(at, cell);
      at += cell.size() + 2;
    }
  }
  site.take_in(text);
  for (const StoryLine& line : site.book->story(site.book->batches().at(0).id)) {
    if (const auto* fact = std::get_if<Fact>(&line.fact)) return *fact;
  }
  FAIL("no such fact");
  return {};
}

}  // namespace

TEST_CASE("dates and moments that are none are named with what to write") {
  for (const std::string when :
       {"", "2026-02-29", "2026-13-01", "02.04.2026", "4/2/2026", "2026-04-02T10:00", "2026-04-02T25:00Z", "45000",
        "yesterday", "0000-01-01", "2026-04-02T10:00:00+19:00"}) {
    CAPTURE(when);
    CHECK(fault_in(potted({{"when", when}}), "when"));
  }
  CHECK(faults_of({begun({{"when", "2026-04-02T10:00"}})}).find("2026-04-02T10:00+02:00") != std::string::npos);
}

TEST_CASE("days of 1970, 2100, leap years, week 53 and the hours of a clock's change are days") {
  for (const std::string when :
       {"1970-01-01", "2100-02-28", "2024-02-29", "2020-12-31", "2021-01-01", "2026-03-29T02:30+01:00",
        "2026-03-29T02:30:00+02:00", "2026-10-25T02:30+0200", "2038-01-19T03:14:08Z"}) {
    CAPTURE(when);
    Site site;
    CHECK(site.take_in({begun({{"when", when}})}).new_rows == 1);
    CHECK(to_text(local_day(site.book->batches().at(0).begun_on)) == std::string(when).substr(0, 10));
  }
}

TEST_CASE("a count is a whole number from 0 to a million") {
  for (const std::string count :
       {"-1", "1000001", "2147483648", "99999999999999999999", "1.5", "1,5", "1e3", "+3", "many", ""}) {
    CAPTURE(count);
    CHECK(fault_in(potted({{"count", count}}), "count"));
  }
  for (const std::string count : {"0", "1000000", " 7 "}) {
    Site site;
    CHECK(site.take_in({begun(), potted({{"count", count}})}).new_rows == 2);
  }
}

TEST_CASE("a size that a spreadsheet made a date of is an error that says so") {
  for (const std::string grade : {"04-Feb", "Feb-04", "2024-04-02", "2/4/2024", "04.02.2024", "4. Feb", "2. Mai",
                                  "45384", "2024-04-02 00:00:00", "2.4."}) {
    CAPTURE(grade);
    const std::string fault =
        faults_of({begun({{"method", "growing-on"}, {"sections", ""}}), unpotted({{"grade", grade}})});
    CHECK(fault.find("spreadsheet has made a date of") != std::string::npos);
  }
  for (const std::string grade : {"4-2", "big", "2-", "-", "2-4-6x", "2 4"}) {
    CAPTURE(grade);
    CHECK(faults_of({begun(), unpotted({{"grade", grade}})}).find("is no size") != std::string::npos);
  }
  for (const std::string grade : {"2-4", "2–4", "2/4", "2 to 4", "2,0-4,0", " 2-4 cm"}) {
    CAPTURE(grade);
    Site site;
    site.take_in({begun(), potted(), unpotted({{"grade", grade}})});
    CHECK(site.book->stock().rows.at(0).grade == Grade{20, 40});
  }
}

TEST_CASE("what an event needs is asked for by column") {
  CHECK(fault_in(potted({{"pot", ""}}), "pot"));
  CHECK(fault_in(potted({{"pot", "one"}}), "pot"));
  CHECK(fault_in(unpotted({{"pot", "0"}}), "pot"));
  CHECK(fault_in(potted({{"batch", ""}}), "batch"));
  CHECK(fault_in(potted({{"event", "pottted"}}), "event"));
  CHECK(fault_in(potted({{"event", "combined"}}), "event"));
  CHECK(fault_in(potted({{"event", ""}}), "event"));
  CHECK(fault_in(potted({{"grade", "alive"}}), "grade"));
  CHECK(fault_in({{"when", "2026-05-01"}, {"event", "moved"}, {"batch", "B1"}}, "place"));
  CHECK(fault_in({{"when", "2026-05-01"}, {"event", "note"}, {"batch", "B1"}}, "note"));
  CHECK(fault_in({{"when", "2026-05-01"}, {"event", "damage"}, {"batch", "B1"}, {"pot", "1"}}, "cause"));
  CHECK(fault_in({{"when", "2026-05-01"}, {"event", "lost"}, {"batch", "B1"}, {"count", "1"}, {"cause", "slugs"}},
                 "cause"));
  for (const std::string column : {"clone", "genus", "method", "count", "sections", "batch"}) {
    CAPTURE(column);
    CHECK(fault_in(begun(with({{"clone", "Moon"}, {"batch", "B2"}}, {{column, ""}})), column));
  }
  CHECK(fault_in(begun({{"batch", "B2"}, {"method", "cloning"}}), "method"));
  CHECK(fault_in(begun({{"batch", "B2"}, {"sections", "0"}}), "sections"));
}

TEST_CASE("columns that are not known, stand twice or are missing are named") {
  CHECK(faults_of("when,event,colour\n").find("\"colour\"") != std::string::npos);
  CHECK(faults_of("when,event,when\n").find("when stands twice") != std::string::npos);
  CHECK(faults_of("when,helper\n").find("event is missing") != std::string::npos);
  CHECK(faults_of("when,event,\n").find("column 3 has no name") != std::string::npos);
  // A wrong header does not hide what is wrong further down.
  CHECK(faults_of("when,event,colour\nx,note,red\n").find("line 2, column when") != std::string::npos);
}

TEST_CASE("text that is not UTF-8 is named by its column") {
  std::string text = text_of({begun({{"helper", "Jos\xe9"}})});
  CHECK(faults_of(text).find("line 2, column helper: the text is not UTF-8") != std::string::npos);
}

TEST_CASE("the columns may stand in any order, and most may be left out") {
  Site site;
  site.take_in("Batch;count;EVENT;when;clone;genus;method\r\nB1;5;Begun;2026-03-01;Moon;Nerine;Growing on\r\n");
  CHECK(site.stock() == "Moon  5\n5 0 5 0 0 0 0 0 0 0 0 0 0 0 0 0 \n");
}

TEST_CASE("what an event has no use for is not kept, and said") {
  Site site;
  const auto report =
      site.take_in({begun({{"place", "East"}}), potted(), looked({{"place", "East"}, {"cause", "rot"}})});
  REQUIRE(report.remarks.size() == 3);
  CHECK(report.remarks[0] == "table.csv, line 4: cause says nothing with looked and was not kept");
}

TEST_CASE("damage without a pot is taken in, and said to be shown with none") {
  Site site;
  const auto report =
      site.take_in({begun(), {{"when", "2026-05-01"}, {"event", "damage"}, {"batch", "B1"}, {"cause", "animal"}}});
  CHECK(report.new_rows == 2);
  REQUIRE(report.remarks.size() == 1);
  CHECK(report.remarks[0].find("table.csv, line 3: ") == 0);
}

TEST_CASE("each event is the fact that it says") {
  const auto lost = fact_of<Lost>({{"when", "2026-05-01"},
                                   {"event", "lost"},
                                   {"batch", "B1"},
                                   {"pot", "1"},
                                   {"count", "2"},
                                   {"cause", "pest: thrips"}});
  CHECK(lost.lines.at(0).cause == Cause::pest);
  CHECK(lost.lines.at(0).detail == "thrips");
  const auto damage = fact_of<Damage>({{"when", "2026-05-01"},
                                       {"event", "damage"},
                                       {"batch", "B1"},
                                       {"pot", "1"},
                                       {"cause", "Animal"},
                                       {"note", "a mouse"}},
                                      R"({"how_bad":2})");
  CHECK(damage.cause == Cause::animal);
  CHECK(damage.how_bad == 2);
  CHECK(damage.note == "a mouse");
  const auto seen = fact_of<Looked>(looked(), R"({"moisture":"damp","rot":"no"})");
  CHECK(seen.shoots == 9);
  CHECK(seen.moisture == Moisture::damp);
  CHECK(seen.rot == YesNo::no);
  const auto test =
      fact_of<Tested>({{"when", "2026-05-01"}, {"event", "tested"}, {"batch", "B1"}, {"pot", "1"}, {"cause", "virus"}},
                      R"({"result":"negative"})");
  CHECK(test.subject == "virus");
  CHECK(test.result == TestResult::negative);
  const auto treated =
      fact_of<Treated>({{"when", "2026-05-01"}, {"event", "treated"}, {"batch", "B1"}, {"note", "soft soap"}},
                       R"({"re_entry_hours":4})");
  CHECK(treated.product == "soft soap");
  CHECK(treated.re_entry_hours == 4);
  const auto treatment = fact_of<Treatment>(
      {{"when", "2026-05-01"}, {"event", "treated"}, {"batch", "B1"}, {"pot", "1"}, {"note", "by its label"}},
      R"({"product":"Invented product","registration":"INV-0815","amount":"40 ml","dose":"2 ml to 1 l","area":"6 m2",)"
      R"("against":"thrips","licence":"LIC 17","re_entry_hours":12})");
  CHECK(treatment.product == "Invented product");
  CHECK(treatment.registration == "INV-0815");
  CHECK(treatment.amount == "40 ml");
  CHECK(treatment.dose == "2 ml to 1 l");
  CHECK(treatment.area == "6 m2");
  CHECK(treatment.against == "thrips");
  CHECK(treatment.licence == "LIC 17");
  CHECK(treatment.re_entry_hours == 12);
  CHECK(treatment.note == "by its label");
  // One of the five is enough, and the note names the product where nothing else does.
  for (const std::string more : {"registration", "dose", "area", "against", "licence"}) {
    CAPTURE(more);
    const auto short_one =
        fact_of<Treatment>({{"when", "2026-05-01"}, {"event", "treated"}, {"batch", "B1"}, {"note", "soft soap"}},
                           "{\"" + more + "\":\"x\"}");
    CHECK(short_one.product == "soft soap");
    CHECK(short_one.note.empty());
  }
  const auto nameless = fact_of<Treated>(
      {{"when", "2026-05-01"}, {"event", "treated"}, {"batch", "B1"}, {"note", "by its label"}}, R"({"product":""})");
  CHECK(nameless.product.empty());
  CHECK(nameless.note == "by its label");
  CHECK(fact_of<Held>({{"when", "2026-05-01"}, {"event", "held"}, {"batch", "B1"}, {"note", "awaits a test"}}).reason ==
        "awaits a test");
  CHECK(fact_of<DriedOff>({{"when", "2026-05-01"}, {"event", "dried off"}, {"batch", "B1"}}).note.empty());
}

TEST_CASE("more must be a flat object of known names") {
  for (const std::string more :
       {"x", "[1]", R"({"colour":"red"})", R"({"moisture":"soggy"})", R"({"how_bad":4})", R"({"dose":2})",
        R"({"cents":-1})", R"({"medium":{"a":1}})", R"({"label":"26B014-!"})"}) {
    CAPTURE(more);
    std::string cell;
    append_cell(more, cell);
    const std::string text = "when,event,note,more\n2026-01-01,note,hello," + cell + "\n";
    CHECK(faults_of(text).find("line 2, column more") != std::string::npos);
  }
  const std::string deep = "when,event,note,more\n2026-01-01,note,hello," + std::string(100000, '[') + "\n";
  CHECK(faults_of(deep).find("line 2, column more") != std::string::npos);
}
