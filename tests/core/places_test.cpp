// Places as people write them.

#include "core/places.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

namespace motherbulb {

TEST_CASE("a place's position is the number after its last comma, however it is written") {
  for (const char* text :
       {"Skerry House, bench 2, no. 15", "Skerry House, bench 2, 15", "Skerry House, bench 2, No 15",
        "Skerry House, bench 2 ,  #15", " Skerry House, bench 2, nr. 15 ", "Skerry House, bench 2, position 15"}) {
    CAPTURE(text);
    CHECK(split_place(text) == PlaceParts{"Skerry House, bench 2", 15});
  }
}

TEST_CASE("what is no position is part of the bench") {
  CHECK(split_place("bench 2") == PlaceParts{"bench 2", 0});
  CHECK(split_place("house, bench 2") == PlaceParts{"house, bench 2", 0});
  CHECK(split_place("house, shelf 3b") == PlaceParts{"house, shelf 3b", 0});
  CHECK(split_place("house, no. 0") == PlaceParts{"house, no. 0", 0});
  CHECK(split_place("house, 123456") == PlaceParts{"house, 123456", 0});
  CHECK(split_place(", 4") == PlaceParts{", 4", 0});
  CHECK(split_place("").bench.empty());
}

TEST_CASE("a place put together is read as it was") {
  for (const PlaceParts& parts : {PlaceParts{"house, bench 2", 15}, PlaceParts{"bench 10", 1}, PlaceParts{"sill", 0}})
    CHECK(split_place(join_place(parts)) == parts);
}

TEST_CASE("in its house a bench is known by its last part") {
  CHECK(near_name("Skerry House, bench 2") == "bench 2");
  CHECK(near_name("bench 2") == "bench 2");
  CHECK(near_name("").empty());
}

TEST_CASE("benches are walked in the order of their numbers") {
  std::vector<std::string> benches{"house, bench 10", "house, bench 9",  "cool room",     "house, bench 2",
                                   "house, bench 1b", "house, bench 02", "house, bench 1"};
  std::sort(benches.begin(), benches.end(), [](const auto& a, const auto& b) { return walked_before(a, b); });
  CHECK(benches == std::vector<std::string>{"cool room", "house, bench 1", "house, bench 1b", "house, bench 02",
                                            "house, bench 2", "house, bench 9", "house, bench 10"});
  CHECK_FALSE(walked_before("bench 2", "bench 2"));
}

}  // namespace motherbulb
