// What the cuts of a clone gave: plain counts first, then what the next mother may give, way by way; each opens into
// the pots it was made from.

#include <algorithm>
#include <cmath>

#include "app/screens/outlook/parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/size_columns.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"
#include "app/yields_picture.hpp"

namespace motherbulb {
namespace {

using ahead::between;
using ahead::Panel;

constexpr float sizes_high = 112;
constexpr float pot_high = 76;
constexpr float compare_high = 46;

std::string way_words(const YieldRow& row) {
  const OutlookWords& w = outlook_words();
  return say(w.way_into, name_of(row.method), row.sections_each);
}

std::string dead_words(const LossByCause& dead) {
  const OutlookWords& w = outlook_words();
  if (total(dead) == 0) return std::string(w.counts_no_dead);
  std::string causes;
  for (std::size_t i = 0; i < dead.size(); ++i) {
    if (dead[i] == 0) continue;
    if (!causes.empty()) causes += ", ";
    causes += say(w.counts_dead_part, grouped(dead[i]), name_of(static_cast<Cause>(i)));
  }
  return say(w.counts_dead, grouped(total(dead)), causes);
}

std::string sections_words(const YieldRow& row, std::int64_t count) {
  return pieces_word(
      row.method == Method::twin_scaling || row.method == Method::scaling ? row.method : Method::chipping, count);
}

std::string_view piece_word(Method method) {
  const OutlookWords& w = outlook_words();
  if (method == Method::twin_scaling) return w.twin_scale;
  return method == Method::scaling ? w.scale : w.section;
}

std::string counts_words(const YieldRow& row) {
  const OutlookWords& w = outlook_words();
  std::string said = say(w.counts_pots, counted(row.pots, w.pot, w.pots), sections_words(row, row.sections));
  if (row.alive_of > 0) said += "; " + say(w.counts_alive, grouped(row.alive), grouped(row.alive_of));
  return said + "; " + dead_words(row.dead);
}

// The greatest end of a band of all ways: they share one scale.
double most_of(const YieldsPicture& picture) {
  double most = 1;
  for (const YieldsOfWay& way : picture.ways) {
    if (way.row.answer) most = std::max(most, way.row.answer->per_mother.p95);
  }
  return most;
}

// From the twentieth lowest to the twentieth highest, and the middle of all.
void draw_range(Pen& pen, Rect track, const YieldRange& range, double most) {
  const Theme& t = pen.theme;
  const auto x = [&](double count) {
    return track.x + track.w * static_cast<float>(std::clamp(count / most, 0.0, 1.0));
  };
  pen.fill(track, t.night ? t.ring : t.well, 4);
  pen.fill({x(range.p5), track.y, std::max(4.0F, x(range.p95) - x(range.p5)), track.h}, mix(t.sheet, t.leaf_fill, 0.5F),
           4);
  pen.fill({x(range.mean) - 2, track.y - 4, 4, track.h + 8}, t.leaf, 2);
}

// ------------------------------------------------------------------------------------------------ side by side

Panel compare_panel(ScreenView& view, float width, const YieldsPicture& picture) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  if (picture.left_whole.empty()) return {};
  const float across = ahead::across(view);
  const std::string text = say(w.compare_said, grade_words(picture.mother));
  const float said = pen.paragraph_height(width - 2 * across, Type::body_15, text, 4);
  const float height = 28 + 38 + said + 10 + 56 + 12 + compare_high * static_cast<float>(picture.ways.size() + 1);
  return {height, [&view, &pen, &w, &picture, across, said, text](Rect area) -> std::optional<Wish> {
            const Theme& t = pen.theme;
            pen.fill(area, t.sheet, 8);
            Rect at = area.inset(across, 14);
            pen.text_in(at.take_top(34, 4), Type::heading_24, t.ink, w.compare_title);
            pen.paragraph(at.take_top(said, 10), Type::body_15, t.ink2, text, 4);
            std::size_t& season = view.ui.outlook.compared_in;
            season = std::clamp<std::size_t>(season, 1, picture.left_whole.size());
            const Rect keys = at.take_top(56, 12);
            const ahead::Stepped stepped = ahead::draw_stepper(
                pen, {keys.x, keys.y, std::min(keys.w, 360.0F), keys.h},
                {"compared", ahead::month_after(view, season), season > 1, season < picture.left_whole.size(), false});
            double most = picture.left_whole[season - 1];
            for (const YieldsOfWay& way : picture.ways) most = std::max(most, way.saleable[season - 1]);
            const auto row = [&](const std::string& name, double saleable) {
              Rect whole = at.take_top(compare_high);
              const Rect line = whole.take_top(24);
              pen.text_in(line, Type::body_16, t.ink, name);
              pen.text_in(line, Type::strong_16, t.leaf, ahead::few_words(saleable), Align::right);
              const Rect track{whole.x, whole.y + 4, whole.w, 8};
              pen.fill(track, t.night ? t.ring : t.well, 4);
              const float share = most > 0 ? static_cast<float>(saleable / most) : 0.0F;
              pen.fill({track.x, track.y, std::max(4.0F, track.w * share), track.h}, t.leaf_fill, 4);
            };
            for (const YieldsOfWay& way : picture.ways) row(way_words(way.row), way.saleable[season - 1]);
            row(std::string(w.left_whole), picture.left_whole[season - 1]);
            if (stepped.by > 0) ++season;
            if (stepped.by < 0) --season;
            return std::nullopt;
          }};
}

// ------------------------------------------------------------------------------------------------ one way

std::string pot_line(const FinishedPot& pot, const YieldRow& row) {
  const OutlookWords& w = outlook_words();
  const std::string bulblets = counted(total(pot.bulblets), w.bulblet, w.bulblets);
  if (!pot.alive) return say(w.pot_line_unseen, sections_words(row, pot.pieces), bulblets);
  return say(w.pot_line, grouped(*pot.alive), grouped(pot.pieces), bulblets);
}

std::optional<Wish> draw_pots(ScreenView& view, Rect area, const YieldsOfWay& way, std::size_t number) {
  std::optional<Wish> wish;
  const float out = std::min(20.0F, ahead::across(view) - 4);  // a row has a margin of its own
  for (std::size_t i = 0; i < way.pots.size(); ++i) {
    const FinishedPot& pot = way.pots[i];
    const Rect at{area.x, area.y + pot_high * static_cast<float>(i), area.w, pot_high};
    if (at.bottom() < 0) continue;
    if (at.y > view.layout.window.bottom()) break;
    const BatchState* batch = view.rows.batch(pot.batch);
    RowView row;
    row.with_mark = false;
    row.tag = batch != nullptr ? pot_label(*batch, pot.pot) : std::to_string(pot.pot);
    row.line = pot_line(pot, way.row);
    row.target = "yield:pot:" + std::to_string(number) + ":" + row.tag + ":" + std::to_string(i);
    if (draw_row(view.pen, {at.x - out, at.y, at.w + 2 * out, at.h}, row, i > 0, false))
      wish = Go{Screen::pot, {{{pot.batch, pot.pot}}, {}, {}, {}, {}}};
  }
  return wish;
}

struct WayTexts {
  std::string counts, bulblets, from, estimate, own;
  float counts_high = 0, own_high = 0;
};

WayTexts texts_of(Pen& pen, const YieldRow& row, float width) {
  const OutlookWords& w = outlook_words();
  WayTexts texts;
  texts.counts = counts_words(row);
  const std::int64_t bulblets = total(row.bulblets);
  texts.bulblets = counted(bulblets, w.bulblet, w.bulblets);
  if (row.sections > 0)
    texts.from = say(w.for_each, ahead::few_words(static_cast<double>(bulblets) / static_cast<double>(row.sections)),
                     piece_word(row.method));
  if (row.answer) {
    const YieldRange& range = row.answer->per_mother;
    texts.estimate = say(w.from_to, ahead::rounded_words(range.p5), ahead::rounded_words(range.p95));
    texts.own = say(w.own, std::lround(row.answer->from_records * 100));
  } else {
    texts.own = w.no_estimate;
  }
  texts.counts_high = pen.paragraph_height(width, Type::body_16, texts.counts, 4);
  texts.own_high = pen.paragraph_height(width, Type::body_16, texts.own, 3);
  return texts;
}

void draw_estimate(Pen& pen, Rect& at, const YieldRow& row, const WayTexts& texts, double most) {
  const OutlookWords& w = outlook_words();
  const Theme& t = pen.theme;
  if (row.answer) {
    const Rect line = at.take_top(30, 2);
    pen.text_in(line, Type::strong_18, t.ink, w.next_mother);
    pen.text_in(line, Type::heading_24, t.leaf, say(w.about, ahead::few_words(row.answer->per_mother.mean)),
                Align::right);
    const Rect track = at.take_top(20);
    draw_range(pen, {track.x, track.y + 6, track.w, 10}, row.answer->per_mother, most);
    pen.text_in(at.take_top(24), Type::body_16, t.ink2, texts.estimate);
  }
  pen.paragraph(at.take_top(texts.own_high, 10), Type::body_16, t.ink2, texts.own, 3);
}

Panel way_panel(ScreenView& view, float width, const YieldsPicture& picture, std::size_t number) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const YieldsOfWay& way = picture.ways[number];
  const float across = ahead::across(view);
  const WayTexts texts = texts_of(pen, way.row, width - 2 * across);
  const bool open = view.ui.outlook.opened == number;
  float height = 28 + 34 + 28 + texts.counts_high + 10 + 36 + 26 + sizes_high + 12;
  height += (way.row.answer ? 76.0F : 0.0F) + texts.own_high + 10 + 56;
  if (open) height += 8 + pot_high * static_cast<float>(way.pots.size());
  return {
      height, [&view, &pen, &w, &way, &picture, across, texts, open, number](Rect area) -> std::optional<Wish> {
        const Theme& t = pen.theme;
        const YieldRow& row = way.row;
        std::optional<Wish> wish;
        pen.fill(area, t.sheet, 8);
        Rect at = area.inset(across, 14);
        pen.text_in(at.take_top(34), Type::heading_24, t.ink, way_words(row));
        const std::string mothers =
            row.girth_said ? say(w.way_from, ahead::few_words(row.girth_cm)) : std::string(w.way_from_unsaid);
        pen.text_in(at.take_top(28), Type::body_15, t.ink2, mothers);
        pen.paragraph(at.take_top(texts.counts_high, 10), Type::body_16, t.ink, texts.counts, 4);
        const Rect line = at.take_top(36);
        const float wide = pen.text_in(line, Type::heading_28, t.leaf, texts.bulblets);
        pen.text_in({line.x + wide + 14, line.y + 3, line.w - wide - 14, line.h}, Type::body_16, t.ink2, texts.from);
        pen.text_in(at.take_top(26), Type::body_15, t.ink2, w.by_size);
        draw_size_columns(pen, at.take_top(sizes_high, 12), row.bulblets);
        draw_estimate(pen, at, row, texts, most_of(picture));
        const std::string act =
            open ? std::string(w.pots_hide) : counted(static_cast<std::int64_t>(way.pots.size()), w.pot, w.pots);
        const Rect key = at.take_top(56, 8);
        if (draw_act(pen, {key.x, key.y, std::min(key.w, 220.0F), key.h},
                     {"yield:open:" + std::to_string(number), act, ActStyle::quiet, Icon::pots, true})) {
          if (open) {
            view.ui.outlook.opened.reset();
          } else {
            view.ui.outlook.opened = number;
          }
        }
        if (open) wish = draw_pots(view, at, way, number);
        return wish;
      }};
}

