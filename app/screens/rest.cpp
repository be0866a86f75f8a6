// Rest & repot: the pots by stage, the longest at it first. One tap on a row starts, dries off or repots it, or all of
// a batch that stand at the stage since the same day.

#include <algorithm>
#include <array>
#include <map>

#include "app/screens/due_parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/widgets/stage_band.hpp"
#include "app/words.hpp"
#include "app/words/rest.hpp"

namespace motherbulb {
namespace {

using Show = RestDraft::Show;
using Group = RestDraft::Group;

bool shown_by(Stage stage, Show show) {
  switch (show) {
    case Show::resting:
      return stage == Stage::resting || stage == Stage::drying_off;
    case Show::started:
      return stage == Stage::started;
    case Show::growing:
      return stage == Stage::growing;
  }
  return false;
}

int count_of(const HouseCounts& counts, Show show) {
  switch (show) {
    case Show::resting:
      return counts.resting;
    case Show::started:
      return counts.started;
    case Show::growing:
      return counts.growing;
  }
  return 0;
}

std::string since_words(const PotView& pot, std::string_view dried, std::string_view started, std::string_view growing,
                        const std::string& filled_in) {
  switch (pot.stage) {
    case Stage::started:
      return say(started, filled_in);
    case Stage::growing:
    case Stage::forming:
      return say(growing, filled_in);
    default:
      return say(dried, filled_in);
  }
}
std::string on_words(const ScreenView& view, const PotView& pot) {
  const RestWords& w = rest_words();
  return since_words(pot, w.dried_off_on, w.started_on, w.growing_since, day_near(local_day(pot.since), view.today));
}
std::string ago_words(const ScreenView& view, const PotView& pot) {
  // Nothing is "0 days ago".
  if (!(local_day(pot.since) < view.today)) return on_words(view, pot);
  const RestWords& w = rest_words();
  return since_words(pot, w.dried_off_ago, w.started_ago, w.growing_for,
                     weeks_between(local_day(pot.since), view.today));
}

// ------------------------------------------------------------------------------------------------ the list

void refresh_list(ScreenView& view) {
  RestDraft& draft = view.ui.rest;
  const HouseCounts& counts = view.rows.counts();
  if (!draft.show) {
    draft.show = Show::resting;
    for (const Show show : {Show::growing, Show::started, Show::resting}) {
      if (count_of(counts, show) > 0) draft.show = show;
    }
  }
  auto& list = draft.list;
  if (list.made && list.revision == view.rows.revision() && list.show == *draft.show) return;
  list = {};
  list.made = true;
  list.revision = view.rows.revision();
  list.show = *draft.show;
  std::map<std::pair<BatchId, std::int32_t>, std::size_t> known;
  for (const PotView* pot : view.rows.pots()) {
    if (!shown_by(pot->stage, list.show)) continue;
    const std::int32_t day = local_day(pot->since).days;
    const auto [found, fresh] = known.emplace(std::pair{pot->batch.id, day}, list.groups.size());
    if (fresh) list.groups.push_back({pot->stage, {}});
    list.groups[found->second].pots.push_back(pot);
    list.longest = std::max(list.longest, view.today.days - day);
  }
  std::stable_sort(list.groups.begin(), list.groups.end(), [](const Group& a, const Group& b) {
    return a.pots.front()->since.utc_ms < b.pots.front()->since.utc_ms;
  });
  for (std::size_t i = 0; i < list.groups.size(); ++i) {
    const Group& group = list.groups[i];
    if (group.pots.size() == 1) {
      list.lines.push_back({i, group.pots.front()});
      continue;
    }
    list.lines.push_back({i, nullptr});
    if (draft.opened.count({group.pots.front()->batch.id, local_day(group.pots.front()->since).days}) == 0) continue;
    for (const PotView* pot : group.pots) list.lines.push_back({i, pot});
  }
  if (!draft.pot && !list.groups.empty()) draft.pot = list.groups.front().pots.front()->id();
}

std::string act_words(Stage stage, std::size_t pots) {
  const RestWords& w = rest_words();
  const auto one_or_many = [&](std::string_view one, std::string_view many) {
    return pots == 1 ? std::string(one) : say(many, grouped(static_cast<std::int64_t>(pots)));
  };
  switch (stage) {
    case Stage::started:
      return one_or_many(w.repot, w.repot_many);
    case Stage::growing:
    case Stage::forming:
      return one_or_many(w.dry_off, w.dry_off_many);
    default:
      return one_or_many(w.start, w.start_many);
  }
}

std::string_view act_name(Stage stage) {
  switch (stage) {
    case Stage::started:
      return "rest:repot:";
    case Stage::growing:
    case Stage::forming:
      return "rest:dry-off:";
    default:
      return "rest:start:";
  }
}

Payload fact_at(Stage stage) {
  switch (stage) {
    case Stage::started:
      return Repotted{};  // no lines: the same bulbs
    case Stage::growing:
    case Stage::forming:
      return DriedOff{};
    default:
      return Started{};
  }
}

Keep keep_next_stage(const std::vector<const PotView*>& pots) {
  const RestWords& w = rest_words();
  const PotView& first = *pots.front();
  Keep keep;
  for (const PotView* pot : pots) {
    keep.commands.emplace_back(fact_of(pot->batch.id, pot->pot.pot.number, fact_at(pot->stage)));
  }
  std::string_view one = w.kept_started;
  std::string_view many = w.kept_started_many;
  if (first.stage == Stage::started) {
    one = w.kept_repotted;
    many = w.kept_repotted_many;
  } else if (first.stage == Stage::growing) {
    one = w.kept_dried_off;
    many = w.kept_dried_off_many;
  }
  keep.slip = pots.size() == 1
                  ? say(one, first.label)
                  : say(many, batch_words(first.batch), counted(static_cast<std::int64_t>(pots.size()), "pot", "pots"));
  return keep;
}

// How long it is at the stage, on the scale of the longest of the list: a line from then to a stake at now.
void draw_since(Pen& pen, Rect area, const std::string& words_shown, float share) {
  const Theme& t = pen.theme;
  const float y = area.y + area.h * 0.42F;
  const float end = area.right() - 8;
  const float from = end - std::max(10.0F, (area.w - 20) * share);
  pen.line({from, y}, {end, y}, t.ink2, 2);
  pen.disc({from, y}, 4.5F, t.ink2);
  pen.fill_convex({{end - 6, y - 16}, {end + 6, y - 16}, {end + 6, y - 7}, {end, y + 1}, {end - 6, y - 7}}, t.ink);
  pen.text_in({area.x, y + 8, area.w, 24}, Type::heading_18, t.ink, words_shown, Align::right);
}

struct RowPlace {
  Rect body, act;
};

std::optional<Wish> draw_line(ScreenView& view, Rect row, std::size_t at) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const RestWords& w = rest_words();
  RestDraft& draft = view.ui.rest;
  const Layout& l = view.layout;
  const RestDraft::Line& line = draft.list.lines[at];
  const Group& group = draft.list.groups[line.group];
  const PotView& pot = line.pot != nullptr ? *line.pot : *group.pots.front();
  const bool many = line.pot == nullptr;
  const bool inner = !many && group.pots.size() > 1;
  const bool phone = l.phone();
  std::optional<Wish> wish;

