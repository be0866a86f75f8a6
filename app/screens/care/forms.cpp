// What each piece of work asks, block by block.

#include <algorithm>

#include "app/entry_words.hpp"
#include "app/screens/care/blocks.hpp"
#include "app/screens/care/care.hpp"
#include "app/widgets/fact_icon.hpp"
#include "app/widgets/grade_picker.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/widgets/number_pad.hpp"
#include "app/widgets/see_tiles.hpp"
#include "app/words.hpp"
#include "app/words/bench.hpp"
#include "app/words/care.hpp"

namespace motherbulb::care {
namespace {

constexpr float gap = 8;
constexpr std::size_t benches_offered = 24;
constexpr std::size_t grades_shown = 6;

using Positions = CareDraft::Positions;

bool several(const CareDraft& draft) {
  return draft.picture.whole_batch || draft.picture.pots.size() > 1;
}

// The figures of a field by its name; null: the name is not one of figures.
std::string* figures_of(CareDraft& draft, std::string_view name) {
  if (name == "position") return &draft.position;
  if (name == "shoots") return &draft.shoots;
  if (name == "money") return &draft.money;
  if (name == "true") return &draft.true_type;
  if (name == "off") return &draft.off_type;
  if (name == "number") return &draft.number;
  if (name == "hours") return &draft.hours;
  return nullptr;
}

std::size_t longest_figures(std::string_view name) {
  if (name == "money") return 9;
  if (name == "shoots" || name == "true" || name == "off") return 5;
  return name == "hours" ? 3 : 4;
}

std::string* words_of(CareDraft& draft, std::string_view name) {
  if (name == "product") return &draft.product;
  if (name == "amount") return &draft.amount;
  if (name == "dose") return &draft.dose;
  if (name == "area") return &draft.area;
  if (name == "against") return &draft.against;
  if (name == "registration") return &draft.registration;
  if (name == "licence") return &draft.licence;
  if (name == "place") return &draft.place;
  if (name == "reason") return &draft.reason;
  if (name == "subject") return &draft.subject;
  return &draft.note;
}

void type_into(CareDraft& draft, std::string_view name) {
  draft.typing = std::string(name);
  draft.typed_before = *words_of(draft, name);
}

// A field of figures: tapped, the pad writes into it; tapped again, the pad goes.
void figures(CareDraft& draft, Blocks& blocks, std::string_view name, std::string_view about, const std::string& value,
             std::string_view placeholder) {
  blocks.field("field:" + std::string(name), about, value, placeholder, draft.pad == name,
               [&draft, pad = std::string(name)] { draft.pad = draft.pad == pad ? "" : pad; });
}

void text_field(CareDraft& draft, Blocks& blocks, std::string_view name, std::string_view about,
                std::string_view placeholder) {
  blocks.field("field:" + std::string(name), about, *words_of(draft, name), placeholder, false,
               [&draft, field = std::string(name)] { type_into(draft, field); });
}

// ------------------------------------------------------------------------------------------------ what is asked

void ask_treated(ScreenView& view, Blocks& blocks) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  blocks.caution(w.caution);
  text_field(draft, blocks, "product", w.product, w.product_empty);
  std::vector<Choice> used;
  for (const auto& one : draft.picture.used) {
    used.push_back({std::to_string(used.size() + 1), one.fact.product, draft.product == one.fact.product,
                    [&draft, last = one.fact] { take_used(draft, last); }});
  }
  if (!used.empty()) {
    blocks.heading(w.last_used);
    blocks.choices("used", std::move(used));
  }
  blocks.heading(w.re_entry);
  std::vector<Choice> hours;
  bool on_key = false;
  for (const int one : {0, 4, 12, 24, 48}) {
    const bool chosen = !draft.other_hours && draft.re_entry == one;
    on_key = on_key || chosen;
    hours.push_back({std::to_string(one), std::to_string(one), chosen, [&draft, one] {
                       draft.re_entry = draft.re_entry == one && !draft.other_hours ? std::nullopt : std::optional(one);
                       draft.other_hours = false;
                       draft.pad = "";
                     }});
  }
  const bool other = draft.other_hours || (draft.re_entry && !on_key);
  hours.push_back({"other", std::string(w.other), other, [&draft] {
                     draft.other_hours = true;
                     draft.re_entry.reset();
                     draft.pad = "hours";
                   }});
  blocks.choices("hours", std::move(hours));
  if (other) {
    const std::string value = draft.other_hours ? draft.hours : std::to_string(*draft.re_entry);
    figures(draft, blocks, "hours", w.hours_typed, value, w.position_empty);
  }
  text_field(draft, blocks, "amount", w.amount, w.amount_empty);
  text_field(draft, blocks, "dose", w.dose, w.dose_empty);
  text_field(draft, blocks, "area", w.area, w.area_empty);
  blocks.heading(w.against);
  std::vector<Choice> against;
  bool known = false;
  for (const SeenKind& one : seen_kinds()) {
    if (one.cause != Cause::pest && one.cause != Cause::disease) continue;
    const bool chosen = draft.against == one.words;
    known = known || chosen;
    against.push_back({std::to_string(against.size() + 1), std::string(one.words), chosen,
                       [&draft, chosen, what = std::string(one.words)] { draft.against = chosen ? "" : what; }});
  }
  blocks.choices("against", std::move(against));
  const std::string own = known ? std::string() : draft.against;
  blocks.field("field:against", w.against_other, own, w.not_said, false, [&draft, own] {
    draft.against = own;
    type_into(draft, "against");
  });
  text_field(draft, blocks, "registration", w.registration, w.not_said);
  text_field(draft, blocks, "licence", w.licence, w.not_said);
}

// Where it stands from now on. `optional`: nothing chosen leaves it where it is.
void ask_place(ScreenView& view, Blocks& blocks, std::string_view heading, bool single) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  blocks.heading(heading);
  std::vector<Choice> benches;
  const auto& all = view.rows.benches();
  // The one where somebody worked stands among them, however many there are.
  for (const BenchView& bench : all) {
    if (bench.name.empty() || benches.size() >= benches_offered) continue;
    const bool chosen = draft.bench == bench.name;
    benches.push_back({bench.name, near_name(bench.name), chosen, [&draft, name = bench.name, chosen] {
                         draft.place.clear();
                         if (chosen) {
                           draft.bench.reset();
                         } else {
                           draft.bench = name;
                         }
                       }});
  }
  // Two houses may have a bench of one name.
  for (std::size_t i = 0; i < benches.size(); ++i) {
    const bool twice = std::any_of(benches.begin(), benches.end(), [&](const Choice& other) {
      return other.key != benches[i].key && near_name(other.key) == near_name(benches[i].key);
    });
    if (twice) benches[i].words = benches[i].key;
  }
  const bool typed = !draft.place.empty() && !draft.bench;
  benches.push_back({"other", typed ? draft.place : std::string(w.other_place), typed, [&draft] {
                       draft.bench.reset();
                       type_into(draft, "place");
                     }});
  blocks.choices("bench", std::move(benches));
  if (!draft.bench && draft.place.empty()) return;
  if (!single) {
    blocks.heading(w.positions);
    const auto key = [&](std::string_view name, std::string_view words_shown, Positions positions) {
      return Choice{std::string(name), std::string(words_shown), draft.positions == positions, [&draft, positions] {
                      draft.positions = positions;
                      draft.pad = positions == Positions::counted ? "position" : "";
                    }};
    };
    blocks.choices("positions", {key("kept", w.positions_kept, Positions::kept),
                                 key("counted", w.positions_counted, Positions::counted),
                                 key("none", w.positions_none, Positions::none)});
    if (draft.positions != Positions::counted) return;
  }
  figures(draft, blocks, "position", single ? w.position : w.position_from, draft.position,
          single ? w.position_empty : "1");
}

