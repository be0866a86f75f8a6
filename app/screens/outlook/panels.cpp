// What the panels of outlook and plan share: how they stand in a column, what is wanted, and how a number is changed.

#include <algorithm>

#include "app/screens/outlook/parts.hpp"
#include "app/widgets/label_keys.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb::ahead {
namespace {

constexpr float key = 56;

std::optional<Wish> draw_typing(ScreenView& view, Rect area) {
  using Typing = OutlookDraft::Typing;
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  OutlookDraft& draft = view.ui.outlook;
  OutlookDraft::Wanted& wanted = wanted_of(view);
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(across(view), 14);
  const bool of_target = draft.typing == Typing::target;
  const std::string_view hint = of_target ? w.target_hint : draft.typing == Typing::pots ? w.pots_hint : w.hours_hint;
  pen.text_in(inside.take_top(30, 4), Type::heading_20, t.ink, hint);
  Rect acts = inside.take_bottom(64, gap);
  const std::int64_t typed = draft.typed.empty() ? 0 : std::stoll(draft.typed);
  pen.text_in(inside.take_top(52, 6), Type::numeral_40, t.tunic, typed > 0 ? grouped(typed) : "–");
  const KeysAnswer answer =
      draw_keys(pen, inside, {"1234567890", view.layout.phone() ? 3UL : 6UL, "", false, true, !draft.typed.empty()});
  if (answer.undo && !draft.typed.empty()) draft.typed.pop_back();
  if (answer.typed != 0 && !(draft.typed.empty() && answer.typed == '0')) {
    draft.typed.push_back(answer.typed);
    if (std::stoll(draft.typed) > most_target) draft.typed = std::to_string(most_target);
  }
  const auto set = [&](std::optional<std::int64_t> limit) {
    if (of_target) {
      wanted.target = typed;
    } else {
      (draft.typing == Typing::pots ? wanted.pots : wanted.hours) = limit;
    }
    draft.typing = Typing::none;
  };
  if (!of_target) {
    const Rect none = acts.take_left((acts.w - gap) / 2, gap);
    if (draw_act(pen, none, {"typed:none", w.limit_none, ActStyle::square, {}, true})) {
      set(std::nullopt);
      return std::nullopt;
    }
  }
  const std::string act = typed > 0 ? say(w.target_keep, grouped(typed)) : std::string(w.target_empty);
  if (draw_act(pen, acts, {"typed:keep", act, ActStyle::main, Icon::tick, typed > 0})) set(typed);
  return std::nullopt;
}

}  // namespace

OutlookDraft::Basis basis_now(const ScreenView& view) {
  return {view.ui.about.clone, view.ui.about.genus, view.rows.revision(), view.today};
}

OutlookDraft::Wanted& wanted_of(ScreenView& view) {
  return view.ui.outlook.wanted[{view.ui.about.clone, view.ui.about.genus}];
}

std::optional<Wish> draw_column(Rect area, float top, const std::vector<Panel>& panels, Rect sight) {
  std::optional<Wish> wish;
  float y = top;
  for (const Panel& panel : panels) {
    if (panel.height <= 0) continue;
    const Rect at{area.x, y, area.w, panel.height};
    y += panel.height + between;
    if (at.bottom() < sight.y || at.y > sight.bottom()) continue;
    if (auto asked = panel.draw(at)) wish = std::move(asked);
  }
  return wish;
}

float column_height(const std::vector<Panel>& panels) {
  float height = 0;
  for (const Panel& panel : panels) height += panel.height > 0 ? panel.height + between : 0;
  return height;
}

std::optional<Wish> draw_columns(Pen& pen, std::string_view scroll, Rect area, const Layout::Columns& columns,
                                 const std::vector<Panel>& reading, const std::vector<Panel>& acting,
                                 const Panel& below) {
  std::optional<Wish> wish;
  const auto take = [&](std::optional<Wish> asked) {
    if (asked) wish = std::move(asked);
  };
  const float both = std::max(column_height(reading), column_height(acting));
  const float top = pen.begin_scroll(scroll, area, both + column_height({below}));
  take(draw_column(columns.reading, top, reading, area));
  take(draw_column(columns.acting, top, acting, area));
  take(draw_column(area, top + both, {below}, area));
  pen.end_scroll(scroll);
  return wish;
}

std::optional<Wish> draw_nothing(ScreenView& view, std::string_view sentence, std::string_view target,
                                 std::string_view act, const Wish& wish) {
  Layout& l = view.layout;
  const Rect panel = l.content.take_top(l.phone() ? 360.0F : 220.0F);
  view.pen.fill(panel, view.pen.theme.sheet, 8);
  if (draw_empty(view.pen, panel.inset(24), sentence, target, act)) return wish;
  return std::nullopt;
}

Stepped draw_stepper(Pen& pen, Rect row, const Stepper& stepper) {
  Stepped stepped;
  const std::string& said = stepper.said;
  if (draw_act(pen, row.take_left(key, gap), {stepper.name + ":less", "", ActStyle::plain, Icon::minus, stepper.less}))
    stepped.by = -1;
  if (draw_act(pen, row.take_right(key, gap), {stepper.name + ":more", "", ActStyle::plain, Icon::plus, stepper.more}))
    stepped.by = 1;
  if (stepper.opens) {
    stepped.middle = draw_act(pen, row, {stepper.name + ":type", said, ActStyle::plain, {}, true});
  } else {
    pen.text_in(row, pen.fitting({Type::strong_18, Type::strong_16, Type::strong_15}, said, row.w), pen.theme.ink, said,
                Align::middle);
  }
  return stepped;
}

Panel typing_panel(ScreenView& view) {
  const float rows = view.layout.phone() ? 4.0F : 2.0F;
  return {28 + 34 + 58 + rows * (60 + gap) + 64 + gap, [&view](Rect area) { return draw_typing(view, area); }};
}

}  // namespace motherbulb::ahead
