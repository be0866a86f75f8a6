#include "app/screens/unpot_mother.hpp"

#include <algorithm>
#include <array>

#include "app/widgets/labels.hpp"
#include "app/widgets/mother.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

using Bore = SectionSaid::Bore;

constexpr std::array<Cause, 7> causes{Cause::rot,   Cause::pest,      Cause::disease, Cause::animal,
                                      Cause::frost, Cause::dried_out, Cause::unknown};
constexpr float gap = 8;

// A mother left whole is one piece: its sectors bear, but none of them dies alone.
bool of_sectors(const UnpotDraft& draft) {
  return leaves_mother_whole(draft.pot->batch.method) && draft.pot->pot.pieces == 1;
}

void one_more_dead(UnpotDraft& draft, Cause cause) {
  if (!of_pieces(draft) || of_sectors(draft)) {
    draft.lost.push_back(cause);
    return;
  }
  // Where nobody says which section, the first of which nothing was said yet.
  auto found = std::find_if(draft.sections.begin(), draft.sections.end(),
                            [](const SectionSaid& one) { return one.bore == Bore::unsaid && !one.dead_of; });
  if (found == draft.sections.end()) {
    found =
        std::find_if(draft.sections.begin(), draft.sections.end(), [](const SectionSaid& one) { return !one.dead_of; });
  }
  if (found != draft.sections.end()) found->dead_of = cause;
}

void one_fewer_dead(UnpotDraft& draft) {
  if (!draft.lost.empty()) {
    draft.lost.pop_back();
    return;
  }
  const auto found = std::find_if(draft.sections.rbegin(), draft.sections.rend(),
                                  [](const SectionSaid& one) { return one.dead_of.has_value(); });
  if (found != draft.sections.rend()) *found = {};
}

bool draw_cause_tile(Pen& pen, Rect tile, const std::string& target, Cause cause, std::int64_t count, bool enabled) {
  const Theme& t = pen.theme;
  const bool tapped = pen.touch.hit(target, tile, enabled, TapKind::count);
  const bool pressed = is_pressed(pen, target);
  const bool any = count > 0;
  pen.fill(tile, pressed ? t.straw : any ? t.error_ground : t.sheet, 6);
  pen.frame(tile, pressed ? t.on_straw : any ? t.copper : t.edge);
  std::string name(name_of(cause));
  if (any) name = std::to_string(count) + " " + name;
  const bool low = tile.h < 76;
  draw_icon(pen, icon_of(cause), {tile.middle().x, tile.y + tile.h * (low ? 0.32F : 0.36F)},
            low            ? 20.0F
            : tile.h >= 80 ? 32.0F
                           : 24.0F,
            pressed ? t.on_straw : t.copper);
  pen.text_in({tile.x + 4, tile.bottom() - tile.h * 0.44F, tile.w - 8, tile.h * 0.38F},
              pen.fitting({Type::heading_20, Type::heading_18}, name, tile.w - 8), pressed ? t.on_straw : t.ink, name,
              Align::middle);
  return tapped;
}

// Wedges wide enough to be told apart by a glove.
bool can_go_by_section(const UnpotDraft& draft, float radius) {
  return of_pieces(draft) && draft.sections.size() > 1 &&
         wedge_target({}, radius, 0, draft.sections.size()).has_value();
}

// The radius that the large mother has in an area.
float large_radius(Rect area) {
  return std::min(area.w / 2 - 4, (area.h - 44 - 2 * (60 + gap)) / 2 - 8);
}

