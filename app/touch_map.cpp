#include "app/touch_map.hpp"

#include <algorithm>
#include <cmath>

namespace motherbulb {
namespace {

constexpr float drag_dp = 10;
constexpr double wet_ms = 80;
constexpr float wet_dp = 40;
constexpr float wheel_dp = 56;
constexpr float slowest = 0.02F;            // dp a millisecond: slower than this stands still
constexpr float decay_per_ms = 1.0F / 325;  // speed falls to 1/e in 325 ms, however many frames are drawn
constexpr double together_ms = 60;          // two presses within it are one palm
constexpr double resting_ms = 700;          // a finger down for so long rests there
constexpr float edge_dp = 8;
constexpr float holding_edge_dp = 16;  // where a hand holds the tablet
constexpr double hold_ms = 60;         // a finger that rested this long before lifting throws nothing

float distance(Point a, Point b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

bool same(const Rect& a, const Rect& b) {
  return std::abs(a.x - b.x) < 0.005F && std::abs(a.y - b.y) < 0.005F && std::abs(a.w - b.w) < 0.005F &&
         std::abs(a.h - b.h) < 0.005F;
}

}  // namespace

void TouchMap::begin_frame(double time_ms, Rect window) {
  const double passed = std::clamp(time_ms - now_ms_, 0.0, 100.0);
  now_ms_ = time_ms;
  listed_.clear();
  in_sight_ = false;
  fields_listed_.clear();
  window_ = window;
  set_clip(window);
  bench_ = true;
  open_panel_.clear();
  for (auto& [name, panel] : panels_) {
    panel.seen = false;
    if (panel.held || panel.speed == 0) continue;
    const auto dt = static_cast<float>(passed);
    const float kept = std::exp(-dt * decay_per_ms);
    panel.offset += panel.speed * (1 - kept) / decay_per_ms;
    panel.speed *= kept;
    if (panel.offset < 0 || panel.offset > panel.most() || std::abs(panel.speed) < slowest) panel.speed = 0;
    panel.offset = std::clamp(panel.offset, 0.0F, panel.most());
  }
  tapped_.reset();
  key_ = Key::none;
  character_ = 0;
  if (!queue_.empty() && !holds_back_) {
    Waiting& first = queue_.front();
    if (!first.tap.empty()) tapped_ = std::move(first.tap);
    key_ = first.key;
    character_ = first.character;
    queue_.pop_front();
  }
}

void TouchMap::end_frame() {
  tapped_.reset();
  key_ = Key::none;
  character_ = 0;
  shown_.swap(listed_);
  fields_shown_.swap(fields_listed_);
  for (auto it = panels_.begin(); it != panels_.end();) it = it->second.seen ? std::next(it) : panels_.erase(it);
  finish_focus();
  if (!focus_.empty() && find(focus_) == nullptr) focus_.clear();
}

bool TouchMap::hit(std::string_view name, Rect rect, bool enabled, TapKind kind) {
  const Rect visible = intersection(rect, clip_);
  in_sight_ = !visible.empty();
  if (in_sight_) {
    listed_.push_back({std::string(name), visible, enabled, same(visible, rect), bench_, kind, open_panel_, rect, {}});
  }
  if (!enabled || !tapped_ || *tapped_ != name) return false;
  tapped_.reset();
  return true;
}

void TouchMap::tell(std::string words) {
  if (in_sight_) listed_.back().words = std::move(words);
}

bool TouchMap::pressed(std::string_view name) const {
  return std::any_of(presses_.begin(), presses_.end(), [&](const auto& entry) {
    const Press& press = entry.second;
    return press.name == name && press.enabled && !press.spent && press.rect.contains(press.last);
  });
}

bool TouchMap::take_key(Key key) {
  if (key_ != key || key == Key::none) return false;
  key_ = Key::none;
  return true;
}

bool TouchMap::take_character(char character) {
  if (character_ != character || character == 0) return false;
  character_ = 0;
  return true;
}

char TouchMap::take_any_character() {
  const char taken = character_;
  character_ = 0;
  return taken;
}

std::optional<std::string> TouchMap::take_written(WrittenField field) {
  std::optional<std::string> taken;
  if (const auto found = written_.find(field.name); found != written_.end()) {
    taken = std::move(found->second);
    written_.erase(found);
    field.value = *taken;
  }
  field.rect = intersection(field.rect, clip_);
  fields_listed_.push_back(std::move(field));
  return taken;
}

void TouchMap::press_by_name(std::string_view name) {
  const Target* target = find(name);
  if (target == nullptr || !target->enabled) return;
  focus_.clear();
  queue_.push_back({target->name, Key::none, 0});
}

void TouchMap::write_by_name(std::string_view name, std::string text) {
  written_[std::string(name)] = std::move(text);
}

float TouchMap::begin_scroll(std::string_view name, Rect area, float content_height) {
  auto found = panels_.find(name);
  if (found == panels_.end()) found = panels_.emplace(std::string(name), Panel{}).first;
  Panel& panel = found->second;
  panel.area = area;
  panel.content_height = content_height;
  panel.seen = true;
  panel.offset = std::clamp(panel.offset, 0.0F, panel.most());
  open_panel_ = name;
  clip_ = intersection(ground_, area);
  return std::round(panel.offset);
}

void TouchMap::end_scroll() {
  open_panel_.clear();
  clip_ = ground_;
}

void TouchMap::scroll_to(std::string_view name, float offset) {
  const auto found = panels_.find(name);
  if (found == panels_.end()) return;
  found->second.offset = offset;
  found->second.speed = 0;
}

TouchMap::Panel* TouchMap::panel_at(Point at) {
  for (auto& [name, panel] : panels_) {
    if (panel.area.contains(at)) return &panel;
  }
  return nullptr;
}

bool TouchMap::feed(const Touch& touch) {
  switch (touch.kind) {
    case Touch::Kind::press:
      press(touch);
      return false;
    case Touch::Kind::move:
      move(touch);
      return false;
    case Touch::Kind::release:
    case Touch::Kind::cancel:
      return lift(touch);
    case Touch::Kind::wheel:
      if (Panel* panel = panel_at(touch.at)) {
        panel->speed = 0;
        panel->offset = std::clamp(panel->offset - touch.wheel * wheel_dp, 0.0F, panel->most());
      }
      return false;
    case Touch::Kind::key:
      return type_key(touch);
    case Touch::Kind::text:
      queue_.push_back({{}, Key::none, touch.character});
      return true;
  }
  return false;
}

void TouchMap::press(const Touch& touch) {
  focus_.clear();
  focus_step_ = 0;
  Press press;
  press.start = press.last = touch.at;
  press.down_ms = press.last_ms = touch.time_ms;
  const auto near_edge = [&](float dp) {
    return touch.at.x < window_.x + dp || touch.at.x >= window_.right() - dp || touch.at.y < window_.y + dp ||
           touch.at.y >= window_.bottom() - dp;
  };
  press.at_edge = near_edge(holding_edge_dp);
  for (auto& [pointer, other] : presses_) {
    if (pointer == touch.pointer) continue;
    if (touch.time_ms - other.down_ms < together_ms && !other.dragging) {
      other.spent = other.passed_over = press.passed_over = true;
    } else if (other.passed_over) {
      continue;
    } else if (touch.time_ms - other.down_ms < resting_ms && !other.at_edge) {
      press.passed_over = true;
    } else if (other.dragging) {
      press.passed_over = true;
    }
  }
  if (press.passed_over) {
    press.spent = true;
    presses_[touch.pointer] = std::move(press);
    return;
  }
  for (const Target& target : shown_) {
    if (!target.rect.contains(touch.at)) continue;
    press.name = target.name;
    press.rect = target.rect;
    press.enabled = target.enabled;
    press.kind = target.kind;
  }
  if (press.kind != TapKind::count && touch.time_ms - last_tap_ms_ < wet_ms &&
      distance(touch.at, last_tap_at_) < wet_dp) {
    press.spent = true;
  }
  const bool may_scroll = !near_edge(edge_dp);
  for (auto& [name, panel] : panels_) {
    if (!panel.area.contains(touch.at)) continue;
    if (panel.speed != 0) {
      press.spent = true;
      panel.speed = 0;
    }
    if (!may_scroll) continue;
    press.panel = name;
    panel.held = true;
  }
  presses_[touch.pointer] = std::move(press);
}

void TouchMap::move(const Touch& touch) {
  const auto found = presses_.find(touch.pointer);
  if (found == presses_.end()) return;
  Press& press = found->second;
  if (!press.dragging && distance(touch.at, press.start) > drag_dp) {
    press.dragging = true;
    press.spent = true;
  }
  if (press.dragging && !press.panel.empty()) {
    const auto panel = panels_.find(press.panel);
    if (panel != panels_.end()) {
      const float step = press.last.y - touch.at.y;
      const auto passed = static_cast<float>(std::max(1.0, touch.time_ms - press.last_ms));
      panel->second.offset = std::clamp(panel->second.offset + step, 0.0F, panel->second.most());
      panel->second.speed = 0.6F * (step / passed) + 0.4F * panel->second.speed;
      panel->second.moved_ms = touch.time_ms;
    }
  }
  press.last = touch.at;
  press.last_ms = touch.time_ms;
}

bool TouchMap::lift(const Touch& touch) {
  const auto found = presses_.find(touch.pointer);
  if (found == presses_.end()) return false;
  const Press press = found->second;
  presses_.erase(found);
  if (const auto panel = panels_.find(press.panel); panel != panels_.end()) {
    panel->second.held = false;
    const bool thrown =
        press.dragging && touch.kind == Touch::Kind::release && touch.time_ms - panel->second.moved_ms < hold_ms;
    if (!thrown || panel->second.most() <= 0) panel->second.speed = 0;
  }
  const bool moved_away = distance(touch.at, press.start) > drag_dp;
  if (touch.kind == Touch::Kind::cancel || press.spent || moved_away || press.name.empty() || !press.enabled)
    return false;
  if (!press.rect.contains(touch.at)) return false;
  last_tap_ms_ = touch.time_ms;
  last_tap_at_ = touch.at;
  queue_.push_back({press.name, Key::none, 0});
  return true;
}

bool TouchMap::type_key(const Touch& touch) {
  if (touch.key == Key::tab || touch.key == Key::back_tab) {
    move_focus(touch.key == Key::tab ? 1 : -1);
    return false;
  }
  if (touch.key == Key::enter && focus() != nullptr) {
    queue_.push_back({focus_, Key::none, 0});
    return true;
  }
  if (touch.key == Key::up || touch.key == Key::down || touch.key == Key::page_up || touch.key == Key::page_down) {
    const bool page = touch.key == Key::page_up || touch.key == Key::page_down;
    const bool down = touch.key == Key::down || touch.key == Key::page_down;
    for (auto& [name, panel] : panels_) {
      const float step = page ? panel.area.h * 0.9F : wheel_dp;
      panel.offset = std::clamp(panel.offset + (down ? step : -step), 0.0F, panel.most());
    }
    return false;
  }
  queue_.push_back({{}, touch.key, 0});
  return true;
}

void TouchMap::move_focus(int by) {
  std::vector<const Target*> reached;
  for (const Target& target : shown_) {
    if (target.enabled) reached.push_back(&target);
  }
  if (reached.empty()) return;
  const auto found =
      std::find_if(reached.begin(), reached.end(), [&](const Target* target) { return target->name == focus_; });
  const int count = static_cast<int>(reached.size());
  const int before = found == reached.end() ? (by > 0 ? -1 : count) : static_cast<int>(found - reached.begin());
  const Target* next = reached[static_cast<std::size_t>((before + by + count) % count)];
  // At the end of what is seen of a panel, more of it comes into sight before the focus leaves it.
  if (found != reached.end() && !(*found)->panel.empty() && next->panel != (*found)->panel) {
    const auto panel = panels_.find((*found)->panel);
    const bool more = panel != panels_.end() &&
                      (by > 0 ? panel->second.offset < panel->second.most() - 0.5F : panel->second.offset > 0.5F);
    if (more) {
      const float step = std::max(wheel_dp, panel->second.area.h * 0.5F);
      panel->second.speed = 0;
      panel->second.offset = std::clamp(panel->second.offset + (by > 0 ? step : -step), 0.0F, panel->second.most());
      focus_step_ = by;
      focus_panel_ = (*found)->panel;
      return;
    }
  }
  focus_ = next->name;
  // What a panel cuts comes wholly into sight.
  if (!next->whole && !next->panel.empty()) {
    const auto panel = panels_.find(next->panel);
    if (panel != panels_.end()) {
      const bool below = next->rect.middle().y > panel->second.area.middle().y;
      panel->second.speed = 0;
      panel->second.offset =
          std::clamp(panel->second.offset + (below ? wheel_dp : -wheel_dp) * 2, 0.0F, panel->second.most());
    }
  }
}

// After a panel was scrolled for the focus: on to the next control in it.
void TouchMap::finish_focus() {
  if (focus_step_ == 0) return;
  const int by = focus_step_;
  focus_step_ = 0;
  std::vector<const Target*> inside;
  for (const Target& target : shown_) {
    if (target.enabled && target.panel == focus_panel_) inside.push_back(&target);
  }
  if (inside.empty()) return;
  const auto found =
      std::find_if(inside.begin(), inside.end(), [&](const Target* target) { return target->name == focus_; });
  if (found == inside.end()) {
    focus_ = by > 0 ? inside.front()->name : inside.back()->name;
  } else if (by > 0 && std::next(found) != inside.end()) {
    focus_ = (*std::next(found))->name;
  } else if (by < 0 && found != inside.begin()) {
    focus_ = (*std::prev(found))->name;
  }
}

bool TouchMap::moving() const {
  return std::any_of(panels_.begin(), panels_.end(),
                     [](const auto& entry) { return entry.second.speed != 0 && !entry.second.held; });
}

const Target* TouchMap::find(std::string_view name) const {
  const auto found =
      std::find_if(shown_.begin(), shown_.end(), [&](const Target& target) { return target.name == name; });
  return found == shown_.end() ? nullptr : &*found;
}

const Target* TouchMap::focus() const {
  return focus_.empty() ? nullptr : find(focus_);
}

}  // namespace motherbulb