void ask_looked(ScreenView& view, Blocks& blocks) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  blocks.heading(w.moisture);
  std::vector<Choice> damp;
  for (const Moisture one : {Moisture::dry, Moisture::damp, Moisture::wet}) {
    damp.push_back({std::string(to_text(one)), std::string(name_of(one)), draft.moisture == one,
                    [&draft, one] { draft.moisture = draft.moisture == one ? Moisture::unsaid : one; }});
  }
  blocks.choices("moisture", std::move(damp));
  blocks.heading(w.rot);
  std::vector<Choice> rot;
  for (const YesNo one : {YesNo::no, YesNo::yes}) {
    rot.push_back({std::string(to_text(one)), std::string(one == YesNo::yes ? w.yes : w.no), draft.rot == one,
                   [&draft, one] { draft.rot = draft.rot == one ? YesNo::unsaid : one; }});
  }
  blocks.choices("rot", std::move(rot));
  if (!several(draft)) figures(draft, blocks, "shoots", w.shoots, draft.shoots, w.shoots_empty);
}

void ask_reason(ScreenView& view, Blocks& blocks, bool hold) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  blocks.heading(w.why);
  const BenchWords& b = bench_words();
  std::vector<Choice> reasons;
  bool known = false;
  for (const std::string_view reason : hold ? b.hold_reasons : b.clear_reasons) {
    const bool chosen = draft.reason == reason;
    known = known || chosen;
    reasons.push_back({std::to_string(reasons.size() + 1), std::string(reason), chosen,
                       [&draft, why = std::string(reason)] { draft.reason = why; }});
  }
  blocks.choices("why", std::move(reasons));
  const std::string own = known ? std::string() : draft.reason;
  blocks.field("field:reason", w.why_other, own, w.why_typed, false, [&draft, own] {
    draft.reason = own;
    type_into(draft, "reason");
  });
}

