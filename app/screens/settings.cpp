// Settings: this device's name and letter, who is here, how the window looks and lies in the hand, and what the book
// itself says: where it lies, what it shows, which devices wrote in it.

#include <algorithm>

#include "app/screens/device_name.hpp"
#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/unspaced.hpp"
#include "app/words.hpp"
#include "app/words/house.hpp"

namespace motherbulb {
namespace {

constexpr float key = 56;
constexpr float gap = 8;
constexpr float inner = 20;    // of a panel
constexpr float between = 16;  // panels
constexpr float device_row = 64;

struct Choice {
  std::string name;
  std::string words;
  bool chosen = false;
};

// A title and the choices below it. The choice tapped.
std::optional<std::size_t> draw_choices(Pen& pen, Rect area, std::string_view title, const std::vector<Choice>& choices,
                                        std::size_t columns) {
  std::optional<std::size_t> tapped;
  pen.text_in(area.take_top(30, 2), Type::strong_16, pen.theme.ink2, title);
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const Rect at{area.x + static_cast<float>(i % columns) * (wide + gap),
                  area.y + static_cast<float>(i / columns) * (key + gap), wide, key};
    if (draw_filter(pen, at, choices[i].name, choices[i].words, choices[i].chosen)) tapped = i;
  }
  return tapped;
}

float choices_height(std::size_t count, std::size_t columns) {
  const std::size_t rows = (count + columns - 1) / columns;
  return 32 + static_cast<float>(rows) * (key + gap) - gap;
}

// ------------------------------------------------------------------------------------------------ device and helper

bool acts_below(float width) {
  return width < 480;
}

float who_height(float width) {
  const float one = acts_below(width) ? 62 + 8 + key : 64;
  return 2 * inner + 2 * one + 20;
}

// What it is, its name in large, an act that changes it.
bool draw_named(Pen& pen, Rect area, std::string_view what, std::string_view name, std::string_view line,
                const Act& act) {
  const Theme& t = pen.theme;
  const bool below = acts_below(area.w + 2 * inner);
  const Rect at = below ? Rect{area.x, area.y + 70, area.w, key} : Rect{area.right() - 210, area.y + 4, 210, key};
  const float room = below ? area.w : area.w - 222;
  std::string second(what);
  if (!line.empty()) second += ", " + std::string(line);
  pen.text_in({area.x, area.y, room, 26}, Type::body_16, t.ink2, pen.fitted(Type::body_16, second, room));
  const Type type = pen.fitting({Type::name_28, Type::name_23}, name, room);
  pen.text_in({area.x, area.y + 26, room, 38}, type, t.ink, name);
  return draw_act(pen, at, act);
}

std::optional<Wish> draw_who_panel(ScreenView& view, Rect area) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  std::optional<Wish> wish;
  pen.fill(area, pen.theme.sheet, 8);
  Rect inside = area.inset(inner);
  const float one = (inside.h - 20) / 2;
  const DeviceRow* own = view.rows.own_device();
  const std::string name = own && !own->name.empty() ? own->name : std::string(w.device_nameless);
  const std::string letter = view.rows.book().device_letter();
  const bool named = own && !own->name.empty();
  if (draw_named(
          pen, inside.take_top(one, 20), w.device, name, say(w.device_line, letter),
          {"device", named ? w.device_rename : w.device_name, named ? ActStyle::quiet : ActStyle::main, {}, true})) {
    view.ui.house.naming = true;
    view.ui.house.device_name = named ? own->name : std::string();
    view.ui.house.device_letter.clear();
    view.ui.house.letter_refused.clear();
  }
  pen.fill({inside.x, inside.y - 11, inside.w, 1.5F}, pen.theme.well);
  const std::string helper = view.ui.helper.empty() ? std::string(w.helper_none) : view.ui.helper;
  if (draw_named(pen, inside, w.helper, helper, "", {"helper", w.helper_change, ActStyle::quiet, {}, true}))
    wish = Go{Screen::who, {}};
  return wish;
}

// -------------------------------------------------------------------------------------------------- window and hand

bool text_too_large(const ScreenView& view) {
  if (view.ui.settings.text_percent <= 100) return false;
  // The window gives larger text all the room it has, and no more: then its dp are the fewest that a screen takes.
  const float room = std::min(view.layout.window.w / narrowest_dp, view.layout.window.h / lowest_dp);
  return room < 1.005F;
}

std::size_t text_columns(float width) {
  return width - 2 * inner >= 5 * 66 + 4 * gap ? 5 : 3;
}

