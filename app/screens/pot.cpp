// One pot's whole story: what it holds, and every entry of it and of its batch, latest first. A tap on an entry says
// all that it says, and takes it back.

#include <algorithm>
#include <map>

#include "app/entry_words.hpp"
#include "app/screens/care/care.hpp"
#include "app/screens/due_parts.hpp"
#include "app/widgets/balance.hpp"
#include "app/widgets/fact_icon.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/season_band.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/rest.hpp"
#include "app/words/story.hpp"

namespace motherbulb {
namespace {

constexpr float gap = 8;
constexpr std::size_t longest_line = 150;  // bytes of a text in the list; "what was this?" has all of it

using Row = StoryDraft::Row;
using Picture = StoryDraft::Picture;

std::string helper_words(const std::string& helper) {
  return helper.empty() ? std::string(story_words().nobody) : helper;
}

std::string device_words(ScreenView& view, const WriterId& writer) {
  const StoryWords& w = story_words();
  for (const DeviceRow& device : view.rows.devices()) {
    if (!(device.writer == writer)) continue;
    if (device.self) return std::string(w.this_device);
    if (!device.name.empty()) return device.name;
    if (!device.letter.empty()) return say(w.lettered_device, device.letter);
  }
  return std::string(w.unnamed_device);
}

std::string shortened(const std::string& text) {
  if (text.size() <= longest_line) return text;
  std::size_t end = longest_line;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
  return say(story_words().shortened, text.substr(0, end));
}

FactContext context_of(ScreenView& view, const BatchState* batch, const std::vector<StoryLine>& story) {
  FactContext context;
  if (batch != nullptr) context.method = batch->method;
  BookRows& rows = view.rows;
  context.batch_name = [&rows](const BatchId& id) {
    const BatchState* other = rows.batch(id);
    return other == nullptr ? std::string() : batch_words(*other);
  };
  const FactContext plain = context;
  context.fact_name = [plain, &story](const FactKey& key) {
    for (const StoryLine& line : story) {
      if (line.key == key) return fact_words(line.fact, plain);
    }
    return std::string();
  };
  return context;
}

// Another payload in its place is no taking back.
bool takes_back(const StoryLine& line, const FactKey& key) {
  const auto* correction = std::get_if<Correction>(&line.fact);
  return correction != nullptr && correction->replacement.empty() && correction->target == key;
}

bool is_kind(const StoryLine& line, Kind kind) {
  return line.entry.kind == static_cast<std::uint16_t>(kind);
}

// ------------------------------------------------------------------------------------------------ what is shown

struct RowLook {
  float column, pad;
  Type what, by;
};
RowLook row_look(bool phone) {
  return phone ? RowLook{48, 12, Type::strong_16, Type::body_15} : RowLook{64, 14, Type::strong_18, Type::body_16};
}

void measure(Pen& pen, Picture& picture, float width, bool phone) {
  const RowLook look = row_look(phone);
  const float room = width - look.column - 44;
  float top = 0;
  for (Row& row : picture.rows) {
    float h = pen.paragraph_height(room, look.what, row.what) + 2 + pen.paragraph_height(room, look.by, row.by);
    if (!row.struck.empty()) h += pen.paragraph_height(room, look.by, row.struck);
    row.top = top;
    row.height = std::max(64.0F, h + 2 * look.pad);
    top += row.height;
  }
  picture.height = top;
  picture.width = width;
}

void refresh_picture(ScreenView& view, const PotId& id) {
  StoryDraft& draft = view.ui.story;
  Picture& picture = draft.picture;
  const bool same_pot = draft.pot && *draft.pot == id;
  if (!same_pot) {
    draft = {};
    draft.pot = id;
    draft.bring_top = true;
  }
  if (picture.made && picture.revision == view.rows.revision() && picture.today == view.today.days) return;
  picture = {};
  picture.made = true;
  picture.revision = view.rows.revision();
  picture.today = view.today.days;
  picture.pot = id;
  picture.state = view.rows.book().pot(id);
  const BatchState* batch = view.rows.batch(id.batch);
  if (batch == nullptr) return;
  const StoryWords& w = story_words();
  const std::vector<StoryLine>& story = view.rows.story(id.batch);
  const FactContext context = context_of(view, batch, story);
  std::map<FactKey, const StoryLine*> withdrawn_by;
  std::int64_t standing = 0;
  for (const StoryLine& line : story) {
    if (const auto* correction = std::get_if<Correction>(&line.fact)) {
      if (line.stands && correction->replacement.empty()) withdrawn_by[correction->target] = &line;
    } else if (line.stands && !std::holds_alternative<Settlement>(line.fact)) {
      ++standing;
    }
  }
  picture.begun_alone = standing <= 1;
  const auto row_of = [&](const StoryLine& line, const std::string& label) {
    Row row;
    row.line = line;
    row.label = label;
    row.kind = line.entry.kind;
    row.of_batch = line.entry.pot == 0;
    row.stands = line.stands;
    row.what = shortened(fact_words(line.fact, context));
    if (!label.empty()) row.what = say(w.with_note, label, row.what);
    row.by = say(w.row_by_device, helper_words(line.entry.helper), when_words(view, line.entry.when),
                 device_words(view, line.entry.id.writer));
    if (row.of_batch) row.by = say(w.list, row.by, w.of_batch);
    if (!line.stands) {
      const auto by = withdrawn_by.find(line.key);
      row.struck = by == withdrawn_by.end() ? std::string(w.row_taken_back_only)
                                            : say(w.row_taken_back, helper_words(by->second->entry.helper));
    }
    return row;
  };
  // The story comes in the order of the fold, its beginning first: latest first, that is the end.
  for (auto line = story.rbegin(); line != story.rend(); ++line) {
    if (line->entry.pot == 0 || line->entry.pot == id.number) picture.rows.push_back(row_of(*line, ""));
  }
  // What was split off out of this pot stands in a story of its own.
  std::vector<const BatchState*> children;
  for (const BatchState* other : view.rows.batches()) {
    if (other->parent && *other->parent == id.batch) children.push_back(other);
  }
  for (const BatchState* child : children) {
    for (const StoryLine& line : view.rows.book().story(child->id)) {
      const auto* begun = std::get_if<Begun>(&line.fact);
      if (begun == nullptr || begun->parent_pot != id.number) continue;
      const auto earlier = std::find_if(picture.rows.begin(), picture.rows.end(), [&](const Row& row) {
        return row.line.entry.when.utc_ms < line.entry.when.utc_ms || is_kind(row.line, Kind::begun);
      });
      picture.rows.insert(earlier, row_of(line, batch_words(*child)));
    }
  }
}

const Row* opened(const StoryDraft& draft) {
  if (!draft.open) return nullptr;
  for (const Row& row : draft.picture.rows) {
    if (row.line.entry.id == *draft.open) return &row;
  }
  return nullptr;
}

// ------------------------------------------------------------------------------------------------ the card

std::string holds_line(Pen& pen, const BatchState& batch, const PotState& pot, float room) {
  return holds_at_words(pen, Type::body_15, holds_words(batch, pot), place_of(batch, pot), room);
}

// What the card tells besides what it holds, as far as it is known; the likeliest to be asked first.
std::vector<std::string> card_lines(const ScreenView& view, const BatchState& batch, const PotState& pot) {
  const StoryWords& w = story_words();
  std::vector<std::string> lines;
  const PotView* filled = view.rows.filled(pot.pot);
  if (filled != nullptr) {
    std::string stage(name_of(filled->stage));
    if (stage[0] >= 'a' && stage[0] <= 'z') stage[0] = static_cast<char>(stage[0] - 'a' + 'A');
    lines.push_back(say(rest_words().at_stage_since, stage, day_near(local_day(filled->since), view.today)));
    const Day potted = local_day(pot.filled_on);
    lines.push_back(potted == view.today
                        ? std::string(w.c_potted_today)
                        : say(w.c_potted, day_near(potted, view.today), weeks_between(potted, view.today)));
    if (!filled->looked) {
      lines.emplace_back(w.c_never_looked);
    } else if (pot.shoots) {
      lines.push_back(
          say(w.c_looked_shoots, when_words(view, *filled->looked), counted(*pot.shoots, w.shoot, w.shoots)));
    } else {
      lines.push_back(say(w.c_looked, when_words(view, *filled->looked)));
    }
    if (pot.covered) lines.emplace_back(w.c_covered);
  }
  lines.push_back(say(w.c_came, name_of(batch.method), day_near(local_day(batch.begun_on), view.today)));
  if (!batch.medium.empty()) lines.push_back(say(w.c_medium, batch.medium));
  return lines;
}

// What was recorded against the plan; empty: nothing was.
std::string oddity_words(const ScreenView& view, const BatchState& batch, const PotState& pot) {
  const RestWords& w = rest_words();
  const std::optional<Oddity> odd = oddity_of(view.rows.plans(), batch, pot);
  if (!odd) return {};
  const std::string day = day_near(odd->on, view.today);
  if (odd->kind == Oddity::Kind::watered_at_rest) return say(w.watered_at_rest, day);
  return say(w.started_early, day, weeks_between(Day{odd->on.days - odd->days}, odd->on));
}

// Draws as much of the card as its height holds; `draw` false only measures. Returns the height without the lines
// that may be left out.
float card(ScreenView& view, Rect area, const BatchState& batch, bool draw, std::optional<Wish>& wish) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const StoryWords& w = story_words();
  const Picture& picture = view.ui.story.picture;
  const bool phone = view.layout.phone();
  const Rect whole = area;
  if (draw) pen.fill(whole, t.sheet, 8);
  Rect inside = area.inset(phone ? 16 : 24, phone ? 14 : 20);
  const float from = inside.y;
  Rect line = inside.take_top(phone ? 38.0F : 44.0F, phone ? 4.0F : 8.0F);
  const std::optional<PotState>& pot = picture.state;
  const bool there = pot && pot->filled;
  const bool held = there && on_hold(batch, *pot);
  const PotView* filled = there ? view.rows.filled(picture.pot) : nullptr;
  const Stage stage = filled != nullptr ? filled->stage : there ? stage_of(batch, *pot) : Stage::emptied;
  if (draw) {
    const float tag = draw_pot_tag(pen, {line.x, line.y}, line.h, pot_label(batch, picture.pot.number), line.w * 0.66F);
    if (there) {
      const Mark mark = pot->emptied ? Mark::lost : held ? Mark::on_hold : mark_of(stage);
      const std::string_view word = pot->emptied ? name_of(Stage::emptied) : held ? w.on_hold : name_of(stage);
      const float x = line.x + tag + (phone ? 12 : 18);
      const float room = line.right() - x - 34;
      draw_mark(pen, mark, {x + 14, line.middle().y}, 26);
      pen.text_in({x + 34, line.y, room, line.h},
                  pen.fitting({Type::strong_18, Type::strong_16, Type::strong_15}, word, room), mark_color(t, mark),
                  word);
    }
  }
  // The clone's name leads to the clone.
  const Rect name = inside.take_top(56, 2);
  if (draw) {
    const Rect target{name.x - 8, name.y, name.w + 16, name.h};
    if (pen.touch.hit("clone", target)) wish = Go{Screen::clone, {{}, {}, batch.clone, batch.genus}};
    const bool pressed = is_pressed(pen, "clone");
    if (pressed) pen.fill(target, t.straw, 6);
    const std::string clone = clone_words(batch);
    const Type type =
        pen.fitting({phone ? Type::name_28 : Type::name_36, Type::name_28, Type::name_23}, clone, name.w - 32);
    const float wide = pen.width(type, clone);
    pen.text_in({name.x, name.y, name.w - 32, name.h}, type, pressed ? t.on_straw : t.ink, clone);
    draw_icon(pen, Icon::next, {name.x + std::min(wide, name.w - 32) + 20, name.middle().y + 1}, 18,
              pressed ? t.on_straw : t.tunic);
  }
  if (there && !pot->emptied) {
    const std::string holds = holds_line(pen, batch, *pot, inside.w);
    const Rect at = inside.take_top(26, 12);
    if (draw)
      pen.text_in(at, pen.fitting({Type::body_18, Type::body_16, Type::body_15}, holds, inside.w), t.ink2, holds);
  } else {
    std::string words_now(w.never_filled);
    if (there) {
      words_now = pot->count ? say(w.emptied_by, helper_words(pot->count->helper), when_words(view, pot->count->when))
                             : std::string(w.emptied);
    }
    const float h = pen.paragraph_height(inside.w, Type::body_16, words_now);
    const Rect at = inside.take_top(h, 8);
    if (draw) pen.paragraph(at, Type::body_16, t.ink2, words_now);
  }
  if (held) {
    const std::string& reason = pot->held_reason.empty() ? batch.held_reason : pot->held_reason;
    const std::string why = reason.empty() ? std::string(w.on_hold) : say(w.held_why, reason);
    const float h = pen.paragraph_height(inside.w, Type::body_16, why);
    const Rect at = inside.take_top(h, 8);
    if (draw) pen.paragraph(at, Type::body_16, t.tunic, why);
  }
  const auto say_in = [&](const std::string& text, Type type, Color color) {
    if (text.empty()) return;
    const float h = pen.paragraph_height(inside.w, type, text);
    const Rect at = inside.take_top(h, 8);
    if (draw) pen.paragraph(at, type, color, text);
  };
  if (filled != nullptr) {
    const NoEntry* no_entry = no_entry_of(batch, *pot);
    if (no_entry != nullptr && no_entry->until.utc_ms > view.now.utc_ms)
      say_in(no_entry_words(view, *no_entry), Type::strong_16, t.copper);
    say_in(oddity_words(view, batch, *pot), Type::body_16, t.ink2);
    const Rect band = inside.take_top(24 + 2 * season_over, 8);
    if (draw)
      draw_season_band(pen, band.inset(0, season_over),
                       season_of(view.rows.plans(), batch, *pot, where_of(view), view.today));
  }
  if (there) {
    const BalanceView balance = balance_of(batch, *pot);
    const float high = balance_height(pen, inside.w, balance);
    if (balance.in > 0 && inside.h >= high) {
      const Rect bar = inside.take_top(high, 10);
      if (draw) draw_balance(pen, bar, balance);
    }
  }
  const float used = inside.y - from;
  if (draw && there) {
    for (const std::string& text : card_lines(view, batch, *pot)) {
      const float h = pen.paragraph_height(inside.w, Type::body_16, text);
      if (inside.h < h) break;
      pen.paragraph(inside.take_top(h, 4), Type::body_16, t.ink2, text);
    }
  }
  return used + (phone ? 20.0F : 32.0F);
}

// ------------------------------------------------------------------------------------------------ the acts

struct PotAct {
  std::string_view name, words;
  Icon icon;
  bool enabled;
  Kind job;
};

std::optional<Wish> draw_small_act(ScreenView& view, Rect key, const PotAct& act) {
  const StoryDraft& draft = view.ui.story;
  if (!draw_act(view.pen, key, {act.name, act.words, ActStyle::link, act.icon, act.enabled})) return std::nullopt;
  if (act.name == "pot:unpot") {
    if (const PotView* pot = view.rows.filled(*draft.pot)) return ChoosePot{*pot};
    return std::nullopt;
  }
  if (act.name == "pot:trace") return Go{Screen::trace, {{*draft.pot}, {}, {}, {}}};
  if (act.name == "pot:clone") {
    const BatchState* batch = view.rows.batch(draft.pot->batch);
    return Go{Screen::clone, {{}, {}, batch->clone, batch->genus}};
  }
  Subject about;
  if (act.job == Kind::combined) {
    about.batch = draft.pot->batch;
  } else {
    about.pots = {*draft.pot};
  }
  return go_to_work(view.ui, about, act.job);
}

std::vector<PotAct> acts_of(ScreenView& view) {
  const StoryWords& w = story_words();
  const PotView* pot = view.rows.filled(*view.ui.story.pot);
  const bool there = pot != nullptr;
  const bool held = there && pot->held;
  const Kind out = there && pot->of_pieces() ? Kind::lost : Kind::sold;
  // The clone has its name above; of what is on hold or was found bad one asks what it touched.
  const bool bad = there && (held || found_bad(pot->batch, pot->pot));
  const PotAct last = bad ? PotAct{"pot:trace", rest_words().trace, Icon::warning, true, Kind::note}
                          : PotAct{"pot:clone", w.act_clone, Icon::label, true, Kind::note};
  return {{"pot:unpot", w.act_unpot, Icon::unpot, there, Kind::unpotted},
          {"pot:out", w.act_out, Icon::minus, there, out},
          {"pot:hold", held ? w.act_clear : w.act_hold, held ? Icon::tick : Icon::hold, there,
           held ? Kind::cleared : Kind::held},
          {"pot:combine", w.act_combine, Icon::merge, true, Kind::combined},
          {"pot:split", w.act_split, Icon::clones, there, Kind::begun},
          last};
}

std::optional<Wish> draw_work_act(ScreenView& view, Rect key) {
  const StoryWords& w = story_words();
  const StoryDraft& draft = view.ui.story;
  const bool there = view.rows.filled(*draft.pot) != nullptr;
  if (!draw_act(view.pen, key, {"pot:work", there ? w.act_work : w.act_work_batch, ActStyle::main, {}, true}))
    return std::nullopt;
  Subject about;
  if (there) {
    about.pots = {*draft.pot};
  } else {
    about.batch = draft.pot->batch;
  }
  return Go{Screen::care, about};
}

// Six acts in rows of so many.
std::optional<Wish> draw_small_acts(ScreenView& view, Rect area, std::size_t columns) {
  std::optional<Wish> wish;
  const std::vector<PotAct> acts = acts_of(view);
  const std::size_t rows = (acts.size() + columns - 1) / columns;
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const float high = (area.h - gap * static_cast<float>(rows - 1)) / static_cast<float>(rows);
  for (std::size_t i = 0; i < acts.size(); ++i) {
    const Rect key{area.x + static_cast<float>(i % columns) * (wide + gap),
                   area.y + static_cast<float>(i / columns) * (high + gap), wide, high};
    if (const auto asked = draw_small_act(view, key, acts[i])) wish = asked;
  }
  return wish;
}

// ------------------------------------------------------------------------------------------------ what is due

// What is open for this pot, what closes first before all; where nothing is, what opens next.
std::vector<DueGroup> due_here(const ScreenView& view, std::size_t most) {
  std::vector<const DueRow*> rows = view.rows.due_of(*view.ui.story.pot);
  std::stable_sort(rows.begin(), rows.end(),
                   [](const DueRow* a, const DueRow* b) { return a->due.closes < b->due.closes; });
  std::vector<DueGroup> here;
  const DueRow* next = nullptr;
  for (const DueRow* row : rows) {
    if (row->due.open(view.today)) {
      if (here.size() < most) here.push_back({{row}});
    } else if (next == nullptr || row->due.opens < next->due.opens) {
      next = row;
    }
  }
  if (here.empty() && next != nullptr) here.push_back({{next}});
  return here;
}

constexpr float due_row = 80;

float due_height(const std::vector<DueGroup>& here) {
  return due_row * static_cast<float>(here.size());
}

// Mark, word and reason; the act, and putting it off. On a phone the reason itself leads to putting it off.
std::optional<Wish> draw_due_row(ScreenView& view, Rect area, const DueGroup& group, bool first) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  using State = ReminderRow::State;
  const bool phone = view.layout.phone();
  const ReminderRow row = reminder_of(view, group);
  const std::string step(to_text(group.due().step));
  const std::string later = "pot:later:" + step;
  std::optional<Wish> wish;
  Rect inside = area.inset(phone ? 12 : 16, 9);
  Rect keys = inside.take_right(phone ? 104.0F : 256.0F, 12);
  keys = {keys.x, area.middle().y - 28, keys.w, 56};
  const Rect act = phone ? keys : keys.take_left((keys.w - gap) * 0.54F, gap);
  const ActStyle style = first && row.state != State::ahead ? ActStyle::main : ActStyle::quiet;
  if (draw_act(pen, act, {"pot:due:" + step, row.act, style, {}, true})) wish = do_due(view, group);
  bool pressed = false;
  if (phone) {
    const Rect body{area.x + 4, area.y + 4, act.x - 8 - area.x - 4, area.h - 8};
    if (pen.touch.hit(later, body)) wish = put_off_alone(view.ui, group);
    pressed = is_pressed(pen, later);
    if (pressed) pen.fill(body, t.straw, 6);
  } else if (draw_act(pen, keys, {later, rest_words().put_off, ActStyle::plain, {}, true})) {
    wish = put_off_alone(view.ui, group);
  }
  const float from = phone ? 0.0F : 32.0F;
  const float text = pen.paragraph_height(inside.w - from, Type::body_15, row.reason, 2);
  if (text < 30) inside.take_top(10);
  const Point mark{inside.x + 12, inside.y + 11};
  if (row.state == State::ahead) {
    draw_icon(pen, Icon::clock, mark, 20, pressed ? t.on_straw : t.ink2);
  } else {
    draw_mark(pen, row.state == State::overdue ? Mark::overdue : Mark::due, mark, 20);
  }
  const Color color = row.state == State::overdue ? t.copper : row.state == State::due ? t.ink : t.ink2;
  pen.text_in({inside.x + 32, inside.y, inside.w - 32, 22}, Type::strong_16, pressed ? t.on_straw : color,
              row.state_word);
  pen.paragraph({inside.x + from, inside.y + 20, inside.w - from, 42}, Type::body_15, pressed ? t.on_straw : t.ink2,
                row.reason, 2);
  return wish;
}