  const std::string words_of_act = act_words(pot.stage, many ? group.pots.size() : 1);
  const float act_wide = phone ? 112.0F : 138.0F;
  Rect rest_of_row = row.inset(phone ? 8 : 14, 0);
  const Rect act_area = rest_of_row.take_right(act_wide, 10);
  const Rect act{act_area.x, act_area.middle().y - 28, act_area.w, 56};
  const std::string key = many ? batch_words(pot.batch) + "@" + to_text(local_day(pot.since)) : pot.label;
  const std::string target = std::string(many ? "rest:group:" : "rest:pot:") + key;
  const Rect body{rest_of_row.x, row.y + 4, rest_of_row.w, row.h - 8};
  const bool tapped = pen.touch.hit(target, body);
  const bool pressed = is_pressed(pen, target);
  const bool chosen = l.landscape() && !many && draft.pot && *draft.pot == pot.id();
  if (pressed || chosen) pen.fill(body, pressed ? t.straw : t.proposed, 6);
  const Color ink = pressed ? t.on_straw : t.ink;
  const Color ink2 = pressed ? t.on_straw : t.ink2;

  // The first row's act is the one to do next; the others can wait.
  const bool first = at == 0;
  if (draw_act(
          pen, act,
          {std::string(act_name(pot.stage)) + key, words_of_act, first ? ActStyle::main : ActStyle::quiet, {}, true}))
    wish = keep_next_stage(many ? group.pots : std::vector<const PotView*>{&pot});

