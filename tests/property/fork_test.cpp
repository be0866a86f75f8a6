// Forks: a store that was put back or copied, on a device that cannot tell, goes on numbering where another already
// did, so that one id comes to have two contents. Neither may be lost, overwritten or counted before a person has
// settled it, and every book must come to the same, whichever side it met first.
#include <doctest/doctest.h>

#include <memory>
#include <string>
#include <vector>

#include "tests/faults/power_vfs.hpp"
#include "tests/form.hpp"
#include "tests/make.hpp"
#include "tests/picture.hpp"
#include "tests/property/random_work.hpp"

namespace motherbulb {
namespace {

using make::must;

// A device that keeps no number apart from its store and knows no machine: it can find no copy.
class UnknowingHost : public FakeHost {
public:
  using FakeHost::FakeHost;
  std::string store_token(const std::string&) override { return ""; }
  std::uint64_t highest_sequence(const WriterId&) override { return 0; }
  void keep_highest_sequence(const WriterId&, std::uint64_t) override {}
};

bool has_fork(const Logbook& book) {
  for (const Matter& matter : book.matters()) {
    if (matter.kind == MatterKind::fork) return true;
  }
  return false;
}

std::size_t ids_with_two_contents(Logbook& book) {
  std::size_t twice = 0;
  const auto entries = make::entries_in(book);
  for (auto at = entries.begin(); at != entries.end(); at = entries.upper_bound(at->first)) {
    if (entries.count(at->first) > 1) ++twice;
  }
  return twice;
}

struct Forked {
  UnknowingHost left_host{1}, right_host{1};
  std::unique_ptr<Logbook> left, right;
  BatchId batch;

  // Both stores begin as copies of one, and go on by themselves.
  explicit Forked(faults::Disk& disk) {
    auto book = make::new_book(faults::place("left"), left_host, "A");
    batch = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 20}}));
    make::tap(*book, batch, 1, make::bulbs_potted(make::lines({{"8-10", 20}})));
    book.reset();
    const auto from = disk.find(faults::place("left"));
    REQUIRE(from != nullptr);
    disk.write(*disk.make(faults::place("right"), false), from->bytes.data(), from->bytes.size(), 0);
    left = make::open_book(faults::place("left"), left_host);
    right = make::open_book(faults::place("right"), right_host);
    left_host.advance_minutes(10);
    right_host.advance_minutes(12);
  }
};

TEST_CASE("one id with two contents: both are kept, neither counts, and both books raise it and agree") {
  faults::Disk disk;
  const faults::UnderSqlite under(disk);
  Forked forked(disk);
  make::tap(*forked.left, forked.batch, 1, Sold{make::lines({{"8-10", 3}}), 300, ""});
  make::tap(*forked.right, forked.batch, 1, Sold{make::lines({{"8-10", 5}}), 500, ""}, "Iven");
  const auto of_left = make::parcel(*forked.left), of_right = make::parcel(*forked.right);
  make::merge(*forked.left, of_right);
  make::merge(*forked.right, of_left);
  for (Logbook* book : {forked.left.get(), forked.right.get()}) {
    CHECK(has_fork(*book));
    CHECK(ids_with_two_contents(*book) == 1);
    // Neither sale counts: all twenty are there.
    REQUIRE(book->stock().rows.size() == 1);
    CHECK(book->stock().rows.front().bulbs == 20);
    const CheckReport report = must(book->check());
    CHECK(report.folded_equal);
    CHECK(report.chains_ok);
  }
  CHECK(make::difference(*forked.left, *forked.right) == "");
  // A third book comes to the same whichever side it meets first.
  FakeHost host(5);
  host.set_now(forked.left_host.now_ms());
  const auto left_first = make::new_book(faults::place("left first"), host),
             right_first = make::new_book(faults::place("right first"), host);
  make::merge(*left_first, of_left);
  make::merge(*left_first, of_right);
  make::merge(*right_first, of_right);
  make::merge(*right_first, of_left);
  CHECK(make::difference(*left_first, *right_first) == "");
  CHECK(make::difference(*left_first, *forked.left) == "");
}