std::optional<Wish> draw_due(ScreenView& view, Rect area, const std::vector<DueGroup>& here) {
  Pen& pen = view.pen;
  std::optional<Wish> wish;
  pen.fill(area, pen.theme.sheet, 8);
  const float high = area.h / static_cast<float>(here.size());
  for (std::size_t i = 0; i < here.size(); ++i) {
    const Rect row = area.take_top(high);
    if (i > 0)
      pen.fill({row.x + 16, row.y - 0.75F, row.w - 32, 1.5F}, pen.theme.night ? pen.theme.ring : pen.theme.well);
    if (const auto asked = draw_due_row(view, row, here[i], i == 0)) wish = asked;
  }
  return wish;
}

// ------------------------------------------------------------------------------------------------ the list

Color kind_color(const Theme& t, const Row& row) {
  switch (static_cast<Kind>(row.kind)) {
    case Kind::damage:
    case Kind::lost:
    case Kind::discarded:
      return t.copper;
    case Kind::started:
    case Kind::flowered:
      return t.leaf;
    case Kind::dried_off:
      return t.slate;
    default:
      return t.tunic;
  }
}

void draw_row_of(ScreenView& view, Rect area, Row& row, std::size_t number) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  StoryDraft& draft = view.ui.story;
  const bool phone = view.layout.phone();
  const RowLook look = row_look(phone);
  const std::string target = "entry:" + std::to_string(number);
  if (pen.touch.hit(target, area.inset(4, 4))) draft.open = row.line.entry.id;
  const bool pressed = is_pressed(pen, target);
  const bool chosen = draft.open && *draft.open == row.line.entry.id;
  if (pressed) {
    pen.fill(area.inset(4, 4), t.straw, 6);
  } else if (chosen) {
    pen.fill(area.inset(4, 4), t.well, 6);
  }
  if (number > 0) pen.fill({area.x + 16, area.y - 0.75F, area.w - 32, 1.5F}, t.well);
  const Color ink = pressed ? t.on_straw : row.stands ? t.ink : t.ink2;
  const Color ink2 = pressed ? t.on_straw : t.ink2;
  const Point icon{area.x + 12 + (look.column - 12) / 2, area.y + look.pad + 14};
  draw_fact_icon(pen, row.kind, icon, phone ? 24 : 28, pressed ? ink : row.stands ? kind_color(t, row) : t.ink2);
  const float room = area.w - look.column - 44;
  Rect text{area.x + look.column, area.y + look.pad, room, area.h};
  const float h = pen.paragraph(text, look.what, ink, row.what);
  if (!row.stands) {
    // Struck out, line by line.
    const float line = type_dp(look.what) * 1.4F;
    const float wide = std::min(room, pen.width(look.what, row.what));
    for (float y = text.y + line / 2; y < text.y + h; y += line) pen.line({text.x, y}, {text.x + wide, y}, ink, 2);
  }
  text.take_top(h, 2);
  text.take_top(pen.paragraph(text, look.by, ink2, row.by));
  if (!row.struck.empty()) pen.paragraph(text, look.by, pressed ? ink2 : t.copper, row.struck);
  draw_icon(pen, Icon::next, {area.right() - 24, area.middle().y}, 18, pressed ? ink : t.tunic);
}

