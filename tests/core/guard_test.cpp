// What stands against work until a person says why it is done all the same: a hold or a bad test against cutting, also
// of clone-mates, since a cut copies what a bulb has; a treatment's re-entry time against work on its bench.
#include <doctest/doctest.h>

#include <string>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

constexpr std::int64_t hour = 60;  // in minutes

// Two pots of one batch and one of another of the same clone, and one of another clone; two benches.
struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host);
  BatchId batch, mate, stranger;

  House() {
    batch = of("Skarn Blue", {"house 1, bench 1, no. 1", "house 1, bench 2, no. 1"});
    mate = of("Skarn Blue", {"house 1, bench 1, no. 2"});
    stranger = of("Tirna Red", {"house 1, bench 2, no. 2"});
  }
  BatchId of(const std::string& clone, const std::vector<std::string>& places) {
    const auto count = static_cast<std::int64_t>(places.size()) * 5;
    const BatchId made = make::begin_bulbs(*book, clone, make::lines({{"20-22", count}}));
    std::int32_t number = 0;
    for (const std::string& place : places) {
      host.advance_minutes(1);
      make::tap(*book, made, ++number, make::bulbs_potted(make::lines({{"20-22", 5}}), place));
    }
    host.advance_minutes(1);
    return made;
  }
  std::string label(const BatchId& of, int pot) const { return book->batch(of)->label + "/" + std::to_string(pot); }
  Record cut(std::optional<BatchId> parent, std::int32_t pot, const std::string& clone = "Skarn Blue",
             Method method = Method::chipping) const {
    Begun fact = make::begun(clone, method, make::lines({{"20-22", 1}}), cuts(method) ? 8 : 0);
    fact.parent = parent;
    fact.parent_pot = pot;
    return make::record({}, 0, fact);
  }
  // Why it is not kept; empty where it was.
  std::string why_not(const Record& wish) {
    host.advance(1000);
    const std::int64_t entries = book->entry_count();
    const auto kept = book->run(wish);
    if (kept) return "";
    CHECK(book->entry_count() == entries);
    CHECK(kept.error().kind == ErrorKind::refused);
    return kept.error().what;
  }
  std::string why_not(const BatchId& of, std::int32_t pot, const Payload& fact) {
    return why_not(make::record(of, pot, fact));
  }
  // Notes of a story that stand, with the pot that they are about: "1: text".
  std::vector<std::string> notes(const BatchId& of) const {
    std::vector<std::string> found;
    for (const StoryLine& line : book->story(of)) {
      const auto* note = std::get_if<Note>(&line.fact);
      if (line.stands && note != nullptr) found.push_back(std::to_string(line.entry.pot) + ": " + note->text);
    }
    return found;
  }
};

}  // namespace

TEST_CASE("a pot on hold and its clone-mates are not cut, and other clones are, until it is cleared") {
  House house;
  make::tap(*house.book, house.batch, 1, Held{"pale stripes"});
  const std::string why = "stop: " + house.label(house.batch, 1) + " is on hold: pale stripes";
  CHECK(house.why_not(house.cut(house.batch, 1)) == why);
  CHECK(house.why_not(house.cut(house.batch, 1, "Skarn Blue", Method::offsets)) == why);
  CHECK(house.why_not(house.cut(house.batch, 2)) == why + ", of the same clone");
  CHECK(house.why_not(house.cut(house.mate, 1)) == why + ", of the same clone");
  CHECK(house.why_not(house.cut({}, 0)) == why + ", of the same clone");
  CHECK(house.why_not(house.cut(house.stranger, 1, "Tirna Red")) == "");
  // Uncut it would be moved, which no reason allows.
  Record split = house.cut(house.batch, 1, "Skarn Blue", Method::growing_on);
  split.despite = "no room";
  CHECK(house.why_not(split) == house.label(house.batch, 1) + " is on hold: pale stripes; clear it first");
  CHECK(house.why_not(house.cut(house.batch, 2, "Skarn Blue", Method::growing_on)) == "");

  make::tap(*house.book, house.batch, 1, Cleared{"second look"});
  CHECK(house.why_not(house.cut(house.batch, 1)) == "");
  CHECK(house.why_not(house.cut(house.mate, 1)) == "");
}

