#include "app/spoken.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "app/app.hpp"
#include "app/words/spoken.hpp"

namespace motherbulb {
namespace {

bool in_sight(const Fonts::Written& written) {
  const Rect seen = intersection(written.box, written.clip);
  return seen.w > 1 && seen.h > 1;
}

// Of a control that a panel cuts, the edge where it can be touched no more lies up to so far within where it is seen.
constexpr float touch_edge = 10;

// The control that a text stands on: the last listed, as for a finger. What lies beyond the cut of a control that a
// panel cuts belongs to it too.
std::size_t control_under(const std::vector<Target>& targets, const Fonts::Written& written) {
  const Point at = written.box.middle();
  const bool cut = !written.clip.contains(at);
  for (std::size_t i = targets.size(); i > 0 && !cut; --i) {
    if (targets[i - 1].rect.contains(at)) return i - 1;
  }
  for (std::size_t i = targets.size(); i > 0; --i) {
    const Target& target = targets[i - 1];
    const float off = std::max(target.rect.y - at.y, at.y - target.rect.bottom());
    if (!target.whole && target.drawn.contains(at) && (cut || off < touch_edge)) return i - 1;
  }
  return targets.size();
}

}  // namespace

std::vector<Spoken> spoken(const TouchMap& touch, const Fonts& fonts, const Theme& theme) {
  const std::vector<Target>& targets = touch.targets();
  struct Placed {
    std::size_t at = 0;  // of the text that it begins with, in the order of drawing
    Spoken one;
  };
  std::vector<Placed> placed;
  std::vector<Spoken> controls(targets.size());
  std::vector<std::size_t> first(targets.size(), fonts.written().size());
  std::vector<bool> has_text(targets.size(), false);
  for (std::size_t i = 0; i < targets.size(); ++i) {
    controls[i].kind = Spoken::Kind::control;
    controls[i].name = targets[i].name;
    controls[i].rect = targets[i].rect;
    controls[i].enabled = targets[i].enabled;
  }
  for (std::size_t i = 0; i < fonts.written().size(); ++i) {
    const Fonts::Written& written = fonts.written()[i];
    const std::size_t under = control_under(targets, written);
    if (under == targets.size()) {
      if (!in_sight(written)) continue;
      const bool in_field = std::any_of(touch.fields().begin(), touch.fields().end(), [&](const WrittenField& field) {
        return field.rect.contains(written.box.middle());
      });
      if (in_field) continue;
      Spoken text;
      text.words = written.words;
      text.rect = written.box;
      placed.push_back({i, std::move(text)});
      continue;
    }
    Spoken& control = controls[under];
    if (!control.words.empty()) control.words += ' ';
    control.words += written.words;
    control.chosen = control.chosen || written.color == theme.on_ink;
    if (!has_text[under]) first[under] = i;
    has_text[under] = true;
  }
  // A control without a text of its own comes after the one that was listed before it.
  std::size_t before = 0;
  for (std::size_t i = 0; i < controls.size(); ++i) {
    if (has_text[i]) {
      before = first[i];
    } else {
      first[i] = before;
    }
    if (!targets[i].words.empty()) {
      controls[i].words = targets[i].words;
    } else if (!has_text[i]) {
      controls[i].words = words_without_text(controls[i].name).value_or(controls[i].name);
    }
    placed.push_back({first[i], std::move(controls[i])});
  }
  for (const WrittenField& field : touch.fields()) {
    Spoken one;
    one.kind = Spoken::Kind::field;
    one.name = field.name;
    one.words = field.asks;
    one.value = field.value;
    one.rect = field.rect;
    placed.push_back({field.texts_before, std::move(one)});
  }
  std::stable_sort(placed.begin(), placed.end(), [](const Placed& a, const Placed& b) { return a.at < b.at; });
  std::vector<Spoken> all;
  all.reserve(placed.size());
  for (Placed& one : placed) all.push_back(std::move(one.one));
  return all;
}

std::string spoken_json(App& app) {
  const UiState& ui = app.ui();
  const Theme& theme = ui.settings.night ? night_theme() : day_theme();
  nlohmann::ordered_json items = nlohmann::ordered_json::array();
  for (const Spoken& one : spoken(app.touch(), app.fonts(), theme)) {
    nlohmann::ordered_json item;
    item["kind"] = one.kind == Spoken::Kind::text ? "text" : one.kind == Spoken::Kind::control ? "control" : "field";
    item["name"] = one.name;
    item["words"] = one.words;
    if (one.kind == Spoken::Kind::field) item["value"] = one.value;
    item["x"] = one.rect.x;
    item["y"] = one.rect.y;
    item["w"] = one.rect.w;
    item["h"] = one.rect.h;
    if (!one.enabled) item["enabled"] = false;
    if (one.chosen) item["chosen"] = true;
    items.push_back(std::move(item));
  }
  nlohmann::ordered_json told;
  told["screen"] = static_cast<int>(ui.screen);
  told["scale"] = app.fonts().scale();
  told["night"] = ui.settings.night;
  told["kept"] = ui.kept ? ui.kept->words : "";
  told["trouble"] = ui.trouble ? ui.trouble->title + ": " + ui.trouble->words : "";
  told["items"] = std::move(items);
  return told.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

}  // namespace motherbulb
