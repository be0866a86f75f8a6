// Health: what is wrong, where, and what to do about it. Six pages, by keys at the top; each is a file in health/.

#include <algorithm>

#include "app/screens/health/parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/words.hpp"
#include "app/words/health.hpp"

namespace motherbulb {
namespace {

using Page = HealthDraft::Page;
using health::gap;

constexpr std::size_t page_count = 6;

void draw_pages(ScreenView& view) {
  Pen& pen = view.pen;
  const HealthWords& w = health_words();
  Layout& l = view.layout;
  HealthDraft& draft = view.ui.health;
  const std::size_t columns = l.landscape() ? page_count : 3;
  const auto rows = static_cast<float>((page_count + columns - 1) / columns);
  const Rect area = l.content.take_top(rows * (56 + gap) - gap, l.phone() ? 10.0F : 16.0F);
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  for (std::size_t i = 0; i < page_count; ++i) {
    const Rect key{area.x + static_cast<float>(i % columns) * (wide + gap),
                   area.y + static_cast<float>(i / columns) * (56 + gap), wide, 56};
    const bool fits = pen.width(Type::strong_16, w.pages[i]) + 16 <= wide;
    if (!draw_filter(pen, key, "page:" + std::to_string(i), fits ? w.pages[i] : w.pages_short[i],
                     static_cast<std::size_t>(draft.page) == i))
      continue;
    draft.page = static_cast<Page>(i);
    draft.listing.reset();
    draft.clearing.reset();
    draft.pad.clear();
    draft.trouble.reset();
  }
}

// What is open on a page is left first.
bool leave_inner(HealthDraft& draft) {
  if (draft.clearing) {
    draft.clearing.reset();
  } else if (draft.listing) {
    draft.listing.reset();
  } else if (draft.page == Page::troubles && draft.trouble) {
    draft.trouble.reset();
  } else if (!draft.pad.empty()) {
    draft.pad.clear();
  } else {
    return false;
  }
  return true;
}

}  // namespace

std::optional<Wish> draw_health_screen(ScreenView& view) {
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  const int held = view.rows.counts().on_hold;
  Top top;
  top.title = w.title;
  top.second = held == 0 ? std::string(w.second_none) : say(w.second, counted(held, "pot", "pots"));
  top.writes = draft.page == Page::house || draft.page == Page::off_types;
  std::optional<Wish> wish = draw_top(view, top);
  if (wish && std::holds_alternative<GoBack>(*wish) && !view.layout.landscape() && leave_inner(draft)) wish.reset();
  draw_pages(view);
  // The page runs to the window's end, above the bar.
  Rect area = view.layout.content;
  area.h = view.layout.page.bottom() - area.y - (view.layout.landscape() ? 20.0F : 8.0F);
  std::optional<Wish> asked;
  switch (draft.page) {
    case Page::house:
      asked = health::draw_house(view, area);
      break;
    case Page::troubles:
      asked = health::draw_troubles(view, area);
      break;
    case Page::how_many:
      health::draw_sample(view, area);
      break;
    case Page::hot_water:
      health::draw_hot_water(view, area);
      break;
    case Page::treatments:
      asked = health::draw_treatments(view, area);
      break;
    case Page::off_types:
      asked = health::draw_off_types(view, area);
      break;
  }
  return asked ? asked : wish;
}

}  // namespace motherbulb
