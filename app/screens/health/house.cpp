// Health of the house: what is on hold or was found bad, damage as a picture, what nobody has looked at.

#include <algorithm>
#include <array>

#include "app/screens/health/parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/widgets/see_tiles.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/bench.hpp"
#include "app/words/health.hpp"

namespace motherbulb::health {
namespace {

using Listing = HealthDraft::Listing;
using Month = DamagePicture::Month;

constexpr std::array<std::int32_t, 3> unseen_days{14, 28, 56};
constexpr std::int32_t lately_days = 28;

std::string pots_words(std::int64_t count) {
  return counted(count, "pot", "pots");
}

std::string trouble_words(const DamagePicture::Row& row) {
  std::string text = seen_words(row.cause, row.detail);
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

void refresh_picture(ScreenView& view) {
  HealthDraft& draft = view.ui.health;
  draft.damage.refresh(view.rows.book(), view.today);
  HealthDraft::Picture& picture = draft.picture;
  if (picture.made && picture.revision == view.rows.revision() && picture.today == view.today &&
      picture.days == draft.not_looked_days)
    return;
  picture = {};
  picture.made = true;
  picture.revision = view.rows.revision();
  picture.today = view.today;
  picture.days = draft.not_looked_days;
  picture.bad = bad_pots(view.rows.book(), view.now.utc_ms);
  picture.unseen = not_looked(view.rows.benches(), view.today, draft.not_looked_days);
  picture.lately = damaged_lately(view.rows.pots(), view.today, lately_days);
}

// ------------------------------------------------------------------------------------------------ on hold, found bad

float bad_height(const Layout& l) {
  return l.phone() ? 210.0F : 92.0F;
}

std::optional<Wish> draw_bad(ScreenView& view, Rect row, std::size_t at) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  const BadPot& bad = view.ui.health.picture.bad[at];
  const bool phone = view.layout.phone();
  std::optional<Wish> wish;
  if (at > 0) pen.fill({row.x + 20, row.y - 0.75F, row.w - 40, 1.5F}, t.night ? t.ring : t.well);
  Rect body = row.inset(phone ? 8 : 14, 4);
  Rect acts = phone ? body.take_bottom(58, 8) : body.take_right(bad.held ? 264.0F : 396.0F, 8);
  acts = {acts.x, acts.middle().y - 28, acts.w, 56};
  const std::string target = "bad:" + bad.label;
  if (pen.touch.hit(target, body)) wish = go_to_pot(bad.pot);
  const bool pressed = is_pressed(pen, target);
  if (pressed) pen.fill(body, t.straw, 6);
  const Color ink = pressed ? t.on_straw : t.ink;
  const Color ink2 = pressed ? t.on_straw : t.ink2;
  const Rect inside = body.inset(6, 4);
  float x = inside.x;
  if (bad.held) {
    draw_mark(pen, Mark::on_hold, {x + 14, inside.y + 17}, 26);
  } else {
    draw_icon(pen, Icon::warning, {x + 14, inside.y + 17}, 26, pressed ? ink : t.copper);
  }
  x += 36;
  const float room = inside.right() - x;
  const std::string clone = clone_words(bad.clone);
  const float tag = draw_pot_tag(pen, {x, inside.y}, 34, bad.label, room);
  const float beside = room - tag - 12;
  const bool fits = pen.width(Type::name_23, clone) <= beside;
  if (fits && !phone) pen.text_in({x + tag + 12, inside.y, beside, 34}, Type::name_23, ink, clone);
  std::string why = bad.why.empty() ? std::string(bad.held ? w.no_reason : w.found_reason) : bad.why;
  if (bad.pot.number == 0) why = say(w.line_more, w.whole_batch, why);
  if (bad.emptied) why = say(w.line_more, why, w.emptied);
  const std::string_view what = bad.held ? w.on_hold : w.tested_bad;
  const std::string day = day_near(local_day(bad.since), view.today);
  const std::string since = bad.helper.empty() ? say(w.bad_since, what, day) : say(w.bad_by, what, day, bad.helper);
  const std::string one = say(w.line_more, why, since);
  if (phone) {
    const Rect name{x, inside.y + 36, room, 30};
    pen.text_in(name, pen.fitting({Type::name_23, Type::strong_16, Type::strong_15}, clone, room), ink, clone);
    pen.paragraph({x, inside.y + 68, room, 44}, Type::body_15, ink2, why, 2);
    pen.text_in({x, inside.y + 112, room, 22}, Type::body_15, ink2, since);
  } else if (pen.width(Type::body_15, one) <= room) {
    pen.text_in({x, inside.y + 42, room, 24}, pen.fitting({Type::body_16, Type::body_15}, one, room), ink2, one);
  } else {
    pen.paragraph({x, inside.y + 38, room, 44}, Type::body_15, ink2, one, 2);
  }
  const float third = (acts.w - (bad.held ? 1 : 2) * gap) / (bad.held ? 2 : 3);
  if (draw_act(pen, acts.take_left(third, gap),
               {"trace:" + bad.label, w.trace, at == 0 ? ActStyle::main : ActStyle::quiet, {}, true}))
    wish = Go{Screen::trace, {{bad.pot}, {}, {}, {}, {}}};
  if (!bad.held &&
      draw_act(pen, acts.take_left(third, gap), {"hold:" + bad.label, w.hold, ActStyle::quiet, {}, true})) {
    Keep keep;
    keep.commands = {
        fact_of(bad.pot.batch, bad.pot.number, Held{bad.why.empty() ? std::string(w.found_reason) : bad.why})};
    keep.slip = say(w.kept_held, bad.label);
    wish = keep;
  }
  if (draw_act(pen, acts, {"clear:" + bad.label, w.clear, ActStyle::quiet, {}, true}))
    view.ui.health.clearing = HealthDraft::Clearing{bad.pot, bad.label, false, ""};
  return wish;
}

Keep keep_cleared(const HealthDraft::Clearing& clearing, const std::string& reason) {
  Keep keep;
  keep.commands = {fact_of(clearing.pot.batch, clearing.pot.number, Cleared{reason})};
  keep.slip = say(health_words().kept_cleared, clearing.label);
  keep.after = [](UiState& ui, const std::vector<Receipt>&) { ui.health.clearing.reset(); };
  return keep;
}

std::optional<Wish> draw_clearing(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  HealthDraft::Clearing& clearing = *view.ui.health.clearing;
  const bool phone = view.layout.phone();
  std::optional<Wish> wish;
  const auto& reasons = bench_words().clear_reasons;
  const float columns = phone ? 1 : 2;
  const float rows = phone ? 6 : 3;
  const float high = phone ? 56 : 64;
  const float below = clearing.writing ? text_entry_height(phone) + 12 + 64 : rows * (high + gap) - gap;
  const float height = std::min(area.h, 44 + below + 40);
  const Rect panel = area.take_top(height);
  pen.fill(panel, t.sheet, 8);
  Rect inside = panel.inset(phone ? 12 : 24, 16);
  const std::string title = say(w.clear_title, clearing.label);
  pen.text_in(inside.take_top(36, 8),
              pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, title, inside.w), t.ink, title);
  if (clearing.writing) {
    Rect acts = inside.take_bottom(64, 12);
    const bool entered = draw_text_entry(pen, inside, {"clear", w.clear_hint, 200, false}, clearing.reason, phone);
    const Rect drop = acts.take_left(acts.w * 0.36F, gap);
    const std::string reason = without_ends(clearing.reason);
    if (draw_act(pen, drop, {"clear:drop", words().cancel, ActStyle::square, {}, true})) clearing.writing = false;
    if ((draw_act(pen, acts, {"clear:keep", w.clear_keep, ActStyle::main, Icon::tick, !reason.empty()}) || entered) &&
        !reason.empty())
      wish = keep_cleared(clearing, reason);
    return wish;
  }
  const float wide = (inside.w - gap * (columns - 1)) / columns;
  bool cancel = false;
  for (std::size_t i = 0; i < 6; ++i) {
    const auto column = static_cast<float>(phone ? 0 : i % 2);
    const auto line = static_cast<float>(phone ? i : i / 2);
    const Rect key{inside.x + column * (wide + gap), inside.y + line * (high + gap), wide, high};
    if (i < reasons.size()) {
      if (draw_act(pen, key, {"clear:" + std::to_string(i + 1), reasons[i], ActStyle::plain, {}, true}))
        wish = keep_cleared(clearing, std::string(reasons[i]));
    } else if (i == 4) {
      if (draw_act(pen, key, {"clear:other", bench_words().reason_other, ActStyle::plain, {}, true}))
        clearing.writing = true;
    } else {
      cancel = draw_act(pen, key, {"clear:cancel", words().cancel, ActStyle::square, {}, true});
    }
  }
  if (cancel) view.ui.health.clearing.reset();
  return wish;
}

// ------------------------------------------------------------------------------------------------ damage

std::string month_short(Month month, float room, Pen& pen) {
  const std::string name = month_name(month.month);
  const std::string three = name.substr(0, 3);
  return pen.width(Type::body_15, three) <= room ? three : name.substr(0, 1);
}

struct GridPlace {
  float label = 0, pitch = 0, row = 0, marks = 0;  // marks: from the row's top
  bool cells = false;                              // each is a control
};
GridPlace grid_place(float width, bool phone) {
  GridPlace place;
  if (phone) {
    place.pitch = width / DamagePicture::months;
    place.row = 88;
    place.marks = 28;
    return place;
  }
  place.label = width >= 980 ? width - 64.0F * DamagePicture::months : 196.0F;
  place.pitch = (width - place.label) / DamagePicture::months;
  place.cells = place.pitch >= 64;
  place.row = 64;
  return place;
}

void draw_damage_row(ScreenView& view, Rect area, const GridPlace& grid, std::size_t at) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  HealthDraft& draft = view.ui.health;
  const DamagePicture::Row& row = draft.damage.rows()[at];
  const bool phone = grid.label == 0;
  const std::string target = "trouble:" + row.key;
  const Rect head =
      grid.cells ? Rect{area.x, area.y + 4, grid.label - 8, 56} : Rect{area.x, area.y + 4, area.w, area.h - 8};
  if (pen.touch.hit(target, head)) draft.listing = Listing{Listing::Of::trouble, row.key, "", {}};
  const bool pressed = is_pressed(pen, target);
  if (pressed) pen.fill(head, t.straw, 6);
  const Color ink = pressed ? t.on_straw : t.ink;
  const Rect label = phone ? Rect{area.x, area.y + 4, area.w, 26} : Rect{area.x, area.y, grid.label - 8, area.h};
  draw_icon(pen, seen_icon(row.cause, row.detail), {label.x + 18, label.middle().y}, phone ? 22.0F : 28.0F,
            pressed ? ink : t.copper);
  const std::string count = grouped(row.all.pots);
  const float count_wide = pen.width(Type::heading_20, count);
  pen.text_in({label.x, label.y, label.w - 8, label.h}, Type::heading_20, ink, count, Align::right);
  const std::string name = trouble_words(row);
  const float room = label.w - 40 - count_wide - 16;
  const Type type = pen.fitting({Type::heading_20, Type::heading_18}, name, room);
  if (pen.width(type, name) <= room) {
    pen.text_in({label.x + 38, label.y, room, label.h}, type, ink, name);
  } else {
    const float high = pen.paragraph_height(room, Type::strong_15, name, 2);
    pen.paragraph({label.x + 38, label.middle().y - high / 2, room, high}, Type::strong_15, ink, name, 2);
  }
  for (std::size_t month = 0; month < DamagePicture::months; ++month) {
    const DamagePicture::Cell& cell = row.by_month[month];
    const Rect place{area.x + grid.label + grid.pitch * static_cast<float>(month), area.y + grid.marks, grid.pitch,
                     grid.row - grid.marks};
    if (cell.pots == 0) {
      pen.disc({place.middle().x, place.y + 26}, 2, pressed ? t.on_straw : t.edge);
      continue;
    }
    bool cell_pressed = pressed;
    if (grid.cells) {
      const Rect key{place.x + 4, place.y + 4, place.w - 8, 56};
      const std::string name_of_cell = "cell:" + row.key + ":" + std::to_string(month);
      if (pen.touch.hit(name_of_cell, key))
        draft.listing = Listing{Listing::Of::trouble, row.key, "", draft.damage.month_names()[month]};
      const Month& of = draft.damage.month_names()[month];
      pen.touch.tell(say(health_words().list_of_month, name, month_name(of.month), of.year) + ": " +
                     counted(cell.pots, "pot", "pots"));
      cell_pressed = is_pressed(pen, name_of_cell);
      if (cell_pressed) pen.fill(key, t.straw, 6);
    }
    const float greatest = std::min(38.0F, grid.pitch - 2);
    const float size = damage_mark_size(cell.pots, draft.damage.most_in_cell(), std::min(18.0F, greatest), greatest);
    draw_damage_mark(pen, {place.middle().x, place.y + 23}, size, cell.worst, cell_pressed ? t.on_straw : t.copper);
    const std::string number = grouped(cell.pots);
    if (cell.pots > 1 && pen.width(Type::strong_15, number) + 2 <= grid.pitch)
      pen.text_in({place.x, place.y + 42, place.w, 16}, Type::strong_15, cell_pressed ? t.on_straw : t.ink, number,
                  Align::middle);
  }
}

