// What the window was like when it was last closed: kept beside the book's state on this machine, never in a book.
// Losing it loses nothing; so a file that cannot be read or written is passed over.
#pragma once

#include <cstdint>
#include <string>

namespace motherbulb {

struct Remembered {
  std::string store;   // the book opened last
  std::string helper;  // who was there
  bool night = false;
  bool left_hand = false;
  bool less_motion = false;
  bool south = false;
  int text_percent = 100;
  std::string handed_writer;  // how far this device's own entries lie elsewhere too: whose, up to which
  std::uint64_t handed_upto = 0;
  friend bool operator==(const Remembered& a, const Remembered& b) {
    return a.store == b.store && a.helper == b.helper && a.night == b.night && a.left_hand == b.left_hand &&
           a.less_motion == b.less_motion && a.south == b.south && a.text_percent == b.text_percent &&
           a.handed_writer == b.handed_writer && a.handed_upto == b.handed_upto;
  }
};

Remembered load_remembered(const std::string& folder);
// What stands in the file: one thing a line.
std::string text_of_remembered(const Remembered& remembered);
void save_remembered(const std::string& folder, const Remembered& remembered);

}  // namespace motherbulb
