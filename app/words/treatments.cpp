#include "app/words/treatments.hpp"

namespace motherbulb {

const TreatmentsWords& treatments_words() {
  static const TreatmentsWords english;
  return english;
}

}  // namespace motherbulb
