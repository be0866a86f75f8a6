#include "app/widgets/descent.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "app/widgets/icons.hpp"
#include "app/widgets/labels.hpp"

namespace motherbulb {
namespace {

constexpr float pi = 3.14159265F;
constexpr std::size_t most_columns = 40;

constexpr float head_height = 34;
constexpr float tag_height = 74;
constexpr float least_across_pitch = 82;  // from slot to slot
constexpr float most_across_pitch = 124;
constexpr float least_across = 158;  // a tag's width
constexpr float most_across = 236;
constexpr float least_strand = 64;
constexpr float down_tag_height = 104;
constexpr float least_down_pitch = 158;  // from row to row
constexpr float most_down_pitch = 300;
constexpr float least_down = 126;
constexpr float most_down = 190;
constexpr float list_pitch = 64;
constexpr float list_height = 56;
constexpr float list_indent = 16;
constexpr std::size_t most_indents = 7;

// ------------------------------------------------------------------------------------------------ arranging

// What a subtree takes up, column by column.
struct Contour {
  std::map<std::size_t, std::pair<float, float>> by_column;
  void add(std::size_t column, float low, float high) {
    const auto [at, fresh] = by_column.try_emplace(column, low, high);
    if (fresh) return;
    at->second.first = std::min(at->second.first, low);
    at->second.second = std::max(at->second.second, high);
  }
};

struct Arranging {
  std::vector<DescentTag>& tags;
  const std::vector<std::vector<std::size_t>>& children;

