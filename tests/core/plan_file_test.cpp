// Growing plans as files: what is refused, with file, place and remedy, and what is written is read again.
#include "core/plans/plan_file.hpp"

#include <doctest/doctest.h>

#include <random>
#include <string>

#include "core/plans/plan_book.hpp"

namespace motherbulb {
namespace {

// A sound plan of bulbs; its lines are what the tests change.
const std::string sound = R"({
  "plan": "testia-growing-on",
  "genus": "Testia",
  "method": "growing-on",
  "sources": {"S1": "a book"},
  "steps": [
    {"step": "dry-off", "after": ["potted"], "opens": {"weeks": 20, "source": "S1"}, "closes": {"weeks": 24, "source": "S1"}},
    {"step": "start", "after": ["dry-off"], "opens": {"weeks": 8, "source": "S1"}, "closes": {"weeks": 10, "source": "S1"}}
  ]
})";

std::string with(const std::string& from, const std::string& to) {
  std::string text = sound;
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

// Some fault names the file, the place and what would mend it.
void refuses(const std::string& text, const std::string& place, const std::string& remedy) {
  const PlanRead read = read_plan(text, "bad.json");
  std::string all;
  bool told = false;
  for (const std::string& fault : read.faults) {
    all += fault + "\n";
    told = told || (fault.rfind("bad.json: " + place, 0) == 0 && fault.find(remedy) != std::string::npos);
  }
  CAPTURE(all);
  CHECK(told);
}

}  // namespace

TEST_CASE("a sound plan is read without a fault") {
  const PlanRead read = read_plan(sound, "good.json");
  CHECK(read.faults.empty());
  REQUIRE(read.plan.steps.size() == 2);
  CHECK(read.plan.steps[1].opens->days() == 56);
  CHECK(read.plan.steps[1].of == Of::bulbs);
}

TEST_CASE("a bad plan is refused with its file, the place and a remedy") {
  refuses(with(R"("dry-off", "after": ["potted"])", R"("dry-off", "after": ["start"])"),
          "steps[0].after: ", "loop; count it from potted or begun");
  refuses(with(R"("after": ["potted"])", R"("after": ["grade"])"), "steps[0].after: ", "add it, or count from another");
  refuses(with(R"("after": ["potted"])", R"("after": [])"), "steps[0].after: ", "write from what");
  refuses(with(R"("closes": {"weeks": 24, "source": "S1"})", R"("season": {"from": 54, "to": 3, "source": "S1"})"),
          "steps[0].season.from: ", "weeks 1 to 53");
  refuses(with(R"("closes": {"weeks": 24, "source": "S1"})", R"("season": {"from": 9, "to": 0, "source": "S1"})"),
          "steps[0].season.to: ", "weeks 1 to 53");
  refuses(with(R"({"weeks": 20,)", R"({"weeks": -1,)"), "steps[0].opens.weeks: ", "write 0 or more");
  refuses(with(R"({"weeks": 20,)", R"({"fortnights": 20,)"), "steps[0].opens: ", "write exactly one");
  refuses(with(R"({"weeks": 20,)", R"({"weeks": 2000,)"), "steps[0].opens: ", "write less");
  refuses(with(R"({"weeks": 20,)", R"({"weeks": 2.5,)"), "steps[0].opens.weeks: ", "write one without quotes");
  refuses(with(R"("genus")", R"("colour": "red", "genus")"), "there is no field \"colour\"", "it takes plan, name");
  refuses(with(R"("step": "start", "after": ["dry-off"])", R"("step": "dry-off", "after": ["potted"])"),
          "steps[1]: ", "stands twice; leave one");
  refuses(with(R"({"weeks": 24,)", R"({"weeks": 19,)"), "steps[0].closes: ", "write a longer time");
  refuses(with(R"("source": "S1"})", R"("source": "S2"})"), "steps[0].opens.source: ", "add it there");
  refuses(with(R"("step": "start", "after": ["dry-off"])", R"("step": "grade", "after": ["dry-off"])"),
          "steps: ", "add \"start\"");
}

TEST_CASE("a text that is no plan at all is refused, with the line where it breaks") {
  refuses(with(R"("genus": "Testia",)", R"("genus": "Testia")"), "line 4: ", "comma");
  refuses("", "line 1: ", "comma");
  refuses("[]", "is no object", "{ }");
  refuses("{\"plan\": \"\xff\"}", "is not UTF-8", "save it as UTF-8");
  refuses(with("Testia", std::string(longest_plan, 'a')), "is longer than 100,000 bytes", "no growing plan");
}

TEST_CASE("a number beyond all numbers is refused like any other bad text") {
  refuses(with(R"({"weeks": 20,)", R"({"weeks": 1e999,)"), "has a number beyond", "write a smaller one");
}

TEST_CASE("every shipped plan is written and read again as the same") {
  for (const ShippedPlan& shipped : shipped_plans()) {
    CAPTURE(shipped.file);
    const PlanRead first = read_plan(shipped.text, shipped.file);
    REQUIRE(first.faults.empty());
    const PlanRead again = read_plan(write_plan(first.plan), shipped.file);
    REQUIRE(again.faults.empty());
    CHECK(again.plan.id == first.plan.id);
    CHECK(again.plan.genus == first.plan.genus);
    CHECK(again.plan.method == first.plan.method);
    CHECK(again.plan.drying == first.plan.drying);
    CHECK(again.plan.sources == first.plan.sources);
    REQUIRE(again.plan.steps.size() == first.plan.steps.size());
    for (std::size_t i = 0; i < first.plan.steps.size(); ++i) {
      const PlanStep &a = first.plan.steps[i], &b = again.plan.steps[i];
      CHECK(a.step == b.step);
      CHECK(a.of == b.of);
      CHECK(a.after == b.after);
      CHECK(a.until == b.until);
      CHECK(a.opens == b.opens);
      CHECK(a.closes == b.closes);
      CHECK(a.every == b.every);
      CHECK(a.seen == b.seen);
      REQUIRE(a.season.has_value() == b.season.has_value());
      if (a.season) CHECK((a.season->from == b.season->from && a.season->to == b.season->to));
    }
  }
}

TEST_CASE("random edits of a plan's text are read or refused, and what is read is written as the same") {
  const std::uint32_t seed = std::random_device{}();
  INFO("seed " << seed);
  std::mt19937 random(seed);
  const std::string letters = "{}[]\",:0123456789-eE. abnul\n\\\xc3\x28";
  for (int round = 0; round < 3000; ++round) {
    std::string text = sound;
    for (std::uint32_t edits = 1 + random() % 4; edits > 0 && !text.empty(); --edits) {
      const std::size_t at = random() % text.size();
      if (random() % 3 == 0) {
        text.erase(at, 1 + random() % 12);
      } else {
        text[at] = letters[random() % letters.size()];
      }
    }
    CAPTURE(text);
    const PlanRead read = read_plan(text, "random.json");
    if (!read.faults.empty()) continue;
    const std::string written = write_plan(read.plan);
    CHECK(write_plan(read_plan(written, "random.json").plan) == written);
  }
}

}  // namespace motherbulb
