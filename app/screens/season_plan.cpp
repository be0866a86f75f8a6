// This season's plan for a clone: its mothers drawn, cut or with leaves, and in sentences what to do with each.

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "app/screens/outlook_parts.hpp"
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
constexpr float choice_high = 30;

struct CutAct {
  Method method = Method::chipping;
  std::int32_t sections = 0;
  Grade grade;
  std::int64_t count = 0, of = 0;
  double each = 0;
};

// The first season of the plan, act by act.
struct FirstSeason {
  std::vector<CutAct> cuts;  // the most mothers first
  std::int64_t grown_on = 0, large = 0, pieces = 0, cut = 0;
  std::vector<std::pair<Grade, std::int64_t>> sold;
  std::int32_t from_mm = 0;  // the least end of the classes that are large enough to be cut
};

struct Sentence {
  Icon icon = Icon::cutting;
  std::string title, line;
};

FirstSeason first_season(const PlanClone& known, const SeasonPlan& plan) {
  FirstSeason first;
  std::vector<Grade> grades;
  for (const ClassGrowth& one : known.growth.classes) grades.push_back(one.grade);
  // As the plan has it: a class is cut where its middle is large enough.
  const auto large = [&](Grade grade) { return middle_cm(grades, class_of(grades, grade)) >= known.least_to_cut_cm; };
  for (std::size_t i = grades.size(); i-- > 0;) {
    if (large(grades[i])) first.from_mm = std::max(0, grades[i].low_mm);
  }
  for (const SeasonAct& act : plan.acts) {
    const std::int64_t count = std::llround(act.count);
    if (act.season != 1 || count == 0) continue;
    const SeasonActMeaning& meaning = plan.meanings[act.act];
    if (!meaning.grade) {
      first.pieces += count;
    } else if (meaning.kind == PlanActKind::cuts) {
      const std::int64_t of = plan.task.start[plan.task.acts[act.act].of_class];
      first.cuts.push_back({*meaning.method, meaning.sections, *meaning.grade, count, of, meaning.per_mother});
      first.cut += count;
    } else if (meaning.kind == PlanActKind::sells) {
      first.sold.emplace_back(*meaning.grade, count);
    } else {
      first.grown_on += count;
      if (large(*meaning.grade)) first.large += count;
    }
  }
  std::stable_sort(first.cuts.begin(), first.cuts.end(),
                   [](const CutAct& a, const CutAct& b) { return a.count > b.count; });
  return first;
}

std::string lower(std::string_view word) {
  std::string text(word);
  if (!text.empty() && text[0] >= 'A' && text[0] <= 'Z') text[0] = static_cast<char>(text[0] - 'A' + 'a');
  return text;
}

std::string grow_on_line(const FirstSeason& first) {
  const OutlookWords& w = outlook_words();
  std::string line =
      first.large > 0 ? say(w.plan_grow_large, grouped(first.large)) : std::string(w.plan_grow_none_large);
  if (first.grown_on == 0) line.clear();
  if (first.pieces > 0) {
    const std::string pieces = say(w.plan_grow_pieces, counted(first.pieces, w.piece, w.pieces));
    line = line.empty() ? pieces : line + ", " + pieces;
  }
  return line;
}

Sentence release_sentence(const ScreenView& view, const SeasonPlan& plan, const OutlookDraft::Wanted& wanted) {
  const OutlookWords& w = outlook_words();
  if (!plan.release || plan.release->counts.empty())
    return {Icon::label, std::string(w.plan_no_release),
            say(w.plan_no_release_by, grouped(wanted.target), month_after(view, wanted.season))};
  const SeasonRelease& release = *plan.release;
  std::string line = say(w.plan_release_by, grouped(release.counts.front()));
  if (release.counts.size() > 1) line += ", " + say(w.plan_release_more, grouped(release.counts[1]));
  return {Icon::label, say(w.plan_release, month_after(view, release.season)), line};
}

std::vector<Sentence> sentences_of(const ScreenView& view, const FirstSeason& first, const SeasonPlan& plan,
                                   const OutlookDraft::Wanted& wanted) {
  const OutlookWords& w = outlook_words();
  std::vector<Sentence> all;
  for (const CutAct& cut : first.cuts) {
    all.push_back(
        {Icon::cutting, say(w.plan_cut, grouped(cut.count), grouped(cut.of), grade_words(cut.grade), cut.sections),
         say(w.plan_cut_by, lower(name_of(cut.method)), few_words(cut.each) + " " + std::string(w.bulblets))});
  }
  if (first.grown_on > 0 || first.pieces > 0) {
    const std::string what =
        first.grown_on > 0 ? counted(first.grown_on, w.bulb, w.bulbs) : counted(first.pieces, w.piece, w.pieces);
    Sentence grow{Icon::clones, say(w.plan_grow, what), first.grown_on > 0 ? grow_on_line(first) : std::string()};
    all.push_back(std::move(grow));
  }
  for (const auto& [grade, count] : first.sold)
    all.push_back({Icon::label, say(w.plan_sell, grouped(count), grade_words(grade)), std::string(w.plan_sell_by)});
  all.push_back(release_sentence(view, plan, wanted));
  return all;
}

