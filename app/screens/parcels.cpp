// Parcels & backup: hand out a parcel (everything, or what one device lacks), back the book up, check it, and the ways
// back in. What is written stands there whole or not at all.

#include <algorithm>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/unspaced.hpp"
#include "app/words.hpp"
#include "app/words/codes.hpp"
#include "app/words/house.hpp"

namespace motherbulb {
namespace {

constexpr float inner = 20;
constexpr float between = 16;
constexpr float gap = 8;
constexpr float act = 64;

// A device whose parcel lies here or was merged: what it lacks is known.
struct Lacking {
  WriterId device;
  std::string name;
  std::int64_t entries = 0;
};

std::vector<Lacking> lacking_devices(ScreenView& view) {
  std::vector<Lacking> found;
  const std::vector<Known> here = view.rows.book().vector();
  const DeviceRow* own = view.rows.own_device();
  for (const auto* parcels : {&view.ui.merge.merged, &view.ui.merge.waiting}) {
    for (const ParcelPreview& one : *parcels) {
      if (!one.readable) continue;
      if (own != nullptr && own->writer == one.written_by) continue;
      const std::int64_t entries = lacking_entries(here, &one.knows);
      const std::string name = !one.device.empty()    ? one.device
                               : !one.helpers.empty() ? one.helpers.front()
                                                      : one.file.name;
      const auto same = std::find_if(found.begin(), found.end(),
                                     [&](const Lacking& other) { return other.device == one.written_by; });
      if (same == found.end()) {
        found.push_back({one.written_by, name, entries});
      } else {
        same->entries = std::min(same->entries, entries);
      }
    }
  }
  return found;
}

struct Option {
  std::string target;
  std::string words, second;
  bool chosen = false;
};

// Choices with a second line below; chosen is dark stock.
std::optional<std::size_t> draw_options(Pen& pen, Rect area, const std::vector<Option>& options, std::size_t columns) {
  const Theme& t = pen.theme;
  std::optional<std::size_t> tapped;
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  for (std::size_t i = 0; i < options.size(); ++i) {
    const Option& one = options[i];
    const Rect at{area.x + static_cast<float>(i % columns) * (wide + gap),
                  area.y + static_cast<float>(i / columns) * (act + gap), wide, act};
    if (pen.touch.hit(one.target, at)) tapped = i;
    const bool pressed = is_pressed(pen, one.target);
    pen.fill(at, pressed ? t.straw : one.chosen ? t.ink : t.sheet, 6);
    if (!one.chosen || pressed) pen.frame(at, pressed ? t.on_straw : t.edge);
    const Color ink = pressed ? t.on_straw : one.chosen ? t.on_ink : t.ink;
    const Color second = pressed ? t.on_straw : one.chosen ? t.on_ink2 : t.ink2;
    const Rect inside = at.inset(14, 0);
    const Type type = pen.fitting({Type::strong_18, Type::strong_16, Type::strong_15}, one.words, inside.w);
    const std::string words = pen.fitted(type, one.words, inside.w);
    if (one.second.empty()) {
      pen.text_in(inside, type, ink, words);
      continue;
    }
    pen.text_in({inside.x, at.y + 8, inside.w, 26}, type, ink, words);
    pen.text_in({inside.x, at.y + 34, inside.w, 22}, Type::body_15, second,
                pen.fitted(Type::body_15, one.second, inside.w));
  }
  return tapped;
}

float options_height(std::size_t count, std::size_t columns) {
  const std::size_t rows = (count + columns - 1) / columns;
  return static_cast<float>(rows) * (act + gap) - gap;
}

std::size_t option_columns(float width) {
  return width - 2 * inner >= 420 ? 2 : 1;
}

std::string place_words(const PlaceToWrite& place) {
  const HouseWords& w = house_words();
  if (place.leaves) return std::string(place.stick ? w.where_shared : w.where_saved);
  return place.stick ? say(w.where_stick, place.name) : std::string(w.where_folder);
}

std::vector<Option> place_options(const ScreenView& view) {
  std::vector<Option> options;
  for (const PlaceToWrite& place : view.ui.house.places) {
    options.push_back({"place:" + place.folder, place_words(place), place.stick ? std::string() : place.name,
                       place.folder == view.ui.house.place});
  }
  return options;
}

std::string written_words(const HouseDraft::Written& written) {
  const HouseWords& w = house_words();
  const std::string time = clock_time(written.at);
  if (written.place.leaves) return say(written.place.stick ? w.written_shared : w.written_saved, time);
  if (!written.place.stick) return say(w.written_in_folder, time);
  return say(w.written_on_stick, written.place.name, time) + " " + std::string(w.written_stick_caution);
}

constexpr float name_line = 22;

float written_height(Pen& pen, float room, const std::optional<HouseDraft::Written>& written) {
  if (!written) return 0;
  const auto lines = static_cast<float>(unspaced_lines(pen, Type::strong_15, written->file, room - 32).size());
  return 12 + lines * name_line + pen.paragraph_height(room - 32, Type::body_15, written_words(*written), 6);
}

void draw_written(Pen& pen, Rect area, const std::optional<HouseDraft::Written>& written) {
  if (!written) return;
  const Theme& t = pen.theme;
  area.take_top(12);
  draw_icon(pen, Icon::tick, {area.x + 10, area.y + 11}, 20, t.leaf);
  area.take_left(32);
  for (const std::string& line : unspaced_lines(pen, Type::strong_15, written->file, area.w))
    pen.text_in(area.take_top(name_line), Type::strong_15, t.leaf, line);
  pen.paragraph(area, Type::body_15, t.ink2, written_words(*written), 6);
}

float lines_height(Pen& pen, float room, std::string_view text) {
  return pen.paragraph_height(room, Type::body_16, text, 5);
}

// --------------------------------------------------------------------------------------------------------- where to

float where_height(ScreenView& view, float width) {
  const std::size_t places = view.ui.house.places.size();
  if (places == 0) return 2 * inner + 38 + lines_height(view.pen, width - 2 * inner, house_words().where_none);
  return 2 * inner + 38 + options_height(places, option_columns(width));
}

void draw_where(ScreenView& view, Rect area) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  pen.fill(area, pen.theme.sheet, 8);
  Rect inside = area.inset(inner);
  pen.text_in(inside.take_top(30, 8), Type::heading_24, pen.theme.ink, w.where);
  if (view.ui.house.places.empty()) {
    pen.paragraph(inside, Type::body_16, pen.theme.copper, w.where_none, 4);
    return;
  }
  if (const auto tapped = draw_options(pen, inside, place_options(view), option_columns(area.w)))
    view.ui.house.place = view.ui.house.places[*tapped].folder;
}

// ---------------------------------------------------------------------------------------------------------- hand out

struct Parcel {
  std::vector<Lacking> devices;
  std::int64_t entries = 0;
  bool to_one = false;
};

Parcel parcel_of(ScreenView& view) {
  Parcel parcel;
  parcel.devices = lacking_devices(view);
  parcel.entries = view.rows.entries();
  for (const Lacking& one : parcel.devices) {
    if (view.ui.house.lacking && *view.ui.house.lacking == one.device) {
      parcel.entries = one.entries;
      parcel.to_one = true;
    }
  }
  return parcel;
}

// What stands below the key that shows it as codes.
std::string codes_line(const ScreenView& view, const Parcel& parcel) {
  const CodesWords& w = codes_words();
  if (!view.ui.house.too_much_for_codes) return std::string(w.line);
  std::string line = say(w.too_much, most_shown_codes);
  if (!parcel.to_one && !parcel.devices.empty()) line += " " + std::string(w.too_much_lacking);
  return line;
}

float parcel_height(ScreenView& view, float width, const Parcel& parcel) {
  const HouseWords& w = house_words();
  const float room = width - 2 * inner;
  float h = 2 * inner + 34 + lines_height(view.pen, room, w.parcel_line) + 14 +
            options_height(parcel.devices.size() + 1, option_columns(width)) + 14 + act;
  if (parcel.devices.empty()) h += 10 + lines_height(view.pen, room, w.parcel_only_all);
  h += 12 + act + 8 + lines_height(view.pen, room, codes_line(view, parcel));
  return h + written_height(view.pen, room, view.ui.house.handed_out);
}

std::optional<Wish> draw_parcel(ScreenView& view, Rect area, const Parcel& parcel) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  HouseDraft& draft = view.ui.house;
  std::optional<Wish> wish;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(inner);
  pen.text_in(inside.take_top(34), Type::heading_24, t.ink, w.parcel_title);
  inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, w.parcel_line, 5), 14);
  std::vector<Option> options;
  options.push_back(
      {"parcel:all", std::string(w.parcel_all), counted(view.rows.entries(), "entry", "entries"), !parcel.to_one});
  for (const Lacking& one : parcel.devices) {
    options.push_back({"parcel:" + hex(one.device), say(w.parcel_lacking, one.name),
                       counted(one.entries, "entry", "entries"), parcel.to_one && *draft.lacking == one.device});
  }
  const std::size_t columns = option_columns(area.w);
  if (const auto tapped =
          draw_options(pen, inside.take_top(options_height(options.size(), columns)), options, columns)) {
    draft.lacking.reset();
    draft.too_much_for_codes = false;
    if (*tapped > 0) draft.lacking = parcel.devices[*tapped - 1].device;
  }
  if (parcel.devices.empty()) {
    inside.take_top(10);
    inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, w.parcel_only_all, 5));
  }
  inside.take_top(14);
  const bool can = parcel.entries > 0 && !draft.places.empty();
  const std::string text = parcel.entries == 0 ? std::string(w.parcel_nothing)
                                               : say(w.parcel_act, counted(parcel.entries, "entry", "entries"));
  if (draw_act(pen, inside.take_top(act), {"hand out", text, ActStyle::main, Icon::stick, can})) {
    HandOut hand_out{draft.place, std::nullopt};
    if (parcel.to_one) hand_out.lacking = draft.lacking;
    wish = hand_out;
  }
  if (draft.handed_out) {
    draw_written(pen, inside, draft.handed_out);
    inside.take_top(written_height(pen, inside.w, draft.handed_out));
  }
  inside.take_top(12);
  if (draw_act(pen, inside.take_top(act, 8),
               {"as codes", codes_words().act, ActStyle::link, Icon::codes, parcel.entries > 0})) {
    ShowCodes show;
    if (parcel.to_one) show.lacking = draft.lacking;
    wish = show;
  }
  pen.paragraph(inside, Type::body_16, draft.too_much_for_codes ? t.copper : t.ink2, codes_line(view, parcel), 5);
  return wish;
}

