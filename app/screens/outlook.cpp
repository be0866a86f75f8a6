// The outlook: which clone, and the years ahead of one: how sure what is wanted is, how many there may be, by size, and
// what would change it.

#include <algorithm>
#include <cmath>

#include "app/screens/outlook/parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/size_columns.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb {
namespace {

using ahead::basis_now;
using ahead::between;
using ahead::column_height;
using ahead::draw_column;
using ahead::draw_nothing;
using ahead::gap;
using ahead::Panel;

constexpr float sizes_high = 84;

// ------------------------------------------------------------------------------------------------ which clone

struct CloneRow {
  const CloneBalance* clone = nullptr;
  std::string line;
  BulbsByGrade sizes;
};

std::vector<CloneRow> clone_rows(ScreenView& view) {
  const OutlookWords& w = outlook_words();
  std::vector<CloneRow> rows;
  for (const CloneBalance& one : view.rows.stock().balance) {
    const std::int64_t pieces = one.pieces.growing + one.pieces.waiting;
    if (one.clone.empty() || (one.bulbs.there <= 0 && pieces <= 0)) continue;
    CloneRow row{&one, one.genus, {}};
    if (pieces > 0) row.line = say(w.row_growing, one.genus, counted(pieces, w.piece, w.pieces));
    for (const StockRow& stock : view.rows.stock().rows) {
      if (stock.clone == one.clone && stock.genus == one.genus && stock.bulbs > 0)
        row.sizes[stock.grade] += stock.bulbs;
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

// What is said of it, and below that what stands there by size. All of it is one control.
bool draw_clone_row(ScreenView& view, Rect area, Rect upper, RowView row, const BulbsByGrade& sizes, bool rule_above) {
  Pen& pen = view.pen;
  const std::string target = row.target;
  row.target.clear();
  const bool tapped = pen.touch.hit(target, area.inset(0, 4));
  if (is_pressed(pen, target)) pen.frame(area.inset(4, 4), pen.theme.straw, 4, 6);
  Rect words_at = upper;
  words_at.w -= 28;
  draw_row(pen, words_at, row, false, view.layout.phone());
  if (rule_above)
    pen.fill({area.x + 20, area.y - 0.75F, area.w - 40, 1.5F}, pen.theme.night ? pen.theme.ring : pen.theme.well);
  draw_icon(pen, Icon::next, {area.right() - 26, area.middle().y}, 20, pen.theme.tunic);
  const float across = 20;
  draw_size_columns(pen, {area.x + across, upper.bottom() + 6, area.w - 2 * across - 28, sizes_high}, sizes);
  return tapped;
}

Go go_to_clone(Screen screen, const std::string& clone, const std::string& genus) {
  Subject about;
  about.clone = clone;
  about.genus = genus;
  return Go{screen, about};
}

// ------------------------------------------------------------------------------------------------ one clone

std::string records_words(const OutlookPicture& picture) {
  return say(outlook_words().from_records, std::lround(picture.known.growth.from_records * 100));
}

// What leads on from here: the cuts of the clone, another clone.
Panel links_panel(ScreenView& view, float width, bool with_other) {
  const bool stacked = with_other && width < 420;
  return {stacked ? 2 * 56.0F + gap : 56.0F, [&view, stacked, with_other](Rect area) -> std::optional<Wish> {
            const OutlookWords& w = outlook_words();
            Pen& pen = view.pen;
            std::optional<Wish> wish;
            const Rect first = stacked      ? area.take_top(56, gap)
                               : with_other ? area.take_left((area.w - gap) / 2, gap)
                                            : area.take_left(std::min(area.w, 300.0F));
            if (draw_act(pen, first, {"yields", w.gave, ActStyle::link, Icon::cutting, true}))
              wish = go_to_clone(Screen::yields, view.ui.about.clone, view.ui.about.genus);
            if (!with_other) return wish;
            if (draw_act(pen, area, {"other", w.other, ActStyle::link, Icon::clones, true}))
              wish = Go{Screen::outlook, {}};
            return wish;
          }};
}

std::optional<Wish> draw_panels(ScreenView& view, bool other_above) {
  Pen& pen = view.pen;
  Layout& l = view.layout;
  const Rect area{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  if (!l.landscape()) {
    const float fan = l.phone() ? 330.0F : 340.0F;
    std::vector<Panel> panels{
        ahead::chance_panel(view, area.w),       ahead::fan_panel(view, area.w, fan),
        ahead::plan_panel(view, area.w, true),   ahead::ladder_panel(view, area.w),
        ahead::levers_panel(view, area.w),       ahead::places_panel(view, area.w),
        links_panel(view, area.w, !other_above), ahead::missing_panel(view, area.w, view.ui.outlook.shown->missing)};
    const float top = pen.begin_scroll("ahead", area, column_height(panels));
    std::optional<Wish> wish = draw_column(area, top, panels, area);
    pen.end_scroll("ahead");
    return wish;
  }
  const Layout::Columns columns = l.columns(area, 0.57F, 18);
  const Panel chance = ahead::chance_panel(view, columns.reading.w);
  // The first of the page is whole in the window.
  const float fan = std::max(300.0F, area.h - chance.height - between - 24 - 50);
  std::vector<Panel> left{chance, ahead::fan_panel(view, columns.reading.w, fan),
                          ahead::levers_panel(view, columns.reading.w)};
  std::vector<Panel> right{ahead::plan_panel(view, columns.acting.w, true),
                           ahead::ladder_panel(view, columns.acting.w)};
  // What is left goes below the shorter column.
  if (column_height(left) < column_height(right)) {
    left.push_back(ahead::places_panel(view, columns.reading.w));
  } else {
    right.push_back(ahead::places_panel(view, columns.acting.w));
  }
  if (column_height(left) < column_height(right)) {
    left.push_back(links_panel(view, columns.reading.w, !other_above));
  } else {
    right.push_back(links_panel(view, columns.acting.w, !other_above));
  }
  return ahead::draw_columns(pen, "ahead", area, columns, left, right,
                             ahead::missing_panel(view, area.w, view.ui.outlook.shown->missing));
}

}  // namespace

std::optional<Wish> draw_outlook_screen(ScreenView& view) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  Top top;
  top.title = w.title;
  top.second = w.second;
  top.writes = false;
  std::optional<Wish> wish = draw_top(view, top);
  const std::vector<CloneRow> rows = clone_rows(view);
  if (rows.empty()) {
    if (auto asked = draw_nothing(view, w.none, "cut", w.begin, Go{Screen::cut, {}})) wish = std::move(asked);
    return wish;
  }
  const Rect panel{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  // On a phone a row is as high as the longest of them asks for.
  float line_high = 21;
  for (const CloneRow& row : rows) {
    if (!l.phone()) break;
    const float beside =
        std::max(pen.width(Type::numeral_40, grouped(row.clone->bulbs.there)), pen.width(Type::body_15, w.bulbs));
    line_high =
        std::max(line_high, pen.paragraph_height(l.content.w - 28 - 24 - 20 - 14 - beside, Type::body_15, row.line, 3));
  }
  const float words_high = row_height(l, false, line_high);
  const float row_high = words_high + sizes_high + 20;
  // All of them share bench and hours.
  const float all_high = rows.size() > 1 ? 56.0F + 16 : 0.0F;
  const float height = all_high + row_high * static_cast<float>(rows.size()) + 20;
  const float start = pen.begin_scroll("outlook", panel, height) + all_high;
  if (all_high > 0 && draw_act(pen, {panel.x, start - all_high, std::min(panel.w, 420.0F), 56},
                               {"plan:all", w.plan_for_all, ActStyle::link, Icon::clones, true})) {
    pen.touch.scroll_to("season plan", 0);
    wish = Go{Screen::season_plan, {}};
  }
  const Rect sheet{panel.x, start, panel.w, row_high * static_cast<float>(rows.size())};
  pen.fill(sheet, pen.theme.sheet, 8);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Rect area{sheet.x, sheet.y + row_high * static_cast<float>(i), sheet.w, row_high};
    if (area.bottom() < panel.y) continue;
    if (area.y > panel.bottom()) break;
    const CloneBalance& clone = *rows[i].clone;
    RowView row;
    row.with_mark = false;
    row.name = clone_words(clone.clone);
    row.line = rows[i].line;
    row.right = grouped(clone.bulbs.there);
    row.right_word = clone.bulbs.there == 1 ? w.bulb : w.bulbs;
    row.target = "ahead:" + clone.clone + ":" + clone.genus;
    const Rect upper{area.x, area.y, area.w, words_high};
    const bool tapped = draw_clone_row(view, area, upper, row, rows[i].sizes, i > 0);
    if (tapped) {
      pen.touch.scroll_to("ahead", 0);
      wish = go_to_clone(Screen::clone_outlook, clone.clone, clone.genus);
    }
  }
  pen.end_scroll("outlook");
  return wish;
}

std::optional<Wish> draw_clone_outlook_screen(ScreenView& view) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  OutlookDraft& draft = view.ui.outlook;
  auto& known = draft.ahead;
  const bool current = known.basis == basis_now(view);
  const bool ready = current && known.picture && !known.picture->nothing_stands();
  std::optional<Wish> wish;

  const std::string clone = clone_words(view.ui.about.clone);
  const float kept = kept_room(view);
  const float link = pen.width(Type::heading_20, w.other) + 80;
  // Beside a long name, or what was just kept, another clone is chosen below.
  const bool other_above = !l.phone() && pen.width(Type::name_36, clone) + kept + link + 100 < l.head.w;
  const std::string second = ready ? records_words(*known.picture) : view.ui.about.genus;
  if (draw_head(pen, l, {clone, second, true, true, kept + (other_above ? link + 16 : 0), {}, false}).back)
    wish = GoBack{};
  if (other_above) {
    const Rect act{l.head.right() - kept - link, l.portrait() ? 28.0F : 24.0F, link, 56};
    if (draw_act(pen, act, {"other", w.other, ActStyle::link, Icon::clones, true})) wish = Go{Screen::outlook, {}};
  }
  if (draw_kept(view)) wish = UndoKept{};
  if (draw_trouble(view)) wish = PutErrorAside{};
  if (draft.typing != OutlookDraft::Typing::none && wish && std::holds_alternative<GoBack>(*wish)) {
    draft.typing = OutlookDraft::Typing::none;
    return std::nullopt;
  }

  std::optional<Wish> asked;
  const Reckon reckon{Reckon::What::outlook};
  if (!current) {
    draft.typing = OutlookDraft::Typing::none;
    pen.paragraph(l.content.inset(0, 20), Type::body_18, pen.theme.ink2, w.waits, 2);
    if (!wish) wish = reckon;
    return wish;
  }
  if (known.stopped) {
    asked = draw_nothing(view, w.stopped, "again", w.again, reckon);
  } else if (!known.refused.empty()) {
    asked = draw_nothing(view, known.refused, "other:none", w.other, Go{Screen::outlook, {}});
  } else if (!ready) {
    asked = draw_nothing(view, say(w.nothing_stands, clone), "cut", w.cut,
                         go_to_clone(Screen::cut, view.ui.about.clone, view.ui.about.genus));
  } else {
    ahead::refresh_shown(view);
    asked = draw_panels(view, other_above);
    if (!wish && !asked && ahead::plan_is_due(view)) asked = Reckon{Reckon::What::season_plan};
  }
  return asked ? asked : wish;
}

}  // namespace motherbulb