TEST_CASE("a fork that is settled counts as it was settled, in every book") {
  for (const Take take : {Take::first, Take::second, Take::both}) {
    CAPTURE(static_cast<int>(take));
    faults::Disk disk;
    const faults::UnderSqlite under(disk);
    Forked forked(disk);
    make::tap(*forked.left, forked.batch, 1, Sold{make::lines({{"8-10", 3}}), 300, ""});
    make::tap(*forked.right, forked.batch, 1, Sold{make::lines({{"8-10", 5}}), 500, ""}, "Iven");
    make::merge(*forked.left, make::parcel(*forked.right));
    make::merge(*forked.right, make::parcel(*forked.left));
    Matter fork;
    for (const Matter& matter : forked.left->matters()) {
      if (matter.kind == MatterKind::fork) fork = matter;
    }
    REQUIRE(fork.kind == MatterKind::fork);
    const bool first_is_left = fork.first.helper == "Runa";
    must(forked.left->run(Settle{"Osk", fork.id, take}));
    make::merge(*forked.right, make::parcel(*forked.left));
    const std::int64_t sold = take == Take::both ? 8 : (take == Take::first) == first_is_left ? 3 : 5;
    for (const Logbook* book : {forked.left.get(), forked.right.get()}) {
      CHECK(!has_fork(*book));
      REQUIRE(book->stock().rows.size() == 1);
      CHECK(book->stock().rows.front().bulbs == 20 - sold);
    }
    CHECK(make::difference(*forked.left, *forked.right) == "");
  }
}

TEST_CASE("a fork shows even where nothing new is sent") {
  faults::Disk disk;
  const faults::UnderSqlite under(disk);
  Forked forked(disk);
  make::tap(*forked.left, forked.batch, 1, Sold{make::lines({{"8-10", 3}}), 300, ""});
  make::tap(*forked.right, forked.batch, 1, Sold{make::lines({{"8-10", 5}}), 500, ""}, "Iven");
  // A parcel for the other's vector: as far as numbers go the other knows it all, but the hashes tell.
  const std::vector<Known> known = forked.left->vector();
  make::merge(*forked.left, make::parcel(*forked.right, &known));
  CHECK(has_fork(*forked.left));
}

TEST_CASE("forks by chance: longer ones, on several copies, met in any order") {
  const std::uint64_t first = make::seed();
  const std::uint64_t wanted = make::short_or_long<std::uint64_t>(150, 20'000);
  std::size_t twice = 0;
  for (std::uint64_t seed = first; seed < first + wanted; ++seed) {
    INFO("MOTHERBULB_SEED=" << seed);
    Chance chance(seed);
    faults::Disk disk({}, seed);
    disk.write_down(false);
    const faults::UnderSqlite under(disk);
    UnknowingHost hosts[3] = {UnknowingHost(1), UnknowingHost(1), UnknowingHost(1)};
    std::unique_ptr<Logbook> books[3];
    make::Model common;
    books[0] = make::new_book(faults::place("book0"), hosts[0]);
    for (std::int64_t acts = chance.between(1, 6); acts > 0; --acts) make::random_act(*books[0], chance, common);
    books[0].reset();
    const auto from = disk.find(faults::place("book0"));
    for (int i = 1; i < 3; ++i) {
      disk.write(*disk.make(faults::place("book" + std::to_string(i)), false), from->bytes.data(), from->bytes.size(),
                 0);
    }
    for (int i = 0; i < 3; ++i) {
      make::Model own;  // ids repeat between the copies, as they do in a fork
      books[i] = make::open_book(faults::place("book" + std::to_string(i)), hosts[i]);
      for (std::int64_t acts = chance.between(0, 6); acts > 0; --acts) {
        hosts[i].advance(chance.between(1, 60'000));
        make::random_act(*books[i], chance, own);
      }
    }
    for (int round = 0; round < 3; ++round) {
      for (int i = 0; i < 3; ++i) {
        for (const int j : {(i + 1 + static_cast<int>(chance.below(2))) % 3, (i + 1) % 3, (i + 2) % 3}) {
          if (j != i) make::merge(*books[i], make::parcel(*books[j]));
        }
      }
    }
    const std::string picture = make::picture(*books[0]);
    REQUIRE(make::difference(make::picture(*books[1]), picture) == "");
    REQUIRE(make::difference(make::picture(*books[2]), picture) == "");
    REQUIRE(make::entries_in(*books[1]) == make::entries_in(*books[0]));
    const std::size_t here = ids_with_two_contents(*books[0]);
    if (here > 0) REQUIRE(has_fork(*books[0]));
    twice += here;
    const CheckReport report = must(books[0]->check());
    REQUIRE(report.folded_equal);
    REQUIRE(report.chains_ok);
  }
  MESSAGE(wanted << " times from seed " << first << ", " << twice << " ids with two contents");
  CHECK(twice > 20);
}

}  // namespace
}  // namespace motherbulb
