// The panels of a clone's outlook: each knows its height for a width, and is drawn where its column puts it.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/outlook_picture.hpp"
#include "app/screens/screens.hpp"
#include "app/widgets/fan.hpp"
#include "app/widgets/ladder.hpp"

namespace motherbulb::ahead {

inline constexpr float gap = 8;

// What is shown of a picture for what is wanted.
struct Shown {
  std::shared_ptr<const OutlookPicture> of;
  OutlookDraft::Wanted wanted;
  std::optional<double> chance;
  FanView fan;
  LadderView ladder;
  std::vector<std::pair<std::string, double>> levers;       // in words, and by how many bulbs
  std::vector<std::pair<std::string, std::string>> places;  // how many, and the chance that all are lost
  std::string places_said;
  std::vector<std::string> missing;
};

struct Panel {
  float height = 0;
  std::function<std::optional<Wish>(Rect)> draw;
};

// "-" and "+" at the ends of a row, what they change between them: a control of its own, or words.
struct Stepped {
  int by = 0;
  bool middle = false;
};
struct Stepper {
  std::string name;  // its controls are NAME:less, NAME:more, NAME:type
  std::string said;
  bool less = true, more = true;
  bool opens = false;
};
[[nodiscard]] Stepped draw_stepper(Pen& pen, Rect row, const Stepper& stepper);

// What is wanted of the clone that the screen is about.
[[nodiscard]] OutlookDraft::Wanted& wanted_of(ScreenView& view);
// "November 2030": when a season from now is over.
[[nodiscard]] std::string month_after(const ScreenView& view, std::size_t seasons);
[[nodiscard]] std::string year_after(const ScreenView& view, std::size_t seasons);
// "72 in 100", "1 in 160", "under 1 in a million".
[[nodiscard]] std::string chance_words(double chance);
[[nodiscard]] std::string rounded_words(double count);
// "2.6", "3", "48": what says enough.
[[nodiscard]] std::string few_words(double count);
// With words in place of the numbers of sources, as "S17": the grower has no list of them.
[[nodiscard]] std::string without_numbers_of_sources(const std::string& sentence);

// Makes `shown` anew where it is not of what is wanted now.
void refresh_shown(ScreenView& view);

[[nodiscard]] Panel chance_panel(ScreenView& view, float width);
[[nodiscard]] Panel fan_panel(ScreenView& view, float width, float height);
[[nodiscard]] Panel ladder_panel(ScreenView& view, float width);
[[nodiscard]] Panel levers_panel(ScreenView& view, float width);
[[nodiscard]] Panel places_panel(ScreenView& view, float width);
[[nodiscard]] Panel missing_panel(ScreenView& view, float width);
// This season: what to cut, what to grow on, what to sell.
[[nodiscard]] Panel plan_panel(ScreenView& view, float width);

}  // namespace motherbulb::ahead
