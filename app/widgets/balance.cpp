#include "app/widgets/balance.hpp"

#include <algorithm>
#include <cmath>

namespace motherbulb {
namespace {

constexpr float apart = 8;
constexpr float in_height = 28;
constexpr float ribbon_height = 20;
constexpr float out_height = 32;
constexpr float least_width = 22;

struct Placed {
  const BalancePart* part;
  Rect bar;
  float from = 0;  // where its ribbon leaves the upper bar
  float to = 0;
  bool words_fit = false;
};

std::vector<Placed> place(Pen& pen, Rect area, const BalanceView& view) {
  std::vector<Placed> placed;
  std::int64_t sum = 0;
  for (const BalancePart& part : view.parts) {
    if (part.count == 0) continue;
    placed.push_back({&part, {}, 0, 0, false});
    sum += std::abs(part.count);
  }
  if (placed.empty() || sum == 0) return placed;
  const float room = area.w - apart * static_cast<float>(placed.size() - 1);
  // True widths; a part too thin to be seen takes the least width from the others.
  std::vector<float> widths;
  float thin = 0;
  float wide = 0;
  for (const Placed& p : placed) {
    const float true_width = room * static_cast<float>(std::abs(p.part->count)) / static_cast<float>(sum);
    widths.push_back(true_width);
    (true_width < least_width ? thin : wide) += true_width < least_width ? least_width : true_width;
  }
  const float shrink = wide > 0 ? (room - thin) / wide : 1;
  float x = area.x;
  float from = area.x;
  for (std::size_t i = 0; i < placed.size(); ++i) {
    Placed& p = placed[i];
    const float w = widths[i] < least_width ? least_width : widths[i] * shrink;
    p.bar = {x, area.y + in_height + ribbon_height, w, out_height};
    p.from = from;
    p.to = from + area.w * static_cast<float>(std::abs(p.part->count)) / static_cast<float>(sum);
    from = p.to;
    x += w + apart;
    p.words_fit = pen.width(Type::heading_20, p.part->words) + 16 <= w;
  }
  return placed;
}

}  // namespace

float balance_height(Pen& pen, float width, const BalanceView& view) {
  for (const Placed& p : place(pen, {0, 0, width, 80}, view)) {
    if (!p.words_fit) return 104;
  }
  return 80;
}

void draw_balance(Pen& pen, Rect area, const BalanceView& view) {
  const Theme& t = pen.theme;
  const std::vector<Placed> placed = place(pen, area, view);
  pen.fill({area.x, area.y, area.w, in_height}, t.ink, 4);
  pen.text_in({area.x + 12, area.y, area.w - 24, in_height}, Type::heading_20, t.on_ink, view.in_words);
  if (placed.empty()) {
    const Rect rest{area.x, area.y + in_height + ribbon_height, area.w, out_height};
    pen.fill(rest, t.well, 4);
    return;
  }
  std::string below;
  for (const Placed& p : placed) {
    Color stock = t.leaf_bar;
    Color ribbon = mix(t.leaf_fill, t.pane, 0.72F);
    switch (p.part->kind) {
      case BalancePart::Kind::there:
        break;
      case BalancePart::Kind::increase:
        stock = t.leaf_bar;
        break;
      case BalancePart::Kind::out:
        stock = t.sold;
        ribbon = mix(t.slate_fill, t.pane, 0.72F);
        break;
      case BalancePart::Kind::lost:
        stock = t.error_ground;
        ribbon = mix(t.copper_fill, t.pane, 0.72F);
        break;
      case BalancePart::Kind::open:
        stock = t.sheet;
        ribbon = mix(t.tunic, t.pane, 0.72F);
        break;
    }
    const float top = area.y + in_height;
    if (p.part->kind == BalancePart::Kind::increase) {
      // What grew was not in: its bar has no ribbon from above.
    } else {
      pen.fill_convex({{p.from, top}, {p.to, top}, {p.bar.right(), p.bar.y}, {p.bar.x, p.bar.y}}, ribbon);
    }
    const std::string count = std::to_string(std::abs(p.part->count));
    const std::string& shown = p.words_fit ? p.part->words : count;
    if (!p.words_fit) below += (below.empty() ? "" : ", ") + p.part->words;
    switch (p.part->kind) {
      case BalancePart::Kind::there:
      case BalancePart::Kind::increase:
      case BalancePart::Kind::out: {
        pen.fill(p.bar, stock, 4);
        const Color words = p.part->kind == BalancePart::Kind::out ? t.ink : t.on_leaf_bar;
        pen.text_in(p.bar, Type::heading_20, words, shown, Align::middle);
        break;
      }
      case BalancePart::Kind::lost: {
        pen.fill(p.bar, stock, 0);
        pen.hatch(
            {{p.bar.x, p.bar.y}, {p.bar.right(), p.bar.y}, {p.bar.right(), p.bar.bottom()}, {p.bar.x, p.bar.bottom()}},
            mix(t.copper_fill, t.sheet, 0.25F), 2, 5);
        const float w = pen.width(Type::heading_20, shown) + 12;
        pen.fill({p.bar.middle().x - w / 2, p.bar.y + 5, w, out_height - 10}, t.sheet, 4);
        pen.text_in(p.bar.inset(2, 0), Type::heading_20, t.ink, shown, Align::middle);
        break;
      }
      case BalancePart::Kind::open:
        pen.fill(p.bar, stock, 0);
        pen.dashed_line({p.bar.x, p.bar.y + 1}, {p.bar.right(), p.bar.y + 1}, t.tunic, 2, 6, 4);
        pen.dashed_line({p.bar.x, p.bar.bottom() - 1}, {p.bar.right(), p.bar.bottom() - 1}, t.tunic, 2, 6, 4);
        pen.text_in(p.bar.inset(2, 0), Type::heading_20, t.ink, shown, Align::middle);
        break;
    }
  }
  if (!below.empty()) {
    pen.text_in({area.x, area.y + 84, area.w, 20}, Type::body_15, t.ink2, below, Align::right);
  }
}

}  // namespace motherbulb
