// How the window looks and lies in the hand, on this device alone; nothing of it is in a book.
#pragma once

namespace motherbulb {

struct Settings {
  bool night = false;
  bool left_hand = false;    // acts and the rail on the left hand's side
  bool less_motion = false;  // nothing moves that need not
  bool south = false;        // the house stands south of the equator: its seasons lie half a year apart
  int text_percent = 100;    // 100 to 200; the window may be too small for all of it

  friend bool operator==(const Settings& a, const Settings& b) {
    return a.night == b.night && a.left_hand == b.left_hand && a.less_motion == b.less_motion && a.south == b.south &&
           a.text_percent == b.text_percent;
  }
};

inline constexpr int greatest_text_percent = 200;

}  // namespace motherbulb
