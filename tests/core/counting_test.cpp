// Counting as design.md, "Counting", says, each case worked out by hand. The outside example: a published trial in
// which outer half-chips gave 16.2 bulblets and inner ones 12.3 per mother, together 28.5 (trade-facts.md, S04: seen).
#include <doctest/doctest.h>

#include <map>

#include "core/fold.hpp"
#include "tests/make.hpp"

using namespace motherbulb;
using namespace motherbulb::make;

namespace {

struct Alone : BookView {
  std::int64_t shift_ms(const EntryId&) const override { return 0; }
  std::string_view device(const WriterId& writer) const override {
    return names_.emplace(writer, hex(writer)).first->second;
  }

private:
  mutable std::map<WriterId, std::string> names_;
};

// A story under way: entries are added, and folded whenever asked, whole and one by one.
class Story {
public:
  explicit Story(Begun begun) {
    if (begun.label.empty()) begun.label = "26A001-X";
    const Entry first = device_.entry(begun);
    id_ = story_of(first);
    entries_.push_back(first);
  }
  Story& add(const Payload& fact, std::int32_t pot = 0) { return add_from(device_, fact, pot); }
  Story& add_from(Device& device, const Payload& fact, std::int32_t pot = 0, const std::string& helper = "Runa") {
    entries_.push_back(device.entry(fact, id_, pot, helper));
    return *this;
  }
  Story& settle(const Matter& matter, Take take) {
    Settlement settlement;
    settlement.matter = matter.id;
    settlement.take = take;
    return add(settlement, matter.pot.number);
  }
  Story& link(Link link) {
    link.to = id_;
    links_.push_back(std::move(link));
    return *this;
  }
  FoldedStory folded() const { return fold_story(id_, resolve(id_, entries_, alone_), links_); }
  const BatchId& id() const { return id_; }
  const Entry& last() const { return entries_.back(); }
  Device& device() { return device_; }

  // Of pots and batch together.
  BulbBalance bulbs() const {
    const FoldedStory now = folded();
    BulbBalance sum = now.batch.bulb_balance;
    CHECK(balanced(now.batch.bulb_balance));
    for (const auto& [number, pot] : now.pots) {
      CHECK(balanced(pot.bulb_balance));
      sum += pot.bulb_balance;
    }
    return sum;
  }
  PieceBalance pieces() const {
    const FoldedStory now = folded();
    PieceBalance sum = now.batch.piece_balance;
    CHECK(balanced(now.batch.piece_balance));
    for (const auto& [number, pot] : now.pots) {
      CHECK(balanced(pot.piece_balance));
      sum += pot.piece_balance;
    }
    return sum;
  }

private:
  Device device_{1};
  Alone alone_;
  BatchId id_;
  std::vector<Entry> entries_;
  std::vector<Link> links_;
};

std::int64_t lost_to(const LossByCause& lost, Cause cause) {
  return lost[static_cast<std::size_t>(cause)];
}

Sold sold(Lines what) {
  return Sold{std::move(what), std::nullopt, ""};
}

}  // namespace

TEST_CASE("mothers that are cut are new to the book and leave it at once, and their pieces wait") {
  Story story(begun("Tirna Red", Method::chipping, lines({{"26-28", 3}}), 8));
  const BulbBalance bulbs = story.bulbs();
  CHECK(bulbs.begun == 3);
  CHECK(bulbs.cut == 3);
  CHECK(bulbs.there == 0);
  CHECK(bulbs.open == 0);
  const PieceBalance pieces = story.pieces();
  CHECK(pieces.made == 24);
  CHECK(pieces.waiting == 24);
}

TEST_CASE("cross-cutting, scoring and scooping leave one piece for each mother, whatever the sectors") {
  for (Method method : {Method::cross_cutting, Method::scoring, Method::scooping}) {
    Story story(begun("Tirna Red", method, lines({{"26-28", 3}}), 8));
    CHECK(story.pieces().made == 3);
  }
}

