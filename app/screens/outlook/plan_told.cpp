// This season's plan in words: what to cut, to grow on and to sell, clone by clone; and the cutting sessions that it
// asks for.

#include <algorithm>
#include <cmath>

#include "app/screens/cut_parts.hpp"
#include "app/screens/outlook/parts.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"
#include "core/names.hpp"
#include "core/science/growth_classes.hpp"

namespace motherbulb::ahead {
namespace {

std::vector<Grade> grades_of(const PlanClone& clone) {
  std::vector<Grade> grades;
  for (const ClassGrowth& one : clone.growth.classes) grades.push_back(one.grade);
  return grades;
}

std::vector<FirstSeason> first_season(const PlanClones& clones, const SeasonPlan& plan) {
  std::vector<FirstSeason> all(clones.size());
  std::vector<std::vector<Grade>> grades;
  for (const PlanClone& clone : clones) grades.push_back(grades_of(clone));
  // As the plan has it: a class is cut where its middle is large enough.
  const auto large = [&](std::size_t clone, Grade grade) {
    return middle_cm(grades[clone], class_of(grades[clone], grade)) >= clones[clone].least_to_cut_cm;
  };
  for (std::size_t clone = 0; clone < clones.size(); ++clone) {
    for (std::size_t i = grades[clone].size(); i-- > 0;) {
      if (large(clone, grades[clone][i])) all[clone].from_mm = std::max(0, grades[clone][i].low_mm);
    }
  }
  for (const SeasonAct& act : plan.acts) {
    const std::int64_t count = std::llround(act.count);
    if (act.season != 1 || count == 0) continue;
    const SeasonActMeaning& meaning = plan.meanings[act.act];
    FirstSeason& first = all[meaning.clone];
    if (!meaning.grade) {
      first.pieces += count;
    } else if (meaning.kind == PlanActKind::cuts) {
      first.cuts.push_back({meaning.clone, class_of(grades[meaning.clone], *meaning.grade), *meaning.method,
                            meaning.sections, *meaning.grade, count, plan.task.start[plan.task.acts[act.act].of_class],
                            meaning.per_mother});
      first.cut += count;
    } else if (meaning.kind == PlanActKind::sells) {
      first.sold.emplace_back(*meaning.grade, count);
    } else {
      first.grown_on += count;
      if (large(meaning.clone, *meaning.grade)) first.large += count;
    }
  }
  for (FirstSeason& first : all) {
    std::stable_sort(first.cuts.begin(), first.cuts.end(),
                     [](const CutAct& a, const CutAct& b) { return a.count > b.count; });
  }
  return all;
}

// ------------------------------------------------------------------------------------------------ sentences

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

PlanSentence release_sentence(const ScreenView& view, const SeasonPlan& plan, const OutlookDraft::Wanted& wanted) {
  const OutlookWords& w = outlook_words();
  if (!plan.release || plan.release->counts.empty()) {
    return {Icon::label, std::string(w.plan_no_release),
            say(w.plan_no_release_by, grouped(wanted.target), month_after(view, plan.saleable.size()),
                wanted.sure_percent)};
  }
  const SeasonRelease& release = *plan.release;
  std::string line = say(w.plan_release_by, grouped(release.counts.front()), wanted.sure_percent);
  if (release.counts.size() > 1) line += ", " + say(w.plan_release_more, grouped(release.counts[1]));
  return {Icon::label, say(w.plan_release, month_after(view, release.season)), line};
}

void add_sentences(const FirstSeason& first, std::vector<PlanSentence>& all) {
  const OutlookWords& w = outlook_words();
  for (const CutAct& cut : first.cuts) {
    all.push_back(
        {Icon::cutting, say(w.plan_cut, grouped(cut.count), grouped(cut.of), grade_words(cut.grade), cut.sections),
         say(w.plan_cut_by, lower(name_of(cut.method)), few_words(cut.each) + " " + std::string(w.bulblets))});
  }
  if (first.grown_on > 0 || first.pieces > 0) {
    const std::string what =
        first.grown_on > 0 ? counted(first.grown_on, w.bulb, w.bulbs) : counted(first.pieces, w.piece, w.pieces);
    all.push_back({Icon::clones, say(w.plan_grow, what), first.grown_on > 0 ? grow_on_line(first) : std::string()});
  }
  for (const auto& [grade, count] : first.sold)
    all.push_back({Icon::label, say(w.plan_sell, grouped(count), grade_words(grade)), std::string(w.plan_sell_by)});
}

// ------------------------------------------------------------------------------------------------ sessions

// Of the mothers that one way is to be cut, by class, those that stand together: in the pot, or the batch they wait
// in, that has the most of them.
std::optional<PlanSession> session_of(ScreenView& view, const PlanClone& clone, const std::vector<CutAct>& cuts) {
  const OutlookWords& w = outlook_words();
  const std::vector<Grade> grades = grades_of(clone);
  PlanSession best;
  std::int64_t most = 0;
  for (const CloneBalance& known : view.rows.stock().balance) {
    if (folded_name(known.clone) != folded_name(clone.clone)) continue;
    for (const MotherSource& source : mother_sources(view.rows, known.clone, known.genus)) {
      if (source.held) continue;
      PlanSession one{{},           known.clone, known.genus, cuts.front().method, cuts.front().sections,
                      source.batch, source.pot,  {}};
      std::int64_t count = 0;
      for (const CutAct& cut : cuts) {
        std::int64_t left = cut.count;
        // The larger of them first.
        for (auto bulbs = source.bulbs.rbegin(); bulbs != source.bulbs.rend() && left > 0; ++bulbs) {
          if (class_of(grades, bulbs->first) != cut.of_class) continue;
          const std::int64_t taken = std::min(left, bulbs->second);
          one.mothers[bulbs->first] += taken;
          left -= taken;
          count += taken;
        }
      }
      if (count <= most) continue;
      most = count;
      const std::string_view from = source.pot == 0 ? w.plan_do_waiting : w.plan_do;
      one.said = say(from, grouped(count), source.label);
      best = std::move(one);
    }
  }
  return most > 0 ? std::optional(std::move(best)) : std::nullopt;
}

// One for each way of cutting each clone.
std::vector<PlanSession> sessions_of(ScreenView& view, const PlanClones& clones, const std::vector<FirstSeason>& all) {
  std::vector<PlanSession> sessions;
  for (std::size_t i = 0; i < all.size(); ++i) {
    std::vector<std::vector<CutAct>> ways;
    for (const CutAct& cut : all[i].cuts) {
      const auto same = std::find_if(ways.begin(), ways.end(), [&](const std::vector<CutAct>& way) {
        return way.front().method == cut.method && way.front().sections == cut.sections;
      });
      if (same == ways.end()) {
        ways.push_back({cut});
      } else {
        same->push_back(cut);
      }
    }
    for (const std::vector<CutAct>& way : ways) {
      if (auto session = session_of(view, clones[i], way)) sessions.push_back(std::move(*session));
    }
  }
  return sessions;
}

}  // namespace

std::shared_ptr<const PlanTold> told_of(ScreenView& view) {
  OutlookDraft& draft = view.ui.outlook;
  const auto& planned = draft.planned;
  if (!(planned.basis == basis_now(view)) || !planned.picture) return nullptr;
  if (draft.told && draft.told->of == planned.picture) return draft.told;
  const PlanPicture& picture = *planned.picture;
  const auto told = std::make_shared<PlanTold>();
  told->of = planned.picture;
  for (const std::string& line : picture.advice) told->advice.push_back(without_numbers_of_sources(line));
  for (const std::string& line : picture.plan.missing) told->missing.push_back(without_numbers_of_sources(line));
  if (picture.plan.plan.feasible) {
    told->clones = first_season(*picture.clones, picture.plan);
    for (std::size_t i = 0; i < told->clones.size(); ++i) {
      const FirstSeason& first = told->clones[i];
      told->cut += first.cut;
      told->large += first.large;
      const std::size_t before = told->sentences.size();
      add_sentences(first, told->sentences);
      if (told->clones.size() > 1 && told->sentences.size() > before) {
        told->sentences.insert(told->sentences.begin() + static_cast<std::ptrdiff_t>(before),
                               {std::nullopt, clone_words((*picture.clones)[i].clone), {}});
      }
    }
    if (told->clones.size() > 1) told->sentences.push_back({std::nullopt, std::string(outlook_words().plan_all), {}});
    told->sentences.push_back(release_sentence(view, picture.plan, planned.made_for));
    told->sessions = sessions_of(view, *picture.clones, told->clones);
  }
  draft.told = told;
  return draft.told;
}

std::vector<std::string> in_the_way_words(const ScreenView& view, const SeasonPlan& plan) {
  const OutlookWords& w = outlook_words();
  std::vector<std::string> lines;
  for (const PlanInTheWay& one : plan.plan.in_the_way) {
    const std::string then = month_after(view, one.season);
    const std::string by = rounded_words(std::ceil(one.by - 1e-6));
    switch (one.kind) {
      case PlanLimitKind::space:
        lines.push_back(say(w.way_pots, then, by));
        break;
      case PlanLimitKind::hours:
        lines.push_back(say(w.way_hours, then, few_words(std::ceil(one.by * 10 - 1e-6) / 10)));
        break;
      case PlanLimitKind::reserve:
        lines.push_back(say(w.way_reserve, then, by));
        break;
      case PlanLimitKind::no_act:
        lines.push_back(say(w.way_no_act, by));
        break;
      case PlanLimitKind::target:
        lines.push_back(say(w.way_target, then, by));
        break;
    }
  }
  return lines;
}

void fill_session(CutDraft& draft, const PlanSession& session) {
  choose_clone(draft, session.clone, session.genus);
  draft.method = session.method;
  draft.sections = session.sections;
  draft.source_said = true;
  draft.parent = session.batch;
  draft.parent_pot = session.pot;
  draft.mothers = session.mothers;
}

}  // namespace motherbulb::ahead