float look_height(ScreenView& view, float width) {
  const float rows = width >= 480 ? 2.0F : 4.0F;
  float h = 2 * inner + rows * (choices_height(2, 2) + 14) + choices_height(5, text_columns(width));
  if (text_too_large(view))
    h += 8 + view.pen.paragraph_height(width - 2 * inner, Type::strong_16,
                                       say(house_words().no_room, view.ui.settings.text_percent), 4);
  return h;
}

std::optional<Wish> draw_look_panel(ScreenView& view, Rect area) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  const Settings& now = view.ui.settings;
  Settings wanted = now;
  pen.fill(area, pen.theme.sheet, 8);
  Rect inside = area.inset(inner);

  // Two beside each other where there is room.
  const bool beside = area.w >= 480;
  Rect row;
  for (int i = 0; i < 4; ++i) {
    Rect at;
    if (!beside) {
      at = inside.take_top(choices_height(2, 2), 14);
    } else if (i % 2 == 0) {
      row = inside.take_top(choices_height(2, 2), 14);
      at = row.take_left((row.w - 20) / 2, 20);
    } else {
      at = row;
    }
    switch (i) {
      case 0:
        if (const auto tapped = draw_choices(
                pen, at, w.house,
                {{"house:north", std::string(w.north), !now.south}, {"house:south", std::string(w.south), now.south}},
                2))
          wanted.south = *tapped == 1;
        break;
      case 1:
        if (const auto tapped = draw_choices(
                pen, at, w.theme,
                {{"theme:day", std::string(w.day), !now.night}, {"theme:night", std::string(w.night), now.night}}, 2))
          wanted.night = *tapped == 1;
        break;
      case 2:
        if (const auto tapped = draw_choices(pen, at, w.hand,
                                             {{"hand:left", std::string(w.left), now.left_hand},
                                              {"hand:right", std::string(w.right), !now.left_hand}},
                                             2))
          wanted.left_hand = *tapped == 0;
        break;
      default:
        if (const auto tapped = draw_choices(pen, at, w.motion,
                                             {{"motion:all", std::string(w.motion_all), !now.less_motion},
                                              {"motion:less", std::string(w.motion_less), now.less_motion}},
                                             2))
          wanted.less_motion = *tapped == 1;
    }
  }

  std::vector<Choice> sizes;
  for (const int percent : {100, 125, 150, 175, 200})
    sizes.push_back({"text:" + std::to_string(percent), say(w.percent, percent), now.text_percent == percent});
  const std::size_t columns = text_columns(area.w);
  if (const auto tapped =
          draw_choices(pen, inside.take_top(choices_height(5, columns), 8), w.text_size, sizes, columns))
    wanted.text_percent = 100 + static_cast<int>(*tapped) * 25;
  if (text_too_large(view))
    pen.paragraph(inside, Type::strong_16, pen.theme.copper, say(w.no_room, now.text_percent), 4);
  if (wanted == now) return std::nullopt;
  return Configure{wanted};
}

// ------------------------------------------------------------------------------------------------- book and devices

std::vector<std::string> path_lines(ScreenView& view, float width) {
  // Where there is no command line, there is no folder to look into either.
  if (!view.ui.has_commands) return {std::string(house_words().book_in_browser)};
  return unspaced_lines(view.pen, Type::body_15, view.rows.book().path(), width);
}

float book_height(ScreenView& view, float width) {
  const float room = width - 2 * inner;
  const auto lines = static_cast<float>(path_lines(view, room).size());
  const float digest = view.pen.paragraph_height(room, Type::body_16, house_words().book_digest_line, 2);
  return 2 * inner + 32 + 52 + 30 + digest + 12 + 26 + lines * 22 + 14 + key;
}

std::optional<Wish> draw_book_panel(ScreenView& view, Rect area) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(inner);
  pen.text_in(inside.take_top(32), Type::heading_24, t.ink, w.book);
  const Rect count = inside.take_top(52);
  const float used = pen.text(Type::numeral_40, {count.x, count.y + 42}, t.ink, grouped(view.rows.entries()));
  pen.text(Type::body_18, {count.x + used + 10, count.y + 42}, t.ink2,
           view.rows.entries() == 1 ? w.book_entry : w.book_entries);
  pen.text_in(inside.take_top(30), Type::strong_18, t.ink, say(w.book_digest, view.rows.digest()));
  inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, w.book_digest_line, 2), 12);
  pen.text_in(inside.take_top(26), Type::body_16, t.ink2, w.book_where);
  for (const std::string& line : path_lines(view, inside.w))
    pen.text_in(inside.take_top(22), Type::body_15, t.ink, line);
  inside.take_top(14);
  if (draw_act(pen, inside.take_top(key), {"parcels", w.parcels_link, ActStyle::link, Icon::stick, true}))
    return Go{Screen::parcels, {}};
  return std::nullopt;
}

