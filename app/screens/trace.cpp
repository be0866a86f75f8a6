// From a bad pot to all that it may have touched: ranked, on its descent and on its bench; all put on hold in one tap.

#include <algorithm>
#include <map>

#include "app/screens/health/parts.hpp"
#include "app/widgets/bench.hpp"
#include "app/widgets/descent.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/health.hpp"

namespace motherbulb {
namespace {

using health::Block;
using health::gap;
using View = HealthDraft::TraceView;

constexpr std::int64_t most_free = 400;  // positions drawn free between two pots of a bench
constexpr std::size_t most_trails = 6;

std::string pots_words(std::size_t count) {
  return counted(static_cast<std::int64_t>(count), "pot", "pots");
}

// ------------------------------------------------------------------------------------------------ what is shown

bool held_already(const ScreenView& view, const PotId& id) {
  const BatchState* batch = view.rows.batch(id.batch);
  if (id.number == 0) return batch != nullptr && batch->held;
  const PotView* pot = view.rows.filled(id);
  return pot != nullptr && pot->held;
}

std::shared_ptr<const DescentTree> tree_of(const ScreenView& view, HealthDraft::Traced& traced) {
  const HealthWords& w = health_words();
  std::vector<const BatchState*> batches;
  for (const BatchState* batch : view.rows.batches()) {
    if (batch->begun && batch->clone == traced.clone && batch->genus == traced.genus) batches.push_back(batch);
  }
  std::sort(batches.begin(), batches.end(), [](const BatchState* a, const BatchState* b) {
    if (a->begun_on.utc_ms != b->begun_on.utc_ms) return a->begun_on.utc_ms < b->begun_on.utc_ms;
    return a->id < b->id;
  });
  std::map<BatchId, std::size_t> touched;
  for (const Touched& one : traced.trace.pots) ++touched[one.pot.batch];
  std::map<BatchId, std::size_t> index;
  for (std::size_t i = 0; i < batches.size(); ++i) index[batches[i]->id] = i;
  auto tree = std::make_shared<DescentTree>();
  traced.tree_batches.clear();
  for (const BatchState* batch : batches) {
    DescentTag tag;
    // Two batches may bear one label.
    tag.target = "batch:" + batch_words(*batch) + ":" + hex(batch->id).substr(0, 6);
    tag.label = batch_words(*batch);
    const auto found = touched.find(batch->id);
    const std::size_t count = found == touched.end() ? 0 : found->second;
    tag.weight = static_cast<std::int64_t>(count);
    tag.count = count == 0 ? std::string() : grouped(tag.weight);
    tag.marked = count > 0;
    tag.held = batch->id == traced.pot.batch;
    tag.line = tag.held    ? std::string(w.found_here)
               : count > 0 ? say(w.touched, pots_words(count))
                           : std::string(w.untouched);
    tag.short_line = tag.line;
    tag.year = civil(local_day(batch->begun_on)).year;
    if (batch->parent) {
      const auto parent = index.find(*batch->parent);
      if (parent != index.end()) tag.parent = parent->second;
    }
    traced.tree_batches.push_back(batch->id);
    tree->tags.push_back(std::move(tag));
  }
  tree->arrange(false);
  for (DescentColumn& column : tree->columns) {
    column.head =
        column.years <= 1 ? std::to_string(column.first_year) : say(w.years, column.first_year, column.last_year);
  }
  return tree;
}

void fill_bench(ScreenView& view, HealthDraft::Traced& traced) {
  std::map<PotId, bool> touched;
  for (const Touched& one : traced.trace.pots) touched[one.pot] = true;
  for (const BenchView& bench : view.rows.benches()) {
    if (bench.name != traced.bench || bench.name.empty()) continue;
    std::int64_t position = 1;
    for (const PotView* pot : bench.pots) {
      if (pot->place.position > 0) {
        if (pot->place.position - position > most_free) position = pot->place.position;
        for (; position < pot->place.position; ++position) traced.bench_slots.push_back({});
        position = std::max<std::int64_t>(position, pot->place.position + std::int64_t{1});
      }
      traced.bench_slots.push_back({pot, touched.count(pot->id()) > 0});
    }
  }
}

void refresh_trace(ScreenView& view, const PotId& pot) {
  HealthDraft::Traced& traced = view.ui.health.traced;
  if (traced.made && traced.revision == view.rows.revision() && traced.pot == pot) return;
  traced = {};
  traced.made = true;
  traced.revision = view.rows.revision();
  traced.pot = pot;
  auto found = trace(view.rows.book(), pot);
  if (!found) {
    traced.failed = sentence_of(found.error());
    return;
  }
  traced.trace = std::move(*found);
  const BatchState* batch = view.rows.batch(pot.batch);
  if (batch == nullptr) return;
  traced.label = pot_label(*batch, pot.number);
  traced.clone = batch->clone;
  traced.genus = batch->genus;
  // An emptied pot is traced too: it stood where it stood.
  PotState state;
  state.pot = pot;
  if (pot.number != 0) {
    if (const auto known = view.rows.book().pot(pot)) state = *known;
    traced.bench = split_place(place_of(*batch, state)).bench;
  } else {
    traced.bench = split_place(batch->place).bench;
  }
  traced.why = reason_of(*batch, state);
  traced.held = on_hold(*batch, state);
  for (const Touched& one : traced.trace.pots) traced.held_already.push_back(held_already(view, one.pot));
  traced.tree = tree_of(view, traced);
  fill_bench(view, traced);
  traced.bring = true;
}

// ------------------------------------------------------------------------------------------------ on hold

// Of a reason, or of all; those that are on hold already are left as they are.
std::vector<std::size_t> to_hold(const HealthDraft::Traced& traced, std::optional<TouchedBy> reason) {
  std::vector<std::size_t> pots;
  for (std::size_t i = 0; i < traced.trace.pots.size(); ++i) {
    if ((!reason || traced.trace.pots[i].reason == *reason) && !traced.held_already[i]) pots.push_back(i);
  }
  return pots;
}

Keep keep_held(const HealthDraft::Traced& traced, const std::vector<std::size_t>& pots) {
  const HealthWords& w = health_words();
  const std::string reason =
      traced.why.empty() ? say(w.trace_reason_plain, traced.label) : say(w.trace_reason, traced.label, traced.why);
  Keep keep;
  for (const std::size_t i : pots) {
    const PotId& pot = traced.trace.pots[i].pot;
    keep.commands.emplace_back(fact_of(pot.batch, pot.number, Held{reason}));
  }
  keep.slip = say(w.trace_kept, pots_words(pots.size()));
  return keep;
}

std::optional<Wish> draw_hold_all(ScreenView& view, Rect area) {
  const HealthWords& w = health_words();
  const HealthDraft::Traced& traced = view.ui.health.traced;
  Pen& pen = view.pen;
  std::optional<Wish> wish;
  if (!traced.held) {
    const std::string text = say(w.trace_hold_source, traced.label);
    const float wide = std::min(area.w * 0.44F, pen.width(Type::heading_20, text) + 70);
    if (draw_act(pen, area.take_left(wide, gap), {"trace:hold-source", text, ActStyle::quiet, {}, true})) {
      Keep keep;
      keep.commands = {fact_of(traced.pot.batch, traced.pot.number,
                               Held{traced.why.empty() ? std::string(w.found_reason) : traced.why})};
      keep.slip = say(w.kept_held, traced.label);
      wish = keep;
    }
  }
  const std::vector<std::size_t> pots = to_hold(traced, std::nullopt);
  std::string text = pots.empty() ? std::string(w.trace_all_held)
                                  : say(w.trace_hold_all, grouped(static_cast<std::int64_t>(pots.size())));
  if (!pots.empty() && pen.width(Type::heading_18, text) + 80 > area.w)
    text = say(w.trace_hold_short, grouped(static_cast<std::int64_t>(pots.size())));
  if (pots.empty() && pen.width(Type::heading_18, text) + 80 > area.w) text = w.trace_held_short;
  if (draw_act(pen, area, {"trace:hold-all", text, ActStyle::main, Icon::hold, !pots.empty()}))
    wish = keep_held(traced, pots);
  return wish;
}

// ------------------------------------------------------------------------------------------------ ranked

std::string step_words(const Touched& one) {
  const HealthWords& w = health_words();
  switch (one.reason) {
    case TouchedBy::descent:
      if (one.steps == 0) return std::string(w.step_same_batch);
      return one.steps == 1 ? std::string(w.step_descent_one) : say(w.step_descent, one.steps);
    case TouchedBy::blade:
      return one.steps <= 1 ? std::string(w.step_blade_one) : say(w.step_blade, one.steps);
    case TouchedBy::pot:
      return std::string(w.step_pot);
    case TouchedBy::bench:
      return std::string(one.steps == 0 ? w.step_bench_same : one.steps == 1 ? w.step_bench_next : w.step_bench);
  }
  return "";
}

std::string trail_words(const Trace::Trail& trail) {
  const HealthWords& w = health_words();
  const std::string plants = counted(trail.plants, w.plant, w.plants);
  std::string came;
  switch (trail.end) {
    case Trace::End::disinfected:
      came = trail.plants == 0 ? std::string(w.trail_disinfected_at_once) : say(w.trail_disinfected, plants);
      break;
    case Trace::End::twentieth:
      came = say(w.trail_twentieth, plants);
      break;
    case Trace::End::last_cut:
      came = trail.plants == 0 ? std::string(w.trail_last_none) : say(w.trail_last, plants);
      break;
  }
  return trail.helper.empty() ? say(w.trail_of, trail.batch, came) : say(w.trail_by, trail.batch, trail.helper, came);
}

void add_trails(ScreenView& view, std::vector<Block>& blocks, float width) {
  const HealthWords& w = health_words();
  Pen& pen = view.pen;
  const auto& trails = view.ui.health.traced.trace.trails;
  if (trails.empty()) return;
  blocks.push_back(health::heading_block(pen, std::string(w.trail_title)));
  for (std::size_t i = 0; i < trails.size() && i < most_trails; ++i)
    blocks.push_back(
        health::paragraph_block(pen, width, Type::body_16, pen.theme.ink, trail_words(trails[trails.size() - 1 - i])));
  if (trails.size() > most_trails) {
    const std::string more = counted(static_cast<std::int64_t>(trails.size() - most_trails), w.cut, w.cuts);
    blocks.push_back(health::paragraph_block(pen, width, Type::body_16, pen.theme.ink2, say(w.trails_more, more)));
  }
  blocks.push_back({10, {}});
}

std::optional<Wish> draw_touched(ScreenView& view, Rect row, std::size_t at, bool rule) {
  const HealthWords& w = health_words();
  const HealthDraft::Traced& traced = view.ui.health.traced;
  const Touched& one = traced.trace.pots[at];
  RowView shown;
  shown.tag = one.label;
  shown.name = clone_words(one.clone);
  const PotView* pot = view.rows.filled(one.pot);
  shown.mark = traced.held_already[at] ? Mark::on_hold : pot != nullptr ? mark_of(pot->stage) : Mark::forming;
  std::string said = step_words(one);
  if (pot == nullptr) said = say(w.place_line, w.waits, said);
  if (traced.held_already[at]) said = say(w.place_line, w.trace_held, said);
  shown.line = said;
  if (pot != nullptr) {
    // The place without its house where there is no room for it, and left out where even that is too long.
    PlaceParts near = pot->place;
    near.bench = near_name(near.bench);
    const float room = view.layout.phone() ? 2 * (row.w - 110) : row.w - 184;
    for (const std::string& place : {join_place(near), join_place(pot->place)}) {
      const std::string longer = say(w.place_line, said, place);
      if (!place.empty() && view.pen.width(Type::body_15, longer) <= room) shown.line = longer;
    }
  }
  // A pot may be touched for one reason only, so that its label names the row.
  shown.target = "touched:" + one.label;
  if (draw_row(view.pen, row, shown, rule, view.layout.phone())) return health::go_to_pot(one.pot);
  return std::nullopt;
}

std::optional<Wish> draw_groups(ScreenView& view, Rect area) {
  const HealthWords& w = health_words();
  const HealthDraft::Traced& traced = view.ui.health.traced;
  Pen& pen = view.pen;
  std::optional<Wish> wish;
  std::vector<Block> blocks;
  const auto& pots = traced.trace.pots;
  for (std::size_t first = 0; first < pots.size();) {
    const TouchedBy reason = pots[first].reason;
    std::size_t end = first;
    while (end < pots.size() && pots[end].reason == reason) ++end;
    const auto which = static_cast<std::size_t>(reason);
    blocks.push_back(health::heading_block(pen, say(w.trace_group, w.trace_groups[which], pots_words(end - first))));
    blocks.push_back(
        health::paragraph_block(pen, area.w, Type::body_16, pen.theme.ink2, std::string(w.trace_why[which]), 10));
    const std::vector<std::size_t> left = to_hold(traced, reason);
    // With one group only the act below holds the same.
    if (!left.empty() && !(first == 0 && end == pots.size())) {
      blocks.push_back(
          {56 + 12, [&, left, reason](Rect at) {
             const std::string text = left.size() == 1
                                          ? std::string(w.trace_hold_group_one)
                                          : say(w.trace_hold_group, grouped(static_cast<std::int64_t>(left.size())));
             const Rect key{at.x, at.y, std::min(at.w, 240.0F), 56};
             if (draw_act(pen, key,
                          {"trace:hold:" + std::string(to_text(reason)), text, ActStyle::quiet, Icon::hold, true}))
               wish = keep_held(traced, left);
           }});
    }
    blocks.push_back(health::rows_block(view, end - first, row_height(view.layout, true, 42),
                                        [&view, &wish, first](Rect row, std::size_t i) {
                                          if (const auto asked = draw_touched(view, row, first + i, i > 0))
                                            wish = asked;
                                        }));
    first = end;
  }
  add_trails(view, blocks, area.w);
  health::draw_blocks(pen, "trace", area, blocks);
  return wish;
}

// ------------------------------------------------------------------------------------------------ pictures

std::optional<Wish> draw_tree(ScreenView& view, Rect area) {
  const HealthDraft::Traced& traced = view.ui.health.traced;
  Pen& pen = view.pen;
  if (traced.tree == nullptr) return std::nullopt;
  const DescentTree& tree = *traced.tree;
  const DescentForm form = descent_form(tree, area.w, !view.layout.landscape());
  const float height = descent_height(tree, form, area.h);
  const float top = pen.begin_scroll("trace:descent", area, height);
  const auto tapped = draw_descent(pen, area, top, tree, form);
  pen.end_scroll("trace:descent");
  if (!tapped) return std::nullopt;
  return Go{Screen::clone, {{}, traced.tree_batches[*tapped], {}, {}, {}}};
}

std::optional<Wish> draw_bench_of(ScreenView& view, Rect area) {
  const HealthWords& w = health_words();
  const HealthDraft::Traced& traced = view.ui.health.traced;
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(view.layout.phone() ? 6 : 16, 10);
  if (traced.bench_slots.empty()) {
    pen.paragraph(inside, Type::body_16, t.ink2, w.bench_none);
    return std::nullopt;
  }
  std::string title = say(w.bench_title, traced.bench);
  if (pen.width(Type::heading_20, title) > inside.w) title = say(w.bench_title, near_name(traced.bench));
  pen.text_in(inside.take_top(32, 4),
              pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, title, inside.w), t.ink, title);
  BenchSlot touched;
  touched.what = BenchSlot::What::growing;
  BenchSlot other = touched;
  other.faded = true;
  BenchSlot bad = touched;
  bad.held = true;
  draw_bench_legend(pen, inside.take_bottom(26, 6),
                    {{touched, std::string(w.legend_touched)},
                     {other, std::string(w.legend_other)},
                     {bad, std::string(w.legend_bad)}});
  const BenchGrid grid = bench_grid(inside.w, traced.bench_slots.size(), inside.w < 480 ? 5 : 8);
  if (view.ui.health.traced.bring) {
    view.ui.health.traced.bring = false;
    for (std::size_t i = 0; i < traced.bench_slots.size(); ++i) {
      const PotView* pot = traced.bench_slots[i].pot;
      if (pot == nullptr || !(pot->id() == traced.pot)) continue;
      pen.begin_scroll("bench", inside, grid.height);
      pen.end_scroll("bench");
      pen.touch.scroll_to("bench", std::max(0.0F, grid.row_of(i) - std::max(0.0F, (inside.h - grid.pitch_y) / 2)));
      break;
    }
  }
  const auto tapped = draw_bench(pen, inside, grid, traced.bench_slots.size(), [&](std::size_t i) {
    const PotView* pot = traced.bench_slots[i].pot;
    if (pot == nullptr) return BenchSlot{};
    BenchSlot slot = slot_of(pen, *pot);
    slot.chosen = pot->id() == traced.pot;
    slot.faded = !slot.chosen && !traced.bench_slots[i].touched;
    return slot;
  });
  if (!tapped) return std::nullopt;
  return health::go_to_pot(traced.bench_slots[*tapped].pot->id());
}

void draw_views(ScreenView& view, Rect area) {
  HealthDraft& draft = view.ui.health;
  const HealthWords& w = health_words();
  const float wide = std::min(190.0F, (area.w - 2 * gap) / 3);
  for (std::size_t i = 0; i < 3; ++i) {
    if (draw_filter(view.pen, area.take_left(wide, gap), "view:" + std::to_string(i), w.trace_views[i],
                    static_cast<std::size_t>(draft.trace_view) == i))
      draft.trace_view = static_cast<View>(i);
  }
}

std::optional<Wish> draw_all(ScreenView& view) {
  const Layout& l = view.layout;
  const HealthWords& w = health_words();
  Pen& pen = view.pen;
  Rect area = l.content;
  area.h = l.page.bottom() - area.y - (l.landscape() ? 20.0F : 10.0F);
  std::optional<Wish> wish;
  if (l.landscape()) {
    const auto [left, right] = l.columns(area, 0.5F);
    Rect groups = right;
    if (const auto asked = draw_hold_all(view, groups.take_bottom(64, 12))) wish = asked;
    if (const auto asked = draw_groups(view, groups)) wish = asked;
    Rect pictures = left;
    const bool bench = !view.ui.health.traced.bench_slots.empty();
    const Rect lower = bench ? pictures.take_bottom(pictures.h * 0.42F, 14) : Rect{};
    pen.text_in(pictures.take_top(32, 8), Type::heading_24, pen.theme.ink, w.descent_title);
    if (const auto asked = draw_tree(view, pictures)) wish = asked;
    if (bench) {
      if (const auto asked = draw_bench_of(view, lower)) wish = asked;
    }
    return wish;
  }
  draw_views(view, area.take_top(56, 12));
  if (const auto asked = draw_hold_all(view, area.take_bottom(64, 12))) wish = asked;
  std::optional<Wish> inner;
  switch (view.ui.health.trace_view) {
    case View::pots:
      inner = draw_groups(view, area);
      break;
    case View::descent:
      inner = draw_tree(view, area);
      break;
    case View::bench:
      inner = draw_bench_of(view, area);
      break;
  }
  return inner ? inner : wish;
}

}  // namespace

