// Reckoning beside the screens, as a page's second worker does it: the job and the answer go as bytes, the screen lives
// meanwhile, and what comes of it is what the book gives when asked at once.

#include <doctest/doctest.h>

#include "app/reckoning_codec.hpp"
#include "tests/ahead_house.hpp"
#include "tests/app/headless.hpp"

namespace motherbulb {
namespace {

using Sent = std::vector<std::uint8_t>;

using make::AheadHouse;

Day today(AheadHouse& house) {
  return local_day(moment(house.host.now_ms(), house.host.offset_minutes(house.host.now_ms())));
}

ReckonWatch patient() {
  return {[](double) { return true; }, [](std::int64_t) {}, [] { return std::int64_t{0}; }};
}

// The worker: holds what it was handed until it is told to go on.
struct Worker {
  Worker(AheadHouse& of, bool hurries) : house(of), can_hurry(hurries) {}
  AheadHouse& house;
  std::optional<Sent> job;
  int begun = 0, stopped = 0, hurried = 0;
  bool can_hurry;

  Surroundings around() {
    Surroundings around = surroundings_of<NearbyFiles>(house.book->path());
    around.start_reckoning = [this](const ReckonJob& given) {
      ++begun;
      job = encode_job(given);
    };
    around.stop_reckoning = [this] {
      ++stopped;
      job.reset();
    };
    if (can_hurry) around.hurry_reckoning = [this] { ++hurried; };
    return around;
  }
  // In a book of its own, as it would lie in the worker: closed and opened again from its files. From a share of the
  // work on it is told to end.
  Sent answer(double until = 2) {
    const ReckonJob wanted = make::must(decode_job(*job));
    job.reset();
    make::Folder folder;
    house.book->rest();
    for (const char* end : {"", "-wal"}) {
      const std::string from = house.book->path() + end;
      if (std::filesystem::exists(from)) std::filesystem::copy(from, folder.file(std::string("house.book") + end));
    }
    FakeHost host;
    OpenWish wish;
    wish.read_only = true;
    const auto book = make::must(Logbook::open(folder.file("house.book"), wish, host));
    ReckonWatch watch = patient();
    watch.go_on = [until](double share) { return share < until; };
    return encode_answer(reckon(wanted.asks_book() ? book.get() : nullptr, wanted, watch));
  }
};

void scroll_to(headless::Screen& screen, const std::string& name) {
  for (int i = 0; i < 60 && (screen.app.touch().find(name) == nullptr || !screen.app.touch().find(name)->whole); ++i) {
    Touch wheel;
    wheel.kind = Touch::Kind::wheel;
    wheel.at = {screen.width() * 0.4F, screen.height() * 0.6F};
    wheel.wheel = -2;
    wheel.time_ms = screen.now_ms();
    screen.pass(30);
    screen.feed(wheel);
    screen.frame();
  }
}

bool says(headless::Screen& screen, const std::string& words) {
  screen.app.fonts().keep_log(true);
  screen.frame();
  const auto written = screen.app.fonts().written();
  return std::any_of(written.begin(), written.end(), [&](const auto& one) { return one.words == words; });
}

void open_clone(headless::Screen& screen, const std::string& clone) {
  REQUIRE(screen.tap("bar:start"));
  scroll_to(screen, "link:outlook");
  REQUIRE(screen.tap("link:outlook"));
  scroll_to(screen, "ahead:" + clone + ":Hippeastrum");
  REQUIRE(screen.tap("ahead:" + clone + ":Hippeastrum"));
  screen.frame();  // asks for what it does not know
  screen.frame();
}

// The screen of the clone, which is being reckoned by the worker.
struct BeingReckoned {
  explicit BeingReckoned(bool can_hurry = false) : worker{house, can_hurry} {
    open_clone(screen, house.clone);
    REQUIRE(worker.job);
  }