  float x = body.x + (inner ? (phone ? 14.0F : 30.0F) : 6.0F);
  if (inner) {
    // A rule at the left ties the pots to their batch above.
    pen.fill({body.x + (phone ? 6.0F : 16.0F), row.y, 3, row.h}, t.night ? t.ring : t.well);
  }
  const Mark mark = pot.held && !many ? Mark::on_hold : mark_of(pot.stage);
  if (!phone) {
    const float column = inner ? 44.0F : 84.0F;
    draw_mark(pen, mark, {x + column / 2, row.y + (inner ? row.h / 2 : row.h * 0.36F)}, 28);
    if (!inner)
      pen.text_in({x - 6, row.y + row.h * 0.57F, column + 12, 24}, Type::strong_16,
                  pressed ? t.on_straw : mark_color(t, mark), name_of(pot.stage), Align::middle);
    x += column + 12;
  }
  const std::string tag = many ? batch_words(pot.batch) : pot.label;
  const std::string clone = clone_words(pot.batch);
  float room = body.right() - x - 8;
  // The line of time gives way to a long name.
  const float names = inner ? 0 : pen.width(Type::strong_16, clone) + pot_tag_width(pen, 34, tag) + 14;
  if (!phone && room > 400 && names <= room - 146) {
    const Rect since{body.right() - 138, row.y, 126, row.h};
    if (!pressed)
      draw_since(
          pen, since, weeks_between(local_day(pot.since), view.today),
          static_cast<float>(view.today.days - local_day(pot.since).days) / static_cast<float>(draft.list.longest));
    room -= 146;
  }
  const std::string pots_word = counted(static_cast<std::int64_t>(group.pots.size()), "pot", "pots");
  if (phone) {
    draw_mark(pen, mark, {x + 13, row.y + 26}, 24);
    pen.text_in({x + 34, row.y + 10, room - 34, 32},
                pen.fitting({Type::name_23, Type::strong_18, Type::strong_16}, clone, room - 34), ink, clone);
    const float tag_wide = draw_pot_tag(pen, {x, row.y + 46}, 34, tag, room);
    if (many) pen.text_in({x + tag_wide + 8, row.y + 46, room - tag_wide - 8, 34}, Type::strong_15, ink2, pots_word);
    const std::string ago = ago_words(view, pot);
    pen.text_in({x, row.y + 88, room, 24}, pen.fitting({Type::body_16, Type::body_15}, ago, room), ink2, ago);
  } else {
    const float top = row.y + row.h / 2 - 38;
    float tag_x = x;
    if (!inner) {
      const float tag_wide = pot_tag_width(pen, 34, tag);
      const Type type = pen.fitting({Type::name_23, Type::strong_18, Type::strong_16}, clone, room - tag_wide - 12);
      pen.text_in({x, top, room - tag_wide - 12, 36}, type, ink, clone);
      tag_x += pen.width(type, clone) + 12;
    }
    draw_pot_tag(pen, {tag_x, top + 1}, 34, tag, body.right() - tag_x);
    std::string second = on_words(view, pot);
    const std::string where = many ? pots_word : join_place(pot.place);
    std::string longer = where.empty() ? second : say(w.row_more, second, where);
    if (pen.width(Type::body_15, longer) > room && !many) longer = second;
    if (pen.width(Type::body_15, longer) > room) longer = pots_word;
    pen.text_in({x, top + 44, room, 26}, pen.fitting({Type::body_16, Type::body_15}, longer, room), ink2, longer);
  }
  if (tapped) {
    if (many) {
      const std::pair<BatchId, std::int32_t> opened{pot.batch.id, local_day(pot.since).days};
      if (draft.opened.erase(opened) == 0) draft.opened.insert(opened);
      if (l.landscape()) draft.pot = pot.id();
      draft.list.made = false;  // its lines, in the next frame
    } else if (l.landscape()) {
      draft.pot = pot.id();
    } else {
      wish = Go{Screen::pot, {{pot.id()}, {}, {}, {}}};
    }
  }
  return wish;
}

std::optional<Wish> draw_list(ScreenView& view, Rect area, Rect panel) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const RestWords& w = rest_words();
  RestDraft& draft = view.ui.rest;
  std::optional<Wish> wish;
  const auto& lines = draft.list.lines;
  if (lines.empty()) {
    const Rect sheet{area.x, area.y, area.w, area.w > 500 ? 190.0F : 290.0F};
    pen.fill(sheet, t.sheet, 8);
    draw_empty(pen, sheet.inset(20),
               *draft.show == Show::resting   ? w.none_resting
               : *draft.show == Show::started ? w.none_started
                                              : w.none_growing,
               "", "");
    return wish;
  }
  const float h = view.layout.phone() ? 124.0F : 104.0F;
  const float height = h * static_cast<float>(lines.size());
  const bool fills = height > panel.h;
  if (view.layout.landscape()) {
    // The sheet stands, and its rows run in it.
    pen.fill({area.x, area.y, area.w, fills ? panel.h : height}, t.sheet, 8);
  }
  const float top = pen.begin_scroll("rest", panel, height + (view.layout.landscape() ? 0.0F : 16.0F));
  if (!view.layout.landscape()) pen.fill({area.x, top, area.w, height}, t.sheet, 8);
  const auto first = static_cast<std::size_t>(std::max(0.0F, (panel.y - top) / h));
  const std::size_t count = lines.size();
  for (std::size_t i = first; i < count; ++i) {
    const Rect row{area.x, top + h * static_cast<float>(i), area.w, h};
    if (row.y > panel.bottom()) break;
    if (i > 0) pen.fill({row.x + 20, row.y - 0.75F, row.w - 40, 1.5F}, t.night ? t.ring : t.well);
    if (const auto asked = draw_line(view, row, i)) wish = asked;
  }
  pen.end_scroll("rest");
  return wish;
}

