// Work on one pot, several, a bench or a whole batch: tiles of what was done, each kept by one act.

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "app/entry_words.hpp"
#include "app/screens/care/care.hpp"
#include "app/screens/screens.hpp"
#include "app/widgets/fact_icon.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/care.hpp"
#include "app/words/story.hpp"
#include "core/names.hpp"

namespace motherbulb {
namespace {

constexpr float gap = 8;

// In rows of four, of three on a phone.
constexpr std::array in_pot{Kind::watered, Kind::fed,  Kind::treated, Kind::looked,    Kind::covered,  Kind::uncovered,
                            Kind::moved,   Kind::note, Kind::started, Kind::dried_off, Kind::repotted, Kind::potted};
constexpr std::array bulbs{Kind::flowered, Kind::sold,   Kind::given, Kind::discarded,
                           Kind::lost,     Kind::tested, Kind::held,  Kind::cleared};

// ------------------------------------------------------------------------------------------------ what it is about

// "18 growing, 6 resting".
std::string stages_words(const std::vector<const PotView*>& pots) {
  std::array<std::int64_t, 6> of{};
  for (const PotView* pot : pots) ++of[static_cast<std::size_t>(pot->stage)];
  std::string text;
  for (std::size_t i = 0; i < of.size(); ++i) {
    if (of[i] == 0) continue;
    const std::string one = say(care_words().stage_count, grouped(of[i]), name_of(static_cast<Stage>(i)));
    text = text.empty() ? one : say(story_words().list, text, one);
  }
  return text;
}

void name_it(CareDraft& draft) {
  const CareWords& w = care_words();
  auto& picture = draft.picture;
  const auto& pots = picture.pots;
  const std::string number = counted(static_cast<std::int64_t>(pots.size()), w.pot, w.pots);
  if (picture.whole_batch && picture.batch != nullptr) {
    picture.name = say(w.several, batch_words(*picture.batch), number);
  } else if (pots.size() == 1 && draft.pots.size() == 1) {
    picture.name = pots.front()->label;
  } else {
    picture.name = number;
    const bool one_bench = !pots.empty() && !pots.front()->place.bench.empty() &&
                           std::all_of(pots.begin(), pots.end(), [&](const PotView* pot) {
                             return pot->place.bench == pots.front()->place.bench;
                           });
    if (one_bench) picture.name = say(w.several, near_name(pots.front()->place.bench), number);
  }
  std::set<std::string> clones;
  for (const PotView* pot : pots) clones.insert(pot->batch.clone);
  if (clones.size() > 1) {
    picture.line =
        say(w.joined, counted(static_cast<std::int64_t>(clones.size()), w.clone, w.clones), stages_words(pots));
  } else {
    picture.line = stages_words(pots);
  }
}

// What was done last to the pot, or to the batch as a whole.
void tell_last(ScreenView& view, CareDraft& draft) {
  auto& picture = draft.picture;
  if (picture.batch == nullptr) return;
  const bool one = !picture.whole_batch && draft.pots.size() == 1;
  const std::int32_t number = one ? draft.pots.front().number : 0;
  const std::vector<StoryLine>& story = view.rows.story(picture.batch->id);
  FactContext context;
  context.method = picture.batch->method;
  BookRows& rows = view.rows;
  context.batch_name = [&rows](const BatchId& id) {
    const BatchState* other = rows.batch(id);
    return other == nullptr ? std::string() : batch_words(*other);
  };
  constexpr std::size_t most = 24;
  for (auto line = story.rbegin(); line != story.rend(); ++line) {
    if (!line->stands) continue;
    const bool about = line->entry.pot == 0 || line->entry.pot == number || (!one && picture.whole_batch);
    const bool told =
        !std::holds_alternative<Correction>(line->fact) && !std::holds_alternative<Settlement>(line->fact);
    if (!about || !told || picture.last.size() >= most) continue;
    std::string what = fact_words(line->fact, context);
    if (!one && line->entry.pot != 0)
      what = say(story_words().with_note, pot_label(*picture.batch, line->entry.pot), what);
    picture.last.push_back(say(care_words().last_line, what, when_about_words(view, line->entry.when)));
  }
}

void refresh_picture(ScreenView& view) {
  CareDraft& draft = view.ui.care;
  const Subject& about = view.ui.about;
  const bool same = draft.pots == about.pots && draft.batch == about.batch;
  if (!same) {
    // Other work begins anew.
    draft = {};
    draft.pots = about.pots;
    draft.batch = about.batch;
  }
  auto& picture = draft.picture;
  if (picture.made && picture.revision == view.rows.revision()) return;
  picture = {};
  picture.made = true;
  picture.revision = view.rows.revision();
  picture.whole_batch = draft.batch.has_value();
  if (draft.batch) {
    picture.batch = view.rows.batch(*draft.batch);
    picture.pots = view.rows.filled_of(*draft.batch);
  } else {
    bool one_batch = true;
    for (const PotId& id : draft.pots) {
      one_batch = one_batch && id.batch == draft.pots.front().batch;
      if (const PotView* pot = view.rows.filled(id)) {
        picture.pots.push_back(pot);
      } else {
        ++picture.gone;
      }
    }
    if (one_batch && !draft.pots.empty()) picture.batch = view.rows.batch(draft.pots.front().batch);
  }
  draft.at = std::min(draft.at, std::max<std::size_t>(1, care::counted_places(draft)) - 1);
  name_it(draft);
  tell_last(view, draft);
  if (picture.batch != nullptr) {
    for (const BatchState* other : view.rows.batches()) {
      if (other->begun && !(other->id == picture.batch->id) && other->genus == picture.batch->genus &&
          folded_name(other->clone) == folded_name(picture.batch->clone))
        picture.into.push_back(other);
    }
  }
}

// Whether any of the work can be done: a pot stands filled, or something of the batch is there.
bool anything_there(const CareDraft& draft) {
  return !draft.picture.pots.empty() || (draft.picture.whole_batch && draft.picture.batch != nullptr);
}

// ------------------------------------------------------------------------------------------------ the card

// Who emptied the one pot that is open here, in words.
std::string gone_words(ScreenView& view) {
  const CareWords& w = care_words();
  const CareDraft& draft = view.ui.care;
  if (draft.pots.size() != 1) {
    return draft.picture.pots.empty()
               ? std::string(w.gone_all)
               : say(w.gone_several, counted(static_cast<std::int64_t>(draft.picture.gone), w.pot, w.pots));
  }
  const PotId& id = draft.pots.front();
  const BatchState* batch = view.rows.batch(id.batch);
  const std::string label = batch == nullptr ? say(w.slip_pot, id.number) : pot_label(*batch, id.number);
  const std::optional<PotState> pot = view.rows.book().pot(id);
  if (pot && pot->emptied && pot->count)
    return say(w.gone_one, label, pot->count->helper, when_about_words(view, pot->count->when));
  return say(w.gone_one_unknown, label);
}

constexpr float tag_pitch = 46;
std::size_t tag_columns(float width) {
  constexpr float least = 196;
  return static_cast<std::size_t>(std::max(1.0F, std::floor((width + gap) / (least + gap))));
}
float tags_height(float width, std::size_t pots) {
  const std::size_t columns = tag_columns(width);
  return tag_pitch * static_cast<float>((pots + columns - 1) / columns);
}

// The tags of the pots, in a panel that scrolls.
void draw_tags(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const auto& pots = view.ui.care.picture.pots;
  constexpr float pitch = tag_pitch;
  const std::size_t columns = tag_columns(area.w);
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const float top = pen.begin_scroll("care:pots", area, tags_height(area.w, pots.size()));
  const auto first = static_cast<std::size_t>(std::max(0.0F, (area.y - top) / pitch));
  for (std::size_t i = first * columns; i < pots.size(); ++i) {
    const Rect at{area.x + static_cast<float>(i % columns) * (wide + gap),
                  top + pitch * static_cast<float>(i / columns), wide, pitch - gap};
    if (at.y > area.bottom()) break;
    const float tag = draw_pot_tag(pen, {at.x, at.y + 2}, 34, pots[i]->label, at.w - 30);
    draw_mark(pen, pots[i]->held ? Mark::on_hold : mark_of(pots[i]->stage), {at.x + tag + 16, at.y + 19}, 22);
  }
  pen.end_scroll("care:pots");
}

std::optional<Wish> draw_card(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const CareWords& w = care_words();
  const CareDraft& draft = view.ui.care;
  const auto& picture = draft.picture;
  const bool phone = view.layout.phone();
  std::optional<Wish> wish;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(phone ? 14 : 24, phone ? 11 : 18);
  if (picture.gone > 0 || !anything_there(draft)) {
    const std::string gone = gone_words(view);
    const float h = pen.paragraph_height(inside.w, Type::strong_16, gone);
    pen.paragraph(inside.take_top(h, 6), Type::strong_16, t.copper, gone);
    if (picture.pots.empty() && !picture.whole_batch) {
      if (draft.job) pen.paragraph(inside, Type::body_16, t.ink2, w.gone_draft);
      return wish;
    }
  }
  const bool one = !picture.whole_batch && picture.pots.size() == 1;
  const PotView* pot = one ? picture.pots.front() : nullptr;
  const bool compact = area.h < 150;
  Rect line = inside.take_top(compact ? 38.0F : 44.0F, compact ? 2.0F : 8.0F);
  Rect story = line;
  const std::string tag_words = pot != nullptr                                    ? pot->label
                                : picture.whole_batch && picture.batch != nullptr ? batch_words(*picture.batch)
                                                                                  : picture.name;
  if (picture.batch != nullptr && (one || picture.whole_batch) && !compact && one) {
    const float wide = pen.width(Type::strong_16, w.story) + 36;
    story = line.take_right(wide, gap);
    if (draw_word_link(pen, {story.right(), story.middle().y}, "care:story", w.story))
      wish = Go{Screen::pot, {{pot->id()}, {}, {}, {}}};
  }
  const float tag = draw_pot_tag(pen, {line.x, line.y}, line.h, tag_words, line.w * (pot != nullptr ? 0.64F : 1.0F));
  const Mark mark = pot == nullptr ? Mark::growing : pot->held ? Mark::on_hold : mark_of(pot->stage);
  if (pot != nullptr) {
    const std::string_view word = pot->held ? w.on_hold : name_of(pot->stage);
    const float room = line.w - tag - 52;
    draw_mark(pen, mark, {line.x + tag + 26, line.middle().y}, 26);
    if (pen.width(Type::strong_15, word) <= room)
      pen.text_in({line.x + tag + 46, line.y, room, line.h},
                  pen.fitting({Type::strong_18, Type::strong_16, Type::strong_15}, word, room), mark_color(t, mark),
                  word);
  }
  const BatchState* batch = picture.batch;
  if (batch != nullptr && !compact) {
    const std::string clone = clone_words(*batch);
    pen.text_in(inside.take_top(38, 4), pen.fitting({Type::name_28, Type::name_23}, clone, inside.w), t.ink, clone);
  }
  std::string holds = picture.line;
  if (pot != nullptr) {
    holds = holds_at_words(pen, Type::body_15, holds_words(pot->batch, pot->pot), join_place(pot->place), inside.w);
  }
  if (!holds.empty()) {
    const Type type =
        pen.fitting({compact ? Type::body_16 : Type::body_18, Type::body_16, Type::body_15}, holds, inside.w);
    const float h = pen.paragraph_height(inside.w, type, holds);
    pen.paragraph(inside.take_top(h, 6), type, t.ink2, holds);
  }
  if (picture.whole_batch && batch != nullptr && (batch->pieces_waiting > 0 || total(batch->bulbs_waiting) > 0) &&
      !compact) {
    std::string waits;
    if (batch->pieces_waiting > 0) waits = pieces_word(batch->method, batch->pieces_waiting);
    if (total(batch->bulbs_waiting) > 0) {
      const std::string waiting = counted(total(batch->bulbs_waiting), words().bulb, words().bulbs);
      waits = waits.empty() ? waiting : say(care_words().joined, waits, waiting);
    }
    pen.text_in(inside.take_top(24, 6), Type::body_16, t.ink2, say(w.waits, waits));
  }
  if (pot != nullptr && pot->held && !pot->held_reason().empty() && !compact) {
    const std::string why = say(w.held_why, pot->held_reason());
    const float h = pen.paragraph_height(inside.w, Type::body_16, why);
    pen.paragraph(inside.take_top(h, 6), Type::body_16, t.tunic, why);
  }
  if (inside.h < 70) return wish;
  inside.take_top(6);
  pen.fill({inside.x, inside.y, inside.w, 1.5F}, t.well);
  inside.take_top(10);
  if (pot == nullptr && picture.pots.size() > 0) {
    pen.text_in(inside.take_top(28, 8), Type::heading_20, t.ink, w.which);
    const float tags = tags_height(inside.w, picture.pots.size());
    const bool told = !picture.last.empty() && inside.h - tags > 110;
    draw_tags(view, inside.take_top(told ? tags : inside.h, 14));
    if (!told) return wish;
  }
  pen.text_in(inside.take_top(28, 4), Type::heading_20, t.ink, w.last_done);
  if (picture.last.empty()) pen.paragraph(inside, Type::body_16, t.ink2, w.nothing_done);
  for (const std::string& last : picture.last) {
    const float h = pen.paragraph_height(inside.w, Type::body_16, last);
    if (inside.h < h) break;
    pen.paragraph(inside.take_top(h, 4), Type::body_16, t.ink2, last);
  }
  return wish;
}

// ------------------------------------------------------------------------------------------------ the tiles

bool offered(const CareDraft& draft, Kind job) {
  const auto& picture = draft.picture;
  if (picture.pots.empty())
    return picture.whole_batch && (job == Kind::note || job == Kind::potted || job == Kind::sold ||
                                   job == Kind::given || job == Kind::discarded || job == Kind::lost ||
                                   job == Kind::held || job == Kind::cleared || job == Kind::tested);
  return job != Kind::potted || picture.batch != nullptr;
}

bool draw_tile(ScreenView& view, Rect tile, Kind job) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const CareDraft& draft = view.ui.care;
  const std::string name = "job:" + std::string(to_text(job));
  const bool can = offered(draft, job);
  const bool tapped = pen.touch.hit(name, tile, can);
  const bool pressed = can && is_pressed(pen, name);
  const bool chosen = draft.job == job && !pressed;
  if (can) {
    pen.fill(tile, pressed ? t.straw : chosen ? t.tunic : t.sheet, 6);
    if (!chosen) pen.frame(tile, pressed ? t.on_straw : t.edge);
  } else {
    pen.dashed_line({tile.x, tile.y + 1}, {tile.right(), tile.y + 1}, t.edge, 2);
    pen.dashed_line({tile.x, tile.bottom() - 1}, {tile.right(), tile.bottom() - 1}, t.edge, 2);
  }
  const Color ink = pressed ? t.on_straw : chosen ? t.on_tunic : can ? t.ink : t.ink2;
  Color mark = t.tunic;
  if (job == Kind::lost || job == Kind::discarded) mark = t.copper;
  if (job == Kind::started || job == Kind::flowered) mark = t.leaf;
  if (job == Kind::dried_off) mark = t.slate;
  if (!can || pressed || chosen) mark = ink;
  const std::string_view word = job_words(job).tile;
  const float icon = tile.h >= 84 ? 34.0F : 28.0F;
  // Icon above word where the tile is high enough, else beside it.
  if (tile.h < 68) {
    draw_fact_icon(pen, static_cast<std::uint16_t>(job), {tile.x + 24, tile.middle().y}, 24, mark);
    const Rect at{tile.x + 42, tile.y, tile.w - 46, tile.h};
    pen.text_in(at, pen.fitting({Type::heading_20, Type::heading_18}, word, at.w), ink, word);
  } else {
    draw_fact_icon(pen, static_cast<std::uint16_t>(job), {tile.middle().x, tile.y + tile.h * 0.37F}, icon, mark);
    pen.text_in({tile.x + 3, tile.y + tile.h * 0.62F, tile.w - 6, tile.h * 0.3F},
                pen.fitting({Type::heading_20, Type::heading_18}, word, tile.w - 8), ink, word, Align::middle);
  }
  return tapped && can;
}

struct Tiles {
  std::size_t columns = 4;
  float heading = 30;
  [[nodiscard]] std::size_t rows_of(std::size_t count) const { return (count + columns - 1) / columns; }
  [[nodiscard]] std::size_t rows() const { return rows_of(in_pot.size()) + rows_of(bulbs.size()); }
  [[nodiscard]] float height(float tile) const { return static_cast<float>(rows()) * (tile + gap) + 2 * heading + 6; }
};

template <std::size_t N>
std::optional<Kind> draw_group(ScreenView& view, Rect& area, std::string_view heading, const std::array<Kind, N>& jobs,
                               const Tiles& tiles, float high) {
  Pen& pen = view.pen;
  pen.text_in(area.take_top(tiles.heading), Type::heading_20, pen.theme.ink, heading);
  std::optional<Kind> tapped;
  const float wide = (area.w - gap * static_cast<float>(tiles.columns - 1)) / static_cast<float>(tiles.columns);
  for (std::size_t i = 0; i < N; ++i) {
    const Rect tile{area.x + static_cast<float>(i % tiles.columns) * (wide + gap),
                    area.y + static_cast<float>(i / tiles.columns) * (high + gap), wide, high};
    if (draw_tile(view, tile, jobs[i])) tapped = jobs[i];
  }
  area.take_top(static_cast<float>(tiles.rows_of(N)) * (high + gap) + 6);
  return tapped;
}

std::optional<Wish> draw_tiles(ScreenView& view, Rect area, const Tiles& tiles, float high) {
  const CareWords& w = care_words();
  CareDraft& draft = view.ui.care;
  const Rect panel = area;
  area.y = view.pen.begin_scroll("care:tiles", panel, tiles.height(high) - gap);
  std::optional<Kind> tapped = draw_group(view, area, w.group_pot, in_pot, tiles, high);
  if (const auto job = draw_group(view, area, w.group_bulbs, bulbs, tiles, high)) tapped = job;
  view.pen.end_scroll("care:tiles");
  if (!tapped) return std::nullopt;
  const bool form = care::needs_form(*tapped, draft);
  // Tapped again it is put down.
  if (draft.job == *tapped) {
    draft.job.reset();
    return std::nullopt;
  }
  care::open_job(view, *tapped);
  if (form) return std::nullopt;
  return care::keep_job(view);
}

bool simple(Kind job) {
  return job == Kind::watered || job == Kind::fed || job == Kind::covered || job == Kind::uncovered ||
         job == Kind::started || job == Kind::dried_off;
}

// Work that asks nothing stays among the tiles; for one pot a tap has kept it already.
bool form_open(const CareDraft& draft) {
  return draft.job && !simple(*draft.job);
}

std::optional<Wish> draw_keep_tile(ScreenView& view, Rect area) {
  const CareWords& w = care_words();
  const CareDraft& draft = view.ui.care;
  const bool can = draft.job.has_value() && anything_there(draft);
  std::string text(w.choose_job);
  if (can) {
    const std::string number = counted(static_cast<std::int64_t>(draft.picture.pots.size()), w.pot, w.pots);
    text = say(w.keep_job, job_words(*draft.job).done, number);
  }
  const bool enter = view.pen.touch.take_key(Key::enter);
  if ((draw_act(view.pen, area, {"keep", text, ActStyle::main, Icon::tick, can}) || enter) && can)
    return care::keep_job(view);
  return std::nullopt;
}

// ------------------------------------------------------------------------------------------------ the shapes

bool one_pot(const CareDraft& draft) {
  return !draft.picture.whole_batch && draft.pots.size() == 1;
}

std::optional<Wish> draw_wide(ScreenView& view) {
  CareDraft& draft = view.ui.care;
  if (form_open(draft) && care::has_pad(draft)) {
    Rect area = view.layout.content;
    std::optional<Wish> gone;
    if (draft.picture.gone > 0) gone = draw_card(view, area.take_top(110, 14));
    const auto asked = care::draw_form(view, area);
    return asked ? asked : gone;
  }
  const auto [left, right_column] = view.layout.columns(view.layout.content, 0.4F);
  Rect right = right_column;
  std::optional<Wish> wish = draw_card(view, left);
  if (form_open(draft)) {
    if (const auto asked = care::draw_form(view, right)) wish = asked;
    return wish;
  }
  Tiles tiles;
  if (!one_pot(draft)) {
    if (const auto asked = draw_keep_tile(view, right.take_bottom(68, 12))) wish = asked;
  }
  const float high =
      std::clamp((right.h - 2 * tiles.heading - 6) / static_cast<float>(tiles.rows()) - gap, 64.0F, 112.0F);
  if (const auto asked = draw_tiles(view, right, tiles, high)) wish = asked;
  return wish;
}

std::optional<Wish> draw_tall(ScreenView& view) {
  Rect area = view.layout.content;
  CareDraft& draft = view.ui.care;
  std::optional<Wish> wish;
  if (form_open(draft)) {
    const float most = area.h - 150;
    const Rect form = area.take_bottom(std::min(most, std::max(area.h * 0.42F, care::form_height(view, area.w))), 14);
    wish = draw_card(view, area);
    if (const auto asked = care::draw_form(view, form)) wish = asked;
    return wish;
  }
  Tiles tiles;
  if (!one_pot(draft)) {
    if (const auto asked = draw_keep_tile(view, area.take_bottom(76, 14))) wish = asked;
  }
  const float high =
      std::clamp((area.h - 330 - 2 * tiles.heading - 6) / static_cast<float>(tiles.rows()) - gap, 68.0F, 96.0F);
  const Rect lower = area.take_bottom(std::min(area.h - 160, tiles.height(high)), 8);
  if (const auto asked = draw_card(view, area)) wish = asked;
  if (const auto asked = draw_tiles(view, lower, tiles, high)) wish = asked;
  return wish;
}

std::optional<Wish> draw_narrow(ScreenView& view) {
  Rect area = view.layout.content.inset(-4, 0);
  area.h -= 8;
  CareDraft& draft = view.ui.care;
  std::optional<Wish> wish;
  if (form_open(draft)) {
    const bool gone = draft.picture.gone > 0;
    if (gone) wish = draw_card(view, area.take_top(140, 10));
    if (const auto asked = care::draw_form(view, area)) wish = asked;
    return wish;
  }
  if (!one_pot(draft)) {
    if (const auto asked = draw_keep_tile(view, area.take_bottom(60, 10))) wish = asked;
  }
  const bool gone = draft.picture.gone > 0;
  if (const auto asked = draw_card(view, area.take_top(gone ? 150.0F : 92.0F, 10))) wish = asked;
  Tiles tiles;
  tiles.columns = 3;
  if (const auto asked = draw_tiles(view, area, tiles, 72)) wish = asked;
  return wish;
}

}  // namespace

