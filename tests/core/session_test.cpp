// Several wishes as one, where later ones speak of the batch that an earlier one begins: a cutting session and its
// pots.

#include <doctest/doctest.h>

#include "core/logbook.hpp"
#include "tests/make.hpp"

namespace motherbulb {
namespace {

Record potting(std::int32_t pot, std::int64_t pieces, std::size_t begun_by = 0) {
  Record wish = make::record(BatchId{}, pot, make::pieces_potted(pieces, "bench 1, no. " + std::to_string(pot)));
  wish.begun_by = begun_by;
  return wish;
}

// 2 mothers chipped into 8, in four pots of four.
std::vector<Command> session() {
  std::vector<Command> wishes{
      make::record(BatchId{}, 0, make::begun("Tirna Red", Method::chipping, make::lines({{"26-28", 2}}), 8))};
  for (std::int32_t pot = 1; pot <= 4; ++pot) wishes.emplace_back(potting(pot, 4));
  return wishes;
}

}  // namespace

TEST_CASE("a session and its pots are kept as one: the pots go into the batch that it begins") {
  make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("a.book"), host, "B");
  const std::string proposed = book->proposed_label(2026);
  CHECK(book->proposed_label(2026) == proposed);  // asking gives none away
  const std::vector<Receipt> receipts = make::must(book->run_all(session()));
  REQUIRE(receipts.size() == 5);
  const BatchId batch = receipts[0].batch;
  for (const Receipt& receipt : receipts) {
    CHECK(receipt.kept);
    CHECK(receipt.batch == batch);
  }
  CHECK(book->batch(batch)->label == proposed);
  CHECK(book->proposed_label(2026) != proposed);
  CHECK(book->batch(batch)->pieces_waiting == 0);
  CHECK(book->batch(batch)->pieces_overpotted == 0);
  CHECK(book->batch(batch)->highest_pot == 4);
  for (std::int32_t pot = 1; pot <= 4; ++pot) {
    CHECK(book->pot({batch, pot})->pieces == 4);
    CHECK(book->pot({batch, pot})->place == "bench 1, no. " + std::to_string(pot));
  }
  const CheckReport report = make::must(book->check());
  CHECK(report.folded_equal);
  CHECK(report.chains_ok);
}

TEST_CASE("a later wish that is refused leaves nothing of the session, and its label is still free") {
  make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("a.book"), host, "B");
  make::write_small_day(*book, host);
  const std::int64_t entries = book->entry_count();
  const std::string digest = book->digest();
  const std::string proposed = book->proposed_label(2026);
  std::vector<Command> wishes = session();
  Record wrong = potting(0, 4);  // a potting needs its pot
  wishes.emplace_back(wrong);
  const auto answer = book->run_all(wishes);
  REQUIRE_FALSE(answer);
  CHECK(answer.error().what.find("needs its pot") != std::string::npos);
  CHECK(book->entry_count() == entries);
  CHECK(book->digest() == digest);
  CHECK(book->batches_by_label(proposed).empty());
  CHECK(book->proposed_label(2026) == proposed);
  // The next one goes through, under that label.
  const std::vector<Receipt> receipts = make::must(book->run_all(session()));
  CHECK(book->batch(receipts[0].batch)->label == proposed);
}

TEST_CASE("later wishes see the batch as those before them left it") {
  make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("a.book"), host, "B");
  std::vector<Command> wishes = session();
  Record hold = make::record(BatchId{}, 2, Held{"looks sick"});
  hold.begun_by = 0;
  wishes.emplace_back(hold);
  Record move = make::record(BatchId{}, 2, Moved{"bench 9", ""});
  move.begun_by = 0;
  wishes.emplace_back(move);
  // The pot is there by then, and on hold: it may not be moved.
  const auto answer = book->run_all(wishes);
  REQUIRE_FALSE(answer);
  CHECK(answer.error().what.find("is on hold") != std::string::npos);
  CHECK(book->entry_count() == 0);
  // Two sessions at once: each pot goes into its own batch.
  std::vector<Command> two = session();
  two.emplace_back(
      make::record(BatchId{}, 0, make::begun("Skarn Blue", Method::growing_on, make::lines({{"8-10", 3}}))));
  Record bulbs = make::record(BatchId{}, 1, make::bulbs_potted(make::lines({{"8-10", 3}})));
  bulbs.begun_by = 5;
  two.emplace_back(bulbs);
  const std::vector<Receipt> receipts = make::must(book->run_all(two));
  CHECK(receipts[6].batch == receipts[5].batch);
  CHECK(receipts[6].batch != receipts[0].batch);
  CHECK(total(book->pot({receipts[5].batch, 1})->bulbs) == 3);
}

TEST_CASE("another device reads the session as it was kept, and undone as it was undone") {
  make::Folder folder;
  FakeHost host;
  FakeHost other_host{2};
  const auto book = make::new_book(folder.file("a.book"), host, "B");
  const auto other = make::new_book(folder.file("b.book"), other_host, "C");
  const std::vector<Receipt> receipts = make::must(book->run_all(session()));
  make::merge(*other, make::parcel(*book));
  CHECK(other->digest() == book->digest());
  const BatchId batch = receipts[0].batch;
  REQUIRE(other->batch(batch).has_value());
  CHECK(other->batch(batch)->label == book->batch(batch)->label);
  CHECK(other->pots_of(batch).size() == 4);

  std::vector<Command> back;
  for (auto it = receipts.rbegin(); it != receipts.rend(); ++it) {
    back.emplace_back(TakeBack{"Runa", it->batch, it->fact, "undone where it was made"});
  }
  make::must(book->run_all(back));
  make::merge(*other, make::parcel(*book));
  CHECK(other->digest() == book->digest());
  for (const Logbook* one : {book.get(), other.get()}) {
    const std::optional<BatchState> state = one->batch(batch);
    CHECK((!state || !state->begun));
    CHECK(one->pots(false).empty());
    CHECK(one->stock().balance.empty());
  }
}

}  // namespace motherbulb
