// The printed list of treatments: every act a row, every cell that an inspector asks for, and how many are empty.
#include <doctest/doctest.h>

#include "app/print/treatments.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

std::string page_of(const Logbook& book, const char* from, const char* to) {
  return treatments_page(book, *day_from_text(from), *day_from_text(to));
}

std::size_t times(const std::string& text, const std::string& what) {
  std::size_t count = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++count;
  return count;
}

}  // namespace

TEST_CASE("the list of treatments has a row for each act, whichever form it has, and counts what was not said") {
  make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("house.book"), host);
  const BatchId batch = make::begin_bulbs(*book, "Tirna <Red>", make::lines({{"20-22", 4}}));
  const std::string label = book->batch(batch)->label;
  make::tap(*book, batch, 1, make::bulbs_potted(make::lines({{"20-22", 2}}), "house 1, bench 1, no. 1"));
  make::tap(*book, batch, 2, make::bulbs_potted(make::lines({{"20-22", 2}}), "house 1, bench 1, no. 2"));
  const Treatment all{"Invented product", "INV-0815", "40 ml", "2 ml to 1 l", "6 m2",
                      "thrips",           "LIC 17",   12,      "calm & dry"};
  for (std::int32_t pot : {1, 2}) make::tap(*book, batch, pot, all, "Osk");
  std::string html = page_of(*book, "2026-03-02", "2026-03-02");
  // 2026-03-02 09:00 and twelve hours.
  CHECK(html.find("<tr><td>2026-03-02 09:00</td><td>Invented product</td><td>INV-0815</td><td>40 ml</td>"
                  "<td>2 ml to 1 l</td><td>house 1, bench 1, no. 1; house 1, bench 1, no. 2</td><td>6 m2</td>"
                  "<td>Hippeastrum ‘Tirna &lt;Red&gt;’: " +
                  label + "/1, " + label +
                  "/2</td><td>thrips</td><td>Osk</td><td>LIC 17</td><td>2026-03-02 21:00</td>"
                  "<td>calm &amp; dry</td></tr>") != std::string::npos);
  CHECK(html.find("1 treatment. Every cell that an inspector asks for is filled in.") != std::string::npos);

  host.advance_days(2);
  Record wish = make::record(batch, 1, Treated{"soft soap", "2 l", 6, ""});
  wish.when = make::when("2026-03-04");
  make::must(book->run(wish));
  html = page_of(*book, "2026-03-01", "2026-03-31");
  CHECK(times(html, "<tr><td>") == 2);
  CHECK(html.find("<td>2026-03-04</td><td>soft soap</td><td></td><td>2 l</td><td></td>") != std::string::npos);
  CHECK(html.find("<td>2026-03-05 06:00</td>") != std::string::npos);
  CHECK(
      html.find("2 treatments. Empty cells were not said when it was recorded: Registration number 1, Dose 1, Area 1, "
                "Against 1, Licence number 1.") != std::string::npos);
  CHECK(page_of(*book, "2026-04-01", "2026-04-30").find("No treatment was recorded in this time.") !=
        std::string::npos);
}
