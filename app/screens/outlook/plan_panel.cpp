// This season's plan: its mothers drawn, cut or with leaves, in sentences what to do with each, the sessions that it
// asks for, and beside it other ways to go on.

#include <algorithm>
#include <cmath>

#include "app/screens/outlook/parts.hpp"
#include "app/widgets/chance.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/mother.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb::ahead {
namespace {

constexpr std::size_t most_drawn = 6;  // mothers
constexpr float sentence_head = 28, sentence_foot = 8;
constexpr float sentence_indent = 42;
constexpr float name_high = 40;
constexpr float choice_high = 30, beyond_high = 26;
constexpr float figures_high = 42;
constexpr float act_high = 56;
constexpr float working_high = 26 + 8 + 12 + act_high + 12;

void draw_grown_on(Pen& pen, Point m, float radius) {
  const Theme& t = pen.theme;
  draw_mother(pen, m, radius, {0, false, {}});
  // It keeps its leaves.
  const float reach = radius * 0.5F;
  for (const float side : {-1.0F, 1.0F}) {
    pen.path(curve(m, {{m.x, m.y - reach * 0.6F},
                       {m.x + side * reach * 0.2F, m.y - reach},
                       {m.x + side * reach * 0.75F, m.y - reach * 0.9F}}),
             t.leaf_fill, std::max(3.0F, radius * 0.11F));
  }
}

// Those that are cut first; as many of both kinds as their shares say, where there are too many to draw.
void draw_mothers(Pen& pen, Rect area, const PlanTold& told) {
  const auto all = static_cast<std::size_t>(told.cut + told.large);
  const std::size_t drawn = std::min(all, most_drawn);
  auto cut = static_cast<std::size_t>(told.cut);
  if (all > drawn) {
    cut = static_cast<std::size_t>(
        std::lround(static_cast<double>(told.cut * static_cast<std::int64_t>(drawn)) / static_cast<double>(all)));
    if (told.cut > 0) cut = std::max<std::size_t>(1, cut);
    if (told.large > 0) cut = std::min(cut, drawn - 1);
  }
  // Each as it is cut, the most mothers first.
  std::vector<std::int32_t> sections;
  for (const FirstSeason& first : told.clones) {
    for (const CutAct& act : first.cuts)
      sections.insert(sections.end(), static_cast<std::size_t>(std::min<std::int64_t>(act.count, 6)), act.sections);
  }
  const float cell = std::min(84.0F, area.w / static_cast<float>(most_drawn));
  const float radius = std::min(34.0F, cell / 2 - 5);
  for (std::size_t i = 0; i < drawn; ++i) {
    const Point middle{area.x + radius + 1 + cell * static_cast<float>(i), area.y + radius + 2};
    if (i < cut) {
      draw_mother(pen, middle, radius, {i < sections.size() ? sections[i] : sections.back(), false, {}});
    } else {
      draw_grown_on(pen, middle, radius);
    }
  }
}

float sentence_height(Pen& pen, float width, const PlanSentence& one) {
  if (!one.icon) return name_high;
  const float line =
      one.line.empty() ? 0.0F : pen.paragraph_height(width - sentence_indent, Type::body_16, one.line, 3);
  return sentence_head + line + sentence_foot;
}

void draw_sentence(Pen& pen, Rect row, const PlanSentence& one) {
  const Theme& t = pen.theme;
  if (!one.icon) {
    pen.text_in({row.x, row.y + 4, row.w, row.h - 8}, Type::name_23, t.ink, one.title);
    return;
  }
  draw_icon(pen, *one.icon, {row.x + 14, row.y + 24}, 26, t.tunic);
  const Rect text{row.x + sentence_indent, row.y, row.w - sentence_indent, row.h};
  pen.text_in({text.x, text.y + 2, text.w, 26},
              pen.fitting({Type::strong_18, Type::strong_16, Type::strong_15}, one.title, text.w), t.ink, one.title);
  pen.paragraph({text.x, text.y + sentence_head, text.w, text.h}, Type::body_16, t.ink2, one.line, 3);
}

void draw_choices(const ScreenView& view, Rect area, const SeasonPlan& plan) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const std::string title = say(w.plan_beside, month_after(view, plan.saleable.size()));
  pen.text_in(area.take_top(30), Type::strong_16, t.ink2, title);
  const auto row = [&](std::string_view name, double saleable, const std::optional<double>& chance, bool strong) {
    const Rect at = area.take_top(choice_high);
    pen.fill({at.x, at.y - 0.75F, at.w, 1.5F}, t.night ? t.ring : t.well);
    const Type type = strong ? Type::strong_16 : Type::body_16;
    const float named = pen.text_in(at, type, strong ? t.ink : t.ink2, name);
    const std::string chance_said = chance ? say(w.of_100, in_a_hundred(*chance)) : std::string();
    pen.text_in({at.x + named, at.y, at.w - named - 96, at.h}, type, t.ink2, say(w.plan_about, rounded_words(saleable)),
                Align::right);
    pen.text_in(at, Type::strong_16, strong ? t.leaf : t.ink, chance_said, Align::right);
  };
  row(w.plan_itself, plan.saleable.empty() ? 0 : plan.saleable.back().mean, plan.chance, true);
  bool beyond = false;
  for (std::size_t i = 0; i < plan.beside.size() && i < w.plan_others.size(); ++i) {
    const SeasonChoice& other = plan.beside[i];
    std::string name(w.plan_others[i]);
    if (!other.within_limits) name += " *";
    beyond = beyond || !other.within_limits;
    row(name, other.saleable.empty() ? 0 : other.saleable.back(), other.chance, false);
  }
  if (beyond) pen.text_in(area.take_top(beyond_high), Type::body_15, t.ink2, w.plan_beyond);
}

