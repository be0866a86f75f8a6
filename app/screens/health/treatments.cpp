// What was treated with what, and which re-entry times run now; where off-types flowered.

#include <algorithm>

#include "app/print/treatments.hpp"
#include "app/screens/care/care.hpp"
#include "app/screens/due_parts.hpp"
#include "app/screens/health/parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/health.hpp"

namespace motherbulb::health {
namespace {

Day first_day(bool this_year, Day today) {
  const YearMonthDay date = civil(today);
  if (this_year) return day_from_civil({date.year, 1, 1}).value_or(today);
  // The day after today's, a year ago: twelve months with today.
  const auto ago = day_from_civil({date.year - 1, date.month, date.day});
  return ago ? Day{ago->days + 1} : Day{today.days - 364};
}

void refresh_treated(ScreenView& view) {
  HealthDraft& draft = view.ui.health;
  const Day from = first_day(draft.this_year, view.today);
  HealthDraft::Treated& treated = draft.treated;
  if (treated.made && treated.revision == view.rows.revision() && treated.from == from && treated.to == view.today)
    return;
  treated.made = true;
  treated.revision = view.rows.revision();
  treated.from = from;
  treated.to = view.today;
  treated.rows = treatments_of(view.rows.book(), from, view.today);
  std::reverse(treated.rows.begin(), treated.rows.end());
}

std::string joined(const std::vector<std::string>& all, std::size_t most) {
  std::string text;
  for (std::size_t i = 0; i < all.size() && i < most; ++i) text += (i == 0 ? "" : ", ") + all[i];
  if (all.size() > most)
    text = say(health_words().treated_more, text, grouped(static_cast<std::int64_t>(all.size() - most)));
  return text;
}

// A file's slip is filled in once more, with the name of the file.
std::string escaped(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    safe += c;
    if (c == '{' || c == '}') safe += c;
  }
  return safe;
}

std::optional<Wish> print(ScreenView& view) {
  const HealthWords& w = health_words();
  const HouseDraft& house = view.ui.house;
  if (house.places.empty()) {
    view.ui.trouble = Mishap{std::string(w.treated_print), std::string(w.treated_nowhere)};
    return std::nullopt;
  }
  const PlaceToWrite* place = &house.places.front();
  for (const PlaceToWrite& one : house.places) {
    if (one.folder == house.place) place = &one;
  }
  WriteOut out;
  out.folder = place->folder;
  out.name = {std::string(w.treated_part)};
  out.ending = ".html";
  out.content = treatments_page(view.rows.book(), view.ui.health.treated.from, view.ui.health.treated.to);
  out.slip = say(w.treated_written, "{}", escaped(place->name.empty() ? place->folder : place->name));
  return out;
}

struct Running {
  std::string bench;
  const NoEntry* no_entry = nullptr;
};
std::vector<Running> running_now(ScreenView& view) {
  std::vector<Running> running;
  for (const BenchView& bench : view.rows.benches()) {
    if (const NoEntry* one = view.rows.no_entry_at(bench.name, view.now.utc_ms)) running.push_back({bench.name, one});
  }
  return running;
}

void draw_treatment(ScreenView& view, Rect row, const TreatmentRow& one, bool rule) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  const bool phone = view.layout.phone();
  if (rule) pen.fill({row.x + 20, row.y - 0.75F, row.w - 40, 1.5F}, t.night ? t.ring : t.well);
  const Rect inside = row.inset(phone ? 12 : 20, 8);
  draw_icon(pen, Icon::drop, {inside.x + 14, inside.y + 16}, 26, t.tunic);
  const float x = inside.x + 40;
  const float room = inside.right() - x;
  const std::string by = by_of(view, one.helper, one.when);
  const bool beside =
      !phone && pen.width(Type::heading_20, one.fact.product) + pen.width(Type::body_15, by) + 30 <= room;
  const Type type = pen.fitting({Type::heading_20, Type::heading_18, Type::strong_15}, one.fact.product, room);
  pen.text_in({x, inside.y, room, 30}, type, t.ink,
              pen.width(type, one.fact.product) <= room ? one.fact.product : pen.fitted(type, one.fact.product, room));
  float y = inside.y + 32;
  if (beside) {
    pen.text_in({x, inside.y, room, 30}, Type::body_15, t.ink2, by, Align::right);
  } else {
    pen.text_in({x, y, room, 22}, Type::body_15, t.ink2, by);
    y += 22;
  }
  std::string where = joined(one.places, 2);
  if (where.empty()) where = joined(one.pots, 4);
  const std::string pots = counted(static_cast<std::int64_t>(one.pots.size()), "pot", "pots");
  std::string line = where.empty() ? pots : say(w.note_line, pots, where);
  if (!one.fact.amount.empty()) line = say(w.treated_line, one.fact.amount, line);
  if (!one.fact.against.empty()) line = say(w.treated_against, line, one.fact.against);
  pen.paragraph({x, y, room, inside.bottom() - y}, Type::body_15, t.ink2, line, phone ? 3 : 2);
}

}  // namespace