void draw_list(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  StoryDraft& draft = view.ui.story;
  Picture& picture = draft.picture;
  pen.fill(area, t.sheet, 8);
  const Rect panel = area.inset(0, 6);
  if (picture.rows.empty()) {
    pen.paragraph(area.inset(24, 24), Type::body_18, t.ink2, story_words().nothing_yet);
    return;
  }
  if (picture.width != panel.w) measure(pen, picture, panel.w, view.layout.phone());
  const float top = pen.begin_scroll("story", panel, picture.height);
  if (draft.bring_top) {
    draft.bring_top = false;
    pen.touch.scroll_to("story", 0);
  }
  // The first row that ends in sight; from there on as far as there is room.
  auto row = std::lower_bound(picture.rows.begin(), picture.rows.end(), panel.y - top,
                              [](const Row& one, float y) { return one.top + one.height <= y; });
  for (; row != picture.rows.end() && top + row->top < panel.bottom(); ++row) {
    draw_row_of(view, {panel.x, top + row->top, panel.w, row->height}, *row,
                static_cast<std::size_t>(row - picture.rows.begin()));
  }
  pen.end_scroll("story");
}

// ------------------------------------------------------------------------------------------------ "what was this?"

std::vector<SaidOf> all_said(ScreenView& view, const Row& row) {
  const StoryWords& w = story_words();
  const StoryLine& line = row.line;
  const Entry& entry = line.entry;
  const BatchId in = story_of(entry);
  const BatchState* batch = view.rows.batch(in);
  const std::vector<StoryLine>& story = view.rows.story(view.ui.story.pot->batch);
  std::vector<SaidOf> said = fact_details(line.fact, context_of(view, batch, story));
  const auto tell = [&](std::string_view about, std::string text) {
    said.push_back({std::string(about), std::move(text)});
  };
  if (batch != nullptr) {
    tell(w.d_about,
         entry.pot == 0 ? say(w.about_batch, batch_words(*batch)) : say(w.about_pot, pot_label(*batch, entry.pot)));
  }
  tell(w.d_by, helper_words(entry.helper));
  tell(w.d_done, when_words(view, entry.when));
  tell(w.d_written, when_words(view, moment(entry.stamp.wall_ms(), entry.when.offset_minutes)));
  std::string device = device_words(view, entry.id.writer);
  for (const DeviceRow& one : view.rows.devices()) {
    if (one.writer == entry.id.writer && !one.letter.empty() && (one.self || !one.name.empty()))
      device = say(w.named_device, device, one.letter);
  }
  tell(w.d_device, device);
  if (!entry.table) {
    tell(w.d_way, std::string(w.tapped));
  } else {
    tell(w.d_way, entry.table->device.empty() ? std::string(w.from_table) : say(w.from_table_on, entry.table->device));
  }
  if (line.stands) {
    tell(w.d_stands, std::string(std::holds_alternative<FromNewerVersion>(line.fact) ? w.stands_newer : w.stands_yes));
    return said;
  }
  std::string gone(w.stands_gone);
  for (const StoryLine& other : story) {
    if (!takes_back(other, line.key)) continue;
    const auto& correction = std::get<Correction>(other.fact);
    const std::string by = helper_words(other.entry.helper);
    const std::string when = when_words(view, other.entry.when);
    gone = correction.why.empty() ? say(w.stands_no, by, when) : say(w.stands_no_why, by, when, correction.why);
  }
  tell(w.d_stands, gone);
  return said;
}

