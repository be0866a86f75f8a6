// A parcel of what the book already has is gone through quickly, and yet nothing damaged passes.
#include <doctest/doctest.h>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

struct Two {
  FakeHost first_host{1};
  FakeHost second_host{2};
  std::unique_ptr<Logbook> first = make::new_book(":memory:", first_host, "A");
  std::unique_ptr<Logbook> second = make::new_book(":memory:", second_host, "B");
};

}  // namespace

TEST_CASE("a parcel of what is known brings nothing, is counted as known, and changes nothing") {
  Two books;
  make::write_small_day(*books.first, books.first_host);
  make::write_small_day(*books.second, books.second_host, "Tomas");
  const std::vector<std::uint8_t> parcel = make::parcel(*books.first);
  const MergeReport once = make::merge(*books.second, parcel);
  CHECK(once.new_entries == books.first->entry_count());
  const std::string digest = books.second->digest();
  const MergeReport again = make::merge(*books.second, parcel);
  CHECK(again.new_entries == 0);
  CHECK(again.known == books.first->entry_count());
  CHECK(again.parked == 0);
  CHECK(books.second->digest() == digest);
  CHECK(make::must(books.second->check()).faults.empty());
}

TEST_CASE("a parcel of what is known and of one entry more brings that one") {
  Two books;
  make::write_small_day(*books.first, books.first_host);
  books.second_host.set_now(books.first_host.now_ms());  // no clock is found wrong, which would be an entry
  make::merge(*books.second, make::parcel(*books.first));
  const std::int64_t known = books.first->entry_count();
  make::tap(*books.first, BatchId{}, 0, Note{"one more"});
  const MergeReport report = make::merge(*books.second, make::parcel(*books.first));
  CHECK(report.new_entries == 1);
  CHECK(report.known == known);
  CHECK(books.second->digest() == books.first->digest());
}

TEST_CASE("a damaged parcel is refused also where all of it is known") {
  Two books;
  make::write_small_day(*books.first, books.first_host);
  const std::vector<std::uint8_t> parcel = make::parcel(*books.first);
  make::merge(*books.second, parcel);
  const std::string digest = books.second->digest();
  for (std::size_t at = 0; at < parcel.size(); ++at) {
    std::vector<std::uint8_t> damaged = parcel;
    damaged[at] ^= static_cast<std::uint8_t>(1 << at % 8);
    MemorySource source(damaged);
    CHECK_FALSE(books.second->merge({&source}).ok());
  }
  CHECK(books.second->digest() == digest);
}
