// The clones of a book as a plan asks for them: whose they are, which ways of cutting there are to choose among.
#include "core/science/book_plan.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "tests/small_book.hpp"

using namespace motherbulb;

namespace {

using make::day;
using make::SmallBook;
using Ways = std::vector<std::pair<Method, std::int32_t>>;

Ways ways_of(const PlanClone& clone) {
  Ways ways;
  for (const CutGives& way : clone.ways) ways.emplace_back(way.method, way.sections);
  return ways;
}

std::vector<PlanClone> clones_of(const SmallBook& of, const char* clone, const CutGivers& gives = {}) {
  return make::must(plan_clones_of(*of.book, make::must(book_on_day(*of.book, day("2026-10-01"))), clone, gives));
}

}  // namespace

TEST_CASE("all clones that stand are asked for by name in order, one by any spelling of its name") {
  SmallBook one;
  one.at("2026-01-05");
  one.bulbs("Tirna Red", make::lines({{"26-28", 5}}), "bench 1");
  one.bulbs("Skarn Blue", make::lines({{"12-14", 5}}), "bench 1", "Nerine");
  const BatchId gone = one.bulbs("Arn White", make::lines({{"22-24", 1}}), "bench 1");
  one.tap(gone, 1, make::lost(Cause::rot, 1));
  const std::vector<PlanClone> all = clones_of(one, "");
  REQUIRE(all.size() == 2);
  CHECK(all[0].clone == "Skarn Blue");
  CHECK(all[1].clone == "Tirna Red");
  // So many clones are seldom all poor at once: fewer sets each.
  CHECK(all[0].growth.may_be.size() == sets_for(2));
  const std::vector<PlanClone> red = clones_of(one, "tirna  RED");
  REQUIRE(red.size() == 1);
  CHECK(red[0].clone == "Tirna Red");
  CHECK(red[0].growth.may_be.size() == usual_sets);
  CHECK(red[0].least_to_cut_cm == 20);
  const auto none = plan_clones_of(*one.book, make::must(book_on_day(*one.book, day("2026-10-01"))), "Nobody", {});
  REQUIRE_FALSE(none.ok());
  CHECK(none.error().what.find("Nobody") != std::string::npos);
  // Before it had come there was none of it.
  CHECK_FALSE(plan_clones_of(*one.book, make::must(book_on_day(*one.book, day("2025-10-01"))), "Tirna Red", {}).ok());
}

TEST_CASE("before each clone it is asked whether to go on, and stopped it gives nothing") {
  SmallBook one;
  one.at("2026-01-05");
  for (const char* clone : {"Arn White", "Skarn Blue", "Tirna Red", "Vessel"})
    one.bulbs(clone, make::lines({{"26-28", 5}}), "bench 1");
  const BookOnDay known = make::must(book_on_day(*one.book, day("2026-10-01")));
  std::vector<double> told;
  const auto go_on_until = [&](std::size_t asked) {
    told.clear();
    return plan_clones_of(*one.book, known, "", {}, [&, asked](double done) {
      told.push_back(done);
      return told.size() < asked;
    });
  };
  CHECK(make::must(go_on_until(9)).size() == 4);
  CHECK(told == std::vector<double>{0, 0.25, 0.5, 0.75});
  const auto stopped = go_on_until(3);
  REQUIRE_FALSE(stopped.ok());
  CHECK(stopped.error().kind == ErrorKind::cancelled);
  CHECK(told.size() == 3);
}

TEST_CASE("the way that the clone was cut last year stands first, then what is published, each once") {
  SmallBook one;
  one.at("2026-01-05");
  const BatchId mothers = one.bulbs("Tirna Red", make::lines({{"26-28", 5}}), "bench 1");
  const Ways published = {{Method::chipping, 8},     {Method::chipping, 12}, {Method::chipping, 16},
                          {Method::quartering, 4},   {Method::halving, 2},   {Method::cross_cutting, 4},
                          {Method::twin_scaling, 20}};
  CHECK(ways_of(clones_of(one, "Tirna Red")[0]) == published);
  one.at("2026-08-05");
  Begun tenths = make::begun("Tirna Red", Method::chipping, make::lines({{"26-28", 2}}), 10);
  tenths.parent = mothers;
  tenths.parent_pot = 1;
  tenths.label = one.book->next_label(2026);
  one.tap({}, 0, tenths);
  const PlanClone cut = clones_of(one, "Tirna Red")[0];
  Ways with_own = published;
  with_own.insert(with_own.begin(), {Method::chipping, 10});
  CHECK(ways_of(cut) == with_own);
  // Two of what stood a year before and stands now, where the year before it had not come: of 2 and 3.
  CHECK(*std::max_element(cut.ways[0].share_cut.begin(), cut.ways[0].share_cut.end()) == doctest::Approx(0.4));
  for (std::size_t way = 1; way < cut.ways.size(); ++way) {
    CHECK(*std::max_element(cut.ways[way].share_cut.begin(), cut.ways[way].share_cut.end()) == 0);
  }
}

TEST_CASE("what the records give stands in place of what is published, of the clone and genus asked for") {
  SmallBook one;
  one.at("2026-01-05");
  one.bulbs("Tirna Red", make::lines({{"26-28", 5}}), "bench 1");
  std::string asked;
  const CutGivers gives = [&asked](const std::string& clone, const std::string& genus) -> CutGiver {
    asked = clone + " " + genus;
    return [](Method method, std::int32_t sections, const std::vector<Grade>& grades) -> std::optional<CutGives> {
      if (method != Method::quartering) return std::nullopt;
      CutGives way{.method = method, .sections = sections};
      way.per_mother.assign(grades.size(), 77.0);
      way.size_shares.assign(grades.size(), 1.0 / static_cast<double>(grades.size()));
      way.share_cut.assign(grades.size(), 0.0);
      return way;
    };
  };
  const PlanClone clone = clones_of(one, "tirna red", gives)[0];
  CHECK(asked == "Tirna Red Hippeastrum");
  for (const CutGives& way : clone.ways) CHECK((way.per_mother.back() == 77) == (way.method == Method::quartering));
}

TEST_CASE("the growth of a clone alone is that of its plan") {
  SmallBook one;
  one.at("2026-01-05");
  const BatchId mothers = one.bulbs("Tirna Red", make::lines({{"26-28", 5}, {"12-14", 9}}), "bench 1");
  one.at("2026-08-05");
  one.chipped("Tirna Red", mothers, make::lines({{"26-28", 2}}), "bench 2");
  const BookOnDay known = make::must(book_on_day(*one.book, day("2026-10-01")));
  const GrowthModel alone = make::must(clone_growth_of(*one.book, known, "TIRNA RED"));
  const PlanClone planned = clones_of(one, "Tirna Red")[0];
  CHECK(alone.model.start == planned.growth.model.start);
  CHECK(alone.model.mean().cells == planned.growth.model.mean().cells);
  CHECK(alone.has_sections);
}