TEST_CASE("a pot that was tested positive and its clone-mates are not cut, until a test or a person clears it") {
  for (const bool by_test : {false, true}) {
    CAPTURE(by_test);
    House house;
    make::tap(*house.book, house.batch, 2, Tested{"mosaic virus", TestResult::unclear, ""});
    CHECK(house.why_not(house.cut(house.batch, 2)) == "");
    make::tap(*house.book, house.batch, 2, Tested{"mosaic virus", TestResult::positive, ""});
    const std::string why = "stop: " + house.label(house.batch, 2) + " is tested positive for mosaic virus";
    CHECK(house.why_not(house.cut(house.batch, 2)) == why);
    CHECK(house.why_not(house.cut(house.mate, 1)) == why + ", of the same clone");
    CHECK(house.why_not(house.cut(house.stranger, 1, "Tirna Red")) == "");
    // Nor is it sold or moved.
    CHECK(house.why_not(house.batch, 2, Sold{make::lines({{"20-22", 1}}), {}, ""}).find("clear it first") !=
          std::string::npos);
    if (by_test) {
      make::tap(*house.book, house.batch, 2, Tested{"mosaic virus", TestResult::negative, ""});
    } else {
      make::tap(*house.book, house.batch, 2, Cleared{"the sample was mixed up"});
    }
    CHECK(house.why_not(house.cut(house.batch, 2)) == "");
    CHECK(house.why_not(house.batch, 2, Sold{make::lines({{"20-22", 1}}), {}, ""}) == "");
  }
}

TEST_CASE("cut all the same, the reason stands as a note in the story of what was cut, and both can be merged") {
  House house;
  make::tap(*house.book, house.batch, 1, Held{"pale stripes"});
  Record wish = house.cut(house.batch, 1);
  wish.despite = "last chance to save the clone";
  const Receipt kept = make::must(house.book->run(wish));
  CHECK(kept.kept);
  CHECK(house.book->batch(kept.batch)->clone == "Skarn Blue");
  const std::string note =
      "done all the same, " + house.label(house.batch, 1) + " is on hold: pale stripes: last chance to save the clone";
  CHECK(house.notes(house.batch) == std::vector<std::string>{"1: " + note});
  // Without a parent there is no other story: the beginning itself says it.
  wish = house.cut({}, 0);
  wish.despite = "bought in";
  const Receipt bought = make::must(house.book->run(wish));
  CHECK(house.book->batch(bought.batch)->note == "done all the same, " + house.label(house.batch, 1) +
                                                     " is on hold: pale stripes, of the same clone: bought in");
  const CheckReport report = make::must(house.book->check());
  CHECK(report.faults.empty());
}