// Why it is not taken back here; empty: it is.
std::string_view not_taken_back(const ScreenView& view, const Row& row) {
  const StoryWords& w = story_words();
  if (is_kind(row.line, Kind::correction) || is_kind(row.line, Kind::settlement)) return w.take_back_not;
  if (is_kind(row.line, Kind::begun) && (!row.label.empty() || !view.ui.story.picture.begun_alone))
    return w.take_back_begun;
  return "";
}

Keep take_back(const Row& row) {
  const StoryWords& w = story_words();
  TakeBack back;
  back.batch = story_of(row.line.entry);
  back.fact = row.line.key;
  back.why = w.why_taken_back;
  Keep keep;
  keep.commands.emplace_back(back);
  keep.slip = w.took_back_slip;
  // An act of taking back is not taken back.
  keep.after = [](UiState& ui, const std::vector<Receipt>&) {
    if (ui.kept) ui.kept->receipts.clear();
  };
  return keep;
}

std::optional<Wish> draw_detail(ScreenView& view, Rect area, const Row& row) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const StoryWords& w = story_words();
  StoryDraft& draft = view.ui.story;
  const bool phone = view.layout.phone();
  std::optional<Wish> wish;
  pen.fill(area, t.sheet, 8);
  const float edge = phone ? 16 : 24;
  Rect inside = area.inset(edge, phone ? 12 : 20);
  Rect head = inside.take_top(56, 4);
  const Rect close = head.take_right(56, 12);
  if (draw_icon_key(pen, close, "detail:close", Icon::back)) draft.open.reset();
  pen.text_in(head, Type::heading_24, t.ink, w.what_was_this);
  // Below: taking it back, or why not.
  const std::string_view why_not = row.stands ? not_taken_back(view, row) : std::string_view();
  if (row.stands && why_not.empty()) {
    const Rect act = inside.take_bottom(64, 10);
    const std::string_view hint = w.take_back_hint;
    const float h = pen.paragraph_height(inside.w, Type::body_15, hint);
    pen.paragraph(inside.take_bottom(h, 10), Type::body_15, t.ink2, hint);
    if (draw_act(pen, act, {"detail:back", w.take_back, ActStyle::main, Icon::undo, true})) wish = take_back(row);
  } else if (!why_not.empty()) {
    const float h = pen.paragraph_height(inside.w, Type::body_16, why_not);
    pen.paragraph(inside.take_bottom(h, 10), Type::body_16, t.ink2, why_not);
  }
  const std::vector<SaidOf> said = all_said(view, row);
  const std::string what = fact_words(
      row.line.fact, context_of(view, view.rows.batch(story_of(row.line.entry)), view.rows.story(draft.pot->batch)));
  const Type what_type = Type::strong_18;
  const float label = phone ? 0.0F : 150.0F;
  const auto line_height = [&](const SaidOf& one) {
    const float h = pen.paragraph_height(inside.w - label, Type::body_16, one.said);
    return h + (phone ? 22.0F : 0.0F) + 10;
  };
  const float icon_room = 48;
  const float what_height = std::max(40.0F, pen.paragraph_height(inside.w - icon_room, what_type, what)) + 14;
  float height = what_height;
  for (const SaidOf& one : said) height += line_height(one);
  Rect page = inside;
  page.y = pen.begin_scroll("detail", inside, height);
  page.h = height;
  Rect first = page.take_top(what_height);
  draw_fact_icon(pen, row.kind, {first.x + 18, first.y + 18}, 32, row.stands ? kind_color(t, row) : t.ink2);
  pen.paragraph({first.x + icon_room, first.y + 4, first.w - icon_room, first.h}, what_type,
                row.stands ? t.ink : t.ink2, what);
  for (const SaidOf& one : said) {
    const Rect at = page.take_top(line_height(one));
    if (at.bottom() < inside.y || at.y > inside.bottom()) continue;
    pen.fill({at.x, at.y - 1, at.w, 1.5F}, t.well);
    if (phone) {
      pen.text_in({at.x, at.y + 4, at.w, 20}, Type::body_15, t.ink2, one.about);
      pen.paragraph({at.x, at.y + 24, at.w, at.h}, Type::body_16, t.ink, one.said);
    } else {
      pen.text_in({at.x, at.y + 5, label - 8, 22}, Type::body_16, t.ink2, one.about);
      pen.paragraph({at.x + label, at.y + 5, at.w - label, at.h}, Type::body_16, t.ink, one.said);
    }
  }
  pen.end_scroll("detail");
  return wish;
}