void draw_damage_legend(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  float x = area.x;
  const float y = area.middle().y;
  for (const int worst : {1, 2, 3}) {
    draw_damage_mark(pen, {x + 13, y - 2}, 26, worst, t.copper);
    x += 28;
  }
  x += 4 + pen.text(Type::body_15, {x + 4, y + 6}, t.ink2, w.legend_leaves) + 22;
  if (x + 60 + pen.width(Type::body_15, w.legend_many) > area.right()) return;
  draw_damage_mark(pen, {x + 9, y}, 18, 1, t.copper);
  draw_damage_mark(pen, {x + 36, y - 3}, 32, 1, t.copper);
  pen.text(Type::body_15, {x + 58, y + 6}, t.ink2, w.legend_many);
}

void add_damage(ScreenView& view, std::vector<Block>& blocks, float width) {
  Pen& pen = view.pen;
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  const bool phone = view.layout.phone();
  const auto& rows = draft.damage.rows();
  blocks.push_back(heading_block(pen, std::string(w.damage_title)));
  if (rows.empty()) {
    blocks.push_back(paragraph_block(pen, width, Type::body_16, pen.theme.ink2, std::string(w.damage_none), 20));
    return;
  }
  const float edge = phone ? 10.0F : 16.0F;
  const GridPlace grid = grid_place(width - 2 * edge, phone);
  const float heads = 28;
  const float legend = 40;
  const float height = heads + grid.row * static_cast<float>(rows.size()) + legend + 12;
  blocks.push_back(
      {height + 20, [&view, grid, height, edge](Rect area) {
         Pen& p = view.pen;
         const Theme& t = p.theme;
         HealthDraft& now = view.ui.health;
         p.fill({area.x, area.y, area.w, height}, t.sheet, 8);
         const Rect inside{area.x + edge, area.y + 6, area.w - 2 * edge, height - 12};
         for (std::size_t month = 0; month < DamagePicture::months; ++month) {
           const Rect head{inside.x + grid.label + grid.pitch * static_cast<float>(month), inside.y, grid.pitch, 22};
           const Month name = now.damage.month_names()[month];
           p.text_in(head, Type::body_15, t.ink2, month_short(name, grid.pitch - 3, p), Align::middle);
           // A year begins.
           if (name.month == 1 && month > 0)
             p.fill({head.x - 0.75F, head.y, 1.5F, height - 12 - 40}, t.night ? t.ring : t.well);
         }
         const Rect sight = view.layout.window;
         for (std::size_t i = 0; i < now.damage.rows().size(); ++i) {
           const Rect row{inside.x, inside.y + 28 + grid.row * static_cast<float>(i), inside.w, grid.row};
           if (row.bottom() < sight.y || row.y > sight.bottom()) continue;
           if (i > 0) p.fill({row.x, row.y - 0.75F, row.w, 1.5F}, t.night ? t.ring : t.well);
           draw_damage_row(view, row, grid, i);
         }
         draw_damage_legend(view, {inside.x + 4, inside.bottom() - 38, inside.w, 38});
       }});
}