float devices_height(ScreenView& view) {
  return 52 + device_row * static_cast<float>(std::max<std::size_t>(1, view.rows.devices().size()));
}

void draw_devices(ScreenView& view, Rect area, Rect seen) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  pen.text_in(area.take_top(44, 8), Type::heading_24, t.ink, w.devices_title);
  pen.fill(area, t.sheet, 8);
  if (view.rows.devices().empty()) {
    pen.text_in(area.inset(inner, 0), Type::body_16, t.ink2, w.devices_none);
    return;
  }
  bool first = true;
  for (const DeviceRow& device : view.rows.devices()) {
    Rect row = area.take_top(device_row);
    const bool rule = !first;
    first = false;
    if (row.bottom() < seen.y || row.y > seen.bottom()) continue;
    row = row.inset(inner, 0);
    if (rule) pen.fill({row.x, row.y - 0.75F, row.w, 1.5F}, t.well);
    const std::string count = grouped(device.entries);
    const float wide = pen.text(Type::heading_28, {row.right(), row.y + 42}, t.ink, count, Align::right);
    const float room = row.w - wide - 16;
    const std::string name = !device.name.empty() ? device.name
                             : device.self        ? std::string(w.this_device)
                                                  : std::string(w.other_device);
    pen.text_in({row.x, row.y + 8, room, 28}, Type::strong_18, t.ink, pen.fitted(Type::strong_18, name, room));
    std::string line = device.letter.empty() ? std::string(w.no_letter) : say(w.letter_of, device.letter);
    if (device.self && !device.name.empty()) line += ", " + std::string(w.this_device);
    pen.text_in({row.x, row.y + 35, room, 22}, Type::body_15, t.ink2, line);
  }
}

std::optional<Wish> draw_naming(ScreenView& view) {
  const HouseWords& w = house_words();
  Layout& l = view.layout;
  Pen& pen = view.pen;
  std::optional<Wish> wish =
      draw_top(view, {std::string(w.naming_title), std::string(w.naming_second), true, false, true, true});
  if (wish && std::holds_alternative<GoBack>(*wish)) {
    view.ui.house.naming = false;
    wish.reset();
  }
  const Rect panel{l.page.x, l.content.y, l.page.w, l.page.bottom() - l.content.y};
  const float height = device_name_height(view, l.content.w);
  const Rect inside{l.content.x, pen.begin_scroll("naming", panel, height + 20), l.content.w, height};
  if (const auto asked = draw_device_name(view, inside, 0, {})) wish = asked;
  pen.end_scroll("naming");
  return wish;
}

}  // namespace

std::optional<Wish> draw_settings_screen(ScreenView& view) {
  if (view.ui.house.naming) return draw_naming(view);
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  std::optional<Wish> wish =
      draw_top(view, {std::string(w.settings_title), std::string(w.settings_second), true, false, false, true});
  const Rect panel{l.page.x, l.content.y, l.page.w, l.page.bottom() - l.content.y};

  if (l.landscape()) {
    Layout::Columns split = l.columns(l.content, 0.56F, 28);
    Rect own = split.reading;
    Rect book = split.acting;
    const float content = std::max(who_height(own.w) + between + look_height(view, own.w),
                                   book_height(view, book.w) + between + devices_height(view)) +
                          20;
    const float top = pen.begin_scroll("settings", panel, content);
    own.y = book.y = top;
    if (const auto asked = draw_who_panel(view, own.take_top(who_height(own.w), between))) wish = asked;
    if (const auto asked = draw_look_panel(view, own.take_top(look_height(view, own.w)))) wish = asked;
    if (const auto asked = draw_book_panel(view, book.take_top(book_height(view, book.w), between))) wish = asked;
    draw_devices(view, book.take_top(devices_height(view)), panel);
    pen.end_scroll("settings");
    return wish;
  }

  const float width = l.content.w;
  const float content =
      who_height(width) + look_height(view, width) + book_height(view, width) + devices_height(view) + 3 * between + 20;
  Rect inside{l.content.x, pen.begin_scroll("settings", panel, content), width, content};
  if (const auto asked = draw_who_panel(view, inside.take_top(who_height(width), between))) wish = asked;
  if (const auto asked = draw_look_panel(view, inside.take_top(look_height(view, width), between))) wish = asked;
  if (const auto asked = draw_book_panel(view, inside.take_top(book_height(view, width), between))) wish = asked;
  draw_devices(view, inside.take_top(devices_height(view)), panel);
  pen.end_scroll("settings");
  return wish;
}

}  // namespace motherbulb