// ------------------------------------------------------------------------------------------------ the three shapes

void keep_first(std::optional<Wish>& wish, std::optional<Wish> asked) {
  if (asked) wish = std::move(asked);
}

std::optional<Wish> draw_wide(ScreenView& view, const BatchState& batch) {
  const auto [left_column, right_column] = view.layout.columns(view.layout.content, 0.54F);
  Rect left = left_column;
  Rect right = right_column;
  std::optional<Wish> wish;
  if (const std::vector<DueGroup> here = due_here(view, 2); !here.empty())
    keep_first(wish, draw_due(view, left.take_top(due_height(here), 14), here));
  draw_list(view, left);
  if (const Row* row = opened(view.ui.story)) {
    keep_first(wish, draw_detail(view, right, *row));
    return wish;
  }
  keep_first(wish, draw_work_act(view, right.take_bottom(72, 12)));
  keep_first(wish, draw_small_acts(view, right.take_bottom(3 * 60 + 2 * gap, 14), 2));
  card(view, right, batch, true, wish);
  return wish;
}

std::optional<Wish> draw_tall(ScreenView& view, const BatchState& batch) {
  Rect area = view.layout.content;
  std::optional<Wish> wish;
  std::optional<Wish> ignored;
  const float lines = 84;
  const float top = card(view, {area.x, area.y, area.w, 2000}, batch, false, ignored) + lines;
  card(view, area.take_top(std::min(top, area.h * 0.45F), 14), batch, true, wish);
  if (const Row* row = opened(view.ui.story)) {
    keep_first(wish, draw_detail(view, area, *row));
    return wish;
  }
  keep_first(wish, draw_work_act(view, area.take_bottom(76, 12)));
  keep_first(wish, draw_small_acts(view, area.take_bottom(2 * 60 + gap, 14), 3));
  if (const std::vector<DueGroup> here = due_here(view, 2); !here.empty())
    keep_first(wish, draw_due(view, area.take_top(due_height(here), 14), here));
  draw_list(view, area);
  return wish;
}

