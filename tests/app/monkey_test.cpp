// A monkey with the tablet: taps, drags, keys, palms, turned windows, other themes, parcels from another device, for as
// long as it likes. Nothing breaks, no screen holds it, no entry that was kept is lost.

#include <doctest/doctest.h>

#include <set>
#include <string>
#include <vector>

#include "core/demo.hpp"
#include "platform/files.hpp"
#include "tests/app/headless.hpp"
#include "tests/form.hpp"
#include "tests/make.hpp"

namespace motherbulb {
namespace {

constexpr std::pair<float, float> sizes[] = {{360, 740}, {800, 1280}, {1280, 800}, {1440, 900}, {640, 560}, {400, 640}};

class Monkey {
public:
  explicit Monkey(std::uint64_t seed)
      : chance_(seed),
        host_(1, 1'794'476'400'000),
        other_host_(2, 1'794'476'400'000),
        book_(open_demo()),
        other_(make::new_book(other_folder_.file("other.book"), other_host_, "X")),
        screen_(*book_, host_, {"Ines", {}}, 1280, 800) {
    // Long work is stopped soon, but for one in ten: what is reckoned is tested elsewhere, and takes most of the time.
    screen_.app.set_breathe([this](double share) {
      if (share <= done_) waits_ = chance_.one_in(10);
      done_ = share;
      return waits_ || chance_.below(4) != 0;
    });
  }

  void step() {
    const std::int64_t entries_before = book_->entry_count();
    const std::uint64_t kept_before = kept_mark();
    act();
    screen_.pass(static_cast<double>(chance_.between(10, 400)));
    host_.advance(chance_.between(10, 4000));
    CAPTURE(last_);
    CHECK(book_->entry_count() >= entries_before);
    const auto& kept = screen_.app.ui().kept;
    if (kept && kept_mark() != kept_before) {
      // What the slip calls kept stands in the book.
      for (const Receipt& receipt : kept->receipts) {
        CHECK(receipt.kept);
        CHECK(stands_in_book(receipt));
      }
    }
  }

  // Wherever it is, some way leads to the start screen.
  void get_out() {
    for (int i = 0; i < 40 && screen_.app.ui().screen != motherbulb::Screen::start; ++i) {
      if (screen_.tap("bar:start")) continue;
      screen_.key(Key::escape);
    }
    CAPTURE(last_);
    CHECK(screen_.app.ui().screen == motherbulb::Screen::start);
  }

  void finish() {
    const CheckReport report = make::must(book_->check());
    CHECK(report.folded_equal);
    CHECK(report.chains_ok);
    for (const std::string& fault : report.faults) CHECK_MESSAGE(fault.empty(), fault);
  }

  [[nodiscard]] std::int64_t entries() const { return book_->entry_count(); }
  [[nodiscard]] const std::set<int>& screens() const { return seen_; }

private:
  std::unique_ptr<Logbook> open_demo() {
    make::must(write_demo(folder_.file("demo.book"), *day_from_civil({2026, 11, 12}), host_));
    return make::open_book(folder_.file("demo.book"), host_);
  }

  [[nodiscard]] std::uint64_t kept_mark() const {
    const auto& kept = screen_.app.ui().kept;
    return kept && !kept->receipts.empty() ? kept->receipts.front().id.seq + 1 : 0;
  }
  [[nodiscard]] bool stands_in_book(const Receipt& receipt) const {
    for (const StoryLine& line : book_->story(receipt.batch)) {
      if (line.entry.id == receipt.id) return true;
    }
    return false;
  }