void draw_shows(ScreenView& view, Rect area) {
  const RestWords& w = rest_words();
  RestDraft& draft = view.ui.rest;
  const HouseCounts& counts = view.rows.counts();
  struct One {
    Show show;
    std::string_view name, words;
  };
  const std::array<One, 3> shows{{{Show::resting, "show:resting", w.show_resting},
                                  {Show::started, "show:started", w.show_started},
                                  {Show::growing, "show:growing", w.show_growing}}};
  const float wide = std::min((area.w - 16) / 3, 200.0F);
  for (const One& one : shows) {
    const std::string text = say(one.words, grouped(count_of(counts, one.show)));
    if (!draw_filter(view.pen, area.take_left(wide, 8), one.name, text, *draft.show == one.show)) continue;
    draft.show = one.show;
    draft.pot.reset();
    view.pen.touch.scroll_to("rest", 0);
  }
}

// ------------------------------------------------------------------------------------------------ beside the list

std::vector<StagePart> stage_parts(const ScreenView& view) {
  const HouseCounts& counts = view.rows.counts();
  // In the order of their year.
  return {{Mark::forming, counts.forming, std::string(name_of(Stage::forming))},
          {Mark::started, counts.started, std::string(name_of(Stage::started))},
          {Mark::growing, counts.growing, std::string(name_of(Stage::growing))},
          {Mark::resting, counts.resting, std::string(name_of(Stage::resting))}};
}

void draw_house(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(24, 16);
  const std::vector<StagePart> parts = stage_parts(view);
  pen.text_in(inside.take_top(28, 10), Type::heading_24, t.ink, rest_words().house_title);
  draw_stage_band(pen, inside.take_top(30, 8), parts);
  draw_stage_legend(pen, inside, parts);
}

float house_height(float width) {
  return 32 + 38 + 38 + stage_legend_height(width - 48, 4);
}