void ask_tested(ScreenView& view, Blocks& blocks) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  blocks.heading(w.test_for);
  std::vector<Choice> subjects;
  bool known = false;
  for (const std::string_view subject : w.test_subjects) {
    const bool chosen = draft.subject == subject;
    known = known || chosen;
    subjects.push_back({std::to_string(subjects.size() + 1), std::string(subject), chosen,
                        [&draft, what = std::string(subject)] { draft.subject = what; }});
  }
  blocks.choices("subject", std::move(subjects));
  const std::string own = known ? std::string() : draft.subject;
  blocks.field("field:subject", w.test_other, own, w.test_typed, false, [&draft, own] {
    draft.subject = own;
    type_into(draft, "subject");
  });
  blocks.heading(w.test_result);
  std::vector<Choice> results;
  for (const TestResult one : {TestResult::negative, TestResult::positive, TestResult::unclear}) {
    results.push_back({std::string(to_text(one)), std::string(name_of(one)), draft.result == one,
                       [&draft, one] { draft.result = one; }});
  }
  blocks.choices("result", std::move(results));
}

void ask_flowered(ScreenView& view, Blocks& blocks) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  const bool each = several(draft);
  figures(draft, blocks, "true", each ? w.true_type_each : w.true_type, draft.true_type, w.flower_empty);
  figures(draft, blocks, "off", each ? w.off_type_each : w.off_type, draft.off_type, w.flower_empty);
}

// ------------------------------------------------------------------------------------------------ counting

std::string part_words(const CareCount::Part& part) {
  return part.pieces ? std::string(care_words().count_pieces) : grade_words(part.grade);
}

// Of so many parts six are shown, the chosen among them.
std::size_t first_shown(const CareCount& count) {
  if (count.parts.size() <= grades_shown) return 0;
  const std::size_t last = count.parts.size() - grades_shown;
  return std::min(last, count.chosen < 2 ? 0 : count.chosen - 2);
}

void add_count(ScreenView& view, Blocks& blocks) {
  CareDraft& draft = view.ui.care;
  const CareCount& count = draft.count;
  if (count.parts.empty()) return;
  const bool phone = view.layout.phone();
  const bool two_rows = phone && count.parts.size() > 3;
  Pen& pen = view.pen;
  if (count.parts.size() > 1) {
    blocks.own(two_rows ? 152.0F
               : phone  ? 128.0F
                        : 132.0F,
               [&view, two_rows, &pen](Rect at) {
                 CareCount& counted_now = view.ui.care.count;
                 if (counted_now.parts.empty()) return;
                 const std::size_t first = first_shown(counted_now);
                 const std::size_t shown = std::min(grades_shown, counted_now.parts.size() - first);
                 std::vector<GradeKey> keys;
                 for (std::size_t i = first; i < first + shown; ++i) {
                   GradeKey key;
                   key.name = part_words(counted_now.parts[i]);
                   key.count = static_cast<int>(counted_now.of(counted_now.parts[i]));
                   key.share = counted_now.parts.size() > 1
                                   ? static_cast<float>(i) / static_cast<float>(counted_now.parts.size() - 1)
                                   : 0.5F;
                   key.opens_more =
                       (i == first && first > 0) || (i + 1 == first + shown && i + 1 < counted_now.parts.size());
                   keys.push_back(std::move(key));
                 }
                 if (const auto tapped = draw_grade_picker(pen, at, keys, counted_now.chosen - first, two_rows)) {
                   counted_now.chosen = first + *tapped;
                   view.ui.care.pad = "count";
                 }
               });
  }
  // The running total, as large as what it is about.
  blocks.own(64, [&view, &pen](Rect at) {
    CareDraft& d = view.ui.care;
    const Theme& t = pen.theme;
    if (d.count.parts.empty()) return;  // a tap above has just led to a pot with nothing in it
    if (pen.touch.hit("count", at)) d.pad = "count";
    const bool pressed = is_pressed(pen, "count");
    const bool active = d.pad == "count";
    pen.fill(at, pressed ? t.straw : t.sheet, 6);
    pen.frame(at, pressed ? t.on_straw : active ? t.tunic : t.edge, active ? 4 : 2);
    const CareCount::Part& part = d.count.parts[std::min(d.count.chosen, d.count.parts.size() - 1)];
    const std::string number = grouped(d.count.total());
    const float wide = pen.width(Type::numeral_40, number);
    pen.text_in({at.x + 16, at.y, wide + 4, at.h}, Type::numeral_40, pressed ? t.on_straw : t.tunic, number);
    const std::string there = say(care_words().count_of, part_words(part), grouped(part.there));
    const Rect right{at.x + wide + 32, at.y, at.w - wide - 48, at.h};
    pen.text_in(right, pen.fitting({Type::strong_16, Type::strong_15, Type::body_15}, there, right.w),
                pressed ? t.on_straw : t.ink2, there);
  });
}

