#include "app/screens/device_name.hpp"

#include <algorithm>

#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/words.hpp"
#include "app/words/house.hpp"

namespace motherbulb {
namespace {

constexpr float key = 56;
constexpr float gap = 8;
constexpr float line = 32;
constexpr float act = 68;
constexpr std::size_t letter_count = 26;

// Beside each other where there is room for both.
constexpr float wide_from = 960;
float names_width(float width) {
  return width >= wide_from ? width * 0.62F - 18 : width;
}
float letters_width(float width) {
  return width >= wide_from ? width * 0.38F - 18 : width;
}
bool narrow(float width) {
  return width < 620;
}

std::size_t letter_columns(float width) {
  if (width >= 13 * key + 12 * gap) return 13;
  return width >= 7 * key + 6 * gap ? 7 : 5;
}

float letters_height(ScreenView& view, float width) {
  const HouseWords& w = house_words();
  const std::size_t columns = letter_columns(width);
  const std::size_t rows = (letter_count + columns - 1) / columns;
  return line + view.pen.paragraph_height(width, Type::body_16, say(w.letter_line, "A"), 4) + 12 +
         static_cast<float>(rows) * (key + gap) + 56;
}

float names_height(float width) {
  const float suggestions = narrow(width) ? 2 * key + gap : key;
  return line + 4 + suggestions + 12 + text_entry_height(narrow(width));
}

const DeviceRow* user_of(ScreenView& view, const std::string& letter) {
  for (const DeviceRow& device : view.rows.devices()) {
    if (!device.self && device.letter == letter) return &device;
  }
  return nullptr;
}

std::string letter_now(const ScreenView& view) {
  const std::string& chosen = view.ui.house.device_letter;
  return chosen.empty() ? view.rows.book().device_letter() : chosen;
}

void draw_names(ScreenView& view, Rect area) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  HouseDraft& draft = view.ui.house;
  pen.text_in(area.take_top(line, 4), Type::strong_16, pen.theme.ink2, w.device_suggest);
  const std::size_t columns = narrow(area.w) ? 2 : w.devices.size();
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  for (std::size_t i = 0; i < w.devices.size(); ++i) {
    const Rect at{area.x + static_cast<float>(i % columns) * (wide + gap),
                  area.y + static_cast<float>(i / columns) * (key + gap), wide, key};
    const std::string name(w.devices[i]);
    if (draw_filter(pen, at, "device:" + name, name, draft.device_name == name)) draft.device_name = name;
  }
  area.take_top(narrow(area.w) ? 2 * key + gap : key, 12);
  draw_text_entry(pen, area, {"letter", w.device_type, 40, false}, draft.device_name, narrow(area.w));
}

void draw_letters(ScreenView& view, Rect area) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  HouseDraft& draft = view.ui.house;
  const std::string now = letter_now(view);
  pen.text_in(area.take_top(line), Type::heading_24, t.ink, w.letter_title);
  area.take_top(pen.paragraph(area, Type::body_16, t.ink2, say(w.letter_line, now), 4), 12);
  const std::size_t columns = letter_columns(area.w);
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  for (std::size_t i = 0; i < letter_count; ++i) {
    const std::string letter(1, static_cast<char>('A' + i));
    const Rect at{area.x + static_cast<float>(i % columns) * (wide + gap),
                  area.y + static_cast<float>(i / columns) * (key + gap), wide, key};
    const std::string target = "own letter:" + letter;
    const bool tapped = pen.touch.hit(target, at);
    const bool straw = is_pressed(pen, target) || letter == now;
    const DeviceRow* user = user_of(view, letter);
    pen.fill(at, straw ? t.straw : user != nullptr ? t.pane : t.sheet, 6);
    if (user != nullptr && !straw) {
      pen.dashed_line({at.x, at.y + 1}, {at.right(), at.y + 1}, t.edge, 2);
      pen.dashed_line({at.x, at.bottom() - 1}, {at.right(), at.bottom() - 1}, t.edge, 2);
    } else {
      pen.frame(at, straw ? t.on_straw : t.edge);
    }
    pen.text_in(at, Type::heading_24, straw ? t.on_straw : user != nullptr ? t.ink2 : t.ink, letter, Align::middle);
    if (!tapped) continue;
    draft.letter_refused.clear();
    if (user == nullptr) {
      draft.device_letter = letter;
    } else {
      draft.letter_refused =
          user->name.empty() ? say(w.letter_used_nameless, letter) : say(w.letter_used, letter, user->name);
    }
  }
  const std::size_t rows = (letter_count + columns - 1) / columns;
  area.take_top(static_cast<float>(rows) * (key + gap));
  const bool refused = !draft.letter_refused.empty();
  const bool own = now == view.rows.book().device_letter();
  const std::string word = refused ? draft.letter_refused : say(own ? w.letter_own : w.letter_free, now);
  pen.paragraph({area.x, area.y + 2, area.w, 48}, refused ? Type::strong_16 : Type::body_16,
                refused ? t.copper : t.ink2, word, 2);
}

}  // namespace

float device_name_height(ScreenView& view, float width) {
  const float names = names_height(names_width(width));
  const float letters = letters_height(view, letters_width(width));
  return (width >= wide_from ? std::max(names, letters) : names + 20 + letters) + 16 + act;
}

std::optional<Wish> draw_device_name(ScreenView& view, Rect area, float room_right,
                                     std::function<void(UiState&)> after) {
  const HouseWords& w = house_words();
  HouseDraft& draft = view.ui.house;
  Rect rest = area;
  Rect foot = area;
  foot.y = area.y + device_name_height(view, area.w) - act;
  foot.h = act;
  foot.w -= room_right;
  if (area.w >= wide_from) {
    const Layout::Columns split = view.layout.columns(rest, 0.62F, 36);
    Rect names = split.reading;
    names.h = names_height(names.w);
    draw_names(view, names);
    draw_letters(view, split.acting);
  } else {
    draw_names(view, rest.take_top(names_height(area.w), 20));
    draw_letters(view, rest);
  }
  const std::string name = without_ends(draft.device_name);
  const std::string letter = letter_now(view);
  const std::string text = name.empty() ? std::string(w.device_keep_empty) : say(w.device_keep, name, letter);
  if (!draw_act(view.pen, foot, {"device:keep", text, ActStyle::main, Icon::tick, !name.empty()})) return std::nullopt;
  Keep keep;
  keep.commands.emplace_back(fact_of(BatchId{}, 0, DeviceNamed{name, letter}));
  keep.slip = say(w.device_kept, name, letter);
  keep.after = [after = std::move(after)](UiState& ui, const std::vector<Receipt>&) {
    ui.house.naming = false;
    ui.house.device_name.clear();
    ui.house.device_letter.clear();
    ui.house.letter_refused.clear();
    if (after) after(ui);
  };
  return keep;
}

}  // namespace motherbulb
