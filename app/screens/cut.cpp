// A cutting session: the clone, how, how many mothers into how many sections; all else is proposed. One act keeps the
// session and all its pots, and shows the stakes to write.

#include <algorithm>
#include <functional>

#include "app/screens/cut_parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/mother.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/cutting.hpp"
#include "core/names.hpp"

namespace motherbulb {
namespace {

using Part = CutDraft::Part;

constexpr float gap = 8;
constexpr float key_high = 56;
constexpr float title_high = 32;
constexpr std::int64_t most_mothers = 2000;
constexpr std::int32_t most_sections = 200;

std::int32_t year_of(const ScreenView& view) {
  return civil(local_day(view.ui.when.value_or(view.now))).year;
}

// What the screen before asked for: a clone, a batch of it, or the pot that the mothers stand in.
void take_subject(ScreenView& view) {
  Subject& about = view.ui.about;
  CutDraft& draft = view.ui.cut;
  const bool of_pot = !about.pots.empty();
  if (!of_pot && !about.batch && about.clone.empty()) {
    return;
  }
  const BatchState* batch = view.rows.batch(of_pot ? about.pots.front().batch : about.batch.value_or(BatchId{}));
  const std::int32_t pot = of_pot ? about.pots.front().number : -1;
  if (batch != nullptr && batch->begun) {
    choose_clone(draft, batch->clone, batch->genus);
    draft.source_said = true;
    draft.parent = batch->id;
    draft.parent_pot = pot;
  } else if (!about.clone.empty()) {
    choose_clone(draft, about.clone, about.genus);
  }
  about = {};
}

// ------------------------------------------------------------------------------------------------ words

std::string unit_words(const CutDraft& draft, std::int64_t count) {
  const CuttingWords& w = cutting_words();
  if (cuts(method_of(draft))) return pieces_word(method_of(draft), count);
  return counted(count, w.bulb, w.bulbs);
}

std::string mothers_words(const CutDraft& draft) {
  const CuttingWords& w = cutting_words();
  if (!cuts(method_of(draft))) return counted(draft.count(), w.bulb, w.bulbs);
  return counted(draft.count(), w.mother, w.mothers);
}

std::string into_words(const CutDraft& draft) {
  const CuttingWords& w = cutting_words();
  const Method method = method_of(draft);
  if (draft.count() == 0) return std::string(cuts(method) ? w.none_yet : w.none_yet_bulbs);
  if (!cuts(method)) return mothers_words(draft);
  return say(leaves_mother_whole(method) ? w.into_sectors : w.into, mothers_words(draft), sections_of(draft));
}

std::string pots_words(const CutDraft& draft) {
  const CuttingWords& w = cutting_words();
  return counted(pots_of(draft), w.pot, w.pots_many);
}

std::string place_words(const CutDraft& draft) {
  const CuttingWords& w = cutting_words();
  const auto& p = draft.proposed;
  if (p.bench.empty()) return std::string(w.place_none);
  const std::string bench = near_name(p.bench);
  if (p.positions.empty()) return bench;
  if (p.positions.size() == 1) return say(w.place_one, bench, p.positions.front());
  const bool in_a_row = p.positions.back() - p.positions.front() + 1 == static_cast<std::int32_t>(p.positions.size()) &&
                        static_cast<std::int64_t>(p.positions.size()) == pots_of(draft);
  if (!in_a_row) return say(w.place_some, bench, p.positions.front());
  return say(w.place_more, bench, p.positions.front(), p.positions.back());
}

// What stands in the way of keeping, or is worth a look; empty: nothing.
struct Notice {
  std::string words;
  bool hinders = false;
};
Notice notice_of(const CutDraft& draft) {
  const CuttingWords& w = cutting_words();
  if (source_is_gone(draft)) return {std::string(w.source_gone), true};
  if (pots_of(draft) > most_pots) return {say(w.too_many_pots, most_pots), true};
  if (const MotherSource* source = source_of(draft)) {
    if (source->held) {
      return {source->held_reason.empty() ? say(w.on_hold_plain, source->label)
                                          : say(w.on_hold, source->label, source->held_reason),
              true};
    }
    for (const auto& [grade, count] : draft.mothers) {
      const auto there = source->bulbs.find(grade);
      const std::int64_t standing = there == source->bulbs.end() ? 0 : there->second;
      if (count > standing) return {say(w.more_than_there, grouped(standing)), false};
    }
  }
  return {};
}

// ------------------------------------------------------------------------------------------------ keeping

Keep keep_of(ScreenView& view) {
  const CuttingWords& w = cutting_words();
  const CutDraft& draft = view.ui.cut;
  const Method method = method_of(draft);
  Begun begun;
  begun.clone = draft.clone;
  begun.genus = draft.genus;
  if (const MotherSource* source = source_of(draft)) {
    begun.parent = source->batch;
    begun.parent_pot = source->pot;
  }
  begun.method = method;
  for (const auto& [grade, count] : draft.mothers) {
    if (count == 0) continue;
    Line line;
    if (grade.sized()) line.grade = grade;
    line.count = count;
    begun.mothers.push_back(line);
  }
  if (cuts(method)) {
    begun.sections = sections_of(draft);
    begun.blade = blade_of(draft);
    begun.dip = dip_of(draft);
    begun.wedges = wedges_of(draft);
  }
  begun.medium = medium_of(draft);

  Keep keep;
  keep.commands.emplace_back(fact_of({}, 0, begun));
  const std::int64_t each = per_pot_of(draft);
  const std::int64_t pots = pots_of(draft);
  std::int64_t left = pieces_of(draft);
  Lines bulbs = begun.mothers;  // that are still to be potted, where nothing is cut
  for (std::int64_t i = 0; i < pots; ++i) {
    Potted potted;
    potted.place = place_of_pot(draft, static_cast<std::size_t>(i));
    std::int64_t room = std::min(each, left);
    left -= room;
    if (cuts(method)) {
      potted.unit = Unit::pieces;
      Line line;
      line.count = room;
      potted.lines.push_back(line);
    } else {
      potted.unit = Unit::bulbs;
      for (Line& line : bulbs) {
        Line taken = line;
        taken.count = std::min(line.count, room);
        if (taken.count == 0) continue;
        line.count -= taken.count;
        room -= taken.count;
        potted.lines.push_back(taken);
      }
    }
    Record record = fact_of({}, static_cast<std::int32_t>(i + 1), potted);
    record.begun_by = 0;
    keep.commands.emplace_back(std::move(record));
  }

  const std::string label = view.rows.book().proposed_label(year_of(view));
  const std::string mothers = mothers_words(draft);
  const std::string_view plain = pots > 0 ? w.kept_bulbs : w.kept_bulbs_waiting;
  const std::string_view cut = pots > 0 ? w.kept : w.kept_waiting;
  keep.slip = cuts(method) ? say(cut, label, mothers, sections_of(draft), pots_words(draft))
                           : say(plain, label, mothers, pots_words(draft));
  // A phone's slip is short; the stakes below it say the rest.
  const float room = view.layout.phone() ? view.layout.content.w : view.layout.head.w * 0.55F - 16;
  if (kept_slip_width(view.pen, keep.slip, true) > room) {
    keep.slip = cuts(method) ? say(w.kept_short, label, draft.count(), sections_of(draft))
                             : say(w.kept_bulbs_waiting, label, mothers);
  }
  keep.after = [](UiState& ui, const std::vector<Receipt>& receipts) {
    ui.cut.written = receipts.front().batch;
    ui.cut.part = Part::none;
  };
  return keep;
}

// ------------------------------------------------------------------------------------------------ the parts

// A part of the session on the page: how high it is in a width, and how it is drawn.
struct Piece {
  float height = 0;
  std::function<void(Rect)> draw;
  float below = 16;
};

void draw_pieces(Pen& pen, std::string_view name, Rect panel, const std::vector<Piece>& pieces) {
  float content = 0;
  for (const Piece& piece : pieces) content += piece.height + piece.below;
  float y = pen.begin_scroll(name, panel, content);
  for (const Piece& piece : pieces) {
    if (y + piece.height >= panel.y && y <= panel.bottom()) piece.draw({panel.x, y, panel.w, piece.height});
    y += piece.height + piece.below;
  }
  pen.end_scroll(name);
}

void draw_title(Pen& pen, Rect& area, std::string_view words_of, std::string_view beside = {}) {
  Rect line = area.take_top(title_high);
  line.h = 26;
  const float w = pen.text_in(line, Type::heading_20, pen.theme.ink, words_of);
  if (!beside.empty())
    pen.text_in({line.x + w + 12, line.y, line.w - w - 12, line.h}, Type::body_15, pen.theme.ink2, beside,
                Align::right);
}

// A setting: what it is and what it is set to, on a key that opens it.
struct Setting {
  std::string_view target;
  std::string_view title;
  std::string value;
  Part opens = Part::none;
  bool name = false;  // of a clone
};
constexpr float setting_high = 76;

void draw_setting(ScreenView& view, Rect area, const Setting& setting) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  if (pen.touch.hit(setting.target, area)) {
    view.ui.cut.part = setting.opens;
    pen.touch.scroll_to("choice", 0);
  }
  const bool pressed = is_pressed(pen, setting.target);
  pen.fill(area, pressed ? t.straw : t.sheet, 6);
  pen.frame(area, pressed ? t.on_straw : t.edge);
  const Color ink = pressed ? t.on_straw : t.ink;
  const Rect inside{area.x + 14, area.y, area.w - 28, area.h};
  pen.text_in({inside.x, area.y + 7, inside.w - 20, 22}, Type::body_15, pressed ? t.on_straw : t.ink2, setting.title);
  draw_icon(pen, Icon::next, {area.right() - 16, area.y + 19}, 16, pressed ? ink : t.tunic);
  if (setting.name) {
    const Type type = pen.fitting({Type::name_28, Type::name_23}, setting.value, inside.w);
    pen.text_in({inside.x, area.y + 30, inside.w, 36}, type, ink, pen.fitted(type, setting.value, inside.w));
    return;
  }
  const bool one_line = pen.width(Type::strong_16, setting.value) <= inside.w;
  if (one_line) {
    pen.text_in({inside.x, area.y + 32, inside.w, 32}, Type::strong_16, ink, setting.value);
  } else {
    pen.paragraph({inside.x, area.y + 28, inside.w, 42}, Type::strong_15, ink, setting.value, 2);
  }
}

Piece settings_piece(ScreenView& view, float width, std::vector<Setting> settings, std::size_t columns,
                     const std::string& title) {
  const std::size_t lines = (settings.size() + columns - 1) / columns;
  const float top = title.empty() ? 0.0F : title_high;
  Piece piece;
  piece.height = top + static_cast<float>(lines) * (setting_high + gap) - gap;
  const float wide = (width - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  piece.draw = [&view, settings = std::move(settings), columns, wide, title](Rect area) {
    if (!title.empty()) draw_title(view.pen, area, title);
    for (std::size_t i = 0; i < settings.size(); ++i) {
      // The last one takes what is left of its line.
      const bool last = i + 1 == settings.size();
      const float x = area.x + static_cast<float>(i % columns) * (wide + gap);
      draw_setting(view,
                   {x, area.y + static_cast<float>(i / columns) * (setting_high + gap), last ? area.right() - x : wide,
                    setting_high},
                   settings[i]);
    }
  };
  return piece;
}

Piece methods_piece(ScreenView& view, float width) {
  Piece piece;
  constexpr std::size_t columns = 5;
  piece.height = title_high + 2 * key_high + gap;
  const float wide = (width - gap * 4) / columns;
  piece.draw = [&view, wide](Rect area) {
    const CuttingWords& w = cutting_words();
    CutDraft& draft = view.ui.cut;
    draw_title(view.pen, area, w.method);
    for (int i = 0; i < static_cast<int>(Method::growing_on); ++i) {
      const auto method = static_cast<Method>(i + 1);
      const Rect key{area.x + static_cast<float>(i % 5) * (wide + gap),
                     area.y + static_cast<float>(i / 5) * (key_high + gap), wide, key_high};
      if (!draw_filter(view.pen, key, "method:" + std::string(to_text(method)), name_of(method),
                       method == method_of(draft)))
        continue;
      if (method == method_of(draft)) continue;
      draft.method = method;
      draft.sections.reset();
      draft.per_pot.reset();
    }
  };
  return piece;
}

// Minus, the number, plus; then keys that set it. On a narrow page the keys have a line of their own.
struct CountRow {
  std::string target;  // in the touch map "TARGET:minus", "TARGET:plus", "TARGET:8" …
  std::int64_t value = 0, least = 0, most = 0;
  struct Quick {
    std::string words;
    std::int64_t value = 0;
    bool adds = false;
  };
  std::vector<Quick> keys;  // the first ones, as many as fit; the last one always
};
constexpr float stepper_wide = 56 + gap + 92 + gap + 56;

float count_row_height(float width) {
  return width >= 560 ? key_high : 2 * key_high + gap;
}

std::optional<std::int64_t> draw_count_row(Pen& pen, Rect area, const CountRow& row) {
  const Theme& t = pen.theme;
  std::optional<std::int64_t> set;
  Rect line = area.take_top(key_high, gap);
  Rect keys = line;
  Rect stepper = line;
  const bool beside = line.w >= 560;
  if (beside) {
    keys = line;
    stepper = keys.take_left(stepper_wide, 16);
  } else {
    keys = area;
    keys.h = key_high;
  }
  const Rect minus = stepper.take_left(56, gap);
  const Rect plus = stepper.take_right(56, gap);
  const auto step_key = [&](Rect at, const std::string& name, Icon icon, bool can) {
    const bool tapped = pen.touch.hit(name, at, can, TapKind::count);
    const bool pressed = can && is_pressed(pen, name);
    if (can) {
      pen.fill(at, pressed ? t.straw : t.well, 6);
    } else {
      pen.dashed_line({at.x, at.y + 1}, {at.right(), at.y + 1}, t.edge, 2);
      pen.dashed_line({at.x, at.bottom() - 1}, {at.right(), at.bottom() - 1}, t.edge, 2);
    }
    draw_icon(pen, icon, at.middle(), 26, pressed ? t.on_straw : can ? t.ink : t.ink2);
    return tapped;
  };
  if (step_key(minus, row.target + ":minus", Icon::minus, row.value > row.least)) set = row.value - 1;
  if (step_key(plus, row.target + ":plus", Icon::plus, row.value < row.most)) set = row.value + 1;
  pen.text_in(stepper, Type::numeral_40, row.value > 0 ? t.tunic : t.ink2, grouped(row.value), Align::middle);

  const auto fit = static_cast<std::size_t>(std::max(1.0F, (keys.w + gap) / (56 + gap)));
  std::vector<CountRow::Quick> shown = row.keys;
  while (shown.size() > fit) shown.erase(shown.end() - 2);
  const float wide = (keys.w - gap * static_cast<float>(shown.size() - 1)) / static_cast<float>(shown.size());
  for (std::size_t i = 0; i < shown.size(); ++i) {
    const CountRow::Quick& key = shown[i];
    const Rect at{keys.x + static_cast<float>(i) * (wide + gap), keys.y, wide, key_high};
    const std::string name = row.target + ":" + (key.adds ? "more" : std::to_string(key.value));
    const bool tapped = pen.touch.hit(name, at, true, TapKind::count);
    const bool pressed = is_pressed(pen, name);
    const bool chosen = !key.adds && key.value == row.value && !pressed;
    pen.fill(at, pressed ? t.straw : chosen ? t.tunic : t.sheet, 6);
    if (!chosen) pen.frame(at, pressed ? t.on_straw : t.edge);
    pen.text_in(at, Type::heading_28, pressed ? t.on_straw : chosen ? t.on_tunic : t.ink, key.words, Align::middle);
    if (tapped) set = key.adds ? row.value + key.value : key.value;
  }
  if (set) set = std::clamp(*set, row.least, row.most);
  return set;
}

Setting source_setting(const CutDraft& draft) {
  const CuttingWords& w = cutting_words();
  const MotherSource* source = source_of(draft);
  std::string from(w.source_new);
  if (source != nullptr) from = say(w.clone_row, source_words(*source), bulbs_words(source->bulbs, 2));
  return {"part:source", w.source, from, Part::source, false};
}

Piece mothers_piece(ScreenView& view, float width) {
  const CutDraft& now = view.ui.cut;
  const bool graded = now.proposed.grades.size() > 1;
  Piece piece;
  piece.height = title_high + (graded ? key_high + gap : 0) + count_row_height(width);
  piece.draw = [&view, graded](Rect area) {
    const CuttingWords& w = cutting_words();
    Pen& pen = view.pen;
    CutDraft& draft = view.ui.cut;
    const auto& p = draft.proposed;
    const bool cut = cuts(method_of(draft));
    draw_title(pen, area, cut ? w.mothers_title : w.bulbs_title, graded ? w.grade : std::string_view());
    const MotherSource* source = source_of(draft);
    const Grade grade = grade_of(draft);
    if (graded) {
      Rect line = area.take_top(key_high, gap);
      const std::size_t shown = std::min<std::size_t>(p.grades.size(), line.w >= 560 ? 6 : 3);
      const auto at = static_cast<std::size_t>(std::find(p.grades.begin(), p.grades.end(), grade) - p.grades.begin());
      std::size_t first = at > shown / 2 ? at - shown / 2 : 0;
      if (draft.first_grade) first = *draft.first_grade;
      first = std::min(first, p.grades.size() - shown);
      if (p.grades.size() > shown) {
        const Rect smaller = line.take_left(56, gap);
        const Rect larger = line.take_right(56, gap);
        if (draw_icon_key(pen, smaller, "grade:smaller", Icon::back))
          draft.first_grade = first > shown ? first - shown : 0;
        if (draw_icon_key(pen, larger, "grade:larger", Icon::next)) draft.first_grade = first + shown;
      }
      const float wide = (line.w - gap * static_cast<float>(shown - 1)) / static_cast<float>(shown);
      for (std::size_t i = 0; i < shown; ++i) {
        const Grade one = p.grades[first + i];
        const auto said = draft.mothers.find(one);
        std::string name = grade_words(one);
        if (said != draft.mothers.end() && said->second > 0) name = say(w.grade_count, name, said->second);
        const Rect key{line.x + static_cast<float>(i) * (wide + gap), line.y, wide, key_high};
        if (draw_filter(pen, key, "grade:" + grade_words(one), name, one == grade)) draft.grade = one;
      }
    }
    CountRow row;
    row.target = "mothers";
    const auto said = draft.mothers.find(grade);
    row.value = said == draft.mothers.end() ? 0 : said->second;
    row.most = most_mothers;
    for (const std::int64_t one : {1, 2, 3, 4, 6, 8, 12}) row.keys.push_back({std::to_string(one), one, false});
    const auto there = source == nullptr ? BulbsByGrade::const_iterator{} : source->bulbs.find(grade);
    if (!cut && source != nullptr && there != source->bulbs.end() && there->second > 4) {
      row.keys.push_back({say(w.all_of_them, grouped(there->second)), there->second, false});
    } else {
      row.keys.push_back({std::string(w.ten_more), 10, true});
    }
    if (const auto set = draw_count_row(pen, area, row)) draft.mothers[grade] = *set;
  };
  return piece;
}

Piece sections_piece(ScreenView& view, float width) {
  Piece piece;
  piece.height = title_high + count_row_height(width);
  piece.draw = [&view](Rect area) {
    const CuttingWords& w = cutting_words();
    CutDraft& draft = view.ui.cut;
    const Method method = method_of(draft);
    draw_title(view.pen, area,
               leaves_mother_whole(method)      ? w.sectors
               : method == Method::twin_scaling ? w.twin_scales
               : method == Method::scaling      ? w.scales
                                                : w.sections);
    CountRow row;
    row.target = "sections";
    row.value = sections_of(draft);
    row.least = 1;
    row.most = most_sections;
    std::vector<std::int64_t> quick{4, 6, 8, 10, 12, 16, 20};
    if (method == Method::twin_scaling || method == Method::scaling) quick = {12, 16, 24, 30, 40, 50, 60};
    if (method == Method::halving || method == Method::quartering) quick = {2, 3, 4, 6, 8};
    if (leaves_mother_whole(method)) quick = {4, 5, 6, 8, 10, 12, 16};
    for (const std::int64_t one : quick) row.keys.push_back({std::to_string(one), one, false});
    if (const auto set = draw_count_row(view.pen, area, row)) {
      draft.sections = static_cast<std::int32_t>(*set);
    }
  };
  return piece;
}

std::vector<Setting> settings_of(const CutDraft& draft) {
  const CuttingWords& w = cutting_words();
  std::vector<Setting> all;
  if (cuts(method_of(draft))) {
    all.push_back({"part:blade", w.blade, std::string(blade_words(blade_of(draft))), Part::blade, false});
    all.push_back({"part:dip", w.dip, std::string(yes_no_words(dip_of(draft))), Part::dip, false});
    all.push_back({"part:wedges", w.wedges, std::string(yes_no_words(wedges_of(draft))), Part::wedges, false});
  }
  const std::string medium = medium_of(draft);
  all.push_back({"part:medium", w.medium, medium.empty() ? std::string(w.medium_none) : medium, Part::medium, false});
  const std::int64_t each = per_pot_of(draft);
  std::string pots(w.pots_later);
  if (each > 0) pots = draft.count() > 0 ? say(w.pots_value, grouped(each), pots_words(draft)) : grouped(each);
  all.push_back({"part:pots", w.pots, pots, Part::pots, false});
  all.push_back({"part:place", w.place, each > 0 ? place_words(draft) : std::string(w.pots_later), Part::place, false});
  return all;
}

std::string settings_title(const ScreenView& view) {
  const CuttingWords& w = cutting_words();
  const auto& p = view.ui.cut.proposed;
  return p.last ? say(w.as_last, day_near(local_day(*p.last), view.today)) : std::string(w.as_usual);
}

std::string cautions_of(const CutDraft& draft) {
  const CuttingWords& w = cutting_words();
  const bool cut = cuts(method_of(draft));
  std::string all(cut ? w.caution_cut : w.caution_bulbs);
  if (cut && dip_of(draft) == YesNo::yes) all += " " + std::string(w.caution_dip);
  if (folded_name(medium_of(draft)).find("perlite") != std::string::npos) all += " " + std::string(w.caution_perlite);
  return all;
}

Piece caution_piece(ScreenView& view, float width) {
  Pen& pen = view.pen;
  Piece piece;
  const std::string words_of = cautions_of(view.ui.cut);
  piece.height = std::max(32.0F, pen.paragraph_height(width - 44, Type::body_15, words_of));
  piece.draw = [&pen, words_of](Rect area) {
    draw_icon(pen, Icon::warning, {area.x + 15, area.y + 14}, 26, pen.theme.copper);
    pen.paragraph({area.x + 44, area.y, area.w - 44, area.h}, Type::body_15, pen.theme.ink2, words_of);
  };
  return piece;
}

std::optional<Piece> notice_piece(ScreenView& view, float width) {
  const Notice notice = notice_of(view.ui.cut);
  if (notice.words.empty()) return std::nullopt;
  Pen& pen = view.pen;
  Piece piece;
  piece.height = pen.paragraph_height(width - 76, Type::strong_16, notice.words, 6) + 24;
  piece.draw = [&pen, notice](Rect area) {
    const Theme& t = pen.theme;
    pen.fill(area, notice.hinders ? t.error_ground : t.sheet, 8);
    pen.frame(area, notice.hinders ? t.copper_fill : t.edge, 2, 8);
    draw_icon(pen, notice.hinders ? Icon::hold : Icon::warning, {area.x + 30, area.middle().y}, 26, t.copper);
    pen.paragraph({area.x + 56, area.y + 12, area.w - 76, area.h}, Type::strong_16, t.ink, notice.words, 6);
  };
  return piece;
}

// The session in one look: its label as it will be, the mother as it is cut, and what comes of it.
Piece summary_piece(ScreenView& view, float width) {
  Pen& pen = view.pen;
  const bool small = width < 400;
  Piece piece;
  piece.height = small ? 132.0F : 190.0F;
  piece.draw = [&view, &pen, small](Rect area) {
    const CuttingWords& w = cutting_words();
    const Theme& t = pen.theme;
    const CutDraft& draft = view.ui.cut;
    const Method method = method_of(draft);
    pen.fill(area, t.sheet, 8);
    const float r = small ? 46.0F : 72.0F;
    const Point m{area.right() - (small ? 14.0F : 22.0F) - r, area.middle().y};
    draw_mother(pen, m, r, {cuts(method) ? sections_of(draft) : 0, leaves_mother_whole(method), {}});
    const float x = area.x + (small ? 14.0F : 22.0F);
    const float room = m.x - r - 14 - x;
    float y = area.y + (small ? 12.0F : 22.0F);
    const std::string label = view.rows.book().proposed_label(year_of(view));
    draw_pot_tag(pen, {x, y}, small ? 34.0F : 44.0F, label, room);
    y += small ? 42.0F : 62.0F;
    const std::string into = into_words(draft);
    const Type type = pen.fitting({Type::heading_28, Type::heading_24, Type::heading_20, Type::heading_18}, into, room);
    pen.text_in({x, y, room, 34}, type, draft.count() > 0 ? t.tunic : t.ink2, into);
    y += small ? 34.0F : 40.0F;
    if (draft.count() == 0) return;
    const std::string pieces = unit_words(draft, pieces_of(draft));
    std::string line = pieces;
    if (!cuts(method))
      line = pots_words(draft);
    else if (pots_of(draft) > 0)
      line = say(w.pieces_in_pots, pieces, pots_words(draft));
    if (pots_of(draft) == 0) line = std::string(w.pots_later);
    pen.paragraph({x, y, room, 44}, small ? Type::body_15 : Type::body_18, t.ink2, line, 2);
  };
  return piece;
}

// ------------------------------------------------------------------------------------------------ the pages

std::optional<Wish> draw_keep(ScreenView& view, Rect area) {
  const CuttingWords& w = cutting_words();
  const CutDraft& draft = view.ui.cut;
  const bool can = draft.count() > 0 && !notice_of(draft).hinders;
  const std::int64_t pots = pots_of(draft);
  const std::string act = can && pots > 0 ? say(w.keep_pots, pots_words(draft)) : std::string(w.keep);
  if (draw_act(view.pen, area, {"keep", act, ActStyle::main, Icon::tick, can})) return keep_of(view);
  return std::nullopt;
}

std::optional<Wish> draw_session(ScreenView& view) {
  const CuttingWords& w = cutting_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  const CutDraft& draft = view.ui.cut;
  const bool cut = cuts(method_of(draft));
  Rect area{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  const Setting clone{"part:clone", draft.genus, clone_words(draft.clone), Part::clone, true};
  const auto with_notice = [&](std::vector<Piece>& pieces, float width) {
    if (auto notice = notice_piece(view, width)) pieces.push_back(std::move(*notice));
  };
  if (l.landscape()) {
    area.take_bottom(24);
    const Layout::Columns columns = l.columns(area, 0.6F);
    const Rect left = columns.reading;
    Rect right = columns.acting;
    std::vector<Piece> choices{settings_piece(view, left.w, {clone, source_setting(draft)}, 2, {}),
                               methods_piece(view, left.w), mothers_piece(view, left.w)};
    if (cut) choices.push_back(sections_piece(view, left.w));
    choices.push_back(caution_piece(view, left.w));
    choices.back().below = 0;
    draw_pieces(pen, "session", left, choices);
    const Rect keep = right.take_bottom(72, 16);
    std::vector<Piece> sum{summary_piece(view, right.w)};
    with_notice(sum, right.w);
    sum.push_back(settings_piece(view, right.w, settings_of(draft), 2, settings_title(view)));
    sum.back().below = 0;
    draw_pieces(pen, "session:sum", right, sum);
    return draw_keep(view, keep);
  }
  area.take_bottom(l.phone() ? 12.0F : 16.0F);
  const Rect keep = area.take_bottom(l.phone() ? 64.0F : 84.0F, 12);
  std::vector<Piece> pieces;
  if (l.phone()) {
    const Setting method{"part:method", w.method, std::string(name_of(method_of(draft))), Part::method, false};
    pieces.push_back(settings_piece(view, area.w, {clone, method, source_setting(draft)}, 1, {}));
    pieces.push_back(mothers_piece(view, area.w));
    if (cut) pieces.push_back(sections_piece(view, area.w));
    pieces.push_back(summary_piece(view, area.w));
    with_notice(pieces, area.w);
  } else {
    pieces.push_back(summary_piece(view, area.w));
    with_notice(pieces, area.w);
    pieces.push_back(settings_piece(view, area.w, {clone, source_setting(draft)}, 2, {}));
    pieces.push_back(methods_piece(view, area.w));
    pieces.push_back(mothers_piece(view, area.w));
    if (cut) pieces.push_back(sections_piece(view, area.w));
  }
  pieces.push_back(settings_piece(view, area.w, settings_of(draft), l.phone() ? 2 : 3, settings_title(view)));
  pieces.push_back(caution_piece(view, area.w));
  draw_pieces(pen, "session", area, pieces);
  return draw_keep(view, keep);
}

// "bench 2, no. 15" of "Skerry House, bench 2, no. 15".
std::string short_bench_place(const std::string& place) {
  PlaceParts parts = split_place(place);
  parts.bench = near_name(parts.bench);
  return join_place(parts);
}

// What was just kept, as its stakes: large, to be written by hand.
std::optional<Wish> draw_stakes(ScreenView& view, const BatchState& batch) {
  const CuttingWords& w = cutting_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  Layout& l = view.layout;
  std::optional<Wish> wish;
  Rect area{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  area.take_bottom(l.phone() ? 12.0F : l.portrait() ? 16.0F : 24.0F);
  const bool stacked = area.w < 420;
  Rect acts = area.take_bottom(stacked ? 64 + 12 + 56 : 72.0F, 16);
  const float half = std::min(400.0F, (acts.w - 12) / 2);
  const Rect next = stacked ? acts.take_top(64, 12) : acts.take_left(half, 12);
  const Rect open = stacked ? acts : acts.take_left(half);
  if (draw_act(pen, next, {"stakes:next", w.stakes_next, ActStyle::main, Icon::cutting, true})) view.ui.cut = {};
  if (draw_act(pen, open, {"stakes:batch", w.stakes_batch, ActStyle::link, Icon::clones, true})) {
    Subject about;
    about.clone = batch.clone;
    about.genus = batch.genus;
    about.batch = batch.id;
    view.ui.clones.from_tree.reset();
    wish = Go{Screen::clone, about};
  }

  const std::vector<const PotView*> pots = view.rows.filled_of(batch.id);
  struct Written {
    std::string label, holds, place;
  };
  std::vector<Written> stakes;
  for (const PotView* pot : pots) {
    stakes.push_back({pot->label,
                      pot->of_pieces() ? pieces_word(batch.method, pot->pot.pieces) : contents_words(pot->pot),
                      place_of(pot->batch, pot->pot)});
  }
  if (stakes.empty()) stakes.push_back({batch_words(batch), {}, {}});
  const std::string note(pots.empty() ? w.stakes_waiting : w.stakes_check);
  const float said = pen.paragraph_height(area.w, Type::body_16, note, 3);
  const std::size_t columns = std::max<std::size_t>(1, static_cast<std::size_t>((area.w + 12) / 340));
  const float wide = (area.w - 12 * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const float high = 118;
  const std::size_t lines = (stakes.size() + columns - 1) / columns;
  const float top = pen.begin_scroll("stakes", area, said + 16 + static_cast<float>(lines) * (high + 12) + 8);
  pen.paragraph({area.x, top, area.w, said}, Type::body_16, t.ink2, note, 3);
  for (std::size_t i = 0; i < stakes.size(); ++i) {
    const Rect cell{area.x + static_cast<float>(i % columns) * (wide + 12),
                    top + said + 16 + static_cast<float>(i / columns) * (high + 12), wide, high};
    if (cell.bottom() < area.y || cell.y > area.bottom()) continue;
    // Larger than any tag: it is read from the bench, with a pencil in the hand.
    pen.label(cell, Stake::right, t.paper, t.on_paper, t.night ? 0.0F : 2.0F, 6);
    const float room = cell.w - 32 - stake_depth(cell.h);
    const Type type =
        pen.fitting({Type::numeral_56, Type::numeral_40, Type::heading_36, Type::heading_28}, stakes[i].label, room);
    pen.text_in({cell.x + 20, cell.y + 8, room, 62}, type, t.on_paper, stakes[i].label);
    if (stakes[i].holds.empty()) continue;
    const std::string line = stakes[i].place.empty()
                                 ? stakes[i].holds
                                 : say(w.stake_line, stakes[i].holds, short_bench_place(stakes[i].place));
    pen.text_in({cell.x + 20, cell.y + 74, room, 28},
                pen.fitting({Type::body_18, Type::body_16, Type::body_15}, line, room), t.on_paper, line);
  }
  pen.end_scroll("stakes");
  return wish;
}

}  // namespace

std::optional<Wish> draw_cut_screen(ScreenView& view) {
  const CuttingWords& w = cutting_words();
  CutDraft& draft = view.ui.cut;
  take_subject(view);
  const BatchState* written = draft.written ? view.rows.batch(*draft.written) : nullptr;
  // Undone: what was chosen stands here as before.
  if (written == nullptr || !written->begun) draft.written.reset();
  if (draft.clone.empty() && draft.part == Part::none) draft.part = Part::clone;
  const bool session = draft.part == Part::none && !draft.written;
  if (!draft.written) refresh_proposed(view);

  Top top;
  if (draft.written) {
    top.title = w.stakes_title;
    top.second = say(w.stakes_second, clone_words(*written), name_of(written->method));
    top.writes = false;
  } else if (session) {
    top.title = w.title;
    top.second = say(words().clone_quoted, draft.clone);
  } else {
    top.title = question_of(draft);
    top.second = draft.clone.empty() ? std::string(w.choose_second) : say(words().clone_quoted, draft.clone);
    top.writes = false;
  }
  std::optional<Wish> wish = draw_top(view, top);
  if (wish && std::holds_alternative<GoBack>(*wish) && !draft.written) {
    // From a question back to the session; from the first one, out.
    switch (draft.part) {
      case Part::none:
        break;
      case Part::clone:
        if (!draft.clone.empty()) draft.part = Part::none;
        break;
      case Part::clone_name:
      case Part::genus:
        draft.part = Part::clone;
        if (draft.genus.empty()) draft.clone.clear();
        return std::nullopt;
      case Part::genus_name:
        draft.part = Part::genus;
        return std::nullopt;
      case Part::medium_name:
        draft.part = Part::medium;
        return std::nullopt;
      default:
        draft.part = Part::none;
        return std::nullopt;
    }
    if (!session && !draft.clone.empty()) return std::nullopt;
    return wish;
  }
  std::optional<Wish> asked;
  if (draft.written) {
    asked = draw_stakes(view, *written);
  } else if (session) {
    asked = draw_session(view);
  } else {
    draw_cut_choice(view);
  }
  return asked ? asked : wish;
}

}  // namespace motherbulb
