#include "core/names.hpp"

#include <doctest/doctest.h>

using namespace motherbulb;

TEST_CASE("case and runs of white space do not make another name") {
  CHECK(folded_name("  Island \t\n STAR ") == "island star");
  CHECK(folded_name("island star") == folded_name("ISLAND STAR"));
  CHECK(folded_name("IslandStar") != folded_name("Island Star"));
  CHECK(folded_name("") == "");
  CHECK(folded_name(" \r\n ") == "");
}

// The Unicode Standard, CaseFolding.txt: sharp s folds to ss, final sigma to sigma; and a letter followed by a mark is
// the composed letter (Normalization Form C).
TEST_CASE("names fold in every script, and the same whatever the machine's language") {
  CHECK(folded_name("STRAßE") == "strasse");
  CHECK(folded_name("ΟΔΟΣ") == folded_name("οδος"));
  CHECK(folded_name("Jose\u0301") == folded_name("JOSÉ"));
  CHECK(folded_name("I") == "i");
  CHECK(folded_name("Snow\u00a0Queen") == "snow queen");
  CHECK(folded_name("\u3000春\u3000") == "春");
}

TEST_CASE("what is no UTF-8 is compared byte by byte") {
  CHECK(folded_name("A\xff") == "A\xff");
  CHECK_FALSE(differ_by_a_letter("A\xff", "B\xff"));
}

TEST_CASE("one letter put in, left out or changed makes names near") {
  CHECK(differ_by_a_letter("Island Star", "Island Stars"));
  CHECK(differ_by_a_letter("Island Star", "Iland Star"));
  CHECK(differ_by_a_letter("Island Star", "island stor"));
  CHECK(differ_by_a_letter("Café", "Cafe"));
  CHECK_FALSE(differ_by_a_letter("Island Star", "ISLAND  star"));
  CHECK_FALSE(differ_by_a_letter("Island Star", "Island Rats"));
  CHECK_FALSE(differ_by_a_letter("Island Star", "Islands Stars"));
  CHECK_FALSE(differ_by_a_letter("ab", "ba"));
  CHECK(differ_by_a_letter("a", ""));
}

TEST_CASE("digits, spaces and signs are no letters") {
  CHECK_FALSE(differ_by_a_letter("Seedling 12", "Seedling 13"));
  CHECK_FALSE(differ_by_a_letter("Seedling 1", "Seedling 12"));
  CHECK_FALSE(differ_by_a_letter("Snow Queen", "SnowQueen"));
  CHECK_FALSE(differ_by_a_letter("A-1", "A1"));
  CHECK_FALSE(differ_by_a_letter("Seedling A", "Seedling 1"));
}

TEST_CASE("width counts wide letters twice and marks not at all") {
  CHECK(columns_wide("Star") == 4);
  CHECK(columns_wide("é") == 1);
  CHECK(columns_wide("e\u0301") == 1);
  CHECK(columns_wide("春") == 2);
}