bool any_beyond(const SeasonPlan& plan) {
  return std::any_of(plan.beside.begin(), plan.beside.end(),
                     [](const SeasonChoice& one) { return !one.within_limits; });
}

void draw_figures(Pen& pen, Rect area, const SeasonPlan& plan, const OutlookDraft::Wanted& wanted) {
  const OutlookWords& w = outlook_words();
  const Theme& t = pen.theme;
  const auto figure = [&](Rect at, std::string_view name, double used, const std::string& count,
                          const std::optional<std::int64_t>& limit) {
    const Rect line = at.take_top(30, 2);
    const float wide = pen.text_in(line, Type::body_16, t.ink2, name);
    const std::string said = limit ? say(w.plan_of, count, grouped(*limit)) : count;
    pen.text_in({line.x + wide + 12, line.y, line.w - wide - 12, line.h}, Type::heading_24, t.ink, said);
    if (!limit) return;
    const Rect track{at.x, at.y, at.w, 8};
    pen.fill(track, t.night ? t.edge : t.well, 4);
    const double share = *limit > 0 ? std::clamp(used / static_cast<double>(*limit), 0.0, 1.0) : 1.0;
    if (share > 0) pen.fill({track.x, track.y, std::max(4.0F, track.w * static_cast<float>(share)), track.h}, t.ink, 4);
  };
  figure(area.take_left((area.w - 24) / 2, 24), w.plan_pots, plan.pots, rounded_words(std::ceil(plan.pots - 1e-6)),
         wanted.pots);
  figure(area, w.plan_hours, plan.hours, few_words(plan.hours), wanted.hours);
}

// What is on the panel, and how it is laid out in a width: beside each other where there is room, else one below the
// other.
struct PlanPanel {
  std::shared_ptr<const PlanTold> told;  // none: there is no plan
  bool feasible = false;
  bool working = false, again = false, with_limits = false;
  std::vector<std::string> notes;  // why there is no plan, or that it is not of what is wanted now

  bool beside = false, many = false;
  float mothers = 0, sentences = 0, figures = 0;
  std::vector<float> note_rows, rows;
  float height = 0;
};

