#include "core/demo.hpp"

#include <algorithm>
#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "core/command.hpp"
#include "core/demo/chance.hpp"
#include "core/demo/file.hpp"
#include "core/demo/season.hpp"
#include "core/logbook.hpp"

namespace motherbulb {
namespace {

using demo::Act;
using demo::Device;
using demo::device_count;
using demo::What;

// Bo's tablet: found a little fast on the last evening, which Ines lets pass; set that night, and set wrong.
constexpr std::int64_t evening_ahead_ms = 3 * 60'000, morning_ahead_ms = 47 * 60'000;

// A device as the demo needs it: a clock that is set, random bits from the day and the device. Its stores have a token
// that no real device gives, so that a real one takes the book for a copy and begins a writer of its own.
class DemoHost : public Host {
public:
  DemoHost(Day on, int device)
      : chance_(0x9d2c5680u + static_cast<std::uint64_t>(on.days) * device_count + static_cast<std::uint64_t>(device)) {
  }
  void set_now(std::int64_t now_ms) { now_ms_ = now_ms; }

  std::int64_t now_ms() override { return now_ms_; }
  std::int32_t offset_minutes(std::int64_t) override { return demo::island_offset_minutes; }
  void random(std::uint8_t* out, std::size_t count) override {
    for (std::size_t i = 0; i < count; ++i) out[i] = static_cast<std::uint8_t>(chance_.next() >> 32);
  }
  std::string store_token(const std::string&) override { return "written by motherbulb demo"; }
  std::uint64_t highest_sequence(const WriterId& writer) override { return highest_[writer]; }
  void keep_highest_sequence(const WriterId& writer, std::uint64_t sequence) override {
    highest_[writer] = std::max(highest_[writer], sequence);
  }

private:
  std::int64_t now_ms_ = 0;
  demo::Chance chance_;
  std::map<WriterId, std::uint64_t> highest_;
};

// One helper's device and its book, kept in memory while the seasons are told.
class Tablet {
public:
  Tablet(Day on, int device) : host_(on, device), device_(demo::devices[device]) {}

  Outcome open(std::int64_t now_ms) {
    host_.set_now(now_ms);
    OpenWish wish;
    wish.create = true;
    wish.letter = device_.letter;
    auto opened = Logbook::open(":memory:", wish, host_);
    if (!opened) return opened.error();
    book_ = std::move(*opened);
    return Done{};
  }
  Logbook& book() { return *book_; }

  // From now on the clock runs so far ahead.
  void set_ahead(std::int64_t ms) { ahead_ms_ = ms; }
  void set_now(std::int64_t at_ms) { host_.set_now(at_ms + ahead_ms_); }

  Outcome take(const Act& act, std::vector<BatchId>& batches) {
    set_now(act.at_ms);
    const BatchId batch = act.batch < 0 ? BatchId{} : batches[static_cast<std::size_t>(act.batch)];
    if (act.what == What::take_back) {
      CHECK_OURS(last_);
      return run(TakeBack{helper(), last_->batch, last_->fact, "tapped on the wrong batch"});
    }
    if (act.what == What::settle_count) return settle(MatterKind::counted_twice, PotId{batch, act.pot}, Take::first);
    Record wish;
    wish.helper = helper();
    wish.pot = act.pot;
    wish.fact = act.fact;
    auto* begun = std::get_if<Begun>(&wish.fact);
    if (begun == nullptr) {
      wish.batch = batch;
    } else if (act.parent >= 0) {
      begun->parent = batches[static_cast<std::size_t>(act.parent)];
    }
    if (Outcome done = run(std::move(wish)); !done) return done;
    if (begun != nullptr) batches[static_cast<std::size_t>(act.batch)] = last_->batch;
    return Done{};
  }

  Outcome settle(MatterKind kind, const PotId& pot, Take take) {
    const std::vector<Matter> matters = book_->matters();
    const auto planted = std::find_if(matters.begin(), matters.end(),
                                      [&](const Matter& matter) { return matter.kind == kind && matter.pot == pot; });
    CHECK_OURS(planted != matters.end());
    return run(Settle{helper(), planted->id, take});
  }

  Result<std::vector<std::uint8_t>> parcel(const std::vector<Known>& known_there) {
    MemorySink sink;
    Outcome written = book_->write_parcel(sink, &known_there);
    if (!written) return written.error();
    return sink.bytes();
  }
  Outcome take_in(const std::vector<std::uint8_t>& parcel) {
    MemorySource source(parcel);
    auto merged = book_->merge({&source});
    if (!merged) return merged.error();
    return Done{};
  }

private:
  std::string helper() const { return std::string(device_.helper); }
  Outcome run(const Command& command) {
    auto receipt = book_->run(command);
    if (!receipt) return receipt.error();
    last_ = *receipt;
    return Done{};
  }

