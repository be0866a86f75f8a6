// Hot water: how long until the core of a bulb is as warm as the bath. From 25 to 44 °C it takes
// -15 + 3.4 × circumference in cm minutes in narcissus (trade-facts.md, S43); the treatment's own time counts from
// then.
#pragma once

#include <optional>

namespace motherbulb {

// Minutes; none outside of the sizes for which the line makes sense (below 5 cm it gives nothing, beyond 30 cm nobody
// measured).
std::optional<double> core_warm_up_minutes(double circumference_cm);

}  // namespace motherbulb