// ----------------------------------------------------------------------------------------------------------- back up

float backup_height(ScreenView& view, float width) {
  const float room = width - 2 * inner;
  const HouseWords& w = house_words();
  return 2 * inner + 34 + lines_height(view.pen, room, w.backup_line) + 14 + act +
         written_height(view.pen, room, view.ui.house.backed_up) + 14 + lines_height(view.pen, room, w.table_line) + 8 +
         act + written_height(view.pen, room, view.ui.house.table);
}

std::optional<Wish> draw_backup(ScreenView& view, Rect area) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  std::optional<Wish> wish;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(inner);
  pen.text_in(inside.take_top(34), Type::heading_24, t.ink, w.backup_title);
  inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, w.backup_line, 5), 14);
  if (draw_act(pen, inside.take_top(act),
               {"back up", w.backup_act, ActStyle::quiet, Icon::tick, !view.ui.house.places.empty()}))
    wish = BackUp{view.ui.house.place};
  draw_written(pen, inside, view.ui.house.backed_up);
  inside.take_top(written_height(pen, inside.w, view.ui.house.backed_up) + 14);
  inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, w.table_line, 5), 8);
  if (draw_act(pen, inside.take_top(act),
               {"write table", w.table_act, ActStyle::link, Icon::note, !view.ui.house.places.empty()}))
    wish = WriteTable{view.ui.house.place};
  draw_written(pen, inside, view.ui.house.table);
  return wish;
}