void add_places(ScreenView& view, std::vector<Block>& blocks) {
  Pen& pen = view.pen;
  HealthDraft& draft = view.ui.health;
  const auto& places = draft.damage.places();
  if (places.empty()) return;
  const std::size_t columns = view.layout.phone() ? 1 : view.layout.portrait() ? 2 : 3;
  const std::size_t lines = (places.size() + columns - 1) / columns;
  constexpr float pitch = 64;
  blocks.push_back(heading_block(pen, std::string(health_words().place_title)));
  blocks.push_back({pitch * static_cast<float>(lines) + 16, [&view, columns](Rect area) {
                      Pen& p = view.pen;
                      const Theme& t = p.theme;
                      HealthDraft& now = view.ui.health;
                      const auto& all = now.damage.places();
                      std::int64_t most = 1;
                      for (const auto& place : all) most = std::max(most, place.all.pots);
                      const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
                      for (std::size_t i = 0; i < all.size(); ++i) {
                        const Rect key{area.x + static_cast<float>(i % columns) * (wide + gap),
                                       area.y + pitch * static_cast<float>(i / columns), wide, pitch - gap};
                        if (key.bottom() < 0 || key.y > view.layout.window.bottom()) continue;
                        const std::string target = "place:" + all[i].bench;
                        if (p.touch.hit(target, key)) now.listing = Listing{Listing::Of::place, "", all[i].bench, {}};
                        const bool pressed = is_pressed(p, target);
                        p.label(key, Stake::right, pressed ? t.straw : t.sheet, pressed ? t.on_straw : t.edge);
                        const Color ink = pressed ? t.on_straw : t.ink;
                        draw_damage_mark(p, {key.x + 32, key.middle().y - 1},
                                         damage_mark_size(all[i].all.pots, most, 22, 44), all[i].all.worst,
                                         pressed ? ink : t.copper);
                        const float end = key.right() - 30;
                        const std::string count = grouped(all[i].all.pots);
                        p.text_in({key.x, key.y, end - key.x, key.h}, Type::heading_24, ink, count, Align::right);
                        const float room = end - key.x - 62 - p.width(Type::heading_24, count) - 10;
                        std::string name = bench_words_of(all[i].bench);
                        if (p.width(Type::heading_18, name) > room) name = near_name(name);
                        const Type type = p.fitting({Type::heading_20, Type::heading_18, Type::strong_15}, name, room);
                        p.text_in({key.x + 62, key.y, room, key.h}, type, ink, name);
                      }
                    }});
}

