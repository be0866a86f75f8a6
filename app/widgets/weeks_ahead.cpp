#include "app/widgets/weeks_ahead.hpp"

#include <algorithm>
#include <string>

#include "app/widgets/labels.hpp"
#include "app/words.hpp"
#include "app/words/rest.hpp"

namespace motherbulb {
namespace {

// From the bench up: what must not be missed stands lowest.
constexpr std::array<Step, 9> from_below{Step::start, Step::dry_off, Step::repot, Step::unpot, Step::uncover,
                                         Step::grade, Step::look,    Step::water, Step::feed};
constexpr std::size_t signed_steps = 4;  // those with a sign of their own; the others are plain

constexpr float stake_high = 20;
constexpr float stake_pitch = 22;
constexpr float week_wide = 46;

Color stock_of(const Theme& t, Step step) {
  switch (step) {
    case Step::start:
      return t.leaf_fill;
    case Step::dry_off:
      return t.copper_fill;
    case Step::repot:
      return t.slate_fill;
    case Step::unpot:
      return t.tunic;
    default:
      return t.edge;
  }
}

void draw_legend(Pen& pen, Rect line) {
  const Theme& t = pen.theme;
  const RestWords& w = rest_words();
  constexpr std::array<Step, 5> steps{Step::start, Step::dry_off, Step::repot, Step::unpot, Step::look};
  const std::array<std::string_view, 5> words{w.legend_start, w.legend_dry_off, w.legend_repot, w.legend_unpot,
                                              w.legend_other};
  // The fifth gives way where there is no room for it.
  float all = 0;
  std::size_t shown = 0;
  for (; shown < steps.size(); ++shown) {
    const float wide = 24 + pen.width(Type::strong_15, words[shown]);
    if (all + wide + 6 * static_cast<float>(shown) > line.w) break;
    all += wide;
  }
  const float gap = shown > 1 ? std::clamp((line.w - all) / static_cast<float>(shown - 1), 4.0F, 18.0F) : 0;
  float x = line.x;
  for (std::size_t i = 0; i < shown; ++i) {
    draw_step_stake(pen, {x + 8, line.middle().y}, stake_high, steps[i]);
    const float wide = pen.width(Type::strong_15, words[i]);
    pen.text_in({x + 21, line.y, wide + 2, line.h}, Type::strong_15, t.ink, words[i]);
    x += 24 + wide + gap;
  }
}

}  // namespace

WeeksAhead weeks_ahead(const std::vector<DueGroup>& due, Day today, std::size_t weeks) {
  WeeksAhead ahead;
  const Day monday{today.days - (iso_week(today).weekday - 1)};
  for (std::size_t i = 0; i < weeks; ++i) {
    WeeksAhead::Week week;
    week.week = iso_week(Day{monday.days + 7 * static_cast<std::int32_t>(i)}).week;
    ahead.weeks.push_back(week);
  }
  for (const DueGroup& group : due) {
    const std::int32_t from = std::max(0, group.due().opens.days - monday.days) / 7;
    if (static_cast<std::size_t>(from) >= weeks) continue;
    ++ahead.weeks[static_cast<std::size_t>(from)].work[static_cast<std::size_t>(group.due().step)];
  }
  return ahead;
}

void draw_step_stake(Pen& pen, Point m, float height, Step step) {
  const Theme& t = pen.theme;
  const bool plain =
      std::find(from_below.begin(), from_below.begin() + signed_steps, step) == from_below.begin() + signed_steps;
  const float h = plain ? height * 0.8F : height;
  const float half = h * 0.4F;
  const float low = m.y + height / 2;
  const float top = low - h;
  const float neck = low - h * 0.3F;
  pen.fill_convex({{m.x - half, top}, {m.x + half, top}, {m.x + half, neck}, {m.x, low}, {m.x - half, neck}},
                  stock_of(t, step));
  if (plain) return;
  const float s = height / 20;
  const Point sign{m.x, m.y - 3 * s};
  const Color ink = step == Step::unpot ? t.on_tunic : t.sheet;
  switch (step) {
    case Step::start:
      pen.fill_convex(
          {{sign.x - 4 * s, sign.y + 3.5F * s}, {sign.x, sign.y - 4 * s}, {sign.x + 4 * s, sign.y + 3.5F * s}}, ink);
      break;
    case Step::dry_off:
      pen.line({sign.x - 4 * s, sign.y - 3.5F * s}, {sign.x + 4 * s, sign.y + 3.5F * s}, ink, 2 * s);
      break;
    case Step::repot:
      pen.fill({sign.x - 3.5F * s, sign.y - 3.5F * s, 7 * s, 7 * s}, ink);
      break;
    default:
      pen.disc(sign, 3.4F * s, ink);
      break;
  }
}

bool draw_weeks_ahead(Pen& pen, Rect area, std::string_view target, const WeeksAhead& ahead) {
  const Theme& t = pen.theme;
  const RestWords& w = rest_words();
  pen.fill(area, t.sheet, 8);
  const bool tapped = pen.touch.hit(target, area);
  if (is_pressed(pen, target)) pen.frame(area, t.night ? t.straw : t.ink, 3, 8);
  Rect inside = area.inset(area.w < 340 ? 14 : 24, 14);
  const Rect title = inside.take_top(28, 4);
  pen.text_in(title, Type::heading_24, t.ink, w.weeks_title);
  draw_icon(pen, Icon::next, {title.right() - 6, title.middle().y}, 18, t.tunic);
  draw_legend(pen, inside.take_top(26, 6));
  const auto shown = std::min<std::size_t>(ahead.weeks.size(), static_cast<std::size_t>(inside.w / week_wide));
  if (shown == 0) return tapped;
  const float wide = inside.w / static_cast<float>(shown);
  const float bench = inside.bottom() - 28;
  const auto high = static_cast<std::int32_t>((bench - 3 - inside.y) / stake_pitch);
  const auto across = std::max(2, static_cast<std::int32_t>(wide / 20));
  const Rect now{inside.x + 1, inside.y - 4, wide - 4, inside.bottom() - inside.y + 8};
  pen.fill(now, t.night ? t.straw_large : t.straw, 6);
  for (std::size_t i = 0; i < shown; ++i) {
    const WeeksAhead::Week& week = ahead.weeks[i];
    const float left = inside.x + wide * static_cast<float>(i);
    const float middle = left + wide / 2 - (i == 0 ? 1.0F : 0.0F);
    std::int32_t all = 0;
    for (const std::int32_t count : week.work) all += count;
    // Where not all of them fit, the top row says how many more there are.
    const std::int32_t most = all > across * high ? across * (high - 1) : all;
    const std::int32_t row_of = std::min(across, std::max(2, all));
    std::int32_t at = 0;
    for (const Step step : from_below) {
      for (std::int32_t n = 0; n < week.work[static_cast<std::size_t>(step)] && at < most; ++n, ++at) {
        const auto column = static_cast<float>(at % row_of);
        const auto row = static_cast<float>(at / row_of);
        const float x = middle + 20 * (column - (static_cast<float>(row_of) - 1) / 2);
        draw_step_stake(pen, {x, bench - 4 - stake_high / 2 - row * stake_pitch}, stake_high, step);
      }
    }
    const Color ink = i == 0 ? t.on_straw : t.ink;
    if (most < all) {
      const std::string more = say(w.weeks_more, grouped(all - most));
      const float y = bench - 4 - stake_high - static_cast<float>(high - 1) * stake_pitch;
      pen.text_in({left, y, wide - 2, stake_high}, Type::heading_18, ink, more, Align::middle);
    }
    pen.text_in({left, bench + 4, wide - 2, 24}, i == 0 ? Type::heading_20 : Type::heading_18, ink,
                std::to_string(week.week), Align::middle);
  }
  pen.fill({inside.x, bench - 1.5F, inside.w, 3}, t.ink);
  return tapped;
}

}  // namespace motherbulb