// What killed one more, or one fewer after all.
void draw_causes(ScreenView& view, Rect area, bool by_section) {
  Pen& pen = view.pen;
  const Words& w = words();
  UnpotDraft& draft = view.ui.unpot;
  if (by_section) {
    const Rect act = area.take_bottom(56, gap);
    if (draw_act(pen, act, {"sections", w.sections_open, ActStyle::link, Icon::cutting, true})) draft.by_section = true;
  }
  if (area.h >= 330) {
    pen.text_in(area.take_top(36, 8), Type::heading_24, pen.theme.ink,
                of_pieces(draft) ? w.one_more_dead : w.one_more_lost);
  }
  const float wide = (area.w - 2 * gap) / 3;
  const float high = (area.h - 2 * gap) / 3;
  const std::map<Cause, std::int64_t> counts = dead_by_cause(draft);
  const bool can_add = dead_count(draft) < std::max<std::int64_t>(was_in(draft), 0);
  for (std::size_t i = 0; i < 9; ++i) {
    const Rect tile{area.x + static_cast<float>(i % 3) * (wide + gap),
                    area.y + static_cast<float>(i / 3) * (high + gap), wide, high};
    if (i == 7) {
      if (draw_act(pen, tile, {"dead:fewer", w.one_fewer, ActStyle::square, {}, dead_count(draft) > 0, TapKind::count}))
        one_fewer_dead(draft);
      continue;
    }
    if (i == 8) {
      if (draw_act(pen, tile, {"dead:done", w.done, ActStyle::main, {}, true})) draft.choosing_cause = false;
      continue;
    }
    const auto count = counts.find(causes[i]);
    if (draw_cause_tile(pen, tile, "dead:" + std::string(to_text(causes[i])), causes[i],
                        count == counts.end() ? 0 : count->second, can_add))
      one_more_dead(draft, causes[i]);
  }
}

std::string said_words(const SectionSaid& one) {
  switch (one.bore) {
    case Bore::unsaid:
      return "";
    case Bore::nothing:
      return "0";
    case Bore::one:
      return "1";
    case Bore::two:
    case Bore::two_together:
      return "2";
  }
  return "";
}

std::int64_t told(const UnpotDraft& draft) {
  std::int64_t sum = 0;
  for (const SectionSaid& one : draft.sections) {
    if (one.bore == Bore::one) sum += 1;
    if (one.bore == Bore::two || one.bore == Bore::two_together) sum += 2;
  }
  return sum;
}

void say_of_section(UnpotDraft& draft, Bore bore, std::optional<Cause> dead_of = std::nullopt) {
  draft.sections[draft.section] = {bore, dead_of};
  draft.asking_why = false;
  // On to the next of which nothing was said.
  for (std::size_t i = 1; i < draft.sections.size(); ++i) {
    const std::size_t at = (draft.section + i) % draft.sections.size();
    if (draft.sections[at].bore != Bore::unsaid || draft.sections[at].dead_of) continue;
    draft.section = at;
    return;
  }
}

// Why the chosen section bore nothing.
void draw_why(ScreenView& view, Rect area) {
  UnpotDraft& draft = view.ui.unpot;
  const bool sectors = of_sectors(draft);
  const float wide = (area.w - 3 * gap) / 4;
  const float high = std::min(150.0F, (area.h - gap) / 2);
  Rect first{area.x, area.y, wide, high};
  if (draw_act(view.pen, first, {"why:alive", words().sections_alive, ActStyle::plain, {}, true}))
    say_of_section(draft, Bore::nothing);
  for (std::size_t i = 0; i < causes.size() && !sectors; ++i) {
    const Rect tile{area.x + static_cast<float>((i + 1) % 4) * (wide + gap),
                    area.y + static_cast<float>((i + 1) / 4) * (high + gap), wide, high};
    if (draw_cause_tile(view.pen, tile, "why:" + std::string(to_text(causes[i])), causes[i], 0, true))
      say_of_section(draft, Bore::nothing, causes[i]);
  }
}

