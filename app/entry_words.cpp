#include "app/entry_words.hpp"

#include <algorithm>
#include <cstdlib>

#include "app/screens/screens.hpp"
#include "app/widgets/see_tiles.hpp"
#include "app/words.hpp"
#include "app/words/story.hpp"

namespace motherbulb {
namespace {

void add(std::string& list, const std::string& more) {
  if (more.empty()) return;
  list = list.empty() ? more : say(story_words().list, list, more);
}

std::string bulbs_words(std::int64_t count) {
  return counted(count, story_words().bulb, story_words().bulbs);
}

bool any_sized(const Lines& lines) {
  return std::any_of(lines.begin(), lines.end(), [](const Line& line) { return line.grade && line.grade->sized(); });
}

// "12 bulbs", "3 of 2–4 cm, 5 of 4–6 cm".
std::string bulb_lines_words(const Lines& lines) {
  return any_sized(lines) ? count_lines_words(lines, false) : bulbs_words(total(lines));
}

std::string minutes_words(std::int64_t minutes) {
  const StoryWords& w = story_words();
  if (minutes < 60) return counted(minutes, w.minute, w.minutes);
  const std::string hours = counted(minutes / 60, w.hour, w.hours_unit);
  return minutes % 60 == 0 ? hours : say(w.list, hours, counted(minutes % 60, w.minute, w.minutes));
}

std::string batch_name(const FactContext& context, const BatchId& batch) {
  std::string name = context.batch_name ? context.batch_name(batch) : std::string();
  return name.empty() ? std::string(words().no_name) : name;
}

std::string either(std::string_view with, std::string_view without, const std::string& what) {
  return what.empty() ? std::string(without) : say(with, what);
}

std::string noted(std::string_view what, const std::string& note) {
  return note.empty() ? std::string(what) : say(story_words().with_note, what, note);
}

std::string_view bad_words(std::int32_t how_bad) {
  const StoryWords& w = story_words();
  return how_bad == 1 ? w.how_bad_1 : how_bad == 2 ? w.how_bad_2 : w.how_bad_3;
}

std::string centimetres(const std::vector<std::int32_t>& bounds) {
  std::string text;
  for (const std::int32_t mm : bounds) {
    const std::string cm = mm % 10 == 0 ? std::to_string(mm / 10) : fmt::format("{}.{}", mm / 10, mm % 10);
    add(text, cm);
  }
  return text;
}

// The line for each kind.
struct InWords {
  const FactContext& context;
  const StoryWords& w = story_words();

