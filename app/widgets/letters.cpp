#include "app/widgets/letters.hpp"

#include <algorithm>
#include <array>

#include "app/widgets/labels.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr float field_height = 64;
constexpr float gap = 8;
constexpr float key_height = 56;

std::size_t characters_in(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

void drop_last(std::string& text) {
  while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U) text.pop_back();
  if (!text.empty()) text.pop_back();
}

// Without line breaks, and no longer than that.
std::string shortened(const std::string& text, std::size_t longest) {
  std::string kept;
  std::size_t characters = 0;
  for (const char c : text) {
    if (c == '\n' || c == '\r') continue;
    if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U && ++characters > longest) break;
    kept += c;
  }
  return kept;
}

bool begins_word(const std::string& text, bool of_names) {
  if (text.empty()) return true;
  return of_names && (text.back() == ' ' || text.back() == '-');
}

// Letters in the order of the alphabet, as on a label maker; then what words and numbers need. One key a character.
constexpr std::string_view plain_keys = "abcdefghijklmnopqrstuvwxyz-.,'1234567890";

struct Grid {
  std::size_t columns = 10;
  std::size_t rows = 5;
};
// The last row has space and undo.
Grid grid_of(bool phone) {
  const std::size_t columns = phone ? 5 : 10;
  return {columns, (plain_keys.size() + columns - 1) / columns + 1};
}

}  // namespace

bool few_keys_in_a_row(float width) {
  const auto columns = static_cast<float>(grid_of(false).columns);
  return width < columns * key_height + (columns - 1) * gap;
}

float text_entry_height(bool phone) {
  const Grid grid = grid_of(phone);
  return field_height + 16 + static_cast<float>(grid.rows) * (key_height + gap) - gap;
}

std::string without_ends(const std::string& text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

bool draw_text_entry(Pen& pen, Rect area, const TextField& field, std::string& text, bool phone) {
  const Theme& t = pen.theme;
  const auto add = [&](char c) {
    // A character of several bytes comes byte by byte from a keyboard: one that was begun is always finished.
    const bool goes_on = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
    if (goes_on || characters_in(text) < field.longest) text += c;
  };
  if (pen.touch.take_key(Key::backspace)) drop_last(text);
  if (const char typed = pen.touch.take_any_character(); typed != 0 && typed != '\n' && typed != '\r') add(typed);
  const bool enter = pen.touch.take_key(Key::enter);

  const Rect line = area.take_top(field_height, 16);
  WrittenField written;
  written.name = field.name;
  written.rect = line;
  written.asks = field.placeholder;
  written.value = text;
  written.texts_before = pen.texts_so_far();
  if (const auto whole = pen.touch.take_written(std::move(written))) text = shortened(*whole, field.longest);
  pen.fill(line, t.sheet, 6);
  pen.frame(line, t.ink);
  const Rect inside = line.inset(20, 0);
  if (text.empty()) {
    const Type type = pen.fitting({Type::body_18, Type::body_16, Type::body_15}, field.placeholder, inside.w);
    pen.text_in(inside, type, t.ink2, field.placeholder);
  } else {
    // Of a long text the end is in sight, where the next letter goes.
    std::string shown = text;
    const Type type = pen.fitting({Type::name_28, Type::name_23}, shown, inside.w - 8);
    while (pen.width(type, shown) > inside.w - 8 && shown.size() > 1) {
      std::size_t step = 1;
      while (step < shown.size() && (static_cast<unsigned char>(shown[step]) & 0xC0U) == 0x80U) ++step;
      shown.erase(0, step);
    }
    pen.text_in(inside, type, t.ink, shown);
    const float x = inside.x + pen.width(type, shown) + 4;
    pen.fill({std::min(x, inside.right()), line.y + 14, 2.5F, line.h - 28}, t.tunic);
  }

  const Grid grid = grid_of(phone);
  const float wide = (area.w - gap * static_cast<float>(grid.columns - 1)) / static_cast<float>(grid.columns);
  const float high =
      std::clamp((area.h - gap * static_cast<float>(grid.rows - 1)) / static_cast<float>(grid.rows), key_height, 76.0F);
  const std::string prefix = std::string(field.name) + ":";
  for (std::size_t i = 0; i < plain_keys.size(); ++i) {
    const Rect key{area.x + static_cast<float>(i % grid.columns) * (wide + gap),
                   area.y + static_cast<float>(i / grid.columns) * (high + gap), wide, high};
    char letter = plain_keys[i];
    const bool is_letter = letter >= 'a' && letter <= 'z';
    const char capital = is_letter ? static_cast<char>(letter - 'a' + 'A') : letter;
    if (begins_word(text, field.of_names)) letter = capital;
    const std::string target = prefix + capital;
    const bool tapped = pen.touch.hit(target, key, true, TapKind::count);
    const bool pressed = is_pressed(pen, target);
    pen.fill(key, pressed ? t.straw : t.sheet, 6);
    pen.frame(key, pressed ? t.on_straw : t.edge);
    pen.text_in(key, Type::heading_28, pressed ? t.on_straw : t.ink, std::string(1, letter), Align::middle);
    if (tapped) add(letter);
  }
  const float last = area.y + static_cast<float>(grid.rows - 1) * (high + gap);
  Rect row{area.x, last, area.w, high};
  const Rect undo = row.take_right(std::max(wide * 2 + gap, 104.0F), gap);
  if (draw_act(pen, undo, {prefix + "undo", words().undo, ActStyle::square, Icon::undo, !text.empty(), TapKind::count}))
    drop_last(text);
  if (draw_act(pen, row, {prefix + "space", words().key_space, ActStyle::plain, {}, !text.empty(), TapKind::count}))
    add(' ');
  return enter;
}

}  // namespace motherbulb
