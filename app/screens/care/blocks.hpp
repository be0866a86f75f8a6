// What forms are built of: blocks one below the other in a panel that scrolls; each knows its height and draws itself.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "app/pen.hpp"
#include "app/widgets/icons.hpp"

namespace motherbulb {

struct Block {
  float height = 0;
  std::function<void(Rect)> draw;
};

struct Choice {
  std::string key;  // in the touch map, behind the name of its group: "hours:12"
  std::string words;
  bool chosen = false;
  std::function<void()> take;
};

class Blocks {
public:
  Blocks(Pen& pen, float width) : pen_(pen), width_(width) {}

  void heading(std::string_view words);
  void words(std::string_view text, bool strong = false);
  // What can hurt somebody: a copper edge and the sign.
  void caution(std::string_view text);
  // Keys side by side, as many a row as their words have room for. `key_height` 56 or more.
  void choices(std::string_view group, std::vector<Choice> all);
  // A field that opens the keys, or the pad, when it is tapped. Active: what is tapped now goes there.
  void field(std::string_view name, std::string_view about, const std::string& value, std::string_view placeholder,
             bool active, std::function<void()> take);
  // Two of them beside each other where there is room.
  void own(float height, std::function<void(Rect)> draw);

  [[nodiscard]] float height() const;
  [[nodiscard]] float width() const { return width_; }
  // In a panel that scrolls where it must. `stretch`: keys may grow into room that is left.
  void draw(std::string_view panel, Rect area);

private:
  Pen& pen_;
  float width_;
  std::vector<Block> blocks_;
};

// Figures typed one behind the other: a number on a label, a position, money. The keys of a keyboard do the same.
// `done` is set where "done" was tapped.
void draw_digit_pad(Pen& pen, Rect area, std::string& digits, std::size_t longest, std::string_view done_words,
                    bool& done);

}  // namespace motherbulb
