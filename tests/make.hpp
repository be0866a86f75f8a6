// Tiny books and the pieces they are made of. All names in them are invented.
#pragma once

#include <doctest/doctest.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <initializer_list>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/logbook.hpp"
#include "shared/entry.hpp"
#include "tests/fake_host.hpp"

namespace motherbulb::make {

// A folder of the test's own, gone with it.
class Folder {
public:
  Folder() {
    static std::atomic<int> made{0};
    const auto ticks = std::chrono::steady_clock::now().time_since_epoch().count();
    path_ =
        std::filesystem::temp_directory_path() / ("motherbulb-" + std::to_string(ticks) + "-" + std::to_string(++made));
    std::filesystem::create_directories(path_);
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string file(const std::string& name) const { return (path_ / name).string(); }

private:
  std::filesystem::path path_;
};

// The value, or the test stops and says why there is none.
template <class T>
T must(Result<T> result) {
  if (!result) FAIL("not granted: " << result.error().what);
  return std::move(*result);
}
inline void must(const Outcome& outcome) {
  if (!outcome) FAIL("not granted: " << outcome.error().what);
}

// ------------------------------------------------------------------------------------------------ values

// The date as in "2026-03-01".
inline Day day(const char* text) {
  const std::optional<Day> read = day_from_text(text);
  if (!read) FAIL("no day: " << text);
  return *read;
}
inline BatchId batch_id(std::uint8_t number) {
  BatchId id;
  id.bytes[15] = number;
  return id;
}
inline Grade grade(const std::string& text) {
  const std::optional<Grade> read = grade_from_text(text);
  if (!read) FAIL("no grade: " << text);
  return *read;
}
// {{"2-4", 3}, {"", 1}}: three of that grade, one that nobody sized.
inline Lines lines(std::initializer_list<std::pair<const char*, std::int64_t>> counts) {
  Lines made;
  for (const auto& [text, count] : counts) {
    Line line;
    if (*text != '\0') line.grade = grade(text);
    line.count = count;
    made.push_back(line);
  }
  return made;
}
inline Lines lines(std::int64_t count) {
  return lines({{"", count}});
}
inline Lines dead(Cause cause, std::int64_t count) {
  Line line;
  line.count = count;
  line.cause = cause;
  return {line};
}
inline When when(const std::string& text) {
  const std::optional<When> read = when_from_text(text, 60);
  if (!read) FAIL("no moment: " << text);
  return *read;
}
// Writer 1, 2, 3 …: the number stands in its last bytes, so that writers sort by it.
inline WriterId writer(std::uint64_t number) {
  WriterId made;
  for (std::size_t i = 0; i < 8; ++i) made.bytes[15 - i] = static_cast<std::uint8_t>(number >> (8 * i));
  return made;
}

// ------------------------------------------------------------------------------------------------ entries, without a
// store

// A device that writes entries: sequences count up, its clock goes one minute an entry.
class Device {
public:
  explicit Device(std::uint64_t number, std::int64_t now_ms = FakeHost::monday_ms)
      : writer_(writer(number)), now_ms_(now_ms) {}
  Entry entry(const Payload& fact, const BatchId& batch = {}, std::int32_t pot = 0,
              const std::string& helper = "Runa") {
    now_ms_ += 60'000;
    stamp_ = next_stamp(stamp_, now_ms_);
    Entry made;
    made.id = EntryId{writer_, ++last_};
    made.stamp = stamp_;
    made.when = moment(now_ms_, 60);
    made.helper = helper;
    made.batch = batch;
    made.pot = pot;
    made.kind = kind_number(fact);
    made.payload = encode(fact);
    return made;
  }
  void set_now(std::int64_t now_ms) { now_ms_ = now_ms; }
  const WriterId& id() const { return writer_; }

private:
  WriterId writer_;
  std::int64_t now_ms_;
  Stamp stamp_;
  std::uint64_t last_ = 0;
};

inline Begun begun(const std::string& clone, Method method, Lines mothers, std::int32_t sections = 0) {
  Begun fact;
  fact.clone = clone;
  fact.genus = "Hippeastrum";
  fact.method = method;
  fact.mothers = std::move(mothers);
  fact.sections = sections;
  return fact;
}
inline Potted pieces_potted(std::int64_t count, const std::string& place = "") {
  return Potted{Unit::pieces, lines(count), place, ""};
}
inline Potted bulbs_potted(Lines counted, const std::string& place = "") {
  return Potted{Unit::bulbs, std::move(counted), place, ""};
}
inline Unpotted unpotted(Lines counted, std::optional<std::int64_t> alive = std::nullopt, Lines found_dead = {}) {
  return Unpotted{std::move(counted), alive, std::move(found_dead), ""};
}
inline Lost lost(Cause cause, std::int64_t count) {
  return Lost{dead(cause, count), ""};
}
inline Looked looked(std::int64_t shoots) {
  Looked fact;
  fact.shoots = shoots;
  return fact;
}

// ------------------------------------------------------------------------------------------------ books

inline std::unique_ptr<Logbook> new_book(const std::string& path, Host& host, const std::string& letter = "") {
  OpenWish wish;
  wish.create = true;
  wish.must_be_new = true;
  wish.letter = letter;
  return must(Logbook::open(path, wish, host));
}
inline std::unique_ptr<Logbook> open_book(const std::string& path, Host& host) {
  return must(Logbook::open(path, OpenWish{}, host));
}

inline Record record(const BatchId& batch, std::int32_t pot, Payload fact, const std::string& helper = "Runa") {
  Record wish;
  wish.helper = helper;
  wish.batch = batch;
  wish.pot = pot;
  wish.fact = std::move(fact);
  wish.sure = true;
  return wish;
}
inline Receipt tap(Logbook& book, const BatchId& batch, std::int32_t pot, Payload fact,
                   const std::string& helper = "Runa") {
  return must(book.run(record(batch, pot, std::move(fact), helper)));
}
// A batch of this clone under the device's next label: `mothers` chipped into `sections` each.
inline BatchId begin_batch(Logbook& book, const std::string& clone, std::int64_t mothers, std::int32_t sections,
                           const std::string& helper = "Runa") {
  Begun fact = begun(clone, Method::chipping, lines({{"20-22", mothers}}), sections);
  fact.label = book.next_label(2026);
  return tap(book, BatchId{}, 0, fact, helper).batch;
}
// A batch of bulbs that are not cut.
inline BatchId begin_bulbs(Logbook& book, const std::string& clone, Lines bulbs, const std::string& helper = "Runa") {
  Begun fact = begun(clone, Method::growing_on, std::move(bulbs));
  fact.label = book.next_label(2026);
  return tap(book, BatchId{}, 0, fact, helper).batch;
}

inline std::vector<std::uint8_t> parcel(Logbook& book, const std::vector<Known>* known_there = nullptr) {
  MemorySink sink;
  must(book.write_parcel(sink, known_there));
  return sink.bytes();
}
inline MergeReport merge(Logbook& into, const std::vector<std::vector<std::uint8_t>>& parcels) {
  std::vector<MemorySource> sources;
  sources.reserve(parcels.size());
  for (const auto& bytes : parcels) sources.emplace_back(bytes);
  std::vector<ByteSource*> wanted;
  for (MemorySource& source : sources) wanted.push_back(&source);
  return must(into.merge(wanted));
}
inline MergeReport merge(Logbook& into, const std::vector<std::uint8_t>& bytes) {
  return merge(into, std::vector<std::vector<std::uint8_t>>{bytes});
}

// One small day: two clones, a batch of pieces in three pots with a loss and an unpotting, a batch of bulbs in one
// pot of which some are sold. Minutes pass between taps. 11 entries.
inline void write_small_day(Logbook& book, FakeHost& host, const std::string& helper = "Runa") {
  const auto then = [&host] { host.advance_minutes(3); };
  const BatchId chips = begin_batch(book, "Tirna Red", 2, 8, helper);
  then(), tap(book, chips, 1, pieces_potted(6, "house 1, bench 2"), helper);
  then(), tap(book, chips, 2, pieces_potted(6, "house 1, bench 2"), helper);
  then(), tap(book, chips, 3, pieces_potted(4, "house 1, bench 3"), helper);
  then(), tap(book, chips, 2, lost(Cause::rot, 1), helper);
  then(), tap(book, chips, 1, looked(4), helper);
  then(), tap(book, chips, 1, unpotted(lines({{"-2", 3}, {"2-4", 2}}), 5, dead(Cause::rot, 1)), helper);
  then();
  const BatchId bulbs = begin_bulbs(book, "Skarn Blue", lines({{"8-10", 5}}), helper);
  then(), tap(book, bulbs, 1, bulbs_potted(lines({{"8-10", 5}}), "house 2, bench 1"), helper);
  then(), tap(book, bulbs, 1, Sold{lines({{"8-10", 2}}), 1200, ""}, helper);
  then(), tap(book, bulbs, 1, Watered{}, helper);
}

}  // namespace motherbulb::make