std::optional<Wish> draw_narrow(ScreenView& view, const BatchState& batch) {
  Pen& pen = view.pen;
  const StoryWords& w = story_words();
  StoryDraft& draft = view.ui.story;
  Rect area = view.layout.content.inset(-4, 0);
  area.h -= 8;
  std::optional<Wish> wish;
  if (const Row* row = opened(draft)) return draw_detail(view, area, *row);
  Rect low = area.take_bottom(60, 10);
  const Rect more = low.take_left(112, gap);
  if (draw_act(pen, more, {"pot:more", draft.more ? w.act_fewer : w.act_more, ActStyle::square, {}, true}))
    draft.more = !draft.more;
  keep_first(wish, draw_work_act(view, low));
  if (draft.more) keep_first(wish, draw_small_acts(view, area.take_bottom(3 * 56 + 2 * gap, 10), 2));
  // With the acts open the story and what is due give way to the card.
  const std::vector<DueGroup> here = draft.more ? std::vector<DueGroup>{} : due_here(view, 1);
  if (!here.empty()) keep_first(wish, draw_due(view, area.take_bottom(due_height(here), 10), here));
  std::optional<Wish> ignored;
  const float top = card(view, {area.x, area.y, area.w, 2000}, batch, false, ignored) + 8;
  const float least = draft.more ? 0.0F : here.empty() ? 150.0F : 110.0F;
  card(view, area.take_top(std::min(top, area.h - least), 10), batch, true, wish);
  if (area.h >= 80) draw_list(view, area);
  return wish;
}

}  // namespace

