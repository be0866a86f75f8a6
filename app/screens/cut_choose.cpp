// One part of a cutting session, chosen from what there is or typed: a tap takes it and leads back to the session.

#include <algorithm>

#include "app/screens/cut_parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/words.hpp"
#include "app/words/cutting.hpp"
#include "core/names.hpp"

namespace motherbulb {
namespace {

using Part = CutDraft::Part;

constexpr float gap = 12;

// ------------------------------------------------------------------------------------------------ a list of answers

struct Option {
  std::string target;
  std::string words;
  std::string line;  // a second one
  bool chosen = false;
  bool name = false;  // of a clone
  bool enabled = true;
};

void draw_option(Pen& pen, Rect area, const Option& option) {
  const Theme& t = pen.theme;
  const bool pressed = option.enabled && is_pressed(pen, option.target);
  const bool dark = option.chosen && !pressed;
  if (option.enabled) {
    pen.fill(area, pressed ? t.straw : dark ? t.ink : t.sheet, 6);
    if (!dark) pen.frame(area, pressed ? t.on_straw : t.edge);
  } else {
    pen.dashed_line({area.x, area.y + 1}, {area.right(), area.y + 1}, t.edge, 2);
    pen.dashed_line({area.x, area.bottom() - 1}, {area.right(), area.bottom() - 1}, t.edge, 2);
  }
  const Color ink = pressed ? t.on_straw : dark ? t.on_ink : option.enabled ? t.ink : t.ink2;
  const Color ink2 = pressed ? t.on_straw : dark ? t.on_ink2 : t.ink2;
  const Rect inside = area.inset(18, 0);
  const Type type = option.name
                        ? pen.fitting({Type::name_28, Type::name_23}, option.words, inside.w)
                        : pen.fitting({Type::strong_18, Type::strong_16, Type::strong_15}, option.words, inside.w);
  if (option.line.empty()) {
    pen.paragraph({inside.x, area.middle().y - 1.4F * type_dp(type) / 2, inside.w, area.h}, type, ink, option.words, 1);
    return;
  }
  pen.text_in({inside.x, area.y + 8, inside.w, 32}, type, ink, pen.fitted(type, option.words, inside.w));
  pen.paragraph({inside.x, area.y + 42, inside.w, 42}, Type::body_15, ink2, option.line, 2);
}

std::optional<std::size_t> draw_options(ScreenView& view, Rect panel, const std::vector<Option>& options,
                                        float most_wide = 2000) {
  Pen& pen = view.pen;
  panel.w = std::min(panel.w, most_wide);
  const bool lined = std::any_of(options.begin(), options.end(), [](const Option& one) { return !one.line.empty(); });
  // In portrait a short list goes down the page, to where the thumb is.
  const bool grid = panel.w >= 640 && options.size() > (view.layout.landscape() ? 5U : 10U);
  const std::size_t columns = grid ? (panel.w > 1000 ? 3 : 2) : 1;
  const float wide = (panel.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const float high = lined ? (view.layout.portrait() && !grid ? 108.0F : 92.0F) : 64.0F;
  const std::size_t lines = (options.size() + columns - 1) / columns;
  const float top = pen.begin_scroll("choice", panel, static_cast<float>(lines) * (high + gap) + 12);
  std::optional<std::size_t> tapped;
  for (std::size_t i = 0; i < options.size(); ++i) {
    const Rect cell{panel.x + static_cast<float>(i % columns) * (wide + gap),
                    top + static_cast<float>(i / columns) * (high + gap), wide, high};
    if (cell.bottom() < panel.y || cell.y > panel.bottom()) continue;
    if (pen.touch.hit(options[i].target, cell, options[i].enabled)) tapped = i;
    draw_option(pen, cell, options[i]);
  }
  pen.end_scroll("choice");
  return tapped;
}

// Letters, and an act that takes what was typed. True when it is taken.
bool draw_typing(ScreenView& view, Rect panel, std::string& text, std::string_view hint, const std::string& act,
                 const std::string& note, bool names) {
  Pen& pen = view.pen;
  panel.w = std::min(panel.w, 760.0F);
  Rect area = panel;
  const float said = note.empty() ? 0.0F : pen.paragraph_height(panel.w, Type::body_16, note, 3) + 12;
  area.h = std::max(text_entry_height(view.layout.phone()) + said + 16 + 64, panel.h - 24);
  area.y = pen.begin_scroll("typing", panel, area.h + 16);
  const Rect keep = area.take_bottom(64, 16);
  if (!note.empty()) pen.paragraph(area.take_bottom(said), Type::body_16, pen.theme.ink2, note, 3);
  const bool enter = draw_text_entry(pen, area, {"letter", hint, 60, names}, text, view.layout.phone());
  const bool can = !without_ends(text).empty();
  const bool tapped = draw_act(pen, keep, {"typed:keep", act, ActStyle::main, Icon::tick, can});
  pen.end_scroll("typing");
  return tapped || (enter && can);
}

// ------------------------------------------------------------------------------------------------ the parts

void refresh_clones(ScreenView& view) {
  auto& clones = view.ui.cut.clones;
  if (clones.made && clones.revision == view.rows.revision()) return;
  clones = {};
  clones.made = true;
  clones.revision = view.rows.revision();
  std::map<std::pair<std::string, std::string>, When> last;
  for (const BatchState* batch : view.rows.batches()) {
    if (!batch->begun || !cuts(batch->method)) continue;
    const auto [at, fresh] = last.try_emplace({batch->clone, batch->genus}, batch->begun_on);
    if (!fresh && at->second.utc_ms < batch->begun_on.utc_ms) at->second = batch->begun_on;
  }
  for (const CloneBalance& one : view.rows.stock().balance) {
    const auto cut = last.find({one.clone, one.genus});
    clones.latest_first.push_back(
        {one.clone, one.genus, one.bulbs.there, cut == last.end() ? std::optional<When>() : cut->second});
  }
  std::stable_sort(clones.latest_first.begin(), clones.latest_first.end(), [](const auto& a, const auto& b) {
    const std::int64_t one = a.last ? a.last->utc_ms : INT64_MIN;
    const std::int64_t other = b.last ? b.last->utc_ms : INT64_MIN;
    return one > other;
  });
}

void draw_clones(ScreenView& view, Rect panel) {
  const CuttingWords& w = cutting_words();
  CutDraft& draft = view.ui.cut;
  refresh_clones(view);
  std::vector<Option> options;
  std::vector<const CutDraft::Clones::One*> of;
  const auto& clones = draft.clones.latest_first;
  for (const auto& one : clones) {
    Option option;
    option.target = "clone:" + one.clone + ":" + one.genus;
    option.words = clone_words(one.clone);
    option.line = one.last ? say(w.clone_row_last, one.genus, day_near(local_day(*one.last), view.today))
                           : say(w.clone_row, one.genus, counted(one.bulbs, w.bulb, w.bulbs));
    option.chosen = one.clone == draft.clone && one.genus == draft.genus;
    option.name = true;
    options.push_back(std::move(option));
    of.push_back(&one);
  }
  options.push_back({"clone:new", std::string(w.new_clone), {}, false, false, true});
  const auto tapped = draw_options(view, panel, options);
  if (!tapped) return;
  if (*tapped < of.size()) {
    const CutDraft::Clones::One one = *of[*tapped];
    // What was said of another clone is not this one's.
    if (one.clone != draft.clone || one.genus != draft.genus) choose_clone(draft, one.clone, one.genus);
    draft.part = Part::none;
    return;
  }
  draft.typed.clear();
  draft.part = Part::clone_name;
}

void draw_clone_name(ScreenView& view, Rect panel) {
  const CuttingWords& w = cutting_words();
  CutDraft& draft = view.ui.cut;
  const std::string name = without_ends(draft.typed);
  const CloneBalance* known = nullptr;
  for (const CloneBalance& one : view.rows.stock().balance) {
    if (!name.empty() && folded_name(one.clone) == folded_name(name)) known = &one;
  }
  const std::string note = known != nullptr ? std::string(w.clone_known) : std::string();
  if (!draw_typing(view, panel, draft.typed, w.clone_name, std::string(w.clone_name_next), note, true)) return;
  choose_clone(draft, name, {});
  draft.part = Part::genus;
}

void draw_genus(ScreenView& view, Rect panel) {
  const CuttingWords& w = cutting_words();
  CutDraft& draft = view.ui.cut;
  std::vector<Option> options;
  for (const std::string_view genus : w.genera)
    options.push_back({"genus:" + std::string(genus), std::string(genus), {}, false, false, true});
  // Those that this book knows besides.
  for (const CloneBalance& one : view.rows.stock().balance) {
    const bool there =
        std::any_of(options.begin(), options.end(), [&](const Option& option) { return option.words == one.genus; });
    if (!there) options.push_back({"genus:" + one.genus, one.genus, {}, false, false, true});
  }
  options.push_back({"genus:other", std::string(w.genus_other), {}, false, false, true});
  const auto tapped = draw_options(view, panel, options);
  if (!tapped) return;
  if (*tapped + 1 == options.size()) {
    draft.typed.clear();
    draft.part = Part::genus_name;
    return;
  }
  choose_clone(draft, std::string(draft.clone), options[*tapped].words);
}

void draw_genus_name(ScreenView& view, Rect panel) {
  const CuttingWords& w = cutting_words();
  CutDraft& draft = view.ui.cut;
  const std::string genus = without_ends(draft.typed);
  const std::string act = genus.empty() ? std::string(w.keep_empty) : say(w.genus_keep, genus);
  if (!draw_typing(view, panel, draft.typed, w.genus_type, act, {}, false)) return;
  choose_clone(draft, std::string(draft.clone), genus);
}

void draw_methods(ScreenView& view, Rect panel) {
  CutDraft& draft = view.ui.cut;
  std::vector<Option> options;
  for (int i = 1; i <= static_cast<int>(Method::growing_on); ++i) {
    const auto method = static_cast<Method>(i);
    options.push_back({"method:" + std::string(to_text(method)),
                       std::string(name_of(method)),
                       {},
                       method == method_of(draft),
                       false,
                       true});
  }
  const auto tapped = draw_options(view, panel, options);
  if (!tapped) return;
  const auto method = static_cast<Method>(*tapped + 1);
  if (method != method_of(draft)) {
    draft.method = method;
    draft.sections.reset();
    draft.per_pot.reset();
  }
  draft.part = Part::none;
}

void draw_sources(ScreenView& view, Rect panel) {
  const CuttingWords& w = cutting_words();
  CutDraft& draft = view.ui.cut;
  const auto& p = draft.proposed;
  std::vector<Option> options;
  options.push_back({"source:new", std::string(w.source_new), std::string(w.source_new_line), !p.source, false, true});
  for (std::size_t i = 0; i < p.sources.size(); ++i) {
    const MotherSource& one = p.sources[i];
    Option option;
    // Two batches may bear one label.
    option.target = "source:" + one.label + ":" + hex(one.batch).substr(0, 6);
    option.words = source_words(one);
    option.line = bulbs_words(one.bulbs);
    if (one.held)
      option.line = one.held_reason.empty() ? std::string(w.source_held_plain) : say(w.source_held, one.held_reason);
    option.chosen = p.source && *p.source == i;
    option.enabled = !one.held;
    options.push_back(std::move(option));
  }
  const auto tapped = draw_options(view, panel, options);
  if (!tapped) return;
  draft.source_said = true;
  draft.parent.reset();
  draft.parent_pot = 0;
  if (*tapped > 0) {
    draft.parent = p.sources[*tapped - 1].batch;
    draft.parent_pot = p.sources[*tapped - 1].pot;
  }
  draft.mothers.clear();
  draft.grade.reset();
  draft.first_grade.reset();
  draft.part = Part::none;
}

void draw_blade(ScreenView& view, Rect panel) {
  CutDraft& draft = view.ui.cut;
  std::vector<Option> options;
  const Blade blades[] = {Blade::per_bulb, Blade::per_batch, Blade::not_disinfected};
  for (const Blade blade : blades)
    options.push_back({"blade:" + std::string(to_text(blade)),
                       std::string(blade_words(blade)),
                       {},
                       blade == blade_of(draft),
                       false,
                       true});
  if (const auto tapped = draw_options(view, panel, options, 560)) {
    draft.blade = blades[*tapped];
    draft.part = Part::none;
  }
}

void draw_yes_no(ScreenView& view, Rect panel, std::optional<YesNo>& answer, YesNo now) {
  const CuttingWords& w = cutting_words();
  const std::vector<Option> options{{"answer:yes", std::string(w.yes), {}, now == YesNo::yes, false, true},
                                    {"answer:no", std::string(w.no), {}, now != YesNo::yes, false, true}};
  if (const auto tapped = draw_options(view, panel, options, 560)) {
    answer = *tapped == 0 ? YesNo::yes : YesNo::no;
    view.ui.cut.part = Part::none;
  }
}

void draw_media(ScreenView& view, Rect panel) {
  const CuttingWords& w = cutting_words();
  CutDraft& draft = view.ui.cut;
  std::vector<std::string> media = draft.proposed.media;
  for (const std::string_view one : w.media) {
    if (std::find(media.begin(), media.end(), one) == media.end()) media.emplace_back(one);
  }
  const std::string now = medium_of(draft);
  std::vector<Option> options;
  for (const std::string& one : media) options.push_back({"medium:" + one, one, {}, one == now, false, true});
  options.push_back({"medium:none", std::string(w.medium_none), {}, now.empty(), false, true});
  options.push_back({"medium:other", std::string(w.medium_other), {}, false, false, true});
  const auto tapped = draw_options(view, panel, options);
  if (!tapped) return;
  draft.part = Part::none;
  if (*tapped < media.size()) {
    draft.medium = media[*tapped];
  } else if (*tapped == media.size()) {
    draft.medium = std::string();
  } else {
    draft.typed.clear();
    draft.part = Part::medium_name;
  }
}

void draw_pots(ScreenView& view, Rect panel) {
  const CuttingWords& w = cutting_words();
  CutDraft& draft = view.ui.cut;
  const std::int64_t now = per_pot_of(draft);
  std::vector<std::int64_t> numbers;
  const auto add = [&](std::int64_t number) {
    if (number > 0 && std::find(numbers.begin(), numbers.end(), number) == numbers.end()) numbers.push_back(number);
  };
  for (const std::int64_t one : {1, 2, 3, 4, 6, 8, 10, 12, 16, 24}) add(one);
  add(now);
  if (cuts(method_of(draft)) && !leaves_mother_whole(method_of(draft))) {
    add(sections_of(draft));
    add(2 * static_cast<std::int64_t>(sections_of(draft)));
  }
  add(pieces_of(draft));
  std::sort(numbers.begin(), numbers.end());
  std::vector<Option> options;
  for (const std::int64_t number : numbers)
    options.push_back(
        {"pots:" + std::to_string(number), say(w.pots_one, grouped(number)), {}, number == now, false, true});
  options.push_back({"pots:later", std::string(w.pots_later_long), {}, now == 0, false, true});
  const auto tapped = draw_options(view, panel, options);
  if (!tapped) return;
  draft.per_pot = *tapped < numbers.size() ? numbers[*tapped] : 0;
  draft.part = Part::none;
}

void draw_places(ScreenView& view, Rect panel) {
  const CuttingWords& w = cutting_words();
  CutDraft& draft = view.ui.cut;
  std::vector<Option> options;
  std::vector<std::string> benches;
  for (const BenchView& bench : view.rows.benches()) {
    if (bench.name.empty()) continue;
    benches.push_back(bench.name);
    Option option{"place:" + bench.name, bench.name, {}, bench.name == draft.proposed.bench, false, true};
    std::int32_t highest = 0;
    std::int64_t placed = 0;
    for (const PotView* pot : bench.pots) {
      highest = std::max(highest, pot->place.position);
      placed += pot->place.position > 0 ? 1 : 0;
    }
    const std::int64_t laid_out = static_cast<std::int64_t>(bench.rows) * bench.columns;
    if (laid_out > 0) {
      option.line = say(w.place_free, grouped(std::max<std::int64_t>(0, laid_out - placed)));
    } else if (placed > 0) {
      // The bench is not laid out: the first gap, else the end.
      std::int32_t next = 1;
      for (const PotView* pot : bench.pots) {
        if (pot->place.position == next) ++next;
      }
      option.line = say(w.place_next, next);
    }
    options.push_back(std::move(option));
  }
  options.push_back({"place:none", std::string(w.place_none), {}, draft.proposed.bench.empty(), false, true});
  const auto tapped = draw_options(view, panel, options);
  if (!tapped) return;
  draft.bench = *tapped < benches.size() ? benches[*tapped] : std::string();
  draft.part = Part::none;
}

}  // namespace

std::string question_of(const CutDraft& draft) {
  const CuttingWords& w = cutting_words();
  switch (draft.part) {
    case Part::none:
      break;
    case Part::clone:
      return std::string(w.choose_clone);
    case Part::clone_name:
      return std::string(w.clone_name);
    case Part::genus:
    case Part::genus_name:
      return say(w.genus_of, say(words().clone_quoted, draft.clone));
    case Part::method:
      return std::string(w.change_method);
    case Part::source:
      return std::string(w.change_source);
    case Part::blade:
      return std::string(w.change_blade);
    case Part::dip:
      return std::string(w.change_dip);
    case Part::wedges:
      return std::string(w.change_wedges);
    case Part::medium:
    case Part::medium_name:
      return std::string(w.change_medium);
    case Part::pots:
      return std::string(w.change_pots);
    case Part::place:
      return std::string(w.change_place);
  }
  return {};
}

void draw_cut_choice(ScreenView& view) {
  const CuttingWords& w = cutting_words();
  CutDraft& draft = view.ui.cut;
  const Layout& l = view.layout;
  const Rect panel{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  switch (draft.part) {
    case Part::none:
    case Part::clone:
      return draw_clones(view, panel);
    case Part::clone_name:
      return draw_clone_name(view, panel);
    case Part::genus:
      return draw_genus(view, panel);
    case Part::genus_name:
      return draw_genus_name(view, panel);
    case Part::method:
      return draw_methods(view, panel);
    case Part::source:
      return draw_sources(view, panel);
    case Part::blade:
      return draw_blade(view, panel);
    case Part::dip:
      return draw_yes_no(view, panel, draft.dip, dip_of(draft));
    case Part::wedges:
      return draw_yes_no(view, panel, draft.wedges, wedges_of(draft));
    case Part::medium:
      return draw_media(view, panel);
    case Part::medium_name:
      if (draw_typing(view, panel, draft.typed, w.medium_type, std::string(w.medium_keep), {}, false)) {
        draft.medium = without_ends(draft.typed);
        draft.part = Part::none;
      }
      return;
    case Part::pots:
      return draw_pots(view, panel);
    case Part::place:
      return draw_places(view, panel);
  }
}

}  // namespace motherbulb
