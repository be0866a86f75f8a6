#include "core/table.hpp"

#include <doctest/doctest.h>

#include "core/label.hpp"
#include "tests/core/tables.hpp"

using namespace motherbulb;
using namespace motherbulb::tables;

namespace {

const std::vector<Row> season = {
    begun(),
    potted(),
    potted({{"pot", "2"}, {"count", "6"}}),
    looked(),
    unpotted(),
    unpotted({{"grade", "4-6"}, {"count", "2"}}),
    unpotted({{"grade", "alive"}, {"count", "8"}}),
    {{"when", "2026-09-02"}, {"event", "sold"}, {"batch", "B1"}, {"grade", "4-6"}, {"count", "1"}},
};
// 2 mothers of 8 sections: 16 pieces, 10 in pot 1 and 6 in pot 2. Pot 1 gives 7 + 2 bulbs, 8 of 10 pieces alive, so 2
// open. One is sold.
const std::string season_stock = "Island Star 2-4 7\nIsland Star 4-6 1\n2 9 8 2 1 0 0 0 0 16 6 0 10 8 0 2 \n";

}  // namespace

TEST_CASE("rows with the same when, helper, event, batch and pot are one entry") {
  Site site;
  const auto report = site.take_in(season);
  CHECK(report.rows == 8);
  CHECK(report.new_rows == 8);
  CHECK(report.known == 0);
  CHECK(report.matters == 0);
  CHECK(site.book->entry_count() == 6);
  CHECK(site.stock() == season_stock);
}

TEST_CASE("the same table again, or a longer version of it, brings only what is new") {
  Site site;
  site.take_in(season);
  const std::string digest = site.book->digest();
  auto report = site.take_in(season);
  CHECK(report.rows == 8);
  CHECK(report.new_rows == 0);
  CHECK(report.known == 8);
  CHECK(report.digest == digest);
  std::vector<Row> longer = season;
  longer.insert(longer.begin() + 5, unpotted({{"grade", "6-8"}, {"count", "3"}}));
  report = site.take_in(longer);
  CHECK(report.new_rows == 1);
  CHECK(report.known == 8);
  CHECK(site.stock() ==
        "Island Star 2-4 7\nIsland Star 4-6 1\nIsland Star 6-8 3\n2 12 11 2 1 0 0 0 0 16 6 0 10 8 0 2 \n");
  CHECK(site.book->matters().empty());
}

TEST_CASE("a row that stands twice is two facts, also in a longer version") {
  Site site;
  const Row sold = {{"when", "2026-09-02"}, {"event", "sold"}, {"batch", "B1"}, {"grade", "2-4"}, {"count", "1"}};
  std::vector<Row> rows = season;
  rows.push_back(sold);
  site.take_in(rows);
  rows.push_back(sold);
  CHECK(site.take_in(rows).new_rows == 1);
  CHECK(site.take_in(rows).new_rows == 0);
  CHECK(site.book->stock().balance.at(0).bulbs.sold == 3);
  const Row seen = looked({{"when", "2026-05-01"}});
  rows.push_back(seen);
  rows.push_back(seen);
  CHECK(site.take_in(rows).new_rows == 2);
  CHECK(site.take_in(rows).new_rows == 0);
}

TEST_CASE("one table on two devices is one set of facts after a merge, each way") {
  Site a(1, "A"), b(2, "B");
  a.take_in(season);
  std::vector<Row> longer = season;
  longer.push_back(unpotted({{"pot", "2"}, {"count", "5"}}));
  b.take_in(longer);
  a.merge(b);
  b.merge(a);
  CHECK(a.book->digest() == b.book->digest());
  CHECK(a.stock() == b.stock());
  CHECK(a.book->stock().balance.at(0).bulbs.increase == 14);
  CHECK(a.take_in(longer).new_rows == 0);
  CHECK(a.book->batches().size() == 1);
}

TEST_CASE("a withdrawn table leaves nothing, whoever imported it, and can be imported again") {
  Site a(1, "A"), b(2, "B");
  a.take_in(season);
  b.take_in(season);
  auto report = a.take_back(season);
  CHECK(report.rows == 8);
  CHECK(report.withdrawn == 8);
  CHECK(report.known == 0);
  CHECK(a.book->stock().rows.empty());
  CHECK(a.book->batches().empty());
  CHECK(a.take_back(season).withdrawn == 0);
  a.merge(b);
  CHECK(a.book->stock().rows.empty());
  CHECK(a.take_in(season).new_rows == 8);
  CHECK(a.stock() == season_stock);
  CHECK(a.take_in(season).new_rows == 0);
  b.merge(a);
  CHECK(b.stock() == season_stock);
  CHECK(a.take_back(season).withdrawn == 8);
  CHECK(a.take_in(season).new_rows == 8);
  CHECK(a.stock() == season_stock);
}

TEST_CASE("only the rows of the withdrawn table are taken back") {
  Site site;
  site.take_in(season);
  CHECK(site.take_back({begun(), unpotted()}).withdrawn == 2);
  // The batch's beginning is gone with the mothers; what remains of the count is 2 bulbs.
  CHECK(site.take_in(season).new_rows == 2);
  CHECK(site.stock() == season_stock);
  std::vector<Row> rest = season;
  CHECK(site.take_back({begun({{"helper", "Nobody"}, {"batch", "B7"}})}).known == 1);
}