std::optional<Wish> draw_chosen(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const RestWords& w = rest_words();
  RestDraft& draft = view.ui.rest;
  std::optional<Wish> wish;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(24, 18);
  if (!draft.pot) {
    pen.paragraph(inside, Type::body_18, t.ink2, w.choose, 4);
    return wish;
  }
  const PotView* pot = view.rows.filled(*draft.pot);
  Rect links = inside.take_bottom(56, 10);
  if (pot == nullptr) {
    const BatchState* batch = view.rows.batch(draft.pot->batch);
    const std::string label = batch == nullptr ? std::string() : pot_label(*batch, draft.pot->number);
    pen.paragraph(inside, Type::body_18, t.ink2, say(w.gone, label), 4);
    if (batch != nullptr && draw_act(pen, links, {"rest:story", w.story, ActStyle::link, Icon::note, true}))
      wish = Go{Screen::pot, {{*draft.pot}, {}, {}, {}}};
    return wish;
  }
  const Rect story = links.take_left((links.w - 8) / 2, 8);
  if (draw_act(pen, story, {"rest:story", w.story, ActStyle::link, Icon::note, true}))
    wish = Go{Screen::pot, {{pot->id()}, {}, {}, {}}};
  if (draw_act(pen, links, {"rest:work", w.work, ActStyle::link, Icon::pots, true}))
    wish = Go{Screen::care, {{pot->id()}, {}, {}, {}}};
  if (pot->stage != Stage::forming) {
    const Rect act = inside.take_bottom(60, 12);
    if (draw_act(pen, act, {"rest:act", act_words(pot->stage, 1), ActStyle::main, {}, true}))
      wish = keep_next_stage({pot});
  }
  const Rect head = inside.take_top(38, 10);
  const float tag = draw_pot_tag(pen, {head.x, head.y}, 38, pot->label, head.w - 44);
  const Mark mark = pot->held ? Mark::on_hold : mark_of(pot->stage);
  draw_mark(pen, mark, {head.x + tag + 26, head.middle().y}, 26);
  const std::string_view stage = name_of(pot->stage);
  if (tag + 46 + pen.width(Type::strong_16, stage) <= head.w)
    pen.text_in({head.x + tag + 46, head.y, head.w - tag - 46, head.h}, Type::strong_16, mark_color(t, mark), stage);
  const std::string clone = clone_words(pot->batch);
  pen.text_in(inside.take_top(36, 2), pen.fitting({Type::name_28, Type::name_23}, clone, inside.w), t.ink, clone);
  const std::string ago = ago_words(view, *pot);
  pen.text_in(inside.take_top(26, 10), pen.fitting({Type::body_18, Type::body_16, Type::body_15}, ago, inside.w),
              t.ink2, ago);
  draw_last_entries(view, inside, *pot);
  return wish;
}

}  // namespace

std::optional<Wish> draw_rest_screen(ScreenView& view) {
  const RestWords& w = rest_words();
  const Layout& l = view.layout;
  const bool any = !view.rows.pots().empty();
  if (any) refresh_list(view);
  Top top;
  top.title = w.title;
  if (any) top.second = say(w.second, counted(view.rows.counts().resting, "pot", "pots"));
  top.back = !view.ui.trail.empty() && view.ui.trail.back().to != Screen::start;
  top.writes = any;
  std::optional<Wish> wish = draw_top(view, top);
  if (!any) {
    const Rect sheet{l.content.x, l.content.y, l.content.w, l.phone() ? 290.0F : 200.0F};
    view.pen.fill(sheet, view.pen.theme.sheet, 8);
    draw_empty(view.pen, sheet.inset(24), w.empty, "", "");
    return wish;
  }
  std::optional<Wish> asked;
  if (l.landscape()) {
    const auto [list_column, side_column] = l.columns(l.content, 0.64F, 22);
    Rect list = list_column;
    Rect side = side_column;
    draw_shows(view, list.take_top(56, 12));
    asked = draw_list(view, list, list);
    draw_house(view, side.take_top(house_height(side.w), 16));
    if (const auto chosen = draw_chosen(view, side)) asked = chosen;
  } else {
    Rect area = l.content;
    if (l.portrait()) draw_house(view, area.take_top(house_height(area.w), 16));
    draw_shows(view, area.take_top(56, 12));
    // It runs to the bar, over the margin below.
    asked = draw_list(view, area, {l.page.x, area.y, l.page.w, l.page.bottom() - area.y});
  }
  return asked ? asked : wish;
}

}  // namespace motherbulb