// ------------------------------------------------------------------------------------------------ rows of pots

std::string how_bad_words(const DamageSeen& seen) {
  const std::string what = seen_words(seen.cause, seen.detail);
  if (seen.how_bad < 1 || seen.how_bad > 3) return what;
  return say(health_words().note_line, what, bench_words().how_bad[static_cast<std::size_t>(seen.how_bad)]);
}

float pot_row_height(const Layout& l) {
  return row_height(l, true, 42);
}

// What was noted last on a pot; one that is emptied still has its story.
std::optional<Wish> draw_note_row(ScreenView& view, Rect area, bool rule, const std::string& prefix, const PotId& pot,
                                  const std::string& label, const DamageSeen& seen, bool stands) {
  const HealthWords& w = health_words();
  RowView row;
  row.icon = seen_icon(seen.cause, seen.detail);
  row.tag = label;
  const BatchState* batch = view.rows.batch(pot.batch);
  if (batch != nullptr) row.name = clone_words(*batch);
  row.line = say(w.note_line, how_bad_words(seen), by_of(view, seen.helper, seen.when));
  if (!stands) row.line = say(w.line_more, row.line, w.gone);
  if (!seen.note.empty() && !view.layout.phone() &&
      view.pen.width(Type::body_15, say(w.line_more, row.line, seen.note)) < area.w - 200)
    row.line = say(w.line_more, row.line, seen.note);
  row.target = prefix + label;
  if (draw_row(view.pen, area, row, rule, view.layout.phone())) return go_to_pot(pot);
  return std::nullopt;
}