std::optional<Wish> draw_pot_screen(ScreenView& view) {
  const StoryWords& w = story_words();
  Layout& l = view.layout;
  StoryDraft& draft = view.ui.story;
  const bool chosen = !view.ui.about.pots.empty();
  if (chosen) refresh_picture(view, view.ui.about.pots.front());
  const BatchState* batch = chosen ? view.rows.batch(draft.pot->batch) : nullptr;
  Top top;
  top.title = w.title;
  if (batch != nullptr)
    top.second = say(w.second, counted(static_cast<std::int64_t>(draft.picture.rows.size()), w.entry, w.entries),
                     pot_label(*batch, draft.pot->number));
  top.writes = batch != nullptr;
  std::optional<Wish> wish = draw_top(view, top);
  if (l.phone() && draft.open && opened(draft) != nullptr && wish && std::holds_alternative<GoBack>(*wish)) {
    draft.open.reset();
    return std::nullopt;
  }
  if (batch == nullptr) {
    const Rect sheet{l.content.x, l.content.y, l.content.w, l.phone() ? 320.0F : 220.0F};
    view.pen.fill(sheet, view.pen.theme.sheet, 8);
    if (draw_empty(view.pen, sheet.inset(24), chosen ? w.unknown_pot : w.no_pot, "story:find", w.find))
      wish = Go{Screen::find, {}};
    return wish;
  }
  std::optional<Wish> asked;
  switch (l.shape) {
    case Shape::phone:
      asked = draw_narrow(view, *batch);
      break;
    case Shape::portrait:
      asked = draw_tall(view, *batch);
      break;
    case Shape::landscape:
      asked = draw_wide(view, *batch);
      break;
  }
  return asked ? asked : wish;
}

}  // namespace motherbulb