TEST_CASE("a batch may be begun further down, in another table before, or be known by its label") {
  Site site;
  site.take_in({potted(), begun()});
  site.take_in({potted({{"pot", "2"}, {"batch", " b1 "}, {"count", "3"}})});
  const auto batch = site.book->batches().at(0);
  CHECK(batch.mark == "B1");
  REQUIRE(label_from_text(batch.label));
  site.take_in({potted({{"pot", "3"}, {"batch", batch.label}, {"count", "3"}})});
  CHECK(site.book->pots_of(batch.id).size() == 3);
  const std::string label = to_text(Label{26, 'Q', 7});
  site.take_in({begun({{"batch", label}, {"count", "1"}})});
  REQUIRE(site.book->batches_by_label(label).size() == 1);
  CHECK(site.book->batch(site.book->batches_by_label(label).at(0))->mark.empty());
}

TEST_CASE("a batch that two earlier tables called alike must be named by its label") {
  Site site;
  site.take_in({begun()});
  site.take_in({begun({{"when", "2026-03-05"}})});
  const auto report = site.import(text_of({potted()}));
  REQUIRE_FALSE(report);
  CHECK(report.error().what.find("2 batches") != std::string::npos);
  CHECK(report.error().what.find("line 2, column batch") != std::string::npos);
}

TEST_CASE("bulbs and mothers leave the parent's pot, named in either column") {
  for (const Row& named : {Row{{"parent", "B1"}, {"pot", "3"}}, Row{{"parent", "B1/3"}}, Row{{"parent", "b1 / 3"}}}) {
    Site site;
    std::vector<Row> rows = season;
    rows.push_back(potted({{"when", "2026-09-03"}, {"pot", "3"}, {"grade", "2-4"}, {"count", "5"}}));
    rows.push_back(begun(with({{"when", "2026-10-01"}, {"batch", "B2"}, {"grade", "2-4"}, {"count", "2"}}, named)));
    site.take_in(rows);
    const auto stock = site.book->stock().balance.at(0);
    CHECK(stock.bulbs.begun == 2);
    CHECK(stock.bulbs.cut == 4);
    CHECK(stock.bulbs.there == 6);
    CHECK(stock.bulbs.open == 0);
  }
}

TEST_CASE("a genus may be left out where the clone is known in one") {
  Site site;
  site.take_in({begun(), begun({{"batch", "B2"}, {"genus", ""}, {"clone", " ISLAND star "}})});
  site.take_in({begun({{"batch", "B3"}, {"genus", ""}})});
  CHECK(site.book->stock().balance.size() == 1);
  site.take_in({begun({{"batch", "B4"}, {"genus", "Nerine"}})});
  CHECK_FALSE(site.import(text_of({begun({{"batch", "B5"}, {"genus", ""}})})));
}

TEST_CASE("faults between rows name the line and what would mend it") {
  CHECK(faults_of({potted()}).find("no batch \"B1\"") != std::string::npos);
  CHECK(faults_of({begun(), begun({{"helper", "Ivo"}})}).find("line 3, column batch: \"B1\" is begun in line 2") !=
        std::string::npos);
  CHECK(faults_of({begun(), begun({{"batch", "B2"}, {"clone", "Moon"}, {"parent", "B1"}})})
            .find("line 3, column parent") != std::string::npos);
  CHECK(faults_of({begun({{"parent", "B2"}}), begun({{"batch", "B2"}, {"parent", "B1"}})}).find("descends from") !=
        std::string::npos);
  CHECK(faults_of({begun(), potted({{"clone", "Moon"}})}).find("line 3, column clone") != std::string::npos);
  CHECK(faults_of({begun(), potted({{"place", "East"}}), potted({{"place", "West"}})}).find("line 4: the place") !=
        std::string::npos);
  // Rows about a batch whose beginning is wrong are not blamed for it.
  CHECK(faults_of({begun({{"count", "x"}}), potted()}).find('\n') == std::string::npos);
}

TEST_CASE("fifty faults are named, the rest counted, and nothing is taken in") {
  std::vector<Row> rows{begun()};
  for (int i = 1; i <= 60; ++i) rows.push_back(potted({{"pot", std::to_string(i)}, {"count", "many"}}));
  const std::string all = faults_of(rows);
  CHECK(std::count(all.begin(), all.end(), '\n') == 50);
  CHECK(all.find("table.csv, line 3, column count: \"many\"") == 0);
  CHECK(all.find("10 faults more") != std::string::npos);
}

TEST_CASE("an empty table is refused, one with only its header takes nothing in") {
  CHECK(faults_of("").find("empty") != std::string::npos);
  Site site;
  const auto report = site.take_in(std::vector<Row>{});
  CHECK(report.rows == 0);
  CHECK(site.book->entry_count() == 0);
}

TEST_CASE("what was taken back in the window comes back with its table only when that is imported again") {
  Site site;
  site.take_in(season);
  const auto batch = site.book->batches().at(0);
  for (const StoryLine& line : site.book->story(batch.id)) {
    if (std::holds_alternative<Sold>(line.fact)) make::must(site.book->run(TakeBack{"Runa", batch.id, line.key, ""}));
  }
  CHECK(site.book->stock().balance.at(0).bulbs.sold == 0);
  CHECK(site.take_in(season).new_rows == 1);
  CHECK(site.stock() == season_stock);
}

TEST_CASE("a file is meant as a table by its name or by its first line") {
  const auto is_one = [](const std::string& name, const std::string& text) {
    MemorySource source({text.begin(), text.end()}, name);
    return looks_like_table(source);
  };
  CHECK(is_one("house/April.CSV", "anything at all"));
  CHECK(is_one("april.csv", ""));
  CHECK(is_one("april", "Helper;When;Event\r\n"));
  CHECK_FALSE(is_one("april", ""));
  CHECK_FALSE(is_one("april", "a letter that says when\nand names an event\n"));
  Site site;
  site.take_in(season);
  const std::vector<std::uint8_t> parcel = make::parcel(*site.book);
  CHECK_FALSE(is_one("april", {parcel.begin(), parcel.end()}));
}