// ------------------------------------------------------------------------------------------------------------- check

struct Found {
  std::vector<std::string> sound, unsound;
};

Found found_by_check(const ScreenView& view) {
  const HouseWords& w = house_words();
  Found found;
  const auto& report = view.ui.house.checked;
  if (!report) return found;
  const bool sound = report->folded_equal && report->chains_ok && report->faults.empty();
  const std::string time = view.ui.house.checked_at ? clock_time(*view.ui.house.checked_at) : "";
  const std::string entries = counted(report->entries, "entry", "entries");
  if (sound) {
    found.sound.push_back(say(w.check_sound, entries, time));
  } else {
    found.unsound.push_back(say(w.check_unsound, entries, time));
    if (!report->chains_ok) found.unsound.emplace_back(w.check_chains);
    if (!report->folded_equal) found.unsound.emplace_back(w.check_folded);
    constexpr std::size_t most_faults = 6;
    for (std::size_t i = 0; i < std::min(report->faults.size(), most_faults); ++i)
      found.unsound.push_back(report->faults[i]);
    if (report->faults.size() > most_faults)
      found.unsound.push_back(say(words().others, report->faults.size() - most_faults));
    found.unsound.emplace_back(view.ui.can_set_aside ? w.check_set_aside : w.check_mend);
  }
  if (report->balances_open > 0)
    found.sound.push_back(say(w.check_open, counted(report->balances_open, "balance", "balances")));
  if (report->matters > 0) found.sound.push_back(say(w.check_matters, counted(report->matters, "matter", "matters")));
  return found;
}

