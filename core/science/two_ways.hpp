// Is it worth cutting some mothers in another way, to learn which way is better?
//
// The knowledge gradient for two normal means (Frazier, Powell & Dayanik, "A knowledge-gradient policy for sequential
// information collection", 2008). Section 5 of the mathematics. Pure.
#pragma once

#include <cstdint>
#include <optional>

namespace motherbulb {

// What is known of one way of cutting, in bulblets of a mother.
struct WayKnown {
  double mean = 0;
  double variance = 0;  // of the mean itself: how little is known of it
  double of_one = 0;    // of one mother's bulblets around the mean; more than 0
};

struct Trial {
  std::int64_t mothers = 0;  // to cut in the other way
  double costs = 0;          // bulblets fewer now, in the mean; negative where the other way is better already
  double worth = 0;          // bulblets more of the future mothers, in the mean, by choosing the better way then
};

// The mean gain of one future mother from choosing after a trial that is expected to take `learned` off the variance of
// the difference, which is `difference` in the mean now.
double gain_of_knowing(double difference, double learned);

// How many of `mothers` to cut in the other way, so that what is learned for `future_mothers` exceeds the cost by most.
// The rest is cut in the usual way, and teaches too. Nothing where no trial is worth its cost, or there are no two
// mothers.
std::optional<Trial> worth_trying(const WayKnown& usual, const WayKnown& other, std::int64_t mothers,
                                  double future_mothers);
// What a trial of that many is worth; `mothers` from 1 to `of` - 1.
Trial trial_of(const WayKnown& usual, const WayKnown& other, std::int64_t mothers, std::int64_t of,
               double future_mothers);

}  // namespace motherbulb