  void act() {
    seen_.insert(static_cast<int>(screen_.app.ui().screen));
    const auto dice = chance_.below(100);
    if (dice < 62) {
      tap_something();
    } else if (dice < 70) {
      drag();
    } else if (dice < 76) {
      const Point at = anywhere();
      last_ = "a tap on nothing in particular";
      screen_.tap(at);
    } else if (dice < 84) {
      static constexpr Key keys[] = {Key::enter, Key::escape, Key::backspace, Key::tab,      Key::back_tab,
                                     Key::up,    Key::down,   Key::page_up,   Key::page_down};
      last_ = "a key";
      screen_.key(keys[chance_.below(std::size(keys))]);
    } else if (dice < 89) {
      last_ = "a letter";
      screen_.type(static_cast<char>(chance_.between(32, 126)));
    } else if (dice < 92) {
      const auto& [width, height] = sizes[chance_.below(std::size(sizes))];
      last_ = "another size";
      screen_.resize(width, height);
      screen_.frame();
    } else if (dice < 95) {
      palm();
    } else if (dice < 96) {
      parcel_comes();
    } else if (dice < 97) {
      // Somebody merged meanwhile, or counted the pot that is open here.
      last_ = "the book changes behind the screen's back";
      change_behind();
      screen_.frame();
    } else {
      last_ = "time passes";
      screen_.pass(static_cast<double>(chance_.between(1, 40) * 60'000));
      screen_.app.idle(screen_.now_ms());
      screen_.frame();
    }
  }

  void tap_something() {
    const std::vector<Target> targets = screen_.app.touch().targets();
    if (targets.empty()) return;
    const Target& target = targets[chance_.below(targets.size())];
    last_ = target.name;
    screen_.tap(Point{target.rect.x + target.rect.w * static_cast<float>(chance_.between(1, 99)) / 100,
                      target.rect.y + target.rect.h * static_cast<float>(chance_.between(1, 99)) / 100});
  }

  void drag() {
    last_ = "a drag";
    Point at = anywhere();
    screen_.finger(Touch::Kind::press, at);
    const Point to = anywhere();
    for (int i = 0; i < 6; ++i) {
      screen_.pass(12);
      at = {at.x + (to.x - at.x) / 3, at.y + (to.y - at.y) / 3};
      screen_.finger(Touch::Kind::move, at);
    }
    screen_.finger(chance_.one_in(8) ? Touch::Kind::cancel : Touch::Kind::release, at);
    for (int i = 0; i < 4; ++i) {
      screen_.pass(16);
      screen_.frame();
    }
  }

  void palm() {
    last_ = "a palm";
    for (int i = 1; i <= 3; ++i) screen_.finger(Touch::Kind::press, anywhere(), i);
    screen_.pass(50);
    for (int i = 1; i <= 3; ++i) screen_.finger(Touch::Kind::release, anywhere(), i);
    screen_.frame();
  }

  void parcel_comes() {
    last_ = "a parcel comes";
    other_host_.advance_minutes(1);
    if (!other_batch_ || chance_.one_in(6)) {
      other_batch_ = make::begin_batch(*other_, "Tirna Red", 1, 8, "Bo");
      make::tap(*other_, *other_batch_, 1, make::pieces_potted(8, "Skerry House, bench 2, no. 70"), "Bo");
    }
    make::tap(*other_, *other_batch_, 1, make::looked(chance_.between(0, 9)), "Bo");
    const std::vector<std::uint8_t> bytes = make::parcel(*other_);
    const std::string file = folder_.file("bo.parcel");
    auto sink = make::must(FileSink::create(file));
    make::must(sink->write(bytes.data(), bytes.size()));
    make::must(sink->commit());
    if (chance_.one_in(3)) screen_.app.take_dropped(file);
    if (chance_.one_in(20)) screen_.app.take_dropped(folder_.file("not there.parcel"));
    screen_.frame();
  }

  void change_behind() {
    const auto rows = book_->pots(false);
    if (rows.empty()) return;
    const PotRow& row = rows[chance_.below(rows.size())];
    Record record = make::record(row.batch.id, row.pot.pot.number, Watered{}, "Bo");
    if (chance_.one_in(2) && row.pot.filled && !row.pot.emptied)
      record.fact = make::unpotted(make::lines({{"2-4", 2}}));
    (void)book_->run(record);
  }

  Point anywhere() {
    return {static_cast<float>(chance_.between(0, static_cast<std::int64_t>(screen_.width()) - 1)),
            static_cast<float>(chance_.between(0, static_cast<std::int64_t>(screen_.height()) - 1))};
  }

  Chance chance_;
  make::Folder folder_, other_folder_;
  FakeHost host_, other_host_;
  std::unique_ptr<Logbook> book_, other_;
  std::optional<BatchId> other_batch_;
  headless::Screen screen_;
  std::string last_;
  std::set<int> seen_;
  double done_ = 0;  // of the long work that goes on
  bool waits_ = false;
};

}  // namespace

TEST_CASE("a monkey breaks nothing, is held by no screen, and loses no entry") {
  const std::uint64_t seed = make::seed();
  MESSAGE("seed " << seed);
  CAPTURE(seed);
  const int events = make::short_or_long(20'000, 20'000'000);
  Monkey monkey(seed);
  const std::int64_t entries = monkey.entries();
  for (int i = 0; i < events; ++i) {
    CAPTURE(i);
    monkey.step();
    if (i % 250 == 249) monkey.get_out();
  }
  monkey.finish();
  // It really worked: it wrote into the book, and was on every screen.
  CHECK(monkey.entries() > entries + 100);
  CHECK(monkey.screens().size() >= 17);
}

}  // namespace motherbulb