Panel left_out_panel(const ScreenView& view, float width, const YieldsPicture& picture) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  std::string said;
  if (picture.taken_pots > 0) said = say(w.left_out_taken, counted(picture.taken_pots, w.pot, w.pots));
  if (picture.uncounted_pots > 0) {
    if (!said.empty()) said += " ";
    said += say(w.left_out_uncounted, counted(picture.uncounted_pots, w.pot, w.pots));
  }
  if (said.empty()) return {};
  return {pen.paragraph_height(width, Type::body_15, said) + 8, [&pen, said](Rect area) -> std::optional<Wish> {
            pen.paragraph(area, Type::body_15, pen.theme.ink2, said);
            return std::nullopt;
          }};
}

std::optional<Wish> draw_ways(ScreenView& view, const YieldsPicture& picture) {
  Pen& pen = view.pen;
  Layout& l = view.layout;
  const Rect area{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  const std::size_t columns = l.landscape() ? 2 : 1;
  const float wide = (area.w - 18 * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  std::vector<Panel> panels{compare_panel(view, wide, picture)};
  for (std::size_t i = 0; i < picture.ways.size(); ++i) panels.push_back(way_panel(view, wide, picture, i));
  panels.push_back(left_out_panel(view, wide, picture));
  // Each below the shorter column.
  std::vector<float> ends(columns, 0);
  std::vector<Rect> places;
  for (const Panel& panel : panels) {
    const auto at = static_cast<std::size_t>(std::min_element(ends.begin(), ends.end()) - ends.begin());
    places.push_back({area.x + (wide + 18) * static_cast<float>(at), ends[at], wide, panel.height});
    if (panel.height > 0) ends[at] += panel.height + between;
  }
  std::optional<Wish> wish;
  const float top = pen.begin_scroll("yields", area, *std::max_element(ends.begin(), ends.end()));
  for (std::size_t i = 0; i < panels.size(); ++i) {
    const Rect at = places[i].moved(0, top);
    if (panels[i].height <= 0 || at.bottom() < area.y || at.y > area.bottom()) continue;
    if (auto asked = panels[i].draw(at)) wish = std::move(asked);
  }
  pen.end_scroll("yields");
  return wish;
}

}  // namespace

std::optional<Wish> draw_yields_screen(ScreenView& view) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  const auto& known = view.ui.outlook.yields;
  const bool current = known.basis == ahead::basis_now(view);
  const std::string clone = clone_words(view.ui.about.clone);
  Top top;
  top.title = w.yields_title;
  top.second = clone;
  if (current && known.picture) {
    std::int64_t pots = 0;
    for (const YieldsOfWay& way : known.picture->ways) pots += way.row.pots;
    if (pots > 0) top.second = say(w.yields_second, clone, counted(pots, w.pot, w.pots));
  }
  top.writes = false;
  std::optional<Wish> wish = draw_top(view, top);
  // One way alone has room for its pots.
  if (current && known.picture && view.ui.outlook.opened_of != known.picture) {
    view.ui.outlook.opened_of = known.picture;
    view.ui.outlook.opened.reset();
    if (known.picture->ways.size() == 1) view.ui.outlook.opened = 0;
  }
  const Reckon reckon{Reckon::What::yields};
  if (!current) {
    pen.paragraph(l.content.inset(0, 20), Type::body_18, pen.theme.ink2, w.waits, 2);
    if (!wish) wish = reckon;
    return wish;
  }
  const auto nothing = [&](std::string_view sentence, std::string_view act, const Wish& then) {
    if (auto asked = ahead::draw_nothing(view, sentence, "yields:act", act, then)) wish = std::move(asked);
  };
  if (known.stopped) {
    nothing(w.stopped, w.again, reckon);
  } else if (!known.refused.empty()) {
    nothing(known.refused, w.again, reckon);
  } else if (known.picture->ways.empty()) {
    nothing(say(w.yields_none, clone), w.yields_to_unpot, Go{Screen::unpot_choose, {}});
  } else if (auto asked = draw_ways(view, *known.picture)) {
    wish = std::move(asked);
  }
  return wish;
}

}  // namespace motherbulb