  AheadHouse house;
  Worker worker;
  headless::Screen screen{*house.book, house.host, {"Runa", {}}, 1280, 800, worker.around()};
  const OutlookDraft& draft = screen.app.ui().outlook;
};

}  // namespace

TEST_CASE("a job and its answer are the same after the way as bytes") {
  AheadHouse house;
  for (const Reckon::What what : {Reckon::What::outlook, Reckon::What::season_plan, Reckon::What::yields}) {
    CAPTURE(static_cast<int>(what));
    ReckonJob job{what, house.clone, today(house), {}, nullptr};
    job.wish.target = 0;
    job.wish.seasons = 3;
    job.wish.pots = {40};
    const ReckonAnswer answer = make::must(reckon(house.book.get(), job, patient()));
    const Sent bytes = encode_answer(answer);
    const ReckonAnswer again = make::must(decode_answer(bytes));
    CHECK(encode_answer(again) == bytes);
    CHECK(again.picture.index() == static_cast<std::size_t>(what));
    CHECK(again.target == answer.target);
    CHECK((answer.target > 0) == (what == Reckon::What::season_plan));
    if (what == Reckon::What::season_plan) {
      job.clones = std::get<std::shared_ptr<const PlanPicture>>(answer.picture)->clones;
      const ReckonJob known = make::must(decode_job(encode_job(job)));
      CHECK_FALSE(known.asks_book());
      CHECK(encode_answer(reckon(nullptr, known, patient())) == bytes);
    }
    // Any end that is missing, and anything behind it, is refused.
    for (const std::size_t left : {std::size_t{0}, std::size_t{1}, bytes.size() / 2, bytes.size() - 1}) {
      const auto cut = decode_answer({bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(left)});
      REQUIRE_FALSE(cut);
      CHECK(cut.error().kind == ErrorKind::failed);
    }
    Sent more = bytes;
    more.push_back(0);
    CHECK_FALSE(decode_answer(more));
  }
  const auto refused =
      decode_answer(encode_answer(Error{ErrorKind::missing, "no such clone; look at the list", {"x"}}));
  REQUIRE_FALSE(refused);
  CHECK(refused.error().kind == ErrorKind::missing);
  CHECK(refused.error().what == "no such clone; look at the list");
  CHECK(refused.error().further.size() == 1);
}

TEST_CASE("the screen lives while it is reckoned elsewhere, and shows what comes of it") {
  BeingReckoned asked;
  auto& [house, worker, screen, draft] = asked;
  CHECK_FALSE(draft.ahead.picture);
  REQUIRE(screen.app.touch().find("work:stop") != nullptr);
  screen.app.reckoning_goes_on(0.4, 0);
  screen.frame();
  CHECK(says(screen, "40 % done"));
  // The same as the book says when it is asked here.
  const Sent answer = worker.answer();
  screen.app.reckoned(decode_answer(answer));
  screen.frame();
  REQUIRE(draft.ahead.picture);
  CHECK(encode_answer(ReckonAnswer{draft.ahead.picture, 0}) ==
        encode_answer(ReckonAnswer{std::make_shared<const OutlookPicture>(make::must(look_ahead(
                                       *house.book, house.clone, today(house), [](double) { return true; }))),
                                   0}));
  // The plan is begun by the screen itself, from what is known by now; it goes on beside.
  screen.frame();
  REQUIRE(worker.job);
  CHECK_FALSE(make::must(decode_job(*worker.job)).asks_book());
  REQUIRE(draft.working);
  screen.app.reckoned(decode_answer(worker.answer()));
  screen.frame();
  CHECK_FALSE(draft.working);
  REQUIRE(draft.planned.picture);
  CHECK(draft.planned.made_for.target > 0);
  CHECK(worker.stopped == 0);
}

TEST_CASE("Stop ends what is reckoned elsewhere; what comes of it all the same is not taken") {
  BeingReckoned asked;
  auto& [house, worker, screen, draft] = asked;
  const Sent late = worker.answer();
  REQUIRE(screen.tap("work:stop"));
  CHECK(worker.stopped == 1);
  CHECK(draft.ahead.stopped);
  screen.app.reckoned(decode_answer(late));
  screen.frame();
  CHECK_FALSE(draft.ahead.picture);
  // Asked for again, and refused there: said in words, and the way back is open.
  screen.frame();
  REQUIRE(screen.tap("again"));
  CHECK(worker.begun == 2);
  screen.app.reckoned(Error{ErrorKind::failed, "it could not be reckoned here; try again", {}});
  screen.frame();
  REQUIRE(screen.app.ui().trouble);
  CHECK(screen.app.ui().trouble->words.find("could not be reckoned") != std::string::npos);
  // The device's own way back stops it too.
  REQUIRE(screen.tap("again"));
  CHECK(worker.begun == 3);
  CHECK(screen.app.step_back());
  screen.frame();
  CHECK(worker.stopped == 2);
}

TEST_CASE("a plan that is stopped elsewhere answers with what it has by then, or is given up after a while") {
  for (const bool answers : {true, false}) {
    CAPTURE(answers);
    BeingReckoned asked(true);
    auto& [house, worker, screen, draft] = asked;
    screen.app.reckoned(decode_answer(worker.answer()));
    screen.frame();
    screen.frame();
    REQUIRE(draft.working);
    const Sent answer = worker.answer(0.36);  // while the plan is walked through chance
    scroll_to(screen, "plan:stop");
    REQUIRE(screen.tap("plan:stop"));
    screen.frame();
    CHECK(worker.hurried == 1);
    CHECK(worker.stopped == 0);
    REQUIRE(draft.working);
    if (answers) {
      screen.app.reckoned(decode_answer(answer));
      screen.frame();
      REQUIRE(draft.planned.picture);
      CHECK(draft.planned.picture->plan.plan.stopped);
      CHECK(draft.planned.picture->plan.plan.feasible);
      CHECK_FALSE(draft.planned.picture->plan.chance);
      CHECK(says(screen, "Stopped: the best found by then, without its chance."));
      CHECK_FALSE(says(screen, "They stand there already."));
    } else {
      const int wait = screen.app.wait_ms(screen.now_ms());
      CHECK(wait > 0);
      CHECK(wait <= 15'000);
      screen.pass(wait);
      CHECK(screen.app.idle(screen.now_ms()));
      screen.frame();
      CHECK(worker.stopped == 1);
      CHECK(draft.planned.stopped);
    }
    CHECK(worker.hurried == 1);
    CHECK_FALSE(draft.working);
  }
}

TEST_CASE("whoever leaves, or wants something else, while a plan is worked out elsewhere gives it up") {
  BeingReckoned asked;
  auto& [house, worker, screen, draft] = asked;
  screen.app.reckoned(decode_answer(worker.answer()));
  screen.frame();
  screen.frame();
  REQUIRE(draft.working);
  const std::int64_t target = draft.working->wanted.target;
  REQUIRE(screen.tap("target:more"));
  screen.frame();
  CHECK(worker.stopped == 1);
  REQUIRE(draft.working);
  CHECK(draft.working->wanted.target == next_target(target, true));
  REQUIRE(screen.tap("bar:pots"));
  screen.frame();
  CHECK(worker.stopped == 2);
  CHECK_FALSE(draft.working);
  CHECK(screen.app.ui().screen == motherbulb::Screen::pots);
}

TEST_CASE(
    "a backup dropped while an outlook or a plan is reckoned elsewhere ends that, and it can be asked for again") {
  for (const bool plan : {false, true}) {
    CAPTURE(plan);
    BeingReckoned asked;
    auto& [house, worker, screen, draft] = asked;
    if (plan) {
      screen.app.reckoned(decode_answer(worker.answer()));
      screen.frame();
      screen.frame();
      REQUIRE(draft.working);
    }
    const int begun = worker.begun;
    const make::Folder folder;
    make::must(house.book->backup(folder.file("latest.book")));
    screen.app.take_dropped(folder.file("latest.book"));
    screen.frame();
    CHECK(worker.stopped == 1);
    CHECK_FALSE(draft.working);
    CHECK(screen.app.ui().screen == motherbulb::Screen::merge);
    CHECK(screen.app.ui().merge.backups.size() == 1);
    // What comes all the same is nobody's.
    screen.app.reckoned(Error{ErrorKind::failed, "it could not be reckoned here; try again", {}});
    screen.frame();
    CHECK_FALSE(screen.app.ui().trouble);
    open_clone(screen, house.clone);
    if (!plan && screen.app.touch().find("again") != nullptr) {
      REQUIRE(screen.tap("again"));
      screen.frame();
    }
    CHECK(worker.begun == begun + 1);
  }
}

}  // namespace motherbulb
