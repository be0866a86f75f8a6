// Merge the day: the helpers' books that wait, as strands into this one; what the day brought; what is to settle.

#include <algorithm>

#include "app/matter_words.hpp"
#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/matter_panel.hpp"
#include "app/widgets/slips.hpp"
#include "app/widgets/strands.hpp"
#include "app/words.hpp"
#include "app/words/codes.hpp"

namespace motherbulb {
namespace {

constexpr std::size_t most_labels = 3;  // beside this device's own; more are gathered into the last

std::string entries_words(std::int64_t count) {
  return counted(count, "entry", "entries");
}

std::string joined_names(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

HelperLabel label_of(const ParcelPreview& one) {
  const Words& w = words();
  HelperLabel label;
  label.name = joined_names(one.helpers);
  label.device = one.device.empty() ? one.file.name : one.device;
  if (label.name.empty()) {
    label.name = label.device;
    label.device = one.file.name;
  }
  if (!one.readable) {
    label.name = w.parcel_word;
    label.device = one.file.name;
    label.number_word = w.damaged_word;
    return label;
  }
  label.number = grouped(one.fresh);
  label.number_word = w.new_word;
  if (one.known > 0) label.second = say(w.known_word, grouped(one.known));
  if (one.backup) label.device = w.backup_word;
  label.weight = one.fresh;
  return label;
}

struct Picture {
  std::vector<HelperLabel> labels;
  BookLabel book;
  DayCounts brought;
  std::int64_t fresh = 0;
  std::size_t waiting = 0;
  bool merged = false;
};

Picture picture_of(ScreenView& view) {
  const Words& w = words();
  const MergeDraft& draft = view.ui.merge;
  Picture p;
  for (const ParcelPreview& one : draft.waiting) {
    if (one.readable && one.fresh > 0) {
      ++p.waiting;
      p.fresh += one.fresh;
    }
  }
  p.merged = p.waiting == 0 && !draft.merged.empty();
  std::vector<ParcelPreview> shown;
  for (const ParcelPreview& one : p.merged ? draft.merged : draft.waiting) {
    if (p.waiting == 0 || !one.readable || one.fresh > 0) shown.push_back(one);
  }
  HelperLabel own;
  own.name = view.ui.helper.empty() ? std::string(w.this_device) : view.ui.helper;
  own.device = view.ui.helper.empty() ? view.rows.book().device_letter() : std::string(w.this_device);
  std::int64_t written = 0;
  for (const DeviceRow& device : view.rows.devices()) {
    if (device.self) written += device.entries;
  }
  own.number = grouped(written);
  own.number_word = w.written;
  own.second = say(w.here_word, grouped(view.rows.entries()));
  own.weight = written;
  p.labels.push_back(own);
  for (const ParcelPreview& one : shown) {
    p.brought += one.brought;
    if (p.labels.size() <= most_labels) {
      p.labels.push_back(label_of(one));
    } else {
      HelperLabel& last = p.labels.back();
      last.name = say(w.others, shown.size() - most_labels + 1);
      last.device.clear();
      last.weight += one.fresh;
      last.number = grouped(last.weight);
    }
  }
  const std::int64_t widest = std::max_element(p.labels.begin() + (p.labels.size() > 1 ? 1 : 0), p.labels.end(),
                                               [](const auto& a, const auto& b) { return a.weight < b.weight; })
                                  ->weight;
  p.labels[0].weight = std::min(p.labels[0].weight, std::max<std::int64_t>(widest, 1));
  p.book.title = say(p.merged ? w.book_after : w.book_before, entries_words(view.rows.entries()));
  p.book.second = say(p.merged ? w.digest_same : w.digest_now, view.rows.digest());
  if (p.merged) p.book.short_second = say(w.digest_same_short, view.rows.digest());
  p.book.ticked = p.merged;
  return p;
}

void draw_brought(ScreenView& view, Rect area, const Picture& p) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const Words& w = words();
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(24, 14);
  pen.text_in(inside.take_top(32, 4), Type::heading_24, t.ink, p.merged ? w.brought_title : w.brought_title_waiting);
  struct Cell {
    std::int64_t count;
    Icon icon;
    std::string_view words;
    bool trouble;
  };
  const std::array<Cell, 6> cells{{{p.brought.unpotted, Icon::unpot, w.brought_unpotted, false},
                                   {p.brought.bulbs, Icon::cutting, w.brought_bulblets, false},
                                   {p.brought.lost, Icon::rot, w.brought_lost, true},
                                   {p.brought.watered, Icon::drop, w.brought_watered, false},
                                   {p.brought.damage, Icon::mite, w.brought_damage, true},
                                   {p.brought.moved, Icon::bench, w.brought_moved, false}}};
  const std::size_t columns = area.w < 420 ? 2 : 3;
  const std::size_t rows = cells.size() / columns;
  const float wide = inside.w / static_cast<float>(columns);
  const float high = inside.h / static_cast<float>(rows);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const Cell& cell = cells[i];
    const Rect at{inside.x + static_cast<float>(i % columns) * wide, inside.y + static_cast<float>(i / columns) * high,
                  wide, high};
    if (i >= columns && i % columns == 0) pen.fill({inside.x, at.y, inside.w, 1.5F}, t.well);
    const Color color = cell.trouble ? t.copper : t.leaf;
    const float baseline = at.y + high / 2 + 2;
    const float used = pen.text(Type::numeral_40, {at.x, baseline}, color, grouped(cell.count));
    draw_icon(pen, cell.icon, {at.x + used + 24, baseline - pen.cap(Type::numeral_40) / 2}, 26, color);
    pen.text(Type::body_16, {at.x, baseline + 26}, t.ink2, pen.fitted(Type::body_16, cell.words, wide - 8));
  }
}

std::optional<Wish> draw_merge_act(ScreenView& view, Rect area, const Picture& p) {
  const Words& w = words();
  if (p.waiting > 0) {
    const std::string text =
        say(w.merge_act, counted(static_cast<std::int64_t>(p.waiting), "book", "books"), grouped(p.fresh));
    if (draw_act(view.pen, area, {"merge", text, ActStyle::main, Icon::merge, true})) return MergeWaiting{};
  } else if (draw_act(view.pen, area, {"look", w.merge_look_again, ActStyle::link, Icon::stick, true})) {
    return LookForParcels{};
  }
  return std::nullopt;
}

constexpr float other_way = 64;

// Other ways in than a folder or a stick: only where the device has them.
float other_ways_height(const ScreenView& view) {
  return view.ui.has_camera || view.ui.can_pick_files ? other_way : 0;
}

std::optional<Wish> draw_other_ways(ScreenView& view, Rect area) {
  std::optional<Wish> wish;
  const bool both = view.ui.has_camera && view.ui.can_pick_files;
  if (view.ui.can_pick_files) {
    const Rect key = both ? area.take_left((area.w - 12) / 2, 12) : area;
    if (draw_act(view.pen, key, {"choose file", words().merge_choose, ActStyle::link, Icon::stick, true}))
      wish = PickFiles{};
  }
  if (view.ui.has_camera &&
      draw_act(view.pen, area, {"read codes", codes_words().read_act, ActStyle::link, Icon::codes, true}))
    wish = Go{Screen::scan, {}};
  return wish;
}

struct Settling {
  std::vector<const Matter*> shown;
  std::size_t put_off = 0;
};

Settling settling_of(const ScreenView& view) {
  Settling s;
  for (const Matter& matter : view.rows.matters()) {
    if (view.ui.merge.put_off.count(matter.id) != 0) {
      ++s.put_off;
    } else {
      s.shown.push_back(&matter);
    }
  }
  return s;
}

constexpr float settle_head = 56;
constexpr float panel_gap = 16;

float matters_height(ScreenView& view, float width, const Settling& s) {
  if (s.shown.empty()) return 230;
  float h = 0;
  for (const Matter* matter : s.shown)
    h += matter_panel_height(view.pen, width, word_matter(*matter, view.rows, view.today)) + panel_gap;
  return h + (s.put_off > 0 ? 64.0F : 0.0F);
}

std::optional<Wish> draw_settle_head(ScreenView& view, Rect area, const Settling& s) {
  const Words& w = words();
  const std::size_t count = view.rows.matters().size();
  view.pen.text_in(area, Type::heading_24, view.pen.theme.ink,
                   count == 0 ? std::string(w.settle_title) : say(w.settle_count, count));
  if (s.shown.size() > 1 && draw_word_link(view.pen, {area.right(), area.middle().y}, "settle:all", w.take_all))
    return SettleAll{};
  return std::nullopt;
}

std::optional<Wish> draw_matters(ScreenView& view, Rect area, const Settling& s, Rect seen) {
  Pen& pen = view.pen;
  const Words& w = words();
  std::optional<Wish> wish;
  float y = area.y;
  if (s.shown.empty() && s.put_off == 0) {
    const Rect panel{area.x, y, area.w, area.w > 460 ? 170.0F : 230.0F};
    pen.fill(panel, pen.theme.sheet, 8);
    draw_empty(pen, panel.inset(16, 12), w.settle_none, "", "");
    return wish;
  }
  for (const Matter* matter : s.shown) {
    // Far down the list nobody looks: its height is enough.
    const MatterView words_of = word_matter(*matter, view.rows, view.today);
    const float h = matter_panel_height(pen, area.w, words_of);
    if (y < seen.bottom() && y + h > seen.y) {
      if (const auto answer = draw_matter_panel(pen, {area.x, y, area.w, h}, words_of)) {
        switch (*answer) {
          case MatterAnswer::first:
            wish = SettleMatter{*matter, Take::first};
            break;
          case MatterAnswer::second:
            wish = SettleMatter{*matter, Take::second};
            break;
          case MatterAnswer::both:
            wish = SettleMatter{*matter, Take::both};
            break;
          case MatterAnswer::later:
            view.ui.merge.put_off.insert(matter->id);
            break;
        }
      }
    }
    y += h + panel_gap;
  }
  if (s.put_off > 0) {
    pen.text_in({area.x, y, area.w * 0.55F, 56}, Type::body_16, pen.theme.ink2, say(w.settle_put_off, s.put_off));
    const Rect key{area.right() - std::min(190.0F, area.w * 0.44F), y, std::min(190.0F, area.w * 0.44F), 56};
    if (draw_act(pen, key, {"settle:show", w.settle_show_again, ActStyle::plain, {}, true}))
      view.ui.merge.put_off.clear();
  }
  return wish;
}

// A table was dropped: what it is, or what came of it, and the one act.
std::optional<Wish> draw_table(ScreenView& view) {
  const auto& tables = view.ui.merge.tables;
  if (tables.empty()) return std::nullopt;
  const DroppedTable* table = &tables.front();
  const auto more = std::count_if(tables.begin() + 1, tables.end(), [](const DroppedTable& one) { return !one.taken; });
  const Words& w = words();
  std::string title = table->file.name + ": " + table->told;
  if (table->told.empty())
    title = more > 0 ? say(w.table_waits_more, table->file.name, more) : say(w.table_waits, table->file.name);
  const std::string_view line = table->taken          ? w.table_taken_line
                                : table->told.empty() ? w.table_waits_line
                                                      : w.table_taken_back_line;
  const std::string_view act = table->taken ? w.table_take_back : w.table_take;
  const Rect area =
      view.layout.content.take_top(notice_strip_height(view.pen, view.layout.content.w, title, line, act), 12);
  const Icon icon = table->told.empty() ? Icon::note : Icon::tick;
  if (draw_notice_strip(view.pen, area, {title, line, "table", act, icon})) return TakeTable{};
  return std::nullopt;
}

}  // namespace

