// Every control that can be touched, listed anew in each frame, and the one place where presses become taps.
//
// Promises:
// - A tap is a press and a release inside the rectangle that was pressed, as it was drawn when the finger came down.
// - A press that moves more than 10 dp scrolls what lies under it and can no longer tap.
// - A press on something that is still scrolling only stops it.
// - A second touch within 80 ms and 40 dp of the last tap is water or a shaking hand: it counts on a count pad (three
//   quick taps are three handfuls) and nowhere else.
// - One finger counts at a time: while it is down, a second is passed over. Two that come down together (within 60 ms)
// are
//   a palm, and neither taps. A finger that rests (700 ms), or that holds the tablet by its edge, keeps nobody from
//   tapping with another; it may still tap itself.
// - A press that begins at the window's edge (8 dp) scrolls nothing: a hand that takes hold of the tablet does not act.
// - The keyboard reaches every control in the order in which it is listed; in a panel that scrolls, those out of sight
//   too.
// - Each frame answers at most one tap, so no tap meets a screen that another tap has just changed unseen.
// Times are milliseconds of any steady clock; places are dp.
#pragma once

#include <cstdint>
#include <deque>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/geometry.hpp"

namespace motherbulb {

enum class TapKind { act, count };

struct Target {
  std::string name;
  Rect rect;  // what can be touched: already cut by the panel it scrolls in
  bool enabled = true;
  bool whole = true;  // false where a scrolled panel or a bar cuts it
  bool bench = true;  // on a bench screen: at least 56 dp; else 48
  TapKind kind = TapKind::act;
  std::string panel;  // that it scrolls in; empty: none
  Rect drawn;         // uncut
  std::string words;  // what it does, where nothing that is written on it says so
};

// A field that words are written into. A device with a keyboard of its own can lay one over it.
struct WrittenField {
  std::string name;
  Rect rect;
  std::string asks, value;
  std::size_t texts_before = 0;  // drawn before it in this frame
};

enum class Key { none, enter, escape, backspace, tab, back_tab, up, down, page_up, page_down };

// What a window hands over. `pointer` tells fingers apart; the mouse is 0.
struct Touch {
  enum class Kind { press, move, release, cancel, wheel, key, text } kind = Kind::move;
  std::int64_t pointer = 0;
  Point at;
  double time_ms = 0;
  float wheel = 0;  // lines, up is positive
  Key key = Key::none;
  char character = 0;  // of a `text`: ASCII only
};

class TouchMap {
public:
  // Starts a frame. Takes up the oldest tap or key not answered yet.
  void begin_frame(double time_ms, Rect window);
  void end_frame();
  // While it holds back, frames take up nothing: what was tapped and typed waits.
  void hold_back(bool hold) { holds_back_ = hold; }

  // Lists a control. True in the one frame that answers a tap on it.
  bool hit(std::string_view name, Rect rect, bool enabled = true, TapKind kind = TapKind::act);
  // Of the control that was just listed, for whoever cannot see it: what it does or shows.
  void tell(std::string words);
  // True while a finger is down on it.
  [[nodiscard]] bool pressed(std::string_view name) const;
  // True in the frame that answers this key or character, once.
  bool take_key(Key key);
  bool take_character(char character);
  char take_any_character();  // 0: none
  // Lists a field. What was written into it since the last frame as a whole, once; none: nothing was.
  std::optional<std::string> take_written(WrittenField field);

  // A panel whose content may be taller than itself. Returns how far it is scrolled; what is listed until `end_scroll`
  // is cut by it. Panels may not be nested.
  float begin_scroll(std::string_view name, Rect area, float content_height);
  void end_scroll();
  // Brings a panel's top (0) or any place back into view.
  void scroll_to(std::string_view name, float offset);

  // Controls listed after this are cut at `area`, 8 dp early where a bar begins.
  void set_clip(Rect area) { clip_ = ground_ = area; }
  void set_bench(bool bench) { bench_ = bench; }

  // A press and a text that come by name, from assistive technology or a device's own keyboard. A control that is not
  // there, or not enabled, is passed over.
  void press_by_name(std::string_view name);
  void write_by_name(std::string_view name, std::string text);

  // Takes in one event. True where it gave a tap or a key, so that a frame should answer it before the next event.
  bool feed(const Touch& touch);

  [[nodiscard]] bool answering() const { return tapped_.has_value() || key_ != Key::none || character_ != 0; }
  [[nodiscard]] bool has_unanswered() const { return !queue_.empty(); }
  // True while a panel glides: frames must go on.
  [[nodiscard]] bool moving() const;
  [[nodiscard]] const std::vector<Target>& targets() const { return shown_; }
  [[nodiscard]] const std::vector<WrittenField>& fields() const { return fields_shown_; }
  [[nodiscard]] const Target* find(std::string_view name) const;
  // The control that the keyboard points at; nothing while a finger is used.
  [[nodiscard]] const Target* focus() const;

private:
  struct Press {
    std::string name;  // empty: on nothing
    Rect rect;
    bool enabled = false;
    TapKind kind = TapKind::act;
    Point start;
    Point last;
    double last_ms = 0;
    bool dragging = false;
    bool spent = false;  // can no longer tap
    double down_ms = 0;
    bool at_edge = false;
    bool passed_over = false;  // a second finger, or a palm
    std::string panel;
  };
  struct Panel {
    Rect area;
    float content_height = 0;
    float offset = 0;
    float speed = 0;  // dp a millisecond
    double moved_ms = 0;
    bool held = false;
    bool seen = false;
    [[nodiscard]] float most() const { return content_height > area.h ? content_height - area.h : 0; }
  };
  struct Waiting {
    std::string tap;
    Key key = Key::none;
    char character = 0;
  };

  Panel* panel_at(Point at);
  void press(const Touch& touch);
  void move(const Touch& touch);
  bool lift(const Touch& touch);
  bool type_key(const Touch& touch);
  void move_focus(int by);
  void finish_focus();

  std::vector<Target> shown_;   // of the last whole frame
  std::vector<Target> listed_;  // of this one
  bool in_sight_ = false;       // the control that hit() was asked about last, of this frame
  std::vector<WrittenField> fields_shown_, fields_listed_;
  std::map<std::string, std::string, std::less<>> written_;  // by field, not taken yet
  std::map<std::int64_t, Press> presses_;
  std::map<std::string, Panel, std::less<>> panels_;
  std::deque<Waiting> queue_;
  std::optional<std::string> tapped_;
  Key key_ = Key::none;
  char character_ = 0;
  std::string focus_;
  // The panel was scrolled to bring the next control into sight: the focus goes on from it in the next frame.
  int focus_step_ = 0;
  std::string focus_panel_;
  Rect window_;
  std::string open_panel_;
  Rect ground_;  // the clip outside any panel
  Rect clip_;
  bool bench_ = true;
  bool holds_back_ = false;
  double now_ms_ = 0;
  double last_tap_ms_ = -1e9;
  Point last_tap_at_;
};

}  // namespace motherbulb
