// The list of troubles against trade-facts.md, section 5, and against what the tiles write into the book.
#include "core/health/troubles.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "app/widgets/see_tiles.hpp"

using namespace motherbulb;

namespace {

std::size_t letters(const std::string& text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

const Trouble& must_find(std::string_view detail) {
  const Trouble* found = trouble_of(detail);
  INFO("trouble: ", std::string(detail));
  REQUIRE(found != nullptr);
  return *found;
}

}  // namespace

TEST_CASE("every word that a tile writes into the book is found, under the same cause") {
  std::size_t with_words = 0;
  for (const SeenKind& kind : seen_kinds()) {
    if (kind.detail.empty()) continue;
    ++with_words;
    CHECK_MESSAGE(must_find(kind.detail).cause == kind.cause, std::string(kind.detail));
  }
  CHECK(with_words >= 17);
  // What the demo writes, too.
  for (const char* detail : {"bulb mite", "thrips", "slug", "mouse", "red blotch", "mealybug"}) must_find(detail);
}

TEST_CASE("a trouble is found by its id and by the same words with spaces or capitals, and by no other") {
  CHECK(&must_find("southern-blight") == &must_find("Southern Blight"));
  CHECK(trouble_of("") == nullptr);
  CHECK(trouble_of("bulb") == nullptr);
  CHECK(trouble_of("bulb mites") == nullptr);
  CHECK(trouble_of("late frost") == nullptr);
}

TEST_CASE("every row of the trade's table is there") {
  // trade-facts.md, section 5, row by row; two where a row names two.
  for (const char* id : {"bulb-fly",     "small-bulb-fly", "bulb-mite",       "mite",
                         "mealybug",     "thrips",         "aphid",           "grub",
                         "slug",         "eelworm",        "red-blotch",      "basal-rot",
                         "blue-mould",   "soft-rot",       "mosaic",          "cucumber-mosaic",
                         "spotted-wilt", "nerine-latent",  "southern-blight", "squirrel",
                         "vole",         "mouse"}) {
    CHECK(must_find(id).id == id);
  }
}

TEST_CASE("a mother that shows any virus or basal rot is never cut") {
  // trade-facts.md, section 5, the rule below the table.
  for (const char* id : {"mosaic", "ring-spots", "cucumber-mosaic", "spotted-wilt", "nerine-latent", "basal-rot"}) {
    CHECK_MESSAGE(must_find(id).never_cut, id);
  }
  CHECK_FALSE(must_find("thrips").never_cut);
  CHECK_FALSE(must_find("slug").never_cut);
}

TEST_CASE("stem nematode is reported, which is asked of nothing else in the table") {
  for (const Trouble& one : troubles()) CHECK_MESSAGE(one.notify == (one.id == "eelworm"), one.id);
}

TEST_CASE("each trouble has an id of its own, a source, and words short enough for a tablet") {
  std::set<std::string> ids, names;
  for (const Trouble& one : troubles()) {
    INFO(one.id);
    CHECK(ids.insert(one.id).second);
    CHECK(names.insert(one.name).second);
    CHECK(one.id.find_first_not_of("abcdefghijklmnopqrstuvwxyz-") == std::string::npos);
    CHECK_FALSE(one.name.empty());
    CHECK(one.cause != Cause::unknown);
    CHECK_FALSE(one.shows.empty());
    CHECK_FALSE(one.usual.empty());
    CHECK(letters(one.shows) <= 160);
    CHECK(letters(one.usual) <= 160);
    CHECK(letters(one.caution) <= 120);
    // A number of the trade sheet, or said to be nobody's.
    CHECK(
        (one.source.find("common practice") != std::string::npos || (one.source.size() >= 3 && one.source[0] == 'S')));
  }
}

TEST_CASE("where a product is spoken of, its label and the local rules are too") {
  for (const char* id : {"thrips", "aphid", "slug"}) {
    const Trouble& one = must_find(id);
    INFO(one.id);
    CHECK(one.caution.find("label") != std::string::npos);
    CHECK(one.caution.find("local rules") != std::string::npos);
  }
}