// Which of several pots: back, its tag, on.
void add_walk(ScreenView& view, Blocks& blocks) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  if (!several(draft) || counted_places(draft) < 2) return;
  const std::size_t pots = draft.picture.pots.size();
  blocks.choices("which", {{"one", std::string(w.one_by_one), !draft.everything,
                            [&draft] {
                              draft.everything = false;
                              draft.pad = "count";
                            }},
                           {"all", say(w.all_of, counted(static_cast<std::int64_t>(pots), w.pot, w.pots)),
                            draft.everything, [&draft] {
                              draft.everything = true;
                              draft.pad = "";
                            }}});
  if (draft.everything) return;
  Pen& pen = view.pen;
  blocks.own(56, [&view, &pen](Rect at) {
    CareDraft& d = view.ui.care;
    const Theme& t = pen.theme;
    const auto walk = [&](std::size_t to) {
      d.at = to;
      d.count = {};
      d.picture.counted_for.reset();
      refresh_count(view);
    };
    const bool before = d.at > 0;
    const bool behind = d.at + 1 < counted_places(d);
    if (draw_act(pen, at.take_left(56, 12), {"walk:back", "", ActStyle::square, Icon::back, before})) walk(d.at - 1);
    if (draw_act(pen, at.take_right(56, 12), {"walk:next", "", ActStyle::square, Icon::next, behind})) walk(d.at + 1);
    const PotView* pot = counted_pot(d);
    const std::string name = pot != nullptr ? pot->label : std::string(care_words().waiting);
    const float tag = draw_pot_tag(pen, {at.x, at.y + 9}, 38, name, at.w);
    if (pot == nullptr) return;
    const std::string holds =
        pot->of_pieces() ? pieces_word(pot->batch.method, pot->pot.pieces) : contents_words(pot->pot);
    const float room = at.w - tag - 14;
    if (pen.width(Type::body_15, holds) <= room)
      pen.text_in({at.x + tag + 14, at.y, room, at.h}, pen.fitting({Type::body_16, Type::body_15}, holds, room), t.ink2,
                  holds);
  });
}