void draw_sections(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const Words& w = words();
  UnpotDraft& draft = view.ui.unpot;
  const float radius = large_radius(area);
  draft.section = std::min(draft.section, draft.sections.size() - 1);
  const Rect title = area.take_top(36, 8);
  const std::string_view asks = draft.asking_why ? w.sections_nothing : w.sections_title;
  pen.text_in(title, pen.fitting({Type::heading_24, Type::heading_20}, asks, title.w), t.ink, asks);
  const Rect done = area.take_bottom(60, gap);
  Rect row = area.take_bottom(60, gap);
  const float wide = (row.w - 3 * gap) / 4;
  const auto key = [&](const char* target, std::string_view text, Bore bore) {
    const Rect place = row.take_left(wide, gap);
    if (draw_act(pen, place, {target, text, ActStyle::plain, {}, true, TapKind::count})) say_of_section(draft, bore);
  };
  key("section:1", "1", Bore::one);
  key("section:2", "2", Bore::two);
  key("section:together", view.layout.phone() ? w.sections_two_short : w.sections_two, Bore::two_together);
  if (draw_act(pen, row, {"section:0", "0", ActStyle::plain, {}, true, TapKind::count}))
    draft.asking_why = !draft.asking_why;
  Rect last = done;
  const Rect end = last.take_right(std::min(160.0F, last.w * 0.42F), 12);
  const std::string sum = say(w.sections_sum, told(draft), draft.total());
  pen.paragraph({last.x, last.y + 6, last.w, last.h}, Type::strong_16, t.ink2, sum, 2);
  if (draw_act(pen, end, {"dead:done", w.done, ActStyle::quiet, {}, true})) {
    draft.by_section = draft.choosing_cause = draft.asking_why = false;
    return;
  }
  if (draft.asking_why) {
    draw_why(view, area);
    return;
  }
  const Point middle = area.middle();
  std::vector<WedgeView> wedges;
  for (std::size_t i = 0; i < draft.sections.size(); ++i) {
    const SectionSaid& one = draft.sections[i];
    wedges.push_back({one.dead_of, said_words(one), one.bore == Bore::two_together, i == draft.section});
  }
  draw_large_mother(pen, middle, radius, of_sectors(draft), wedges);
  for (std::size_t i = 0; i < wedges.size(); ++i) {
    const auto target = wedge_target(middle, radius, i, wedges.size());
    if (!target) continue;
    if (pen.touch.hit("wedge:" + std::to_string(i + 1), *target)) draft.section = i;
    pen.touch.tell(say(w.section_nth, i + 1, words_of_section(draft.sections[i])));
  }
}

}  // namespace

std::string words_of_section(const SectionSaid& one) {
  const Words& w = words();
  if (one.dead_of) return std::string(name_of(*one.dead_of));
  if (one.bore == Bore::unsaid) return std::string(w.section_unsaid);
  if (one.bore == Bore::two_together) return std::string(w.section_two_together);
  return said_words(one);
}

bool of_pieces(const UnpotDraft& draft) {
  return draft.pot->pot.unit == Unit::pieces;
}

std::int64_t was_in(const UnpotDraft& draft) {
  return of_pieces(draft) ? draft.pot->pot.pieces : total(draft.pot->pot.bulbs);
}

std::int64_t dead_count(const UnpotDraft& draft) {
  return static_cast<std::int64_t>(draft.dead().size());
}

std::map<Cause, std::int64_t> dead_by_cause(const UnpotDraft& draft) {
  std::map<Cause, std::int64_t> by_cause;
  for (const Cause cause : draft.dead()) ++by_cause[cause];
  return by_cause;
}

void draw_opened_mother(ScreenView& view, Rect area) {
  UnpotDraft& draft = view.ui.unpot;
  // On a phone the opened mother has more room than the pad: what counts is the room it will have.
  const Rect room =
      view.layout.phone() ? Rect{area.x, view.layout.content.y, area.w, area.bottom() - view.layout.content.y} : area;
  const bool possible = can_go_by_section(draft, large_radius(room));
  if (draft.by_section && possible) {
    draw_sections(view, area);
  } else {
    draft.by_section = false;
    draw_causes(view, area, possible);
  }
}

}  // namespace motherbulb