  void move(std::size_t tag, float by) {
    tags[tag].slot += by;
    for (const std::size_t child : children[tag]) move(child, by);
  }
  // Puts the subtrees side by side as close as they go. Each strand takes room in the columns that it passes.
  Contour side_by_side(const std::vector<std::size_t>& roots, std::size_t from_column) {
    Contour all;
    for (const std::size_t root : roots) {
      Contour one = place(root);
      for (std::size_t c = from_column; c < tags[root].column; ++c) one.add(c, tags[root].slot, tags[root].slot);
      float by = all.by_column.empty() ? 0.0F : -1e9F;
      for (const auto& [column, span] : one.by_column) {
        const auto taken = all.by_column.find(column);
        if (taken != all.by_column.end()) by = std::max(by, taken->second.second + 1 - span.first);
      }
      if (by < -1e8F) by = 0;
      move(root, by);
      for (const auto& [column, span] : one.by_column) all.add(column, span.first + by, span.second + by);
    }
    return all;
  }
  Contour place(std::size_t tag) {
    const std::vector<std::size_t>& own = children[tag];
    if (own.empty()) {
      tags[tag].slot = 0;
    }
    Contour contour = side_by_side(own, tags[tag].column + 1);
    if (!own.empty()) tags[tag].slot = (tags[own.front()].slot + tags[own.back()].slot) / 2;
    contour.add(tags[tag].column, tags[tag].slot, tags[tag].slot);
    return contour;
  }
};

}  // namespace

void DescentTree::arrange(bool every_year) {
  // Only what can be reached from a beginning has a parent; the rest goes round in a ring.
  std::vector<bool> reached(tags.size(), false);
  for (std::size_t i = 0; i < tags.size(); ++i) {
    std::vector<std::size_t> path;
    std::size_t at = i;
    std::set<std::size_t> seen;
    while (!reached[at]) {
      path.push_back(at);
      seen.insert(at);
      if (!tags[at].parent || *tags[at].parent >= tags.size()) {
        tags[at].parent.reset();
        break;
      }
      if (seen.count(*tags[at].parent) > 0) {
        tags[at].parent.reset();
        break;
      }
      at = *tags[at].parent;
    }
    for (const std::size_t one : path) reached[one] = true;
  }
  std::vector<std::vector<std::size_t>> children(tags.size());
  std::vector<std::size_t> roots;
  heaviest = 1;
  for (std::size_t i = 0; i < tags.size(); ++i) {
    heaviest = std::max(heaviest, tags[i].weight);
    tags[i].parent ? children[*tags[i].parent].push_back(i) : roots.push_back(i);
  }
  listed.clear();
  std::vector<std::size_t> stack(roots.rbegin(), roots.rend());
  while (!stack.empty()) {
    const std::size_t tag = stack.back();
    stack.pop_back();
    listed.push_back(tag);
    tags[tag].generation = tags[tag].parent ? tags[*tags[tag].parent].generation + 1 : 0;
    for (auto it = children[tag].rbegin(); it != children[tag].rend(); ++it) stack.push_back(*it);
  }

  // A year opens a new column only where one of its tags has its parent in the present one.
  std::vector<std::size_t> by_year = listed;
  // In one year a parent comes before its child.
  std::stable_sort(by_year.begin(), by_year.end(), [&](std::size_t a, std::size_t b) {
    return tags[a].year != tags[b].year ? tags[a].year < tags[b].year : tags[a].generation < tags[b].generation;
  });
  for (const std::size_t i : listed) tags[i].column = 0;
  std::size_t present = 0;
  for (std::size_t from = 0; from < by_year.size();) {
    std::size_t to = from;
    bool opens = every_year && from > 0;
    while (to < by_year.size() && tags[by_year[to]].year == tags[by_year[from]].year) {
      const DescentTag& tag = tags[by_year[to++]];
      opens = opens || (tag.parent && tags[*tag.parent].year < tag.year && tags[*tag.parent].column >= present);
    }
    if (opens) ++present;
    std::size_t last = present;
    for (std::size_t k = from; k < to; ++k) {
      DescentTag& tag = tags[by_year[k]];
      tag.column = std::max(present, tag.parent ? tags[*tag.parent].column + 1 : 0);
      last = std::max(last, tag.column);
    }
    present = last;
    from = to;
  }
  // Clocks that were off can put a child's year before its parent's.
  for (const std::size_t i : listed) {
    if (tags[i].parent) tags[i].column = std::max(tags[i].column, tags[*tags[i].parent].column + 1);
  }

  columns.clear();
  std::vector<std::set<std::int32_t>> years;
  for (const DescentTag& tag : tags) {
    if (years.size() <= tag.column) years.resize(tag.column + 1);
    years[tag.column].insert(tag.year);
  }
  for (const std::set<std::int32_t>& of : years) {
    DescentColumn column;
    if (!of.empty()) column = {*of.begin(), *of.rbegin(), of.size(), {}};
    columns.push_back(std::move(column));
  }

  slots = 0;
  if (columns.size() > most_columns) return;
  Arranging arranging{tags, children};
  const Contour all = arranging.side_by_side(roots, 0);
  float low = 0;
  float high = 0;
  for (const auto& [column, span] : all.by_column) {
    low = std::min(low, span.first);
    high = std::max(high, span.second);
  }
  for (DescentTag& tag : tags) tag.slot -= low;
  slots = high - low + 1;
}

namespace {

// ------------------------------------------------------------------------------------------------ drawing

float strand_width(const DescentTree& tree, const DescentTag& tag) {
  const float root = std::sqrt(static_cast<float>(std::max<std::int64_t>(tag.weight, 1)));
  const float most = std::sqrt(static_cast<float>(tree.heaviest));
  return 3 + root * std::min(2.7F, 23 / most);
}

// A label whose point goes right or down by `depth`.
std::vector<Point> tag_outline(Rect r, float depth, bool down) {
  constexpr float radius = 5;
  constexpr int steps = 4;
  std::vector<Point> points;
  const auto corner = [&](Point middle, float from) {
    for (int s = 0; s <= steps; ++s) {
      const float angle = from + pi / 2 * static_cast<float>(s) / static_cast<float>(steps);
      points.push_back({middle.x + radius * std::cos(angle), middle.y + radius * std::sin(angle)});
    }
  };
  corner({r.x + radius, r.y + radius}, pi);
  if (down) {
    corner({r.right() - radius, r.y + radius}, 1.5F * pi);
    points.push_back({r.right(), r.bottom() - depth});
    points.push_back({r.middle().x, r.bottom()});
    points.push_back({r.x, r.bottom() - depth});
    return points;
  }
  points.push_back({r.right() - depth, r.y});
  points.push_back({r.right(), r.middle().y});
  points.push_back({r.right() - depth, r.bottom()});
  corner({r.x + radius, r.bottom() - radius}, pi / 2);
  return points;
}

// A strand grows out of its parent's point to its full width.
void draw_strand(Pen& pen, const std::vector<Point>& along, const DescentTree& tree, const DescentTag& tag) {
  const Theme& t = pen.theme;
  if (tag.lost) {
    pen.path(along, t.edge, 2.4F);
    return;
  }
  const float full = strand_width(tree, tag);
  const float least = std::min(full, 7.0F);
  std::vector<Point> outline;
  std::vector<Point> other;
  for (std::size_t i = 0; i < along.size(); ++i) {
    const Point before = along[i == 0 ? 0 : i - 1];
    const Point after = along[i + 1 == along.size() ? i : i + 1];
    const float length = std::max(0.001F, std::hypot(after.x - before.x, after.y - before.y));
    const Point normal{-(after.y - before.y) / length, (after.x - before.x) / length};
    const float share = std::min(1.0F, static_cast<float>(i) / (static_cast<float>(along.size() - 1) * 0.45F));
    const float width = least + (full - least) * share * share * (3 - 2 * share);
    outline.push_back(along[i] + normal * (width / 2));
    other.push_back(along[i] - normal * (width / 2));
  }
  outline.insert(outline.end(), other.rbegin(), other.rend());
  pen.fill_outline(outline, tag.held || tag.marked ? t.tunic : t.leaf_fill);
}

struct TagColors {
  Color stock, outline, ink, ink2, count;
  float edge;
};
TagColors colors_of(const Pen& pen, const DescentTag& tag) {
  const Theme& t = pen.theme;
  if (is_pressed(pen, tag.target)) return {t.straw, t.on_straw, t.on_straw, t.on_straw, t.on_straw, 2};
  if (tag.lost) return {t.pane, t.edge, t.ink2, t.ink2, t.ink2, 2};
  const bool apart = tag.held || tag.marked;
  return {t.sheet,
          apart ? t.tunic : t.ink,
          t.ink,
          t.ink2,
          tag.marked       ? t.tunic
          : tag.weight > 0 ? t.leaf
                           : t.ink2,
          apart ? 3.0F : 2.0F};
}

// The count at the right end of a line, with the mark of what is counted where that is not bulbs. Its width.
float draw_count(Pen& pen, Point right_baseline, const DescentTag& tag, const TagColors& colors) {
  constexpr Type type = Type::heading_24;
  const float middle = right_baseline.y - pen.cap(type) / 2;
  if (tag.held || tag.lost) {
    draw_mark(pen, tag.held ? Mark::on_hold : Mark::lost, {right_baseline.x - 11, middle}, 22);
    return 24;
  }
  const float width = pen.text(type, right_baseline, colors.count, tag.count, Align::right);
  if (!tag.pieces) return width;
  draw_mark(pen, Mark::forming, {right_baseline.x - width - 14, middle}, 20);
  return width + 26;
}

void draw_tag(Pen& pen, Rect r, const DescentTag& tag, bool down) {
  const TagColors colors = colors_of(pen, tag);
  const float depth = down ? 20.0F : 18.0F;
  std::vector<Point> outline = tag_outline(r, depth, down);
  pen.fill_convex(outline, colors.stock);
  pen.path(tag_outline(r.inset(colors.edge / 2), depth, down), colors.outline, colors.edge, true);
  const Rect inside{r.x + 14, r.y, r.w - (down ? 28 : depth + 22), r.h - (down ? depth : 0)};
  const float top = r.y + (down ? 30.0F : 31.0F);
  const float used = draw_count(pen, {inside.right(), top}, tag, colors);
  const float room = inside.w - used - 8;
  const Type label = pen.fitting({Type::heading_20, Type::heading_18}, tag.label, room);
  pen.text(label, {inside.x, top}, colors.ink, pen.fitted(label, tag.label, room));
  const int lines = down ? 2 : 1;
  const bool fits = pen.paragraph_height(inside.w, Type::body_15, tag.line) <= 21.0F * static_cast<float>(lines) + 1;
  pen.paragraph({inside.x, r.y + 40, inside.w, 42}, Type::body_15, colors.ink2, fits ? tag.line : tag.short_line,
                lines);
}

struct Grid {
  float tag_w = 0;
  float column_pitch = 0;
  float slot_pitch = 0;
};
// As much of the room as there is, from the least to the most.
float pitch_in(float room, float steps, float least, float most) {
  return steps > 0 ? std::clamp(room / steps, least, most) : most;
}
float across_pitch(const DescentTree& tree, float room) {
  return pitch_in(room - head_height - 12 - tag_height - 8, tree.slots - 1, least_across_pitch, most_across_pitch);
}
float down_pitch(const DescentTree& tree, float room) {
  return pitch_in(room - head_height - down_tag_height - 8, static_cast<float>(tree.columns.size()) - 1,
                  least_down_pitch, most_down_pitch);
}

Grid grid_of(const DescentTree& tree, Rect area, DescentForm form) {
  const float width = area.w;
  Grid grid;
  const auto columns = static_cast<float>(std::max<std::size_t>(1, tree.columns.size()));
  if (form == DescentForm::across) {
    grid.tag_w = std::clamp((width - (columns - 1) * least_strand) / columns, least_across, most_across);
    grid.column_pitch = columns > 1 ? (width - grid.tag_w) / (columns - 1) : 0;
    grid.slot_pitch = across_pitch(tree, area.h);
  } else {
    grid.tag_w = std::min(most_down, width / std::max(1.0F, tree.slots) - 10);
    grid.slot_pitch = tree.slots > 1 ? (width - grid.tag_w) / (tree.slots - 1) : 0;
    grid.column_pitch = down_pitch(tree, area.h);
  }
  return grid;
}

}  // namespace

DescentForm descent_form(const DescentTree& tree, float width, bool down) {
  if (tree.slots <= 0) return DescentForm::list;
  if (down) return width / tree.slots - 10 >= least_down ? DescentForm::down : DescentForm::list;
  const auto columns = static_cast<float>(tree.columns.size());
  return columns * least_across + (columns - 1) * least_strand <= width ? DescentForm::across : DescentForm::list;
}

float descent_height(const DescentTree& tree, DescentForm form, float room) {
  switch (form) {
    case DescentForm::across:
      return head_height + 12 + (tree.slots - 1) * across_pitch(tree, room) + tag_height + 8;
    case DescentForm::down:
      return head_height + (static_cast<float>(tree.columns.size()) - 1) * down_pitch(tree, room) + down_tag_height + 8;
    case DescentForm::list:
      return static_cast<float>(tree.listed.size()) * list_pitch;
  }
  return 0;
}

namespace {

std::optional<std::size_t> draw_list(Pen& pen, Rect area, float top, const DescentTree& tree) {
  std::vector<std::size_t> line_of(tree.tags.size(), 0);
  for (std::size_t i = 0; i < tree.listed.size(); ++i) line_of[tree.listed[i]] = i;
  const float indent = std::min(list_indent, area.w * 0.05F);
  const auto rect_of = [&](std::size_t tag) {
    const float x = area.x + indent * static_cast<float>(std::min(tree.tags[tag].generation, most_indents));
    return Rect{x, top + list_pitch * static_cast<float>(line_of[tag]), area.right() - x, list_height};
  };
  const auto in_sight = [&](float from, float to) { return to >= area.y && from <= area.bottom(); };
  for (const std::size_t i : tree.listed) {
    const DescentTag& tag = tree.tags[i];
    if (!tag.parent) continue;
    const Rect from = rect_of(*tag.parent);
    const Rect to = rect_of(i);
    if (!in_sight(from.y, to.bottom())) continue;
    // Beyond the deepest step rows stand one under the other: then their own edge leads on.
    const float x = from.x + indent / 2;
    const float wide = std::min(strand_width(tree, tag) * 0.4F + 1, indent * 0.6F);
    const Theme& t = pen.theme;
    const Color color = tag.lost ? t.edge : tag.held || tag.marked ? t.tunic : t.leaf_fill;
    const float w = tag.lost ? 2.0F : wide;
    pen.fill({x - w / 2, from.bottom(), w, to.middle().y - from.bottom() + w / 2}, color);
    pen.fill({x - w / 2, to.middle().y - w / 2, std::max(0.0F, to.x - x + w / 2), w}, color);
  }
  std::optional<std::size_t> tapped;
  for (const std::size_t i : tree.listed) {
    const DescentTag& tag = tree.tags[i];
    const Rect r = rect_of(i);
    if (!in_sight(r.y, r.bottom())) continue;
    if (pen.touch.hit(tag.target, r)) tapped = i;
    const TagColors colors = colors_of(pen, tag);
    const float depth = stake_depth(r.h) * 0.8F;
    pen.fill_convex(tag_outline(r, depth, false), colors.stock);
    pen.path(tag_outline(r.inset(colors.edge / 2), depth, false), colors.outline, colors.edge, true);
    const Rect inside{r.x + 12, r.y, r.w - 12 - depth - 8, r.h};
    const float baseline = r.middle().y + pen.cap(Type::heading_24) / 2;
    const float used = draw_count(pen, {inside.right(), baseline}, tag, colors) + 10;
    const float label = pen.width(Type::heading_18, tag.label);
    const float beside = inside.w - used - label - 12;
    if (beside >= pen.width(Type::body_15, tag.line)) {
      pen.text_in({inside.x, r.y, label + 2, r.h}, Type::heading_18, colors.ink, tag.label);
      pen.text_in({inside.x + label + 12, r.y, beside, r.h}, Type::body_15, colors.ink2, tag.line);
    } else {
      pen.text_in({inside.x, r.y + 6, inside.w - used, 22}, Type::heading_18, colors.ink, tag.label);
      const bool fits = pen.width(Type::body_15, tag.line) <= inside.w - used;
      pen.text_in({inside.x, r.y + 28, inside.w - used, 22}, Type::body_15, colors.ink2,
                  fits ? tag.line : tag.short_line);
    }
  }
  return tapped;
}

}  // namespace

std::optional<std::size_t> draw_descent(Pen& pen, Rect area, float top, const DescentTree& tree, DescentForm form) {
  if (form == DescentForm::list) return draw_list(pen, area, top, tree);
  const Theme& t = pen.theme;
  const bool down = form == DescentForm::down;
  const Grid grid = grid_of(tree, area, form);
  // A low tree stands in the middle of its area.
  const float slack = std::max(0.0F, (area.h - descent_height(tree, form, area.h)) / 2);
  const float slack_across = down ? 0.0F : slack;
  if (down) top += slack;
  const auto rect_of = [&](const DescentTag& tag) {
    const auto column = static_cast<float>(tag.column);
    if (down) {
      const float x = tree.slots > 1 ? area.x + tag.slot * grid.slot_pitch : area.middle().x - grid.tag_w / 2;
      return Rect{x, top + head_height + column * grid.column_pitch, grid.tag_w, down_tag_height};
    }
    return Rect{area.x + column * grid.column_pitch, top + head_height + 12 + slack_across + tag.slot * grid.slot_pitch,
                grid.tag_w, tag_height};
  };
  const auto draw_heads = [&] {
    for (std::size_t c = 0; c < tree.columns.size(); ++c) {
      const auto column = static_cast<float>(c);
      const std::string& words = tree.columns[c].head;
      if (down) {
        // Strands pass behind the years.
        const Rect head{area.x, top + column * grid.column_pitch, pen.width(Type::heading_18, words) + 8, 24};
        pen.fill(head, t.pane, 4);
        pen.text_in(head, Type::heading_18, t.ink2, words);
        continue;
      }
      const Rect head{area.x + column * grid.column_pitch, top, grid.tag_w - 16, 24};
      pen.text_in(head, Type::heading_18, t.ink2, words);
      pen.line({head.x, head.bottom() + 3}, {head.right(), head.bottom() + 3}, t.edge, 1.5F);
    }
  };
  // Wide strands first, so that the thin ones stay in sight; lost ones and those on hold last.
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < tree.tags.size(); ++i) {
    if (tree.tags[i].parent) order.push_back(i);
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const auto rank = [&](std::size_t i) {
      return tree.tags[i].lost ? 0 : tree.tags[i].held || tree.tags[i].marked ? 2 : 1;
    };
    if (rank(a) != rank(b)) return rank(a) < rank(b);
    return tree.tags[a].weight > tree.tags[b].weight;
  });
  for (const std::size_t i : order) {
    const Rect from = rect_of(tree.tags[*tree.tags[i].parent]);
    const Rect to = rect_of(tree.tags[i]);
    if (std::max(from.bottom(), to.bottom()) < area.y || std::min(from.y, to.y) > area.bottom()) continue;
    Point a{from.right() - 6, from.middle().y};
    Point b{to.x + 2, to.middle().y};
    std::vector<Point> along;
    if (down) {
      a = {from.middle().x, from.bottom() - 6};
      b = {to.middle().x, to.y + 2};
      const float half = (b.y - a.y) / 2;
      along = curve(a, {{a.x, a.y + half}, {b.x, b.y - half}, b}, 18);
    } else {
      const float half = std::min(150.0F, (b.x - a.x) / 2);
      along = curve(a, {{a.x + half, a.y}, {b.x - half, b.y}, b}, 18);
    }
    draw_strand(pen, along, tree, tree.tags[i]);
  }
  draw_heads();
  std::optional<std::size_t> tapped;
  for (std::size_t i = 0; i < tree.tags.size(); ++i) {
    const Rect r = rect_of(tree.tags[i]);
    if (r.bottom() < area.y || r.y > area.bottom()) continue;
    if (pen.touch.hit(tree.tags[i].target, r)) tapped = i;
    draw_tag(pen, r, tree.tags[i], down);
  }
  return tapped;
}

}  // namespace motherbulb
