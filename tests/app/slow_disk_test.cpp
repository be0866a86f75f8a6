// A device whose disk answers later: nothing is said to be kept, and nothing else is taken up, before it has.

#include <doctest/doctest.h>

#include "tests/app/headless.hpp"
#include "tests/make.hpp"
#include "tests/small_book.hpp"

using namespace motherbulb;

namespace {

// A window that nobody sees: what happens to it is put in by the test.
struct QuietWindow {
  enum class Kind { press, move, release, cancel, wheel, key, text, drop, redraw, quit };
  struct Input {
    Kind kind = Kind::redraw;
    std::int64_t pointer = 0;
    float x = 0, y = 0;
    double time_ms = 0;
    float wheel = 0;
    int key = 0;
    std::string text;
  };
  std::vector<Input> coming;
  double now = 1000;
  std::vector<Input> wait(int most_ms) {
    if (coming.empty()) now += most_ms > 0 ? most_ms : 1;
    return std::exchange(coming, {});
  }
  [[nodiscard]] double now_ms() const { return now; }
  [[nodiscard]] int width_px() const { return 1280; }
  [[nodiscard]] int height_px() const { return 800; }
  [[nodiscard]] float density() const { return 1; }
  void begin_frame() const {
    ImGui::GetIO().DisplaySize = {1280, 800};
    ImGui::GetIO().DeltaTime = 0.016F;
    ImGui::NewFrame();
  }
  void show_frame(std::uint32_t) const { ImGui::EndFrame(); }
  void drop_frame() const { ImGui::EndFrame(); }
  void fonts_changed() const { headless::take_fonts(); }
};

struct Context {
  Context() : context(ImGui::CreateContext()) { ImGui::GetIO().IniFilename = nullptr; }
  ~Context() { ImGui::DestroyContext(context); }
  Context(const Context&) = delete;
  Context& operator=(const Context&) = delete;
  ImGuiContext* context;
};

// The book, a disk that answers when told, and the app on them.
struct Slow {
  explicit Slow(const AppWish& wish = {"Runa", {}}) {
    book = make::new_book(folder.file("house.book"), host);
    make::write_small_day(*book, host);
    Surroundings around;
    around.safety = [this] { return answer; };
    around.take_back = [this] {
      ++taken_back;
      std::filesystem::copy_file(folder.file("before"), folder.file("house.book"),
                                 std::filesystem::copy_options::overwrite_existing);
      std::filesystem::remove(folder.file("house.book-wal"));
      answer = {};
      return Outcome(Done{});
    };
    app = std::make_unique<App>(*book, host, around, wish);
    session = std::make_unique<Session<QuietWindow>>(*app, window, fonts());
    settle();
    book->rest();
    std::filesystem::copy_file(folder.file("house.book"), folder.file("before"));
  }
  static std::string fonts() {
    const char* given = std::getenv("MOTHERBULB_BUILD_DIR");
    return std::string(given != nullptr ? given : ".") + "/assets/fonts";
  }
  void settle() {
    for (int i = 0; i < 12; ++i) session->step(0);
  }
  void put_tap(const std::string& name) {
    const Target* target = app->touch().find(name);
    REQUIRE_MESSAGE(target != nullptr, name);
    window.now += 200;
    put_tap(target->rect.middle());
  }
  void put_tap(Point at) {
    QuietWindow::Input input;
    input.pointer = 1;
    input.x = at.x;
    input.y = at.y;
    input.time_ms = window.now;
    input.kind = QuietWindow::Kind::press;
    window.coming.push_back(input);
    input.kind = QuietWindow::Kind::release;
    input.time_ms += 40;
    window.coming.push_back(input);
    window.now += 60;
  }
  void tap(const std::string& name) {
    put_tap(name);
    settle();
  }

  Context context;
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book;
  Safety answer;
  int taken_back = 0;
  QuietWindow window;
  std::unique_ptr<App> app;
  std::unique_ptr<Session<QuietWindow>> session;
};

// A pot on the bench with three bulbs counted; "keep" is next.
void count_a_pot(Slow& slow) {
  slow.tap("bar:unpot");
  for (const std::string beginning : {"batch:", "pot:"}) {
    if (slow.app->ui().screen == Screen::unpot) break;
    const std::vector<Target> targets = slow.app->touch().targets();
    const auto found = std::find_if(targets.begin(), targets.end(),
                                    [&](const Target& target) { return target.name.rfind(beginning, 0) == 0; });
    REQUIRE_MESSAGE(found != targets.end(), beginning);
    slow.tap(found->name);
  }
  REQUIRE(slow.app->ui().screen == Screen::unpot);
  slow.tap("pad:3");
  REQUIRE(slow.app->ui().unpot.total() == 3);
}

}  // namespace