float check_height(ScreenView& view, float width) {
  const float room = width - 2 * inner;
  float h = 2 * inner + 34 + lines_height(view.pen, room, house_words().check_line) + 14 + act;
  const Found found = found_by_check(view);
  if (view.ui.house.checked) h += 8;
  for (const auto* lines : {&found.unsound, &found.sound}) {
    for (const std::string& one : *lines) h += 4 + lines_height(view.pen, room - 32, one);
  }
  if (view.ui.can_set_aside && !found.unsound.empty()) h += 12 + act;
  return h;
}

std::optional<Wish> draw_check(ScreenView& view, Rect area) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  std::optional<Wish> wish;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(inner);
  pen.text_in(inside.take_top(34), Type::heading_24, t.ink, w.check_title);
  inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, w.check_line, 5), 14);
  if (draw_act(pen, inside.take_top(act), {"check", w.check_act, ActStyle::quiet, Icon::find, true}))
    wish = CheckBook{};
  if (!view.ui.house.checked) return wish;
  inside.take_top(8);
  const Found found = found_by_check(view);
  for (const auto* lines : {&found.unsound, &found.sound}) {
    const bool good = lines == &found.sound;
    for (std::size_t i = 0; i < lines->size(); ++i) {
      inside.take_top(4);
      const bool first = i == 0 && (good ? found.unsound.empty() : true);
      if (first)
        draw_icon(pen, good ? Icon::tick : Icon::warning, {inside.x + 10, inside.y + 12}, 20, good ? t.leaf : t.copper);
      const Rect at{inside.x + 32, inside.y, inside.w - 32, inside.h};
      inside.take_top(pen.paragraph(at, Type::body_16, !good ? t.copper : first ? t.leaf : t.ink2, (*lines)[i], 5));
    }
  }
  if (view.ui.can_set_aside && !found.unsound.empty()) {
    inside.take_top(12);
    if (draw_act(pen, inside.take_top(act), {"set aside", w.set_aside_act, ActStyle::link, Icon::start, true}))
      wish = SetAside{};
  }
  return wish;
}

