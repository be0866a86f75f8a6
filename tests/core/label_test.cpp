#include "core/label.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace motherbulb;

// ISO/IEC 7064, system MOD 37,2, as the ISBT 128 standard for blood donation numbers uses it; its published example is
// G123 498 654321 with the check character H (ISBT 128 Standard Technical Specification, "Check character K"; from
// memory, and checked by hand below).
TEST_CASE("the check character is that of ISO/IEC 7064 MOD 37,2") {
  CHECK(check_character("G123498654321") == 'H');
}

// The rule itself, worked anew: characters' values times powers of two, counted from the check character at 1, sum to 1
// modulo 37.
TEST_CASE("each label with its check character sums to 1 modulo 37") {
  const std::string values = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
  bool star = false;
  for (int year = 0; year < 100; year += 7) {
    for (char letter = 'A'; letter <= 'Z'; ++letter) {
      for (std::int64_t number : {1, 14, 99, 999, 1000, 123456}) {
        const std::string text = to_text(Label{year, letter, number});
        std::string plain = text;
        plain.erase(plain.find('-'), 1);
        int sum = 0;
        int weight = 1;
        for (auto at = plain.rbegin(); at != plain.rend(); ++at) {
          sum = (sum + static_cast<int>(values.find(*at)) * weight) % 37;
          weight = weight * 2 % 37;
        }
        CHECK(sum == 1);
        star = star || text.back() == '*';
        const auto read = label_from_text(text);
        REQUIRE(read);
        CHECK(read->year == year);
        CHECK(read->letter == letter);
        CHECK(read->number == number);
      }
    }
  }
  CHECK(star);
}

TEST_CASE("one character misread, or two neighbours swapped, is found") {
  const std::string label = to_text(Label{26, 'B', 14});
  const std::string all = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
  for (std::size_t i = 0; i < label.size(); ++i) {
    if (label[i] == '-') continue;
    for (const char other : all) {
      if (other == label[i]) continue;
      std::string wrong = label;
      wrong[i] = other;
      CHECK_FALSE(label_from_text(wrong));
    }
  }
  for (std::size_t i = 0; i + 3 < label.size(); ++i) {
    std::string wrong = label;
    std::swap(wrong[i], wrong[i + 1]);
    if (wrong != label) CHECK_FALSE(label_from_text(wrong));
  }
}

TEST_CASE("a label is read in small letters too, and nothing else is a label") {
  const std::string label = to_text(Label{26, 'B', 14});
  CHECK(label.substr(0, 7) == "26B014-");
  std::string small = label;
  small[2] = 'b';
  CHECK(label_from_text(small));
  for (const std::string& text : {std::string(), std::string("B1"), label.substr(0, 6), label + "/3", " " + label,
                                  std::string("26B14-X"), std::string("26B0014-X")}) {
    CHECK_FALSE(label_from_text(text));
  }
}