void ask_out(ScreenView& view, Blocks& blocks) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  std::vector<Choice> how;
  for (const Kind one : {Kind::sold, Kind::given, Kind::discarded, Kind::lost}) {
    how.push_back({std::string(to_text(one)), std::string(job_words(one).title), draft.job == one,
                   [&view, one] { open_job(view, one); }});
  }
  // A phone has the count at the top, where the pad leaves it in sight.
  const bool phone = view.layout.phone();
  if (!phone) blocks.choices("how", how);
  add_walk(view, blocks);
  const PotView* pot = counted_pot(draft);
  if (draft.everything) {
    std::int64_t bulbs = 0;
    std::int64_t pieces = 0;
    for (const PotView* one : draft.picture.pots) {
      bulbs += one->bulbs;
      if (one->of_pieces()) pieces += one->pot.pieces;
    }
    std::string what = counted(bulbs, words().bulb, words().bulbs);
    if (draft.job == Kind::lost && pieces > 0)
      what = say(care_words().joined, what, counted(pieces, w.piece, w.count_pieces));
    blocks.words(say(w.all_counts, what, counted(static_cast<std::int64_t>(draft.picture.pots.size()), w.pot, w.pots)));
  } else if (pot != nullptr && pot->of_pieces() && draft.job != Kind::lost) {
    blocks.words(w.holds_pieces);
  } else if (draft.count.parts.empty()) {
    blocks.words(w.holds_nothing);
  } else {
    add_count(view, blocks);
  }
  if (phone) {
    blocks.heading(w.out_how);
    blocks.choices("how", std::move(how));
  }
  if (draft.job == Kind::lost) {
    blocks.heading(w.cause);
    std::vector<Choice> causes;
    for (const Cause one :
         {Cause::rot, Cause::pest, Cause::disease, Cause::animal, Cause::frost, Cause::dried_out, Cause::unknown}) {
      causes.push_back({std::string(to_text(one)), std::string(name_of(one)), draft.cause == one,
                        [&draft, one] { draft.cause = one; }});
    }
    blocks.choices("cause", std::move(causes));
  }
  if (draft.job == Kind::sold) {
    std::string money;
    if (!draft.money.empty()) money = money_words(std::stoll(draft.money));
    figures(draft, blocks, "money", w.money, money, w.money_empty);
  }
}

void ask_potted(ScreenView& view, Blocks& blocks) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  const BatchState* batch = draft.picture.batch;
  if (batch == nullptr) return blocks.words(w.one_batch);
  if (draft.count.parts.empty()) return blocks.words(say(w.nothing_waits, batch_words(*batch)));
  add_count(view, blocks);
  const std::string number = draft.number.empty() ? std::to_string(batch->highest_pot + 1) : draft.number;
  figures(draft, blocks, "number", w.pot_number, number, "");
  for (const PotView* pot : view.rows.filled_of(batch->id)) {
    if (std::to_string(pot->pot.pot.number) == number) blocks.words(say(w.pot_filled, number));
  }
  ask_place(view, blocks, w.where, true);
}

void ask_combined(ScreenView& view, Blocks& blocks) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  const BatchState* batch = draft.picture.batch;
  if (batch == nullptr) return blocks.words(w.one_batch);
  blocks.words(say(w.combine_line, batch_words(*batch), clone_words(*batch)));
  if (draft.count.parts.empty()) {
    blocks.words(say(w.nothing_waits, batch_words(*batch)), true);
    return;
  }
  add_count(view, blocks);
  blocks.heading(w.into);
  if (draft.picture.into.empty()) return blocks.words(w.no_other_batch);
  std::vector<Choice> batches;
  for (const BatchState* other : draft.picture.into) {
    batches.push_back({batch_words(*other), batch_words(*other), draft.into == other->id,
                       [&draft, id = other->id] { draft.into = id; }});
  }
  blocks.choices("into", std::move(batches));
}

void ask_split(ScreenView& view, Blocks& blocks) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  const PotView* pot = counted_pot(draft);
  if (pot == nullptr) return;
  if (pot->of_pieces()) return blocks.words(w.split_pieces);
  blocks.words(say(w.split_line, pot->label));
  if (draft.count.parts.empty()) return blocks.words(w.holds_nothing);
  add_count(view, blocks);
  ask_place(view, blocks, w.where, true);
}

void ask(ScreenView& view, Blocks& blocks) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  switch (*draft.job) {
    case Kind::treated:
      return ask_treated(view, blocks);
    case Kind::moved:
      return ask_place(view, blocks, w.which_bench, !several(draft));
    case Kind::repotted:
      return ask_place(view, blocks, w.where_optional, !several(draft));
    case Kind::looked:
      return ask_looked(view, blocks);
    case Kind::held:
      return ask_reason(view, blocks, true);
    case Kind::cleared:
      return ask_reason(view, blocks, false);
    case Kind::tested:
      return ask_tested(view, blocks);
    case Kind::flowered:
      return ask_flowered(view, blocks);
    case Kind::potted:
      return ask_potted(view, blocks);
    case Kind::combined:
      return ask_combined(view, blocks);
    case Kind::begun:
      return ask_split(view, blocks);
    default:
      if (takes_out(*draft.job)) ask_out(view, blocks);
      return;
  }
}