TEST_CASE("the slip comes with the disk's answer, and no touch is taken up before it") {
  Slow slow;
  count_a_pot(slow);
  slow.answer = {Safety::State::on_its_way, ""};
  const std::int64_t before = slow.book->entry_count();
  // Keep, and at once again and on the next screen's keys: a hand is quicker than a disk.
  slow.put_tap("keep");
  slow.put_tap("keep");
  slow.settle();
  CHECK(slow.book->entry_count() == before + 1);
  CHECK(slow.app->awaits_disk());
  CHECK_FALSE(slow.app->ui().kept.has_value());
  CHECK(slow.app->ui().unpot.total() == 3);
  CHECK(slow.session->patience() > 0);  // nothing to do but to wait
  slow.put_tap("bar:start");
  slow.settle();
  CHECK(slow.app->ui().screen == Screen::unpot);
  slow.answer = {};
  slow.settle();
  CHECK_FALSE(slow.app->awaits_disk());
  REQUIRE(slow.app->ui().kept.has_value());
  CHECK(slow.book->entry_count() == before + 1);  // the second tap met an empty count, which keeps nothing unasked
}

TEST_CASE("a disk that takes its time is seen to be at work: a sign stands where the slip will") {
  for (const Safety& answer : {Safety{}, Safety{Safety::State::failed, "There is no more room. Clear some"}}) {
    Slow slow;
    count_a_pot(slow);
    slow.answer = {Safety::State::on_its_way, ""};
    slow.tap("keep");
    CHECK_FALSE(slow.app->ui().keeping);
    const int patience = slow.session->patience();
    CHECK(patience > 0);
    CHECK(patience <= 500);
    slow.window.now += patience;
    slow.settle();
    CHECK(slow.app->ui().keeping);
    CHECK(slow.session->patience() == -1);  // it stands there; nothing more is drawn
    CHECK_FALSE(slow.app->ui().kept.has_value());
    slow.answer = answer;
    slow.settle();
    CHECK_FALSE(slow.app->ui().keeping);
    CHECK(slow.app->ui().kept.has_value() == (answer.state == Safety::State::safe));
    CHECK(slow.app->ui().trouble.has_value() == (answer.state == Safety::State::failed));
  }
}

TEST_CASE("what is pressed by name, and a file dropped, wait for the disk too") {
  Slow slow;
  count_a_pot(slow);
  slow.answer = {Safety::State::on_its_way, ""};
  const std::int64_t before = slow.book->entry_count();
  slow.tap("keep");
  slow.app->touch().press_by_name("keep");
  QuietWindow::Input dropped;
  dropped.kind = QuietWindow::Kind::drop;
  dropped.text = slow.folder.file("nothing.parcel");
  slow.session->put(dropped);
  slow.session->ask_for_frame();
  slow.settle();
  CHECK(slow.app->touch().has_unanswered());
  CHECK(slow.app->ui().unpot.asked.empty());  // nor was it asked whether a second count is meant
  CHECK(slow.book->entry_count() == before + 1);
  CHECK(slow.app->ui().screen == Screen::unpot);
  CHECK(slow.app->ui().unpot.total() == 3);
  slow.answer = {};
  slow.settle();
  CHECK(slow.app->ui().kept.has_value());
  CHECK(slow.book->entry_count() == before + 1);
}

TEST_CASE("what the disk could not keep is not in the book, and the draft is still there to be kept again") {
  Slow slow;
  count_a_pot(slow);
  const std::int64_t before = slow.book->entry_count();
  const std::string digest = slow.book->digest();
  slow.answer = {Safety::State::on_its_way, ""};
  slow.tap("keep");
  CHECK(slow.book->entry_count() == before + 1);
  slow.answer = {Safety::State::failed, "There is no more room. Clear some"};
  slow.settle();
  CHECK(slow.taken_back == 1);
  CHECK(slow.book->entry_count() == before);
  CHECK(slow.book->digest() == digest);
  CHECK_FALSE(slow.app->ui().kept.has_value());
  REQUIRE(slow.app->ui().trouble.has_value());
  CHECK(slow.app->ui().trouble->words.find("There is no more room") == 0);
  CHECK(slow.app->ui().unpot.total() == 3);
  slow.tap("keep");
  CHECK(slow.book->entry_count() == before + 1);
  CHECK(slow.app->ui().kept.has_value());
  CHECK_FALSE(slow.app->ui().trouble.has_value());
}

TEST_CASE("undo too waits for the disk") {
  Slow slow;
  count_a_pot(slow);
  slow.tap("keep");
  REQUIRE(slow.app->ui().kept.has_value());
  const std::string words = slow.app->ui().kept->words;
  slow.answer = {Safety::State::on_its_way, ""};
  slow.tap("undo");
  CHECK(slow.app->awaits_disk());
  CHECK(slow.app->ui().kept->words == words);
  slow.answer = {};
  slow.settle();
  CHECK(slow.app->ui().kept->words != words);
}