PlanPanel panel_of(ScreenView& view) {
  const OutlookWords& w = outlook_words();
  const OutlookDraft& draft = view.ui.outlook;
  const auto& planned = draft.planned;
  const OutlookDraft::Wanted& wanted = wanted_of(view);
  PlanPanel panel;
  panel.told = told_of(view);
  panel.feasible = panel.told && panel.told->of->plan.plan.feasible;
  panel.working = draft.working.has_value();
  const bool tried = planned.basis == basis_now(view) && planned.tried == wanted;
  if (!panel.working && tried && planned.stopped) {
    panel.notes.emplace_back(w.plan_stopped);
    panel.again = true;
  }
  if (tried && !planned.refused.empty()) panel.notes.push_back(planned.refused);
  if (!panel.told) return panel;
  const SeasonPlan& plan = panel.told->of->plan;
  if (!(planned.made_for == wanted)) {
    panel.notes.push_back(
        say(w.plan_stale, grouped(planned.made_for.target), month_after(view, planned.made_for.season)));
  }
  if (!panel.feasible) {
    panel.notes.emplace_back(w.plan_none);
    for (std::string& line : in_the_way_words(view, plan)) panel.notes.push_back(std::move(line));
    return panel;
  }
  if (plan.saleable.empty()) {
    panel.notes.emplace_back(plan.plan.stopped ? w.plan_without_chances : w.limit_stands);
    panel.again = panel.again || (plan.plan.stopped && !panel.working);
  }
  if (!plan.plan.proven) panel.notes.emplace_back(w.plan_gap);
  if (!plan.sure_enough) {
    panel.notes.push_back(
        say(planned.made_for.soonest ? w.plan_no_surer : w.plan_not_sure, planned.made_for.sure_percent));
  }
  return panel;
}

void lay_out(ScreenView& view, float width, PlanPanel& panel) {
  Pen& pen = view.pen;
  const float inside = width - 2 * across(view);
  panel.height = 28 + 38;
  if (panel.working) panel.height += working_high;
  for (const std::string& note : panel.notes) {
    panel.note_rows.push_back(pen.paragraph_height(inside, Type::body_16, note, 5) + 8);
    panel.height += panel.note_rows.back();
  }
  if (panel.again) panel.height += act_high + gap;
  if (panel.with_limits) panel.height += act_high + gap;
  if (!panel.feasible) return;
  const PlanTold& told = *panel.told;
  // Of many clones the list is long: then what comes of it stands above the list.
  panel.many = told.clones.size() > 1;
  panel.beside = inside > 600 && !panel.many;
  const float part = panel.beside ? (inside - 36) / 2 : inside;
  if (told.cut + told.large > 0) panel.mothers = 2 * std::min(34.0F, std::min(84.0F, part / most_drawn) / 2 - 5) + 18;
  for (const PlanSentence& one : told.sentences) {
    panel.rows.push_back(sentence_height(pen, part, one));
    panel.sentences += panel.rows.back();
  }
  panel.sentences += static_cast<float>(told.sessions.size()) * (act_high + gap) + 4;
  panel.figures = figures_high + 12;
  if (!told.of->plan.saleable.empty())
    panel.figures += 30 + choice_high * static_cast<float>(1 + told.of->plan.beside.size()) +
                     (any_beyond(told.of->plan) ? beyond_high : 0.0F);
  const float drawn = panel.mothers + panel.figures + (panel.many ? 12.0F : 0.0F);
  panel.height += panel.beside ? std::max(panel.sentences, drawn) : panel.sentences + drawn;
}

void draw_plan_head(const ScreenView& view, Rect head, const PlanPanel& panel) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const float title =
      pen.text_in(head, Type::heading_24, pen.theme.ink, panel.with_limits ? w.plan_title : w.plan_to_do);
  if (!panel.feasible) return;
  const std::int64_t mothers = panel.told->cut + panel.told->large;
  if (mothers == 0) return;
  std::string said = counted(mothers, w.mother, w.mothers);
  if (panel.told->clones.size() == 1) said = say(w.plan_mothers, said, girth_words(panel.told->clones.front().from_mm));
  const Rect room{head.x + title + 12, head.y, head.w - title - 12, head.h};
  pen.text_in(room, pen.fitting({Type::body_16, Type::body_15}, said, room.w), pen.theme.ink2, said, Align::right);
}

// How far it is, and the act that stops it.
void draw_working(ScreenView& view, Rect area) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  OutlookDraft::Working& working = *view.ui.outlook.working;
  pen.text_in(area.take_top(26), Type::strong_16, t.ink, working.stop ? w.plan_ends : w.plan_works);
  const Rect track = area.take_top(8, 12);
  pen.fill(track, t.night ? t.edge : t.well, 4);
  const float done = std::clamp(static_cast<float>(working.share), 0.0F, 1.0F);
  if (done > 0) pen.fill({track.x, track.y, std::max(8.0F, track.w * done), track.h}, t.leaf_fill, 4);
  const Rect stop = area.take_top(act_high);
  if (draw_act(pen, {stop.x, stop.y, std::min(stop.w, 260.0F), stop.h},
               {"plan:stop", w.plan_stop, ActStyle::square, {}, !working.stop}))
    working.stop = true;
}

