// The years ahead of one clone, as the screens show them: reckoned once for a state of the book, and then asked for any
// target and season without reckoning anew.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/logbook.hpp"
#include "core/science/outlook.hpp"
#include "core/science/season_plan.hpp"

namespace motherbulb {

using GoOn = std::function<bool(double done)>;
// What goes on within a part of the whole, asked of the whole's own, which must outlive it.
[[nodiscard]] GoOn part_of(const GoOn& go_on, double from, double to);

// Seasons from now that can be asked for; one more is reckoned, so that the one asked for is never the last drawn.
inline constexpr std::size_t most_seasons_asked = 10;
inline constexpr std::int64_t most_target = 1'000'000;

// What a reckoning fails with where go_on says no.
[[nodiscard]] Error stopped_by_hand();

struct OutlookPicture {
  PlanClone known;          // what the book tells of it, and the model made of that
  std::size_t seasons = 0;  // reckoned; at least 1
  Outlook outlook;
  // saleable[season - 1]: the count of each walk through chance, in order of size. Empty where a stock has outgrown
  // counting.
  std::vector<std::vector<std::int64_t>> saleable;

  [[nodiscard]] bool nothing_stands() const;
};

// Refused where the book knows no such clone; `cancelled` where go_on says no.
Result<OutlookPicture> look_ahead(const Logbook& book, const std::string& clone, Day on, const GoOn& go_on);

// That so many or more are saleable after that season; none: not counted.
[[nodiscard]] std::optional<double> chance_of(const OutlookPicture& picture, std::int64_t target, std::size_t season);
// By what a tenth would change the saleable bulbs of that season, what gives most first. Those that give nothing are
// left out.
[[nodiscard]] std::vector<Lever> levers_by(const OutlookPicture& picture, std::size_t season);
// What is as likely as not in that season, rounded to a number that is easily said; at least 5.
[[nodiscard]] std::int64_t usual_target(const OutlookPicture& picture, std::size_t season);
// That count, rounded down to a number that is easily said; at least 5.
[[nodiscard]] std::int64_t easily_said(double count);
// The next number up or down that is easily said: 45, 50, 60 ... 100, 120.
[[nodiscard]] std::int64_t next_target(std::int64_t target, bool up);
// Bulbs of each class in that season (0: now), smallest first, in the mean; bad events taken off.
[[nodiscard]] std::vector<double> bulbs_by_class(const OutlookPicture& picture, std::size_t season);

}  // namespace motherbulb