// ------------------------------------------------------------------------------------------------ not looked at

Keep keep_looked(const NotLooked& bench) {
  const HealthWords& w = health_words();
  Keep keep;
  for (const PotView* pot : bench.pots)
    keep.commands.emplace_back(fact_of(pot->batch.id, pot->pot.pot.number, Looked{}));
  keep.slip = say(w.unseen_kept, bench_words_of(bench.bench), pots_words(static_cast<std::int64_t>(bench.pots.size())));
  return keep;
}

std::string days_words(std::int32_t days) {
  return weeks_between(Day{0}, Day{days});
}

float unseen_height(const Layout& l) {
  return l.phone() ? 132.0F : 76.0F;
}

std::optional<Wish> draw_unseen(ScreenView& view, Rect row, std::size_t at) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  const NotLooked& bench = draft.picture.unseen[at];
  const bool phone = view.layout.phone();
  std::optional<Wish> wish;
  if (at > 0) pen.fill({row.x + 20, row.y - 0.75F, row.w - 40, 1.5F}, t.night ? t.ring : t.well);
  Rect body = row.inset(phone ? 8 : 14, 4);
  Rect act = phone ? body.take_bottom(58, 8) : body.take_right(230, 8);
  act = {act.x, act.middle().y - 28, act.w, 56};
  const std::string target = "unseen:" + bench.bench;
  if (pen.touch.hit(target, body)) draft.listing = Listing{Listing::Of::not_looked, "", bench.bench, {}};
  const bool pressed = is_pressed(pen, target);
  if (pressed) pen.fill(body, t.straw, 6);
  const Color ink = pressed ? t.on_straw : t.ink;
  const Rect inside = body.inset(6, 0);
  draw_icon(pen, Icon::bench, {inside.x + 14, inside.y + 18}, 26, pressed ? ink : t.tunic);
  const float x = inside.x + 40;
  const float room = inside.right() - x;
  std::string name = bench_words_of(bench.bench);
  if (pen.width(Type::heading_18, name) > room) name = near_name(name);
  pen.text_in({x, inside.y + 2, room, 32},
              pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, name, room), ink, name);
  const std::string line =
      say(w.unseen_line, pots_words(static_cast<std::int64_t>(bench.pots.size())), days_words(bench.longest));
  pen.text_in({x, inside.y + 36, room, 22}, Type::body_16, pressed ? ink : t.ink2, line);
  const std::string words_of_act = bench.pots.size() == 1
                                       ? std::string(w.unseen_act_one)
                                       : say(w.unseen_act, grouped(static_cast<std::int64_t>(bench.pots.size())));
  if (draw_act(pen, act, {"looked:" + bench.bench, words_of_act, ActStyle::quiet, Icon::tick, true}))
    wish = keep_looked(bench);
  return wish;
}