std::optional<Wish> draw_sessions(ScreenView& view, Rect& at, const PlanTold& told) {
  std::optional<Wish> wish;
  at.take_top(4);
  for (std::size_t i = 0; i < told.sessions.size(); ++i) {
    const Rect row = at.take_top(act_high, gap);
    const std::string name = "plan:do:" + std::to_string(i);
    if (draw_act(view.pen, row,
                 {name, told.sessions[i].said, i == 0 ? ActStyle::main : ActStyle::quiet, Icon::cutting, true})) {
      fill_session(view.ui.cut, told.sessions[i]);
      wish = Go{Screen::cut, {}};
    }
  }
  return wish;
}

std::optional<Wish> draw_plan_itself(ScreenView& view, Rect at, const PlanPanel& panel) {
  Pen& pen = view.pen;
  const PlanTold& told = *panel.told;
  Rect drawn = at;
  Rect said = at;
  if (panel.beside) said = drawn.take_right((at.w - 36) / 2, 36);
  if (panel.mothers > 0) draw_mothers(pen, drawn.take_top(panel.mothers), told);
  if (panel.many) {
    said = drawn;
    said.take_top(panel.figures, 12);
  } else if (!panel.beside) {
    said = drawn.take_top(panel.sentences);
  }
  for (std::size_t i = 0; i < told.sentences.size(); ++i)
    draw_sentence(pen, said.take_top(panel.rows[i]), told.sentences[i]);
  const auto wish = draw_sessions(view, said, told);
  draw_figures(pen, drawn.take_top(figures_high, 12), told.of->plan, view.ui.outlook.planned.made_for);
  if (!told.of->plan.saleable.empty()) draw_choices(view, drawn, told.of->plan);
  return wish;
}

}  // namespace

bool plan_is_due(ScreenView& view) {
  const OutlookDraft& draft = view.ui.outlook;
  const OutlookDraft::Basis now = basis_now(view);
  const OutlookDraft::Wanted& wanted = wanted_of(view);
  if (draft.working) return !(draft.working->basis == now) || !(draft.working->wanted == wanted);
  return !(draft.planned.basis == now) || !(draft.planned.tried == wanted);
}

Panel plan_panel(ScreenView& view, float width, bool with_limits) {
  const auto panel = std::make_shared<PlanPanel>(panel_of(view));
  panel->with_limits = with_limits;
  lay_out(view, width, *panel);
  return {panel->height, [&view, panel](Rect area) -> std::optional<Wish> {
            const OutlookWords& w = outlook_words();
            Pen& pen = view.pen;
            std::optional<Wish> wish;
            pen.fill(area, pen.theme.sheet, 8);
            Rect at = area.inset(across(view), 14);
            if (panel->with_limits) {
              const Rect link = at.take_bottom(act_high, gap);
              if (draw_act(pen, {link.x, link.y, std::min(link.w, 320.0F), link.h},
                           {"plan:limits", w.plan_limits, ActStyle::link, Icon::settle, true})) {
                Subject about;
                about.clone = view.ui.about.clone;
                about.genus = view.ui.about.genus;
                pen.touch.scroll_to("season plan", 0);
                wish = Go{Screen::season_plan, about};
              }
            }
            draw_plan_head(view, at.take_top(34, 4), *panel);
            if (panel->working) draw_working(view, at.take_top(working_high));
            for (std::size_t i = 0; i < panel->notes.size(); ++i)
              pen.paragraph(at.take_top(panel->note_rows[i]), Type::body_16, pen.theme.ink2, panel->notes[i], 5);
            if (panel->again) {
              const Rect again = at.take_top(act_high, gap);
              if (draw_act(pen, {again.x, again.y, std::min(again.w, 320.0F), again.h},
                           {"plan:make", w.plan_make, ActStyle::main, {}, true}))
                wish = Reckon{Reckon::What::season_plan};
            }
            if (!panel->feasible) return wish;
            auto asked = draw_plan_itself(view, at, *panel);
            return asked ? asked : wish;
          }};
}

}  // namespace motherbulb::ahead
