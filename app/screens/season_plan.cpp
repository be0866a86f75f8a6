// This season's plan: what is wanted and within what limits, what to do, and why; of one clone, or of all that share
// bench and hours.

#include <algorithm>

#include "app/screens/outlook/parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb {
namespace {

using ahead::column_height;
using ahead::draw_column;
using ahead::Panel;

std::optional<Wish> draw_panels(ScreenView& view) {
  Pen& pen = view.pen;
  Layout& l = view.layout;
  const Rect area{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  const auto told = ahead::told_of(view);
  const auto missing = [&](float width) { return told ? ahead::missing_panel(view, width, told->missing) : Panel{}; };
  if (!l.landscape()) {
    std::vector<Panel> panels{ahead::limits_panel(view, area.w), ahead::plan_panel(view, area.w, false),
                              ahead::advice_panel(view, area.w), missing(area.w)};
    // On a phone what to do comes first.
    if (l.phone() && view.ui.outlook.typing == OutlookDraft::Typing::none) std::swap(panels[0], panels[1]);
    const float top = pen.begin_scroll("season plan", area, column_height(panels));
    std::optional<Wish> wish = draw_column(area, top, panels, area);
    pen.end_scroll("season plan");
    return wish;
  }
  const Layout::Columns columns = l.columns(area, 0.5F, 18);
  std::vector<Panel> left{ahead::plan_panel(view, columns.reading.w, false)};
  std::vector<Panel> right{ahead::limits_panel(view, columns.acting.w)};
  // What is left goes below the shorter column.
  auto& shorter = column_height(left) < column_height(right) ? left : right;
  shorter.push_back(ahead::advice_panel(view, columns.reading.w));
  return ahead::draw_columns(pen, "season plan", area, columns, left, right, missing(area.w));
}

}  // namespace

std::optional<Wish> draw_season_plan_screen(ScreenView& view) {
  const OutlookWords& w = outlook_words();
  OutlookDraft& draft = view.ui.outlook;
  const std::string& clone = view.ui.about.clone;
  Top top;
  top.title = w.plan_title;
  top.second = clone.empty() ? std::string(w.plan_all) : clone_words(clone);
  top.writes = false;
  std::optional<Wish> wish = draw_top(view, top);
  if (draft.typing != OutlookDraft::Typing::none && wish && std::holds_alternative<GoBack>(*wish)) {
    draft.typing = OutlookDraft::Typing::none;
    return std::nullopt;
  }
  std::optional<Wish> asked;
  const auto& planned = draft.planned;
  const bool current = planned.basis == ahead::basis_now(view);
  const bool nothing = current && !planned.picture && !planned.refused.empty() && !draft.working &&
                       planned.tried == ahead::wanted_of(view);
  if (nothing) {
    asked = ahead::draw_nothing(view, planned.refused, "outlook", w.plan_other, Go{Screen::outlook, {}});
  } else {
    asked = draw_panels(view);
  }
  if (!wish && !asked && ahead::plan_is_due(view)) asked = Reckon{Reckon::What::season_plan};
  return asked ? asked : wish;
}

}  // namespace motherbulb