TEST_CASE("bulbs grown on or taken as offsets are in by begun, and wait by grade") {
  for (Method method : {Method::growing_on, Method::offsets}) {
    Story story(begun("Tirna Red", method, lines({{"8-10", 5}, {"10-12", 2}})));
    const FoldedStory now = story.folded();
    CHECK(story.bulbs().begun == 7);
    CHECK(story.bulbs().there == 7);
    CHECK(now.batch.bulbs_waiting == BulbsByGrade{{grade("8-10"), 5}, {grade("10-12"), 2}});
    CHECK(story.pieces().made == 0);
  }
}

TEST_CASE("pieces potted, lost and unpotted: what is neither alive nor lost is open") {
  // 2 mothers into 8: 16 pieces. 8 potted, 1 rots, at unpotting 6 alive of the 7 left: 1 open.
  Story story(begun("Tirna Red", Method::chipping, lines({{"26-28", 2}}), 8));
  story.add(pieces_potted(8), 1).add(lost(Cause::rot, 1), 1).add(unpotted(lines({{"2-4", 5}, {"4-6", 6}}), 6), 1);
  const PieceBalance pieces = story.pieces();
  CHECK(pieces.made == 16);
  CHECK(pieces.waiting == 8);
  CHECK(pieces.growing == 0);
  CHECK(pieces.unpotted == 7);
  CHECK(pieces.alive == 6);
  CHECK(pieces.open == 1);
  CHECK(lost_to(pieces.lost, Cause::rot) == 1);
  const BulbBalance bulbs = story.bulbs();
  CHECK(bulbs.increase == 11);
  CHECK(bulbs.there == 11);
  CHECK(bulbs.open == 0);
  CHECK(story.folded().pots.at(1).emptied);
  CHECK_MESSAGE(story.folded().matters.empty(), "pieces die unseen: an open balance of them is only shown");
}

