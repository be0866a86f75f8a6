#include "core/health/hot_water.hpp"

namespace motherbulb {

std::optional<double> core_warm_up_minutes(double circumference_cm) {
  if (!(circumference_cm >= 5 && circumference_cm <= 30)) return std::nullopt;
  return -15 + 3.4 * circumference_cm;
}

}  // namespace motherbulb