TEST_CASE("while a treatment's re-entry time runs nobody works on its bench; other benches go on") {
  for (const bool short_form : {false, true}) {
    CAPTURE(short_form);
    House house;
    const Payload fact = short_form ? Payload(Treated{"soft soap", "", 12, ""})
                                    : Payload(Treatment{"soft soap", "", "", "", "", "", "", 12, ""});
    // 2026-03-02 09:07 in the house; twelve hours later it is 21:07.
    REQUIRE(house.host.now_ms() == FakeHost::monday_ms + 7 * 60'000);
    make::tap(*house.book, house.batch, 1, fact);
    const std::string why = "stop: nobody enters before 2026-03-02T21:07:00+01:00 (soft soap)";
    house.host.advance_minutes(hour);
    CHECK(house.why_not(house.batch, 1, Watered{}) == why);
    CHECK(house.why_not(house.mate, 1, make::looked(3)) == why);  // on the same bench
    CHECK(house.why_not(house.cut(house.mate, 1)) == why);
    CHECK(house.why_not(house.batch, 2, Watered{}) == "");  // of the same batch, on another
    CHECK(house.why_not(house.stranger, 1, Watered{}) == "");
    for (const Payload& quiet : {Payload(Note{"smells still"}), Payload(Treated{"oil", "", {}, ""}),
                                 Payload(Treatment{"oil", "", "", "", "", "", "", {}, ""}), Payload(Held{"wait"}),
                                 Payload(Cleared{""}), Payload(Postponed{"water", 1, "re-entry"})}) {
      CAPTURE(kind_number(quiet));
      CHECK(house.why_not(house.batch, 1, quiet) == "");
    }
    // What was done before is only written down now.
    Record earlier = make::record(house.batch, 1, Watered{});
    earlier.when = make::when("2026-03-02T08:00:00+01:00");
    CHECK(house.why_not(earlier) == "");

    house.host.set_now(FakeHost::monday_ms + (7 + 12 * hour) * 60'000 - 1001);
    CHECK(house.why_not(house.batch, 1, Watered{}) == why);  // a thousandth of a second too early
    house.host.set_now(FakeHost::monday_ms + (7 + 12 * hour) * 60'000 - 1000);
    CHECK(house.why_not(house.batch, 1, Watered{}) == "");
    CHECK(house.why_not(house.mate, 1, Watered{}) == "");
  }
}

TEST_CASE("the longest of several re-entry times rules, and 0 hours or none hold nobody up") {
  House house;
  make::tap(*house.book, house.batch, 1, Treated{"long", "", 24, ""});
  make::tap(*house.book, house.mate, 1, Treated{"short", "", 2, ""});
  make::tap(*house.book, house.batch, 2, Treated{"none", "", 0, ""});
  make::tap(*house.book, house.stranger, 1, Treated{"unsaid", "", std::nullopt, ""});
  CHECK(house.why_not(house.batch, 2, Watered{}) == "");
  CHECK(house.why_not(house.mate, 1, Watered{}).find("(long)") != std::string::npos);
  house.host.advance_minutes(3 * hour);
  CHECK(house.why_not(house.mate, 1, Watered{}).find("(long)") != std::string::npos);
}

TEST_CASE("a whole batch that was treated keeps everybody from the benches of its pots") {
  House house;
  make::tap(*house.book, house.batch, 0, Treatment{"soft soap", "", "", "", "", "", "", 4, ""});
  CHECK(house.why_not(house.batch, 1, Watered{}).find("stop: nobody enters before") == 0);
  CHECK(house.why_not(house.batch, 2, Watered{}).find("stop: nobody enters before") == 0);
  CHECK(house.why_not(house.mate, 1, Watered{}).find("stop: nobody enters before") == 0);
  CHECK(house.why_not(house.stranger, 1, Watered{}).find("stop: nobody enters before") == 0);
  house.host.advance_minutes(4 * hour);
  CHECK(house.why_not(house.stranger, 1, Watered{}) == "");
}

TEST_CASE("of a treatment with no hour the re-entry time counts from the end of its day") {
  House house;
  Record wish = make::record(house.batch, 1, Treatment{"soft soap", "", "", "", "", "", "", 12, ""});
  wish.when = make::when("2026-03-02");
  make::must(house.book->run(wish));
  // Monday ends at 2026-03-02T24:00+01:00, 15 hours after 09:00; twelve hours later it is Tuesday noon.
  const std::int64_t tuesday_noon = FakeHost::monday_ms + 27 * hour * 60'000;
  house.host.set_now(tuesday_noon - 1001);
  CHECK(house.why_not(house.mate, 1, Watered{}) == "stop: nobody enters before 2026-03-03T12:00:00+01:00 (soft soap)");
  house.host.set_now(tuesday_noon - 1000);
  CHECK(house.why_not(house.mate, 1, Watered{}) == "");
}

TEST_CASE("done all the same during a re-entry time, the reason stands as a note beside the work") {
  House house;
  make::tap(*house.book, house.batch, 1, Treated{"soft soap", "", 12, ""});
  const std::int64_t entries = house.book->entry_count();
  Record wish = make::record(house.mate, 1, Watered{});
  wish.despite = "a pipe had burst";
  make::must(house.book->run(wish));
  CHECK(house.book->entry_count() == entries + 2);
  CHECK(house.notes(house.mate) ==
        std::vector<std::string>{
            "1: done all the same, nobody enters before 2026-03-02T21:07:00+01:00 (soft soap): a pipe had burst"});
  // Where nothing stands against it the reason is not asked for, and none is written.
  wish = make::record(house.stranger, 1, Watered{});
  wish.despite = "a pipe had burst";
  make::must(house.book->run(wish));
  CHECK(house.book->entry_count() == entries + 3);
}
