// The algebra of merging (R2): A+B = B+A, (A+B)+C = A+(B+C), A+A = A, by all that a book shows and by the entries that
// it hands on, byte for byte. Among the entries are kinds of a version to come.
#include <doctest/doctest.h>

#include <map>
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
using ParcelBytes = std::vector<std::uint8_t>;

struct Content {
  std::string picture;
  std::multimap<EntryId, ByteString> entries;
  friend bool operator==(const Content& a, const Content& b) {
    return a.picture == b.picture && a.entries == b.entries;
  }
};

class Triple {
public:
  explicit Triple(std::uint64_t seed) : chance_(seed), seed_(seed) {
    // A day that all three know, then a day of each.
    ParcelBytes common = day({}, 3);
    for (ParcelBytes& own : own_) own = day(common, static_cast<std::int64_t>(chance_.below(14)));
  }
  const ParcelBytes& operator[](std::size_t i) const { return own_[i]; }

  // A book that took these in, one after the other.
  std::unique_ptr<Logbook> sum(const std::vector<ParcelBytes>& parcels) {
    auto book = make::new_book(faults::place("sum" + std::to_string(++made_)), looker_);
    for (const ParcelBytes& bytes : parcels) make::merge(*book, bytes);
    return book;
  }
  static Content content(Logbook& book) { return {make::picture(book), make::entries_in(book)}; }
  std::size_t from_newer() const { return from_newer_; }

private:
  ParcelBytes day(const ParcelBytes& before, std::int64_t acts) {
    FakeHost host(seed_ * 64 + static_cast<std::uint64_t>(++made_),
                  FakeHost::monday_ms + chance_.between(-9'000, 9'000));
    const auto book = make::new_book(faults::place("day" + std::to_string(made_)), host);
    if (!before.empty()) make::merge(*book, before);
    for (std::int64_t i = 0; i < acts; ++i) {
      host.advance(chance_.between(1, 9'000'000));
      make::random_act(*book, chance_, model_);
      if (chance_.one_in(10)) {
        Entry newer;
        newer.when = moment(host.now_ms(), 60);
        newer.helper = "Iven";
        newer.kind = static_cast<std::uint16_t>(500 + chance_.below(3));
        for (std::uint64_t byte = chance_.below(40); byte > 0; --byte) {
          newer.payload.push_back(static_cast<std::uint8_t>(chance_.next()));
        }
        must(book->append({newer}));
        ++from_newer_;
      }
    }
    // Clocks are not what is looked at here: all parcels are written when they are read.
    host.set_now(FakeHost::monday_ms + 9'000'000 * 30);
    looker_.set_now(host.now_ms());
    return make::parcel(*book);
  }

  Chance chance_;
  std::uint64_t seed_;
  faults::Disk disk_;
  faults::UnderSqlite under_{disk_};
  FakeHost looker_{99};
  make::Model model_;
  int made_ = 0;
  std::size_t from_newer_ = 0;
  ParcelBytes own_[3];
};

TEST_CASE("merging is commutative, associative and idempotent, byte for byte") {
  const std::uint64_t first = make::seed();
  const std::uint64_t wanted = make::short_or_long<std::uint64_t>(1'000, 100'000);
  const std::size_t least = 50;
  const make::Patience patience(make::short_or_long(35.0, 4 * 3600.0), least);
  std::size_t done = 0, from_newer = 0, entries = 0;
  for (; done < wanted && patience.left(done); ++done) {
    INFO("MOTHERBULB_SEED=" << first + done);
    Triple triple(first + done);
    const ParcelBytes &a = triple[0], &b = triple[1], &c = triple[2];

    const auto a_b = triple.sum({a, b});
    const Content of_a_b = Triple::content(*a_b);
    REQUIRE(of_a_b == Triple::content(*triple.sum({b, a})));

    const auto a_a = triple.sum({a});
    const Content of_a = Triple::content(*a_a);
    const MergeReport again = make::merge(*a_a, a);
    REQUIRE(again.new_entries == 0);
    REQUIRE(again.matters == 0);
    REQUIRE(of_a == Triple::content(*a_a));

    make::merge(*a_b, c);
    const Content of_all = Triple::content(*a_b);
    const auto b_c = triple.sum({b, c});
    REQUIRE(of_all == Triple::content(*triple.sum({a, make::parcel(*b_c)})));
    REQUIRE(of_all == Triple::content(*triple.sum({c, b, a})));
    make::merge(*b_c, make::parcel(*a_b));
    REQUIRE(of_all == Triple::content(*b_c));
    from_newer += triple.from_newer();
    entries += of_all.entries.size();
  }
  MESSAGE(done << " triples of " << wanted << " from seed " << first << ", " << entries << " entries, " << from_newer
               << " of kinds to come");
  CHECK(done >= least);
  CHECK(from_newer > 0);
}

}  // namespace
}  // namespace motherbulb