TEST_CASE("where nobody said how many pieces were alive, none is open") {
  Story story(begun("Tirna Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(8), 1).add(unpotted(lines({{"2-4", 5}})), 1);
  CHECK(story.pieces().open == 0);
  CHECK(story.pieces().unpotted == 8);
}

TEST_CASE("pieces found dead at an unpotting are lost by their cause") {
  Story story(begun("Tirna Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(8), 1).add(unpotted(lines({{"2-4", 5}}), 6, dead(Cause::animal, 2)), 1);
  CHECK(lost_to(story.pieces().lost, Cause::animal) == 2);
  CHECK(story.pieces().unpotted == 6);
  CHECK(story.pieces().open == 0);
}

TEST_CASE("outer and inner half-chips of one mother add up (S04: 16.2 and 12.3 give 28.5; here of ten mothers)") {
  Story outer(begun("Red", Method::chipping, lines({{"30-32", 10}}), 12));
  outer.add(pieces_potted(120), 1).add(unpotted(lines({{"12+", 162}})), 1);
  Story inner(begun("Red", Method::chipping, lines({{"30-32", 10}}), 12));
  inner.add(pieces_potted(120), 1).add(unpotted(lines({{"12+", 123}})), 1);
  BulbBalance sum = outer.bulbs();
  sum += inner.bulbs();
  CHECK(sum.increase == 285);
  CHECK(sum.there == 285);
}

TEST_CASE("of bulbs unpotted, more than the pot's less its losses is increase") {
  Story story(begun("Red", Method::growing_on, lines({{"8-10", 5}})));
  story.add(bulbs_potted(lines({{"8-10", 5}})), 1).add(lost(Cause::animal, 1), 1);
  story.add(unpotted(lines({{"10-12", 4}, {"2-4", 3}})), 1);  // 7 of 4
  const BulbBalance bulbs = story.bulbs();
  CHECK(bulbs.increase == 3);
  CHECK(bulbs.there == 7);
  CHECK(lost_to(bulbs.lost, Cause::animal) == 1);
  CHECK(bulbs.open == 0);
}

TEST_CASE("of bulbs unpotted, fewer is open, and that is a matter until somebody explains it") {
  Story story(begun("Red", Method::growing_on, lines({{"8-10", 5}})));
  story.add(bulbs_potted(lines({{"8-10", 5}})), 3).add(unpotted(lines({{"10-12", 3}})), 3);
  CHECK(story.bulbs().open == 2);
  FoldedStory now = story.folded();
  REQUIRE(now.matters.size() == 1);
  const Matter matter = now.matters[0];
  CHECK(matter.kind == MatterKind::balance);
  CHECK(matter.pot.number == 3);

  SUBCASE("left open it stays in the balance and is asked no more") {
    story.settle(matter, Take::first);
    CHECK(story.bulbs().open == 2);
    CHECK(story.folded().matters.empty());
  }
  SUBCASE("booked it is lost, cause unknown") {
    story.settle(matter, Take::second);
    CHECK(story.bulbs().open == 0);
    CHECK(lost_to(story.bulbs().lost, Cause::unknown) == 2);
    CHECK(story.folded().matters.empty());
  }
  SUBCASE("a loss recorded at its true time explains it") {
    Device other(2, FakeHost::monday_ms + 60'000 * 2 - 30'000);  // between potting and unpotting
    story.add_from(other, lost(Cause::animal, 2), 3);
    CHECK(story.bulbs().open == 0);
    CHECK(lost_to(story.bulbs().lost, Cause::animal) == 2);
    CHECK(story.folded().matters.empty());
  }
}

TEST_CASE("bulbs out of a pot wait in the batch and can be potted again, which fills the pot anew") {
  Story story(begun("Red", Method::chipping, lines({{"26-28", 1}}), 4));
  story.add(pieces_potted(4), 1).add(unpotted(lines({{"4-6", 5}}), 4), 1).add(bulbs_potted(lines({{"4-6", 3}})), 1);
  FoldedStory now = story.folded();
  CHECK(now.batch.bulbs_waiting == BulbsByGrade{{grade("4-6"), 2}});
  CHECK_FALSE(now.pots.at(1).emptied);
  CHECK(now.pots.at(1).unit == Unit::bulbs);
  CHECK(total(now.pots.at(1).bulbs) == 3);
  story.add(unpotted(lines({{"6-8", 3}})), 1);
  CHECK_MESSAGE(story.folded().matters.empty(), "a second filling has an unpotting of its own");
  CHECK(story.bulbs().there == 5);
}

TEST_CASE("more potted than wait is a matter and makes open negative; nothing falls below none") {
  Story bulbs(begun("Red", Method::growing_on, lines({{"8-10", 5}})));
  bulbs.add(bulbs_potted(lines({{"8-10", 7}})), 1);
  CHECK(bulbs.bulbs().open == -2);
  CHECK(bulbs.bulbs().there == 7);
  CHECK(bulbs.folded().batch.bulbs_waiting.empty());
  REQUIRE(bulbs.folded().matters.size() == 1);
  CHECK(bulbs.folded().matters[0].kind == MatterKind::balance);

  Story pieces(begun("Red", Method::chipping, lines({{"26-28", 1}}), 8));
  pieces.add(pieces_potted(10), 1);
  CHECK(pieces.pieces().open == -2);
  CHECK(pieces.pieces().waiting == 0);
  CHECK(pieces.pieces().growing == 10);
  CHECK(pieces.folded().matters.size() == 1);
}

TEST_CASE("sold, given and discarded take bulbs out of their pot, or out of what waits") {
  Story story(begun("Red", Method::growing_on, lines({{"8-10", 9}})));
  story.add(bulbs_potted(lines({{"8-10", 6}})), 1);
  story.add(sold(lines({{"8-10", 2}})), 1).add(Given{lines({{"8-10", 1}}), ""}, 1);
  story.add(Discarded{lines({{"8-10", 1}}), ""});
  const FoldedStory now = story.folded();
  CHECK(total(now.pots.at(1).bulbs) == 3);
  CHECK(total(now.batch.bulbs_waiting) == 2);
  const BulbBalance bulbs = story.bulbs();
  CHECK(bulbs.sold == 2);
  CHECK(bulbs.given == 1);
  CHECK(bulbs.discarded == 1);
  CHECK(bulbs.there == 5);
  story.add(sold(lines({{"8-10", 4}})));
  CHECK(story.bulbs().open == -2);
  CHECK(story.bulbs().there == 3);
}

TEST_CASE("without a grade the grade with most bulbs is taken, the smaller where two are equal, and that is marked") {
  Story story(begun("Red", Method::growing_on, lines({{"4-6", 3}, {"6-8", 3}, {"8-10", 1}})));
  story.add(sold(lines(1)));
  FoldedStory now = story.folded();
  CHECK(now.batch.bulbs_waiting == BulbsByGrade{{grade("4-6"), 2}, {grade("6-8"), 3}, {grade("8-10"), 1}});
  CHECK(now.batch.assumed_grade);
  story.add(lost(Cause::rot, 2));
  CHECK(story.folded().batch.bulbs_waiting == BulbsByGrade{{grade("4-6"), 2}, {grade("6-8"), 1}, {grade("8-10"), 1}});
}

TEST_CASE("a loss takes pieces from a pot of pieces, bulbs from a pot of bulbs, and without a pot what waits") {
  Story story(begun("Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(4), 1).add(lost(Cause::rot, 1), 1).add(lost(Cause::dried_out, 1));
  CHECK(story.pieces().growing == 3);
  CHECK(story.pieces().waiting == 3);
  CHECK(lost_to(story.pieces().lost, Cause::rot) == 1);
  CHECK(lost_to(story.pieces().lost, Cause::dried_out) == 1);
  Story bulbs(begun("Red", Method::growing_on, lines({{"8-10", 5}})));
  bulbs.add(bulbs_potted(lines({{"8-10", 3}})), 1).add(lost(Cause::animal, 1), 1).add(lost(Cause::frost, 1));
  CHECK(total(bulbs.folded().pots.at(1).bulbs) == 2);
  CHECK(total(bulbs.folded().batch.bulbs_waiting) == 1);
}

TEST_CASE("moved and repotted change no count; repotted with grades is a new count in the same pot") {
  Story story(begun("Red", Method::growing_on, lines({{"8-10", 5}})));
  story.add(bulbs_potted(lines({{"8-10", 5}}), "bench 1"), 1).add(Moved{"bench 2", ""}, 1).add(Repotted{}, 1);
  CHECK(total(story.folded().pots.at(1).bulbs) == 5);
  CHECK(story.folded().pots.at(1).place == "bench 2");
  story.add(Repotted{lines({{"12-14", 6}}), "", ""}, 1);
  const FoldedStory now = story.folded();
  CHECK(now.pots.at(1).bulbs == BulbsByGrade{{grade("12-14"), 6}});
  CHECK_FALSE(now.pots.at(1).emptied);
  CHECK(story.bulbs().increase == 1);
  CHECK(now.batch.bulbs_waiting.empty());
}

TEST_CASE("graded says anew what the pot holds: more is increase, fewer is open") {
  Story story(begun("Red", Method::growing_on, lines({{"8-10", 5}})));
  story.add(bulbs_potted(lines({{"8-10", 5}})), 1).add(Graded{lines({{"8-10", 2}, {"10-12", 5}}), ""}, 1);
  CHECK(story.bulbs().increase == 2);
  story.add(Graded{lines({{"10-12", 6}}), ""}, 1);
  CHECK(story.bulbs().open == 1);
  CHECK(story.folded().pots.at(1).bulbs == BulbsByGrade{{grade("10-12"), 6}});
}

TEST_CASE("dividing is an unpotting") {
  Story story(begun("Red", Method::growing_on, lines({{"20-22", 1}})));
  story.add(bulbs_potted(lines({{"20-22", 1}})), 1)
      .add(Divided{lines({{"20-22", 1}, {"4-6", 3}}), std::nullopt, {}, ""}, 1);
  CHECK(story.folded().pots.at(1).emptied);
  CHECK(story.bulbs().increase == 3);
}

TEST_CASE("a child's mothers leave what waits in the parent, or the pot that is named, and are cut there") {
  Story parent(begun("Red", Method::growing_on, lines({{"26-28", 6}})));
  parent.add(bulbs_potted(lines({{"26-28", 2}})), 1);
  Link from_waiting;
  from_waiting.order.at = INT64_MAX;
  from_waiting.fact.bytes[0] = 1;
  from_waiting.cut = true;
  from_waiting.lines = lines({{"26-28", 3}});
  parent.link(from_waiting);
  CHECK(parent.bulbs().cut == 3);
  CHECK(parent.bulbs().there == 3);
  Link from_pot = from_waiting;
  from_pot.fact.bytes[0] = 2;
  from_pot.pot = 1;
  from_pot.cut = false;
  from_pot.lines = lines({{"26-28", 1}});
  parent.link(from_pot);
  CHECK(parent.bulbs().taken == 2 + 1);  // two into the pot, one away to grow on
  CHECK(total(parent.folded().pots.at(1).bulbs) == 1);
}

TEST_CASE("two unpottings of one filling are counted twice: the first counts until a person settles it") {
  Story story(begun("Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(8), 1).add(unpotted(lines({{"2-4", 13}}), 7), 1);
  Device other(2, FakeHost::monday_ms + 60 * 60'000);
  story.add_from(other, unpotted(lines({{"2-4", 12}}), 7), 1, "Bo");
  CHECK(story.bulbs().increase == 13);
  REQUIRE(story.folded().matters.size() == 1);
  const Matter matter = story.folded().matters[0];
  CHECK(matter.kind == MatterKind::counted_twice);
  CHECK(matter.first.bulbs == 13);
  CHECK(matter.second.bulbs == 12);
  CHECK(matter.second.helper == "Bo");

  SUBCASE("the first") {
    story.settle(matter, Take::first);
    CHECK(story.bulbs().increase == 13);
  }
  SUBCASE("the second") {
    story.settle(matter, Take::second);
    CHECK(story.bulbs().increase == 12);
    CHECK(story.pieces().alive == 7);
  }
  SUBCASE("both: each counted a part") {
    story.settle(matter, Take::both);
    CHECK(story.bulbs().increase == 25);
    CHECK(story.pieces().alive == 14);
    CHECK(story.pieces().open == -6);
  }
  CHECK(story.folded().matters.empty());
}

TEST_CASE("both counts of a pot of bulbs together make the increase or what is open") {
  Story story(begun("Red", Method::growing_on, lines({{"8-10", 10}})));
  story.add(bulbs_potted(lines({{"8-10", 10}})), 1);
  story.add(unpotted(lines({{"8-10", 4}})), 1).add(unpotted(lines({{"8-10", 5}})), 1);
  Matter twice;
  for (const Matter& matter : story.folded().matters) {
    if (matter.kind == MatterKind::counted_twice) twice = matter;
  }
  story.settle(twice, Take::both);
  CHECK(story.bulbs().there == 9);
  CHECK(story.bulbs().open == 1);
}

TEST_CASE("a pot counted three times is settled pair by pair") {
  Story story(begun("Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(8), 1).add(unpotted(lines({{"2-4", 10}})), 1);
  story.add(unpotted(lines({{"2-4", 11}})), 1).add(unpotted(lines({{"2-4", 12}})), 1);
  REQUIRE(story.folded().matters.size() == 2);
  for (const Matter& matter : story.folded().matters) {
    if (matter.second.bulbs == 11) story.settle(matter, Take::second);
  }
  // 11 counts now; the third stands against it.
  CHECK(story.bulbs().increase == 11);
  REQUIRE(story.folded().matters.size() == 1);
  CHECK(story.folded().matters[0].first.bulbs == 11);
  CHECK(story.folded().matters[0].second.bulbs == 12);
}

TEST_CASE("work on an emptied pot counts nothing until it is settled") {
  Story story(begun("Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(8), 1).add(unpotted(lines({{"2-4", 9}}), 8), 1).add(lost(Cause::rot, 2), 1);
  CHECK(total(story.bulbs().lost) == 0);
  REQUIRE(story.folded().matters.size() == 1);
  const Matter matter = story.folded().matters[0];
  CHECK(matter.kind == MatterKind::after_unpotting);
  SUBCASE("the unpotting stands alone") {
    story.settle(matter, Take::first);
    CHECK(story.bulbs().there == 9);
    CHECK(total(story.bulbs().lost) == 0);
  }
  SUBCASE("the work stands: the pot was not unpotted") {
    story.settle(matter, Take::second);
    CHECK(story.bulbs().there == 0);
    CHECK(story.pieces().growing == 6);
    CHECK_FALSE(story.folded().pots.at(1).emptied);
  }
  SUBCASE("both: it was done on what came out") {
    story.settle(matter, Take::both);
    CHECK(story.bulbs().there == 7);
    CHECK(lost_to(story.bulbs().lost, Cause::rot) == 2);
  }
  CHECK(story.folded().matters.empty());
}

TEST_CASE("repotting an emptied pot with sizes is asked about; where both are right the bulbs that waited went back") {
  Story story(begun("Red", Method::growing_on, lines({{"8-10", 10}})));
  story.add(bulbs_potted(lines({{"8-10", 10}})), 1).add(unpotted(lines({{"8-10", 10}})), 1);
  story.add(Repotted{lines({{"8-10", 8}}), "", ""}, 1);
  REQUIRE(story.folded().matters.size() == 1);
  CHECK(story.folded().matters[0].kind == MatterKind::after_unpotting);
  CHECK(story.folded().matters[0].proposal == Take::both);
  CHECK(total(story.folded().batch.bulbs_waiting) == 10);
  story.settle(story.folded().matters[0], Take::both);
  CHECK(total(story.folded().pots.at(1).bulbs) == 8);
  CHECK(total(story.folded().batch.bulbs_waiting) == 2);
  CHECK(story.folded().matters.empty());
}

TEST_CASE("bulbs that another batch took from a pot after it was emptied leave the balance open") {
  Story parent(begun("Red", Method::growing_on, lines({{"8-10", 10}})));
  parent.add(bulbs_potted(lines({{"8-10", 10}})), 1).add(unpotted(lines({{"8-10", 10}})), 1);
  Link link;
  link.order.at = INT64_MAX;
  link.fact.bytes[0] = 1;
  link.pot = 1;
  link.lines = lines({{"8-10", 8}});
  parent.link(link);
  CHECK(parent.bulbs().there == 10);
  CHECK(parent.bulbs().open == -8);
}

TEST_CASE("alive is of pieces: said of a pot of bulbs it changes nothing") {
  Story story(begun("Red", Method::growing_on, lines({{"8-10", 5}})));
  story.add(bulbs_potted(lines({{"8-10", 5}})), 1).add(unpotted(lines({{"8-10", 5}}), 5), 1);
  CHECK(story.pieces().alive == 0);
  CHECK(story.pieces().open == 0);
}

TEST_CASE("drying off and starting what came out of an emptied pot is the usual way and no matter") {
  Story story(begun("Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(8), 1).add(unpotted(lines({{"2-4", 9}}), 8), 1).add(DriedOff{}, 1).add(Started{}, 1);
  CHECK(story.folded().matters.empty());
}

TEST_CASE("two devices that see different shoots in one pot on one day raise a matter; a later look replaces") {
  Story story(begun("Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(8), 1).add(looked(9), 1);
  Device other(2, FakeHost::monday_ms + 60 * 60'000);
  story.add_from(other, looked(7), 1, "Bo");
  REQUIRE(story.folded().matters.size() == 1);
  CHECK(story.folded().matters[0].kind == MatterKind::observations_differ);
  CHECK(story.folded().pots.at(1).shoots == 7);
  story.settle(story.folded().matters[0], Take::first);
  CHECK(story.folded().matters.empty());
  CHECK(story.folded().pots.at(1).shoots == 9);
}

TEST_CASE("the same device, another day, or the same number raise nothing") {
  Story story(begun("Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(8), 1).add(looked(9), 1).add(looked(8), 1);
  Device other(2, FakeHost::monday_ms + 60 * 60'000);
  story.add_from(other, looked(8), 1);
  Device next_day(3, FakeHost::monday_ms + 24 * 60 * 60'000);
  story.add_from(next_day, looked(3), 1);
  CHECK(story.folded().matters.empty());
}

TEST_CASE("a pot moved by two devices on one day to two places is a matter") {
  Story story(begun("Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(8), 1).add(Moved{"bench 1", ""}, 1);
  Device other(2, FakeHost::monday_ms + 60 * 60'000);
  story.add_from(other, Moved{"bench 2", ""}, 1);
  REQUIRE(story.folded().matters.size() == 1);
  CHECK(story.folded().matters[0].kind == MatterKind::two_places);
  CHECK(story.folded().pots.at(1).place == "bench 2");
  story.settle(story.folded().matters[0], Take::first);
  CHECK(story.folded().pots.at(1).place == "bench 1");
}

TEST_CASE("a withdrawn fact counts nothing, and counts again when its correction is withdrawn") {
  Story story(begun("Red", Method::growing_on, lines({{"8-10", 5}})));
  story.add(sold(lines({{"8-10", 2}})));
  Correction undo;
  undo.target = fact_key(story.last());
  story.add(undo);
  CHECK(story.bulbs().sold == 0);
  Correction undo_undo;
  undo_undo.target = fact_key(story.last());
  story.add(undo_undo);
  CHECK(story.bulbs().sold == 2);
}

TEST_CASE("a replaced fact counts as what replaced it, at its own time") {
  Story story(begun("Red", Method::growing_on, lines({{"8-10", 5}})));
  story.add(sold(lines({{"8-10", 2}})));
  Correction replace;
  replace.target = fact_key(story.last());
  replace.replacement = encode(sold(lines({{"8-10", 3}})));
  story.add(replace);
  CHECK(story.bulbs().sold == 3);
}

TEST_CASE("a bare day's beginnings come before its moments, its other facts after them") {
  Entry moment_entry, bare_potted, bare_lost;
  moment_entry.when = when("2026-03-02T00:00:00+01:00");
  moment_entry.kind = static_cast<std::uint16_t>(Kind::lost);
  bare_potted.when = when("2026-03-02");
  bare_potted.kind = static_cast<std::uint16_t>(Kind::potted);
  bare_lost.when = when("2026-03-02");
  bare_lost.kind = static_cast<std::uint16_t>(Kind::lost);
  CHECK(order_of(bare_potted, 0) < order_of(moment_entry, 0));
  moment_entry.when = when("2026-03-02T23:59:59+01:00");
  CHECK(order_of(moment_entry, 0) < order_of(bare_lost, 0));
  moment_entry.when = when("2026-03-03T00:00:00+01:00");
  CHECK(order_of(bare_lost, 0) < order_of(moment_entry, 0));
}

TEST_CASE("combining moves what waits into another batch of the clone, pieces and bulbs") {
  Story from(begun("Red", Method::growing_on, lines({{"8-10", 5}})));
  Combined combined;
  combined.into.bytes[0] = 9;
  combined.lines = lines({{"8-10", 3}});
  from.add(combined);
  CHECK(from.bulbs().there == 2);
  CHECK(from.bulbs().taken == 3);
  Story into(begun("Red", Method::growing_on, lines({{"8-10", 1}})));
  Link link;
  link.order.at = INT64_MAX;
  link.fact.bytes[0] = 3;
  link.arrives = true;
  link.lines = combined.lines;
  into.link(link);
  CHECK(into.bulbs().there == 4);
}

TEST_CASE("stage follows what was recorded last of the pot or of its batch") {
  Story story(begun("Red", Method::chipping, lines({{"26-28", 1}}), 8));
  story.add(pieces_potted(4), 1);
  const auto stage = [&story](std::int32_t pot) {
    const FoldedStory now = story.folded();
    return stage_of(now.batch, now.pots.at(pot));
  };
  CHECK(stage(1) == Stage::forming);
  story.add(unpotted(lines({{"2-4", 9}}), 4), 1);
  CHECK(stage(1) == Stage::emptied);
  story.add(bulbs_potted(lines({{"2-4", 9}})), 2);
  CHECK(stage(2) == Stage::growing);
  story.add(DriedOff{});
  CHECK(stage(2) == Stage::drying_off);
  story.add(Started{}, 2);
  CHECK(stage(2) == Stage::started);
  story.add(Repotted{}, 2);
  CHECK(stage(2) == Stage::growing);
}
