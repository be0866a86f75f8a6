// What comes of one mother, worked out by hand.
#include "core/science/after_cut.hpp"

#include <doctest/doctest.h>

using namespace motherbulb;

namespace {

// Small bulbs: half of those that live become large; a quarter is lost. Large ones: a tenth is lost, each has half a
// small daughter a season.
GrowthModel two_classes() {
  GrowthModel growth;
  growth.classes.resize(2);
  growth.classes[0].loss.value = 0.25;
  growth.classes[0].grows_to = {0.5, 0.5};
  growth.classes[1].saleable = true;
  growth.classes[1].loss.value = 0.1;
  growth.classes[1].grows_to = {0, 1};
  growth.classes[1].offsets.value = 0.5;
  growth.offset_sizes = {1, 0};
  return growth;
}

CutGives eight_bulblets() {
  CutGives way;
  way.per_mother = {2, 8};
  way.size_shares = {0.75, 0.25};
  return way;
}

}  // namespace

TEST_CASE("of a cut mother her bulblets are followed, and nothing of hers is cut again") {
  // Season 1: 8 bulblets, 6 small and 2 large. Season 2: of the small 6 * 0.75 * 0.5 = 2.25 small and 2.25 large; of
  // the large 1.8, and 1 small: 3.25 small, 4.05 large. Season 3: large 3.25 * 0.375 + 4.05 * 0.9 = 4.86375.
  const auto saleable = saleable_after_cut(two_classes(), eight_bulblets(), 1, 3);
  REQUIRE(saleable.size() == 3);
  CHECK(saleable[0] == doctest::Approx(2));
  CHECK(saleable[1] == doctest::Approx(4.05));
  CHECK(saleable[2] == doctest::Approx(4.86375));
  // A small mother gives a quarter of that.
  CHECK(saleable_after_cut(two_classes(), eight_bulblets(), 0, 3)[2] == doctest::Approx(4.86375 / 4));
}

TEST_CASE("a mother left whole stays, with her daughters") {
  // Season 1: 0.9 large, 0.5 small. Season 2: 0.5 * 0.375 + 0.9 * 0.9 = 0.9975 large.
  const auto saleable = saleable_left_whole(two_classes(), 1, 2);
  REQUIRE(saleable.size() == 2);
  CHECK(saleable[0] == doctest::Approx(0.9));
  CHECK(saleable[1] == doctest::Approx(0.9975));
}

TEST_CASE("bad events take their mean share of every season") {
  GrowthModel growth = two_classes();
  growth.model.bad_event = BadEvent{0.1, 0.5};
  // 0.95 of it is left after one season, 0.9025 after two.
  CHECK(saleable_after_cut(growth, eight_bulblets(), 1, 2)[1] == doctest::Approx(4.05 * 0.9025));
  CHECK(saleable_left_whole(growth, 1, 1)[0] == doctest::Approx(0.9 * 0.95));
}