// ------------------------------------------------------------------------------------------------ drawing

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
void draw_mothers(Pen& pen, Rect area, const FirstSeason& first) {
  const auto all = static_cast<std::size_t>(first.cut + first.large);
  const std::size_t drawn = std::min(all, most_drawn);
  auto cut = static_cast<std::size_t>(first.cut);
  if (all > drawn) {
    cut = static_cast<std::size_t>(
        std::lround(static_cast<double>(first.cut * static_cast<std::int64_t>(drawn)) / static_cast<double>(all)));
    if (first.cut > 0) cut = std::max<std::size_t>(1, cut);
    if (first.large > 0) cut = std::min(cut, drawn - 1);
  }
  const float cell = std::min(84.0F, area.w / static_cast<float>(most_drawn));
  const float radius = std::min(34.0F, cell / 2 - 5);
  for (std::size_t i = 0; i < drawn; ++i) {
    const Point middle{area.x + radius + 1 + cell * static_cast<float>(i), area.y + radius + 2};
    if (i < cut) {
      const std::int32_t sections = first.cuts.empty() ? 0 : first.cuts.front().sections;
      draw_mother(pen, middle, radius, {sections, false, {}});
    } else {
      draw_grown_on(pen, middle, radius);
    }
  }
}

float sentence_height(Pen& pen, float width, const Sentence& one) {
  const float line =
      one.line.empty() ? 0.0F : pen.paragraph_height(width - sentence_indent, Type::body_16, one.line, 3);
  return sentence_head + line + sentence_foot;
}

void draw_sentence(Pen& pen, Rect row, const Sentence& one) {
  const Theme& t = pen.theme;
  draw_icon(pen, one.icon, {row.x + 14, row.y + 24}, 26, t.tunic);
  const Rect text{row.x + sentence_indent, row.y, row.w - sentence_indent, row.h};
  pen.text_in({text.x, text.y + 2, text.w, 26},
              pen.fitting({Type::strong_18, Type::strong_16, Type::strong_15}, one.title, text.w), t.ink, one.title);
  pen.paragraph({text.x, text.y + sentence_head, text.w, text.h}, Type::body_16, t.ink2, one.line, 3);
}

void draw_choices(const ScreenView& view, Rect area, const SeasonPlan& plan, const OutlookDraft::Wanted& wanted) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const std::string title = say(w.plan_beside, month_after(view, wanted.season));
  pen.text_in(area.take_top(30), Type::strong_16, t.ink2, title);
  const auto row = [&](std::string_view name, double saleable, const std::optional<double>& chance, bool strong) {
    const Rect at = area.take_top(choice_high);
    pen.fill({at.x, at.y - 0.75F, at.w, 1.5F}, t.night ? t.ring : t.well);
    const Type type = strong ? Type::strong_16 : Type::body_16;
    pen.text_in(at, type, strong ? t.ink : t.ink2, name);
    const std::string chance_said = chance ? say(w.of_100, in_a_hundred(*chance)) : std::string();
    pen.text_in({at.x, at.y, at.w - 96, at.h}, type, t.ink2, say(w.plan_about, rounded_words(saleable)), Align::right);
    pen.text_in(at, Type::strong_16, strong ? t.leaf : t.ink, chance_said, Align::right);
  };
  const double planned = plan.saleable.empty() ? 0 : plan.saleable.back().mean;
  row(w.plan_itself, planned, plan.chance, true);
  for (std::size_t i = 0; i < plan.beside.size() && i < w.plan_others.size(); ++i)
    row(w.plan_others[i], plan.beside[i].saleable.empty() ? 0 : plan.beside[i].saleable.back(), plan.beside[i].chance,
        false);
}

void draw_figures(Pen& pen, Rect area, const SeasonPlan& plan) {
  const OutlookWords& w = outlook_words();
  const Theme& t = pen.theme;
  const auto figure = [&](Rect at, std::string_view name, const std::string& count) {
    const float wide = pen.text_in(at, Type::body_16, t.ink2, name);
    pen.text_in({at.x + wide + 12, at.y, at.w - wide - 12, at.h}, Type::heading_24, t.ink, count);
  };
  figure(area.take_left(area.w / 2, 0), w.plan_pots, rounded_words(std::ceil(plan.pots)));
  figure(area, w.plan_hours, few_words(plan.hours));
}

struct PlanPanel {
  OutlookDraft::Wanted wanted;
  std::shared_ptr<const SeasonPlan> plan;
  FirstSeason first;
  std::vector<Sentence> sentences;
  std::string note;  // why there is no plan, or that it is not of what is wanted now
  bool asks = false;
};