std::optional<Wish> draw_care_screen(ScreenView& view) {
  const CareWords& w = care_words();
  const Layout& l = view.layout;
  CareDraft& draft = view.ui.care;
  refresh_picture(view);
  const bool chosen = !draft.pots.empty() || draft.picture.batch != nullptr;
  if (chosen) care::refresh_count(view);
  if (chosen && draft.job == Kind::treated) care::refresh_used(view);
  Top top;
  top.title = w.title;
  top.writes = chosen;
  if (chosen) top.second = draft.picture.name;
  if (l.phone() && form_open(draft)) top.title = job_words(*draft.job).title;
  if (chosen && one_pot(draft) && draft.picture.pots.empty() && draft.picture.batch != nullptr)
    top.second = pot_label(*draft.picture.batch, draft.pots.front().number);
  std::optional<Wish> wish = draw_top(view, top);
  if (!chosen) {
    const Rect sheet{l.content.x, l.content.y, l.content.w, l.phone() ? 320.0F : 220.0F};
    view.pen.fill(sheet, view.pen.theme.sheet, 8);
    if (draw_empty(view.pen, sheet.inset(24), w.none, "care:benches", w.go_to_benches)) wish = Go{Screen::pots, {}};
    return wish;
  }
  // Back leads from the form to the tiles first.
  if (wish && std::holds_alternative<GoBack>(*wish) && draft.job && !draft.only_this) {
    if (!draft.typing.empty() && draft.job != Kind::note) {
      draft.typing.clear();
    } else {
      draft.clear_work();
      draft.job.reset();
    }
    return std::nullopt;
  }
  if (wish && std::holds_alternative<GoBack>(*wish)) {
    draft.clear_work();
    draft.job.reset();
    draft.only_this = false;
    return wish;
  }
  std::optional<Wish> asked;
  switch (l.shape) {
    case Shape::phone:
      asked = draw_narrow(view);
      break;
    case Shape::portrait:
      asked = draw_tall(view);
      break;
    case Shape::landscape:
      asked = draw_wide(view);
      break;
  }
  return asked ? asked : wish;
}

}  // namespace motherbulb