// ------------------------------------------------------------------------------------------------ the form

bool pad_shown(const CareDraft& draft) {
  if (draft.pad.empty()) return false;
  if (draft.pad == "count") return !draft.count.parts.empty() && !draft.everything;
  return true;
}

float pad_height(const Layout& layout) {
  return layout.phone() ? 4 * 56 + 3 * gap : layout.landscape() ? 4 * 62 + 3 * gap : 4 * 68 + 3 * gap;
}

float keep_height(const Layout& layout) {
  return layout.phone() ? 60.0F : layout.portrait() ? 76.0F : 68.0F;
}

constexpr float head_height = 56;

float edge_of(const Layout& layout) {
  return layout.phone() ? 14.0F : 20.0F;
}

std::string keep_words_of(const CareDraft& draft) {
  const std::string_view pattern = job_words(*draft.job).keep;
  return say(pattern, grouped(draft.everything ? 0 : draft.count.total()));
}

std::string keep_all_words(const CareDraft& draft) {
  return say(care_words().keep_one, job_words(*draft.job).done);
}

std::optional<Wish> draw_keep(ScreenView& view, Rect area) {
  const CareDraft& draft = view.ui.care;
  const Facts facts = facts_of(view);
  const bool can = !facts.commands.empty() && !view.ui.asked;
  const std::string text = facts.commands.empty() ? std::string(facts.missing)
                           : draft.everything     ? keep_all_words(draft)
                                                  : keep_words_of(draft);
  const bool enter = view.pen.touch.take_key(Key::enter);
  if ((draw_act(view.pen, area, {"keep", text, ActStyle::main, Icon::tick, can}) || enter) && can)
    return keep_job(view);
  return std::nullopt;
}

void draw_pad(ScreenView& view, Rect area) {
  CareDraft& draft = view.ui.care;
  if (draft.pad == "count") {
    CareCount& count = draft.count;
    const bool has_next = count.chosen + 1 < count.parts.size();
    const PadAnswer answer = draw_number_pad(view.pen, area, !count.handfuls.empty(), has_next, view.layout.phone());
    if (answer.handful && count.chosen < count.parts.size() && count.total() + *answer.handful <= greatest_count)
      count.handfuls.emplace_back(count.parts[count.chosen], *answer.handful);
    if (answer.undo && !count.handfuls.empty()) count.handfuls.pop_back();
    if (answer.next && has_next) ++count.chosen;
    return;
  }
  std::string* figures_now = figures_of(draft, draft.pad);
  if (figures_now == nullptr) return;
  if (draft.pad == "hours" && !draft.other_hours) {
    draft.hours = draft.re_entry ? std::to_string(*draft.re_entry) : std::string();
    draft.other_hours = true;
    draft.re_entry.reset();
  }
  bool done = false;
  draw_digit_pad(view.pen, area, *figures_now, longest_figures(draft.pad), care_words().pad_done, done);
  if (done) draft.pad = takes_out(*draft.job) && !draft.everything ? "count" : "";
}

std::string_view placeholder_of(std::string_view name) {
  const CareWords& w = care_words();
  if (name == "product") return w.product;
  if (name == "amount") return w.amount;
  if (name == "dose") return w.dose;
  if (name == "area") return w.area;
  if (name == "against") return w.against_typed;
  if (name == "registration") return w.registration;
  if (name == "licence") return w.licence;
  if (name == "place") return w.place_typed;
  if (name == "reason") return w.why_typed;
  if (name == "subject") return w.test_typed;
  return w.note_type_short;
}