  std::string operator()(const FromNewerVersion&) const { return std::string(w.newer); }
  std::string operator()(const Begun& f) const {
    const std::int64_t count = total(f.mothers);
    std::string text;
    if (leaves_mother_whole(f.method)) {
      text = say(w.cut_whole, counted(count, w.mother, w.mothers), name_of(f.method));
    } else if (cuts(f.method)) {
      text = say(w.cut_each, counted(count, w.mother, w.mothers), pieces_word(f.method, f.sections));
    } else {
      text = say(w.begun_bulbs, name_of(f.method), bulb_lines_words(f.mothers));
    }
    if (f.parent) {
      std::string from = batch_name(context, *f.parent);
      if (f.parent_pot != 0) from += "/" + std::to_string(f.parent_pot);
      text = say(w.begun_from, text, from);
    }
    return text;
  }
  std::string operator()(const Potted& f) const {
    const bool of_bulbs =
        f.unit == Unit::bulbs || any_sized(f.lines) || (f.unit == Unit::unsaid && !cuts(context.method));
    const std::string what = of_bulbs ? bulb_lines_words(f.lines) : pieces_word(context.method, total(f.lines));
    const std::string text = say(w.potted, what);
    return f.place.empty() ? text : say(w.with_place, text, f.place);
  }
  std::string operator()(const Covered& f) const { return noted(w.covered, f.note); }
  std::string operator()(const Uncovered& f) const { return noted(w.uncovered, f.note); }
  std::string operator()(const Looked& f) const {
    std::string seen;
    if (f.shoots) add(seen, counted(*f.shoots, w.shoot, w.shoots));
    if (f.moisture != Moisture::unsaid) add(seen, std::string(name_of(f.moisture)));
    if (f.rot != YesNo::unsaid) add(seen, std::string(f.rot == YesNo::yes ? w.rot_seen : w.no_rot));
    add(seen, f.note);
    return either(w.looked, w.looked_only, seen);
  }
  std::string operator()(const Watered& f) const { return noted(w.watered, f.note); }
  std::string operator()(const Fed& f) const { return noted(w.fed, f.note); }
  std::string operator()(const Treated& f) const {
    std::string with;
    add(with, f.product);
    add(with, f.amount);
    return either(w.treated, w.treated_only, with);
  }
  std::string operator()(const Treatment& f) const {
    std::string with;
    add(with, f.product);
    add(with, f.amount);
    if (!f.against.empty()) add(with, say(w.against, f.against));
    return either(w.treatment, w.treatment_only, with);
  }
  std::string operator()(const Moved& f) const { return either(w.moved, w.moved_away, f.place); }
  std::string operator()(const Lost& f) const {
    return total(f.lines) == 0 ? std::string(w.lost_none) : say(w.lost, count_lines_words(f.lines, true));
  }
  std::string operator()(const Damage& f) const {
    const std::string what = seen_words(f.cause, f.detail);
    return f.how_bad == 0 ? say(w.damage, what) : say(w.damage_bad, what, bad_words(f.how_bad));
  }
  std::string of_count(std::string_view pattern, const Lines& lines, const std::optional<std::int64_t>& alive,
                       const Lines& dead) const {
    std::string text = total(lines) > 0 ? bulb_lines_words(lines) : bulbs_words(0);
    if (alive) add(text, say(w.alive, grouped(*alive)));
    if (total(dead) > 0) add(text, say(w.dead, grouped(total(dead))));
    return say(pattern, text);
  }
  std::string operator()(const Unpotted& f) const {
    if (total(f.lines) == 0 && !f.alive && total(f.dead) == 0) return std::string(w.unpotted_none);
    return of_count(w.unpotted, f.lines, f.alive, f.dead);
  }
  std::string operator()(const Graded& f) const {
    return total(f.lines) == 0 ? std::string(w.graded_none) : say(w.graded, bulb_lines_words(f.lines));
  }
  std::string operator()(const Divided& f) const { return of_count(w.divided, f.lines, f.alive, f.dead); }
  std::string operator()(const DriedOff& f) const { return noted(w.dried_off, f.note); }
  std::string operator()(const Started& f) const { return noted(w.started, f.note); }
  std::string operator()(const Repotted& f) const {
    const std::string text =
        f.lines.empty() ? std::string(w.repotted_same) : say(w.repotted, bulb_lines_words(f.lines));
    return f.place.empty() ? text : say(w.with_place, text, f.place);
  }
  std::string operator()(const Flowered& f) const {
    std::string seen;
    if (f.true_to_type > 0) add(seen, say(w.flowered_true, grouped(f.true_to_type)));
    if (f.off_type > 0) add(seen, say(w.flowered_off, grouped(f.off_type)));
    return either(w.flowered, w.flowered_only, seen);
  }
  std::string operator()(const Sold& f) const {
    const std::string text = say(w.sold, bulb_lines_words(f.lines));
    return f.cents ? say(w.list, text, money_words(*f.cents)) : text;
  }
  std::string operator()(const Given& f) const { return say(w.given, bulb_lines_words(f.lines)); }
  std::string operator()(const Discarded& f) const { return say(w.discarded, bulb_lines_words(f.lines)); }
  std::string operator()(const Tested& f) const {
    return f.subject.empty() ? say(w.tested_only, name_of(f.result)) : say(w.tested, f.subject, name_of(f.result));
  }
  std::string operator()(const Held& f) const { return either(w.held, w.held_only, f.reason); }
  std::string operator()(const Cleared& f) const { return either(w.cleared, w.cleared_only, f.reason); }
  std::string operator()(const Combined& f) const {
    std::string what;
    if (f.pieces > 0) add(what, pieces_word(context.method, f.pieces));
    if (total(f.lines) > 0 || what.empty()) add(what, bulb_lines_words(f.lines));
    return say(w.combined, what, batch_name(context, f.into));
  }
  std::string operator()(const Note& f) const { return either(w.note, w.note_empty, f.text); }
  std::string operator()(const Hours& f) const {
    const std::string time = minutes_words(f.minutes);
    return f.work.empty() ? say(w.hours_only, time) : say(w.hours, time, f.work);
  }
  std::string operator()(const Money& f) const {
    const std::string sum_words = money_words(f.cents);
    if (f.what.empty()) return say(f.got ? w.money_got_only : w.money_paid_only, sum_words);
    return say(f.got ? w.money_got : w.money_paid, sum_words, f.what);
  }
  std::string operator()(const Postponed& f) const {
    const std::string step = f.step.empty() ? std::string(w.postponed_step) : f.step;
    return f.days == 0 ? say(w.postponed_not, step) : say(w.postponed, step, counted(f.days, w.day, w.days));
  }
  std::string operator()(const PlanEdited& f) const { return either(w.plan_edited, w.plan_edited_only, f.plan); }
  std::string operator()(const GradeBounds& f) const {
    return f.bounds_mm.empty() ? say(w.grade_bounds_none, f.genus)
                               : say(w.grade_bounds, f.genus, centimetres(f.bounds_mm));
  }
  std::string operator()(const BenchLaidOut& f) const {
    return say(w.bench_laid_out, f.place.empty() ? std::string(w.bench_unnamed) : f.place, grouped(f.rows),
               grouped(f.columns));
  }
  std::string operator()(const CloneRenamed& f) const { return say(w.clone_renamed, f.from, f.to); }
  std::string operator()(const DeviceNamed& f) const {
    if (f.name.empty()) return f.letter.empty() ? std::string(w.device_unnamed) : say(w.device_letter, f.letter);
    return f.letter.empty() ? say(w.device_named, f.name) : say(w.device_lettered, f.name, f.letter);
  }
  std::string operator()(const ClockMeasured& f) const {
    const std::int64_t minutes = (std::llabs(f.ahead_ms) + 30'000) / 60'000;
    return say(f.ahead_ms < 0 ? w.clock_behind : w.clock_ahead, minutes_words(minutes));
  }
  std::string operator()(const Correction& f) const {
    std::string what = context.fact_name ? context.fact_name(f.target) : std::string();
    if (what.empty()) what = w.something;
    if (!f.replacement.empty()) return say(w.corrected, what);
    return say(f.rows.empty() ? w.taken_back : w.taken_back_some, what);
  }
  std::string operator()(const Settlement& f) const {
    const std::string_view take = f.take == Take::first    ? w.settled_first
                                  : f.take == Take::second ? w.settled_second
                                                           : w.settled_both;
    const std::string text = say(w.settled, take);
    return f.text.empty() ? text : say(w.list, text, f.text);
  }
};

// What a fact says besides its one line.
struct InDetail {
  const FactContext& context;
  std::vector<SaidOf>& out;
  const StoryWords& w = story_words();

