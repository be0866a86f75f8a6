// Values that run to their goal in a given time. Nothing loops and nothing holds up a tap: a value on its way is only
// what is drawn, never what is true. With less motion every value is at its goal at once.
#pragma once

#include <algorithm>
#include <map>
#include <string>
#include <string_view>

namespace motherbulb {

class Motion {
public:
  void begin_frame(double time_ms) {
    now_ms_ = time_ms;
    moving_ = false;
  }
  void set_less(bool less) { less_ = less; }
  [[nodiscard]] bool moving() const { return moving_; }

  // The value of `name` on its way to `goal`. The first goal of a name is taken at once.
  float towards(std::string_view name, float goal, float duration_ms) {
    auto found = values_.find(name);
    if (found == values_.end() || less_) {
      values_.insert_or_assign(std::string(name), Value{goal, goal, now_ms_});
      return goal;
    }
    Value& value = found->second;
    if (value.goal != goal) {
      value.from = at(value, duration_ms);
      value.goal = goal;
      value.started_ms = now_ms_;
    }
    const float now = at(value, duration_ms);
    if (now != goal) moving_ = true;
    return now;
  }

private:
  struct Value {
    float from = 0;
    float goal = 0;
    double started_ms = 0;
  };

  [[nodiscard]] float at(const Value& value, float duration_ms) const {
    const float share = std::clamp(static_cast<float>(now_ms_ - value.started_ms) / duration_ms, 0.0F, 1.0F);
    return share >= 1 ? value.goal : value.from + (value.goal - value.from) * share;
  }

  std::map<std::string, Value, std::less<>> values_;
  double now_ms_ = 0;
  bool moving_ = false;
  bool less_ = false;
};

}  // namespace motherbulb
