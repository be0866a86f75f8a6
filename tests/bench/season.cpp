#include "tests/bench/season.hpp"

#include <cstdio>
#include <memory>
#include <utility>
#include <vector>

#include "platform/files.hpp"
#include "shared/parcel.hpp"
#include "tests/bench/measure.hpp"
#include "tests/fake_host.hpp"

namespace motherbulb::bench {
namespace {

constexpr std::int64_t minute = 60'000;
const char* const helpers[] = {"Runa", "Iven", "Osk"};
const char* const clones[] = {"Tirna Red", "Skarn Blue", "Vell 7", "Long Meadow", "Hollin", "Pale Kestrel"};

// One device's entries, handed out one after the other in the order of their sequence.
class Season {
public:
  Season(std::uint64_t number, std::int64_t from_ms, std::int64_t step_ms)
      : chance_(number), now_ms_(from_ms), step_ms_(step_ms) {
    for (std::size_t i = 0; i < 16; ++i) id_.bytes[i] = static_cast<std::uint8_t>(chance_.next() >> 32);
    head_ = first_hash(id_);
  }
  // Some of the work is in these batches, which another device began.
  void work_in(std::vector<BatchId> batches) { others_ = std::move(batches); }
  const std::vector<BatchId>& begun() const { return begun_; }
  const WriterId& id() const { return id_; }
  const Hash& head() const { return head_; }
  std::uint64_t last() const { return last_; }

