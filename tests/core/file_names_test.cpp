#include "core/file_names.hpp"

#include <doctest/doctest.h>

using namespace motherbulb;

namespace {
const Day day = *day_from_text("2026-11-25");
}

TEST_CASE("a file is named by who, where and the day") {
  CHECK(file_name({"Ines", "potting bench"}, day, ".parcel") == "ines-potting-bench-2026-11-25.parcel");
  CHECK(file_name({"Ines", "potting bench"}, day, ".parcel", 3) == "ines-potting-bench-2026-11-25-3.parcel");
  CHECK(file_name({}, day, ".book") == "2026-11-25.book");
  CHECK(file_name({"", ""}, day, ".book") == "2026-11-25.book");
}

TEST_CASE("nothing in a name leads out of its folder or is refused by a stick") {
  CHECK(file_name({"../../etc", "a:b*c?\"<>|\\d"}, day, ".parcel") == "etc-a-b-c-d-2026-11-25.parcel");
  CHECK(file_name({"-rf", " . "}, day, ".parcel") == "rf-2026-11-25.parcel");
  CHECK(file_name({std::string("a\0b\nc", 5)}, day, ".parcel") == "a-b-c-2026-11-25.parcel");
}

TEST_CASE("names in any script stay, and a long one ends at a whole character") {
  CHECK(file_name({"Žofie", "сад"}, day, ".parcel") == "Žofie-сад-2026-11-25.parcel");
  std::string long_name = "x";
  for (int i = 0; i < 100; ++i) long_name += "ж";
  const std::string name = file_name({long_name}, day, ".parcel");
  CHECK(name.size() <= 120);
  const std::string kept = name.substr(0, name.find('-'));
  CHECK(kept == long_name.substr(0, kept.size()));
  CHECK(kept.size() % 2 == 1);  // x, and whole characters of two bytes
}