  DemoHost host_;
  demo::DeviceNames device_;
  std::unique_ptr<Logbook> book_;
  std::int64_t ahead_ms_ = 0;
  std::optional<Receipt> last_;
};

class Telling {
public:
  Telling(const std::string& store, Day on)
      : store_(store), season_(demo::tell(on)), tablets_{{{on, 0}, {on, 1}, {on, 2}}} {}

  Outcome tell() {
    const std::array<std::string, 2> parcels = demo_parcels(store_);
    for (const std::string& path : {store_, parcels[0], parcels[1]}) {
      if (demo::there_is(path)) {
        return refusal(path + " is there already; name another store, or move that file away");
      }
    }
    for (Tablet& tablet : tablets_) {
      if (Outcome opened = tablet.open(season_.acts.front().at_ms); !opened) return opened;
    }
    if (Outcome done = live(); !done) return done;
    return part(parcels);
  }

private:
  Outcome live() {
    std::vector<BatchId> batches(static_cast<std::size_t>(season_.batches));
    std::size_t evening = 0;
    for (const Act& act : season_.acts) {
      while (evening < season_.evenings.size() && season_.evenings[evening] <= act.at_ms) {
        const std::int64_t at_ms = season_.evenings[evening++];
        const bool last = evening == season_.evenings.size();
        if (Outcome done = merge_all(at_ms, last); !done) return done;
        if (!last) continue;
        known_at_dawn_ = tablets_[demo::ines].book().vector();
        tablets_[demo::bo].set_ahead(morning_ahead_ms);
      }
      if (Outcome done = tablets_[act.device].take(act, batches); !done) return done;
    }
    return Done{};
  }

  // In the evening the two bring their day to Ines, and take hers and each other's home.
  Outcome merge_all(std::int64_t at_ms, bool last) {
    for (Tablet& tablet : tablets_) tablet.set_now(at_ms);
    Tablet& main = tablets_[demo::ines];
    if (last) {
      Tablet& fast = tablets_[demo::bo];
      fast.set_ahead(evening_ahead_ms);
      fast.set_now(at_ms);
      if (Outcome done = bring(fast, main); !done) return done;
      fast.set_ahead(0);
      fast.set_now(at_ms);
      if (Outcome done = main.settle(MatterKind::clock, PotId{}, Take::second); !done) return done;
    }
    const auto same = [&](Tablet& helper) { return helper.book().digest() == main.book().digest(); };
    for (const Device device : {demo::bo, demo::marit}) {
      if (same(tablets_[device])) continue;
      if (Outcome done = bring(tablets_[device], main); !done) return done;
    }
    for (const Device device : {demo::bo, demo::marit}) {
      if (same(tablets_[device])) continue;
      if (Outcome done = bring(main, tablets_[device]); !done) return done;
    }
    return Done{};
  }

  static Outcome bring(Tablet& from, Tablet& to) {
    auto parcel = from.parcel(to.book().vector());
    if (!parcel) return parcel.error();
    return to.take_in(*parcel);
  }

  // The last day's work into its parcels, and the book to the disk. Marit takes Bo's parcel in at the bench before she
  // writes hers, so her tablet has measured how far his clock is off, and hers says so whenever it is merged. What he
  // did is in his alone.
  Outcome part(const std::array<std::string, 2>& names) {
    for (Tablet& tablet : tablets_) tablet.set_now(season_.parcels_ms);
    auto of_bo = tablets_[demo::bo].parcel(known_at_dawn_);
    if (!of_bo) return of_bo.error();
    if (Outcome done = tablets_[demo::marit].take_in(*of_bo); !done) return done;
    auto of_marit = tablets_[demo::marit].parcel(tablets_[demo::bo].book().vector());
    if (!of_marit) return of_marit.error();

    demo::Files written;
    const std::array<const std::vector<std::uint8_t>*, 2> parcels = {&*of_bo, &*of_marit};
    for (std::size_t i = 0; i < parcels.size(); ++i) {
      if (Outcome done = demo::write_file(names[i], *parcels[i]); !done) return done;
      written.add(names[i]);
    }
    if (Outcome done = tablets_[demo::ines].book().backup(store_); !done) return done;
    written.keep();
    return Done{};
  }

  std::string store_;
  demo::Season season_;
  std::vector<Known> known_at_dawn_;
  std::array<Tablet, device_count> tablets_;
};

}  // namespace

std::array<std::string, 2> demo_parcels(const std::string& store) {
  std::string stem = store;
  const std::size_t slash = stem.find_last_of('/'), dot = stem.find_last_of('.');
  if (dot != std::string::npos && dot != 0 && (slash == std::string::npos || dot > slash + 1)) stem.resize(dot);
  return {stem + "-bo.parcel", stem + "-marit.parcel"};
}

Outcome write_demo(const std::string& store, Day on, Host& host) {
  static_cast<void>(host);
  if (on < *day_from_civil({1975, 1, 1}) || *day_from_civil({2199, 12, 31}) < on) {
    return refusal("the demo cannot end on " + to_text(on) + ": give a day from 1975-01-01 to 2199-12-31");
  }
  return Telling(store, on).tell();
}

}  // namespace motherbulb