// ------------------------------------------------------------------------------------------------------------ way in

float take_height(ScreenView& view, float width) {
  const HouseWords& w = house_words();
  const float room = width - 2 * inner;
  float h = 2 * inner + 34 + lines_height(view.pen, room, w.take_line) + 12 + act;
  if (view.ui.can_pick_files) h += 12 + act;
  if (view.ui.has_commands) h += 14 + lines_height(view.pen, room, w.restore_line) + 28;
  return h;
}

std::optional<Wish> draw_take(ScreenView& view, Rect area) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  std::optional<Wish> wish;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(inner);
  pen.text_in(inside.take_top(34), Type::heading_24, t.ink, w.take_title);
  inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, w.take_line, 5), 12);
  if (draw_act(pen, inside.take_top(act), {"take in", w.take_act, ActStyle::link, Icon::merge, true}))
    wish = Go{Screen::merge, {}};
  if (view.ui.can_pick_files) {
    inside.take_top(12);
    if (draw_act(pen, inside.take_top(act), {"choose file", w.take_choose, ActStyle::link, Icon::stick, true}))
      wish = PickFiles{};
  }
  if (!view.ui.has_commands) return wish;
  inside.take_top(14);
  inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, w.restore_line, 5));
  const Type type = pen.fitting({Type::strong_16, Type::strong_15}, w.restore_command, inside.w);
  pen.text_in(inside.take_top(28), type, t.ink, w.restore_command);
  return wish;
}

}  // namespace

std::optional<Wish> draw_parcels_screen(ScreenView& view) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  const std::string& digest = view.rows.digest();
  const std::string second = l.phone()
                                 ? say(w.parcels_second_short, digest)
                                 : say(w.parcels_second, counted(view.rows.entries(), "entry", "entries"), digest);
  std::optional<Wish> wish = draw_top(view, {std::string(w.parcels_title), second, true, false, false, true});
  const Parcel parcel = parcel_of(view);
  const auto ask = [&](std::optional<Wish> asked) {
    if (asked) wish = std::move(asked);
  };
  const Rect panel{l.page.x, l.content.y, l.page.w, l.page.bottom() - l.content.y};

  if (l.landscape()) {
    Layout::Columns split = l.columns(l.content, 0.54F, 28);
    // Where to and what is handed out on the acting hand's side; the book's own care beside it.
    Rect out = split.reading;
    Rect care = split.acting;
    const float of_out = where_height(view, out.w) + between + parcel_height(view, out.w, parcel) + between;
    const float of_care = backup_height(view, care.w) + between + check_height(view, care.w) + between +
                          take_height(view, care.w) + between;
    const float top = pen.begin_scroll("parcels", panel, std::max(of_out, of_care));
    out.y = care.y = top;
    draw_where(view, out.take_top(where_height(view, out.w), between));
    ask(draw_parcel(view, out.take_top(parcel_height(view, out.w, parcel)), parcel));
    ask(draw_backup(view, care.take_top(backup_height(view, care.w), between)));
    ask(draw_check(view, care.take_top(check_height(view, care.w), between)));
    ask(draw_take(view, care.take_top(take_height(view, care.w))));
    pen.end_scroll("parcels");
    return wish;
  }

  const float width = l.content.w;
  const float content = where_height(view, width) + parcel_height(view, width, parcel) + backup_height(view, width) +
                        check_height(view, width) + take_height(view, width) + 5 * between;
  Rect inside{l.content.x, pen.begin_scroll("parcels", panel, content), width, content};
  draw_where(view, inside.take_top(where_height(view, width), between));
  ask(draw_parcel(view, inside.take_top(parcel_height(view, width, parcel), between), parcel));
  ask(draw_backup(view, inside.take_top(backup_height(view, width), between)));
  ask(draw_check(view, inside.take_top(check_height(view, width), between)));
  ask(draw_take(view, inside.take_top(take_height(view, width))));
  pen.end_scroll("parcels");
  return wish;
}

}  // namespace motherbulb