PlanPanel panel_of(ScreenView& view) {
  const OutlookWords& w = outlook_words();
  const OutlookDraft& draft = view.ui.outlook;
  const auto& planned = draft.planned;
  PlanPanel panel;
  panel.wanted = wanted_of(view);
  const bool known = planned.of == draft.ahead.picture;
  if (!known || (!planned.plan && planned.refused.empty())) {
    panel.note = w.plan_stopped;
    panel.asks = true;
    return panel;
  }
  if (!(planned.wanted == panel.wanted)) {
    panel.note = say(w.plan_stale, grouped(planned.wanted.target), month_after(view, planned.wanted.season));
    panel.asks = true;
    return panel;
  }
  if (!planned.refused.empty()) {
    panel.note = planned.refused;
  } else if (!planned.plan->plan.feasible) {
    panel.note = w.plan_none;
  } else {
    panel.plan = planned.plan;
    panel.first = first_season(draft.ahead.picture->known, *planned.plan);
    panel.sentences = sentences_of(view, panel.first, *planned.plan, panel.wanted);
    if (!planned.plan->plan.proven) panel.note = w.plan_gap;
  }
  return panel;
}

}  // namespace

namespace {

// How the panel is laid out in a width: beside each other where there is room, else one below the other.
struct PlanForm {
  float across = 26;
  bool beside = false;
  float note = 0, mothers = 0;
  float sentences = 0, figures = 0;  // of the two parts
  std::vector<float> rows;
  float height = 0;
};

PlanForm form_of(ScreenView& view, float width, const PlanPanel& panel) {
  Pen& pen = view.pen;
  PlanForm form;
  form.across = view.layout.phone() ? 16.0F : 26.0F;
  const float inside = width - 2 * form.across;
  form.height = 28 + 38 + (panel.asks ? 60 : 0);
  if (!panel.note.empty()) form.note = pen.paragraph_height(inside, Type::body_16, panel.note, 5) + 8;
  form.height += form.note;
  if (!panel.plan) return form;
  form.beside = inside > 600;
  const float part = form.beside ? (inside - 36) / 2 : inside;
  if (panel.first.cut + panel.first.large > 0)
    form.mothers = 2 * std::min(34.0F, std::min(84.0F, part / most_drawn) / 2 - 5) + 18;
  for (const Sentence& one : panel.sentences) {
    form.rows.push_back(sentence_height(pen, part, one));
    form.sentences += form.rows.back();
  }
  form.figures = 46 + 30 + choice_high * static_cast<float>(1 + panel.plan->beside.size());
  const float drawn = form.mothers + form.figures;
  form.height += form.beside ? std::max(form.sentences, drawn) : form.sentences + drawn;
  return form;
}

void draw_plan_head(const ScreenView& view, Rect head, const PlanPanel& panel) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const float title = pen.text_in(head, Type::heading_24, pen.theme.ink, w.plan_title);
  const std::int64_t mothers = panel.first.cut + panel.first.large;
  if (!panel.plan || mothers == 0) return;
  std::string girth = grade_words({panel.first.from_mm, -1});
  if (!girth.empty() && girth.back() == '+') girth.pop_back();
  const std::string said = say(w.plan_mothers, counted(mothers, w.mother, w.mothers), girth);
  const Rect room{head.x + title + 12, head.y, head.w - title - 12, head.h};
  pen.text_in(room, pen.fitting({Type::body_16, Type::body_15}, said, room.w), pen.theme.ink2, said, Align::right);
}

void draw_plan_itself(const ScreenView& view, Rect at, const PlanPanel& panel, const PlanForm& form) {
  Pen& pen = view.pen;
  Rect drawn = at;
  Rect told = at;
  if (form.beside) told = drawn.take_right((at.w - 36) / 2, 36);
  if (form.mothers > 0) draw_mothers(pen, drawn.take_top(form.mothers), panel.first);
  if (!form.beside) told = drawn.take_top(form.sentences);
  for (std::size_t i = 0; i < panel.sentences.size(); ++i)
    draw_sentence(pen, told.take_top(form.rows[i]), panel.sentences[i]);
  draw_figures(pen, drawn.take_top(40, 6), *panel.plan);
  draw_choices(view, drawn, *panel.plan, panel.wanted);
}

}  // namespace

Panel plan_panel(ScreenView& view, float width) {
  const auto panel = std::make_shared<const PlanPanel>(panel_of(view));
  const PlanForm form = form_of(view, width, *panel);
  return {form.height, [&view, panel, form](Rect area) -> std::optional<Wish> {
            const OutlookWords& w = outlook_words();
            Pen& pen = view.pen;
            pen.fill(area, pen.theme.sheet, 8);
            Rect at = area.inset(form.across, 14);
            draw_plan_head(view, at.take_top(34, 4), *panel);
            if (form.note > 0) pen.paragraph(at.take_top(form.note), Type::body_16, pen.theme.ink2, panel->note, 5);
            if (panel->plan) draw_plan_itself(view, at, *panel, form);
            if (!panel->asks) return std::nullopt;
            const std::string act =
                say(w.plan_make, grouped(panel->wanted.target), month_after(view, panel->wanted.season));
            if (draw_act(pen, at.take_top(56), {"plan:make", act, ActStyle::main, {}, true}))
              return Reckon{Reckon::What::season_plan};
            return std::nullopt;
          }};
}

}  // namespace motherbulb::ahead