// The keys take the whole area; a note is kept from here.
std::optional<Wish> draw_typing(ScreenView& view, Rect area) {
  const CareWords& w = care_words();
  Pen& pen = view.pen;
  CareDraft& draft = view.ui.care;
  const bool narrow = area.w < 560;
  std::string& text = *words_of(draft, draft.typing);
  Rect acts = area.take_bottom(64, 12);
  const Rect drop = acts.take_left((acts.w - gap) * 0.36F, gap);
  const Rect panel = area;
  area.h = std::max(area.h, text_entry_height(narrow));
  area.y = pen.begin_scroll("care:typing", panel, area.h);
  const bool of_note = draft.job == Kind::note;
  const bool enter = draw_text_entry(
      pen, area, {"type", placeholder_of(draft.typing), of_note ? std::size_t{400} : std::size_t{80}, false}, text,
      narrow);
  pen.end_scroll("care:typing");
  std::optional<Wish> wish;
  if (draw_act(pen, drop, {"type:drop", words().cancel, ActStyle::square, {}, true})) {
    text = draft.typed_before;
    draft.typing.clear();
    if (of_note) wish = close_job(draft);
  }
  const bool can = !without_ends(text).empty() && !(of_note && facts_of(view).commands.empty());
  if ((draw_act(pen, acts,
                {of_note ? "keep" : "type:keep", of_note ? w.note.keep : w.type_it, ActStyle::main, Icon::tick, can}) ||
       enter) &&
      can) {
    if (of_note) {
      wish = keep_job(view);
    } else {
      text = without_ends(text);
      // A product that was used before brings along what is known of it.
      const Treatment* last = draft.typing == "product" ? used_last(draft, draft.product) : nullptr;
      if (last != nullptr && draft.product != draft.typed_before) take_used(draft, *last);
      draft.typing.clear();
    }
  }
  return wish;
}

}  // namespace

namespace {

// What the work is, and a key that leaves it. True when that is tapped.
bool draw_form_head(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const Kind job = *view.ui.care.job;
  Rect head{area.x, area.y + 10, area.w, head_height};
  const Rect close = head.take_right(56, 12);
  const bool tapped = pen.touch.hit("care:close", close);
  const bool pressed = is_pressed(pen, "care:close");
  pen.fill(close, pressed ? t.straw : t.sheet, 6);
  pen.frame(close, pressed ? t.on_straw : t.edge);
  const Point m = close.middle();
  const Color ink = pressed ? t.on_straw : t.ink;
  pen.line({m.x - 9, m.y - 9}, {m.x + 9, m.y + 9}, ink, 2.6F);
  pen.line({m.x + 9, m.y - 9}, {m.x - 9, m.y + 9}, ink, 2.6F);
  draw_fact_icon(pen, static_cast<std::uint16_t>(job), {head.x + 16, head.middle().y}, 30, t.tunic);
  const std::string_view title = job_words(job).title;
  const Rect words_at{head.x + 46, head.y, head.w - 46, head.h};
  pen.text_in(words_at, pen.fitting({Type::heading_28, Type::heading_24, Type::heading_20}, title, words_at.w), t.ink,
              title);
  return tapped;
}

}  // namespace

bool has_pad(const CareDraft& draft) {
  return draft.typing.empty() && pad_shown(draft);
}

float form_height(ScreenView& view, float width) {
  const CareDraft& draft = view.ui.care;
  const Layout& l = view.layout;
  if (!draft.typing.empty()) return text_entry_height(width < 560) + 12 + 64;
  Blocks blocks(view.pen, width - 2 * edge_of(l));
  ask(view, blocks);
  float h = head_height + 20 + blocks.height() + 2 * edge_of(l) + 12 + keep_height(l);
  if (pad_shown(draft)) h += pad_height(l) + 12;
  return h;
}

std::optional<Wish> draw_form(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const Layout& l = view.layout;
  CareDraft& draft = view.ui.care;
  if (!draft.typing.empty()) return draw_typing(view, area);
  std::optional<Wish> wish;
  const bool pad = pad_shown(draft);
  // In landscape the pad has the working hand's side to itself.
  Rect beside{};
  if (pad && l.landscape()) {
    const auto [reading, acting] = l.columns(area, 0.54F);
    area = reading;
    beside = acting;
  }
  Rect& low = beside.empty() ? area : beside;
  const Rect keep = low.take_bottom(keep_height(l), 12);
  const Rect pad_area = !pad ? Rect{} : beside.empty() ? area.take_bottom(pad_height(l), 12) : beside;
  pen.fill(area, t.sheet, 8);
  const float edge = edge_of(l);
  Rect inside = area.inset(edge, 0);
  if (l.phone()) {
    // The screen's own head names the work there, and its back key leaves it.
    inside.take_top(12);
  } else {
    if (draw_form_head(view, inside.take_top(head_height + 20))) return close_job(draft);
  }
  inside.take_bottom(edge * 0.6F);
  Blocks blocks(pen, inside.w);
  ask(view, blocks);
  blocks.draw("care:form", inside);
  if (pad) draw_pad(view, pad_area);
  if (!draft.job) return wish;
  if (const auto asked = draw_keep(view, keep)) wish = asked;
  return wish;
}

}  // namespace motherbulb::care