  // A batch is some sixty entries: begun, twelve pots potted, looks and waterings, a few losses; pots 1 to 6 unpotted.
  const Entry& next() {
    const std::uint64_t at = last_ % 60;
    Payload fact;
    std::int32_t pot = static_cast<std::int32_t>(at % 12) + 1;
    BatchId batch = batch_;
    if (at == 0) {
      Begun begins;
      begins.clone = clones[chance_.below(6)];
      begins.genus = "Hippeastrum";
      begins.method = Method::chipping;
      begins.mothers = {Line{Grade{200, 220}, 6, Cause::unknown, "", ""}};
      begins.sections = 16;
      begins.blade = Blade::per_bulb;
      fact = begins;
      batch = {};
      pot = 0;
    } else if (at <= 12) {
      fact = Potted{Unit::pieces,
                    {Line{std::nullopt, 8, Cause::unknown, "", ""}},
                    "house " + std::to_string(1 + chance_.below(3)) + ", bench " + std::to_string(1 + chance_.below(9)),
                    ""};
    } else if (at < 48 || at >= 54) {
      if (!others_.empty() && chance_.one_in(8)) {
        batch = others_[chance_.below(others_.size())];
        fact = Watered{};
      } else if (chance_.one_in(12)) {
        fact = Lost{{Line{std::nullopt, 1, Cause::rot, "", ""}}, ""};
      } else if (chance_.one_in(2)) {
        Looked looks;
        looks.shoots = static_cast<std::int64_t>(chance_.below(8));
        looks.moisture = Moisture::damp;
        fact = looks;
      } else {
        fact = Watered{};
      }
    } else {
      fact = Unpotted{{Line{Grade{-1, 20}, static_cast<std::int64_t>(chance_.below(4)), Cause::unknown, "", ""},
                       Line{Grade{20, 40}, static_cast<std::int64_t>(chance_.below(4)), Cause::unknown, "", ""}},
                      6,
                      {},
                      ""};
    }
    return finish(fact, batch, at == 0 ? 0 : pot);
  }
  // In known batches only.
  const Entry& next_in_others() {
    Looked looks;
    looks.shoots = static_cast<std::int64_t>(chance_.below(8));
    return finish(looks, others_[chance_.below(others_.size())], static_cast<std::int32_t>(7 + chance_.below(6)));
  }

private:
  const Entry& finish(const Payload& fact, const BatchId& batch, std::int32_t pot) {
    // Irregular, as people tap.
    now_ms_ += step_ms_ / 4 + static_cast<std::int64_t>(chance_.below(static_cast<std::uint64_t>(step_ms_ * 3 / 2)));
    stamp_ = next_stamp(stamp_, now_ms_);
    entry_.id = EntryId{id_, ++last_};
    entry_.stamp = stamp_;
    entry_.when = moment(now_ms_, 60);
    entry_.helper = helpers[chance_.below(3)];
    entry_.batch = batch;
    entry_.pot = pot;
    entry_.kind = kind_number(fact);
    entry_.payload = encode(fact);
    body_.clear();
    append_canonical_body(entry_, body_);
    head_ = entry_hash(head_, body_);
    if (entry_.kind == static_cast<std::uint16_t>(Kind::begun)) {
      batch_ = batch_of(fact_key(entry_));
      begun_.push_back(batch_);
    }
    return entry_;
  }
  Chance chance_;
  WriterId id_;
  std::int64_t now_ms_, step_ms_;
  Stamp stamp_;
  std::uint64_t last_ = 0;
  Hash head_;
  BatchId batch_;
  std::vector<BatchId> begun_, others_;
  Entry entry_;
  ByteString body_;
};

void write_run(ParcelWriter& writer, Season& season, std::uint64_t count) {
  writer.begin_run(season.id(), season.last() + 1, season.head());
  for (std::uint64_t i = 0; i < count; ++i) must(writer.add(season.next()));
  must(writer.end_run(season.head()));
}

}  // namespace

void BenchHost::random(std::uint8_t* out, std::size_t count) {
  static Chance chance(static_cast<std::uint64_t>(getpid()));
  for (std::size_t i = 0; i < count; ++i) out[i] = static_cast<std::uint8_t>(chance.next() >> 32);
}

void write_season(const SeasonWish& wish) {
  const std::uint64_t half = wish.entries / 2;
  // The season ends when the host's clock stands; the common half lies before the others'.
  const std::int64_t step = minute;
  const std::int64_t from = BenchHost::season_end_ms - static_cast<std::int64_t>(wish.entries + 4000) * step;
  const std::int64_t middle = from + static_cast<std::int64_t>(half) * step;
  std::vector<BatchId> known;
  Known common_known;
  for (const bool is_left : {true, false}) {
    const auto sink = must(FileSink::create(is_left ? wish.left : wish.right));
    Season common(11, from, step), own(is_left ? 22 : 33, middle, step);
    ParcelWriter writer(*sink, ParcelHead{own.id(), BenchHost::season_end_ms});
    write_run(writer, common, half);
    known = common.begun();
    common_known = {common.id(), common.last(), common.head()};
    own.work_in(known);
    write_run(writer, own, half);
    std::vector<Known> vector = {common_known, {own.id(), own.last(), own.head()}};
    must(writer.finish(vector));
    must(sink->commit());
  }
  Season further(44, BenchHost::season_end_ms - 60 * minute, 2000);
  further.work_in(known);
  for (int i = 0; i < wish.hundred_count; ++i) {
    const auto sink = must(FileSink::create(wish.hundreds + std::to_string(i)));
    ParcelWriter writer(*sink, ParcelHead{further.id(), BenchHost::season_end_ms});
    writer.begin_run(further.id(), further.last() + 1, further.head());
    for (int n = 0; n < 100; ++n) must(writer.add(further.next_in_others()));
    must(writer.end_run(further.head()));
    must(writer.finish({common_known, {further.id(), further.last(), further.head()}}));
    must(sink->commit());
  }
}

void write_table(const std::string& file, std::uint64_t rows) {
  std::FILE* out = std::fopen(file.c_str(), "wb");
  if (out == nullptr) stop("cannot write " + file);
  std::fputs("when,helper,event,clone,genus,batch,pot,parent,method,sections,grade,count,cause,place,note\n", out);
  Chance chance(5);
  const std::int64_t from = BenchHost::season_end_ms - static_cast<std::int64_t>(rows + 1000) * minute;
  unsigned long long batch = 0;
  std::string clone;
  for (std::uint64_t row = 0; row < rows; ++row) {
    const std::uint64_t at = row % 60;
    if (at == 0) {
      ++batch;
      clone = clones[chance.below(6)];
    }
    const std::string when = to_text(moment(from + static_cast<std::int64_t>(row) * minute, 60));
    const char* helper = helpers[chance.below(3)];
    const auto pot = static_cast<unsigned>(at % 12 + 1);
    if (at == 0) {
      std::fprintf(out, "%s,%s,begun,%s,Hippeastrum,M%llu,,,chipping,16,20-22,6,,,\n", when.c_str(), helper,
                   clone.c_str(), batch);
    } else if (at <= 12) {
      std::fprintf(out, "%s,%s,potted,,,M%llu,%u,,,,,8,,\"house %u, bench %u\",\n", when.c_str(), helper, batch, pot,
                   static_cast<unsigned>(1 + chance.below(3)), static_cast<unsigned>(1 + chance.below(9)));
    } else if (at < 48 || at >= 54) {
      if (chance.one_in(12)) {
        std::fprintf(out, "%s,%s,lost,,,M%llu,%u,,,,,1,rot,,\n", when.c_str(), helper, batch, pot);
      } else if (chance.one_in(2)) {
        std::fprintf(out, "%s,%s,looked,,,M%llu,%u,,,,,%u,,,\n", when.c_str(), helper, batch, pot,
                     static_cast<unsigned>(chance.below(8)));
      } else {
        std::fprintf(out, "%s,%s,watered,,,M%llu,%u,,,,,,,,\n", when.c_str(), helper, batch, pot);
      }
    } else {
      std::fprintf(out, "%s,%s,unpotted,,,M%llu,%u,,,,2-4,%u,,,\n", when.c_str(), helper, batch, pot,
                   static_cast<unsigned>(chance.below(5)));
    }
  }
  if (std::fclose(out) != 0) stop("cannot write " + file);
}

}  // namespace motherbulb::bench