// ------------------------------------------------------------------------------------------------ a list

std::optional<Wish> draw_listing(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  const Listing listing = *draft.listing;
  std::optional<Wish> wish;
  std::vector<const DamagePicture::Note*> notes;
  const NotLooked* unseen = nullptr;
  std::string title;
  std::string second;
  if (listing.of == Listing::Of::not_looked) {
    for (const NotLooked& one : draft.picture.unseen) {
      if (one.bench == listing.bench) unseen = &one;
    }
    title = say(w.unseen_list, bench_words_of(listing.bench), days_words(draft.not_looked_days));
    second = pots_words(unseen == nullptr ? 0 : static_cast<std::int64_t>(unseen->pots.size()));
  } else {
    const auto& rows = draft.damage.rows();
    const auto& places = draft.damage.places();
    std::optional<std::size_t> row;
    std::optional<std::size_t> month;
    std::optional<std::size_t> place;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (listing.of == Listing::Of::trouble && rows[i].key == listing.trouble) row = i;
    }
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (listing.of == Listing::Of::place && places[i].bench == listing.bench) place = i;
    }
    for (std::size_t i = 0; listing.month && i < DamagePicture::months; ++i) {
      const Month& one = draft.damage.month_names()[i];
      if (one.year == listing.month->year && one.month == listing.month->month) month = i;
    }
    if (row || place) notes = draft.damage.notes_of(row, month, place);
    title = place ? bench_words_of(listing.bench) : row ? trouble_words(rows[*row]) : listing.trouble;
    if (month) title = say(w.list_of_month, title, month_name(listing.month->month), listing.month->year);
    second = say(w.list_second, pots_words(static_cast<std::int64_t>(notes.size())));
  }
  Rect head = area.take_top(60, 10);
  const Rect close = head.take_right(view.layout.phone() ? 56.0F : 140.0F, 12);
  const Rect key{close.x, close.y, close.w, 56};
  const bool closed = view.layout.phone()
                          ? draw_icon_key(pen, key, "list:close", Icon::back)
                          : draw_act(pen, key, {"list:close", w.close, ActStyle::square, Icon::back, true});
  if (closed) draft.listing.reset();
  pen.text_in({head.x, head.y, head.w, 34},
              pen.fitting({Type::heading_28, Type::heading_24, Type::heading_20, Type::heading_18}, title, head.w),
              t.ink, title);
  pen.text_in({head.x, head.y + 34, head.w, 24}, pen.fitting({Type::body_16, Type::body_15}, second, head.w), t.ink2,
              second);
  const std::size_t count = unseen != nullptr ? unseen->pots.size() : notes.size();
  if (count == 0) {
    const Rect sheet{area.x, area.y, area.w, view.layout.phone() ? 290.0F : 190.0F};
    pen.fill(sheet, t.sheet, 8);
    draw_empty(pen, sheet.inset(20), w.list_none, "", "");
    return wish;
  }
  if (unseen != nullptr) {
    const Rect act = area.take_bottom(64, 12);
    const std::string words_of_act =
        count == 1 ? std::string(w.unseen_act_one) : say(w.unseen_act, grouped(static_cast<std::int64_t>(count)));
    if (draw_act(pen, act, {"looked:" + unseen->bench, words_of_act, ActStyle::main, Icon::tick, true}))
      wish = keep_looked(*unseen);
  }
  const float high = pot_row_height(view.layout);
  std::vector<Block> blocks;
  blocks.push_back(rows_block(view, count, high, [&](Rect row, std::size_t i) {
    if (unseen == nullptr) {
      const DamagePicture::Note& note = *notes[i];
      if (const auto asked = draw_note_row(view, row, i > 0, "list:", note.pot, note.label, note.seen, note.stands))
        wish = asked;
      return;
    }
    const PotView& pot = *unseen->pots[i];
    RowView one;
    one.mark = pot.held ? Mark::on_hold : mark_of(pot.stage);
    one.tag = pot.label;
    one.name = clone_words(pot.batch);
    one.line =
        say(w.note_line, holds_words(pot.batch, pot.pot), say(w.unseen_ago, days_words(days_unseen(pot, view.today))));
    one.target = "list:" + pot.label;
    if (draw_row(pen, row, one, i > 0, view.layout.phone())) wish = go_to_pot(pot.id());
  }));
  draw_blocks(pen, "health:list", area, blocks);
  return wish;
}

}  // namespace

