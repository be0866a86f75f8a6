#include "app/words/health.hpp"

namespace motherbulb {

const HealthWords& health_words() {
  static const HealthWords english;
  return english;
}

}  // namespace motherbulb
