#include "core/label.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

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

namespace {

TypedLabel only_reading(const std::string& typed) {
  const std::vector<TypedLabel> readings = label_readings(typed);
  CAPTURE(typed);
  REQUIRE(readings.size() == 1);
  return readings.front();
}
bool reads_as(const std::string& typed, const Label& label) {
  const std::vector<TypedLabel> readings = label_readings(typed);
  return std::any_of(readings.begin(), readings.end(), [&](const TypedLabel& one) { return fits(one, label); });
}

}  // namespace

TEST_CASE("what is typed of a label is read from any part of it") {
  const Label label{26, 'B', 14};
  const std::string text = to_text(label);
  const TypedLabel whole = only_reading(text + "/3");
  CHECK(whole.whole());
  CHECK(whole.pot == 3);
  CHECK(fits(whole, label));
  const std::string check(1, text.back());
  for (const std::string& typed :
       {std::string("14"), std::string("014"), std::string("14/3"), std::string("B14"), std::string("26b014"),
        std::string("2614"), std::string("26B14/12"), std::string("26B 014 - " + check), "14-" + check,
        "26B014" + check, std::string("26B014-"), std::string("B"), std::string("26B"), std::string("14/")}) {
    CAPTURE(typed);
    CHECK(reads_as(typed, label));
  }
  for (const std::string& typed : {std::string("15"), std::string("A14"), std::string("25B014"), std::string("26B0145"),
                                   std::string("14-") + (check == "X" ? "Y" : "X")}) {
    CAPTURE(typed);
    CHECK_FALSE(reads_as(typed, label));
  }
  // Two ways of reading figures alone: both are looked for.
  CHECK(reads_as("26014", Label{26, 'C', 14}));
  CHECK(reads_as("26014", Label{20, 'C', 26014}));
  for (const char* typed : {"", "/3", "-X", "26B014-XY", "26BB", "14/x", "14/0", "ü", "26B014/3/4", "--", "2*",
                            "99999999999999999999", "14/99999999999"}) {
    CAPTURE(typed);
    CHECK(label_readings(typed).empty());
  }
}

TEST_CASE("whatever single figure or letter is misread, the mend that undoes it is proposed, and alone where known") {
  const std::string all = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
  for (const Label& label : {Label{26, 'B', 14}, Label{19, 'A', 1}, Label{5, 'Z', 999}, Label{26, 'C', 1234}}) {
    const std::string text = to_text(label);
    const std::vector<std::string> known{text};
    for (std::size_t i = 0; i < text.size(); ++i) {
      if (text[i] == '-') continue;
      for (const char other : all) {
        if (other == text[i]) continue;
        std::string wrong = text;
        wrong[i] = other;
        const std::vector<TypedLabel> readings = label_readings(wrong);
        // A letter in place of a figure, or a figure in place of the letter, is no label at all.
        if (readings.empty() || !readings.front().whole()) continue;
        // A number may lose a nought in front; then it is another label's length.
        if (to_text(Label{*readings.front().year, *readings.front().letter, *readings.front().number}).size() !=
            text.size())
          continue;
        CAPTURE(wrong);
        CHECK_FALSE(label_from_text(wrong));  // the check character catches it
        const LabelMend undoes{label, i, other, text[i], false};
        const std::vector<LabelMend> any = label_mends(readings.front(), {});
        CHECK(std::find(any.begin(), any.end(), undoes) != any.end());
        for (const LabelMend& mend : any) CHECK(label_from_text(to_text(mend.label)));
        const std::vector<LabelMend> mends = label_mends(readings.front(), known);
        REQUIRE(mends.size() == 1);
        CHECK(mends.front() == undoes);
      }
    }
  }
}

TEST_CASE("two neighbours swapped are named as swapped, and no label that is right is mended") {
  const Label label{26, 'B', 174};
  const std::string text = to_text(label);
  for (const std::size_t i : {std::size_t{0}, std::size_t{3}, std::size_t{4}}) {
    std::string wrong = text;
    std::swap(wrong[i], wrong[i + 1]);
    CAPTURE(wrong);
    const std::vector<LabelMend> mends = label_mends(only_reading(wrong), {text});
    REQUIRE(mends.size() == 1);
    CHECK(mends.front() == LabelMend{label, i, wrong[i], text[i], true});
  }
  // With other labels about that one slip would also give, each of them is proposed and no others.
  std::string wrong = text;
  wrong[4] = wrong[4] == '1' ? '2' : '1';
  const std::vector<LabelMend> any = label_mends(only_reading(wrong), {});
  REQUIRE(any.size() > 2);
  std::vector<std::string> two{to_text(any[0].label), to_text(any[1].label)};
  std::sort(two.begin(), two.end());
  CHECK(label_mends(only_reading(wrong), two).size() == 2);
  CHECK(label_mends(only_reading("26B174"), {text}).empty());
}