std::optional<Wish> draw_house(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  refresh_picture(view);
  if (draft.clearing) return draw_clearing(view, area);
  if (draft.listing) return draw_listing(view, area);
  std::optional<Wish> wish;
  const HealthDraft::Picture& picture = draft.picture;
  std::vector<Block> blocks;
  blocks.push_back(heading_block(pen, std::string(w.bad_title)));
  if (picture.bad.empty()) {
    blocks.push_back(paragraph_block(pen, area.w, Type::body_16, t.ink2, std::string(w.bad_none), 16));
  } else {
    blocks.push_back(rows_block(view, picture.bad.size(), bad_height(view.layout), [&](Rect row, std::size_t i) {
      if (const auto asked = draw_bad(view, row, i)) wish = asked;
    }));
  }
  add_damage(view, blocks, area.w);
  add_places(view, blocks);
  blocks.push_back(heading_block(pen, std::string(w.unseen_title)));
  blocks.push_back({56 + 12, [&](Rect at) {
                      const float wide = std::min(150.0F, (at.w - 2 * gap) / 3);
                      for (std::size_t i = 0; i < unseen_days.size(); ++i) {
                        const Rect key{at.x + static_cast<float>(i) * (wide + gap), at.y, wide, 56};
                        if (draw_filter(pen, key, "weeks:" + std::to_string(unseen_days[i] / 7), w.unseen_weeks[i],
                                        draft.not_looked_days == unseen_days[i]))
                          draft.not_looked_days = unseen_days[i];
                      }
                    }});
  if (picture.unseen.empty()) {
    blocks.push_back(
        paragraph_block(pen, area.w, Type::body_16, t.ink2, say(w.unseen_none, days_words(draft.not_looked_days)), 16));
  } else {
    blocks.push_back(rows_block(view, picture.unseen.size(), unseen_height(view.layout), [&](Rect row, std::size_t i) {
      if (const auto asked = draw_unseen(view, row, i)) wish = asked;
    }));
  }
  blocks.push_back(heading_block(pen, std::string(w.lately_title)));
  if (picture.lately.empty()) {
    blocks.push_back(paragraph_block(pen, area.w, Type::body_16, t.ink2, std::string(w.lately_none), 16));
  } else {
    blocks.push_back(rows_block(view, picture.lately.size(), pot_row_height(view.layout), [&](Rect row, std::size_t i) {
      const PotView& pot = *picture.lately[i];
      if (const auto asked =
              draw_note_row(view, row, i > 0, "lately:", pot.id(), pot.label, pot.pot.damage.back(), true))
        wish = asked;
    }));
  }
  draw_blocks(pen, "health:house", area, blocks);
  return wish;
}

}  // namespace motherbulb::health
