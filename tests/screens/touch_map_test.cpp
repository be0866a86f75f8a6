// What is a tap and what is not: the touch map alone, with a clock of its own.

#include "app/touch_map.hpp"

#include <doctest/doctest.h>

#include <vector>

namespace motherbulb {
namespace {

constexpr Rect window{0, 0, 400, 800};

struct Surface {
  TouchMap map;
  double now = 1000;
  int acts = 0;
  int counts = 0;
  float scrolled = 0;

  // One frame: an act above, a count key beside it, and a panel of 100 rows below.
  void frame() {
    map.begin_frame(now, window);
    if (map.hit("act", {10, 10, 100, 60})) ++acts;
    if (map.hit("count", {150, 10, 100, 60}, true, TapKind::count)) ++counts;
    map.hit("not now", {280, 10, 100, 60}, false);
    scrolled = map.begin_scroll("panel", {0, 100, 400, 700}, 7000);
    for (int i = 0; i < 100; ++i) {
      if (map.hit("row " + std::to_string(i), {0, 100 - scrolled + static_cast<float>(i) * 70, 400, 62}))
        rows.push_back(i);
    }
    map.end_scroll();
    map.end_frame();
  }
  void at(Touch::Kind kind, Point where, std::int64_t pointer = 1) {
    Touch touch;
    touch.kind = kind;
    touch.pointer = pointer;
    touch.at = where;
    touch.time_ms = now;
    if (map.feed(touch)) frame();
  }
  void tap(Point where, double ms = 40) {
    at(Touch::Kind::press, where);
    now += ms;
    at(Touch::Kind::release, where);
  }
  // Frames at 60 a second for as long as something glides, at most 10 s.
  int glide(double frame_ms = 16) {
    int frames = 0;
    while (map.moving() && frames < 10000) {
      now += frame_ms;
      frame();
      ++frames;
    }
    return frames;
  }
  std::vector<int> rows;
};

}  // namespace

TEST_CASE("a tap is a press and a release inside the same control") {
  Surface s;
  s.frame();
  s.tap({50, 30});
  CHECK(s.acts == 1);
  s.now += 500;
  s.at(Touch::Kind::press, {50, 30});
  s.at(Touch::Kind::release, {160, 30});
  CHECK(s.acts == 1);
  CHECK(s.counts == 0);
  s.now += 500;
  s.at(Touch::Kind::press, {50, 30});
  s.at(Touch::Kind::cancel, {50, 30});
  CHECK(s.acts == 1);
}

TEST_CASE("what is not enabled takes no tap") {
  Surface s;
  s.frame();
  s.tap({330, 30});
  CHECK_FALSE(s.map.has_unanswered());
}

TEST_CASE("a second touch within 80 ms counts once on an act and each time on a count key") {
  Surface s;
  s.frame();
  s.tap({50, 30}, 10);
  s.now += 30;
  s.tap({52, 31}, 10);
  CHECK(s.acts == 1);
  s.now += 200;
  s.tap({50, 30}, 10);
  CHECK(s.acts == 2);
  for (int i = 0; i < 5; ++i) {
    s.now += 15;
    s.tap({200, 30}, 10);
  }
  CHECK(s.counts == 5);
}

TEST_CASE("while one finger is down a second is passed over") {
  Surface s;
  s.frame();
  s.at(Touch::Kind::press, {60, 40}, 1);
  s.now += 100;
  s.at(Touch::Kind::press, {200, 40}, 2);
  s.now += 40;
  s.at(Touch::Kind::release, {200, 40}, 2);
  CHECK(s.counts == 0);
  s.at(Touch::Kind::release, {60, 40}, 1);
  CHECK(s.acts == 1);
}

TEST_CASE("a palm, which lands with several points at once, taps nothing") {
  Surface s;
  s.frame();
  s.at(Touch::Kind::press, {60, 40}, 1);
  s.now += 15;
  s.at(Touch::Kind::press, {200, 40}, 2);
  s.now += 20;
  s.at(Touch::Kind::press, {60, 300}, 3);
  s.now += 80;
  for (const auto& [at, pointer] : std::vector<std::pair<Point, int>>{{{60, 40}, 1}, {{200, 40}, 2}, {{60, 300}, 3}})
    s.at(Touch::Kind::release, at, pointer);
  CHECK(s.acts == 0);
  CHECK(s.counts == 0);
  CHECK(s.rows.empty());
}

TEST_CASE("a thumb that rests, or that holds the tablet by its edge, keeps nobody from tapping") {
  Surface s;
  s.frame();
  s.at(Touch::Kind::press, {200, 500}, 1);
  s.now += 900;
  s.at(Touch::Kind::press, {60, 40}, 2);
  s.now += 40;
  s.at(Touch::Kind::release, {60, 40}, 2);
  CHECK(s.acts == 1);
  s.at(Touch::Kind::cancel, {200, 500}, 1);
  s.now += 300;
  s.at(Touch::Kind::press, {395, 500}, 1);
  s.now += 200;
  s.at(Touch::Kind::press, {60, 40}, 2);
  s.now += 40;
  s.at(Touch::Kind::release, {60, 40}, 2);
  CHECK(s.acts == 2);
}

TEST_CASE("a drag that begins at the window's edge scrolls nothing") {
  Surface s;
  s.frame();
  for (const float x : {3.0F, 200.0F}) {
    s.at(Touch::Kind::press, {x, 600});
    for (int i = 1; i <= 10; ++i) {
      s.now += 20;
      s.at(Touch::Kind::move, {x, 600 - static_cast<float>(i) * 20});
    }
    s.now += 200;
    s.at(Touch::Kind::release, {x, 400});
    s.frame();
    CHECK((s.scrolled > 100) == (x > 100));
    CHECK(s.rows.empty());
  }
}

TEST_CASE("the keyboard reaches every row of a panel, in order, and back again") {
  Surface s;
  s.frame();
  const auto key = [&](Key which) {
    Touch touch;
    touch.kind = Touch::Kind::key;
    touch.key = which;
    touch.time_ms = s.now += 50;
    s.map.feed(touch);
    s.frame();
    s.frame();
    return s.map.focus() == nullptr ? std::string() : s.map.focus()->name;
  };
  std::vector<std::string> met;
  for (int i = 0; i < 102; ++i) met.push_back(key(Key::tab));
  CHECK(met[0] == "act");
  CHECK(met[1] == "count");
  for (int i = 0; i < 100; ++i) CHECK(met[static_cast<std::size_t>(i) + 2] == "row " + std::to_string(i));
  for (int i = 98; i >= 0; --i) CHECK(key(Key::back_tab) == "row " + std::to_string(i));
  CHECK(key(Key::back_tab) == "count");
}

TEST_CASE("a drag scrolls and is never a tap; under ten dp it is a tap and scrolls nothing") {
  Surface s;
  s.frame();
  s.at(Touch::Kind::press, {200, 500});
  for (int i = 1; i <= 10; ++i) {
    s.now += 100;
    s.at(Touch::Kind::move, {200, 500 - static_cast<float>(i) * 20});
  }
  s.now += 200;
  s.at(Touch::Kind::release, {200, 300});
  s.frame();
  CHECK(s.scrolled == doctest::Approx(200));
  CHECK(s.rows.empty());
  CHECK_FALSE(s.map.moving());  // it had rested before it was lifted

  s.now += 500;
  s.at(Touch::Kind::press, {200, 500});
  s.at(Touch::Kind::move, {203, 506});
  s.at(Touch::Kind::release, {203, 506});
  CHECK(s.rows.size() == 1);
  s.frame();
  CHECK(s.scrolled == doctest::Approx(200));
}

TEST_CASE("a thrown list glides as far whether frames are many or few, and a press on it only stops it") {
  const auto thrown = [](double frame_ms) {
    Surface s;
    s.frame();
    s.at(Touch::Kind::press, {200, 600});
    for (int i = 1; i <= 6; ++i) {
      s.now += 16;
      s.at(Touch::Kind::move, {200, 600 - static_cast<float>(i) * 30});
    }
    s.now += 8;
    s.at(Touch::Kind::release, {200, 420});
    s.frame();
    CHECK(s.map.moving());
    s.glide(frame_ms);
    return s.scrolled;
  };
  const float smooth = thrown(8);
  const float coarse = thrown(80);
  CHECK(smooth > 400);
  CHECK(coarse == doctest::Approx(smooth).epsilon(0.06));

  Surface s;
  s.frame();
  s.at(Touch::Kind::press, {200, 600});
  for (int i = 1; i <= 6; ++i) {
    s.now += 16;
    s.at(Touch::Kind::move, {200, 600 - static_cast<float>(i) * 30});
  }
  s.at(Touch::Kind::release, {200, 420});
  s.now += 50;
  s.frame();
  REQUIRE(s.map.moving());
  s.tap({200, 500});
  CHECK(s.rows.empty());
  CHECK_FALSE(s.map.moving());
  s.now += 300;
  s.tap({200, 500});
  CHECK(s.rows.size() == 1);
}

TEST_CASE("at its end a list stops, and the next tap counts") {
  Surface s;
  s.frame();
  s.at(Touch::Kind::press, {200, 300});
  for (int i = 1; i <= 6; ++i) {
    s.now += 16;
    s.at(Touch::Kind::move, {200, 300 + static_cast<float>(i) * 40});
  }
  s.at(Touch::Kind::release, {200, 540});
  s.now += 16;
  s.frame();
  CHECK_FALSE(s.map.moving());
  s.now += 100;
  s.tap({200, 500});
  CHECK(s.rows.size() == 1);
}

TEST_CASE("what a panel cuts can be touched only where it is seen") {
  Surface s;
  s.frame();
  const Target* last = s.map.find("row 9");
  REQUIRE(last != nullptr);
  CHECK(last->whole);
  const Target* cut = s.map.find("row 10");
  CHECK(cut == nullptr);
  Touch wheel;
  wheel.kind = Touch::Kind::wheel;
  wheel.at = {200, 500};
  wheel.wheel = -0.5F;
  s.map.feed(wheel);
  s.frame();
  REQUIRE(s.map.find("row 0") != nullptr);
  CHECK_FALSE(s.map.find("row 0")->whole);
  CHECK(s.map.find("row 0")->rect.y == doctest::Approx(100));
}

TEST_CASE("taps that come faster than frames are answered one a frame, on the screen that they met") {
  Surface s;
  s.frame();
  for (int i = 0; i < 3; ++i) {
    Touch touch;
    touch.pointer = 1;
    touch.at = {200, 30};
    touch.time_ms = s.now;
    touch.kind = Touch::Kind::press;
    s.map.feed(touch);
    touch.kind = Touch::Kind::release;
    s.map.feed(touch);
  }
  s.frame();
  CHECK(s.counts == 1);
  CHECK(s.map.has_unanswered());
  s.frame();
  s.frame();
  CHECK(s.counts == 3);
  CHECK_FALSE(s.map.has_unanswered());
}

}  // namespace motherbulb
