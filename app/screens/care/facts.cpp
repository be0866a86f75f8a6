// What a piece of work writes down: for one pot, each of several, or the whole batch; all in one wish.

#include <algorithm>

#include "app/entry_words.hpp"
#include "app/screens/care/care.hpp"
#include "app/widgets/letters.hpp"
#include "app/words.hpp"
#include "app/words/care.hpp"
#include "core/health/treatments.hpp"
#include "core/names.hpp"

namespace motherbulb {

namespace care {
bool takes_out(Kind job) {
  return job == Kind::sold || job == Kind::given || job == Kind::discarded || job == Kind::lost;
}

namespace {

bool counts(Kind job) {
  return takes_out(job) || job == Kind::potted || job == Kind::combined || job == Kind::begun;
}

std::int64_t number_of(const std::string& digits) {
  std::int64_t number = 0;
  for (const char digit : digits) number = number * 10 + (digit - '0');
  return number;
}

// Batches with something waiting count that too, before their pots.
bool waits_too(const CareDraft& draft) {
  const auto& picture = draft.picture;
  return picture.whole_batch && picture.batch != nullptr &&
         (picture.batch->pieces_waiting > 0 || total(picture.batch->bulbs_waiting) > 0);
}

Lines lines_of_count(const CareCount& count, bool bulbs_only) {
  Lines lines;
  for (const CareCount::Part& part : count.parts) {
    const std::int64_t of = count.of(part);
    if (of == 0 || (bulbs_only && part.pieces)) continue;
    Line line;
    if (!part.pieces) line.grade = part.grade;
    line.count = of;
    lines.push_back(line);
  }
  return lines;
}

Lines all_lines(const PotView& pot) {
  Lines lines;
  if (pot.of_pieces()) {
    Line line;
    line.count = pot.pot.pieces;
    if (line.count > 0) lines.push_back(line);
    return lines;
  }
  for (const auto& [grade, count] : pot.pot.bulbs) {
    Line line;
    line.grade = grade;
    line.count = count;
    lines.push_back(line);
  }
  return lines;
}

Payload out_fact(const CareDraft& draft, Kind job, Lines lines) {
  if (job == Kind::lost) {
    for (Line& line : lines) line.cause = draft.cause;
    return Lost{std::move(lines), ""};
  }
  if (job == Kind::given) return Given{std::move(lines), ""};
  if (job == Kind::discarded) return Discarded{std::move(lines), ""};
  Sold sold{std::move(lines), {}, ""};
  if (!draft.money.empty()) sold.cents = number_of(draft.money);
  return sold;
}

// More goes out than is there by the book, where the book itself does not ask.
std::string beyond(const CareCount& count) {
  for (const CareCount::Part& part : count.parts) {
    const std::int64_t of = count.of(part);
    if (of > part.there) return say(care_words().beyond, grouped(of), grouped(part.there));
  }
  return "";
}

// The place for one pot, the `index`th of those that are moved.
std::string place_for(const CareDraft& draft, const PotView* pot, std::size_t index) {
  PlaceParts parts;
  if (draft.bench) {
    parts.bench = *draft.bench;
  } else {
    parts = split_place(draft.place);
  }
  const bool one = draft.picture.pots.size() <= 1 && !draft.picture.whole_batch;
  const auto typed = static_cast<std::int32_t>(number_of(draft.position));
  if (one || pot == nullptr) {
    if (typed > 0) parts.position = typed;
    return join_place(parts);
  }
  switch (draft.positions) {
    case CareDraft::Positions::kept:
      parts.position = pot->place.position;
      break;
    case CareDraft::Positions::counted:
      parts.position = std::max(typed, 1) + static_cast<std::int32_t>(index);
      break;
    case CareDraft::Positions::none:
      parts.position = 0;
      break;
  }
  return join_place(parts);
}

bool place_given(const CareDraft& draft) {
  return draft.bench.has_value() || !draft.place.empty();
}

std::optional<std::int32_t> hours_of(const CareDraft& draft) {
  if (draft.other_hours)
    return draft.hours.empty() ? std::nullopt : std::optional(static_cast<std::int32_t>(number_of(draft.hours)));
  return draft.re_entry ? std::optional<std::int32_t>(*draft.re_entry) : std::nullopt;
}

// Of the batch itself where the fact is understood so by the fold, else of each pot.
void add_each(Facts& facts, const CareDraft& draft, const Payload& fact, bool of_batch) {
  const auto& picture = draft.picture;
  if (picture.whole_batch && of_batch) {
    facts.commands.emplace_back(fact_of(picture.batch->id, 0, fact));
    return;
  }
  for (const PotView* pot : picture.pots)
    facts.commands.emplace_back(fact_of(pot->batch.id, pot->pot.pot.number, fact));
}

void add_out(Facts& facts, const CareDraft& draft, Kind job) {
  const CareWords& w = care_words();
  if (draft.everything) {
    for (const PotView* pot : draft.picture.pots) {
      Lines lines = all_lines(*pot);
      if (lines.empty() || (pot->of_pieces() && job != Kind::lost)) continue;
      facts.commands.emplace_back(fact_of(pot->batch.id, pot->pot.pot.number, out_fact(draft, job, std::move(lines))));
    }
    if (facts.commands.empty()) facts.missing = w.holds_nothing;
    return;
  }
  if (draft.count.total() == 0) {
    facts.missing = w.keep_needs_count;
    return;
  }
  const PotView* pot = counted_pot(draft);
  const BatchState* batch = draft.picture.batch;
  if (pot == nullptr && (batch == nullptr || !draft.picture.whole_batch)) {
    facts.missing = w.keep_needs_count;
    return;
  }
  // What waits may be both; a loss of pieces says no grade, and sells nobody.
  const Lines lines = lines_of_count(draft.count, job != Kind::lost);
  facts.commands.emplace_back(fact_of(pot != nullptr ? pot->batch.id : batch->id,
                                      pot != nullptr ? pot->pot.pot.number : 0, out_fact(draft, job, lines)));
  if (job == Kind::lost) facts.question = beyond(draft.count);
}

void add_potted(Facts& facts, const CareDraft& draft) {
  const CareWords& w = care_words();
  if (draft.picture.batch == nullptr) {
    facts.missing = w.one_batch;
    return;
  }
  if (draft.count.total() == 0) {
    facts.missing = w.keep_needs_count;
    return;
  }
  const std::int64_t typed = number_of(draft.number);
  const auto number = static_cast<std::int32_t>(typed > 0 ? typed : draft.picture.batch->highest_pot + 1);
  const std::string place = place_given(draft) ? place_for(draft, nullptr, 0) : std::string();
  // Pieces and bulbs do not share a fact.
  Potted potted;
  potted.place = place;
  for (const bool pieces : {true, false}) {
    Lines lines;
    for (const CareCount::Part& part : draft.count.parts) {
      if (part.pieces != pieces || draft.count.of(part) == 0) continue;
      Line line;
      if (!pieces) line.grade = part.grade;
      line.count = draft.count.of(part);
      lines.push_back(line);
    }
    if (lines.empty()) continue;
    potted.unit = pieces ? Unit::pieces : Unit::bulbs;
    potted.lines = std::move(lines);
    facts.commands.emplace_back(fact_of(draft.picture.batch->id, number, potted));
  }
  facts.question = beyond(draft.count);
}

void add_combined(Facts& facts, const CareDraft& draft) {
  const CareWords& w = care_words();
  if (draft.picture.batch == nullptr) {
    facts.missing = w.one_batch;
    return;
  }
  if (draft.count.total() == 0) {
    facts.missing = w.keep_needs_count;
    return;
  }
  if (!draft.into) {
    facts.missing = w.keep_needs_batch;
    return;
  }
  Combined combined;
  combined.into = *draft.into;
  combined.lines = lines_of_count(draft.count, true);
  for (const CareCount::Part& part : draft.count.parts) combined.pieces += part.pieces ? draft.count.of(part) : 0;
  facts.commands.emplace_back(fact_of(draft.picture.batch->id, 0, combined));
  facts.question = beyond(draft.count);
}

void add_split(Facts& facts, const CareDraft& draft) {
  const CareWords& w = care_words();
  const PotView* pot = counted_pot(draft);
  if (pot == nullptr || draft.count.total() == 0) {
    facts.missing = w.keep_needs_count;
    return;
  }
  Begun begun;
  begun.clone = pot->batch.clone;
  begun.genus = pot->batch.genus;
  begun.parent = pot->batch.id;
  begun.parent_pot = pot->pot.pot.number;
  begun.method = Method::growing_on;
  begun.mothers = lines_of_count(draft.count, true);
  begun.medium = pot->batch.medium;
  Potted potted;
  potted.unit = Unit::bulbs;
  potted.lines = begun.mothers;
  if (place_given(draft)) potted.place = place_for(draft, nullptr, 0);
  Record filled = fact_of({}, 1, potted);
  filled.begun_by = 0;
  facts.commands.emplace_back(fact_of({}, 0, begun));
  facts.commands.emplace_back(filled);
  facts.question = beyond(draft.count);
}

void add_moved(Facts& facts, const CareDraft& draft) {
  if (!place_given(draft)) {
    facts.missing = care_words().keep_needs_place;
    return;
  }
  const auto& picture = draft.picture;
  if (picture.whole_batch && draft.positions == CareDraft::Positions::none) {
    facts.commands.emplace_back(fact_of(picture.batch->id, 0, Moved{place_for(draft, nullptr, 0), ""}));
    return;
  }
  for (std::size_t i = 0; i < picture.pots.size(); ++i) {
    const PotView& pot = *picture.pots[i];
    facts.commands.emplace_back(fact_of(pot.batch.id, pot.pot.pot.number, Moved{place_for(draft, &pot, i), ""}));
  }
}

}  // namespace

const PotView* counted_pot(const CareDraft& draft) {
  const auto& pots = draft.picture.pots;
  std::size_t at = draft.at;
  if (waits_too(draft)) {
    if (at == 0) return nullptr;
    --at;
  }
  return at < pots.size() ? pots[at] : nullptr;
}

std::size_t counted_places(const CareDraft& draft) {
  return draft.picture.pots.size() + (waits_too(draft) ? 1 : 0);
}

void refresh_count(ScreenView& view) {
  CareDraft& draft = view.ui.care;
  auto& picture = draft.picture;
  if (!draft.job || !counts(*draft.job)) return;
  if (picture.counted_for == draft.job && picture.counted_at == draft.at) return;
  picture.counted_for = draft.job;
  picture.counted_at = draft.at;
  CareCount& count = draft.count;
  std::optional<CareCount::Part> chosen;
  if (count.chosen < count.parts.size()) chosen = count.parts[count.chosen];
  count.parts.clear();
  const bool of_waiting = *draft.job == Kind::potted || *draft.job == Kind::combined;
  const PotView* pot = of_waiting ? nullptr : counted_pot(draft);
  // A pot that was emptied meanwhile holds nothing; what waits in its batch was not meant.
  const BatchState* batch = pot != nullptr ? &pot->batch : of_waiting || picture.whole_batch ? picture.batch : nullptr;
  static const BulbsByGrade none;
  std::int64_t pieces = 0;
  if (pot != nullptr) {
    pieces = pot->of_pieces() ? pot->pot.pieces : 0;
  } else if (batch != nullptr) {
    pieces = batch->pieces_waiting;
  }
  const BulbsByGrade& bulbs = pot != nullptr ? pot->pot.bulbs : batch != nullptr ? batch->bulbs_waiting : none;
  const bool pieces_count = of_waiting || *draft.job == Kind::lost;
  if (pieces > 0 && pieces_count) count.parts.push_back({true, {}, pieces});
  bool unsized = false;
  for (const auto& [grade, there] : bulbs) {
    count.parts.push_back({false, grade, there});
    unsized = unsized || !grade.sized();
  }
  // Bulbs that nobody sized may be sized as they go.
  if (unsized && *draft.job != Kind::lost) {
    for (const Grade& grade : view.rows.book().grades_of(batch->genus)) {
      const bool known = std::any_of(count.parts.begin(), count.parts.end(),
                                     [&](const CareCount::Part& part) { return !part.pieces && part.grade == grade; });
      if (!known) count.parts.push_back({false, grade, 0});
    }
    std::sort(count.parts.begin(), count.parts.end(), [](const CareCount::Part& a, const CareCount::Part& b) {
      if (a.pieces != b.pieces) return a.pieces;
      return a.grade < b.grade;
    });
  }
  // What was counted stays, also where the book has changed under it.
  for (const auto& [part, handful] : count.handfuls) {
    const CareCount::Part& counted_part = part;
    const bool known = std::any_of(count.parts.begin(), count.parts.end(),
                                   [&](const CareCount::Part& one) { return one.same(counted_part); });
    if (!known) count.parts.push_back({part.pieces, part.grade, 0});
  }
  count.chosen = 0;
  for (std::size_t i = 0; i < count.parts.size(); ++i) {
    if (chosen && count.parts[i].same(*chosen)) count.chosen = i;
  }
}

bool needs_form(Kind job, const CareDraft& draft) {
  switch (job) {
    case Kind::watered:
    case Kind::fed:
    case Kind::covered:
    case Kind::uncovered:
    case Kind::started:
    case Kind::dried_off:
      return draft.picture.whole_batch || draft.picture.pots.size() != 1;
    default:
      return true;
  }
}

void open_job(ScreenView& view, Kind job) {
  CareDraft& draft = view.ui.care;
  const bool again = draft.job == job;
  if (!again && !(draft.job && takes_out(*draft.job) && takes_out(job))) draft.clear_work();
  draft.job = job;
  draft.at = std::min(draft.at, counted_places(draft) == 0 ? 0 : counted_places(draft) - 1);
  if (counts(job)) draft.pad = "count";
  if (job == Kind::note) draft.typing = "note";
}

namespace {

// Batches in which something happened last are where it was treated last; so many are looked through.
constexpr std::size_t batches_looked_through = 40;
constexpr std::size_t products_offered = 6;

std::optional<Treatment> treatment_in(const Payload& fact) {
  if (const auto* treatment = std::get_if<Treatment>(&fact)) return *treatment;
  const auto* treated = std::get_if<Treated>(&fact);
  if (treated == nullptr) return std::nullopt;
  Treatment said;
  said.product = treated->product;
  said.amount = treated->amount;
  said.re_entry_hours = treated->re_entry_hours;
  return said;
}

}  // namespace

const Treatment* used_last(const CareDraft& draft, std::string_view product) {
  for (const auto& one : draft.picture.used) {
    if (folded_name(one.fact.product) == folded_name(product)) return &one.fact;
  }
  return nullptr;
}

void take_used(CareDraft& draft, const Treatment& last) {
  draft.product = last.product;
  draft.registration = last.registration;
  draft.amount = last.amount;
  draft.dose = last.dose;
  draft.other_hours = false;
  draft.hours.clear();
  draft.re_entry.reset();
  if (last.re_entry_hours) draft.re_entry = *last.re_entry_hours;
}

void refresh_used(ScreenView& view) {
  CareDraft& draft = view.ui.care;
  auto& picture = draft.picture;
  if (!picture.looked_for_used) {
    picture.looked_for_used = true;
    std::vector<const BatchState*> batches = view.rows.batches();
    std::sort(batches.begin(), batches.end(),
              [](const BatchState* a, const BatchState* b) { return b->last_order < a->last_order; });
    if (batches.size() > batches_looked_through) batches.resize(batches_looked_through);
    FoldOrder licence_order;
    for (const BatchState* batch : batches) {
      for (const StoryLine& line : view.rows.book().story(batch->id)) {
        const std::optional<Treatment> said = line.stands ? treatment_in(line.fact) : std::nullopt;
        if (!said || said->product.empty()) continue;
        if (line.entry.helper == view.ui.helper && !said->licence.empty() && licence_order < line.order) {
          picture.licence = said->licence;
          licence_order = line.order;
        }
        const auto known = std::find_if(picture.used.begin(), picture.used.end(), [&](const auto& one) {
          return folded_name(one.fact.product) == folded_name(said->product);
        });
        if (known == picture.used.end()) {
          picture.used.push_back({*said, line.entry.when, line.order});
        } else if (known->order < line.order) {
          *known = {*said, line.entry.when, line.order};
        }
      }
    }
    std::sort(picture.used.begin(), picture.used.end(), [](const auto& a, const auto& b) { return b.order < a.order; });
    if (picture.used.size() > products_offered) picture.used.resize(products_offered);
  }
  if (draft.proposed) return;
  draft.proposed = true;
  if (draft.licence.empty()) draft.licence = picture.licence;
  // Whoever treats goes from pot to pot with the same sprayer.
  if (draft.product.empty() && !picture.used.empty() && local_day(picture.used.front().when) == view.today)
    take_used(draft, picture.used.front().fact);
}

std::optional<Wish> close_job(CareDraft& draft) {
  draft.clear_work();
  draft.job.reset();
  if (!draft.only_this) return std::nullopt;
  draft.only_this = false;
  return GoBack{};
}

Facts facts_of(ScreenView& view) {
  const CareWords& w = care_words();
  const CareDraft& draft = view.ui.care;
  Facts facts;
  if (!draft.job) {
    facts.missing = w.choose_job;
    return facts;
  }
  switch (*draft.job) {
    case Kind::watered:
      add_each(facts, draft, Watered{}, true);
      break;
    case Kind::fed:
      add_each(facts, draft, Fed{}, true);
      break;
    case Kind::covered:  // of a whole batch it would cover no pot
      add_each(facts, draft, Covered{}, false);
      break;
    case Kind::uncovered:
      add_each(facts, draft, Uncovered{}, false);
      break;
    case Kind::started:
      add_each(facts, draft, Started{}, true);
      break;
    case Kind::dried_off:
      add_each(facts, draft, DriedOff{}, true);
      break;
    case Kind::treated: {
      if (draft.product.empty()) {
        facts.missing = w.keep_needs_product;
        break;
      }
      Treatment fact;
      fact.product = draft.product;
      fact.registration = draft.registration;
      fact.amount = draft.amount;
      fact.dose = draft.dose;
      fact.area = draft.area;
      fact.against = draft.against;
      fact.licence = draft.licence;
      fact.re_entry_hours = hours_of(draft);
      add_each(facts, draft, fact, true);
      break;
    }
    case Kind::moved:
      add_moved(facts, draft);
      break;
    case Kind::looked: {
      Looked looked;
      looked.moisture = draft.moisture;
      looked.rot = draft.rot;
      if (!draft.shoots.empty() && draft.picture.pots.size() == 1) looked.shoots = number_of(draft.shoots);
      // What is seen of rot is seen of a pot.
      add_each(facts, draft, looked, draft.rot == YesNo::unsaid && !looked.shoots);
      break;
    }
    case Kind::note:
      if (without_ends(draft.note).empty()) {
        facts.missing = w.note_type_short;
        break;
      }
      add_each(facts, draft, Note{without_ends(draft.note)}, true);
      break;
    case Kind::repotted: {
      for (std::size_t i = 0; i < draft.picture.pots.size(); ++i) {
        const PotView& pot = *draft.picture.pots[i];
        Repotted repotted;
        if (place_given(draft)) repotted.place = place_for(draft, &pot, i);
        facts.commands.emplace_back(fact_of(pot.batch.id, pot.pot.pot.number, repotted));
      }
      break;
    }
    case Kind::flowered: {
      Flowered flowered;
      flowered.true_to_type = number_of(draft.true_type);
      flowered.off_type = number_of(draft.off_type);
      add_each(facts, draft, flowered, false);
      break;
    }
    case Kind::tested:
      if (draft.subject.empty() || draft.result == TestResult::unsaid) {
        facts.missing = w.keep_needs_test;
        break;
      }
      add_each(facts, draft, Tested{draft.subject, draft.result, ""}, true);
      break;
    case Kind::held:
      if (draft.reason.empty()) {
        facts.missing = w.keep_needs_reason;
        break;
      }
      add_each(facts, draft, Held{draft.reason}, true);
      break;
    case Kind::cleared:
      if (draft.reason.empty()) {
        facts.missing = w.keep_needs_reason;
        break;
      }
      add_each(facts, draft, Cleared{draft.reason}, true);
      break;
    case Kind::potted:
      add_potted(facts, draft);
      break;
    case Kind::combined:
      add_combined(facts, draft);
      break;
    case Kind::begun:
      add_split(facts, draft);
      break;
    default:
      add_out(facts, draft, *draft.job);
      break;
  }
  const bool of_what_waits = *draft.job == Kind::potted || *draft.job == Kind::combined;
  if (facts.commands.empty() && draft.picture.pots.empty() && !draft.picture.whole_batch && !of_what_waits)
    facts.missing = w.gone_keep;
  return facts;
}

std::optional<Wish> keep_job(ScreenView& view) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  Facts facts = facts_of(view);
  if (facts.commands.empty()) return std::nullopt;
  const Kind job = *draft.job;
  const auto& picture = draft.picture;
  // In how much it was done: the pot that was counted in, the pots, or the batch.
  std::string where;
  const bool walked = takes_out(job) && !draft.everything;
  const PotView* one = walked || job == Kind::begun                      ? counted_pot(draft)
                       : picture.whole_batch || picture.pots.size() != 1 ? nullptr
                                                                         : picture.pots.front();
  if (job == Kind::potted) {
    const std::int64_t typed = number_of(draft.number);
    where = say(w.slip_pot, typed > 0 ? typed : picture.batch->highest_pot + 1);
  } else if (job == Kind::combined) {
    where = batch_words(*picture.batch);
  } else if (one != nullptr) {
    where = say(w.slip_pot, one->pot.pot.number);
  } else if (picture.whole_batch && picture.batch != nullptr) {
    where = batch_words(*picture.batch);
  } else {
    where = counted(static_cast<std::int64_t>(facts.commands.size()), w.pot, w.pots);
  }
  Keep keep;
  keep.commands = std::move(facts.commands);
  keep.slip = say(w.slip, where, job_words(job).done);
  if (job == Kind::treated) {
    if (const auto until = enter_again(view.ui.when.value_or(view.now), hours_of(draft)); until && hours_of(draft) > 0)
      keep.slip = say(w.slip_no_entry, keep.slip, when_words(view, *until));
  }
  const bool walks_on = walked && draft.at + 1 < counted_places(draft);
  keep.back = draft.only_this && !walks_on;
  keep.after = [walks_on, job](UiState& ui, const std::vector<Receipt>&) {
    CareDraft& done = ui.care;
    done.clear_work();
    if (walks_on) {
      ++done.at;
      done.pad = "count";
      done.job = job;
      return;
    }
    done.at = 0;
    done.job.reset();
    done.only_this = false;
  };
  if (!facts.question.empty()) {
    view.ui.asked = Asked{facts.question, keep};
    return std::nullopt;
  }
  return keep;
}

}  // namespace care

Go go_to_work(UiState& ui, const Subject& about, Kind job) {
  CareDraft& draft = ui.care;
  draft = {};
  draft.pots = about.pots;
  draft.batch = about.batch;
  draft.job = job;
  draft.only_this = true;
  if (care::counts(job)) draft.pad = "count";
  return Go{Screen::care, about};
}

}  // namespace motherbulb
