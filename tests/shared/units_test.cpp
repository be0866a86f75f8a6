#include "shared/units.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace motherbulb;

TEST_CASE("a grade is read as growers write it and written in one way") {
  const struct {
    const char* text;
    std::int32_t low_mm, high_mm;
    const char* written;
  } cases[] = {
      {"2-4", 20, 40, "2-4"},
      {"16+", 160, -1, "16+"},
      {"-2", -1, 20, "-2"},
      {"0-2", 0, 20, "0-2"},
      {"2.5-4", 25, 40, "2.5-4"},
      {"2–4", 20, 40, "2-4"},
      {"2—4", 20, 40, "2-4"},
      {"2−4", 20, 40, "2-4"},
      {"2/4", 20, 40, "2-4"},
      {"2 to 4", 20, 40, "2-4"},
      {"2to4", 20, 40, "2-4"},
      {"2 - 4 cm", 20, 40, "2-4"},
      {"2-4cm", 20, 40, "2-4"},
      {" 2-4 ", 20, 40, "2-4"},
      {"26+ cm", 260, -1, "26+"},
      {"-0.5", -1, 5, "-0.5"},
      {"0.1-200", 1, 2000, "0.1-200"},
      {"2.50-4.00", 25, 40, "2.5-4"},
      {"16 +", 160, -1, "16+"},
      {"0+", 0, -1, "0+"},
      {"- 2", -1, 20, "-2"},
      {"34-36", 340, 360, "34-36"},
  };
  for (const auto& one : cases) {
    const std::optional<Grade> read = grade_from_text(one.text);
    REQUIRE_MESSAGE(read.has_value(), std::string(one.text));
    CHECK(read->low_mm == one.low_mm);
    CHECK(read->high_mm == one.high_mm);
    CHECK(to_text(*read) == one.written);
    CHECK(grade_from_text(to_text(*read)) == read);
  }
}

TEST_CASE("what is no grade is refused, what a spreadsheet made a date of too") {
  for (const char* text :
       {"",     " ",      "+",     "-",      "cm",    "2",          "2 cm",     "4-2",       "2-2",
        "0-0",  "-0",     "2-4-6", "02-Apr", "2-Apr", "2026-04-02", "4/2/2026", "2,5-4",     "2.-4",
        ".5-4", "2.55-4", "201+",  "0-201",  "-201",  "2-4 mm",     "2--4",     "+2",        "++",
        "2-4+", "a-b",    "alive", "2 4",    "１-２", "99999-4",    "2-99999",  "2-4 cm cm", "1e1-20"}) {
    CHECK_MESSAGE(!grade_from_text(text).has_value(), std::string(text));
  }
}

TEST_CASE("a bulb that nobody sized has a grade with both ends open, written as nothing") {
  CHECK_FALSE(Grade{}.sized());
  CHECK(to_text(Grade{}).empty());
  CHECK(Grade{0, -1}.sized());
  CHECK(Grade{-1, 20}.sized());
}

TEST_CASE("smaller grades come first, unsized ones before all, and 0-2 is not -2") {
  std::vector<Grade> grades = {*grade_from_text("16+"),   *grade_from_text("2-4"), Grade{},
                               *grade_from_text("16-18"), *grade_from_text("-2"),  *grade_from_text("0-2")};
  std::sort(grades.begin(), grades.end());
  std::string order;
  for (Grade grade : grades) order += to_text(grade) + " ";
  CHECK(order == " -2 0-2 2-4 16-18 16+ ");
  CHECK(*grade_from_text("0-2") != *grade_from_text("-2"));
}

TEST_CASE("every word that a table uses is read back as what it was written from") {
  // The words of design.md, section 10.
  const std::vector<std::string> methods = {"offsets", "halving",  "quartering",   "chipping", "cross-cutting",
                                            "scoring", "scooping", "twin-scaling", "scaling",  "growing-on"};
  for (std::size_t i = 0; i < methods.size(); ++i) {
    const auto method = static_cast<Method>(i + 1);
    CHECK(to_text(method) == methods[i]);
    CHECK(method_from_text(methods[i]) == method);
  }
  const std::vector<std::string> causes = {"unknown", "rot", "pest", "disease", "animal", "frost", "dried-out"};
  CHECK(causes.size() == static_cast<std::size_t>(cause_count));
  for (std::size_t i = 0; i < causes.size(); ++i) {
    CHECK(to_text(static_cast<Cause>(i)) == causes[i]);
    CHECK(cause_from_text(causes[i]) == static_cast<Cause>(i));
  }
  for (int i = 0; i <= 2; ++i) CHECK(yes_no_from_text(to_text(static_cast<YesNo>(i))) == static_cast<YesNo>(i));
  for (int i = 0; i <= 3; ++i) CHECK(blade_from_text(to_text(static_cast<Blade>(i))) == static_cast<Blade>(i));
  for (int i = 0; i <= 3; ++i) CHECK(moisture_from_text(to_text(static_cast<Moisture>(i))) == static_cast<Moisture>(i));
  for (int i = 0; i <= 3; ++i) {
    CHECK(test_result_from_text(to_text(static_cast<TestResult>(i))) == static_cast<TestResult>(i));
  }
  for (const char* wrong : {"", "Chipping", "chip", "chipping ", "growing on"}) CHECK(!method_from_text(wrong));
  for (const char* wrong : {"", "Rot", "mouse", "dried out"}) CHECK(!cause_from_text(wrong));
  CHECK_FALSE(yes_no_from_text("maybe").has_value());
  CHECK_FALSE(blade_from_text("yes").has_value());
  CHECK_FALSE(moisture_from_text("Wet").has_value());
  CHECK_FALSE(test_result_from_text("pos").has_value());
}

TEST_CASE("methods know whether they cut and whether they leave the mother whole") {
  // design.md, section 3, "Counting".
  for (Method method : {Method::offsets, Method::growing_on}) CHECK_FALSE(cuts(method));
  for (Method method : {Method::halving, Method::quartering, Method::chipping, Method::twin_scaling, Method::scaling}) {
    CHECK(cuts(method));
    CHECK_FALSE(leaves_mother_whole(method));
  }
  for (Method method : {Method::cross_cutting, Method::scoring, Method::scooping}) {
    CHECK(cuts(method));
    CHECK(leaves_mother_whole(method));
  }
}