std::optional<Wish> draw_treatments(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  const bool phone = view.layout.phone();
  std::optional<Wish> wish;
  refresh_treated(view);
  Rect keys = area.take_top(56, 12);
  const float print_wide = phone ? 104.0F : 150.0F;
  const Rect print_key = keys.take_right(print_wide, gap);
  const float wide = std::min(170.0F, (keys.w - gap) / 2);
  if (draw_filter(pen, keys.take_left(wide, gap), "treated:months", phone ? w.treated_months_short : w.treated_months,
                  !draft.this_year))
    draft.this_year = false;
  if (draw_filter(pen, keys.take_left(wide, gap), "treated:year", w.treated_year, draft.this_year))
    draft.this_year = true;
  const auto& rows = draft.treated.rows;
  if (draw_act(pen, print_key, {"treated:print", w.treated_print, ActStyle::main, {}, !rows.empty()}))
    wish = print(view);
  std::vector<Block> blocks;
  const std::vector<Running> running = running_now(view);
  if (!running.empty()) {
    blocks.push_back(heading_block(pen, std::string(w.treated_now)));
    for (const Running& one : running)
      blocks.push_back(caution_block(
          pen, area.w, say(w.treated_running, bench_words_of(one.bench), no_entry_words(view, *one.no_entry))));
    blocks.push_back({10, {}});
  }
  if (rows.empty()) {
    blocks.push_back({phone ? 320.0F : 210.0F, [&](Rect at) {
                        const Rect sheet{at.x, at.y, at.w, at.h - 14};
                        pen.fill(sheet, t.sheet, 8);
                        draw_empty(pen, sheet.inset(20), w.treated_none, "", "");
                      }});
  } else {
    blocks.push_back(heading_block(
        pen, say(w.treated_count, counted(static_cast<std::int64_t>(rows.size()), w.treatment, w.treatments))));
    blocks.push_back(rows_block(view, rows.size(), phone ? 142.0F : 108.0F,
                                [&](Rect row, std::size_t i) { draw_treatment(view, row, rows[i], i > 0); }));
  }
  blocks.push_back(caution_block(pen, area.w, std::string(w.treated_rules)));
  draw_blocks(pen, "treatments", area, blocks);
  return wish;
}

std::optional<Wish> draw_off_types(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  const bool phone = view.layout.phone();
  draft.off_types.refresh(view.rows.book());
  std::optional<Wish> wish;
  // Of pots that are emptied the bulbs are elsewhere by now.
  std::vector<std::pair<const OffType*, const PotView*>> rows;
  for (const OffType& one : draft.off_types.found()) {
    if (const PotView* pot = view.rows.filled(one.pot)) rows.emplace_back(&one, pot);
  }
  std::vector<Block> blocks;
  if (rows.empty()) {
    blocks.push_back({phone ? 320.0F : 210.0F, [&](Rect at) {
                        const Rect sheet{at.x, at.y, at.w, at.h - 14};
                        pen.fill(sheet, t.sheet, 8);
                        draw_empty(pen, sheet.inset(20), w.off_none, "", "");
                      }});
    blocks.push_back(paragraph_block(pen, area.w, Type::body_16, t.ink2, std::string(w.off_hint)));
    draw_blocks(pen, "off-types", area, blocks);
    return wish;
  }
  blocks.push_back(paragraph_block(pen, area.w, Type::body_16, t.ink2, std::string(w.off_hint), 12));
  blocks.push_back(rows_block(view, rows.size(), phone ? 178.0F : 92.0F, [&](Rect row, std::size_t i) {
    const auto& [one, pot] = rows[i];
    if (i > 0) pen.fill({row.x + 20, row.y - 0.75F, row.w - 40, 1.5F}, t.night ? t.ring : t.well);
    Rect body = row.inset(phone ? 8 : 14, 4);
    Rect act = phone ? body.take_bottom(58, 8) : body.take_right(140, 8);
    act = {act.x, act.middle().y - 28, act.w, 56};
    const std::string target = "off:" + pot->label;
    if (pen.touch.hit(target, body)) wish = go_to_pot(one->pot);
    const bool pressed = is_pressed(pen, target);
    if (pressed) pen.fill(body, t.straw, 6);
    const Rect inside = body.inset(6, 4);
    const float tag = draw_pot_tag(pen, {inside.x, inside.y}, 34, pot->label, inside.w);
    const std::string clone = clone_words(pot->batch);
    const Color ink = pressed ? t.on_straw : t.ink;
    if (phone) {
      pen.text_in({inside.x, inside.y + 38, inside.w, 30},
                  pen.fitting({Type::name_23, Type::strong_16}, clone, inside.w), ink, clone);
    } else {
      const Rect at{inside.x + tag + 12, inside.y, inside.w - tag - 12, 34};
      pen.text_in(at, pen.fitting({Type::name_23, Type::strong_16}, clone, at.w), ink, clone);
    }
    const std::string by = by_of(view, one->helper, one->when);
    const std::string line = one->true_to_type > 0
                                 ? say(w.off_line, grouped(one->off_type), grouped(one->true_to_type), by)
                                 : say(w.off_line_only, grouped(one->off_type), by);
    pen.paragraph({inside.x, inside.y + (phone ? 70.0F : 46.0F), inside.w, 44}, Type::body_15,
                  pressed ? t.on_straw : t.ink2, line, phone ? 2 : 1);
    if (draw_act(pen, act, {"rogue:" + pot->label, w.off_act, i == 0 ? ActStyle::main : ActStyle::quiet, {}, true})) {
      Subject about;
      about.pots = {one->pot};
      wish = go_to_work(view.ui, about, Kind::discarded);
    }
  }));
  draw_blocks(pen, "off-types", area, blocks);
  return wish;
}

}  // namespace motherbulb::health
