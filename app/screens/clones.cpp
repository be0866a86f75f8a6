// The clones of the book: a name, how many there are, how many form; each leads to its descent and balance.

#include <algorithm>
#include <cmath>
#include <map>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/clones.hpp"
#include "core/names.hpp"

namespace motherbulb {
namespace {

using Row = ClonesDraft::Row;

constexpr std::size_t many = 8;  // clones: from here on they are looked for

void refresh_picture(ScreenView& view) {
  ClonesDraft& draft = view.ui.clones;
  auto& picture = draft.picture;
  if (picture.made && picture.revision == view.rows.revision() && picture.search == draft.search &&
      picture.genus == draft.genus)
    return;
  picture = {};
  picture.made = true;
  picture.revision = view.rows.revision();
  picture.search = draft.search;
  picture.genus = draft.genus;
  const std::string wanted = folded_name(draft.search);
  for (const CloneBalance& one : view.rows.stock().balance) {
    ++picture.clones;
    picture.bulbs += one.bulbs.there;
    if (std::find(picture.genera.begin(), picture.genera.end(), one.genus) == picture.genera.end())
      picture.genera.push_back(one.genus);
    if (!draft.genus.empty() && one.genus != draft.genus) continue;
    if (!wanted.empty() && folded_name(one.clone).find(wanted) == std::string::npos) continue;
    picture.rows.push_back(
        {one.clone, one.genus, one.bulbs.there, one.pieces.growing + one.pieces.waiting, one.bulbs.open, one.batches});
  }
  std::sort(picture.genera.begin(), picture.genera.end());
  // A genus that is not in the book any more hides nothing.
  if (!draft.genus.empty() &&
      std::find(picture.genera.begin(), picture.genera.end(), draft.genus) == picture.genera.end()) {
    draft.genus.clear();
    refresh_picture(view);
  }
}

std::string line_of(const Row& row) {
  const ClonesWords& w = clones_words();
  const std::string batches = counted(row.batches, w.batch, w.batches);
  if (row.pieces == 0) return say(w.row, row.genus, batches);
  return say(w.row_forming, row.genus, batches, counted(row.pieces, w.piece_forming, w.pieces_forming));
}

// What came in, and what became of it, as one thin bar: the same areas as in the clone's own balance.
void draw_share(Pen& pen, Rect bar, const CloneBalance& clone) {
  const Theme& t = pen.theme;
  const BulbBalance& b = clone.bulbs;
  const std::int64_t out = b.cut + b.sold + b.given + b.discarded;
  const std::int64_t lost = total(b.lost);
  const std::int64_t all = b.there + out + lost + std::max<std::int64_t>(0, b.open);
  if (all <= 0) return;
  const float whole = bar.w;
  const auto wide = [&](std::int64_t count) { return whole * static_cast<float>(count) / static_cast<float>(all); };
  pen.fill(bar.take_left(wide(b.there)), t.leaf_fill, 0);
  pen.fill(bar.take_left(wide(out)), t.slate_fill, 0);
  const Rect gone = bar.take_left(wide(lost));
  pen.fill(gone, t.error_ground, 0);
  if (gone.w > 2)
    pen.hatch({{gone.x, gone.y}, {gone.right(), gone.y}, {gone.right(), gone.bottom()}, {gone.x, gone.bottom()}},
              t.copper_fill, 2, 5);
  if (bar.w < 2) return;
  pen.dashed_line({bar.x, bar.y + 1}, {bar.right(), bar.y + 1}, t.tunic, 2, 5, 3);
  pen.dashed_line({bar.x, bar.bottom() - 1}, {bar.right(), bar.bottom() - 1}, t.tunic, 2, 5, 3);
}

void draw_clone(Pen& pen, Rect area, const Row& row, const CloneBalance* balance, const std::string& target,
                bool phone) {
  const ClonesWords& w = clones_words();
  const Theme& t = pen.theme;
  const bool pressed = is_pressed(pen, target);
  pen.label(area, Stake::right, pressed ? t.straw : t.sheet, pressed ? t.on_straw : t.ink, 2, 6);
  const Color ink = pressed ? t.on_straw : t.ink;
  const Color ink2 = pressed ? t.on_straw : t.ink2;
  const float end = area.right() - stake_depth(area.h) - (phone ? 6.0F : 16.0F);
  const std::string count = grouped(row.bulbs);
  const std::string_view unit = row.bulbs == 1 ? w.bulb : w.bulbs;
  const float number = std::max(pen.width(Type::numeral_40, count), pen.width(Type::body_15, unit));
  pen.text(Type::numeral_40, {end, area.y + 18 + pen.cap(Type::numeral_40)},
           pressed         ? ink
           : row.bulbs > 0 ? t.leaf
                           : t.ink2,
           count, Align::right);
  pen.text(Type::body_15, {end, area.y + 76}, ink2, unit, Align::right);
  const float x = area.x + (phone ? 16.0F : 24.0F);
  const float room = end - number - 16 - x;
  const std::string name = clone_words(row.clone);
  const Type type = pen.fitting({Type::name_28, Type::name_23}, name, room);
  pen.text_in({x, area.y + 12, room, 36}, type, ink, pen.fitted(type, name, room));
  pen.paragraph({x, area.y + 50, room, 42}, Type::body_15, ink2, line_of(row), 2);
  if (balance != nullptr) draw_share(pen, {x, area.bottom() - 26, room, 10}, *balance);
  if (row.open == 0) return;
  const std::string open = say(w.row_open, grouped(std::abs(row.open)));
  pen.text_in({x, area.y + (phone ? 92.0F : 72.0F), room, 22}, Type::strong_15, pressed ? ink : t.tunic, open);
}

const CloneBalance* balance_of(ScreenView& view, const Row& row) {
  for (const CloneBalance& one : view.rows.stock().balance) {
    if (one.clone == row.clone && one.genus == row.genus) return &one;
  }
  return nullptr;
}

}  // namespace

std::optional<Wish> draw_clones_screen(ScreenView& view) {
  const ClonesWords& w = clones_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  ClonesDraft& draft = view.ui.clones;
  refresh_picture(view);
  const auto& picture = draft.picture;
  Top top;
  top.title = w.title;
  top.second = say(w.second, counted(picture.clones, w.clone, w.clones), counted(picture.bulbs, w.bulb, w.bulbs));
  top.writes = false;
  std::optional<Wish> wish = draw_top(view, top);
  if (draft.searching && wish && std::holds_alternative<GoBack>(*wish)) {
    draft.searching = false;
    wish.reset();
  }

  if (draft.searching) {
    Rect area{l.content.x, l.content.y, std::min(l.content.w, 760.0F), l.page.bottom() - l.content.y};
    const Rect panel = area;
    area.h = std::max(text_entry_height(l.phone()) + 16 + 64, area.h - 24);
    area.y = pen.begin_scroll("search", panel, area.h + 16);
    const Rect keep = area.take_bottom(64, 16);
    const bool enter = draw_text_entry(pen, area, {"letter", w.search_hint, 40, true}, draft.search, l.phone());
    const std::string act =
        say(w.search_done, counted(static_cast<std::int64_t>(picture.rows.size()), w.clone, w.clones));
    if (draw_act(pen, keep, {"search:done", act, ActStyle::main, Icon::find, true}) || enter) draft.searching = false;
    pen.end_scroll("search");
    return wish;
  }

  if (picture.clones == 0) {
    Rect panel = l.content.take_top(l.phone() ? 360.0F : 220.0F);
    pen.fill(panel, pen.theme.sheet, 8);
    if (draw_empty(pen, panel.inset(24), w.none, "cut", w.begin)) wish = Go{Screen::cut, {}};
    return wish;
  }

  // Which are shown: by genus, by name.
  struct Shown {
    std::string target, words;
    bool chosen = false;
  };
  std::vector<Shown> keys;
  if (picture.genera.size() > 1) {
    keys.push_back({"genus:all", say(w.all_genera, picture.clones), draft.genus.empty()});
    for (const std::string& genus : picture.genera) keys.push_back({"genus:" + genus, genus, draft.genus == genus});
  }
  const bool searches = picture.clones > static_cast<std::int64_t>(many) || !draft.search.empty();
  if (searches)
    keys.push_back({"search", draft.search.empty() ? std::string(w.search) : say(w.searched, draft.search),
                    !draft.search.empty()});
  const Rect panel{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  const float gap = 12;
  const std::size_t columns = panel.w > 900 ? 2 : 1;
  const float wide = (panel.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const float high = l.phone() ? 148.0F : 132.0F;

  std::vector<Rect> places;
  float x = 0;
  float y = 0;
  for (const Shown& key : keys) {
    const float own = std::min(panel.w, std::max(72.0F, pen.width(Type::strong_16, key.words) + 36));
    if (x > 0 && x + own > panel.w) {
      x = 0;
      y += 56 + 8;
    }
    places.push_back({panel.x + x, y, own, 56});
    x += own + 8;
  }
  const float filters = keys.empty() ? 0.0F : y + 56 + 16;
  const std::size_t lines = (picture.rows.size() + columns - 1) / columns;
  const float list = picture.rows.empty() ? 200.0F : static_cast<float>(lines) * (high + gap);
  const float act = 64;
  const float start = pen.begin_scroll("clones", panel, filters + list + act + 28);
  for (std::size_t i = 0; i < keys.size(); ++i) {
    if (!draw_filter(pen, places[i].moved(0, start), keys[i].target, keys[i].words, keys[i].chosen)) continue;
    if (keys[i].target == "search") {
      if (draft.search.empty()) draft.searching = true;
      draft.search.clear();
    } else {
      draft.genus = keys[i].target == "genus:all" ? std::string() : keys[i].words;
    }
    pen.touch.scroll_to("clones", 0);
  }
  const float from = start + filters;
  if (picture.rows.empty()) {
    const Rect sheet{panel.x, from, panel.w, list - 12};
    pen.fill(sheet, pen.theme.sheet, 8);
    draw_empty(pen, sheet.inset(20), w.none_match, "", "");
  }
  for (std::size_t line = 0; line < lines; ++line) {
    const float at = from + static_cast<float>(line) * (high + gap);
    if (at + high < panel.y || at > panel.bottom()) continue;
    for (std::size_t c = 0; c < columns && line * columns + c < picture.rows.size(); ++c) {
      const Row& row = picture.rows[line * columns + c];
      const Rect area{panel.x + static_cast<float>(c) * (wide + gap), at, wide, high};
      const std::string target = "clone:" + row.clone + ":" + row.genus;
      if (pen.touch.hit(target, area)) {
        Subject about;
        about.clone = row.clone;
        about.genus = row.genus;
        wish = Go{Screen::clone, about};
      }
      draw_clone(pen, area, row, balance_of(view, row), target, l.phone());
    }
  }
  const Rect cut{panel.x, from + list, std::min(panel.w, 360.0F), act};
  if (draw_act(pen, cut, {"cut", w.begin, ActStyle::main, Icon::cutting, true})) wish = Go{Screen::cut, {}};
  pen.end_scroll("clones");
  return wish;
}

}  // namespace motherbulb
