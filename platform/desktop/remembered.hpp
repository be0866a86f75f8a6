// What the window was like when it was last closed: kept beside the book's state on this machine, never in a book.
// Losing it loses nothing; so a file that cannot be read or written is passed over.
#pragma once

#include <string>

namespace motherbulb {

struct Remembered {
  std::string store;   // the book opened last
  std::string helper;  // who was there
  bool night = false;
  friend bool operator==(const Remembered& a, const Remembered& b) {
    return a.store == b.store && a.helper == b.helper && a.night == b.night;
  }
};

Remembered load_remembered(const std::string& folder);
void save_remembered(const std::string& folder, const Remembered& remembered);

}  // namespace motherbulb