std::optional<Wish> draw_merge_screen(ScreenView& view) {
  const Words& w = words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  std::optional<Wish> wish;
  const Picture p = picture_of(view);
  const Settling s = settling_of(view);

  std::string second(w.merge_into_one);
  if (p.waiting > 0) {
    second = say(w.merge_waiting, counted(static_cast<std::int64_t>(p.waiting), "book waits", "books wait"));
  } else if (view.ui.merge.merged_at) {
    second = say(w.merged_at, clock_time(*view.ui.merge.merged_at));
  }
  draw_head(pen, l, {w.merge_title, second, false, false, kept_room(view), {}, false});
  if (draw_kept(view)) wish = UndoKept{};
  const bool troubled = view.ui.trouble.has_value();
  if (draw_trouble(view)) wish = PutErrorAside{};
  // One strip at a time: on a small window there is no room for two.
  if (!troubled) {
    if (const auto asked = draw_table(view)) wish = asked;
  }

  // Nothing moves at the first look; after the merge the strands have run into the book.
  const float joined = pen.motion.towards("joined", p.merged ? 1.0F : 0.0F, 600);
  const bool any = p.labels.size() > 1;

  const auto draw_top = [&](Rect area) {
    if (any) {
      draw_strands(pen, area, p.labels, p.book, joined, l.phone());
      return;
    }
    Rect panel = area;
    const Rect book = panel.take_bottom(76, 16);
    pen.fill(panel, pen.theme.sheet, 8);
    draw_empty(pen, panel.inset(20), w.merge_nothing, "", "");
    draw_strands(pen, book, {}, p.book, 1, l.phone());
  };

  if (l.landscape()) {
    Rect right = l.content;
    Rect left = right.take_left(right.w * 0.47F, 28);
    right.h = l.page.bottom() - right.y;
    const float ways = other_ways_height(view);
    const float acts = 68 + 16 + (ways > 0 ? ways + 12 : 0.0F);
    const float brought = std::min(240.0F, left.h * 0.34F);
    // Where a strip and other ways in leave too little room, the picture of the merge comes before what it brings.
    if ((p.fresh > 0 || p.merged) && left.h - acts - brought - 16 >= least_strands_height)
      draw_brought(view, left.take_bottom(brought, 16), p);
    const float top_height = std::min(left.h - acts, any ? 460.0F : 276.0F);
    draw_top(left.take_top(top_height, 16));
    const Rect act = left.take_top(68, 12);
    if (const auto asked = draw_merge_act(view, act, p)) wish = asked;
    if (ways > 0) {
      if (const auto asked = draw_other_ways(view, left.take_top(ways))) wish = asked;
    }
    if (const auto asked = draw_settle_head(view, right.take_top(settle_head, 8), s)) wish = asked;
    const float top = pen.begin_scroll("matters", right, matters_height(view, right.w, s) + 12);
    if (const auto asked = draw_matters(view, {right.x, top, right.w, 0}, s, right)) wish = asked;
    pen.end_scroll("matters");
    return wish;
  }

  const Rect panel{l.page.x, l.content.y, l.page.w, l.page.bottom() - l.content.y};
  const float strands = any ? strands_height(p.labels.size(), l.phone()) : l.phone() ? 330.0F : 270.0F;
  const float act = 64;
  const float brought = p.fresh > 0 || p.merged ? (l.phone() ? 320.0F : 220.0F) : 0.0F;
  const float ways = other_ways_height(view);
  const float content = strands + 16 + act + 20 + (ways > 0 ? ways + 20 : 0) + settle_head + 8 +
                        matters_height(view, l.content.w, s) + (brought > 0 ? brought + 20 : 0) + 20;
  Rect inside{l.content.x, pen.begin_scroll("merge", panel, content), l.content.w, content};
  draw_top(inside.take_top(strands, 16));
  if (const auto asked = draw_merge_act(view, inside.take_top(act, 20), p)) wish = asked;
  if (ways > 0) {
    if (const auto asked = draw_other_ways(view, inside.take_top(ways, 20))) wish = asked;
  }
  if (brought > 0) draw_brought(view, inside.take_top(brought, 20), p);
  if (const auto asked = draw_settle_head(view, inside.take_top(settle_head, 8), s)) wish = asked;
  if (const auto asked = draw_matters(view, inside, s, panel)) wish = asked;
  pen.end_scroll("merge");
  return wish;
}

}  // namespace motherbulb
