// What a cutting session proposes, from what was done last and from what stands there.

#include <algorithm>
#include <set>

#include "app/screens/cut_parts.hpp"
#include "app/words.hpp"
#include "app/words/cutting.hpp"

namespace motherbulb {
namespace {

constexpr std::int32_t usual_sections = 8;

std::int32_t usual_sections_of(Method method) {
  if (method == Method::halving) return 2;
  if (method == Method::quartering) return 4;
  return usual_sections;
}

// The latest session that fits; null where there is none.
template <class Fits>
const BatchState* latest(const BookRows& rows, Fits fits) {
  const BatchState* found = nullptr;
  for (const BatchState* batch : rows.batches()) {
    if (!batch->begun || !fits(*batch)) continue;
    if (found == nullptr || found->begun_on.utc_ms < batch->begun_on.utc_ms) found = batch;
  }
  return found;
}

// The lowest positions of a bench on which nothing stands, as many as asked for. None on a bench whose pots have no
// positions.
std::vector<std::int32_t> free_positions(BookRows& rows, const std::string& name, std::int64_t wanted) {
  std::vector<std::int32_t> free;
  if (name.empty()) return free;
  for (const BenchView& bench : rows.benches()) {
    if (bench.name != name) continue;
    std::set<std::int32_t> taken;
    for (const PotView* pot : bench.pots) {
      if (pot->place.position > 0) taken.insert(pot->place.position);
    }
    const std::int64_t laid_out = static_cast<std::int64_t>(bench.rows) * bench.columns;
    if (taken.empty() && !bench.pots.empty() && laid_out == 0) return free;
    for (std::int32_t at = 1; static_cast<std::int64_t>(free.size()) < wanted; ++at) {
      if (laid_out > 0 && at > laid_out) break;
      if (taken.count(at) == 0) free.push_back(at);
    }
    return free;
  }
  return free;
}

std::string proposed_bench(BookRows& rows, const BatchState* last, const MotherSource* source) {
  if (last != nullptr) {
    for (const PotView* pot : rows.filled_of(last->id)) {
      if (!pot->place.bench.empty()) return pot->place.bench;
    }
  }
  if (source != nullptr && source->pot != 0) {
    const PotView* pot = rows.filled({source->batch, source->pot});
    if (pot != nullptr && !pot->place.bench.empty()) return pot->place.bench;
  }
  const std::vector<BenchView>& benches = rows.benches();
  return benches.empty() ? std::string() : benches.front().name;
}

std::vector<std::string> media_of(const BookRows& rows) {
  constexpr std::size_t most = 4;
  std::vector<const BatchState*> with;
  for (const BatchState* batch : rows.batches()) {
    if (batch->begun && !batch->medium.empty()) with.push_back(batch);
  }
  std::stable_sort(with.begin(), with.end(),
                   [](const BatchState* a, const BatchState* b) { return b->begun_on.utc_ms < a->begun_on.utc_ms; });
  std::vector<std::string> media;
  for (const BatchState* batch : with) {
    if (media.size() == most) break;
    if (std::find(media.begin(), media.end(), batch->medium) == media.end()) media.push_back(batch->medium);
  }
  return media;
}

}  // namespace

std::vector<MotherSource> mother_sources(const BookRows& rows, const std::string& clone, const std::string& genus) {
  std::vector<MotherSource> sources;
  for (const BatchState* batch : rows.batches()) {
    if (!batch->begun || batch->clone != clone || batch->genus != genus) continue;
    if (!batch->bulbs_waiting.empty())
      sources.push_back({batch->id, 0, batch_words(*batch), batch->bulbs_waiting, batch->held, batch->held_reason});
    for (const PotView* pot : rows.filled_of(batch->id)) {
      if (pot->of_pieces() || pot->pot.bulbs.empty()) continue;
      sources.push_back({batch->id, pot->pot.pot.number, pot->label, pot->pot.bulbs, pot->held, pot->held_reason()});
    }
  }
  // The largest bulbs first: they are the ones to cut.
  std::stable_sort(sources.begin(), sources.end(), [](const MotherSource& a, const MotherSource& b) {
    if (a.held != b.held) return b.held;
    const Grade one = a.bulbs.rbegin()->first;
    const Grade other = b.bulbs.rbegin()->first;
    if (one != other) return other < one;
    if ((a.pot == 0) != (b.pot == 0)) return a.pot == 0;  // taken up already
    return total(a.bulbs) > total(b.bulbs);
  });
  return sources;
}

void choose_clone(CutDraft& draft, const std::string& clone, const std::string& genus) {
  draft = {};
  draft.clone = clone;
  draft.genus = genus;
}

void refresh_proposed(ScreenView& view) {
  CutDraft& draft = view.ui.cut;
  auto& p = draft.proposed;
  const std::int64_t pots = p.made ? pots_of(draft) : 0;
  if (p.made && p.revision == view.rows.revision() && p.clone == draft.clone && p.genus == draft.genus &&
      p.asked_method == draft.method && p.source_said == draft.source_said && p.asked_parent == draft.parent &&
      p.asked_pot == draft.parent_pot && p.asked_bench == draft.bench && p.asked_pots == pots)
    return;
  const BookRows& rows = view.rows;
  p = {};
  p.made = true;
  p.revision = view.rows.revision();
  p.clone = draft.clone;
  p.genus = draft.genus;
  p.asked_method = draft.method;
  p.source_said = draft.source_said;
  p.asked_parent = draft.parent;
  p.asked_pot = draft.parent_pot;
  p.asked_bench = draft.bench;

  const auto of_clone = [&](const BatchState& batch) {
    return batch.clone == draft.clone && batch.genus == draft.genus;
  };
  const BatchState* last = latest(rows, [&](const BatchState& one) { return of_clone(one) && cuts(one.method); });
  p.method = draft.method ? *draft.method : last != nullptr ? last->method : Method::chipping;
  const BatchState* same = latest(rows, [&](const BatchState& one) { return of_clone(one) && one.method == p.method; });
  p.sections = same != nullptr && same->sections > 0 ? same->sections : usual_sections_of(p.method);
  // How it was done stands in the entry that began it. Where this clone was never cut, as it was done last at all.
  const BatchState* how = same != nullptr && cuts(same->method) ? same : last;
  if (how == nullptr) how = latest(rows, [](const BatchState& one) { return cuts(one.method); });
  if (how != nullptr) {
    if (how == same) p.last = how->begun_on;
    for (const StoryLine& line : view.rows.story(how->id)) {
      const auto* begun = std::get_if<Begun>(&line.fact);
      if (begun == nullptr || !line.stands) continue;
      if (begun->blade != Blade::unsaid) p.blade = begun->blade;
      if (begun->dip != YesNo::unsaid) p.dip = begun->dip;
      if (begun->wedges != YesNo::unsaid) p.wedges = begun->wedges;
      p.medium = begun->medium;
    }
  }

  p.sources = mother_sources(rows, draft.clone, draft.genus);
  for (std::size_t i = 0; i < p.sources.size() && !p.source; ++i) {
    const MotherSource& one = p.sources[i];
    const bool asked = draft.source_said && draft.parent && one.batch == *draft.parent &&
                       (draft.parent_pot < 0 || one.pot == draft.parent_pot);
    if (draft.source_said ? asked : !one.held) p.source = i;
  }
  if (p.source) {
    for (const auto& [grade, count] : p.sources[*p.source].bulbs) p.grades.push_back(grade);
    p.grade = p.grades.back();
  } else {
    p.grades = rows.book().grades_of(draft.genus);
    const BatchState* sized = latest(rows, [&](const BatchState& one) {
      return one.genus == draft.genus && cuts(one.method) && one.mother_grade && one.mother_grade->sized();
    });
    p.grade = sized != nullptr ? *sized->mother_grade : p.grades[p.grades.size() * 3 / 4];
    // A size of its own, between the classes, is offered too.
    if (std::find(p.grades.begin(), p.grades.end(), p.grade) == p.grades.end()) {
      p.grades.push_back(p.grade);
      std::sort(p.grades.begin(), p.grades.end());
    }
  }
  p.media = media_of(rows);
  p.bench = draft.bench
                ? *draft.bench
                : proposed_bench(view.rows, same != nullptr ? same : last, p.source ? &p.sources[*p.source] : nullptr);
  p.asked_pots = pots_of(draft);
  p.positions = free_positions(view.rows, p.bench, std::min(p.asked_pots, most_pots));
}

Method method_of(const CutDraft& draft) {
  return draft.proposed.method;
}
std::int32_t sections_of(const CutDraft& draft) {
  return draft.sections.value_or(draft.proposed.sections);
}
Blade blade_of(const CutDraft& draft) {
  return draft.blade.value_or(draft.proposed.blade);
}
YesNo dip_of(const CutDraft& draft) {
  return draft.dip.value_or(draft.proposed.dip);
}
YesNo wedges_of(const CutDraft& draft) {
  return draft.wedges.value_or(draft.proposed.wedges);
}
std::string medium_of(const CutDraft& draft) {
  return draft.medium.value_or(draft.proposed.medium);
}
const MotherSource* source_of(const CutDraft& draft) {
  return draft.proposed.source ? &draft.proposed.sources[*draft.proposed.source] : nullptr;
}
bool source_is_gone(const CutDraft& draft) {
  return draft.source_said && draft.parent && draft.parent_pot >= 0 && !draft.proposed.source;
}
Grade grade_of(const CutDraft& draft) {
  const std::vector<Grade>& grades = draft.proposed.grades;
  if (draft.grade && std::find(grades.begin(), grades.end(), *draft.grade) != grades.end()) return *draft.grade;
  return draft.proposed.grade;
}

std::int64_t pieces_of(const CutDraft& draft) {
  const Method method = method_of(draft);
  const std::int64_t each = cuts(method) && !leaves_mother_whole(method) ? sections_of(draft) : 1;
  return draft.count() * each;
}
std::int64_t per_pot_of(const CutDraft& draft) {
  if (draft.per_pot) return *draft.per_pot;
  const Method method = method_of(draft);
  // What one mother gives stays together. Of bulbs that are not cut, a few stand alone, many share trays.
  if (cuts(method)) return leaves_mother_whole(method) ? 1 : sections_of(draft);
  return draft.count() <= 12 ? 1 : 10;
}
std::int64_t pots_of(const CutDraft& draft) {
  const std::int64_t each = per_pot_of(draft);
  return each <= 0 ? 0 : (pieces_of(draft) + each - 1) / each;
}

std::string place_of_pot(const CutDraft& draft, std::size_t pot) {
  const auto& p = draft.proposed;
  return join_place({p.bench, pot < p.positions.size() ? p.positions[pot] : 0});
}

std::string source_words(const MotherSource& source) {
  const CuttingWords& w = cutting_words();
  return say(source.pot == 0 ? w.source_waiting : w.source_pot, source.label);
}

std::string bulbs_words(const BulbsByGrade& bulbs, int most) {
  const CuttingWords& w = cutting_words();
  std::string all;
  // The largest first, and no more than a line takes.
  int shown = 0;
  for (auto it = bulbs.rbegin(); it != bulbs.rend() && shown < most; ++it, ++shown) {
    all += all.empty() ? "" : ", ";
    all += it->first.sized() ? say(w.source_bulbs, grouped(it->second), grade_words(it->first))
                             : say(w.source_unsized, grouped(it->second));
  }
  return all;
}

std::string_view blade_words(Blade blade) {
  const CuttingWords& w = cutting_words();
  return blade == Blade::per_bulb ? w.blade_bulb : blade == Blade::per_batch ? w.blade_batch : w.blade_no;
}
std::string_view yes_no_words(YesNo value) {
  return value == YesNo::yes ? cutting_words().yes : cutting_words().no;
}

}  // namespace motherbulb