std::optional<Wish> draw_trace_screen(ScreenView& view) {
  const HealthWords& w = health_words();
  HealthDraft::Traced& traced = view.ui.health.traced;
  const bool chosen = !view.ui.about.pots.empty();
  if (chosen) refresh_trace(view, view.ui.about.pots.front());
  const bool found = chosen && traced.failed.empty() && !traced.trace.pots.empty();
  Top top;
  top.title = w.trace_title;
  if (chosen && traced.failed.empty())
    top.second = found ? say(w.trace_second, traced.label, pots_words(traced.trace.pots.size()))
                       : say(w.trace_none_second, traced.label);
  top.writes = found;
  const std::optional<Wish> wish = draw_top(view, top);
  if (found) {
    const std::optional<Wish> asked = draw_all(view);
    return asked ? asked : wish;
  }
  const Layout& l = view.layout;
  const Rect sheet{l.content.x, l.content.y, l.content.w, l.phone() ? 340.0F : 220.0F};
  view.pen.fill(sheet, view.pen.theme.sheet, 8);
  const std::string sentence = !chosen                  ? std::string(w.trace_no_pot)
                               : !traced.failed.empty() ? traced.failed
                                                        : say(w.trace_nothing, traced.label);
  draw_empty(view.pen, sheet.inset(24), sentence, "", "");
  if (chosen && traced.failed.empty()) {
    std::vector<Block> blocks;
    Rect below = l.content;
    below.take_top(sheet.h + 16);
    below.h = l.page.bottom() - below.y - 10;
    add_trails(view, blocks, below.w);
    if (below.h > 60) health::draw_blocks(view.pen, "trace", below, blocks);
  }
  return wish;
}

}  // namespace motherbulb