  void tell(std::string_view about, const std::string& said) const {
    if (!said.empty()) out.push_back({std::string(about), said});
  }
  void tell(std::string_view about, YesNo said) const {
    if (said != YesNo::unsaid) tell(about, std::string(said == YesNo::yes ? w.yes : w.no));
  }
  void note(const std::string& said) const { tell(w.d_note, said); }
  void lines(const Lines& counted_lines, bool causes) const {
    std::string text = count_lines_words(counted_lines, causes);
    if (text.empty()) text = bulbs_words(0);
    tell(w.d_counts, text);
    for (const Line& line : counted_lines) note(line.note);
  }
  void nothing() const { tell(w.d_counts, std::string(w.d_counts_nothing)); }

  void operator()(const Begun& f) const {
    tell(w.d_clone, f.clone);
    tell(w.d_genus, f.genus);
    tell(w.d_method, std::string(name_of(f.method)));
    if (f.parent) {
      std::string from = batch_name(context, *f.parent);
      if (f.parent_pot != 0) from += "/" + std::to_string(f.parent_pot);
      tell(w.d_out_of, from);
    }
    tell(cuts(f.method) ? w.d_mothers : w.d_counts, count_lines_words(f.mothers, false));
    if (cuts(f.method) && f.sections > 0) tell(w.d_sections, grouped(f.sections));
    if (f.blade != Blade::unsaid)
      tell(w.d_blade, std::string(f.blade == Blade::per_bulb    ? w.blade_bulb
                                  : f.blade == Blade::per_batch ? w.blade_batch
                                                                : w.blade_not));
    tell(w.d_dip, f.dip);
    tell(w.d_wedges, f.wedges);
    tell(w.d_medium, f.medium);
    tell(w.d_label, f.label);
    tell(w.d_mark, f.mark);
    note(f.note);
  }
  void operator()(const Potted& f) const {
    lines(f.lines, false);
    tell(w.d_place, f.place);
    note(f.note);
  }
  void operator()(const Looked& f) const { note(f.note); }
  void operator()(const Treated& f) const {
    tell(w.d_product, f.product);
    tell(w.d_amount, f.amount);
    if (f.re_entry_hours) tell(w.d_re_entry, counted(*f.re_entry_hours, w.hour, w.hours_unit));
    note(f.note);
  }
  void operator()(const Treatment& f) const {
    tell(w.d_product, f.product);
    tell(w.d_registration, f.registration);
    tell(w.d_amount, f.amount);
    tell(w.d_dose, f.dose);
    tell(w.d_area, f.area);
    tell(w.d_against, f.against);
    tell(w.d_licence, f.licence);
    if (f.re_entry_hours) tell(w.d_re_entry, counted(*f.re_entry_hours, w.hour, w.hours_unit));
    note(f.note);
  }
  void operator()(const Moved& f) const {
    tell(w.d_place, f.place);
    note(f.note);
  }
  void operator()(const Lost& f) const {
    lines(f.lines, true);
    note(f.note);
  }
  void count(const Lines& bulbs, const std::optional<std::int64_t>& alive, const Lines& dead) const {
    lines(bulbs, false);
    if (alive) tell(w.d_alive, grouped(*alive));
    if (!dead.empty()) tell(w.d_dead, count_lines_words(dead, true));
  }
  void operator()(const Unpotted& f) const {
    count(f.lines, f.alive, f.dead);
    note(f.note);
  }
  void operator()(const Divided& f) const {
    count(f.lines, f.alive, f.dead);
    note(f.note);
  }
  void operator()(const Graded& f) const {
    lines(f.lines, false);
    note(f.note);
  }
  void operator()(const Repotted& f) const {
    if (!f.lines.empty()) lines(f.lines, false);
    tell(w.d_place, f.place);
    note(f.note);
  }
  void operator()(const Sold& f) const {
    lines(f.lines, false);
    if (f.cents) tell(w.d_money, money_words(*f.cents));
    note(f.note);
  }
  void operator()(const Given& f) const {
    lines(f.lines, false);
    note(f.note);
  }
  void operator()(const Discarded& f) const {
    lines(f.lines, false);
    note(f.note);
  }
  void operator()(const Combined& f) const {
    if (f.pieces > 0) tell(w.d_counts, pieces_word(context.method, f.pieces));
    if (!f.lines.empty()) lines(f.lines, false);
    tell(w.d_into, batch_name(context, f.into));
    note(f.note);
  }
  void operator()(const Damage& f) const {
    nothing();
    note(f.note);
  }
  void operator()(const Flowered& f) const { note(f.note); }
  void operator()(const Tested& f) const { note(f.note); }
  void operator()(const Correction& f) const { tell(w.d_reason, f.why); }
  void operator()(const Postponed& f) const { tell(w.d_reason, f.why); }
  void operator()(const PlanEdited& f) const { note(f.content); }
  void operator()(const BenchLaidOut& f) const { note(f.note); }
  void operator()(const ClockMeasured& f) const { tell(w.d_device, hex(f.writer).substr(0, 8)); }
  // The one line says it all.
  template <class Fact>
  void operator()(const Fact&) const {}
};

}  // namespace

std::string fact_words(const Payload& fact, const FactContext& context) {
  return std::visit(InWords{context}, fact);
}

std::vector<SaidOf> fact_details(const Payload& fact, const FactContext& context) {
  std::vector<SaidOf> out;
  std::visit(InDetail{context, out}, fact);
  return out;
}

std::string count_lines_words(const Lines& lines, bool causes) {
  const StoryWords& w = story_words();
  std::string text;
  for (const Line& line : lines) {
    if (line.count == 0) continue;
    std::string one = grouped(line.count);
    if (line.grade) {
      one = line.grade->sized() ? say(w.size_cm, one, grade_words(*line.grade)) : say(w.size_none, one);
    }
    if (causes) one = say(w.cause_of, one, line.detail.empty() ? std::string(name_of(line.cause)) : line.detail);
    add(text, one);
  }
  return text;
}

std::string money_words(std::int64_t cents) {
  const std::int64_t amount = std::llabs(cents);
  return fmt::format("{}{}.{:02}", cents < 0 ? "−" : "", grouped(amount / 100), amount % 100);
}

std::string_view name_of(Moisture moisture) {
  const StoryWords& w = story_words();
  switch (moisture) {
    case Moisture::dry:
      return w.dry;
    case Moisture::damp:
      return w.damp;
    case Moisture::wet:
      return w.wet;
    case Moisture::unsaid:
      break;
  }
  return "";
}

std::string_view name_of(TestResult result) {
  const StoryWords& w = story_words();
  switch (result) {
    case TestResult::negative:
      return w.test_negative;
    case TestResult::positive:
      return w.test_positive;
    case TestResult::unclear:
      return w.test_unclear;
    case TestResult::unsaid:
      break;
  }
  return w.test_unsaid;
}

}  // namespace motherbulb
